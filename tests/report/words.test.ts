import { expect, test } from 'vitest';
import { estimateChance, type RiskEstimate } from '../../lib/estimate/martingale.js';
import { listText } from '../../lib/present/lists.js';
import { riskText, spreadText } from '../../lib/report/words.js';

function risk(estimate: number): RiskEstimate {
  return { ...estimateChance(Uint8Array.of(0, 0), Float64Array.of(0.1, 0.1)), estimate };
}

test.each([
  [0.025, 'about 1 season in 40 (2.5 %)'],
  [0.00031, 'about 1 season in 3,200 (0.031 %)'],
  [0.7, 'about 7 seasons in 10 (70 %)'],
  [0.97, 'nearly every season (97 %)'],
  [1, 'nearly every season (100 %)'],
])('a chance of %d is a flat in %s', (chance, text) => {
  expect(riskText(risk(chance))).toBe(text);
});

test('where no risk was met, the bound that the trials give is told, never a stronger one', () => {
  const none = estimateChance(new Uint8Array(400), new Float64Array(400));
  // Clopper and Pearson's bound at zero events, 1 - 0.025^(1/400) = 1 / 108.9 (the formula from memory).
  expect(1 / none.upper).toBeCloseTo(1 / (1 - 0.025 ** (1 / 400)), 9);
  expect(riskText(none)).toBe('fewer than 1 season in 100');
  const few = estimateChance(new Uint8Array(2), new Float64Array(2));
  expect(riskText(few)).toBe('a share of seasons that so few trials cannot tell');
});

test('names in a row', () => {
  expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map(listText)).toEqual(['', 'a', 'a and b', 'a, b and c']);
});

test('a spread has two figures', () => {
  expect([0, 0.1234, 12.34, 1234].map(spreadText)).toEqual(['0', '0.12', '12', '1,200']);
});
