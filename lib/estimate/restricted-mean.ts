/** Mean life up to a horizon: the area under the life curve. */
import { normalMultiplier } from './interval.js';
import { lowestSurvivalBeforeFirstEnd, type KaplanMeierCurve } from './kaplan-meier.js';

/** A mean life counted up to `horizon`, with its standard error and interval, all in the unit of the lives. */
export interface RestrictedMean {
  readonly estimate: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
  readonly horizon: number;
}

/** Area from 0 to `horizon` under a step function that is `first` before the curve's first end time. */
function areaUnder(curve: KaplanMeierCurve, steps: Float64Array, first: number, horizon: number): number {
  let area = 0;
  let from = 0;
  let height = first;
  for (let row = 0; row < steps.length && curve.time[row]! < horizon; row += 1) {
    area += height * (curve.time[row]! - from);
    from = curve.time[row]!;
    height = steps[row]!;
  }
  return area + height * (horizon - from);
}

/**
 * Mean life when a life is counted only up to `horizon`: the area under the curve from 0 to there.
 *
 * Use it instead of the plain mean, which censored lives leave open. Standard error: square root of the sum of
 * A^2 d / (Y (Y - d)) over end times before the horizon, A the area from that time to the horizon, d ended, Y
 * running (Klein and Moeschberger, Survival Analysis, section 4.5; from memory; values checked against R
 * survival). The interval is normal, cut to [0, horizon]; when the standard error is 0 (nothing ended before
 * the horizon, or everything at once) it is the area under the band of the curve instead.
 *
 * `horizon` > 0, in the unit of the lives, at most the longest life observed unless every trial ended;
 * RangeError otherwise. O(rows).
 * @example
 * import { kaplanMeier, restrictedMean } from 'gravelbar';
 * const curve = kaplanMeier(Int32Array.of(1, 2, 3, 4), Uint8Array.of(1, 1, 1, 0));
 * restrictedMean(curve, 4).estimate; // => 2.5
 */
export function restrictedMean(curve: KaplanMeierCurve, horizon: number): RestrictedMean {
  if (!(horizon > 0 && horizon < Infinity)) {
    throw new RangeError(`horizon must be a finite number above 0; found ${horizon}`);
  }
  const rows = curve.time.length;
  const allEnded = rows > 0 && curve.survival[rows - 1] === 0;
  if (horizon > curve.lastTime && !allEnded) {
    throw new RangeError(
      `horizon must be at most ${curve.lastTime}, the longest life observed; found ${horizon}`,
    );
  }
  const estimate = areaUnder(curve, curve.survival, 1, horizon);
  let passed = 0;
  let from = 0;
  let height = 1;
  let variance = 0;
  for (let row = 0; row < rows && curve.time[row]! < horizon; row += 1) {
    passed += height * (curve.time[row]! - from);
    from = curve.time[row]!;
    height = curve.survival[row]!;
    const running = curve.atRisk[row]!;
    const left = running - curve.ended[row]!;
    if (left > 0) variance += ((estimate - passed) ** 2 * curve.ended[row]!) / (running * left);
  }
  const standardError = Math.sqrt(variance);
  if (standardError === 0) {
    const lower = areaUnder(curve, curve.lower, lowestSurvivalBeforeFirstEnd(curve), horizon);
    return { estimate, standardError, lower, upper: areaUnder(curve, curve.upper, 1, horizon), horizon };
  }
  const reach = normalMultiplier(curve.level) * standardError;
  return {
    estimate,
    standardError,
    lower: Math.max(estimate - reach, 0),
    upper: Math.min(estimate + reach, horizon),
    horizon,
  };
}
