/** Profiles of a likelihood: the best that is left when one thing is held. */
import { chiSquareQuantile } from '../numeric/special.js';
import type { LifeLikelihood } from './life-likelihood.js';
import { climb, signChange } from './maximize.js';

/**
 * Rates that are looked at, as logarithms: a spread of the log life from 400 (no typical life at all) to 1e-5 (all alike
 * to five digits).
 */
export const LOG_RATE_LIMITS: readonly [number, number] = [-6, 11.5];

/** Farthest that a location may lie beyond the data, in spreads of the law. */
const FARTHEST = 1e6;
const MOST_STEPS = 100;

/** Best offset for a rate. */
export interface BestOffset {
  readonly offset: number;
  readonly value: number;
  /** False where the likelihood keeps rising as far as was looked. */
  readonly bounded: boolean;
}

/**
 * The offset that fits best at a rate: the slope of the likelihood changes its sign there (once, without delayed entry).
 *
 * @param likelihood of the lives.
 * @param rate where.
 * @param location a guess of offset / rate, to be quicker.
 */
export function bestAtRate(likelihood: LifeLikelihood, rate: number, location?: number): BestOffset {
  const slopeAt = (offset: number): number => likelihood.at(offset, rate).byOffset;
  const { least, greatest } = likelihood;
  const start = rate * (location ?? 0.5 * (least + greatest));
  const rising = slopeAt(start) > 0;
  let near = start;
  for (let step = location === undefined ? 1 + 0.5 * rate * (greatest - least) : 0.25; ; step *= 2) {
    const far = start + (rising ? step : -step);
    const slope = slopeAt(far);
    if (Number.isFinite(slope) && slope > 0 !== rising) {
      const offset = newtonRoot(likelihood, rate, Math.min(near, far), Math.max(near, far));
      return { offset, value: likelihood.value(offset, rate), bounded: true };
    }
    // Beyond what can be computed the slope has no sign.
    if (step > FARTHEST || !Number.isFinite(slope)) {
      return { offset: near, value: likelihood.value(near, rate), bounded: false };
    }
    near = far;
  }
}

/** Root of the slope by offset between two offsets: Newton, kept inside the bracket. */
function newtonRoot(likelihood: LifeLikelihood, rate: number, low: number, high: number): number {
  let [a, b] = [low, high];
  let x = 0.5 * (a + b);
  for (let count = 0; count < MOST_STEPS; count++) {
    const { byOffset, byOffset2 } = likelihood.at(x, rate);
    if (byOffset > 0) a = x;
    else b = x;
    const next = x - byOffset / byOffset2;
    const inside = next > a && next < b;
    const moved = inside ? next : 0.5 * (a + b);
    if (Math.abs(moved - x) <= 1e-10 * Math.max(1, Math.abs(x))) return moved;
    x = moved;
  }
  return x;
}

/**
 * Greatest likelihood along a curve that ties the offset to the rate.
 *
 * @param likelihood of the lives.
 * @param rate where to start.
 * @param offsetAt offset by rate.
 */
export function bestOnCurve(
  likelihood: LifeLikelihood,
  rate: number,
  offsetAt: (rate: number) => number,
): number {
  const f = (logRate: number): number => {
    const at = Math.exp(logRate);
    return likelihood.value(offsetAt(at), at);
  };
  return climb(Math.log(rate), 0.25, LOG_RATE_LIMITS, f).value;
}

const NEWTON_STEPS = 25;

/**
 * Greatest likelihood with a quantile of the log life held: z of the law stands at a log time.
 *
 * On that line the likelihood bends down all along (without delayed entry), so that steps of Newton lead to its top; where
 * they do not, a climb does.
 *
 * @param likelihood of the lives.
 * @param rate where to start.
 * @param at log of the scaled time that is held.
 * @param z standard quantile that stands there.
 */
export function bestWithQuantile(likelihood: LifeLikelihood, rate: number, at: number, z: number): number {
  let logRate = Math.log(rate);
  let best = -Infinity;
  for (let count = 0; count < NEWTON_STEPS; count++) {
    const r = Math.exp(logRate);
    const point = likelihood.at(r * at - z, r);
    // By the logarithm of the rate, which has no end.
    const slope = r * (point.byRate + at * point.byOffset);
    const bend = r * r * (point.byRate2 + 2 * at * point.byBoth + at * at * point.byOffset2) + slope;
    if (!(point.value >= best - 1e-9 && bend < 0)) break;
    best = point.value;
    const step = -slope / bend;
    // What is still to gain is half of slope times step.
    if (Math.abs(slope * step) < 1e-13) return best;
    logRate += Math.max(-1, Math.min(1, step));
  }
  return bestOnCurve(likelihood, rate, (each) => each * at - z);
}

/** A bound that the data do not set is null. */
export interface ProfileInterval {
  readonly lower: number | null;
  readonly upper: number | null;
}

/** Widths of the interval of a normal law after which a bound is given up: the profile is flat. */
const WIDTHS = 400;

/**
 * Where twice the fall of a profile below its top passes the quantile of chi-square with one degree of freedom.
 *
 * @param at place of the top, on a scale without ends.
 * @param width a guess of the standard error there.
 * @param level two-sided level.
 * @param top greatest log-likelihood.
 * @param profile log-likelihood with the quantity held.
 * @param limits ends of what can be held.
 */
export function profileInterval(
  at: number,
  width: number,
  level: number,
  top: number,
  profile: (held: number) => number,
  limits: readonly [number, number] = [-Infinity, Infinity],
): ProfileInterval {
  const fall = 0.5 * chiSquareQuantile(level, 1);
  const above = (held: number): number => profile(held) - top + fall;
  const first = Number.isFinite(width) && width > 0 ? width : 0.1;
  const bound = (direction: -1 | 1): number | null => {
    let near = at;
    for (let step = first; step <= WIDTHS * Math.max(first, 0.1); step *= 1.6) {
      const far = at + direction * step;
      if (far < limits[0] || far > limits[1]) break;
      const value = above(far);
      if (Number.isNaN(value)) return null;
      if (value <= 0)
        return value === -Infinity ? bisectEdge(near, far, above) : signChange(near, far, above);
      near = far;
    }
    return null;
  };
  return { lower: bound(-1), upper: bound(1) };
}

/** Halving alone where the function is not finite on the far side. */
function bisectEdge(near: number, far: number, above: (x: number) => number): number {
  let [inside, outside] = [near, far];
  for (let count = 0; count < MOST_STEPS && inside !== outside; count++) {
    const middle = 0.5 * (inside + outside);
    if (above(middle) > 0) inside = middle;
    else outside = middle;
  }
  return inside;
}
