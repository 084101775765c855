import { z } from 'zod';
import { assumption, quantity } from '../quantity.js';

/** Habits: how the airplane is landed, checked and kept. */
export const habitsSchema = z
  .strictObject({
    touchdownSpeedRatio: assumption('share', {
      min: '0.9',
      max: '2',
      description: 'Typical touchdown speed over stall speed.',
    }),
    touchdownSpeedSpread: assumption('share', {
      min: '0',
      max: '0.5',
      description: 'Standard deviation of that ratio from landing to landing.',
    }),
    sinkRate: assumption('speed', {
      min: '0 ft/s',
      max: '8 ft/s',
      description: 'Median sink rate at touchdown.',
    }),
    sinkRateSpread: assumption('share', {
      min: '0',
      max: '1.5',
      description: 'Standard deviation of the logarithm of the sink rate from landing to landing.',
    }),
    brakedShare: assumption('share', {
      min: '0 %',
      max: '90 %',
      description: 'Median share of the landing energy taken by the brakes.',
    }),
    peakBraking: assumption('share', {
      min: '0 %',
      max: '100 %',
      description: 'Median of the hardest braking of a landing, as braking force over wheel load.',
    }),
    brakingSpread: assumption('share', {
      min: '0',
      max: '1.5',
      description: 'Standard deviation of the logarithm of both, from landing to landing.',
    }),
    pivotChance: assumption('share', {
      min: '0 %',
      max: '100 %',
      description: 'Chance that a landing has a pivot turn on one locked main wheel.',
    }),
    pivotAngle: quantity('angle', { min: '0 deg', max: '720 deg', description: 'Angle of a pivot turn.' }),
    sideLoadSpread: assumption('share', {
      min: '0 %',
      max: '60 %',
      description:
        'Standard deviation of the load shift from one main wheel to the other (crosswind, turns, side first to touch).',
    }),
    checkEvery: quantity('duration', {
      min: '1 day',
      max: '366 days',
      description: 'Time between pressure checks.',
    }),
    inspectEvery: quantity('duration', {
      min: '1 day',
      max: '366 days',
      description: 'Time between inspections that find cuts past limits.',
    }),
    noticedBelow: quantity('share', {
      min: '0 %',
      max: '100 %',
      description:
        'Pressure, as a share of the cold setting, below which a tire looks soft and is seen to before flight.',
    }),
    removeAt: z
      .enum(['tread limit', 'cords'])
      .describe(
        'Wear at which a tire comes off: at the tread limit, or when cords show (a reading, not advice).',
      ),
    treadLimit: quantity('length', {
      min: '0 mm',
      max: '10 mm',
      description: 'Groove depth at any spot at which the tread limit is reached.',
    }),
    replace: z
      .enum(['single', 'pair'])
      .describe('Main tires are replaced singly, or both when one must come off.'),
    ageLimit: quantity('duration', {
      min: '1 year',
      max: '50 years',
      description: 'Age at which a tire comes off whatever its tread.',
    }),
    pushCrew: quantity('count', {
      min: '1',
      max: '30',
      whole: true,
      description: 'People at hand to push the airplane on pavement.',
    }).optional(),
  })
  .describe('Habits.');

