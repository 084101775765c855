import { describe, expect, test } from 'vitest';
import { simulate } from '../../dist/simulate/simulate.js';
import { firstOrderFromTrials } from '../../dist/sensitivity/trial-inputs.js';
import { mean, standardErrorOfMean } from '../../lib/estimate/moments.js';
import { firstOrderFromSample } from '../../lib/sensitivity/given-data.js';
import {
  weightedSum,
  ishigami,
  sobolG,
  tireLife,
  type KnownFunction,
} from '../../lib/sensitivity/known-functions.js';
import { openPoints } from '../../lib/sensitivity/sobol-points.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';

function sample({ inputs, value }: KnownFunction, trials: number, seed: string) {
  const points = openPoints('random', inputs.length, seed);
  const point = new Float64Array(inputs.length);
  const columns = inputs.map((name) => ({ name, values: new Float64Array(trials) }));
  const figure = Float64Array.from({ length: trials }, (_, row) => {
    points.next(point);
    columns.forEach(({ values }, k) => (values[row] = point[k]!));
    return value(point);
  });
  return { columns, figure };
}

describe('first-order effects from a sample', () => {
  // What 40 classes hide, 1 % of sin^2 over two periods, is told from 20 of them. Errors beyond 4.5 jackknife errors: false alarm 1 in 10 000 and
  // less (Student's t, 19 degrees of freedom).
  test.each([[ishigami()], [weightedSum()], [tireLife()]])('of %# agree with the exact ones', (known) => {
    const { columns, figure } = sample(known, 6400, known.name);
    const { effects, noiseFloor } = firstOrderFromSample(columns, figure, { level: 0.9999 });
    effects.forEach(({ firstOrder }, k) => {
      expect(firstOrder.lower).toBeLessThanOrEqual(known.firstOrder[k]! + 0.001);
      expect(firstOrder.upper).toBeGreaterThanOrEqual(known.firstOrder[k]! * 0.97);
    });
    expect(noiseFloor).toBeLessThan(0.01);
  });

  test('dummies stay below the noise floor nineteen times in twenty', () => {
    const dummies = weightedSum([1, ...new Array<number>(200).fill(0)]);
    const { columns, figure } = sample(dummies, 400, 'dummies');
    const { effects, noiseFloor } = firstOrderFromSample(columns, figure);
    const above = effects.slice(1).filter(({ firstOrder }) => firstOrder.unclipped > noiseFloor).length;
    // Binomial (200, 0.05): mean 10, deviation 3.1; the floor itself is from 400 shuffles, which adds 2.2.
    expect(Math.abs(above - 10)).toBeLessThan(3.9 * Math.hypot(3.1, 2.2));
    expect(
      effects.slice(1).every(({ firstOrder }) => firstOrder.lower === 0 || firstOrder.unclipped > noiseFloor),
    ).toBe(true);
  });

  test('do not change when an input is relabelled, and go along when inputs change places', () => {
    const { columns, figure } = sample(ishigami(), 500, 'relabelled');
    const plain = firstOrderFromSample(columns, figure).effects;
    const relabelled = columns.map(({ name, values }) => ({
      name,
      values: values.map((x) => Math.exp(9 * x)),
    }));
    expect(firstOrderFromSample(relabelled, figure).effects).toEqual(plain);
    expect(firstOrderFromSample([...columns].reverse(), figure).effects).toEqual([...plain].reverse());
  });

  // 95 % intervals held 92 to 100 % of the exact effects over 200 other seeds; less 3.7 binomial errors of 100 seeds: 0.82.
  test.each([
    ['Ishigami', 400, ishigami()],
    ['G', 400, sobolG([0, 1, 4.5, 9])],
    ['tire life', 400, tireLife()],
    ['a sum', 400, weightedSum([3, 1])],
  ] as const)('of %s from %i trials lie in their intervals, without bias', (name, trials, known) => {
    const seeds = 100;
    const found = Array.from({ length: seeds }, (_, seed) => {
      const { columns, figure } = sample(known, trials, `cover ${name} ${seed}`);
      return firstOrderFromSample(columns, figure).effects;
    });
    known.firstOrder.forEach((exact, k) => {
      const indices = found.map((effects) => effects[k]!.firstOrder);
      const held = indices.filter(({ lower, upper }) => lower <= exact && exact <= upper).length;
      expect(held / seeds).toBeGreaterThanOrEqual(0.82);
      const estimates = indices.map(({ unclipped }) => unclipped);
      // 4 errors of the mean, and what classes may still hide of a steep tail: a twentieth of the effect.
      expect(Math.abs(mean(estimates) - exact)).toBeLessThan(4 * standardErrorOfMean(estimates) + exact / 20);
    });
  });

  test('in another unit of the figure are the same', () => {
    const { columns, figure } = sample(ishigami(), 400, 'unit');
    const plain = firstOrderFromSample(columns, figure);
    const scaled = (factor: number) =>
      firstOrderFromSample(
        columns,
        figure.map((value) => factor * value),
      );
    // Powers of two to the bit; money in hundredths to rounding.
    expect(scaled(256)).toEqual(plain);
    scaled(100).effects.forEach(({ firstOrder, verdict }, k) => {
      expect(firstOrder.unclipped).toBeCloseTo(plain.effects[k]!.firstOrder.unclipped, 10);
      expect(firstOrder.upper).toBeCloseTo(plain.effects[k]!.firstOrder.upper, 10);
      expect(verdict.kind).toBe(plain.effects[k]!.verdict.kind);
    });
  });

  test('bad input is refused', () => {
    const { columns, figure } = sample(weightedSum(), 120, 'bad');
    expect(() => firstOrderFromSample(columns, figure.subarray(0, 50))).toThrow('at least 100');
    expect(() => firstOrderFromSample([{ name: 'x', values: [1] }], figure)).toThrow('"x" has 1 values');
    expect(() => firstOrderFromSample(columns, figure, { level: 1 })).toThrow('level is 1');
  });
});

