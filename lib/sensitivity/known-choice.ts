/** Choices whose value of information is known exactly: yardsticks for any estimate of it. */
import { TWO_PI } from '../numeric/gamma.js';
import { exp } from '../numeric/elementary.js';
import { normalCdf } from '../numeric/special.js';
import { UsageError } from '../problems.js';

/**
 * Unit normal loss: mean of max(Z - z, 0) for a standard normal Z, phi(z) - z (1 - Phi(z)).
 *
 * @param z any finite number.
 * @throws UsageError for one that is not finite.
 * Source: Raiffa and Schlaifer, Applied Statistical Decision Theory (1961), from memory.
 * @example
 * import { unitNormalLoss } from 'gravelbar';
 * unitNormalLoss(1).toFixed(7); // => '0.0833155'
 */
export function unitNormalLoss(z: number): number {
  if (!Number.isFinite(z)) throw new UsageError(`z is ${z}; it must be a finite number`);
  return exp(-0.5 * z * z) / Math.sqrt(TWO_PI) - z * normalCdf(-z);
}

/** A part of the gain of one choice over another that is not known. */
export interface DoubtedPart {
  readonly name: string;
  /** Standard deviation, in the unit of the gain. */
  readonly deviation: number;
}

/** Exact values of information for a choice between two, in the unit of the gain. */
export interface NormalChoice {
  /** Expected value of perfect information. */
  readonly perfect: number;
  /** Expected value of knowing each part, in the order given. They do not add up to the whole. */
  readonly partial: readonly number[];
  /**
   * Expected value of readings of a part, before it is known what they say.
   *
   * @param part index of the part.
   * @param readings number of readings, 0 or more.
   * @param readingDeviation standard deviation of one reading about the true value, in the unit of the gain.
   */
  readonly ofReadings: (part: number, readings: number, readingDeviation: number) => number;
}

/**
 * The choice between two whose gain, one over the other, is a sum of independent normal parts.
 *
 * @param meanGain mean of the gain, any sign.
 * @param parts what is not known of it, at least one.
 * @throws UsageError for numbers that are not finite or deviations of 0 or less.
 * Source: unit normal loss with the deviation of the preposterior mean, Raiffa and Schlaifer (1961), from memory.
 */
export function normalChoice(meanGain: number, parts: readonly DoubtedPart[]): NormalChoice {
  const wrong = parts.find(({ deviation }) => !(deviation > 0 && deviation < Infinity));
  if (!Number.isFinite(meanGain) || parts.length === 0 || wrong !== undefined) {
    throw new UsageError(
      `a choice needs a finite mean gain (found ${meanGain}) and at least one part with a deviation above 0` +
        (wrong === undefined ? '' : ` (found ${wrong.deviation} of "${wrong.name}")`),
    );
  }
  const loss = (deviation: number): number =>
    deviation === 0 ? 0 : deviation * unitNormalLoss(Math.abs(meanGain) / deviation);
  return {
    perfect: loss(Math.sqrt(parts.reduce((sum, { deviation }) => sum + deviation * deviation, 0))),
    partial: parts.map(({ deviation }) => loss(deviation)),
    ofReadings: (part, readings, readingDeviation) => {
      const { deviation } = parts[part]!;
      const variance = deviation * deviation;
      if (readings === 0) return 0;
      return loss(Math.sqrt((variance * variance) / (variance + readingDeviation ** 2 / readings)));
    },
  };
}
