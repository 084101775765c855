import seedrandom from 'seedrandom';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { estimateChance, estimateRate } from '../../lib/estimate/martingale.js';
import { clopperPearsonInterval, wilsonInterval } from '../../lib/estimate/proportion.js';
import { garwoodInterval } from '../../lib/estimate/poisson-rate.js';

type Random = () => number;

/** One trial: events counted, hazard accumulated, exposure. */
interface Trial {
  readonly count: number;
  readonly hazard: number;
  readonly exposure: number;
}

function run(
  trials: number,
  draw: (random: Random) => Trial,
  random: Random,
): {
  counted: Int32Array;
  hazard: Float64Array;
  exposure: Float64Array;
} {
  const counted = new Int32Array(trials);
  const hazard = new Float64Array(trials);
  const exposure = new Float64Array(trials);
  for (let i = 0; i < trials; i += 1) {
    const trial = draw(random);
    counted[i] = trial.count;
    hazard[i] = trial.hazard;
    exposure[i] = trial.exposure;
  }
  return { counted, hazard, exposure };
}

/**
 * A world whose event rate per unit time is exponential with mean 1 / b, lived for a time of 1.
 * Closed form: P(event) = 1 - E[exp(-rate)] = 1 / (1 + b).
 */
function worldOfUnknownRate(b: number): (random: Random) => Trial {
  return (random) => {
    const rate = -Math.log(1 - random()) / b;
    const eventTime = -Math.log(1 - random()) / rate;
    return { count: eventTime <= 1 ? 1 : 0, hazard: rate * Math.min(eventTime, 1), exposure: 1 };
  };
}

/**
 * Landing by landing, with a chance per landing that is uniform on [0, highest] and the same in every landing of a
 * world; the event ends the trial. Closed form: 1 - (1 - (1 - highest)^(n + 1)) / (highest (n + 1)).
 */
function landings(count: number, highest: number): (random: Random) => Trial {
  return (random) => {
    const chance = highest * random();
    let hazard = 0;
    for (let landing = 1; landing <= count; landing += 1) {
      hazard += chance;
      if (random() < chance) return { count: 1, hazard, exposure: landing };
    }
    return { count: 0, hazard, exposure: count };
  };
}

const chanceOfLandings = (count: number, highest: number): number =>
  1 - (1 - (1 - highest) ** (count + 1)) / (highest * (count + 1));

interface Coverage {
  readonly covered: number;
  readonly bias: number;
  readonly spread: number;
  readonly claimedError: number;
}

/** Repeats an estimate and reports how it fared against the truth. */
function study(
  name: string,
  repeats: number,
  truth: number,
  estimate: (random: Random) => { estimate: number; lower: number; upper: number; standardError: number },
): Coverage {
  const random = seedrandom.alea(name);
  let covered = 0;
  let sum = 0;
  let squares = 0;
  let claimed = 0;
  for (let repeat = 0; repeat < repeats; repeat += 1) {
    const found = estimate(() => random.double());
    if (found.lower <= truth && truth <= found.upper) covered += 1;
    sum += found.estimate - truth;
    squares += (found.estimate - truth) ** 2;
    claimed += found.standardError / repeats;
  }
  const bias = sum / repeats;
  return {
    covered: covered / repeats,
    bias,
    spread: Math.sqrt(squares / repeats - bias * bias),
    claimedError: claimed,
  };
}

/**
 * Every study: 400 repeats. Bias within 4 standard errors of its mean (false alarm rate 6e-5); share covered by
 * the 95 % interval within 4 binomial standard errors (4.4 %; false alarm rate 6e-5) and 1 % for the asymptotics.
 */
const REPEATS = 400;
const COVERAGE_SLACK = 4 * Math.sqrt((0.95 * 0.05) / REPEATS) + 0.01;

function expectSound(found: Coverage): void {
  expect(Math.abs(found.bias)).toBeLessThan((4 * found.spread) / Math.sqrt(REPEATS));
  expect(Math.abs(found.covered - 0.95)).toBeLessThan(COVERAGE_SLACK);
  // The error claimed is the error made; a standard deviation from 400 repeats is known to 3.5 %, 4 of those.
  expect(Math.abs(found.claimedError / found.spread - 1)).toBeLessThan(0.14);
}

