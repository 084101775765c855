/** The curve of a remaining life from weighted trials. */
import { DEFAULT_LEVEL, logLogBand, requireLevel } from './interval.js';
import type { KaplanMeierCurve, SurvivalOptions } from './kaplan-meier.js';

/**
 * Survival from weighted trials that are all followed equally far.
 *
 * @param times landings from now to the end of each trial's tires, 0 where they are due now; where the end lies beyond
 *   the horizon, the landings to the horizon, which no other trial outlives.
 * @param ended 1 where the end was seen.
 * @param weights by trial; they add to 1.
 * @param options `level` of the pointwise interval, default 0.95.
 * @returns columns as of a Kaplan-Meier curve, counts in effective trials (rounded down). Standard error: that of a
 *   self-normalised weighted mean, root of the sum of w^2 (1 - S)^2 over survivors and w^2 S^2 over the others;
 *   interval log(-log), at the ends Clopper and Pearson's for the effective number of trials.
 * Throws RangeError for unequal lengths, weights that do not add to 1, or an end after the horizon. O(n log n).
 * Source: Geweke (1989), Econometrica 57:1317, for the standard error; from memory.
 */
export function weightedSurvival(
  times: Int32Array,
  ended: Uint8Array,
  weights: Float64Array,
  options: SurvivalOptions = {},
): KaplanMeierCurve {
  const level = options.level ?? DEFAULT_LEVEL;
  requireLevel(level);
  const lives = weighted(times, ended, weights);
  const effectiveTrials = 1 / lives.reduce((sum, { weight }) => sum + weight * weight, 0);
  const lastTime = lives[lives.length - 1]!.time;
  const rows = new Set(lives.filter((life) => life.ended).map((life) => life.time)).size;
  const curve = {
    time: new Float64Array(rows),
    atRisk: new Int32Array(rows),
    ended: new Int32Array(rows),
    survival: new Float64Array(rows),
    standardError: new Float64Array(rows),
    lower: new Float64Array(rows),
    upper: new Float64Array(rows),
    level,
    trials: lives.length,
    lastTime,
    lastAtRisk: Math.max(1, Math.floor(effectiveTrials)),
  };
  let left = 1;
  let leftSquares = 1 / effectiveTrials;
  let goneSquares = 0;
  let row = 0;
  for (let i = 0; i < lives.length && lives[i]!.ended;) {
    const { time } = lives[i]!;
    const before = left;
    for (; i < lives.length && lives[i]!.time === time && lives[i]!.ended; i += 1) {
      const { weight } = lives[i]!;
      left -= weight;
      leftSquares -= weight * weight;
      goneSquares += weight * weight;
    }
    // The last end leaves nothing but rounding.
    const survival = i === lives.length ? 0 : Math.max(left, 0);
    const squares = Math.max(leftSquares, 0) * (1 - survival) ** 2 + goneSquares * survival ** 2;
    curve.time[row] = time;
    curve.atRisk[row] = Math.max(1, Math.floor(effectiveTrials * before));
    curve.ended[row] = Math.round(effectiveTrials * (before - survival));
    curve.survival[row] = survival;
    curve.standardError[row] = Math.sqrt(squares);
    const band = logLogBand(survival, curve.standardError[row]!, effectiveTrials, level);
    // Nothing can be more likely after a time than before it.
    curve.upper[row] = Math.min(band.upper, row === 0 ? 1 : curve.upper[row - 1]!);
    curve.lower[row] = Math.min(band.lower, row === 0 ? 1 : curve.lower[row - 1]!);
    row += 1;
  }
  return curve;
}

interface Life {
  readonly time: number;
  readonly ended: boolean;
  readonly weight: number;
}

/** Lives with a weight, in order of time, those that ended before those that go on. */
function weighted(times: Int32Array, ended: Uint8Array, weights: Float64Array): Life[] {
  if (times.length !== ended.length || times.length !== weights.length) {
    throw new RangeError(
      `times, ended and weights must be equally long; found ${times.length}, ${ended.length} and ${weights.length}`,
    );
  }
  const lives = Array.from(times, (time, i) => ({ time, ended: ended[i] === 1, weight: weights[i]! }))
    .filter(({ weight }) => weight > 0)
    .sort((one, other) => one.time - other.time || Number(other.ended) - Number(one.ended));
  const sum = lives.reduce((total, { weight }) => total + weight, 0);
  if (!(Math.abs(sum - 1) < 1e-9)) throw new RangeError(`weights must add to 1; found ${sum}`);
  const open = lives.find((life) => !life.ended);
  if (open !== undefined && lives.some((life) => life.time > open.time)) {
    throw new RangeError(`no trial may outlive the horizon of ${open.time} landings`);
  }
  return lives;
}
