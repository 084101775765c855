import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  checkReadings,
  groovesM,
  logLikelihood,
  stillOn,
  weighTrials,
  type TreadReading,
} from '../../lib/estimate/remaining-weights.js';
import { weightedSurvival } from '../../lib/estimate/remaining-curve.js';
import { survivalQuantile } from '../../lib/estimate/kaplan-meier.js';
import type { WearHistories } from '../../lib/simulate/wear-histories.js';

function reading(change: Partial<TreadReading> = {}): TreadReading {
  return {
    wheel: 'left',
    band: 'centre',
    place: 'mean',
    grooveM: 0.004,
    errorM: 0.0005,
    stepM: 0,
    ...change,
  };
}

describe('the groove at the place of a reading', () => {
  const made = (left: readonly number[]): WearHistories =>
    ({
      looks: Int32Array.of(0, 50),
      newTreadM: 0.008,
      trials: { rows: 1 },
      left: {
        centreM: Float32Array.of(0, left[0]!),
        innerM: Float32Array.of(0, left[1]!),
        outerM: Float32Array.of(0, left[2]!),
        deepestM: Float32Array.of(0, left[3]!),
      },
    }) as unknown as WearHistories;
  const wear = made([0.002, 0.003, 0.001, 0.0045]);

  test.each([
    ['centre', 'mean', 6],
    ['inner shoulder', 'mean', 5],
    ['outer shoulder', 'mean', 7],
    ['shallowest', 'mean', 5],
    // The worst spot is 1.5 mm deeper than the deepest band, on every band.
    ['centre', 'worst', 4.5],
    ['inner shoulder', 'worst', 3.5],
    ['shallowest', 'worst', 3.5],
  ] as const)('%s, %s: %d mm', (band, place, expected) => {
    expect(1000 * groovesM(wear, 1, reading({ band, place }))[0]!).toBeCloseTo(expected, 5);
    expect(1000 * groovesM(wear, 0, reading({ band, place }))[0]!).toBe(8);
  });

  test('is 0 where rubber is worn below it', () => {
    expect(groovesM(made([0.0095, 0, 0, 0.0095]), 1, reading())[0]).toBe(0);
  });

  test('trials may be like the tires if these are on, or were taken off as worn', () => {
    const trials = {
      columns: { lifeLandings: Int32Array.of(51, 50, 50, 50, 50), lifeCause: Uint8Array.of(2, 1, 2, 3, 5) },
    };
    expect(Array.from(stillOn({ ...wear, trials } as unknown as WearHistories, 50))).toEqual([1, 1, 0, 0, 0]);
  });
});

describe('the likelihood of a reading', () => {
  test('is the normal density for a fine step', () => {
    const off = logLikelihood(reading(), 0.004, 1) - logLikelihood(reading(), 0.0045, 1);
    // One standard error away: half a unit of log likelihood.
    expect(off).toBeCloseTo(0.5, 12);
    expect(logLikelihood(reading(), 0.004, 1) - logLikelihood(reading(), 0.0045, 2)).toBeCloseTo(0.125, 12);
  });

  test('is the chance of the step it was rounded to', () => {
    // Step of two standard errors around the truth: P(|Z| < 1) = 0.682689 (tables of the normal distribution).
    expect(Math.exp(logLikelihood(reading({ stepM: 0.001 }), 0.004, 1))).toBeCloseTo(0.682689, 6);
    // A groove that is gone, read as 0 with a step of 1 mm: P(Z < 1) = 0.841345.
    expect(Math.exp(logLikelihood(reading({ grooveM: 0, stepM: 0.001 }), 0, 1))).toBeCloseTo(0.841345, 6);
  });

  test('far off, it keeps its order instead of vanishing', () => {
    const near = logLikelihood(reading({ stepM: 0.0001 }), 0.012, 1);
    const far = logLikelihood(reading({ stepM: 0.0001 }), 0.013, 1);
    expect(near).toBeGreaterThan(far);
    expect(far).toBeGreaterThan(-Infinity);
  });

  test('adds to 1 over all readings', () => {
    for (const truth of [0, 0.0003, 0.004]) {
      let sum = 0;
      for (let k = 0; k <= 200; k++) {
        sum += Math.exp(logLikelihood(reading({ grooveM: 0.0001 * k, stepM: 0.0001 }), truth, 1));
      }
      expect(sum).toBeCloseTo(1, 9);
    }
  });

  test('without error it picks the trials that round to the reading, and no others', () => {
    const grooves = [Float64Array.of(0.0039, 0.00396, 0.004, 0.00404, 0.0041)];
    const sharp = reading({ errorM: 0, stepM: 0.0001 });
    const { weights, effectiveTrials } = weighTrials([sharp], grooves, new Uint8Array(5).fill(1));
    expect(Array.from(weights)).toEqual([0, 1 / 3, 1 / 3, 1 / 3, 0]);
    expect(effectiveTrials).toBeCloseTo(3, 12);
    // A small error comes to the same.
    const nearly = weighTrials([{ ...sharp, errorM: 1e-7 }], grooves, new Uint8Array(5).fill(1));
    nearly.weights.forEach((weight, trial) => {
      expect(weight).toBeCloseTo(weights[trial]!, 9);
    });
  });

  test('no readings leave the trials alike, readings nobody meets leave none', () => {
    const eligible = Uint8Array.of(1, 0, 1, 1, 1);
    expect(weighTrials([], [], eligible).effectiveTrials).toBeCloseTo(4, 12);
    const none = weighTrials([reading({ errorM: 0, stepM: 1e-5 })], [new Float64Array(5)], eligible);
    expect(none.effectiveTrials).toBe(0);
    expect(Array.from(none.weights)).toEqual([0, 0, 0, 0, 0]);
  });
});