describe('first-order effects from trials', () => {
  const doubt = (p10: string, p90: string) => ({ distribution: 'lognormal', p10, p90, source: 'test' });

  test('find the wear of a quiet scenario, with nothing run again', async () => {
    const scenario = quietScenario({
      surfaces: { plain: { wearFactor: doubt('0.7', '1.4') } },
      assumptions: { abradability: doubt('0.08 mm3/J', '0.14 mm3/J') },
      season: { months: [{ month: 'July', landings: '100', flightHours: '100 h', temperature: '15 degC' }] },
      tires: { plain: { newTread: '3 mm' } },
      habits: { pivotChance: fixed('0 %') },
    });
    const simulation = await simulate(scenario, { trials: 1600, workers: 1 });
    const options = { setup: 'only', mix: 'only', figure: 'life', level: 0.9999 } as const;
    const { effects } = firstOrderFromTrials(scenario, simulation, options);
    const exact = tireLife([
      { name: 'assumptions.abradability', p10: 0.08, p90: 0.14, power: -1 },
      { name: 'surfaces.plain.wearFactor', p10: 0.7, p90: 1.4, power: -1 },
    ]);
    exact.inputs.forEach((path, k) => {
      const { firstOrder } = effects.find(({ input }) => input === path)!;
      expect(firstOrder.lower).toBeLessThanOrEqual(exact.firstOrder[k]!);
      // 20 classes of a normal score hide some two per cent.
      expect(firstOrder.upper).toBeGreaterThanOrEqual(exact.firstOrder[k]! * 0.96);
    });
  });

  test('refuse what was not run', async () => {
    const scenario = shippedScenario('first');
    const simulation = await simulate(scenario, {
      trials: 100,
      workers: 1,
      pairings: [{ setup: 0, mix: 0 }],
    });
    const options = { setup: 'soft 9 psi', mix: 'half rough', figure: 'flats' } as const;
    expect(firstOrderFromTrials(scenario, simulation, options).effects).toHaveLength(81);
    expect(() => firstOrderFromTrials(scenario, simulation, { ...options, setup: 'rigid 25 psi' })).toThrow(
      'no set-up in the run named',
    );
    expect(() => firstOrderFromTrials({ ...scenario, seed: 'other' }, simulation, options)).toThrow('seed');
  });
});
