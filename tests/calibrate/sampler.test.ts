import { describe, expect, test } from 'vitest';
import type { Figures } from '../../lib/calibrate/likelihood-figures.js';
import { fastNormalCdf } from '../../lib/calibrate/likelihood-normal.js';
import { samplePosterior } from '../../lib/calibrate/sampler.js';
import { diagnoseChains } from '../../lib/calibrate/sampler-diagnostics.js';
import { climb, laplaceFit } from '../../lib/calibrate/sampler-mode.js';
import { BentReference } from '../../lib/calibrate/sampler-reference.js';
import { eigenParts, inverseMatrix, timesMatrix } from '../../lib/calibrate/sampler-matrix.js';
import { normalFromUniform } from '../../lib/numeric/normal.js';
import { gammaQuantile, normalCdf, regularizedGammaQ } from '../../lib/numeric/special.js';
import { CancelledError } from '../../lib/problems.js';
import { nextUniform, openStream } from '../../lib/random/stream.js';

/** Standard errors that a sound sampler passes once in 100 000 times, two-sided. */
const MOST_ERRORS = 4.42;

describe('a gamma prior and Poisson counts', () => {
  // Gelman et al., Bayesian Data Analysis, the asthma example (source from memory, numbers worked out in R):
  // prior Gamma(3, 5), 3 events in exposure 2 give Gamma(6, 7); 30 events in exposure 20 give Gamma(33, 25).
  test.each([
    { events: 3, exposure: 2, mean: 0.857142857, above1: 0.300708276, shape: 6, rate: 7 },
    { events: 30, exposure: 20, mean: 1.32, above1: 0.928543969, shape: 33, rate: 25 },
  ])(
    'give the closed form: $events events in $exposure',
    async ({ events, exposure, mean, above1, shape, rate }) => {
      const rateOf = (score: number): number => gammaQuantile(normalCdf(score), 3, 1 / 5);
      const sampled = await samplePosterior(
        1,
        ([score]) => events * Math.log(rateOf(score!)) - exposure * rateOf(score!),
        { seed: 'gamma Poisson', effectiveSize: 4000 },
      );
      expect(sampled.converged).toBe(true);
      const size = sampled.diagnostics[0]!.effectiveSize;
      const draws = sampled.chains.flat().map(([score]) => rateOf(score!));
      const found = draws.reduce((sum, value) => sum + value, 0) / draws.length;
      expect(Math.abs(found - mean)).toBeLessThan((MOST_ERRORS * Math.sqrt(shape)) / rate / Math.sqrt(size));
      const share = draws.filter((value) => value > 1).length / draws.length;
      expect(Math.abs(share - above1)).toBeLessThan(MOST_ERRORS * Math.sqrt((above1 * (1 - above1)) / size));
      // The table of the book against our own gamma function.
      expect(regularizedGammaQ(shape, rate)).toBeCloseTo(above1, 8);
    },
  );
});