describe('chance of an event', () => {
  test.each([
    ['rare: 1 in 1001', 1000, 1000],
    ['rare: 1 in 10001, less than one event expected per run', 10_000, 1000],
    ['common: 1 in 4', 3, 400],
    ['mostly: 10 in 11', 0.1, 400],
  ])('unknown rate, %s: unbiased, interval honest', (name, b, trials) => {
    const draw = worldOfUnknownRate(b);
    const found = study(name, REPEATS, 1 / (1 + b), (random) => {
      const { counted, hazard } = run(trials, draw, random);
      return estimateChance(counted, hazard);
    });
    expectSound(found);
  });

  test.each([
    ['rare landings', 40, 1e-4, 500],
    ['frequent landings', 10, 0.3, 300],
  ])('landing by landing, %s: unbiased, interval honest', (name, count, highest, trials) => {
    const found = study(name, REPEATS, chanceOfLandings(count, highest), (random) => {
      const { counted, hazard } = run(trials, landings(count, highest), random);
      return estimateChance(counted, hazard);
    });
    expectSound(found);
  });

  test('where few worlds carry most of the hazard, the interval covers about 90 %, as documented', () => {
    // Log-normal hazards, median 0.001, log standard deviation 2. Truth: E[1 - exp(-hazard)] by a fine sum.
    let truth = 0;
    let weight = 0;
    for (let z = -9; z <= 9; z += 0.001) {
      const density = Math.exp((-z * z) / 2);
      truth -= density * Math.expm1(-1e-3 * Math.exp(2 * z));
      weight += density;
    }
    truth /= weight;
    const found = study('heavy tail', REPEATS, truth, (random) => {
      const { counted, hazard } = run(
        1000,
        () => {
          const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
          const total = 1e-3 * Math.exp(2 * normal);
          const eventAt = -Math.log(1 - random());
          return { count: eventAt <= total ? 1 : 0, hazard: Math.min(eventAt, total), exposure: 1 };
        },
        random,
      );
      return estimateChance(counted, hazard);
    });
    expect(Math.abs(found.bias)).toBeLessThan((4 * found.spread) / Math.sqrt(REPEATS));
    // 4 binomial standard errors at 90 %: 6 %.
    expect(found.covered).toBeGreaterThan(0.9 - 0.06);
    expect((truth * (1 - truth)) / 1000 / found.spread ** 2).toBeGreaterThan(2);
  });

  test('where events are rare it is worth more than a hundred times the trials of counting', () => {
    const truth = 1 / 1001;
    const found = study('variance ratio', REPEATS, truth, (random) => {
      const { counted, hazard } = run(1000, worldOfUnknownRate(1000), random);
      return estimateChance(counted, hazard);
    });
    const countingVariance = (truth * (1 - truth)) / 1000;
    expect(countingVariance / found.spread ** 2).toBeGreaterThan(100);
  });

  test('where events are common it is still no worse than counting', () => {
    for (const [b, least] of [
      [3, 1.5],
      [0.1, 1],
    ] as const) {
      const truth = 1 / (1 + b);
      const found = study(`variance ratio ${b}`, REPEATS, truth, (random) => {
        const { counted, hazard } = run(500, worldOfUnknownRate(b), random);
        return estimateChance(counted, hazard);
      });
      expect((truth * (1 - truth)) / 500 / found.spread ** 2).toBeGreaterThan(least);
    }
  });

  test('no event and some hazard: the estimate is the mean hazard but for its own square, not 0', () => {
    const found = estimateChance(new Uint8Array(1000), new Float64Array(1000).fill(1e-3));
    // Exact chance 1 - exp(-0.001) = 0.00099950; the mean hazard alone is 0.001.
    expect(found.estimate).toBeCloseTo(1 - Math.exp(-1e-3), 9);
    expect(found.lower).toBeLessThan(1 - Math.exp(-1e-3));
    expect(found.upper).toBeGreaterThan(1 - Math.exp(-1e-3));
    expect(found.upper - found.lower).toBeGreaterThan(0);
    expect(found.counted.estimate).toBe(0);
    expect(found.counted.upper).toBe(wilsonInterval(0, 1000).upper);
  });

  test('no event and no hazard: 0 with the exact upper bound for none of n', () => {
    const found = estimateChance(new Uint8Array(200), new Float64Array(200));
    expect([found.estimate, found.lower, found.standardError, found.controlCoefficient]).toEqual([
      0, 0, 0, 1,
    ]);
    expect(found.upper).toBe(clopperPearsonInterval(0, 200).upper);
  });

  test('the event in every trial: the count decides, and the lower bound stays below 1', () => {
    const draw = worldOfUnknownRate(1e-4);
    const { counted, hazard } = run(50, draw, seedrandom.alea('certain'));
    expect(counted.every((count) => count === 1)).toBe(true);
    const found = estimateChance(counted, hazard);
    expect(found.upper).toBeLessThanOrEqual(1);
    expect(found.lower).toBeLessThan(1);
    expect(found.estimate).toBeGreaterThan(0.95);
  });
});

