import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pressureGrid } from '../../dist/decide/pressure-grid.js';
import {
  keptRange,
  partAbove,
  pressureRange,
  type PressureLimits,
} from '../../dist/decide/pressure-range.js';
import { paToPsi, psiToPa } from '../../dist/decide/pressure-units.js';
import { UsageError } from '../../dist/problems.js';
import { parseQuantity } from '../../dist/units.js';
import { quietScenario, shippedScenario } from '../support/scenarios.js';

fc.configureGlobal({ seed: 20_260_227 });

const GRID = [10, 20, 30, 40, 50].map((psi) => psi * 1000);

/** Kept between two pressures. */
function between(lowPa: number, highPa: number): PressureLimits {
  return {
    brokenAt: (pressurePa) => [
      ...(pressurePa < lowPa ? [{ code: 'bead slip' as const, title: 'low' }] : []),
      ...(pressurePa > highPa ? [{ code: 'rated pressure' as const, title: 'high' }] : []),
    ],
  };
}

describe('the range in which limits are kept', () => {
  it('ends exactly where they break, and says which', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10_001, max: 30_000, noNaN: true }),
        fc.double({ min: 30_000, max: 49_999, noNaN: true }),
        (lowPa, highPa) => {
          const range = keptRange(between(lowPa, highPa), GRID, 30_000)!;
          expect(range.lowPa / lowPa).toBeCloseTo(1, 9);
          expect(range.highPa / highPa).toBeCloseTo(1, 9);
          expect(range.lowEnd).toEqual({ kind: 'limit', code: 'bead slip', title: 'low' });
          expect(range.highEnd).toEqual({ kind: 'limit', code: 'rated pressure', title: 'high' });
        },
      ),
    );
  });

  it('ends with the sweep where nothing breaks, but a limit at the very end is told', () => {
    const range = keptRange(between(0, 50_000), GRID, 30_000)!;
    expect(range).toMatchObject({ lowPa: 10_000, lowEnd: { kind: 'end of the sweep' } });
    expect(range.highPa).toBeCloseTo(50_000, 6);
    expect(range.highEnd).toMatchObject({ kind: 'limit', code: 'rated pressure' });
  });

  it('is the one around the set-up, else the widest, else none', () => {
    const islands: PressureLimits = {
      brokenAt: (pa) =>
        pa < 15_000 || (pa > 25_000 && pa < 55_000) ? [] : [{ code: 'bead slip', title: '' }],
    };
    expect(keptRange(islands, GRID, 10_000)!.highPa).toBeCloseTo(15_000, 3);
    expect(keptRange(islands, GRID, 20_000)!.lowPa).toBeCloseTo(25_000, 3);
    expect(keptRange({ brokenAt: () => [{ code: 'bead slip', title: '' }] }, GRID, 20_000)).toBeNull();
  });
});

describe('the part of a range in which a curve stays high', () => {
  const whole = pressureRange(
    { pressurePa: 12_000, end: { kind: 'end of the sweep' } },
    { pressurePa: 48_000, end: { kind: 'end of the sweep' } },
  );
  const curve = { pressuresPa: GRID, values: [60, 80, 100, 96, 76] };

  it('by hand: above 90 between 25 and 43 thousand', () => {
    // 80 to 100 over 10 000: 90 half way. 96 to 76 over 10 000: 90 after 0.3 of it.
    const part = partAbove(whole, curve, 2, 90);
    expect([part.lowPa, part.highPa]).toEqual([25_000, 43_000]);
    expect([part.lowEnd.kind, part.highEnd.kind]).toEqual(['life', 'life']);
  });

  it('ends with the range where the curve is high enough there', () => {
    const part = partAbove(whole, curve, 2, 50);
    expect(part).toEqual(whole);
    expect(partAbove(whole, curve, 2, 62)).toMatchObject({ lowPa: 12_000, highPa: 48_000 });
  });

  it('never leaves the range, and always holds the best point', () => {
    const value = fc.double({ min: 1, max: 100, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(value, { minLength: 5, maxLength: 5 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (values, share) => {
          const inside = [1, 2, 3];
          const best = inside.reduce((one, other) => (values[other]! > values[one]! ? other : one));
          const part = partAbove(whole, { pressuresPa: GRID, values }, best, share * values[best]!);
          expect(part.lowPa).toBeGreaterThanOrEqual(whole.lowPa);
          expect(part.highPa).toBeLessThanOrEqual(whole.highPa);
          expect(part.lowPa).toBeLessThanOrEqual(GRID[best]!);
          expect(part.highPa).toBeGreaterThanOrEqual(GRID[best]!);
        },
      ),
    );
  });
});

describe('the pressures of a sweep', () => {
  const [setup] = quietScenario().setups;
  const loadN = 560 * 9.80665;

  it('are round, rise to the rated pressure, and hold the set-up', () => {
    for (const each of shippedScenario('mixed-season').setups) {
      const psi = pressureGrid(each, loadN, undefined).map(paToPsi);
      expect(psi.length).toBeGreaterThanOrEqual(10);
      expect(psi.length).toBeLessThanOrEqual(17);
      expect(psi).toEqual([...psi].sort((one, other) => one - other));
      expect(psi).toContain(paToPsi(each.mainPa));
      expect(psi.at(-1)).toBe(paToPsi(each.main.ratedPa));
      for (const one of psi) expect(Number((4 * one).toFixed(6)) % 1).toBe(0);
    }
  });

  it('start where the tire sinks 45 % of its height', () => {
    // 1234.6 lb on 26 x 10 in: 4.185 in = 10 (1234.6 / B / 2.4 + 0.03): B = 1324 lb = (p + 2.4) 161.245: 5.81 psi.
    expect(paToPsi(pressureGrid(setup!, loadN, undefined)[0]!)).toBe(6);
  });

  it('are the same bits as a file would give', () => {
    for (const psi of [3, 9.5, 22.75, 25, 31]) {
      expect(psiToPa(psi)).toBe((parseQuantity(`${psi} psi`, 'pressure') as { si: number }).si);
      expect(paToPsi(psiToPa(psi))).toBe(psi);
    }
  });

  it('may be given, in any order, and the set-up is always among them', () => {
    const grid = pressureGrid(setup!, loadN, [psiToPa(40), psiToPa(20), psiToPa(30)]);
    expect(grid.map(paToPsi)).toEqual([20, 30, 40]);
    expect(pressureGrid(setup!, loadN, [psiToPa(20)]).map(paToPsi)).toEqual([20, 30]);
  });

  it.each([
    [[], /there are 0 pressures; give 1 to 100/],
    [[25], /a pressure is 25 Pa .* between 3 and 150 psi, stated in Pa/],
    [[Number.NaN], /a pressure is NaN Pa/],
    [[psiToPa(151)], /151 psi/],
    [new Array<number>(101).fill(psiToPa(20)), /there are 101 pressures/],
  ])('refuses %#', (wanted, message) => {
    expect(() => pressureGrid(setup!, loadN, wanted)).toThrow(UsageError);
    expect(() => pressureGrid(setup!, loadN, wanted)).toThrow(message);
  });
});
