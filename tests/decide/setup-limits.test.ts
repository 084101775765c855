import { describe, expect, it } from 'vitest';
import { setupLimits } from '../../dist/decide/setup-limits.js';
import type { LimitCheck, LimitCode, SetupLimits } from '../../dist/decide/limit-types.js';
import { UsageError } from '../../dist/problems.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';

const INCH_M = 0.0254;
const PSI_PA = 6894.757293168;
const GRAVITY = 9.80665;

/**
 * One airplane by hand: 1400 kg, 20 % on the nose; 26 x 10 in tires on 6 in rims rated 30 psi, measured at 30 psi all
 * round; then the mains at 20 psi.
 */
const worked = {
  setups: { only: { mainPressure: '20 psi' } },
  airplanes: {
    'reference four-seater': {
      maximumMass: '1400 kg',
      handlingMass: '1000 kg',
      tailSettles: fixed('3 in'),
      geometry: {
        measuredMainTire: 'plain',
        measuredMainPressure: '30 psi',
        measuredThirdTire: 'plain',
        measuredThirdPressure: '30 psi',
        measuredMass: '1400 kg',
        wheelbase: '60 in',
        propellerAhead: '75 in',
        propellerClearance: '9 in',
        strutTravel: '2 in',
        tailBehind: '150 in',
        tailClearance: '36 in',
        tailAngleNeeded: '12 deg',
        attitude: '2 deg',
        attitudeLeast: '0 deg',
        attitudeMost: '2.4 deg',
        source: 'test',
      },
    },
  },
  sidewalls: { plain: { sideBulge: fixed('25 %'), growth: fixed('1 %'), sideStiffness: fixed('100 %') } },
  assumptions: { ledgeTorque: fixed('500 N m'), bumpLoad: fixed('1.5') },
  tires: { plain: { ratedLoad: '600 kg', ratedSpeed: '60 kt', flangeHeight: '0.7 in' } },
  strips: { place: { wetShare: '50 %' } },
};

const fairing = {
  setups: {
    only: {
      fairings: true,
      fairingFit: {
        gap: '0.2 in',
        measuredPressure: '30 psi',
        measuredMass: '1400 kg',
        rearBehind: '14 in',
        rearHeight: '5 in',
        chockHeight: '4 in',
        source: 'test',
      },
    },
  },
};

function limitsOf(...changes: Parameters<typeof quietScenario>): SetupLimits {
  return setupLimits(quietScenario(...changes), { worlds: 2 })[0]!;
}

function checkOf({ checks }: SetupLimits, code: LimitCode, wheel?: string, bound?: string): LimitCheck {
  const found = checks.filter(
    (check) =>
      check.code === code &&
      (wheel === undefined || check.wheel === wheel) &&
      (bound === undefined || check.bound === bound),
  );
  expect(found, code).toHaveLength(1);
  return found[0]!;
}

function expectCheck(check: LimitCheck, value: number, limit: number, digits: number): void {
  expect(check.value).toBeCloseTo(value, digits);
  expect(check.limit).toBeCloseTo(limit, digits);
  const margin = check.bound === 'at most' ? limit - value : value - limit;
  expect(check.margin).toBeCloseTo(margin, digits);
  expect(check.status).toBe(margin >= 0 ? 'within' : 'beyond');
  expect(check.needs).toEqual([]);
}

// Width times mean size: 10 x sqrt(260) = 161.245 in2.
const AREA_IN2 = 161.245155;
const MAIN_LBF = (560 * GRAVITY) / 4.4482216152605;
const NOSE_LBF = (280 * GRAVITY) / 4.4482216152605;
// 1234.59 lb over (30 + 2.4) x 161.245 = 5224.34 lb: 0.236314, above 0.168: 10 (0.236314 / 2.4 + 0.03) = 1.284643 in.
const MAIN_AT_30_IN = 10 * (MAIN_LBF / (32.4 * AREA_IN2) / 2.4 + 0.03);
// The same over (20 + 2.4) x 161.245 = 3611.89 lb: 0.341812: 1.724215 in.
const MAIN_AT_20_IN = 10 * (MAIN_LBF / (22.4 * AREA_IN2) / 2.4 + 0.03);
// 617.29 lb over 5224.34 lb: 0.118157, below 0.168: 10 (-0.96 + sqrt(0.9216 + 28.8 x 0.118157)) / 14.4 = 0.777463 in.
const NOSE_IN = (10 * (-0.96 + Math.sqrt(0.9216 + 28.8 * (NOSE_LBF / (32.4 * AREA_IN2))))) / 14.4;
const SINKS_IN = MAIN_AT_20_IN - MAIN_AT_30_IN;

