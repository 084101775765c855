/** Functions whose sensitivity indices are known exactly: yardsticks for any estimate of them. */
import { exp, log } from '../numeric/elementary.js';
import { standardNormalQuantile } from '../numeric/normal.js';
import { UsageError } from '../problems.js';

/** A function of inputs that are independent and uniform on (0, 1), with its exact moments and indices. */
export interface KnownFunction {
  readonly name: string;
  /** In words: the function, and how its indices are worked out. */
  readonly formula: string;
  readonly source: string;
  readonly inputs: readonly string[];
  /** The function; reads one number between 0 and 1 per input. */
  readonly value: (point: ArrayLike<number>) => number;
  readonly mean: number;
  readonly variance: number;
  /** Share of the variance that goes when the input is known, one per input. */
  readonly firstOrder: readonly number[];
  /** Share of the variance that stays when all others are known, one per input. */
  readonly total: readonly number[];
}

const PI_4 = Math.PI ** 4;

/**
 * The Ishigami function, sin x1 + a sin^2 x2 + b x3^4 sin x1, each x uniform on (-pi, pi): x3 matters only through x1.
 *
 * @param a default 7.
 * @param b default 0.1.
 * @returns the function with exact values. It uses Math.sin, whose last bits may differ between engines.
 * Source: Ishigami and Homma (1990), from memory; variance parts as in OpenTURNS and SALib.
 * @example
 * import { ishigami } from 'gravelbar';
 * ishigami().total.map((index) => index.toFixed(4)); // => ['0.5576', '0.4424', '0.2437']
 */
export function ishigami(a = 7, b = 0.1): KnownFunction {
  requireFinite({ a, b });
  const variance = (a * a) / 8 + (b * PI_4) / 5 + (b * b * PI_4 * PI_4) / 18 + 0.5;
  const first = (1 + (b * PI_4) / 5) ** 2 / 2;
  const second = (a * a) / 8;
  const both = b * b * PI_4 * PI_4 * (1 / 18 - 1 / 50);
  return {
    name: 'Ishigami',
    formula: 'sin x1 + a sin^2 x2 + b x3^4 sin x1; integrals of powers of sines',
    source: 'Ishigami and Homma (1990), from memory',
    inputs: ['x1', 'x2', 'x3'],
    value: (point) => {
      const [x1, x2, x3] = [0, 1, 2].map((index) => Math.PI * (2 * point[index]! - 1)) as [
        number,
        number,
        number,
      ];
      return Math.sin(x1) * (1 + b * x3 ** 4) + a * Math.sin(x2) ** 2;
    },
    mean: a / 2,
    variance,
    firstOrder: [first / variance, second / variance, 0],
    total: [(first + both) / variance, second / variance, both / variance],
  };
}

/**
 * Sobol's G function: the product of (|4 x - 2| + a) / (1 + a).
 *
 * @param weights a of each input, 0 or more: 0 matters most, 99 hardly.
 * @throws UsageError for no weights or one below 0.
 * Source: Saltelli and Sobol' (1995), from memory; indices as in SALib.
 */
export function sobolG(weights: readonly number[] = [0, 1, 4.5, 9, 99, 99, 99, 99]): KnownFunction {
  if (weights.length === 0 || !weights.every((weight) => weight >= 0 && weight < Infinity)) {
    throw new UsageError('the weights of the G function must be finite numbers of 0 or more, at least one');
  }
  return product(
    {
      name: "Sobol's G",
      formula: 'product of (|4 x - 2| + a) / (1 + a); each factor has mean 1 and variance 1 / (3 (1 + a)^2)',
      source: "Saltelli and Sobol' (1995), from memory",
      inputs: weights.map((_, index) => `x${index + 1}`),
      value: (point) =>
        weights.reduce((all, a, index) => (all * (Math.abs(4 * point[index]! - 2) + a)) / (1 + a), 1),
    },
    1,
    weights.map((a) => 1 / (3 * (1 + a) ** 2)),
  );
}

/**
 * A weighted sum of uniform numbers: first-order and total indices are equal.
 *
 * @param weights factor of each input; an input of weight 0 is a dummy.
 * @throws UsageError when all are 0 or one is not finite.
 */
export function weightedSum(weights: readonly number[] = [4, 2, 1, 0]): KnownFunction {
  if (!weights.every(Number.isFinite) || !weights.some((weight) => weight !== 0)) {
    throw new UsageError('the weights of a sum must be finite numbers, not all of them 0');
  }
  const variances = weights.map((weight) => (weight * weight) / 12);
  const variance = variances.reduce((sum, part) => sum + part, 0);
  const shares = variances.map((part) => part / variance);
  return {
    name: 'additive',
    formula: 'sum of w x; each part has variance w^2 / 12',
    source: 'variance of a sum of independent numbers',
    inputs: weights.map((_, index) => `x${index + 1}`),
    value: (point) => weights.reduce((sum, weight, index) => sum + weight * point[index]!, 0),
    mean: weights.reduce((sum, weight) => sum + weight / 2, 0),
    variance,
    firstOrder: shares,
    total: shares,
  };
}

