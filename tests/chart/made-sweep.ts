import type { PressurePoint, PressureRange, PressureSweep } from '../../lib/decide/pressure-types.js';
import { parseQuantity } from '../../lib/units.js';
import type { LimitCheck, LimitCode } from '../../lib/decide/limit-types.js';

/** Pascals for psi, as a scenario file is read. */
export function pa(psi: number): number {
  const read = parseQuantity(`${psi} psi`, 'pressure');
  if (!read.ok) throw new Error(`not a pressure: ${psi} psi`);
  return read.si;
}

function check(code: LimitCode, value: number, limit: number | null): LimitCheck {
  return {
    code,
    title: code,
    wheel: 'main',
    surface: null,
    binding: true,
    unit: 'm',
    bound: 'at least',
    value,
    limit,
    margin: limit === null ? null : value - limit,
    status: limit === null ? 'not checked' : value >= limit ? 'within' : 'beyond',
    worlds: null,
    season: [],
    needs: [],
    source: 'test',
    caution: null,
  };
}

/** A pressure with invented figures that rise and fall as they would. */
export function madePoint(psi: number, ownPsi: number): PressurePoint {
  const median = 900 - 2.2 * (psi - 26) ** 2;
  const fairingM = (psi - 33) / 1500;
  const broken: LimitCode[] = [];
  if (fairingM < 0) broken.push('fairing clearance at rest');
  if (psi > 40) broken.push('rated pressure');
  const flat = 0.004 + 0.00002 * (psi - 15) ** 2 + (psi < 18 ? 0.01 : 0);
  const difference = {
    estimate: median - 880,
    standardError: 4,
    lower: median - 888,
    upper: median - 872,
    varianceRatio: 0.1,
  };
  return {
    pressurePa: pa(psi),
    pressurePsi: psi,
    own: psi === ownPsi,
    lifeHours: {
      p10: 0.6 * median,
      p50: median,
      p90: 1.45 * median,
      p50Interval: { lower: 0.97 * median, upper: 1.03 * median },
      restrictedMean: { estimate: median, standardError: 9, lower: median - 18, upper: median + 18 },
      horizon: 2000,
    },
    firstBand: psi < 26 ? 'shoulders' : 'centre',
    shoulderOverCentre: 26 / psi,
    flatSeason: { estimate: flat, standardError: flat / 20, lower: flat * 0.9, upper: flat * 1.1 },
    pinchSeason: { estimate: psi < 18 ? 0.01 : 0.0001, standardError: 0.0001 },
    beadSlips: { estimate: 0, standardError: 0 },
    beadMarginNm: 400,
    hydroplaningMps: { wheelNotTurning: 20, rollingWheel: 24 },
    push: [
      { surface: 'paved', forceN: 190 + 900 / psi, people: (190 + 900 / psi) / 100, needs: [] },
      { surface: 'gravel', forceN: 205 + 2400 / psi, people: (205 + 2400 / psi) / 100, needs: [] },
      { surface: 'turf', forceN: null, people: null, needs: ['surfaces.turf.coneIndex'] },
    ],
    clearances: [
      { kind: 'fairing at rest', state: 'cold', gaugePa: pa(psi), clearanceM: fairingM + 0.002 },
      { kind: 'fairing at rest', state: 'leaked', gaugePa: 0.9 * pa(psi), clearanceM: fairingM },
      { kind: 'propeller', state: 'cold', gaugePa: pa(psi), clearanceM: 0.24 + psi / 2000 },
      { kind: 'propeller', state: 'leaked', gaugePa: 0.9 * pa(psi), clearanceM: 0.235 + psi / 2000 },
    ],
    costPerFlightHour: {
      estimate: 12 - median / 200,
      standardError: 0.1,
      lower: 11.8 - median / 200,
      upper: 12.2 - median / 200,
    },
    versusOwn: { lifeHours: difference, costPerFlightHour: null },
    checks: [
      check('fairing clearance at rest', fairingM, 0),
      check('propeller clearance', 0.24, 0.178),
      check('push by hand', 230, 300),
    ],
    broken,
  };
}

/** A range between two pressures, psi. */
export function madeRange(
  lowPsi: number,
  highPsi: number,
  ends: Partial<Pick<PressureRange, 'lowEnd' | 'highEnd'>> = {},
): PressureRange {
  return {
    lowPsi,
    highPsi,
    lowPa: pa(lowPsi),
    highPa: pa(highPsi),
    lowEnd: { kind: 'limit', code: 'fairing clearance at rest', title: 'gap at rest' },
    highEnd: { kind: 'limit', code: 'rated pressure', title: 'cold pressure' },
    ...ends,
  };
}

/** A sweep of invented figures: the set-up's own pressure is 30 psi, and the fairing touches below 33. */
export function madeSweep(changes: Partial<PressureSweep> = {}): PressureSweep {
  const points = [12, 16, 20, 24, 28, 30, 32, 36, 40, 44].map((psi) => madePoint(psi, 30));
  const versusOwn = { estimate: 15, standardError: 4, lower: 7, upper: 23, varianceRatio: 0.1 };
  return {
    setup: 'faired six',
    mix: 'half rough',
    mainTire: 'standard',
    version: '0.1.0',
    seed: 'chart',
    trials: 500,
    scenarioHash: '0'.repeat(64),
    currency: 'credits',
    ownPressurePa: pa(30),
    ownPressurePsi: 30,
    points,
    limitsRange: madeRange(33, 40),
    brokenThroughout: [],
    notChecked: [],
    bestLife: { pressurePa: pa(36), pressurePsi: 36, versusOwn, notToldApartPa: [pa(36), pa(40)] },
    lowestCost: { pressurePa: pa(36), pressurePsi: 36, versusOwn, notToldApartPa: [pa(36)] },
    sensibleRange: madeRange(33, 38, { highEnd: { kind: 'life' } }),
    sensibleLifeShare: 0.9,
    checkForLimits: null,
    checkForSensible: null,
    cautions: [],
    ...changes,
  };
}
