import fc from 'fast-check';
import { expect, test } from 'vitest';
import { REFERENCE_GROOVE_DEPTH_M, thrownStoneHits } from '../../lib/models/thrown-stones.js';

// The form is an ASSUMPTION; that throwing stones is seldom a worry is common practice, no source.

fc.configureGlobal({ seed: 20_260_204 });

test('worked by hand: 40 stones/m2 x 0.15 m x 250 m x 1e-6 at a third of the reference depth is 5e-4 hits', () => {
  expect(REFERENCE_GROOVE_DEPTH_M).toBe(0.009);
  expect(thrownStoneHits(40, 0.15, 250, 1e-6, 0.003)).toBeCloseTo(5e-4, 15);
});

test('a worn-out groove throws nothing', () => {
  expect(thrownStoneHits(40, 0.15, 250, 1e-6, 0)).toBe(0);
});

test('hits are proportional to stones, width, distance, share and groove depth alike', () => {
  const positive = fc.double({ min: 1e-3, max: 100, noNaN: true });
  fc.assert(
    fc.property(
      fc.tuple(positive, positive, positive, positive, positive),
      fc.integer({ min: 0, max: 4 }),
      (values, which) => {
        const doubled = values.map((value, i) => (i === which ? 2 * value : value)) as typeof values;
        expect(thrownStoneHits(...doubled) / thrownStoneHits(...values)).toBeCloseTo(2, 9);
      },
    ),
  );
});
