import seedrandom from 'seedrandom';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { kaplanMeier, survivalAt, survivalQuantile } from '../../lib/estimate/kaplan-meier.js';
import { clopperPearsonInterval } from '../../lib/estimate/proportion.js';

const settings = { seed: 20_240_602, numRuns: 200 };
const records = fc.array(fc.tuple(fc.integer({ min: 0, max: 30 }), fc.boolean()), {
  minLength: 1,
  maxLength: 80,
});

function columns(data: readonly (readonly [number, boolean])[], unit = 1): [Float64Array, Uint8Array] {
  return [
    Float64Array.from(data, ([time]) => time * unit),
    Uint8Array.from(data, ([, ended]) => (ended ? 1 : 0)),
  ];
}

/** Product-limit estimate straight from its definition, O(n^2). */
function bruteForce(times: Float64Array, ended: Uint8Array, at: number): number {
  let survival = 1;
  for (const time of new Set(times)) {
    if (time > at) continue;
    const atRisk = times.filter((other) => other >= time).length;
    const ends = times.filter((other, i) => other === time && ended[i] === 1).length;
    survival *= 1 - ends / atRisk;
  }
  return survival;
}

describe('laws', () => {
  test('0 <= lower <= survival <= upper <= 1, survival never rises, and no band has zero width', () => {
    fc.assert(
      fc.property(records, (data) => {
        const curve = kaplanMeier(...columns(data));
        let before = 1;
        for (let row = 0; row < curve.time.length; row += 1) {
          const survival = curve.survival[row]!;
          expect(curve.lower[row]).toBeGreaterThanOrEqual(0);
          expect(curve.lower[row]).toBeLessThanOrEqual(survival);
          expect(curve.upper[row]).toBeGreaterThanOrEqual(survival);
          expect(curve.upper[row]).toBeLessThanOrEqual(1);
          expect(curve.upper[row]! - curve.lower[row]!).toBeGreaterThan(0);
          expect(survival).toBeLessThan(before);
          before = survival;
        }
      }),
      settings,
    );
  });

  test('it is the product over end times of one minus ended over running', () => {
    fc.assert(
      fc.property(records, (data) => {
        const [times, ended] = columns(data);
        const curve = kaplanMeier(times, ended);
        curve.time.forEach((time, row) => {
          expect(curve.survival[row]).toBeCloseTo(bruteForce(times, ended, time), 12);
        });
      }),
      settings,
    );
  });

  test('order of the records and unit of the lives change nothing else', () => {
    fc.assert(
      fc.property(records, (data) => {
        const curve = kaplanMeier(...columns(data));
        // An eighth of a unit forces the path for lives that are not whole numbers; it is exact in binary.
        const other = kaplanMeier(...columns([...data].reverse(), 0.125));
        expect(other.survival).toEqual(curve.survival);
        expect(other.standardError).toEqual(curve.standardError);
        expect(other.atRisk).toEqual(curve.atRisk);
        expect(other.time).toEqual(curve.time.map((time) => time * 0.125));
        expect(other.lastTime).toBe(curve.lastTime * 0.125);
        expect(other.lastAtRisk).toBe(curve.lastAtRisk);
        expect(survivalQuantile(other, 0.5).estimate ?? NaN).toBe(
          (survivalQuantile(curve, 0.5).estimate ?? NaN) * 0.125,
        );
      }),
      settings,
    );
  });

  test('without censoring the error is that of a plain share, sqrt(S (1 - S) / n)', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 30 }), { minLength: 1, maxLength: 60 }), (lives) => {
        const curve = kaplanMeier(Int32Array.from(lives), new Uint8Array(lives.length).fill(1));
        curve.survival.forEach((survival, row) => {
          const plain = Math.sqrt((survival * (1 - survival)) / lives.length);
          expect(curve.standardError[row]).toBeCloseTo(plain, 12);
        });
      }),
      settings,
    );
  });

  test('a quantile lies between its limits', () => {
    fc.assert(
      fc.property(records, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (data, p) => {
        const { estimate, lower, upper } = survivalQuantile(kaplanMeier(...columns(data)), p);
        const [low, middle, high] = [lower ?? Infinity, estimate ?? Infinity, upper ?? Infinity];
        expect(low).toBeLessThanOrEqual(middle);
        expect(middle).toBeLessThanOrEqual(high);
      }),
      settings,
    );
  });
});

