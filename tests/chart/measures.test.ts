import { describe, expect, test } from 'vitest';
import { hoursAxis } from '../../lib/chart/landing-axis.js';
import {
  counted,
  depthText,
  millimetres,
  pressureChangeText,
  pressureText,
  psi,
  psiText,
  rounded,
} from '../../lib/chart/measures.js';

describe('measures as people read them', () => {
  // 1 psi = 6894.757 Pa (NIST SP 811, appendix B, from memory); 1 bar = 100 000 Pa.
  test('pressures', () => {
    expect(pressureText(166_164)).toBe('24.1 psi (1.66 bar)');
    expect(psiText(172_368.932)).toBe('25 psi');
    expect(psi(6894.757293168)).toBe(1);
    expect(pressureChangeText(8273.7)).toBe('+1.20 psi (+0.083 bar)');
    expect(pressureChangeText(-8273.7)).toBe('-1.20 psi (-0.083 bar)');
    expect(pressureChangeText(-1e-9)).toBe('0.00 psi (0.000 bar)');
  });

  test('depths and counts', () => {
    expect(depthText(2.1e-3)).toBe('2.1 mm (2.6/32 in)');
    expect(millimetres(0.0123456)).toBe(12.346);
    expect(counted(1, 'landing')).toBe('1 landing');
    expect(counted(1312, 'landing')).toBe('1,312 landings');
    expect(Object.is(rounded(-0.0001, 2), 0)).toBe(true);
  });
});

describe('the axis of flight hours', () => {
  test('stands where the hours are reached, between landings too', () => {
    const axis = hoursAxis([
      { landings: 0, flightHours: 0 },
      { landings: 10, flightHours: 5 },
      { landings: 20, flightHours: 25 },
    ])!;
    // Round steps of 5 h: 5 h after 10 landings, then 10 h in another ten landings make 20.
    expect(axis.values).toEqual([0, 10, 12.5, 15, 17.5, 20]);
    expect(axis.labelExpr).toContain('"17.5":"20"');
  });

  test('is left out where no hours are flown', () => {
    expect(hoursAxis([{ landings: 0, flightHours: 0 }])).toBeNull();
    expect(hoursAxis([])).toBeNull();
  });
});
