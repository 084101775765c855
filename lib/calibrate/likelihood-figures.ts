import { fastNormalCdf, fastNormalDensity } from './likelihood-normal.js';

/** Least information of a chance that is next to sure: keeps divisions sound. */
const LEAST_INFORMATION = 1e-12;

/**
 * Numbers that records tell, each with the variance that they tell it with: squared slopes over variances add up to
 * Fisher's information. They need not be exact, as they only lead the sampler to where the likelihood is sharp; always
 * the same numbers in the same order.
 */
export class Figures {
  private storedValues = new Float64Array(64);
  private storedVariances = new Float64Array(64);
  count = 0;

  /** Empties the list. */
  clear(): void {
    this.count = 0;
  }

  /** Adds a number that is told with a variance. */
  add(value: number, variance: number): void {
    if (this.count === this.storedValues.length) {
      const [values, variances] = [this.storedValues, this.storedVariances];
      this.storedValues = new Float64Array(2 * this.count);
      this.storedVariances = new Float64Array(2 * this.count);
      this.storedValues.set(values);
      this.storedVariances.set(variances);
    }
    this.storedValues[this.count] = value;
    this.storedVariances[this.count] = variance;
    this.count++;
  }

  /** Adds a normal reading that counts so many times: it tells the mean, and by its scatter the variance of its law. */
  addNormal(mean: number, variance: number, times: number): void {
    this.add(mean, variance / times);
    this.add(0.5 * Math.log(variance), 0.5 / times);
  }

  /** Adds a yes or no whose chance is that of a standard normal number below z. */
  addChance(z: number, times: number): void {
    const tail = fastNormalCdf(-Math.abs(z));
    const information = (fastNormalDensity(z) * fastNormalDensity(z)) / Math.max(tail * (1 - tail), 1e-300);
    this.add(z, 1 / Math.max(LEAST_INFORMATION, times * information));
  }

  /** Adds a count of rare events: twice its root has variance 1, whatever the mean. */
  addCount(mean: number, times: number): void {
    this.add(2 * Math.sqrt(mean), 1 / times);
  }

  /** Copies of the numbers and of their variances. */
  values(): Float64Array {
    return this.storedValues.slice(0, this.count);
  }

  variances(): Float64Array {
    return this.storedVariances.slice(0, this.count);
  }
}
