import { z } from 'zod';
import { nameText, quantity, sourceText } from '../quantity.js';
import { monthNames, seasonSchema } from './ground.js';

const MONTHS = monthNames as readonly [string, ...string[]];

/** One kind of airplane of the fleet, with the gear sets that fit it. */
const fleetAirplaneSchema = z
  .strictObject({
    airplane: nameText
      .describe('Name of an entry of "airplanes"; the airplane of the scenario where it is left out.')
      .optional(),
    count: quantity('count', {
      min: '1',
      max: '500',
      whole: true,
      description: 'How many of them; 1 where it is left out.',
    }).optional(),
    mix: nameText.describe('Name of an entry of "mixes" or "monthlyMixes" that they fly.'),
    gearSets: z
      .array(nameText)
      .min(1)
      .max(6)
      .describe('Names of the entries of "setups" that they can wear, each a set of wheels of its own.'),
    season: seasonSchema.describe('Their season; that of the scenario where it is left out.').optional(),
  })
  .describe('Airplanes of a kind that fly alike.');

/** Fleet: who flies what, and what a change of gear sets takes. */
export const fleetSchema = z
  .strictObject({
    airplanes: z.record(nameText, fleetAirplaneSchema).describe('The airplanes by name.'),
    swap: z
      .strictObject({
        price: quantity('money', {
          min: '0',
          max: '100000',
          description: 'Labour for changing the gear set of one airplane.',
        }).optional(),
        daysLost: quantity('duration', {
          min: '0 days',
          max: '30 days',
          description: 'Days lost to a change of the gear set.',
        }),
        months: z
          .array(z.enum(MONTHS))
          .max(12)
          .describe('Months at whose start the gear set may be changed.'),
        most: quantity('count', {
          min: '0',
          max: '12',
          whole: true,
          description: 'Most changes in a year; no limit where it is left out.',
        }).optional(),
      })
      .describe('Changes from one gear set to another.'),
    source: sourceText,
  })
  .describe('A fleet and its gear sets.');
