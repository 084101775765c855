import fc from 'fast-check';
import { expect, test } from 'vitest';
import { landingGroups } from '../../lib/estimate/landing-groups.js';

const landings = fc.integer({ min: 1, max: 5000 });
const most = fc.integer({ min: 1, max: 200 });
const starts = fc
  .uniqueArray(fc.integer({ min: -5, max: 6000 }), { maxLength: 20 })
  .map((list) => list.sort((a, b) => a - b));

test('groups follow each other without gaps, none is empty, and no more than wanted but for the starts', () => {
  fc.assert(
    fc.property(landings, most, starts, (count, wanted, forced) => {
      const groups = landingGroups(count, wanted, forced);
      expect(groups[0]!.from).toBe(0);
      expect(groups.at(-1)!.to).toBe(count);
      groups.forEach(({ from, to }, index) => {
        expect(to).toBeGreaterThan(from);
        if (index > 0) expect(from).toBe(groups[index - 1]!.to);
      });
      const inside = forced.filter((start) => start > 0 && start < count);
      expect(groups.length).toBeLessThanOrEqual(Math.min(wanted, count) + inside.length);
      for (const start of inside) expect(groups.some(({ from }) => from === start)).toBe(true);
    }),
  );
});

test('few landings stand alone', () => {
  expect(landingGroups(3, 60)).toEqual([
    { from: 0, to: 1 },
    { from: 1, to: 2 },
    { from: 2, to: 3 },
  ]);
});
