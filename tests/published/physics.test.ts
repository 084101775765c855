/**
 * Physics against published tables, rules and readings.
 *
 * Status of each outside value:
 *   VERIFIED          the number or formula was read in retrieved text (named);
 *   DERIVED           own arithmetic from stated inputs;
 *   FROM MEMORY       not found in retrieved text (confidence given).
 * The contact formulas and the one published load reading are in tests/models/contact.test.ts.
 */
import { describe, expect, test } from 'vitest';
import { ambientPressurePa, standardTemperatureK } from '../../lib/models/atmosphere.js';
import { centreWorkShare, shoulderWeight, wornDepthM } from '../../lib/models/bands.js';
import { deflectionM, stiffnessAreaM2, verticalStiffnessN } from '../../lib/models/contact.js';
import {
  SPIN_DOWN_COEFFICIENT,
  SPIN_UP_COEFFICIENT,
  hydroplaningSpeedMps,
} from '../../lib/models/hydroplaning.js';
import { gaugePressurePa, referencePressurePa, remainingExcessShare } from '../../lib/models/inflation.js';
import { brakingWorkJ, rollingResistanceRatio, squirmWorkJ } from '../../lib/models/slip-work.js';

const INCH_M = 0.0254;
const FOOT_M = 0.3048;
const KNOT_MPS = 1852 / 3600;
const PSI_PA = 6894.757293168;
const INCH_OF_MERCURY_PA = 3386.388640341;
const LBF_N = 4.4482216152605;
const DAYS_PER_MONTH = 365.25 / 12;

function kelvinOfFahrenheit(degF: number): number {
  return ((degF + 459.67) * 5) / 9;
}

function fahrenheitOfKelvin(kelvin: number): number {
  return (kelvin * 9) / 5 - 459.67;
}

describe('U.S. Standard Atmosphere, 1976', () => {
  // VERIFIED: the psia and inHg columns (two values where published tables and formula differ, geometric against
  // geopotential altitude). DERIVED: the Pa and degF columns above sea level.
  const table: readonly [feet: number, psia: number[], inHg: number[], pascals: number, degF: number][] = [
    [0, [14.696], [29.921], 101_325, 59],
    [2000, [13.664], [27.82], 94_213, 51.87],
    [5000, [12.228, 12.23], [24.9], 84_307, 41.17],
    [8000, [10.914, 10.916], [22.22, 22.23], 75_262, 30.47],
    [10_000, [10.106, 10.108], [20.57, 20.58], 69_682, 23.34],
  ];

  test.each(table)('%d ft', (feet, psia, inHg, pascals, degF) => {
    const pressurePa = ambientPressurePa(feet * FOOT_M);
    const within = (value: number, range: number[], halfDigit: number): void => {
      expect(value).toBeGreaterThanOrEqual(Math.min(...range) - halfDigit);
      expect(value).toBeLessThanOrEqual(Math.max(...range) + halfDigit);
    };
    within(pressurePa / PSI_PA, psia, 0.0005);
    within(pressurePa / INCH_OF_MERCURY_PA, inHg, feet === 0 ? 0.0005 : 0.005);
    expect(Math.abs(pressurePa - pascals)).toBeLessThanOrEqual(1);
    expect(Math.abs(fahrenheitOfKelvin(standardTemperatureK(feet * FOOT_M)) - degF)).toBeLessThanOrEqual(
      0.006,
    );
  });

  test('agrees with three published closed forms from sea level to 30 000 ft, to their rounding', () => {
    // VERIFIED: engineersedge.com, standard atmosphere calculator (psia and degF, Z in ft); UC Santa Cruz note
    // "1976 Standard Atmosphere" (lb/ft2, h in ft; Pa, h in m).
    for (let feet = 0; feet <= 30_000; feet += 500) {
      const pressurePa = ambientPressurePa(feet * FOOT_M);
      const psia = 14.696 * Math.pow(1 - 6.8754e-6 * feet, 5.2559);
      const poundsPerFt2 = 2116.2 * Math.pow(1 - feet / 145_442, 5.255876);
      const pascals = 101_325 * Math.pow(1 - (feet * FOOT_M) / 44_329, 5.255876);
      expect(Math.abs(pressurePa / (psia * PSI_PA) - 1)).toBeLessThan(2e-4);
      expect(Math.abs((pressurePa * FOOT_M * FOOT_M) / (poundsPerFt2 * LBF_N) - 1)).toBeLessThan(2e-4);
      expect(Math.abs(pressurePa / pascals - 1)).toBeLessThan(2e-4);
      const degF = 59 - 0.0035662 * feet;
      expect(Math.abs(fahrenheitOfKelvin(standardTemperatureK(feet * FOOT_M)) - degF)).toBeLessThan(0.01);
    }
  });
});