describe('where nothing, or everything, has ended', () => {
  test('no end in 50 trials: survival 1, and its lower bound is the exact one for 0 of 50', () => {
    const curve = kaplanMeier(new Int32Array(50).fill(200), new Uint8Array(50));
    expect(curve.time).toHaveLength(0);
    const at = survivalAt(curve, 200);
    expect([at.estimate, at.upper]).toEqual([1, 1]);
    expect(at.lower).toBeCloseTo(1 - clopperPearsonInterval(0, 50).upper, 12);
    expect(survivalQuantile(curve, 0.5)).toEqual({ estimate: null, lower: null, upper: null });
    // 50 trials without an end cannot rule out that 1 % have ended: 0.99^50 = 0.6.
    expect(survivalQuantile(curve, 0.01)).toEqual({ estimate: null, lower: 0, upper: null });
  });

  test('beyond the longest life observed nothing is claimed unless everything has ended', () => {
    const open = kaplanMeier(Int32Array.of(3, 9), Uint8Array.of(1, 0));
    expect(survivalAt(open, 9).estimate).toBe(0.5);
    expect(survivalAt(open, 10)).toEqual({ estimate: null, lower: 0, upper: open.upper[0] });
    const closed = kaplanMeier(Int32Array.of(3, 9), Uint8Array.of(1, 1));
    expect(survivalAt(closed, 10).estimate).toBe(0);
    expect(survivalAt(closed, 10).upper).toBeGreaterThan(0.5);
  });

  test('all trials end together: the upper bound is that of Clopper and Pearson', () => {
    const curve = kaplanMeier(new Int32Array(40).fill(7), new Uint8Array(40).fill(1));
    expect([curve.survival[0], curve.standardError[0], curve.lower[0]]).toEqual([0, 0, 0]);
    expect(curve.upper[0]).toBeCloseTo(clopperPearsonInterval(0, 40).upper, 12);
  });

  test('the upper bound does not rise when the last of a few left ends', () => {
    // Ten of a hundred end at 1, 89 are censored at 2, the last ends at 3: one trial alone says little.
    const curve = kaplanMeier(
      Int32Array.from({ length: 100 }, (_, i) => (i < 10 ? 1 : i < 99 ? 2 : 3)),
      Uint8Array.from({ length: 100 }, (_, i) => (i < 10 || i === 99 ? 1 : 0)),
    );
    expect(curve.survival[1]).toBe(0);
    expect(curve.upper[1]).toBe(curve.upper[0]);
    expect(curve.upper[0]).toBeLessThan(0.95);
  });

  test('before the first end the bound counts those seen running up to it', () => {
    const curve = kaplanMeier(Int32Array.of(1, 5, 6, 6), Uint8Array.of(0, 1, 1, 0));
    expect(survivalAt(curve, 4).lower).toBeCloseTo(1 - clopperPearsonInterval(0, 3).upper, 12);
  });
});

test('the 95 % band covers the truth as often as it says, under censoring', () => {
  // Exponential lives of mean 10, censored uniformly on [0, 30]; truth at 8 is exp(-0.8).
  const random = seedrandom.alea('kaplan-meier coverage');
  const repeats = 1000;
  let covered = 0;
  for (let repeat = 0; repeat < repeats; repeat += 1) {
    const times = new Float64Array(60);
    const ended = new Uint8Array(60);
    for (let i = 0; i < 60; i += 1) {
      const life = -10 * Math.log(1 - random.double());
      const cut = 30 * random.double();
      times[i] = Math.min(life, cut);
      ended[i] = life <= cut ? 1 : 0;
    }
    const { lower, upper } = survivalAt(kaplanMeier(times, ended), 8);
    if (lower <= Math.exp(-0.8) && Math.exp(-0.8) <= upper) covered += 1;
  }
  // Band of 4 binomial standard errors about 0.95: false alarm rate below 1e-4, plus 1 % for the asymptotics.
  const slack = 4 * Math.sqrt((0.95 * 0.05) / repeats) + 0.01;
  expect(covered / repeats).toBeGreaterThan(0.95 - slack);
  expect(covered / repeats).toBeLessThan(0.95 + slack);
});