/** Assumptions shared by all set-ups. */
export const assumptionsSchema = z
  .strictObject({
    abradability: assumption('abradability', {
      min: '0 mm3/J',
      max: '5 mm3/J',
      description: 'Rubber volume worn off per slip work on dry pavement, standard compound.',
    }),
    landingWearSpread: assumption('share', {
      min: '0',
      max: '3',
      description:
        'Coefficient of variation of a gamma multiplier of mean 1 on the wear of each landing: what the other draws do not explain.',
    }),
    brakingSlip: assumption('share', {
      min: '0 %',
      max: '50 %',
      description: 'Slip ratio of a braked wheel.',
    }),
    slidingFriction: assumption('share', {
      min: '0',
      max: '1.5',
      description: 'Friction coefficient of a locked wheel in a pivot turn.',
    }),
    rollingPressureTerm: assumption('pressure', {
      min: '0 psi',
      max: '5 psi',
      description: 'Coefficient of 1/pressure in the rolling resistance of the tire.',
    }),
    turnScrub: assumption('share', {
      min: '0 %',
      max: '5 %',
      description: 'Side slip work in turns over load and taxi distance.',
    }),
    crosswindScrub: assumption('share', {
      min: '0 %',
      max: '100 %',
      description: 'Side slip work in the landing roll over load and distance, per square of the load shift.',
    }),
    bandGain: assumption('share', {
      min: '0',
      max: '10',
      description: 'How fast work moves to the shoulders as deflection passes the even-wear deflection.',
    }),
    innerShoulderShare: assumption('share', {
      min: '0 %',
      max: '100 %',
      description: 'Share of the shoulder work on the inner shoulder in straight running (camber and toe).',
    }),
    touchdownLoadShare: assumption('share', {
      min: '0 %',
      max: '100 %',
      description: 'Wheel load during spin-up over load at rest.',
    }),
    gyrationShare: quantity('share', {
      min: '0 %',
      max: '100 %',
      description: 'Radius of gyration of a tire over its outside radius.',
    }),
    rolloutStoneFactor: assumption('share', {
      min: '0',
      max: '20',
      description: 'A sharp stone met in the landing roll counts as this many met in taxi.',
    }),
    touchdownPatch: quantity('length', {
      min: '0 m',
      max: '100 m',
      description: 'Length of ground on which the tire is at its impact deflection.',
    }),
    impactEnergyShare: assumption('share', {
      min: '0 %',
      max: '100 %',
      description: 'Share of the sink energy taken by the tires.',
    }),
    bumpLoad: assumption('share', {
      min: '1',
      max: '4',
      description: 'Wheel load on an ordinary bump of taxi or landing roll, over the load at rest.',
    }).optional(),
    beadFriction: assumption('share', {
      min: '0',
      max: '1.5',
      description: 'Friction coefficient of bead on rim.',
    }),
    ledgeTorque: assumption('torque', {
      min: '0 N m',
      max: '10000 N m',
      description: 'Torque held by the fit of bead on rim with no air.',
    }),
    valveTearChance: assumption('share', {
      min: '0 %',
      max: '100 %',
      description: 'Chance that a bead slip tears the valve of a tube.',
    }),
    tubePermeation: assumption('rate', {
      min: '0 %/month',
      max: '100 %/month',
      description: 'Loss of excess pressure through an inner tube.',
    }),
    tubelessPermeation: assumption('rate', {
      min: '0 %/month',
      max: '100 %/month',
      description: 'Loss of excess pressure through a tubeless tire.',
    }),
    slowLeaks: assumption('rate', {
      min: '0 /year',
      max: '100 /year',
      description: 'Slow leaks that start per wheel (valve, tube, bead).',
    }),
    leakAtStart: assumption('rate', {
      min: '0 %/day',
      max: '1000 %/day',
      description: 'Loss rate of a slow leak when it starts.',
    }),
    leakGrowth: assumption('rate', {
      min: '0 %/day',
      max: '1000 %/day',
      description: 'Growth of a slow leak: its loss rate rises by this share of the starting rate per day.',
    }),
    gaugeBias: assumption('pressureDifference', {
      min: '-5 psi',
      max: '5 psi',
      description:
        'Error of the pressure gauge in use (reads low where positive: tires are set high by as much).',
    }),
    patchChance: assumption('share', {
      min: '0 %',
      max: '100 %',
      description: 'Chance that a flat away from help is mended on the spot with a patch kit.',
    }),
    downDaysAtBase: assumption('duration', {
      min: '0 days',
      max: '100 days',
      description: 'Days lost to a flat where help is at hand.',
    }),
    downDaysPatched: assumption('duration', {
      min: '0 days',
      max: '100 days',
      description: 'Days lost to a flat away from help, mended on the spot.',
    }),
    downDaysRescue: assumption('duration', {
      min: '0 days',
      max: '200 days',
      description: 'Days lost to a flat away from help, with rescue.',
    }),
    downDaysReplacement: assumption('duration', {
      min: '0 days',
      max: '100 days',
      description: 'Days lost to a planned tire change.',
    }),
  })
  .describe('Assumptions shared by all set-ups, each with its source.');

/** Prices; without them no money is shown. */
export const costsSchema = z
  .strictObject({
    currency: z.string().min(1).max(12).describe('Currency label.'),
    tube: quantity('money', { min: '0', max: '100000', description: 'Price of an inner tube.' }),
    tireChange: quantity('money', { min: '0', max: '100000', description: 'Labour for changing one tire.' }),
    patch: quantity('money', { min: '0', max: '100000', description: 'Patch kit used for one flat.' }),
    rescue: quantity('money', {
      min: '0',
      max: '1000000',
      description: 'Rescue of an airplane with a flat away from help.',
    }),
    downDay: quantity('money', { min: '0', max: '1000000', description: 'Cost of one day lost.' }),
    flightHour: quantity('money', {
      min: '0',
      max: '100000',
      description: 'Cost of one flight hour, to price the cruise speed that draggy gear takes.',
    }).optional(),
    source: z.string().min(1).max(500).describe('Where the prices come from.'),
  })
  .describe('Prices.');

/** How to run. */
export const runSchema = z
  .strictObject({
    trials: quantity('count', { min: '2', max: '10000000', whole: true, description: 'Number of trials.' }),
    seed: z
      .union([z.string().min(1).max(100), z.number().int()])
      .describe('Seed: any text or whole number, 0 included.'),
    horizon: quantity('duration', {
      min: '1 month',
      max: '200 years',
      description: 'Calendar time after which a trial stops following the first tires.',
    }),
  })
  .describe('How to run.');