describe('rate of an event', () => {
  /** Rate known per world (gamma, shape 2, mean 2 / b); later events may follow; exposure uniform on [0.5, 1.5]. */
  const repeating =
    (b: number) =>
    (random: Random): Trial => {
      const rate = -Math.log((1 - random()) * (1 - random())) / b;
      const exposure = 0.5 + random();
      let count = -1;
      for (let time = 0; time <= exposure; count += 1) time += -Math.log(1 - random()) / rate;
      return { count, hazard: rate * exposure, exposure };
    };

  test.each([
    ['rare repeats', 2000, 500],
    ['frequent repeats', 0.5, 300],
  ])('%s: unbiased, interval honest, and better than counting', (name, b, trials) => {
    const truth = 2 / b;
    let countedSquares = 0;
    const found = study(name, REPEATS, truth, (random) => {
      const { counted, hazard, exposure } = run(trials, repeating(b), random);
      const estimate = estimateRate(counted, hazard, exposure);
      countedSquares += (estimate.counted.estimate - truth) ** 2 / REPEATS;
      return estimate;
    });
    expectSound(found);
    expect(countedSquares / found.spread ** 2).toBeGreaterThan(1.1);
  });

  test('an event that ends its trial: the rate per landing is that of events over landings flown', () => {
    // Chance per landing uniform on [0, h] by world, n landings at most. With q = (1 - h)^(n + 1),
    // E[landings] = E[(1 - (1 - p)^n) / p], summed here landing by landing.
    const n = 20;
    const highest = 0.02;
    let expectedLandings = 0;
    for (let flown = 0; flown < n; flown += 1) {
      expectedLandings += (1 - (1 - highest) ** (flown + 1)) / (highest * (flown + 1));
    }
    const truth = chanceOfLandings(n, highest) / expectedLandings;
    const found = study('ending rate', REPEATS, truth, (random) => {
      const { counted, hazard, exposure } = run(400, landings(n, highest), random);
      return estimateRate(counted, hazard, exposure);
    });
    expectSound(found);
  });

  test('no event and no hazard: 0 with the bound of Garwood; the interval never reaches 0 otherwise', () => {
    const nothing = estimateRate(new Int32Array(10), new Float64Array(10), 100);
    expect([nothing.estimate, nothing.lower]).toEqual([0, 0]);
    expect(nothing.upper).toBe(garwoodInterval(0, 1000).upper);
    const little = estimateRate(new Int32Array(3), Float64Array.of(0, 0, 1e-9), 100);
    expect(little.estimate).toBeCloseTo(1e-9 / 300, 20);
    expect(little.lower).toBeGreaterThan(0);
    expect(little.lower).toBeLessThan(little.estimate);
  });

  test('a rate that is the same for all trials is found without error, however exposures differ', () => {
    const exposure = Float64Array.from({ length: 50 }, (_, i) => 1 + (i % 7));
    const hazard = exposure.map((value) => 0.02 * value);
    const counted = Uint8Array.from({ length: 50 }, (_, i) => (i % 25 === 0 ? 1 : 0));
    const found = estimateRate(counted, hazard, exposure);
    expect(found.estimate).toBeCloseTo(0.02, 14);
    expect(found.upper / found.lower).toBeCloseTo(1, 10);
  });

  test('one exposure for all is the same as a column of equal exposures, and its unit only rescales', () => {
    const { counted, hazard } = run(200, repeating(1), seedrandom.alea('units'));
    const one = estimateRate(counted, hazard, 50);
    expect(estimateRate(counted, hazard, new Float64Array(200).fill(50))).toEqual(one);
    const hundreds = estimateRate(counted, hazard, 0.5);
    expect(hundreds.estimate / 100).toBeCloseTo(one.estimate, 12);
    expect(hundreds.upper / 100).toBeCloseTo(one.upper, 12);
    expect(hundreds.controlCoefficient).toBeCloseTo(one.controlCoefficient, 12);
  });
});