test('a million tied whole-number lives take well under a second', () => {
  const random = seedrandom.alea('a million lives');
  const times = new Int32Array(1_000_000);
  const ended = new Uint8Array(1_000_000);
  for (let i = 0; i < times.length; i += 1) {
    times[i] = Math.floor(2000 * random());
    ended[i] = random() < 0.7 ? 1 : 0;
  }
  const start = performance.now();
  const curve = kaplanMeier(times, ended);
  expect(performance.now() - start).toBeLessThan(1000);
  expect(curve.time).toHaveLength(2000);
  expect(curve.atRisk[0]).toBe(1_000_000);
});

test('lives far longer than the column is long do not cost memory in proportion', () => {
  const curve = kaplanMeier(Float64Array.of(1e15, 2e15, 3e15), Uint8Array.of(1, 1, 1));
  expect(Array.from(curve.time)).toEqual([1e15, 2e15, 3e15]);
});

test('bad records are refused by place and value', () => {
  expect(() => kaplanMeier(Int32Array.of(), Uint8Array.of())).toThrow(/at least one life/);
  expect(() => kaplanMeier(Int32Array.of(1, 2), Uint8Array.of(1))).toThrow(/equally long; found 2 and 1/);
  expect(() => kaplanMeier(Int32Array.of(1, -2), Uint8Array.of(1, 1))).toThrow(/^times\[1\].*found -2/);
  expect(() => kaplanMeier(Float64Array.of(NaN), Uint8Array.of(1))).toThrow(/^times\[0\].*found NaN/);
  expect(() => kaplanMeier(Int32Array.of(1), Uint8Array.of(2))).toThrow(
    /^ended\[0\] must be 0 or 1; found 2/,
  );
  expect(() => kaplanMeier(Int32Array.of(1), Uint8Array.of(1), { level: 1 })).toThrow(/^level/);
  const curve = kaplanMeier(Int32Array.of(1), Uint8Array.of(1));
  expect(() => survivalAt(curve, -1)).toThrow(/^time /);
  expect(() => survivalQuantile(curve, 0)).toThrow(/^probabilityEnded/);
});

describe('delayed entry', () => {
  const entry = Int32Array.of(0, 0, 3, 5, 2, 0);
  const times = Int32Array.of(4, 6, 9, 10, 8, 12);
  const ended = Uint8Array.of(1, 1, 1, 0, 1, 0);

  test('gives the survival and standard errors of R survfit with Surv(entry, exit, event)', () => {
    const curve = kaplanMeier(times, ended, { entry });
    expect(Array.from(curve.time)).toEqual([4, 6, 8, 9]);
    expect(Array.from(curve.atRisk)).toEqual([5, 5, 4, 3]);
    [0.8, 0.64, 0.48, 0.32].forEach((survival, row) => {
      expect(curve.survival[row]).toBeCloseTo(survival, 12);
    });
    [0.178885438, 0.20238577, 0.205523721, 0.189314553].forEach((error, row) => {
      expect(curve.standardError[row]).toBeCloseTo(error, 9);
    });
  });

  test('at 0 for all changes nothing', () => {
    expect(kaplanMeier(times, ended, { entry: new Int32Array(6) })).toEqual(kaplanMeier(times, ended));
  });

  test('is refused where it cannot be', () => {
    expect(() => kaplanMeier(times, ended, { entry: Int32Array.of(0) })).toThrow(/as long as times/);
    expect(() => kaplanMeier(times, ended, { entry: times })).toThrow(/entry\[0\] must lie in \[0, 4\)/);
  });
});
