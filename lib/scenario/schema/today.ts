import { z } from 'zod';
import { nameText, quantity } from '../quantity.js';
import { monthNames } from './ground.js';

const MONTHS = monthNames as readonly [string, ...string[]];

/** What is taken where a scenario does not say: assumptions, except the step, which is that of a digital gauge. */
export const TODAY_DEFAULTS = { readingError: '0.4 mm', readingStep: '0.1 mm', latestChance: '5 %' } as const;

/** Tires as they are today: what is known of the main tires on the airplane. */
export const todaySchema = z
  .strictObject({
    setup: nameText.describe('Name of the entry of "setups" that is on the airplane.'),
    mix: nameText.describe('Name of the entry of "mixes" that the airplane has flown and will fly.'),
    flightHours: quantity('duration', {
      min: '0 h',
      max: '20000 h',
      description: 'Flight hours since both main tires were new.',
      example: '140 h',
    }).optional(),
    landings: quantity('count', {
      min: '0',
      max: '1000000',
      whole: true,
      description:
        'Landings since both main tires were new; where they were counted, they go before the flight hours.',
    }).optional(),
    age: quantity('duration', {
      min: '0 days',
      max: '50 years',
      description: 'Age of the main tires, where it is not that of the season at so many flight hours.',
      example: '14 months',
    }).optional(),
    month: z
      .enum(MONTHS)
      .describe('Month of today, where it is not that of the season at so many flight hours.')
      .optional(),
    dayOfMonth: quantity('count', {
      min: '1',
      max: '31',
      whole: true,
      description: 'Day of the month, with "month"; the first where it is left out.',
    }).optional(),
    mainPressure: quantity('pressure', {
      min: '3 psi',
      max: '150 psi',
      description:
        'Cold pressure at which the main tires were and will be kept, where it is not that of the set-up.',
    }).optional(),
    readingError: quantity('length', {
      min: '0 mm',
      max: '3 mm',
      description: `Standard deviation of a groove reading: gauge, hand, and tread uneven beyond what the model knows. ${TODAY_DEFAULTS.readingError} where left out (assumption).`,
    }).optional(),
    readingStep: quantity('length', {
      min: '0 mm',
      max: '2 mm',
      description: `Step to which readings are rounded. ${TODAY_DEFAULTS.readingStep} where left out.`,
      example: '1/32 in',
    }).optional(),
    readings: z
      .array(
        z.strictObject({
          wheel: z.enum(['left', 'right']).describe('Which main wheel.'),
          band: z
            .enum(['centre', 'inner shoulder', 'outer shoulder', 'shallowest'])
            .describe('Band of the tread; "shallowest" is the one with the least groove left.'),
          place: z
            .enum(['mean', 'worst'])
            .describe('Mean of readings all round, or the worst place on the band.')
            .default('mean'),
          groove: quantity('length', {
            min: '0 mm',
            max: '25 mm',
            description: 'Groove depth read.',
            example: '4.5 mm',
          }),
          error: quantity('length', {
            min: '0 mm',
            max: '3 mm',
            description: 'Standard deviation of this reading, where it is not that of the others.',
          }).optional(),
        }),
      )
      .max(24)
      .describe('Readings of the tread gauge.'),
    latestChance: quantity('share', {
      min: '0.1 %',
      max: '50 %',
      description: `Chance to pass the tread limit before the next inspection that is accepted. ${TODAY_DEFAULTS.latestChance} where left out (assumption).`,
    }).optional(),
    note: z.string().max(300).describe('Remark; say so if the data is invented.').optional(),
  })
  .describe('The main tires as they are today, for the life that is left in them.');
