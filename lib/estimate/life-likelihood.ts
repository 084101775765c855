import type { LifeColumns } from './censored-lives.js';
import { logOneMinusExp, type StandardLaw } from './life-laws.js';

/** Log-likelihood with its derivatives by offset and rate. */
export interface LikelihoodPoint {
  readonly value: number;
  readonly byOffset: number;
  readonly byRate: number;
  readonly byOffset2: number;
  readonly byRate2: number;
  readonly byBoth: number;
}

/**
 * Log-likelihood of lives under a law of their logarithm, z = rate x ln(time / unit) - offset, with rate = 1 / spread and
 * offset = location / spread.
 *
 * Times are divided by a typical one first, so that the answer does not depend on the unit and numbers stay near 1.
 * Lives known exactly count with their density on the scale of time, in the unit given (not that of log time).
 */
export class LifeLikelihood {
  /** The unit that times are divided by. */
  readonly unit: number;
  readonly law: StandardLaw;
  /** Smallest and greatest log of a time that matters, in that unit. */
  readonly least: number;
  readonly greatest: number;
  private readonly from: Float64Array;
  private readonly to: Float64Array;
  private readonly entry: Float64Array;
  private readonly count: Float64Array;
  /** What the change from log time to time adds: -sum of ln t over exact ends. */
  private readonly timeScale: number;

  constructor(lives: LifeColumns, law: StandardLaw) {
    this.law = law;
    this.unit = typicalTime(lives);
    const scaled = (time: number): number => Math.log(time / this.unit);
    this.from = lives.from.map(scaled);
    this.to = lives.to.map(scaled);
    this.entry = lives.entry.map(scaled);
    this.count = lives.count;
    let timeScale = 0;
    let least = Infinity;
    let greatest = -Infinity;
    for (let i = 0; i < this.count.length; i++) {
      if (lives.from[i] === lives.to[i]) timeScale -= this.count[i]! * Math.log(lives.to[i]!);
      for (const place of [this.from[i]!, this.to[i]!]) {
        if (!Number.isFinite(place)) continue;
        least = Math.min(least, place);
        greatest = Math.max(greatest, place);
      }
    }
    this.timeScale = timeScale;
    this.least = least;
    this.greatest = greatest;
  }

  /** Log-likelihood alone. */
  value(offset: number, rate: number): number {
    const { law, from, to, entry, count } = this;
    const logRate = Math.log(rate);
    let sum = this.timeScale;
    for (let i = 0; i < count.length; i++) {
      const a = from[i]!;
      const b = to[i]!;
      let term: number;
      if (a === b) term = law.logDensity(rate * a - offset) + logRate;
      else if (b === Infinity) term = a === -Infinity ? 0 : law.logSurvival(rate * a - offset);
      else term = logBetween(law, a === -Infinity ? a : rate * a - offset, rate * b - offset);
      if (entry[i]! > -Infinity) term -= law.logSurvival(rate * entry[i]! - offset);
      sum += count[i]! * term;
    }
    return Number.isNaN(sum) ? -Infinity : sum;
  }

  /** Log-likelihood with first and second derivatives. */
  at(offset: number, rate: number): LikelihoodPoint {
    const { law, from, to, entry, count } = this;
    let [value, byOffset, byRate, byOffset2, byRate2, byBoth] = [this.timeScale, 0, 0, 0, 0, 0];
    // A term in z: slope and bend by z become derivatives by offset (-1) and rate (x).
    const add = (weight: number, x: number, slope: number, bend: number): void => {
      byOffset -= weight * slope;
      byRate += weight * slope * x;
      byOffset2 += weight * bend;
      byRate2 += weight * bend * x * x;
      byBoth -= weight * bend * x;
    };
    const addTail = (weight: number, x: number): void => {
      const z = rate * x - offset;
      const logSurvival = law.logSurvival(z);
      const hazard = Math.exp(law.logDensity(z) - logSurvival);
      value += weight * logSurvival;
      add(weight, x, -hazard, -hazard * (law.logDensitySlope(z) + hazard));
    };
    for (let i = 0; i < count.length; i++) {
      const weight = count[i]!;
      const a = from[i]!;
      const b = to[i]!;
      if (a === b) {
        const z = rate * a - offset;
        value += weight * (law.logDensity(z) + Math.log(rate));
        add(weight, a, law.logDensitySlope(z), law.logDensityBend(z));
        byRate += weight / rate;
        byRate2 -= weight / (rate * rate);
      } else if (b === Infinity) {
        if (a > -Infinity) addTail(weight, a);
      } else {
        const za = a === -Infinity ? a : rate * a - offset;
        const zb = rate * b - offset;
        const between = logBetween(law, za, zb);
        const fa = a === -Infinity ? 0 : Math.exp(law.logDensity(za) - between);
        const fb = Math.exp(law.logDensity(zb) - between);
        value += weight * between;
        add(weight, b, fb, fb * law.logDensitySlope(zb) - fb * fb);
        if (a > -Infinity) {
          add(weight, a, -fa, -fa * law.logDensitySlope(za) - fa * fa);
          const cross = weight * fa * fb;
          byOffset2 += 2 * cross;
          byRate2 += 2 * cross * a * b;
          byBoth -= cross * (a + b);
        }
      }
      if (entry[i]! > -Infinity) addTail(-weight, entry[i]!);
    }
    return { value, byOffset, byRate, byOffset2, byRate2, byBoth };
  }
}

/** ln P(za < Z <= zb). */
function logBetween(law: StandardLaw, za: number, zb: number): number {
  const lower = za === -Infinity ? 0 : law.logSurvival(za);
  return lower + logOneMinusExp(law.logSurvival(zb) - lower);
}

/** Median of the finite times, the unit of the fit: any power of ten in the data goes out. */
function typicalTime({ from, to }: LifeColumns): number {
  const times = [...from, ...to]
    .filter((time) => time > 0 && time < Infinity)
    .sort((one, other) => one - other);
  return times[times.length >> 1] ?? 1;
}