describe('laws', () => {
  const trials = fc.array(
    fc.tuple(fc.boolean(), fc.oneof(fc.constant(0), fc.double({ min: 1e-12, max: 3, noNaN: true }))),
    { minLength: 2, maxLength: 50 },
  );
  const settings = { seed: 20_240_609, numRuns: 400 };
  const columns = (data: readonly (readonly [boolean, number])[]): [Uint8Array, Float64Array] => [
    Uint8Array.from(data, ([event, hazard]) => (event && hazard > 0 ? 1 : 0)),
    Float64Array.from(data, ([, hazard]) => hazard),
  ];

  test('0 <= lower <= chance <= upper <= 1 whatever the columns, and the interval never closes', () => {
    fc.assert(
      fc.property(trials, (data) => {
        const found = estimateChance(...columns(data));
        expect(found.lower).toBeGreaterThanOrEqual(0);
        expect(found.lower).toBeLessThanOrEqual(found.estimate);
        expect(found.upper).toBeGreaterThanOrEqual(found.estimate);
        expect(found.upper).toBeLessThanOrEqual(1);
        expect(found.upper).toBeGreaterThan(found.lower);
        expect(found.controlCoefficient).toBeGreaterThanOrEqual(0);
        expect(found.controlCoefficient).toBeLessThanOrEqual(1);
      }),
      settings,
    );
  });

  test('0 <= lower <= rate <= upper, and the rate lies between the count and the hazard', () => {
    fc.assert(
      fc.property(trials, (data) => {
        const [counted, hazard] = columns(data);
        const found = estimateRate(counted, hazard, 2);
        const fromHazard = hazard.reduce((sum, value) => sum + value, 0) / (2 * counted.length);
        const ends = [found.counted.estimate, fromHazard].sort((a, b) => a - b) as [number, number];
        expect(found.estimate).toBeGreaterThanOrEqual(ends[0] - 1e-12);
        expect(found.estimate).toBeLessThanOrEqual(ends[1] + 1e-12);
        expect(found.lower).toBeGreaterThanOrEqual(0);
        expect(found.lower).toBeLessThanOrEqual(found.estimate);
        expect(found.upper).toBeGreaterThanOrEqual(found.estimate);
      }),
      settings,
    );
  });

  test('the order of the trials does not matter', () => {
    fc.assert(
      fc.property(trials, (data) => {
        const found = estimateChance(...columns(data));
        const other = estimateChance(...columns([...data].reverse()));
        expect(other.estimate).toBeCloseTo(found.estimate, 12);
        expect(other.standardError).toBeCloseTo(found.standardError, 12);
      }),
      settings,
    );
  });
});

test('columns that cannot be are refused by place and value', () => {
  const hazard = Float64Array.of(0.1, 0.2);
  expect(() => estimateChance(Uint8Array.of(1), hazard)).toThrow(/at least 2 trials; found 1/);
  expect(() => estimateChance(Uint8Array.of(1, 0, 0), hazard)).toThrow(/equally long; found 3 and 2/);
  expect(() => estimateChance(Uint8Array.of(0, 2), hazard)).toThrow(/^counted\[1\].*from 0 to 1; found 2/);
  expect(() => estimateChance(Uint8Array.of(0, 0), Float64Array.of(0, -1))).toThrow(/^hazard\[1\].*found -1/);
  expect(() => estimateChance(Uint8Array.of(0, 0), Float64Array.of(0, NaN))).toThrow(/^hazard\[1\]/);
  expect(() => estimateChance(Uint8Array.of(1, 0), Float64Array.of(0, 1))).toThrow(
    /^hazard\[0\] must be above 0/,
  );
  expect(() => estimateChance(Uint8Array.of(0, 0), hazard, { level: 2 })).toThrow(/^level/);
  expect(() => estimateRate(Uint8Array.of(0, 0), hazard, Float64Array.of(1))).toThrow(
    /^exposure must be as long/,
  );
  expect(() => estimateRate(Uint8Array.of(0, 0), hazard, -1)).toThrow(
    /^exposure must be 0 or more; found -1/,
  );
  expect(() => estimateRate(Uint8Array.of(0, 0), hazard, 0)).toThrow(/^exposure must add/);
});
