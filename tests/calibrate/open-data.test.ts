/**
 * Open data on the wear of rubber and tires, as regressions: with a prior so wide that it says nothing, a posterior must be
 * what least squares give. Data, coefficients and errors by R lm (tests/reference/regression.R).
 */
import { describe, expect, test } from 'vitest';
import { samplePosterior, type SampledPosterior } from '../../lib/calibrate/sampler.js';
import { inverseMatrix, rowMoments } from '../../lib/calibrate/sampler-matrix.js';
import { chiSquareQuantile } from '../../lib/numeric/special.js';
import reference from '../reference/regression.json' with { type: 'json' };

/** Standard errors that a sound sampler passes once in 100 000 times, two-sided. */
const MOST_ERRORS = 4.42;

/** Standard deviations of the prior of the coefficients, about 0: some thousand times as wide as what the data tell. */
const SETS = [
  { name: 'rubber', words: 'abrasion loss on hardness and tensile strength', prior: [1e5, 1e3, 1e3] },
  { name: 'tires', words: 'tread life by groove on that by weight', prior: [1e4, 1e3] },
] as const;

/** Printed in the sources: MASS's Rubber as its handbook fits it, TireWear worked out from the recalled values. */
const PRINTED = { rubber: ['885.161109', '-6.570830', '-1.374312'], tires: ['1.350586', '0.790212'] };

function dataOf(name: 'rubber' | 'tires'): { rows: number[][]; response: number[] } {
  const { regressors, response } = reference[name];
  return { rows: response.map((_, i) => [1, ...regressors.map((column) => column[i]!)]), response };
}

function squaresOff(name: 'rubber' | 'tires', coefficients: ArrayLike<number>): number {
  const { rows, response } = dataOf(name);
  return rows.reduce((sum, row, i) => {
    const expected = row.reduce((total, each, k) => total + each * coefficients[k]!, 0);
    return sum + (response[i]! - expected) ** 2;
  }, 0);
}

/** Means and standard deviations of the coefficients against what they should be, within Monte Carlo error. */
function expectCoefficients(
  { chains, diagnostics, converged }: SampledPosterior,
  prior: readonly number[],
  wanted: readonly number[],
  deviations: readonly number[],
  kurtosis: number,
): void {
  expect(converged).toBe(true);
  const rows = chains.flat();
  const { mean, covariance } = rowMoments(rows, rows[0]!.length);
  prior.forEach((scale, k) => {
    const size = diagnostics[k]!.effectiveSize;
    const deviation = deviations[k]!;
    expect(Math.abs(scale * mean[k]! - wanted[k]!)).toBeLessThan((MOST_ERRORS * deviation) / Math.sqrt(size));
    const variance = scale * scale * covariance[k * (rows[0]!.length + 1)]!;
    // The error of a variance follows the fourth moment of the law.
    const error = Math.sqrt((kurtosis - 1) / size);
    expect(Math.abs(variance / deviation ** 2 - 1)).toBeLessThan(MOST_ERRORS * error);
  });
}

describe.each(SETS)('$words', ({ name, prior }) => {
  const { coefficients, errors, residualDeviation, degrees } = reference[name];

  test('least squares of R are those of the sources, to the digits printed', () => {
    PRINTED[name].forEach((printed, k) => {
      expect(coefficients[k]!.toFixed(printed.split('.')[1]!.length)).toBe(printed);
    });
    if (name === 'rubber') {
      expect(reference.rubber.rSquared.toFixed(4)).toBe('0.8402');
      expect(residualDeviation.toFixed(2)).toBe('36.49');
      expect(degrees).toBe(27);
    } else expect(Math.sqrt(reference.tires.rSquared).toFixed(5)).toBe('0.94782');
  });

  test('the closed form of a normal posterior gives coefficients and errors, with our matrix inverse', () => {
    const { rows, response } = dataOf(name);
    const size = prior.length;
    const variance = residualDeviation ** 2;
    // In units of the prior, as the sampler has it; the prior adds one to each precision.
    const precision = Float64Array.from({ length: size * size }, (_, at) => {
      const [i, j] = [Math.floor(at / size), at % size];
      const sum = rows.reduce((total, row) => total + row[i]! * row[j]!, 0);
      return (prior[i]! * prior[j]! * sum) / variance + (i === j ? 1 : 0);
    });
    const covariance = inverseMatrix(precision, size);
    for (let i = 0; i < size; i++) {
      let mean = 0;
      for (let j = 0; j < size; j++) {
        const moment = rows.reduce((total, row, k) => total + row[j]! * response[k]!, 0);
        mean += prior[i]! * covariance[i * size + j]! * ((prior[j]! * moment) / variance);
      }
      expect(Math.abs(mean - coefficients[i]!)).toBeLessThan(1e-5 * errors[i]!);
      expect(Math.abs((prior[i]! * Math.sqrt(covariance[i * (size + 1)]!)) / errors[i]! - 1)).toBeLessThan(
        1e-5,
      );
    }
  });

  test('sampled with the residual deviation known: normal, with the coefficients and errors of least squares', async () => {
    const sampled = await samplePosterior(
      prior.length,
      (z) =>
        -squaresOff(
          name,
          z.map((each, k) => each * prior[k]!),
        ) /
        (2 * residualDeviation ** 2),
      { seed: `regression ${name}`, effectiveSize: 4000 },
    );
    expectCoefficients(sampled, prior, coefficients, errors, 3);
  });

  test('sampled with it unknown: Student t about them, and the law of the residual deviation', async () => {
    const last = prior.length;
    const count = reference[name].response.length;
    const spread = 20;
    const deviationOf = (z: Float64Array): number => 30 * Math.exp(spread * z[last]!);
    const sampled = await samplePosterior(
      prior.length + 1,
      (z) =>
        -squaresOff(
          name,
          prior.map((scale, k) => scale * z[k]!),
        ) /
          (2 * deviationOf(z) ** 2) -
        count * Math.log(deviationOf(z)),
      { seed: `regression with error ${name}`, effectiveSize: 4000 },
    );
    // A flat prior of the logarithm of the deviation: standard result, Gelman et al., Bayesian Data Analysis (from memory).
    const wider = errors.map((each) => each * Math.sqrt(degrees / (degrees - 2)));
    expectCoefficients(sampled, prior, coefficients, wider, 3 + 6 / (degrees - 4));
    const size = sampled.diagnostics[last]!.effectiveSize;
    for (const chance of [0.1, 0.5, 0.9]) {
      const bound = residualDeviation * Math.sqrt(degrees / chiSquareQuantile(1 - chance, degrees));
      const draws = sampled.chains.flat();
      const share = draws.filter((z) => deviationOf(z) < bound).length / draws.length;
      const error = Math.sqrt((chance * (1 - chance)) / size);
      expect(Math.abs(share - chance)).toBeLessThan(MOST_ERRORS * error);
    }
  });
});