/** One assumption of {@link tireLife}: lognormal, by its tenth and ninetieth percentile. */
export interface TireLifeInput {
  readonly name: string;
  readonly p10: number;
  readonly p90: number;
  /** 1 where more of it makes tires last longer, -1 where it shortens their life. */
  readonly power: 1 | -1;
}

const TIRE_LIFE_INPUTS: readonly TireLifeInput[] = [
  { name: 'groove depth worn off, mm', p10: 6, p90: 8, power: 1 },
  { name: 'abradability, mm3/J', p10: 0.07, p90: 0.14, power: -1 },
  { name: 'wear factor of the surface', p10: 1.2, p90: 3, power: -1 },
  { name: 'slip work of a landing over rubber area, J/mm2', p10: 0.3, p90: 0.4, power: -1 },
];

/**
 * A tire problem with a closed form: life in landings is groove depth over the product of abradability, surface factor
 * and slip work per area, all lognormal and independent. Its variance in landings is known exactly.
 *
 * @param inputs default: invented but plausible ranges.
 * @throws UsageError for percentiles that are not 0 < p10 < p90.
 * Source: own algebra, from the moments of a lognormal number.
 */
export function tireLife(inputs: readonly TireLifeInput[] = TIRE_LIFE_INPUTS): KnownFunction {
  const wrong = inputs.find(({ p10, p90 }) => !(p10 > 0 && p90 > p10 && p90 < Infinity));
  if (inputs.length === 0 || wrong !== undefined) {
    throw new UsageError(
      `${wrong === undefined ? 'there are no inputs' : `"${wrong.name}" goes from ${wrong.p10} to ${wrong.p90}`}; each needs 0 < p10 < p90`,
    );
  }
  const logs = inputs.map(({ p10, p90, power }) => ({
    median: power * 0.5 * (log(p10) + log(p90)),
    deviation: log(p90 / p10) / (2 * standardNormalQuantile(0.9)),
    power,
  }));
  const mean = exp(
    logs.reduce((sum, { median, deviation }) => sum + median + 0.5 * deviation * deviation, 0),
  );
  return product(
    {
      name: 'tire life',
      formula:
        'groove depth over wear per landing, a product of lognormal factors: each has relative variance exp(sigma^2) - 1',
      source: 'own algebra, from the moments of a lognormal number',
      inputs: inputs.map(({ name }) => name),
      value: (point) =>
        exp(
          logs.reduce(
            (sum, { median, deviation, power }, index) =>
              sum + median + power * deviation * standardNormalQuantile(point[index]!),
            0,
          ),
        ),
    },
    mean,
    logs.map(({ deviation }) => exp(deviation * deviation) - 1),
  );
}

/**
 * A tire problem with luck as an input: landings to the first puncture where nothing wears, an exponential number over
 * a lognormal hazard. The first input is the luck of the landings, the second the density of sharp stones.
 *
 * @param p10 hazard of a puncture in a landing on any wheel, tenth percentile, above 0.
 * @param p90 ninetieth percentile, above p10.
 * @throws UsageError for percentiles that are not 0 < p10 < p90.
 * Source: own algebra; an exponential number has relative variance 1.
 */
export function punctureLife(p10 = 0.004, p90 = 0.03): KnownFunction {
  const stones = tireLife([{ name: 'density of sharp stones', p10, p90, power: -1 }]);
  const stonesVariance = stones.variance / (stones.mean * stones.mean);
  return product(
    {
      name: 'landings to the first puncture',
      formula: 'an exponential number over a lognormal hazard: relative variances 1 and exp(sigma^2) - 1',
      source: 'own algebra, from the moments of exponential and lognormal numbers',
      inputs: ['landing luck', ...stones.inputs],
      value: (point) => -log(1 - point[0]!) * stones.value([point[1]!]),
    },
    stones.mean,
    [1, stonesVariance],
  );
}

/** Indices of a product of independent factors from their relative variances. */
function product(
  about: Pick<KnownFunction, 'name' | 'formula' | 'source' | 'inputs' | 'value'>,
  mean: number,
  relativeVariances: readonly number[],
): KnownFunction {
  const all = relativeVariances.reduce((factor, part) => factor * (1 + part), 1);
  return {
    ...about,
    mean,
    variance: mean * mean * (all - 1),
    firstOrder: relativeVariances.map((part) => part / (all - 1)),
    total: relativeVariances.map((part) => (part * all) / (1 + part) / (all - 1)),
  };
}

function requireFinite(numbers: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(numbers)) {
    if (!Number.isFinite(value)) throw new UsageError(`${name} is ${value}; it must be a finite number`);
  }
}