describe('a worked case', () => {
  const limits = limitsOf(worked, fairing);

  it('has the deflections of its tires', () => {
    expect([MAIN_AT_30_IN, MAIN_AT_20_IN, NOSE_IN].map((inches) => inches.toFixed(4))).toEqual([
      '1.2846',
      '1.7242',
      '0.7775',
    ]);
    const heights = limits.figures.map(({ code, value }) => [code, value]);
    expect(heights[0]![0]).toBe('loaded height');
    expect((heights[0]![1] as number) / INCH_M).toBeCloseTo(13 - MAIN_AT_20_IN, 5);
    expect((heights[1]![1] as number) / INCH_M).toBeCloseTo(13 - NOSE_IN, 5);
  });

  it('loads: 560 kg on a main wheel, rated 600 kg at 30 psi, so 400 kg at 20 psi', () => {
    expectCheck(checkOf(limits, 'rated load', 'main'), 560, 600, 9);
    expectCheck(checkOf(limits, 'load at pressure', 'main'), 560, 400, 9);
    expectCheck(checkOf(limits, 'rated load', 'nose'), 280, 600, 9);
    expectCheck(checkOf(limits, 'load at pressure', 'nose'), 280, 600, 9);
    expectCheck(checkOf(limits, 'rated pressure', 'main'), 20 * PSI_PA, 30 * PSI_PA, 6);
  });

  it('deflection at rest as a share of 9.3 in above the flange', () => {
    expectCheck(checkOf(limits, 'deflection at rest', 'main'), MAIN_AT_20_IN / 9.3, 0.45, 6);
  });

  it('speed: 42 kt x 1.2 without spread, sea level, 15 degC', () => {
    expectCheck(checkOf(limits, 'rated speed', 'main'), 42 * 1.2 * 0.514444444, 60 * 0.514444444, 6);
  });

  it('speed in thin warm air: 84 307 Pa at 1524 m, 30 degC, one landing in a thousand at 0.1 spread', () => {
    const high = limitsOf(worked, {
      strips: { place: { elevation: '1524 m' } },
      season: {
        months: [{ month: 'July', landings: '1000', flightHours: '500 h', temperature: '30 degC' }],
      },
      habits: { touchdownSpeedSpread: fixed('0.1') },
    });
    // Density ratio 84 307 / 101 325 x 288.15 / 303.15: true speed 1.1245 times the indicated; 1.2 + 3.0902 x 0.1.
    const trueRatio = Math.sqrt((101_325 / 84_307) * (303.15 / 288.15));
    expect(trueRatio).toBeCloseTo(1.1245, 4);
    const speedMps = 42 * (1852 / 3600) * 1.50902 * trueRatio;
    expect(checkOf(high, 'rated speed', 'main').value).toBeCloseTo(speedMps, 3);
    expect(checkOf(high, 'rated speed', 'main').status).toBe('beyond');
  });

  it('the mains sink 0.4396 in, so the propeller a quarter wheelbase ahead of the nose wheel rises 0.1099 in', () => {
    const valueIn = 9 + SINKS_IN * 0.25;
    expect(valueIn).toBeCloseTo(9.1099, 4);
    expectCheck(checkOf(limits, 'propeller clearance'), valueIn * INCH_M, 7 * INCH_M, 7);
    // Nose axle from 12.2225 in down to 3.7 in on the flange, and 2 in of strut: 10.5225 in x 1.25 = 13.1532 in.
    const flatIn = valueIn - (13 - NOSE_IN - 3.7 + 2) * 1.25;
    expect(flatIn).toBeCloseTo(-4.0433, 4);
    expectCheck(checkOf(limits, 'propeller clearance, flat tire'), flatIn * INCH_M, 0, 7);
  });

  it('and the nose comes up by 0.4396 in over 60 in', () => {
    const degrees = (SINKS_IN / 60) * (180 / Math.PI);
    expect(2 + degrees).toBeCloseTo(2.4198, 4);
    const radians = ((2 + degrees) * Math.PI) / 180;
    expectCheck(checkOf(limits, 'attitude at rest', undefined, 'at least'), radians, 0, 8);
    expectCheck(checkOf(limits, 'attitude at rest', undefined, 'at most'), radians, (2.4 * Math.PI) / 180, 8);
  });

  it('the tail, 2.5 wheelbases behind, sinks 3.5 x 0.4396 in', () => {
    const tailIn = 36 - 3.5 * SINKS_IN;
    expect(tailIn).toBeCloseTo(34.4615, 4);
    const tail = limits.figures.find(({ code }) => code === 'tail height')!;
    expect(tail.value! / INCH_M).toBeCloseTo(tailIn, 6);
    expectCheck(checkOf(limits, 'tail angle'), Math.atan(tailIn / 150), (12 * Math.PI) / 180, 5);
  });

  it('the side bulges a quarter of 0.4396 in, and grows 1 % of 10 in by halves: 0.2 - 0.1099 - 0.05 in', () => {
    const gapIn = 0.2 - 0.25 * SINKS_IN - 0.05;
    expect(gapIn).toBeCloseTo(0.0401, 4);
    expectCheck(checkOf(limits, 'fairing clearance at rest'), gapIn * INCH_M, 0, 8);
    // 1.5 times the load: 10 (1.5 x 0.341812 / 2.4 + 0.03) = 2.436323 in.
    const bumpIn = 10 * ((1.5 * MAIN_LBF) / (22.4 * AREA_IN2) / 2.4 + 0.03);
    expect(bumpIn).toBeCloseTo(2.4363, 4);
    const onBumpIn = 0.2 - 0.25 * (bumpIn - MAIN_AT_30_IN) - 0.05;
    expect(onBumpIn).toBeCloseTo(-0.1379, 4);
    expectCheck(checkOf(limits, 'fairing clearance on a bump'), onBumpIn * INCH_M, 0, 8);
  });

  it('aft chock: 5 in - 0.4396 in - 14 in x 3/150 - 4 in', () => {
    const roomIn = 5 - SINKS_IN - (14 * 3) / 150 - 4;
    expect(roomIn).toBeCloseTo(0.2804, 4);
    expectCheck(checkOf(limits, 'aft chock clearance'), roomIn * INCH_M, 0, 8);
  });

  it('bead: 0.8 x 5491.7 N x 11.2758 in against 2 x 0.3 x 20 psi x pi (8^2 - 3^2) in2 x 3 in + 500 N m', () => {
    const brakingNm = 0.8 * 560 * GRAVITY * (13 - MAIN_AT_20_IN) * INCH_M;
    expect(brakingNm).toBeCloseTo(1258.29, 1);
    const forceN = 20 * PSI_PA * Math.PI * (64 - 9) * INCH_M * INCH_M;
    const heldNm = 2 * 0.3 * forceN * 3 * INCH_M + 500;
    expect(heldNm).toBeCloseTo(1202.8, 1);
    expectCheck(checkOf(limits, 'bead slip'), brakingNm, heldNm, 4);
  });

  it('water: 50.4 kt against 7.7 sqrt(20) = 34.4 kt and 9 sqrt(20) = 40.2 kt', () => {
    const knots = 1852 / 3600;
    const speed = 42 * 1.2 * knots;
    expectCheck(checkOf(limits, 'hydroplaning, wheel not turning'), speed, 34.4355 * knots, 4);
    expectCheck(checkOf(limits, 'hydroplaning, rolling wheel'), speed, 40.2492 * knots, 4);
  });

  it('pushing 1000 kg on pavement: 800 kg at 0.012 + 0.35/20 and 200 kg at 0.012 + 0.35/30', () => {
    const forceN = GRAVITY * (800 * (0.012 + 0.35 / 20) + 200 * (0.012 + 0.35 / 30));
    expect(forceN).toBeCloseTo(277.86, 2);
    expectCheck(checkOf(limits, 'push by hand'), forceN, 300, 6);
  });

  it('without a season or doubt: no other states, and all worlds alike', () => {
    for (const { season, worlds, value, status } of limits.checks) {
      expect(season).toEqual([]);
      expect([worlds!.p10, worlds!.p90]).toEqual([value, value]);
      expect(worlds!.shareBeyond).toBe(status === 'beyond' ? 1 : 0);
    }
  });

  it('says who decides, and whose measures these are', () => {
    expect(limits.cautions.map(({ code }) => code)).toEqual(['authority', 'measures']);
    expect(limits.cautions[1]!.message).toContain('(test)');
  });
});