test('one reading of a normal groove gives the normal posterior', () => {
  // Prior N(5, 1) mm at even quantiles, reading 4 mm with error 0.5 mm: posterior mean (5 / 1 + 4 / 0.25) / 5 = 4.2 mm,
  // standard deviation 1 / sqrt(5) = 0.4472 mm (conjugate normal, Gelman et al., Bayesian Data Analysis, section 2.5).
  const count = 20_000;
  const normal = (p: number): number => {
    let [low, high] = [-9, 9];
    for (let k = 0; k < 60; k++) {
      const middle = (low + high) / 2;
      if (0.5 * (1 + erf(middle / Math.SQRT2)) < p) low = middle;
      else high = middle;
    }
    return (low + high) / 2;
  };
  const grooves = Float64Array.from({ length: count }, (_, k) => 0.005 + 0.001 * normal((k + 0.5) / count));
  const eligible = new Uint8Array(count).fill(1);
  const { weights, effectiveTrials } = weighTrials([reading()], [grooves], eligible);
  const mean = weights.reduce((sum, weight, k) => sum + weight * grooves[k]!, 0);
  const variance = weights.reduce((sum, weight, k) => sum + weight * (grooves[k]! - mean) ** 2, 0);
  expect(1000 * mean).toBeCloseTo(4.2, 3);
  expect(1000 * Math.sqrt(variance)).toBeCloseTo(0.44721, 3);
  // (E w)^2 / E w^2 with w = exp(-(x - 4)^2 / (2 x 0.25)): 0.2 exp(-0.8) over (1/3) exp(-4/9), normal integrals.
  expect(effectiveTrials / count).toBeCloseTo(0.6 * Math.exp(-0.8 + 4 / 9), 3);
  const { checks, chance } = checkReadings([reading()], [grooves], eligible);
  // Beforehand N(5, 1) with an error of 0.5: off by -1 / sqrt(1.25) = -0.8944; P(|Z| > 0.8944) = 0.3711.
  expect(checks[0]!.offBy).toBeCloseTo(-0.8944, 3);
  expect(checks[0]!.expectedM.standardDeviation).toBeCloseTo(0.001, 5);
  expect(chance!).toBeCloseTo(0.3711, 3);
});

/** Error function by its series, for small arguments, and continued fraction. */
function erf(x: number): number {
  const size = Math.abs(x);
  if (size > 5) return Math.sign(x);
  let term = size;
  let sum = size;
  for (let k = 1; k < 200; k++) {
    term *= (-size * size) / k;
    sum += term / (2 * k + 1);
  }
  return (Math.sign(x) * 2 * sum) / Math.sqrt(Math.PI);
}

test('two readings that always agree count once in the distance when they agree', () => {
  const grooves = Float64Array.of(0.003, 0.004, 0.005, 0.006);
  const eligible = new Uint8Array(4).fill(1);
  const sharp = { errorM: 1e-9, grooveM: 0.006 };
  const one = checkReadings([reading(sharp)], [grooves], eligible);
  const two = checkReadings([reading(sharp), reading(sharp)], [grooves, grooves], eligible);
  // Mean 4.5, variance 5/3: squared distance 1.5^2 / (5/3) = 1.35 for both; P(chi2_1 > 1.35) = 0.2453,
  // P(chi2_2 > 1.35) = exp(-0.675) = 0.5092.
  expect(one.chance!).toBeCloseTo(0.2453, 3);
  expect(two.chance!).toBeCloseTo(Math.exp(-0.675), 3);
});