describe('normal data about a sum of two normal numbers', () => {
  // z1 and z2 standard normal, y = z1 + z2 / 2 seen with standard deviation s: the posterior is normal with
  // covariance (I + a a' / s2)^-1 and mean covariance a y / s2, a = (1, 1/2). Standard linear algebra.
  test.each([0.5, 0.05, 0.005])('give the closed form, however sharp the data: error %s', async (s) => {
    const y = 0.8;
    const a = [1, 0.5];
    const sampled = await samplePosterior(2, (z) => -0.5 * ((a[0]! * z[0]! + a[1]! * z[1]! - y) / s) ** 2, {
      seed: 'normal normal',
      effectiveSize: 4000,
    });
    expect(sampled.converged).toBe(true);
    const precision = Float64Array.of(1 + 1 / s ** 2, 0.5 / s ** 2, 0.5 / s ** 2, 1 + 0.25 / s ** 2);
    const covariance = inverseMatrix(precision, 2);
    const rows = sampled.chains.flat();
    [0, 1].forEach((i) => {
      const variance = covariance[3 * i]!;
      const mean = (covariance[2 * i]! * a[0]! + covariance[2 * i + 1]! * a[1]!) * (y / s ** 2);
      const size = sampled.diagnostics[i]!.effectiveSize;
      const found = rows.reduce((sum, row) => sum + row[i]!, 0) / rows.length;
      expect(Math.abs(found - mean)).toBeLessThan(MOST_ERRORS * Math.sqrt(variance / size));
      const spread = rows.reduce((sum, row) => sum + (row[i]! - mean) ** 2, 0) / rows.length;
      expect(Math.abs(spread / variance - 1)).toBeLessThan(MOST_ERRORS * Math.sqrt(2 / size));
    });
    const product = rows.reduce((sum, row) => sum + (row[0]! + 0.5 * row[1]! - y) ** 2, 0) / rows.length;
    expect(product).toBeLessThan(1.3 * s ** 2);
  });

  test('leave what they do not tell as it was, in forty dimensions', async () => {
    const sampled = await samplePosterior(
      40,
      (z) => -0.5 * ((0.2 * z[0]! + 0.3 * z[1]! - 0.3) / 0.005) ** 2,
      {
        seed: 'forty',
      },
    );
    expect(sampled.converged).toBe(true);
    const rows = sampled.chains.flat();
    for (let i = 2; i < 40; i++) {
      const size = sampled.diagnostics[i]!.effectiveSize;
      const mean = rows.reduce((sum, row) => sum + row[i]!, 0) / rows.length;
      expect(Math.abs(mean)).toBeLessThan(MOST_ERRORS / Math.sqrt(size));
    }
  });
});

test('a ridge that is bent is followed: the sum of two wide numbers known to five per cent', async () => {
  // y = exp(z1) + exp(z2) seen to 5 %: by symmetry both have the same mean; z1 alone is known from a one-dimensional
  // integral, worked out here on a grid.
  const logLikelihood = (z1: number, z2: number): number =>
    -0.5 * ((Math.exp(z1) + Math.exp(z2) - 3) / 0.15) ** 2;
  const told = (z: Float64Array, figures?: Figures): number => {
    figures?.clear();
    figures?.addNormal(Math.exp(z[0]!) + Math.exp(z[1]!), 0.15 ** 2, 1);
    return logLikelihood(z[0]!, z[1]!);
  };
  const sampled = await samplePosterior(2, told, { seed: 'bent', effectiveSize: 1000 });
  expect(sampled.converged).toBe(true);
  let [weight, sum, squares] = [0, 0, 0];
  const step = 0.01;
  for (let z1 = -6; z1 < 3; z1 += step) {
    let inner = 0;
    for (let z2 = -6; z2 < 1.3; z2 += step)
      inner += Math.exp(logLikelihood(z1, z2) - 0.5 * (z1 * z1 + z2 * z2));
    weight += inner;
    sum += z1 * inner;
    squares += z1 * z1 * inner;
  }
  const mean = sum / weight;
  const deviation = Math.sqrt(squares / weight - mean ** 2);
  const rows = sampled.chains.flat();
  const found = rows.reduce((total, row) => total + row[0]!, 0) / rows.length;
  expect(Math.abs(found - mean)).toBeLessThan(
    (MOST_ERRORS * deviation) / Math.sqrt(sampled.diagnostics[0]!.effectiveSize),
  );
});

