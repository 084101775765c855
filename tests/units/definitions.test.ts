import { describe, expect, test } from 'vitest';
import { parseQuantity, unitNames, type Dimension } from '../../lib/units.js';
import { DIMENSION_NAMES } from '../../lib/units/dimensions.js';

function si(text: string, dimension: Dimension): number {
  const read = parseQuantity(text, dimension);
  if (!read.ok) throw new Error(`${text}: ${read.reason}`);
  return read.si;
}

describe('units that are exact by definition are converted without error', () => {
  // Definitions as listed in NIST SP 811 (2008), Appendix B (from memory): inch, foot, mile, nautical mile, pound,
  // pound-force, knot. Degree Fahrenheit: the same, B.8 table of temperature. Julian year: 365.25 days of 86 400 s.
  test.each<[string, Dimension, number]>([
    ['1 in', 'length', 0.0254],
    ['1 ft', 'length', 0.3048],
    ['1 mi', 'length', 1609.344],
    ['1 NM', 'length', 1852],
    ['1 cm', 'length', 0.01],
    ['1 mm', 'length', 0.001],
    ['1 km', 'length', 1000],
    ['1 um', 'length', 1e-6],
    ['1 lb', 'mass', 0.45359237],
    ['1 g', 'mass', 0.001],
    ['1 lbf', 'force', 4.4482216152605],
    ['1 kN', 'force', 1000],
    ['1 kt', 'speed', 1852 / 3600],
    ['1 mph', 'speed', 0.44704],
    ['1 ft/s', 'speed', 0.3048],
    ['1 ft/min', 'speed', 0.00508],
    ['36 km/h', 'speed', 10],
    ['1 bar', 'pressure', 100_000],
    ['1 mbar', 'pressure', 100],
    ['1 hPa', 'pressure', 100],
    ['1 kPa', 'pressure', 1000],
    ['0 degC', 'temperature', 273.15],
    ['32 degF', 'temperature', 273.15],
    ['-40 degF', 'temperature', 233.15],
    ['-40 °C', 'temperature', 233.15],
    ['-459.67 °F', 'temperature', 0],
    ['300 K', 'temperature', 300],
    ['59 degF', 'temperature', 288.15],
    ['9 degF', 'temperatureDifference', 5],
    ['5 degC', 'temperatureDifference', 5],
    ['5 K', 'temperatureDifference', 5],
    ['1 min', 'duration', 60],
    ['1 h', 'duration', 3600],
    ['1 day', 'duration', 86_400],
    ['2 weeks', 'duration', 1_209_600],
    ['12 months', 'duration', 365.25 * 86_400],
    ['1 year', 'duration', 365.25 * 86_400],
    ['1 kJ', 'energy', 1000],
    ['1 mm3/J', 'abradability', 1e-9],
    ['1 kg m2', 'inertia', 1],
    ['1 N m', 'torque', 1],
    ['5 /100 m2', 'perArea', 0.05],
    ['1 /ft2', 'perArea', 1 / 0.09290304],
    ['1 /km', 'perLength', 0.001],
    ['36 /h', 'rate', 0.01],
    ['8640 %/day', 'rate', 0.001],
    ['1 %/month', 'rate', 0.01 / (30.4375 * 86_400)],
    ['1 /year', 'rate', 1 / 31_557_600],
    ['35 %', 'share', 0.35],
    ['7 %', 'share', 0.07],
    ['0.35', 'share', 0.35],
    ['12', 'count', 12],
    ['1300', 'money', 1300],
    ['180 deg', 'angle', Math.PI],
    ['1 rad', 'angle', 1],
    ['1 ft2', 'area', 0.09290304],
  ])('%s', (text, dimension, expected) => {
    expect(si(text, dimension)).toBe(expected);
  });
});

describe('derived units agree with the rounded factors of NIST SP 811, Appendix B.8 (from memory), to 7 digits', () => {
  test.each<[string, Dimension, number]>([
    ['1 psi', 'pressure', 6.894757e3],
    ['1 inHg', 'pressure', 3.386389e3],
    ['1 ft*lbf', 'energy', 1.355818],
    ['1 in lb', 'torque', 1.129848e-1],
    ['1 ft lb', 'torque', 1.355818],
    ['1 kt', 'speed', 5.144444e-1],
    ['1 km/h', 'speed', 2.777778e-1],
    ['1 deg', 'angle', 1.745329e-2],
  ])('%s', (text, dimension, expected) => {
    expect(Math.abs(si(text, dimension) / expected - 1)).toBeLessThan(5e-7);
  });
});

test('derived factors follow from the exact definitions of inch, foot and pound-force', () => {
  const lbfN = 0.45359237 * 9.80665;
  expect(si('1 psi', 'pressure')).toBeCloseTo(lbfN / 0.0254 ** 2, 9);
  expect(si('1 ft*lbf', 'energy')).toBeCloseTo(lbfN * 0.3048, 14);
  expect(si('1 in lb', 'torque')).toBeCloseTo(lbfN * 0.0254, 15);
  // Conventional mercury: 13 595.1 kg/m3 at standard gravity.
  expect(si('1 inHg', 'pressure')).toBeCloseTo(0.0254 * 13_595.1 * 9.80665, 9);
});

test('fractions as used for tread depth are read exactly', () => {
  expect(si('8/32 in', 'length')).toBe(0.00635);
  expect(si('1 1/2 in', 'length')).toBe(0.0381);
  expect(si('-1 1/2 in', 'length')).toBe(-0.0381);
  expect(si('5/100 m2', 'area')).toBe(0.05);
  expect(si('5/100 m2', 'perArea')).toBe(0.05);
});

test('every dimension has a unit, an example that can be read, and a factor above zero', () => {
  for (const dimension of DIMENSION_NAMES) {
    expect(unitNames(dimension).length).toBeGreaterThan(0);
    const [unit] = unitNames(dimension);
    expect(si(`2 ${unit!}`, dimension)).toBeGreaterThan(si(`1 ${unit!}`, dimension));
  }
});
