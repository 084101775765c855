import { z } from 'zod';
import { nameText, quantity, sourceText } from '../quantity.js';

/**
 * How the airplane stands: what a mechanic can measure on level ground with a tape and a level, and on which tires it
 * was measured. All of it is for set-up limits; the simulation does not use it.
 */
export const geometrySchema = z
  .strictObject({
    measuredMainTire: nameText.describe('Name of the main tire fitted when the airplane was measured.'),
    measuredMainPressure: quantity('pressure', {
      min: '3 psi',
      max: '150 psi',
      description: 'Its pressure then.',
    }),
    measuredThirdTire: nameText.describe('Name of the nose or tail tire fitted then.'),
    measuredThirdPressure: quantity('pressure', {
      min: '3 psi',
      max: '150 psi',
      description: 'Its pressure then.',
    }),
    measuredMass: quantity('mass', { min: '200 kg', max: '6000 kg', description: 'Mass then.' }),
    wheelbase: quantity('length', {
      min: '0.5 m',
      max: '10 m',
      description: 'Horizontal distance from the main axle to the nose or tail axle.',
    }).optional(),
    propellerAhead: quantity('length', {
      min: '0.1 m',
      max: '6 m',
      description: 'Horizontal distance from the main axle forward to the propeller.',
    }).optional(),
    propellerClearance: quantity('length', {
      min: '0 in',
      max: '60 in',
      description:
        'Height of the lower blade tip above the ground, struts at rest; on a tail-wheel airplane with the tail raised level.',
    }).optional(),
    strutTravel: quantity('length', {
      min: '0 in',
      max: '24 in',
      description:
        'How much further the nose strut (on a tail-wheel airplane a main strut) can sink from rest until it bottoms; of a leaf spring: how much further at 1.5 times the load.',
    }).optional(),
    tailBehind: quantity('length', {
      min: '0.5 m',
      max: '12 m',
      description: 'Horizontal distance from the main axle back to the lowest point of the tail.',
    }).optional(),
    tailClearance: quantity('length', {
      min: '0 in',
      max: '150 in',
      description: 'Height of that point above the ground.',
    }).optional(),
    tailAngleNeeded: quantity('angle', {
      min: '0 deg',
      max: '25 deg',
      description: 'Nose-up angle from rest that take-off and landing use.',
    }).optional(),
    attitude: quantity('angle', {
      min: '-15 deg',
      max: '25 deg',
      description: 'Pitch attitude at rest as measured, nose up positive.',
    }).optional(),
    attitudeLeast: quantity('angle', {
      min: '-15 deg',
      max: '25 deg',
      description: 'Lowest attitude at rest that is allowed.',
    }).optional(),
    attitudeMost: quantity('angle', {
      min: '-15 deg',
      max: '25 deg',
      description: 'Highest attitude at rest that is allowed.',
    }).optional(),
    source: sourceText,
  })
  .describe('How the airplane stands, measured on the ground.');

/** Fit of a wheel fairing round its tire, measured on the ground. */
export const fairingFitSchema = z
  .strictObject({
    gap: quantity('length', {
      min: '0 in',
      max: '6 in',
      description: 'Least gap between tire and fairing all round, airplane on its wheels.',
    }),
    measuredPressure: quantity('pressure', {
      min: '3 psi',
      max: '150 psi',
      description: 'Pressure of the main tires when it was measured.',
    }),
    measuredMass: quantity('mass', { min: '200 kg', max: '6000 kg', description: 'Mass then.' }),
    rearBehind: quantity('length', {
      min: '0 in',
      max: '60 in',
      description: 'Horizontal distance from the axle back to the rear end of the fairing.',
    }).optional(),
    rearHeight: quantity('length', {
      min: '0 in',
      max: '40 in',
      description: 'Height of its rear end above the ground.',
    }).optional(),
    chockHeight: quantity('length', {
      min: '0 in',
      max: '20 in',
      description: 'Height of the chock behind the wheel.',
    }).optional(),
    source: sourceText,
  })
  .describe('Fit of the main wheel fairings, measured on the ground.');