test('two summits apart are both found, and get the weight that is theirs', async () => {
  // A square seen: z1 squared is 4, give or take 0.2, and z2 adds to z1 a little. By symmetry the summits at -2 and 2 weigh
  // the same, but that z1 + z2 = 1.5 was seen, give or take 2, favours one: weights by an integral on a grid.
  const logLikelihood = (z1: number, z2: number): number =>
    -0.5 * ((z1 * z1 - 4) / 0.2) ** 2 - 0.5 * ((z1 + z2 - 1.5) / 2) ** 2;
  const told = (z: Float64Array, figures?: Figures): number => {
    figures?.clear();
    figures?.addNormal(z[0]! * z[0]!, 0.2 ** 2, 1);
    figures?.addNormal(z[0]! + z[1]!, 4, 1);
    return logLikelihood(z[0]!, z[1]!);
  };
  const sampled = await samplePosterior(2, told, { seed: 'two summits', effectiveSize: 1000 });
  expect(sampled.converged).toBe(true);
  let [weight, right] = [0, 0];
  for (let z1 = -3; z1 < 3; z1 += 0.005) {
    for (let z2 = -6; z2 < 6; z2 += 0.05) {
      const each = Math.exp(logLikelihood(z1, z2) - 0.5 * (z1 * z1 + z2 * z2));
      weight += each;
      if (z1 > 0) right += each;
    }
  }
  const share = right / weight;
  const rows = sampled.chains.flat();
  const found = rows.filter((row) => row[0]! > 0).length / rows.length;
  const error = Math.sqrt((share * (1 - share)) / sampled.diagnostics[0]!.effectiveSize);
  expect(Math.abs(found - share)).toBeLessThan(MOST_ERRORS * error);
});

test('the same seed gives the same draws, another one others', async () => {
  const run = async (seed: string): Promise<number> =>
    (await samplePosterior(3, (z) => -2 * (z[0]! - z[1]!) ** 2, { seed })).chains[1]![17]![2]!;
  expect(await run('a')).toBe(await run('a'));
  expect(await run('a')).not.toBe(await run('b'));
});

test('too few draws are told as such', async () => {
  const sampled = await samplePosterior(8, (z) => -0.5 * ((z[0]! * z[1]! - 1) / 0.001) ** 2, {
    seed: 'few',
    mostDraws: 100,
  });
  expect(sampled.converged).toBe(false);
  expect(sampled.chains[0]!.length).toBe(100);
});

test('a signal stops the sampler', async () => {
  const stop = new AbortController();
  stop.abort();
  await expect(samplePosterior(2, () => 0, { seed: 'x', signal: stop.signal })).rejects.toThrow(
    CancelledError,
  );
});

describe('diagnostics', () => {
  const stream = openStream('diagnostics');
  const independent = Array.from({ length: 4 }, () =>
    Float64Array.from({ length: 1000 }, () => normalFromUniform(nextUniform(stream))),
  );

  test('independent draws count in full and agree', () => {
    const { rHat, effectiveSize } = diagnoseChains(independent);
    expect(rHat).toBeLessThan(1.01);
    expect(effectiveSize).toBeGreaterThan(3000);
    expect(effectiveSize).toBeLessThanOrEqual(4000);
  });

  test('draws that follow each other count as (1 - r) / (1 + r) of their number', () => {
    // Autoregression of order one with coefficient 0.9: standard time series result.
    const chains = independent.map((chain) => {
      let at = chain[0]!;
      return chain.map((fresh) => (at = 0.9 * at + Math.sqrt(1 - 0.81) * fresh));
    });
    const { effectiveSize } = diagnoseChains(chains);
    expect(effectiveSize / 4000).toBeGreaterThan((0.1 / 1.9) * 0.5);
    expect(effectiveSize / 4000).toBeLessThan((0.1 / 1.9) * 2);
  });

  test('a chain elsewhere, or of another width, is seen', () => {
    const shifted = independent.map((chain, c) => (c === 0 ? chain.map((value) => value + 1) : chain));
    expect(diagnoseChains(shifted).rHat).toBeGreaterThan(1.05);
    const wider = independent.map((chain, c) => (c === 0 ? chain.map((value) => 4 * value) : chain));
    expect(diagnoseChains(wider).rHat).toBeGreaterThan(1.05);
  });
});

