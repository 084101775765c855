import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cumulativeIncidence } from '../../lib/estimate/cumulative-incidence.js';
import { kaplanMeier, survivalAt } from '../../lib/estimate/kaplan-meier.js';
import { clopperPearsonInterval } from '../../lib/estimate/proportion.js';
import reference from '../reference/late-incidence.json' with { type: 'json' };

const settings = { seed: 20_240_604, numRuns: 200 };
const records = fc.array(fc.tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 3 })), {
  minLength: 1,
  maxLength: 80,
});

function columns(data: readonly (readonly [number, number])[], unit = 1): [Float64Array, Int8Array] {
  return [Float64Array.from(data, ([time]) => time * unit), Int8Array.from(data, ([, cause]) => cause)];
}

test('the shares of all causes and the share still running add to 1', () => {
  fc.assert(
    fc.property(records, (data) => {
      const result = cumulativeIncidence(...columns(data));
      result.time.forEach((_, row) => {
        const sum = result.byCause.reduce((total, { incidence }) => total + incidence[row]!, 0);
        expect(sum + result.survival[row]!).toBeCloseTo(1, 12);
      });
    }),
    settings,
  );
});

test('0 <= lower <= share <= upper <= 1, shares never fall, and no interval has zero width', () => {
  fc.assert(
    fc.property(records, (data) => {
      for (const column of cumulativeIncidence(...columns(data)).byCause) {
        let before = 0;
        column.incidence.forEach((share, row) => {
          expect(column.lower[row]).toBeGreaterThanOrEqual(0);
          expect(column.lower[row]).toBeLessThanOrEqual(share + 1e-12);
          expect(column.upper[row]).toBeGreaterThanOrEqual(share - 1e-12);
          expect(column.upper[row]).toBeLessThanOrEqual(1);
          expect(column.upper[row]! - column.lower[row]!).toBeGreaterThan(1e-6);
          expect(share).toBeGreaterThanOrEqual(before);
          before = share;
        });
      }
    }),
    settings,
  );
});

test('one minus the curve of one cause alone is never below the share of that cause', () => {
  fc.assert(
    fc.property(records, (data) => {
      const [times, causes] = columns(data);
      const result = cumulativeIncidence(times, causes);
      for (const { cause, incidence } of result.byCause) {
        const alone = kaplanMeier(
          times,
          Uint8Array.from(causes, (code) => (code === cause ? 1 : 0)),
        );
        result.time.forEach((time, row) => {
          const survival = survivalAt(alone, time).estimate ?? 1;
          expect(1 - survival).toBeGreaterThanOrEqual(incidence[row]! - 1e-12);
        });
      }
    }),
    settings,
  );
});

test('with a single cause it is the complement of the Kaplan-Meier curve, band and all', () => {
  fc.assert(
    fc.property(records, (data) => {
      const [times, causes] = columns(data);
      const ended = Uint8Array.from(causes, (code) => (code > 0 ? 1 : 0));
      const curve = kaplanMeier(times, ended);
      const only = cumulativeIncidence(times, Int8Array.from(ended)).byCause[0];
      curve.survival.forEach((survival, row) => {
        expect(only!.incidence[row]).toBeCloseTo(1 - survival, 12);
        expect(only!.standardError[row]! ** 2).toBeCloseTo(curve.standardError[row]! ** 2, 12);
        expect(only!.upper[row]).toBeCloseTo(1 - curve.lower[row]!, 6);
        // At the last row of a curve that reaches 0 the curve also caps its bound by the row before.
        if (survival > 0) expect(only!.lower[row]).toBeCloseTo(1 - curve.upper[row]!, 6);
      });
    }),
    settings,
  );
});

test('without censoring the error is that of a plain share, sqrt(F (1 - F) / n)', () => {
  const complete = fc.array(fc.tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 1, max: 3 })), {
    minLength: 1,
    maxLength: 80,
  });
  fc.assert(
    fc.property(complete, (data) => {
      for (const { incidence, standardError } of cumulativeIncidence(...columns(data)).byCause) {
        incidence.forEach((share, row) => {
          const plain = (share * (1 - share)) / data.length;
          expect(standardError[row]! ** 2).toBeCloseTo(plain, 12);
        });
      }
    }),
    settings,
  );
});