describe('the curve of a remaining life', () => {
  test('with equal weights is the share of trials, with the error of a share', () => {
    const times = Int32Array.of(0, 3, 3, 7, 9, 12, 15, 20, 30, 30);
    const ended = Uint8Array.of(1, 1, 1, 1, 1, 1, 1, 1, 0, 0);
    const curve = weightedSurvival(times, ended, new Float64Array(10).fill(0.1));
    expect(Array.from(curve.time)).toEqual([0, 3, 7, 9, 12, 15, 20]);
    curve.survival.forEach((share, row) => {
      const left = times.filter((time) => time > curve.time[row]!).length / 10;
      expect(share).toBeCloseTo(left, 12);
      expect(curve.standardError[row]!).toBeCloseTo(Math.sqrt((left * (1 - left)) / 10), 12);
    });
    expect(survivalQuantile(curve, 0.5).estimate).toBe(10.5);
    expect(survivalQuantile(curve, 0.9).estimate).toBeNull();
  });

  test('a trial of weight 0.5 counts as five of 0.1, but no more trials stand behind it', () => {
    const weights = Float64Array.of(0.5, 0.1, 0.1, 0.1, 0.1, 0.1);
    const curve = weightedSurvival(Int32Array.of(4, 5, 6, 7, 8, 9), new Uint8Array(6).fill(1), weights);
    expect(curve.survival[0]!).toBeCloseTo(0.5, 12);
    // Sum of w^2 (1 - S)^2 over survivors and w^2 S^2 over the other: (5 x 0.01 + 0.25) / 4.
    expect(curve.standardError[0]!).toBeCloseTo(Math.sqrt(0.3 / 4), 12);
    expect(curve.lastAtRisk).toBe(3);
  });

  test('lives and weights that cannot be are refused', () => {
    const one = new Uint8Array(2).fill(1);
    expect(() => weightedSurvival(Int32Array.of(1, 2), one, Float64Array.of(0.5, 0.4))).toThrow(/add to 1/);
    expect(() => weightedSurvival(Int32Array.of(1), one, Float64Array.of(0.5, 0.5))).toThrow(/equally long/);
    const open = Uint8Array.of(0, 1);
    expect(() => weightedSurvival(Int32Array.of(1, 2), open, Float64Array.of(0.5, 0.5))).toThrow(/horizon/);
  });
});

describe('laws', () => {
  /** Trials in which less wear by now means more left: as in worlds that differ in one thing. */
  const worlds = fc.array(fc.tuple(fc.integer({ min: 0, max: 80 }), fc.integer({ min: 0, max: 200 })), {
    minLength: 3,
    maxLength: 60,
  });
  const places = fc.array(
    fc.record({
      read: fc.integer({ min: 0, max: 80 }),
      error: fc.integer({ min: 1, max: 20 }),
      step: fc.integer({ min: 0, max: 8 }),
      slope: fc.double({ min: 0.2, max: 1, noNaN: true }),
    }),
    { minLength: 1, maxLength: 4 },
  );

  test('more tread never shortens what is left, whichever reading rises', () => {
    fc.assert(
      fc.property(worlds, places, fc.nat(3), fc.integer({ min: 1, max: 30 }), (pairs, at, which, rise) => {
        const grooves = pairs.map(([groove]) => groove).sort((a, b) => a - b);
        const left = Int32Array.from(pairs.map(([, landings]) => landings).sort((a, b) => a - b));
        const depths = at.map(({ slope }) => Float64Array.from(grooves, (depth) => 1e-4 * slope * depth));
        const readings = at.map(({ read, error, step }) =>
          reading({ grooveM: 1e-4 * read, errorM: 1e-4 * error, stepM: 1e-4 * step }),
        );
        const more = readings.map((each, k) =>
          k === which % readings.length ? { ...each, grooveM: each.grooveM + 1e-4 * rise } : each,
        );
        const all = new Uint8Array(pairs.length).fill(1);
        const [less, greater] = [readings, more].map((each) =>
          weightedSurvival(left, all, weighTrials(each, depths, all).weights),
        );
        for (const time of less!.time) {
          const share = (curve: typeof less): number => {
            const rows = Array.from(curve!.time).filter((each) => each <= time).length;
            return rows === 0 ? 1 : curve!.survival[rows - 1]!;
          };
          expect(share(greater)).toBeGreaterThanOrEqual(share(less) - 1e-9);
        }
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  test('curves fall from 1 to 0 inside their band, and a trial with no weight changes nothing', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(40), fc.nat(9)), { minLength: 1, maxLength: 30 }), (lives) => {
        const sum = lives.reduce((total, [, weight]) => total + weight + 1, 0);
        const times = Int32Array.from(lives, ([time]) => time);
        const weights = Float64Array.from(lives, ([, weight]) => (weight + 1) / sum);
        const all = new Uint8Array(lives.length).fill(1);
        const curve = weightedSurvival(times, all, weights);
        expect(curve.survival[curve.survival.length - 1]).toBe(0);
        curve.survival.forEach((share, row) => {
          expect(share).toBeLessThanOrEqual(row === 0 ? 1 : curve.survival[row - 1]!);
          expect(curve.lower[row]!).toBeLessThanOrEqual(share + 1e-12);
          expect(curve.upper[row]!).toBeGreaterThanOrEqual(share - 1e-12);
        });
        const withNone = weightedSurvival(
          Int32Array.from([...times, 7]),
          new Uint8Array(lives.length + 1).fill(1),
          Float64Array.from([...weights, 0]),
        );
        expect(Array.from(withNone.survival)).toEqual(Array.from(curve.survival));
      }),
      { seed: 12, numRuns: 300 },
    );
  });
});
