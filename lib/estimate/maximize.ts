/** Maxima and roots of smooth functions of one variable. */

/** Where a function is greatest, and how great. */
export interface Maximum {
  readonly at: number;
  readonly value: number;
}

const GOLDEN = (3 - Math.sqrt(5)) / 2;
const MOST_STEPS = 200;

/**
 * Greatest value of a function between two ends, by Brent's method: parabolas, and golden sections where they fail.
 *
 * @param low lower end.
 * @param high upper end.
 * @param f function with one maximum between them; -Infinity is allowed.
 * @param tolerance width to which the place is found; the value is then right to about its square.
 * @see R. P. Brent, "Algorithms for Minimization without Derivatives", 1973, chapter 5 (from memory).
 */
export function brentMaximum(low: number, high: number, f: (x: number) => number, tolerance = 1e-8): Maximum {
  let [a, b] = [low, high];
  let x = a + GOLDEN * (b - a);
  let [w, v] = [x, x];
  let fx = f(x);
  let [fw, fv] = [fx, fx];
  let [step, before] = [0, 0];
  for (let count = 0; count < MOST_STEPS; count++) {
    const middle = 0.5 * (a + b);
    const slack = tolerance + 1e-12 * Math.abs(x);
    if (Math.abs(x - middle) <= 2 * slack - 0.5 * (b - a)) break;
    let parabolic = false;
    if (Math.abs(before) > slack) {
      const r = (x - w) * (fx - fv);
      let q = (x - v) * (fx - fw);
      let p = (x - v) * q - (x - w) * r;
      q = 2 * (q - r);
      if (q > 0) p = -p;
      q = Math.abs(q);
      if (Math.abs(p) < Math.abs(0.5 * q * before) && p > q * (a - x) && p < q * (b - x)) {
        before = step;
        step = p / q;
        parabolic = true;
        const u = x + step;
        if (u - a < 2 * slack || b - u < 2 * slack) step = x < middle ? slack : -slack;
      }
    }
    if (!parabolic) {
      before = (x < middle ? b : a) - x;
      step = GOLDEN * before;
    }
    const u = x + (Math.abs(step) >= slack ? step : step > 0 ? slack : -slack);
    const fu = f(u);
    if (fu >= fx) {
      if (u < x) b = x;
      else a = x;
      [v, fv, w, fw, x, fx] = [w, fw, x, fx, u, fu];
    } else {
      if (u < x) a = u;
      else b = u;
      if (fu >= fw || w === x) [v, fv, w, fw] = [w, fw, u, fu];
      else if (fu >= fv || v === x || v === w) [v, fv] = [u, fu];
    }
  }
  return { at: x, value: fx };
}

/**
 * Greatest value of a function in the neighbourhood of a place, with the neighbourhood widened as long as it rises.
 *
 * @param start where to begin.
 * @param step first width.
 * @param limits ends that are not passed.
 * @param f function; -Infinity is allowed.
 * @returns the maximum; at a limit if the function rises up to it.
 */
export function climb(
  start: number,
  step: number,
  limits: readonly [number, number],
  f: (x: number) => number,
): Maximum {
  const [lowest, highest] = limits;
  let low = Math.max(lowest, start - step);
  let high = Math.min(highest, start + step);
  let middle = Math.min(Math.max(start, low), high);
  let best = f(middle);
  for (let width = step; low > lowest; width *= 2) {
    const value = f(low);
    if (value < best) break;
    [high, middle, best] = [middle, low, value];
    low = Math.max(lowest, low - width);
  }
  for (let width = step; high < highest; width *= 2) {
    const value = f(high);
    if (value < best) break;
    [low, middle, best] = [middle, high, value];
    high = Math.min(highest, high + width);
  }
  const found = brentMaximum(low, high, f);
  return found.value >= best ? found : { at: middle, value: best };
}

/**
 * Place between two ends at which a function changes its sign, by halving and secants (the Illinois rule).
 *
 * @param low an end; f there has one sign.
 * @param high the other end; f there has the other sign.
 * @param f continuous function.
 */
export function signChange(low: number, high: number, f: (x: number) => number): number {
  let [a, b] = [low, high];
  let [fa, fb] = [f(a), f(b)];
  for (
    let count = 0;
    count < MOST_STEPS && Math.abs(b - a) > 1e-13 * Math.max(1, Math.abs(a), Math.abs(b));
    count++
  ) {
    const secant = b - (fb * (b - a)) / (fb - fa);
    // Halving now and then keeps the bracket shrinking from both sides.
    const inside = Number.isFinite(secant) && secant > Math.min(a, b) && secant < Math.max(a, b);
    const x = inside && count % 3 !== 2 ? secant : 0.5 * (a + b);
    const fx = f(x);
    if (fx === 0) return x;
    if (fx < 0 === fb < 0) {
      [b, fb] = [x, fx];
      fa *= 0.5;
    } else [a, fa, b, fb] = [b, fb, x, fx];
  }
  return b;
}