test('the error is that of the infinitesimal jackknife: each trial’s pull on the share, squared and summed', () => {
  // Jaeckel (1972), the variance that R survfit reports for shares by cause; here by numerical derivatives of a
  // weighted Aalen-Johansen estimate written out from its definition.
  const times = [2, 3, 3, 4, 6, 6, 6, 7, 8, 9, 11, 12];
  const causes = [1, 2, 0, 1, 2, 1, 0, 1, 0, 2, 1, 0];
  const weighted = (weights: readonly number[], cause: number, at: number): number => {
    let survival = 1;
    let share = 0;
    for (const time of [...new Set(times)].sort((a, b) => a - b)) {
      if (time > at) break;
      const total = (keep: (i: number) => boolean): number =>
        weights.reduce((sum, weight, i) => sum + (keep(i) ? weight : 0), 0);
      const atRisk = total((i) => times[i]! >= time);
      share += (survival * total((i) => times[i] === time && causes[i] === cause)) / atRisk;
      survival *= 1 - total((i) => times[i] === time && causes[i]! > 0) / atRisk;
    }
    return share;
  };
  const result = cumulativeIncidence(Int32Array.from(times), Int8Array.from(causes));
  const ones = times.map(() => 1);
  for (const { cause, standardError } of result.byCause) {
    result.time.forEach((time, row) => {
      let sum = 0;
      for (let i = 0; i < times.length; i += 1) {
        const nudged = (by: number): number =>
          weighted(
            ones.map((one, j) => (j === i ? one + by : one)),
            cause,
            time,
          );
        sum += ((nudged(1e-5) - nudged(-1e-5)) / 2e-5) ** 2;
      }
      expect(standardError[row]).toBeCloseTo(Math.sqrt(sum), 8);
    });
  }
});

test('order of the records and unit of the lives change nothing else', () => {
  fc.assert(
    fc.property(records, (data) => {
      const result = cumulativeIncidence(...columns(data));
      const other = cumulativeIncidence(...columns([...data].reverse(), 0.125));
      expect(other.byCause).toEqual(result.byCause);
      expect(other.time).toEqual(result.time.map((time) => time * 0.125));
    }),
    settings,
  );
});

test('a cause never seen still has an upper bound: the exact one for none of n', () => {
  const result = cumulativeIncidence(new Int32Array(30).fill(5), new Int8Array(30).fill(1), { causes: [2] });
  expect(result.byCause.map(({ cause }) => cause)).toEqual([1, 2]);
  const unseen = result.byCause[1]!;
  expect([unseen.incidence[0], unseen.lower[0], unseen.ended[0]]).toEqual([0, 0, 0]);
  expect(unseen.upper[0]).toBeCloseTo(clopperPearsonInterval(0, 30).upper, 12);
  // Half have ended by another cause before: still none of 30 by this one.
  const later = Int32Array.from({ length: 30 }, (_, i) => (i < 15 ? 5 : 9));
  const both = cumulativeIncidence(later, new Int8Array(30).fill(1), { causes: [2] }).byCause[1]!;
  expect(both.upper[1]).toBeCloseTo(clopperPearsonInterval(0, 30).upper, 12);
});

test('bad records are refused by place and value', () => {
  expect(() => cumulativeIncidence(Int32Array.of(1), Int8Array.of(-1))).toThrow(/^end code 0 .*found -1/);
  expect(() => cumulativeIncidence(Int32Array.of(1, 2), Int8Array.of(1))).toThrow(/equally long/);
  expect(() => cumulativeIncidence(Int32Array.of(1), Int8Array.of(1), { causes: [0] })).toThrow(/^causes/);
  expect(() => cumulativeIncidence(Int32Array.of(1), Int8Array.of(1), { level: 0 })).toThrow(/^level/);
});