describe('soft ground, by hand', () => {
  const soft = {
    surfaces: {
      plain: { paved: false, bearingRatio: fixed('10 %'), coneIndex: fixed('400 kPa') },
    },
  };
  const limits = limitsOf(worked, soft);

  it('bears 8.1 x 10 / pi = 25.78 psi; the footprint is 2.3 x 1.7242 x sqrt(260) in2', () => {
    const areaIn2 = 2.3 * MAIN_AT_20_IN * Math.sqrt(260);
    const noseAreaIn2 = 2.3 * NOSE_IN * Math.sqrt(260);
    const pressurePsi = Math.max(MAIN_LBF / areaIn2, NOSE_LBF / noseAreaIn2);
    expect(pressurePsi).toBeCloseTo(21.409, 3);
    const check = checkOf(limits, 'ground bearing');
    expectCheck(check, pressurePsi * PSI_PA, ((8.1 * 10) / Math.PI) * PSI_PA, 2);
    expect(check).toMatchObject({ surface: 'plain', binding: false });
  });

  it('holds a wheel back by 1/B on top of the tire', () => {
    const wheelN = (massKg: number, psi: number): number => {
      const loadN = massKg * GRAVITY;
      const ratio = loadN / 4.4482216152605 / ((psi + 2.4) * AREA_IN2);
      const deflectionIn =
        ratio > 0.168 ? 10 * (ratio / 2.4 + 0.03) : (10 * (-0.96 + Math.sqrt(0.9216 + 28.8 * ratio))) / 14.4;
      const wheelNumeric = (400_000 * 0.254 * 0.6604) / loadN;
      const soil = (1 + (3 * 10) / 26) / (wheelNumeric * (1 + (5 * deflectionIn) / 10));
      return loadN * (0.012 + 0.35 / psi + soil);
    };
    const forceN = 2 * wheelN(400, 20) + wheelN(200, 30);
    expectCheck(checkOf(limits, 'push by hand'), forceN, 300, 4);
    // Ground that gives way is pushed over when it must be, so it bounds no range.
    expect(checkOf(limits, 'push by hand').binding).toBe(false);
  });

  it('knows no hydroplaning where nothing is paved, and no full braking on pavement where there is none', () => {
    expect(limits.checks.filter(({ code }) => code.startsWith('hydroplaning'))).toEqual([]);
    const unpaved = limitsOf(worked, soft, { surfaces: { paved: { paved: false } } });
    expect(checkOf(unpaved, 'bead slip')).toMatchObject({
      status: 'not checked',
      needs: ['surfaces (one that is paved)'],
    });
  });
});

