import { z } from 'zod';
import { assumption, nameText, quantity, sourceText } from '../quantity.js';
import { fairingFitSchema, geometrySchema } from './geometry.js';

/** Airplane: what loads the wheels. */
export const airplaneSchema = z
  .strictObject({
    gear: z.enum(['nose', 'tail']).describe('Where the third wheel is: "nose" (tricycle) or "tail".'),
    landingMass: assumption('mass', {
      min: '200 kg',
      max: '6000 kg',
      description: 'Typical mass at landing.',
    }),
    landingMassSpread: assumption('share', {
      min: '0 %',
      max: '30 %',
      description:
        'Standard deviation of the landing mass from landing to landing, as a share of the typical mass.',
    }),
    thirdWheelLoadShare: assumption('share', {
      min: '1 %',
      max: '30 %',
      description: 'Share of the weight on the nose or tail wheel at rest.',
    }),
    stallSpeed: quantity('speed', {
      min: '20 kt',
      max: '100 kt',
      description: 'Stall speed in landing configuration; touchdown speed is stated as a multiple of it.',
    }),
    hubInertia: quantity('inertia', {
      min: '0 kg m2',
      max: '5 kg m2',
      description: 'Moment of inertia of one main wheel with brake disc and tube, without its tire.',
    }),
    maximumMass: quantity('mass', {
      min: '200 kg',
      max: '8000 kg',
      description: 'Heaviest mass on the wheels, at the ramp or take-off.',
    }).optional(),
    handlingMass: quantity('mass', {
      min: '150 kg',
      max: '8000 kg',
      description: 'Mass when it is pushed by hand.',
    }).optional(),
    tailSettles: assumption('length', {
      min: '0 in',
      max: '24 in',
      description: 'How far the lowest point of the tail sinks as the airplane moves off from its chocks.',
    }).optional(),
    geometry: geometrySchema.optional(),
    source: sourceText,
  })
  .describe('An airplane.');

/** Tire: one product class with its numbers. */
export const tireSchema = z
  .strictObject({
    outsideDiameter: quantity('length', {
      min: '6 in',
      max: '45 in',
      description: 'Outside diameter, new, inflated.',
    }),
    sectionWidth: quantity('length', { min: '2 in', max: '20 in', description: 'Section width.' }),
    rimDiameter: quantity('length', { min: '2 in', max: '24 in', description: 'Rim (bead seat) diameter.' }),
    flangeHeight: quantity('length', {
      min: '0 in',
      max: '2 in',
      description: 'Height of the rim flange above the bead seat.',
    }),
    treadWidth: quantity('length', {
      min: '1 in',
      max: '20 in',
      description: 'Width of the tread that touches and wears.',
    }),
    plyRating: quantity('count', { min: '2', max: '20', whole: true, description: 'Ply rating.' }),
    ratedLoad: quantity('mass', {
      min: '100 lb',
      max: '20000 lb',
      description: 'Rated static load, as the mass carried.',
    }),
    ratedPressure: quantity('pressure', {
      min: '5 psi',
      max: '200 psi',
      description: 'Rated (maximum) inflation pressure. The carcass term of the contact model uses it.',
    }),
    ratedSpeed: quantity('speed', {
      min: '30 mph',
      max: '250 mph',
      description: 'Highest ground speed the tire is rated for.',
    }).optional(),
    mass: quantity('mass', { min: '0.5 kg', max: '80 kg', description: 'Mass of one tire.' }),
    newTread: quantity('length', {
      min: '0 mm',
      max: '25 mm',
      description: 'Groove depth when new (or freshly shaved).',
    }),
    shaved: z
      .boolean()
      .describe('Cut down to a lower tread after molding: harder to balance.')
      .default(false),
    undertread: quantity('length', {
      min: '0 mm',
      max: '10 mm',
      description: 'Rubber between the bottom of the groove and the first cord.',
    }),
    carcass: quantity('length', {
      min: '0.5 mm',
      max: '30 mm',
      description: 'Cord plies under the rubber, as the rubber depth that would stop the same bite.',
    }),
    sidewallThickness: quantity('length', {
      min: '0.5 mm',
      max: '30 mm',
      description: 'Sidewall, as the rubber depth that would stop the same bite.',
    }),
    sidewall: nameText.describe('Name of an entry of "sidewalls".'),
    tread: nameText.describe('Name of an entry of "treads".'),
    compound: nameText.describe('Name of an entry of "compounds".'),
    seal: z.enum(['tube', 'tubeless']).describe('Air held by an inner tube, or by the tire itself.'),
    price: quantity('money', {
      min: '0',
      max: '100000',
      description: 'Price of one tire, in the currency of "costs".',
    }).optional(),
    source: sourceText,
  })
  .describe('A tire.');

