import { describe, expect, test } from 'vitest';
import { normalRatioQuantile } from '../../lib/estimate/normal-ratio.js';
import { normalCdf } from '../../lib/numeric/special.js';

/** Chance that top / bottom lies below a ratio, added up over the bottom: no formula for the ratio in it. */
function chanceBelow(ratio: number, topMean: number, bottomMean: number, spread: number): number {
  const step = 0.005;
  let sum = 0;
  for (let z = -8; z <= 8; z += step) {
    const density = Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
    sum += step * density * normalCdf((ratio * (bottomMean + spread * z) - topMean) / spread);
  }
  return sum;
}

describe('quantiles of the ratio of two normal values', () => {
  test.each([
    { top: 288, bottom: 288, spread: 5, probability: 0.1 },
    { top: 275, bottom: 300, spread: 15, probability: 0.9 },
    { top: 300, bottom: 275, spread: 30, probability: 0.02 },
    { top: 300, bottom: 275, spread: 30, probability: 0.5 },
  ])('leave $probability below for $top and $bottom with $spread', ({ top, bottom, spread, probability }) => {
    const ratio = normalRatioQuantile(top, bottom, spread, probability);
    expect(chanceBelow(ratio, top, bottom, spread)).toBeCloseTo(probability, 7);
  });

  test('turn over with the ratio, and are the ratio of the means without spread', () => {
    const low = normalRatioQuantile(280, 295, 8, 0.1);
    const high = normalRatioQuantile(295, 280, 8, 0.9);
    expect(low * high).toBeCloseTo(1, 12);
    expect(normalRatioQuantile(280, 295, 0, 0.1)).toBeCloseTo(280 / 295, 12);
  });

  test.each([
    [288, 100, 20, 0.5],
    [288, 288, -1, 0.5],
    [288, 288, NaN, 0.5],
    [288, 288, 5, 0],
    [288, 288, 5, 1],
  ])('refuse %d, %d, %d, %d', (top, bottom, spread, probability) => {
    expect(() => normalRatioQuantile(top, bottom, spread, probability)).toThrow(RangeError);
  });
});