describe('inflation pressure', () => {
  const seaLevelPa = ambientPressurePa(0);

  function gaugeAt(setPsi: number, setDegF: number, degF: number): number {
    const gas = referencePressurePa(setPsi * PSI_PA, seaLevelPa, kelvinOfFahrenheit(setDegF));
    return gaugePressurePa(gas, seaLevelPa, kelvinOfFahrenheit(degF)) / PSI_PA;
  }

  test('changes by 1 % per 5 degF, of absolute pressure, from -40 to 110 degF', () => {
    // VERIFIED: aviationweek.com, "Essentials of Tire Wear and Care, Part 2". The rule gives a whole percent; that
    // it holds for absolute pressure is DERIVED.
    for (let degF = -40; degF <= 110; degF += 5) {
      const absolutePsi = 25 + seaLevelPa / PSI_PA;
      const percent = (100 * (gaugeAt(25, degF, degF + 5) - 25)) / absolutePsi;
      expect(Math.round(percent)).toBe(1);
    }
  });

  test('is 10 % lower after 50 degF of cooling in a high-pressure tire, for which the rule was made', () => {
    // VERIFIED: same text. In whole percent; 219 psi is the pressure of the field case below.
    expect(Math.round((100 * (219 - gaugeAt(219, 59, 9))) / 219)).toBe(10);
  });

  test('a leak of 5 % in 24 h is one of 2.5 % in 12 h, the two forms of the leakage limit', () => {
    // VERIFIED: care page quoting FAA AC 20-97B, "5 percent / 24 h, alternate 2.5 % / 12 h".
    const lossPerDay = -Math.log(1 - 0.05);
    expect(remainingExcessShare(lossPerDay, 1)).toBeCloseTo(0.95, 12);
    expect((100 * (1 - remainingExcessShare(lossPerDay, 0.5))).toFixed(1)).toBe('2.5');
  });

  test.each([
    [0.016, 0.5],
    [0.031, 1],
  ])('a rate of %d per month takes %d psi a month from a car tire at 32 psi', (perMonth, psi) => {
    // VERIFIED: 0.5 to 1.0 psi a month at 70 degF (Tire Science and Technology 13(1):16).
    // DERIVED: the rates, for a tire at about 32 psi gauge.
    const lost = 32 * (1 - remainingExcessShare(perMonth / DAYS_PER_MONTH, DAYS_PER_MONTH));
    expect(lost.toFixed(1)).toBe(psi.toFixed(1));
  });

  describe('field case of business-jet tires: 219 psi, about 2 % a day, 185 psi after 8 days, about 140 after 3 weeks', () => {
    // VERIFIED: ainonline.com, 2010-04-30; nbaa.org safety alert.
    const after = (dailyLoss: number, days: number): number =>
      219 * remainingExcessShare(-Math.log(1 - dailyLoss), days);

    test('the rate fitted to the reading of 3 weeks, 2.108 % a day, foretells the reading of 8 days', () => {
      // DERIVED: the rate.
      expect(Math.abs(after(0.02108, 21) - 140)).toBeLessThan(0.05);
      expect(Math.round(after(0.02108, 8))).toBe(185);
    });

    test('2 % a day gives 186.3 and 143.3 psi (DERIVED), within 2.5 % of both readings', () => {
      expect(Math.abs(after(0.02, 8) - 186.3)).toBeLessThanOrEqual(0.05);
      expect(Math.abs(after(0.02, 21) - 143.3)).toBeLessThanOrEqual(0.05);
      expect(Math.abs(after(0.02, 8) / 185 - 1)).toBeLessThan(0.025);
      expect(Math.abs(after(0.02, 21) / 140 - 1)).toBeLessThan(0.025);
    });

    test('both readings ask for a rate that the source would call 2 %', () => {
      // Daily loss between 1.5 and 2.5 % rounds to 2 %: both readings lie between the two ends.
      for (const [days, psi] of [
        [8, 185],
        [21, 140],
      ] as const) {
        expect(after(0.015, days)).toBeGreaterThan(psi);
        expect(after(0.025, days)).toBeLessThan(psi);
      }
    });
  });
});