describe('a tail-wheel airplane', () => {
  const tail = { airplanes: { 'reference four-seater': { gear: 'tail' } } };
  const limits = limitsOf(worked, tail);

  it('keeps 9 in below the propeller, which follows the mains, and half of one flat main tire', () => {
    const valueIn = 9 - SINKS_IN;
    expectCheck(checkOf(limits, 'propeller clearance'), valueIn * INCH_M, 9 * INCH_M, 7);
    const dropIn = 13 - MAIN_AT_20_IN - 3.7 + 2;
    expectCheck(
      checkOf(limits, 'propeller clearance, flat tire', 'main'),
      (valueIn - dropIn / 2) * INCH_M,
      0,
      7,
    );
  });

  it('sits nose down by what its mains sink, and has no tail to strike', () => {
    const radians = (2 * Math.PI) / 180 - SINKS_IN / 60;
    expect(checkOf(limits, 'attitude at rest', undefined, 'at least').value).toBeCloseTo(radians, 8);
    expect(limits.checks.filter(({ code }) => code === 'tail angle')).toEqual([]);
    expect(checkOf(limits, 'rated load', 'tail').value).toBeCloseTo(280, 9);
  });
});

describe('pressures of a season', () => {
  const season = {
    mainLowestPa: 15 * PSI_PA,
    mainHighestPa: 24 * PSI_PA,
    mainLandedPa: 20 * PSI_PA,
    thirdLowestPa: 25 * PSI_PA,
    thirdHighestPa: 33 * PSI_PA,
    thirdLandedPa: 30 * PSI_PA,
  };
  const scenario = quietScenario(worked, fairing);
  const limits = setupLimits(scenario, { worlds: 2, seasonPressures: { only: season } })[0]!;

  it('are what a limit is also held against', () => {
    const { season: states } = checkOf(limits, 'load at pressure', 'main');
    expect(states.map(({ state, margin }) => [state, margin!.toFixed(6)])).toEqual([
      ['hot', (480 - 560).toFixed(6)],
      ['landed', (400 - 560).toFixed(6)],
      ['leaked', (300 - 560).toFixed(6)],
    ]);
    expect(states.map(({ gaugePa }) => gaugePa)).toEqual([
      season.mainHighestPa,
      season.mainLandedPa,
      season.mainLowestPa,
    ]);
    expect(checkOf(limits, 'load at pressure', 'nose').season[2]!.gaugePa).toBe(season.thirdLowestPa);
    expect(checkOf(limits, 'rated load', 'main').season).toEqual([]);
  });

  it('give the same value at the cold setting as the check itself', () => {
    const check = checkOf(limits, 'fairing clearance at rest');
    expect(check.season[1]!.value).toBeCloseTo(check.value!, 12);
  });

  it('tell what is within as set but beyond later', () => {
    const caution = limits.cautions.find(({ code }) => code === 'beyond in the season')!;
    expect(checkOf(limits, 'fairing clearance at rest').status).toBe('within');
    expect(checkOf(limits, 'fairing clearance at rest').season[2]!.status).toBe('beyond');
    expect(caution.message).toContain('fairing clearance at rest');
  });
});

