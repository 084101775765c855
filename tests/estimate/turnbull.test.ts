import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  kaplanMeier,
  probabilityPlot,
  turnbull,
  type CensoredLife,
  type TurnbullCurve,
} from '../../lib/index.js';
import reference from '../reference/life-fits.json' with { type: 'json' };

const numbers = (values: readonly (number | string)[]): number[] => values.map(Number);

/** Share still running just after a time at the end of a stretch. */
function survivalAfter({ stretches }: TurnbullCurve, time: number): number {
  return stretches.filter(({ to }) => to <= time).at(-1)?.survival ?? 1;
}

describe('against R survival 3.5.3 (tests/reference/life-fits.R)', () => {
  test.each(['lung', 'ovarian'] as const)('%s, right-censored: the curve of survfit', (name) => {
    const { from, to, time, survival } = reference[name];
    const ends = numbers(to);
    const curve = turnbull(numbers(from).map((start, i) => ({ from: start, to: ends[i]! })));
    expect(curve.gap).toBeLessThan(1e-9);
    time.forEach((at, i) => {
      expect(survivalAfter(curve, at)).toBeCloseTo(survival[i]!, 7);
    });
  });

  test('heart, delayed entry: the curve of survfit', () => {
    const { entry, exit, event, time, survival } = reference.heart;
    const lives = exit.map((at, i) => ({ from: at, to: event[i] === 1 ? at : Infinity, entry: entry[i]! }));
    const curve = turnbull(lives);
    time.forEach((at, i) => {
      expect(survivalAfter(curve, at)).toBeCloseTo(survival[i]!, 6);
    });
  });

  test.each(['lungAtVisits', 'veteranAtVisits'] as const)(
    '%s: at least as likely as the curve of survfit',
    (name) => {
      const { from, to, curveLogLikelihood } = reference[name];
      const ends = numbers(to);
      const curve = turnbull(numbers(from).map((start, i) => ({ from: start, to: ends[i]! })));
      expect(curve.gap).toBeLessThan(1e-9);
      expect(curve.logLikelihood).toBeGreaterThan(curveLogLikelihood - 1e-9);
      // The steps of survfit stop within a thousandth of the top.
      expect(curve.logLikelihood - curveLogLikelihood).toBeLessThan(0.01);
    },
  );
});

describe('by hand', () => {
  test('the 6-MP arm of Freireich: Kaplan-Meier', () => {
    const times = [6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35];
    const ended = [1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0];
    const curve = turnbull(times.map((at, i) => ({ from: at, to: ended[i] === 1 ? at : Infinity })));
    // Printed in many courses: 0.857 0.807 0.753 0.690 0.627 0.538 0.448.
    const shown = curve.stretches.slice(0, -1).map(({ survival }) => survival.toFixed(3));
    expect(shown).toEqual(['0.857', '0.807', '0.753', '0.690', '0.627', '0.538', '0.448']);
  });

  test('delayed entry: 4/5, then 4/5, 3/4 and 2/3 of it', () => {
    const rows = [
      [0, 4, 1],
      [0, 6, 1],
      [3, 9, 1],
      [5, 10, 0],
      [2, 8, 1],
      [0, 12, 0],
    ] as const;
    const curve = turnbull(
      rows.map(([entry, at, event]) => ({ entry, from: at, to: event === 1 ? at : Infinity })),
    );
    const shown = [4, 6, 8, 9].map((at) => Number(survivalAfter(curve, at).toFixed(9)));
    expect(shown).toEqual([0.8, 0.64, 0.48, 0.32]);
  });

  test('ranges that share nothing: shares are counts', () => {
    const curve = turnbull([
      { from: 0, to: 2, count: 3 },
      { from: 2, to: 5 },
      { from: 5, to: Infinity },
    ]);
    expect(curve.stretches.map(({ from, to }) => [from, to])).toEqual([
      [0, 2],
      [2, 5],
      [5, Infinity],
    ]);
    [0.6, 0.2, 0.2].forEach((share, i) => {
      expect(curve.stretches[i]!.share).toBeCloseTo(share, 9);
    });
  });

  test('ranges (0,1] (1,3] (1,3] (0,3]: the last goes along by the odds of the others', () => {
    const ranges = [
      [0, 1],
      [1, 3],
      [1, 3],
      [0, 3],
    ].map(([from, to]) => ({ from: from!, to: to! }));
    const { stretches } = turnbull(ranges);
    expect(stretches.map(({ share }) => Number(share.toFixed(8)))).toEqual([0.33333333, 0.66666667]);
  });
});

describe('laws', () => {
  const life = fc
    .tuple(
      fc.integer({ min: 0, max: 20 }),
      fc.integer({ min: 0, max: 6 }),
      fc.boolean(),
      fc.integer({ min: 1, max: 3 }),
    )
    .map(([from, width, open, count]): CensoredLife => ({
      from,
      to: open ? Infinity : Math.max(from + width, 1),
      count,
    }));

  test('shares add to 1, no other law is likelier, and the order of lives is nothing', () => {
    fc.assert(
      fc.property(fc.array(life, { minLength: 1, maxLength: 25 }), (lives) => {
        const curve = turnbull(lives);
        const total = curve.stretches.reduce((sum, { share }) => sum + share, 0);
        expect(total).toBeCloseTo(1, 8);
        expect(curve.gap).toBeLessThan(1e-6);
        expect(turnbull([...lives].reverse())).toEqual(curve);
      }),
      { numRuns: 200, seed: 11 },
    );
  });

  test('right-censored lives give the Kaplan-Meier curve', () => {
    const row = fc.tuple(fc.integer({ min: 1, max: 30 }), fc.boolean());
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 40 }), (rows) => {
        const curve = turnbull(rows.map(([at, ended]) => ({ from: at, to: ended ? at : Infinity })));
        const known = kaplanMeier(
          Int32Array.from(rows, ([at]) => at),
          Uint8Array.from(rows, ([, ended]) => (ended ? 1 : 0)),
        );
        known.time.forEach((at, i) => {
          expect(survivalAfter(curve, at)).toBeCloseTo(known.survival[i]!, 5);
        });
      }),
      { numRuns: 100, seed: 12 },
    );
  });
});

describe('a probability plot', () => {
  test('puts each exact end at the middle of its step', () => {
    const lives = [3, 1, 2, 5].map((at) => ({ from: at, to: at }));
    const points = probabilityPlot(lives, 'weibull');
    expect(points.map(({ time }) => time)).toEqual([1, 2, 3, 5]);
    expect(points.map(({ ended }) => Number(ended.toFixed(9)))).toEqual([0.125, 0.375, 0.625, 0.875]);
    for (const { x, y, time, ended } of points) {
      expect(x).toBe(Math.log(time));
      expect(1 - Math.exp(-Math.exp(y))).toBeCloseTo(ended, 12);
    }
  });

  test('lives at the quantiles of a law lie on its line', () => {
    const shape = 2.5;
    const lives = Array.from({ length: 40 }, (_, i) => {
      const at = 300 * (-Math.log1p(-(i + 0.5) / 40)) ** (1 / shape);
      return { from: at, to: at };
    });
    const points = probabilityPlot(lives, 'weibull');
    const slopes = points.slice(1).map(({ x, y }) => (y - points[0]!.y) / (x - points[0]!.x));
    for (const slope of slopes) expect(slope).toBeCloseTo(shape, 7);
  });

  test('has no points where nothing has ended', () => {
    expect(probabilityPlot([{ from: 5, to: Infinity }], 'lognormal')).toEqual([]);
  });
});