describe('hydroplaning speed', () => {
  const knots = (psi: number, coefficient: number): number =>
    hydroplaningSpeedMps(psi * PSI_PA, coefficient) / KNOT_MPS;

  // VERIFIED: V = 9 sqrt(p) and 7.7 sqrt(p) (NASA TM-85652 as quoted; NASA TN D-2056, title page and summary).
  // DERIVED: the figures of the table.
  test.each([
    [9, 27, 23.1],
    [15, 34.9, 29.8],
    [25, 45, 38.5],
    [30, 49.3, 42.2],
    [42, 58.3, 49.9],
    [50, 63.6, 54.4],
  ])('at %d psi: %d kt rolling, %d kt at touchdown', (psi, rolling, touchdown) => {
    expect(Math.abs(knots(psi, SPIN_DOWN_COEFFICIENT) - rolling)).toBeLessThanOrEqual(0.0501);
    expect(Math.abs(knots(psi, SPIN_UP_COEFFICIENT) - touchdown)).toBeLessThanOrEqual(0.0501);
  });

  // VERIFIED: examples of a light-aviation hydroplaning article, whole knots.
  test.each([
    [30, 49],
    [50, 64],
    [100, 90],
    [150, 110],
    [200, 127],
  ])('published example: %d psi, %d kt', (psi, published) => {
    expect(Math.round(knots(psi, SPIN_DOWN_COEFFICIENT))).toBe(published);
  });
});

describe('rolling resistance and wear', () => {
  test('rolling resistance is linear in load and in the reciprocal of pressure', () => {
    // VERIFIED: Tire Science and Technology 6(3):163, abstract. Three pressures evenly spaced in 1/p.
    const [low, middle, high] = [60, 30, 20].map((psi) => rollingResistanceRatio(0.012, 2400, psi * PSI_PA));
    expect(middle! - low!).toBeCloseTo(high! - middle!, 12);
    expect(middle!).toBeGreaterThan(low!);
    expect(squirmWorkJ(middle!, 6000, 1000, 1)).toBeCloseTo(3 * squirmWorkJ(middle!, 2000, 1000, 1), 9);
  });

  test('wear is proportional to distance slid', () => {
    // VERIFIED: cumulative wear linear with distance, aircraft tires (NASA TN D-6963, McCarty 1972, abstract).
    const depth = (distanceM: number): number =>
      wornDepthM(1e-10 * squirmWorkJ(0.03, 5000, distanceM, 0.06), 0.3);
    expect(depth(3000)).toBeCloseTo(3 * depth(1000), 18);
  });

  test('wear of braking grows with slip ratio', () => {
    // VERIFIED: wear rate rises with slip ratio (NASA TN D-6963, abstract).
    expect(brakingWorkJ(1400, 25, 0.4, 0.1, 2)).toBeGreaterThan(brakingWorkJ(1400, 25, 0.4, 0.05, 2));
  });

  test('the loss of a transport-jet tire in a landing asks for about 0.09 mm3/J, near the pavement prior of 0.10', () => {
    // VERIFIED: 78 g a landing (Springer 10.1007/s42405-024-00723-7, introduction). DERIVED with assumed energies,
    // good to a factor of 2: 9 MJ of braking per tire at 7 % slip, 0.09 MJ of spin-up, 1.15 g/cm3.
    const slipJ = brakingWorkJ(2 * 9e6, 1, 1, 0.07, 1) + 0.09e6;
    const abradability = 78_000 / 1.15 / slipJ;
    expect(Math.abs(abradability - 0.09)).toBeLessThan(0.01);
  });

  test('too much air wears the centre, too little the shoulders', () => {
    // VERIFIED as a fact of the trade (e.g. tirebusiness.com, 2017-09-22). 26x10 tire, 1275 lb; even wear is
    // put at the deflection of 25 psi.
    const loadN = 1275 * LBF_N;
    const widthM = 10 * INCH_M;
    const areaM2 = stiffnessAreaM2(widthM, 26 * INCH_M);
    const deflection = (psi: number): number =>
      deflectionM(loadN, verticalStiffnessN(psi * PSI_PA, 30 * PSI_PA, areaM2), widthM);
    const centreOverShoulder = (psi: number): number => {
      const share = centreWorkShare(0.4, shoulderWeight(deflection(psi), deflection(25), 2));
      return wornDepthM(share, 0.4) / wornDepthM(1 - share, 0.6);
    };
    expect(centreOverShoulder(25)).toBeCloseTo(1, 12);
    expect(centreOverShoulder(30)).toBeGreaterThan(1.1);
    expect(centreOverShoulder(20)).toBeLessThan(0.9);
  });
});