it('worlds of a scenario with doubt spread the values, and some go beyond the limit', () => {
  const limits = setupLimits(shippedScenario('mixed-season'), { mixes: ['gravel'] });
  const soft = limits.find(({ setup }) => setup.startsWith('soft'))!;
  const { value, worlds } = checkOf(soft, 'bead slip');
  expect(worlds!.p10).toBeLessThan(value!);
  expect(worlds!.p90).toBeGreaterThan(value!);
  expect(worlds!.shareBeyond).toBeGreaterThan(0.2);
  expect(worlds!.shareBeyond).toBeLessThan(0.8);
  const surfaces = new Set(soft.checks.flatMap(({ surface }) => surface ?? []));
  expect([...surfaces]).toEqual(['paved', 'gravel', 'sand']);
  expect(JSON.parse(JSON.stringify(limits))).toEqual(limits);
});

it('the stiffest set-up compared is the yardstick of side stiffness', () => {
  const limits = setupLimits(shippedScenario('mixed-season'), { worlds: 2 });
  const stiffness = limits.map(
    ({ figures }) => figures.find(({ code }) => code === 'crosswind stiffness')!.value!,
  );
  expect(Math.max(...stiffness)).toBe(1);
  expect(Math.min(...stiffness)).toBeGreaterThan(0);
});

it.each([
  [{ mixes: ['gravle'] }, /there is no runway mix named "gravle"; did you mean "gravel"\?/],
  [{ mixes: [] }, /give at least one/],
  [{ worlds: 1 }, /worlds is 1; it must be a whole number from 2/],
  [{ seasonPressures: { hard: {} as never } }, /there is no set-up named "hard"/],
])('refuses %j', (options, message) => {
  const scenario = shippedScenario('mixed-season');
  expect(() => setupLimits(scenario, options)).toThrow(UsageError);
  expect(() => setupLimits(scenario, options)).toThrow(message);
});
