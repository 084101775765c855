import { z } from 'zod';
import { assumption, nameText, quantity, sourceText } from '../quantity.js';

/** Surface: how it wears, bites and grips. */
export const surfaceSchema = z
  .strictObject({
    paved: z.boolean().describe('Paved: hydroplaning is looked at when wet.'),
    wearFactor: assumption('share', {
      min: '0',
      max: '30',
      description: 'Abradability relative to dry pavement.',
    }),
    wetFactor: assumption('share', {
      min: '0',
      max: '3',
      description: 'Abradability when wet relative to dry, on this surface.',
    }),
    sharpStones: assumption('perArea', {
      min: '0 /m2',
      max: '1000 /m2',
      description: 'Stones per area that can bite a tire.',
    }),
    biteDepth: assumption('length', {
      min: '0.01 mm',
      max: '50 mm',
      description:
        'Median bite depth in the standard compound at 50 psi contact pressure (Pareto law, exponent 3).',
    }),
    rockEdges: assumption('perLength', {
      min: '0 /m',
      max: '10 /m',
      description: 'Rock edges per length of wheel track that can pinch a tire or cut its side.',
    }),
    edgeHeight: assumption('length', {
      min: '0.1 mm',
      max: '200 mm',
      description: 'Median height of those edges (Pareto law, exponent 3).',
    }),
    looseStones: assumption('perArea', {
      min: '0 /m2',
      max: '10000 /m2',
      description: 'Loose stones per area, small enough to be thrown by a tread.',
    }),
    dryGrip: assumption('share', {
      min: '5 %',
      max: '120 %',
      description: 'Highest braking force over load when dry.',
    }),
    wetGrip: assumption('share', {
      min: '5 %',
      max: '120 %',
      description: 'Highest braking force over load when wet.',
    }),
    bearingRatio: assumption('share', {
      min: '0.5 %',
      max: '150 %',
      description: 'California bearing ratio (CBR) of unpaved ground: 10 % is CBR 10.',
    }).optional(),
    coneIndex: assumption('pressure', {
      min: '50 kPa',
      max: '50000 kPa',
      description: 'Cone index of unpaved ground: how hard it is to push a cone into it.',
    }).optional(),
    source: sourceText,
  })
  .describe('A surface.');

/** Strip: a place to land with its surfaces. */
export const stripSchema = z
  .strictObject({
    touchdown: nameText.describe('Surface of the touchdown zone.'),
    rollout: nameText.describe('Surface of the landing roll.'),
    taxi: nameText.describe('Surface of taxiing and turning.'),
    rolloutLength: quantity('length', {
      min: '0 m',
      max: '3000 m',
      description:
        'Length of the landing roll at the typical touchdown speed; it grows with the square of speed.',
    }),
    taxiLength: quantity('length', {
      min: '0 m',
      max: '10000 m',
      description: 'Taxi distance that goes with one landing, out and in, and the take-off roll.',
    }),
    elevation: quantity('length', {
      min: '-1500 ft',
      max: '15000 ft',
      description: 'Elevation above sea level.',
    }),
    wetShare: quantity('share', {
      min: '0 %',
      max: '100 %',
      description: 'Share of landings on a wet surface.',
    }),
    help: z.boolean().describe('Help at hand: a spare, tools and a mechanic within the hour.'),
    source: sourceText,
  })
  .describe('A landing place.');

/** Runway mix: shares of landings over strips. */
export const mixSchema = z
  .record(
    nameText,
    quantity('share', { min: '0 %', max: '100 %', description: 'Share of landings at this strip.' }),
  )
  .describe('A runway mix: share of landings by strip; the shares add to 100 %.');

const MONTH_NAMES = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

/** Names of the months, in order. */
export const monthNames: readonly string[] = MONTH_NAMES;

/** Monthly mix: a runway mix that changes through the year. */
export const monthlyMixSchema = z
  .partialRecord(z.enum(MONTH_NAMES), nameText)
  .describe('A runway mix that changes through the year: the name of an entry of "mixes" by month flown.');

/** Season: when the airplane flies. */
export const seasonSchema = z
  .strictObject({
    months: z
      .array(
        z.strictObject({
          month: z.enum(MONTH_NAMES).describe('Month.'),
          landings: quantity('count', {
            min: '0',
            max: '100000',
            whole: true,
            description: 'Landings in the month.',
          }),
          flightHours: quantity('duration', {
            min: '0 h',
            max: '800 h',
            description: 'Flight hours in the month.',
          }),
          temperature: quantity('temperature', {
            min: '-50 degC',
            max: '55 degC',
            description: 'Mean air temperature at landing.',
          }),
        }),
      )
      .min(1)
      .max(12)
      .describe('Months flown, in order; the pattern repeats every year.'),
    temperatureSpread: quantity('temperatureDifference', {
      min: '0 degC',
      max: '30 degC',
      description: 'Standard deviation of the air temperature from landing to landing.',
    }),
    baseElevation: quantity('length', {
      min: '-1500 ft',
      max: '15000 ft',
      description: 'Elevation where tires are checked and set.',
    }),
    source: sourceText,
  })
  .describe('The season.');
