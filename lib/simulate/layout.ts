/**
 * Where the figures of a block of landings stand in memory: one array each for draws, ground and the track of a wheel,
 * column after column. A loop that reads a dozen columns then follows one pointer instead of a dozen, which makes the
 * landing loop two to three times as fast as with an array for each.
 */

/** Landings drawn at a time: small enough for the first-level cache, large enough to spread the overhead. */
export const BLOCK_LANDINGS = 64;

type Layout<Name extends string> = { readonly [Key in Name]: number };

/** Offset of each column, in the order given. */
function layout<const Names extends readonly string[]>(names: Names): Layout<Names[number]> {
  const entries = names.map((name, index) => [name, index * BLOCK_LANDINGS] as const);
  return Object.freeze(Object.fromEntries(entries)) as Layout<Names[number]>;
}

/** An array with room for all columns of a layout. */
export function makeColumns(columns: Readonly<Record<string, number>>): Float64Array {
  return new Float64Array(Object.keys(columns).length * BLOCK_LANDINGS);
}

/** The landings of a trial: everything that depends neither on the place nor on the tire. */
export const DRAW = layout([
  // Uniforms that pick the strip, decide wet or dry, and decide on a pivot turn with its side and spot.
  'stripUniform',
  'wetUniform',
  'pivotUniform',
  'massKg',
  'speedMps',
  // Square of touchdown speed over its typical value: scales the landing roll.
  'rollRatio',
  'sinkMps',
  // Load shift to the right main wheel as a share of its load, negative to the left.
  'sideShift',
  'brakedShare',
  'peakBraking',
  'temperatureK',
  // Wear multiplier of mean 1.
  'wearScatter',
  // Calendar day, from the start of the first season.
  'day',
  'gapDays',
]);

/** The ground under the landings: everything that depends on the place and not on the tire. */
export const GROUND = layout([
  'ambientPa',
  // Wear per slip work of the standard compound in this landing, m3/J.
  'touchdownWear',
  'taxiWear',
  // The same times distance, m4/J.
  'rolloutWearM',
  'taxiWearM',
  // Rubber that braking would wear off one main wheel at a slip ratio of 1, m3.
  'brakingWornM3',
  // Sharp stones per metre of footprint width, and the scales of their bites; taxi apart where its surface differs.
  'rolloutStones',
  'taxiStones',
  'rolloutBiteScaleM',
  'taxiBiteScaleM',
  // Rock edges met, and the scales of their heights; taxi apart likewise.
  'patchEdges',
  'rolloutEdges',
  'taxiEdges',
  'touchdownEdgeScaleM',
  'rolloutEdgeScaleM',
  'taxiEdgeScaleM',
  // Hardest braking over wheel load, limited by grip.
  'peakBraking',
  // Loose stones rolled over at speed per metre of footprint width.
  'looseStones',
]);

/** What happens to a wheel: the steps of steps.ts fill it in, each for the next. */
export const TRACK = layout([
  // Gauge pressure at a scheduled check over the cold setting; 0 without a check.
  'reading',
  'gaugePa',
  'loadN',
  // Reciprocal of the vertical stiffness, 1/N.
  'perStiffness',
  'deflectionM',
  // Under the light load of touchdown.
  'touchdownDeflectionM',
  'footprintWidthM',
  'footprintAreaM2',
  'spinUpWornM3',
  'brakingWornM3',
  'squirmWornM3',
  'scrubWornM3',
  'pivotWornM3',
  // All but spin-up, by the surface it happens on.
  'rolloutWornM3',
  'taxiWornM3',
  // Depth worn off after the landing, m.
  'centreLostM',
  'innerLostM',
  'outerLostM',
  'deepestLostM',
  // Spot of the pivot turn on this wheel, or -1, and the depth it takes there.
  'pivotSpot',
  'pivotDepthM',
  'treadHazard',
  'sidewallHazard',
  'cutHazard',
  'pinchHazard',
  'valveHazard',
  // 1 where the bead slipped.
  'beadSlipped',
  // Chance that the tire loses its air in the landing.
  'flatChance',
]);