test('eigenvalues and vectors put a matrix together again', () => {
  const matrix = Float64Array.of(4, 1, 0.5, 1, 3, -0.2, 0.5, -0.2, 1);
  const { values, vectors } = eigenParts(matrix, 3);
  const scaled = vectors.map((each, at) => each * values[Math.floor(at / 3)]!);
  const turned = Float64Array.from({ length: 9 }, (_, at) => vectors[(at % 3) * 3 + Math.floor(at / 3)]!);
  timesMatrix(turned, scaled, 3).forEach((each, at) => {
    expect(each).toBeCloseTo(matrix[at]!, 12);
  });
});

test('a place of the bent law is found again, and volumes are told', async () => {
  const density = (z: Float64Array, figures?: Figures): number => {
    const sum = Math.exp(z[0]!) + Math.exp(z[1]!) + 0.2 * z[2]!;
    figures?.clear();
    figures?.addNormal(sum, 0.05 ** 2, 1);
    return -0.5 * (z[0]! ** 2 + z[1]! ** 2 + z[2]! ** 2) - 0.5 * ((sum - 3) / 0.05) ** 2;
  };
  const breath = (): Promise<void> => Promise.resolve();
  const reference = new BentReference(
    await laplaceFit(density, await climb(density, new Float64Array(3), breath), breath),
  );
  await reference.bend(density, breath);
  const w = Float64Array.of(0.7, -1.3, 0.4);
  reference.locate(reference.place(w)).forEach((each, i) => {
    expect(each).toBeCloseTo(w[i]!, 9);
  });
  // Volume of scores per volume of the law: the determinant of the slopes of the place, by central differences.
  const volume = (at: Float64Array): number => {
    const h = 1e-6;
    const columns = [0, 1, 2].map((i) => {
      const [up, down] = [1, -1].map((sign) =>
        reference.place(at.map((each, k) => (k === i ? each + sign * h : each))),
      ) as [Float64Array, Float64Array];
      return up.map((each, k) => (each - down[k]!) / (2 * h));
    }) as [Float64Array, Float64Array, Float64Array];
    const [a, b, c] = columns;
    return Math.abs(
      a[0]! * (b[1]! * c[2]! - b[2]! * c[1]!) -
        a[1]! * (b[0]! * c[2]! - b[2]! * c[0]!) +
        a[2]! * (b[0]! * c[1]! - b[1]! * c[0]!),
    );
  };
  const origin = new Float64Array(3);
  const told = reference.logVolume(w) - reference.logVolume(origin);
  expect(Math.log(volume(w) / volume(origin))).toBeCloseTo(told, 5);
  expect(Math.abs(told)).toBeGreaterThan(0.01);
});

test('the event loop is let in, progress never falls, and a signal is heard at any time', async () => {
  const seen: number[] = [];
  const stop = new AbortController();
  const slow = (z: Float64Array): number => {
    const until = performance.now() + 2;
    while (performance.now() < until);
    return -2 * (z[0]! - z[1]!) ** 2;
  };
  const run = samplePosterior(6, slow, {
    seed: 'slow',
    signal: stop.signal,
    onProgress: (share) => {
      seen.push(share);
      if (seen.length === 3) stop.abort();
    },
  });
  // While the mode is still being looked for: a timer gets its turn long before the work is done.
  await new Promise((resolve) => setTimeout(resolve, 1));
  expect(seen.length).toBeLessThanOrEqual(3);
  await expect(run).rejects.toThrow(CancelledError);
  expect(seen).toEqual([...seen].sort((one, other) => one - other));
  expect(seen).toHaveLength(3);
  expect(seen.at(-1)!).toBeLessThan(0.2);
});

test('the fast normal law is that of the incomplete gamma function, to 1e-8 of the tail', () => {
  for (let z = -12; z <= 12; z += 0.037) {
    const tail = normalCdf(-Math.abs(z));
    expect(Math.abs(fastNormalCdf(-Math.abs(z)) / tail - 1)).toBeLessThan(1e-8);
    expect(fastNormalCdf(z)).toBeCloseTo(normalCdf(z), 8);
  }
});