/** Sidewall kind: how a class of construction carries, wears evenly and resists side cuts. */
export const sidewallSchema = z
  .strictObject({
    evenWearDeflection: assumption('share', {
      min: '3 %',
      max: '60 %',
      description:
        'Deflection, as a share of section height, at which centre and shoulders wear evenly while rolling.',
    }),
    squirmShare: assumption('share', {
      min: '0 %',
      max: '50 %',
      description: 'Share of the rolling-resistance work that slides in the footprint.',
    }),
    rollingFloor: assumption('share', {
      min: '0 %',
      max: '20 %',
      description: 'Rolling resistance over load, the part that does not depend on pressure.',
    }),
    sideExposure: assumption('share', {
      min: '0 %',
      max: '100000 %',
      description:
        'Sharp stones that touch the side, per rock edge, at a deflection as large as the section height.',
    }),
    sideBulge: assumption('share', {
      min: '0 %',
      max: '100 %',
      description: 'Bulge of each side wall where the tire stands, over its deflection.',
    }).optional(),
    growth: assumption('share', {
      min: '0 %',
      max: '10 %',
      description: 'Growth of the section of a new tire in its first weeks, over its size.',
    }).optional(),
    sideStiffness: assumption('share', {
      min: '10 %',
      max: '1000 %',
      description: 'Side stiffness over that of a standard side wall of the same size and pressure.',
    }).optional(),
    source: sourceText,
  })
  .describe('A kind of sidewall.');

/** Tread kind: how much of it is rubber and how much it throws. */
export const treadSchema = z
  .strictObject({
    landRatio: quantity('share', {
      min: '30 %',
      max: '100 %',
      description: 'Share of the tread surface that is rubber, not groove.',
    }),
    centreShare: quantity('share', {
      min: '10 %',
      max: '90 %',
      description: 'Share of the tread width that counts as the centre band.',
    }),
    tailHitShare: assumption('share', {
      min: '0 %',
      max: '1 %',
      description: 'Share of the loose stones rolled over that a 9 mm groove throws at the tail.',
    }),
    source: sourceText,
  })
  .describe('A kind of tread.');

/** Compound: how fast the rubber wears and how deep stones bite it. */
export const compoundSchema = z
  .strictObject({
    wearFactor: assumption('share', {
      min: '0',
      max: '10',
      description: 'Abradability relative to the standard compound.',
    }),
    biteFactor: assumption('share', {
      min: '0.1',
      max: '10',
      description: 'Bite depth relative to the standard compound.',
    }),
    source: sourceText,
  })
  .describe('A rubber compound.');

/** Tire set-up: what is fitted and how hard it is inflated. */
export const setupSchema = z
  .strictObject({
    mainTire: nameText.describe('Name of an entry of "tires", fitted to both main wheels.'),
    mainPressure: quantity('pressure', {
      min: '3 psi',
      max: '150 psi',
      description: 'Cold inflation pressure of the main tires.',
    }),
    thirdTire: nameText.describe('Name of an entry of "tires", fitted to the nose or tail wheel.'),
    thirdPressure: quantity('pressure', {
      min: '3 psi',
      max: '150 psi',
      description: 'Cold inflation pressure of the nose or tail tire.',
    }),
    fairings: z
      .boolean()
      .describe(
        'Wheel fairings fitted. What they change in the simulation is how often the pressure is checked (checkEvery).',
      )
      .default(false),
    fairingFit: fairingFitSchema.optional(),
    checkEvery: quantity('duration', {
      min: '1 day',
      max: '366 days',
      description: 'Time between pressure checks, where it differs from the habit (fairings hide the valve).',
    }).optional(),
    cruiseLoss: quantity('share', {
      min: '0 %',
      max: '50 %',
      description:
        'Cruise speed lost to its drag, over the fastest set-up: longer flights for the same trips.',
    }).optional(),
    note: z.string().max(300).describe('Remark.').optional(),
  })
  .describe('A tire set-up.');