describe('delayed entry', () => {
  const lives = (name: 'made' | 'mgus2'): [Float64Array, Int8Array, Float64Array] => {
    const { entry, exit, cause } = reference[name];
    return [Float64Array.from(exit), Int8Array.from(cause), Float64Array.from(entry)];
  };

  test.each(['made', 'mgus2'] as const)(
    '%s: shares and survival of R survfit 3.5.3, Greenwood errors by a recursion of matrices (late-incidence.R)',
    (name) => {
      const [times, causes, entry] = lives(name);
      const expected = reference[name];
      const result = cumulativeIncidence(times, causes, { entry });
      expect(Array.from(result.time)).toEqual(expected.time);
      expect(Array.from(result.atRisk)).toEqual(expected.atRisk);
      const [first, second] = result.byCause;
      result.time.forEach((_, row) => {
        expect(result.survival[row]).toBeCloseTo(expected.survival[row]!, 12);
        expect(first!.incidence[row]).toBeCloseTo(expected.first[row]!, 12);
        expect(second!.incidence[row]).toBeCloseTo(expected.second[row]!, 12);
        expect(first!.standardError[row]).toBeCloseTo(expected.firstError[row]!, 12);
        expect(second!.standardError[row]).toBeCloseTo(expected.secondError[row]!, 12);
      });
    },
  );

  test('with a single cause it is the complement of the Kaplan-Meier curve with the same entries', () => {
    const [times, causes, entry] = lives('mgus2');
    const ended = Uint8Array.from(causes, (code) => (code > 0 ? 1 : 0));
    const curve = kaplanMeier(times, ended, { entry });
    const only = cumulativeIncidence(times, Int8Array.from(ended), { entry }).byCause[0]!;
    curve.survival.forEach((survival, row) => {
      expect(only.incidence[row]).toBeCloseTo(1 - survival, 12);
      expect(only.standardError[row]).toBeCloseTo(curve.standardError[row]!, 12);
      expect(only.upper[row]).toBeCloseTo(1 - curve.lower[row]!, 9);
    });
  });

  test('at 0 for all changes nothing, and in any order of the records it gives the same', () => {
    const [times, causes, entry] = lives('mgus2');
    expect(cumulativeIncidence(times, causes, { entry: new Float64Array(times.length) })).toEqual(
      cumulativeIncidence(times, causes),
    );
    expect(
      cumulativeIncidence(times.toReversed(), causes.toReversed(), { entry: entry.toReversed() }),
    ).toEqual(cumulativeIncidence(times, causes, { entry }));
  });

  test('once all that ran have ended, those that come later narrow nothing', () => {
    // One trial ends before the next comes under watch: survival is 0 from then on.
    const times = Int32Array.of(1, 5, 6);
    const entry = Int32Array.of(0, 2, 2);
    const unseen = cumulativeIncidence(times, Int8Array.of(1, 1, 1), { causes: [2], entry }).byCause[1]!;
    const least = clopperPearsonInterval(0, 1).upper;
    for (const upper of unseen.upper) expect(upper).toBeCloseTo(least, 12);
    const curve = kaplanMeier(times, Uint8Array.of(1, 1, 1), { entry });
    expect(Array.from(curve.survival)).toEqual([0, 0, 0]);
    for (const upper of curve.upper) expect(upper).toBeCloseTo(least, 12);
  });

  test('is refused where it cannot be', () => {
    const causes = Int8Array.of(1, 0);
    const times = Int32Array.of(4, 6);
    expect(() => cumulativeIncidence(times, causes, { entry: Int32Array.of(0) })).toThrow(/as long as times/);
    expect(() => cumulativeIncidence(times, causes, { entry: Int32Array.of(0, 6) })).toThrow(
      /entry\[1\] must lie in \[0, 6\)/,
    );
    expect(() => cumulativeIncidence(times, causes, { entry: Float64Array.of(NaN, 0) })).toThrow(
      /entry\[0\]/,
    );
  });
});
