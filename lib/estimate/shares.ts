import { mean } from './moments.js';

/** An estimate with its Monte Carlo standard error. */
export interface Estimate {
  readonly estimate: number;
  readonly standardError: number;
}

/**
 * Ratio of two sums over trials with its standard error.
 *
 * @param parts numerator per trial.
 * @param wholes denominator per trial.
 * @returns sum(parts) / sum(wholes), 0 if the wholes are all 0.
 * @see linearised (Taylor) variance of a ratio of means, e.g. Cochran, Sampling Techniques, 1977, chapter 6 (from
 *   memory).
 */
export function ratioOfSums(parts: ArrayLike<number>, wholes: ArrayLike<number>): Estimate {
  const whole = mean(wholes);
  if (whole === 0) return { estimate: 0, standardError: 0 };
  const count = parts.length;
  const ratio = mean(parts) / whole;
  let squares = 0;
  for (let row = 0; row < count; row++) {
    const residual = parts[row]! - ratio * wholes[row]!;
    squares += residual * residual;
  }
  return { estimate: ratio, standardError: Math.sqrt(squares / (count - 1) / count) / whole };
}
