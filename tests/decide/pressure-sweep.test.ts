import { beforeAll, describe, expect, it } from 'vitest';
import { sweepPressure } from '../../dist/decide/pressure-sweep.js';
import type { PressurePoint, PressureSweep } from '../../dist/decide/pressure-types.js';
import { paToPsi, psiToPa } from '../../dist/decide/pressure-units.js';
import { CancelledError, UsageError } from '../../dist/problems.js';
import { runScenario } from '../../dist/run.js';
import { meanWithInterval } from '../../dist/estimate/paired.js';
import { flightHoursAfter } from '../../dist/scenario/calendar.js';
import { quietScenario, shippedScenario } from '../support/scenarios.js';

const MIXED = shippedScenario('mixed-season');
const TRIALS = 48;
const GRID_PSI = [10, 16, 20, 24, 30, 34];
const options = {
  setup: 'rigid 26 deep',
  mix: 'gravel',
  pressuresPa: GRID_PSI.map(psiToPa),
  trials: TRIALS,
  workers: 1,
};

let sweep: PressureSweep;
const pointAt = (psi: number): PressurePoint => sweep.points.find(({ pressurePsi }) => pressurePsi === psi)!;

beforeAll(async () => {
  sweep = await sweepPressure(MIXED, options);
});

describe('a sweep at the pressure of the set-up', () => {
  it('has the bits of a plain run', async () => {
    const { result, simulation } = await runScenario(MIXED, { trials: TRIALS, workers: 1 });
    const index = result.pairings.findIndex(({ setup, mix }) => setup === options.setup && mix === 'gravel');
    const { life, puncture, season } = result.pairings[index]!;
    const { columns } = simulation.pairings[index]!;
    const own = pointAt(25);
    const hours = Float64Array.from(columns.lifeLandings, (landings) =>
      flightHoursAfter(MIXED.calendar, landings),
    );
    expect(own.own).toBe(true);
    expect(own.lifeHours).toMatchObject({
      p10: life.hours.p10,
      p50: life.hours.p50,
      p90: life.hours.p90,
      p50Interval: life.hours.intervals.p50,
      restrictedMean: meanWithInterval(hours),
    });
    expect(own.flatSeason.estimate).toBe(puncture.season.estimate);
    expect(own.beadSlips).toEqual(season.beadSlips);
    expect(own.versusOwn.lifeHours).toMatchObject({ estimate: 0, standardError: 0, lower: 0, upper: 0 });
  });

  it('does not depend on workers or on the other pressures', async () => {
    const other = await sweepPressure(MIXED, { ...options, pressuresPa: [psiToPa(16)], workers: 2 });
    expect(other.points.map(({ pressurePsi }) => pressurePsi)).toEqual([16, 25]);
    expect(other.points).toEqual([pointAt(16), pointAt(25)]);
  });
});

describe('the points of a sweep', () => {
  it('rise, hold the own pressure, and say which it is', () => {
    expect(sweep.points.map(({ pressurePsi }) => pressurePsi)).toEqual([10, 16, 20, 24, 25, 30, 34]);
    expect(sweep.points.filter(({ own }) => own).map(({ pressurePsi }) => pressurePsi)).toEqual([25]);
    expect(sweep).toMatchObject({
      setup: 'rigid 26 deep',
      mix: 'gravel',
      trials: TRIALS,
      ownPressurePsi: 25,
    });
  });

  it('wear their shoulders first when soft and their centre when hard', () => {
    expect([pointAt(10).firstBand, pointAt(34).firstBand]).toEqual(['shoulders', 'centre']);
    const ratios = sweep.points.map(({ shoulderOverCentre }) => shoulderOverCentre);
    expect(ratios).toEqual([...ratios].sort((one, other) => other - one));
  });

  it('more pressure: less push on pavement, fewer pinches, more bead margin, more speed before water lifts', () => {
    const rising = (read: (point: PressurePoint) => number): void => {
      const values = sweep.points.map(read);
      expect(values).toEqual([...values].sort((one, other) => one - other));
      expect(new Set(values).size).toBe(values.length);
    };
    rising(({ push }) => -push.find(({ surface }) => surface === 'paved')!.forceN!);
    rising(({ pinchSeason }) => -pinchSeason.estimate);
    rising(({ beadMarginNm }) => beadMarginNm!);
    rising(({ hydroplaningMps }) => hydroplaningMps.wheelNotTurning);
    rising(({ hydroplaningMps }) => hydroplaningMps.rollingWheel);
  });

  it('push over the surfaces of the mix', () => {
    expect(pointAt(25).push.map(({ surface }) => surface)).toEqual(['paved', 'gravel', 'sand']);
    for (const { push } of sweep.points)
      for (const { forceN, people } of push) expect(people).toBe(Math.max(1, Math.ceil(forceN! / 100)));
  });

  it('have less propeller clearance as leaked than as hot', () => {
    for (const { clearances } of sweep.points) {
      const states = new Map(clearances.map(({ state, clearanceM }) => [state, clearanceM]));
      expect([...states.keys()]).toEqual(['cold', 'hot', 'landed', 'leaked']);
      expect(states.get('leaked')!).toBeLessThan(states.get('cold')!);
      expect(states.get('hot')!).toBeGreaterThan(states.get('cold')!);
    }
  });

  it('differ from the own pressure by less error than two separate runs would', () => {
    const { estimate, standardError, lower, upper, varianceRatio } = pointAt(16).versusOwn.lifeHours;
    const apart = Math.hypot(
      pointAt(16).lifeHours.restrictedMean.standardError,
      pointAt(25).lifeHours.restrictedMean.standardError,
    );
    expect(estimate).toBeCloseTo(
      pointAt(16).lifeHours.restrictedMean.estimate - pointAt(25).lifeHours.restrictedMean.estimate,
      9,
    );
    expect(standardError).toBeLessThan(0.6 * apart);
    expect(varianceRatio).toBeCloseTo((standardError / apart) ** 2, 6);
    expect([lower < estimate, estimate < upper]).toEqual([true, true]);
  });
});

describe('the ranges of a sweep', () => {
  it('end at the rated pressure above, and where the tire may carry the heaviest mass below', () => {
    // 3600 lb, 18 % on the nose: 1476 lb on each main wheel; 1950 lb at 30 psi, in proportion: 22.7077 psi.
    const { limitsRange } = sweep;
    expect(limitsRange!.highPsi).toBeCloseTo(30, 6);
    expect(limitsRange!.highEnd).toMatchObject({ kind: 'limit', code: 'rated pressure' });
    expect(limitsRange!.lowPa / psiToPa((30 * 1476) / 1950)).toBeCloseTo(1, 9);
    expect(limitsRange!.lowEnd).toMatchObject({ kind: 'limit', code: 'load at pressure' });
    expect(
      sweep.points.filter(({ broken }) => broken.length === 0).map(({ pressurePsi }) => pressurePsi),
    ).toEqual([24, 25, 30]);
  });

  it('hold the best pressures, and the sensible range lies inside', () => {
    const { limitsRange, sensibleRange, bestLife, lowestCost } = sweep;
    for (const best of [bestLife, lowestCost!]) {
      expect(best.pressurePa).toBeGreaterThanOrEqual(limitsRange!.lowPa);
      expect(best.pressurePa).toBeLessThanOrEqual(limitsRange!.highPa * (1 + 1e-12));
      expect(best.notToldApartPa).toContain(best.pressurePa);
    }
    expect(bestLife.versusOwn.estimate).toBeGreaterThanOrEqual(0);
    expect(lowestCost!.versusOwn.estimate).toBeLessThanOrEqual(0);
    expect(sensibleRange!.lowPa).toBeGreaterThanOrEqual(limitsRange!.lowPa);
    expect(sensibleRange!.highPa).toBeLessThanOrEqual(limitsRange!.highPa);
  });

  it('are narrower when more of the best life must be kept', async () => {
    const strict = await sweepPressure(MIXED, { ...options, sensibleLifeShare: 0.97 });
    const width = ({ sensibleRange }: PressureSweep): number => sensibleRange!.highPa - sensibleRange!.lowPa;
    expect(width(strict)).toBeLessThan(width(sweep));
    expect(strict.sensibleRange!.lowEnd).toEqual({ kind: 'life' });
  });

  it('leave out what no pressure mends, and say so', async () => {
    // All of these are too soft for the heaviest mass, and too hard to push for three people.
    const soft = await sweepPressure(
      shippedScenario('mixed-season', { setups: { 'rigid 26 deep': { mainPressure: '12 psi' } } }),
      { ...options, pressuresPa: [10, 11, 13].map(psiToPa) },
    );
    expect(soft.brokenThroughout.map(({ code }) => code)).toEqual(['load at pressure', 'push by hand']);
    expect(soft.limitsRange).toMatchObject({
      lowPsi: 10,
      highPsi: 13,
      lowEnd: { kind: 'end of the sweep' },
      highEnd: { kind: 'end of the sweep' },
    });
  });

  it('are told how often to read the pressure', () => {
    const { checkForLimits, checkForSensible } = sweep;
    expect(checkForLimits).toMatchObject({
      setPa: sweep.ownPressurePa,
      lowPa: sweep.limitsRange!.lowPa,
      share: 0.05,
      presentDays: 14,
    });
    expect(checkForSensible!.lowPa).toBe(sweep.sensibleRange!.lowPa);
    expect(checkForSensible!.longestDays ?? Infinity).toBeLessThanOrEqual(
      checkForLimits!.longestDays ?? Infinity,
    );
  });
});

describe('in a scenario without doubt', () => {
  const quietOptions = { setup: 'only', pressuresPa: [20, 25].map(psiToPa), trials: 4, workers: 1 };

  it('differences are exact, and money is not spoken of', async () => {
    const result = await sweepPressure(quietScenario(), quietOptions);
    for (const { lifeHours, versusOwn, costPerFlightHour, flatSeason } of result.points) {
      expect(lifeHours.restrictedMean.standardError).toBe(0);
      expect(versusOwn.lifeHours.standardError).toBe(0);
      expect(versusOwn.lifeHours.estimate).toBe(
        lifeHours.restrictedMean.estimate - result.points.at(-1)!.lifeHours.restrictedMean.estimate,
      );
      expect([costPerFlightHour, versusOwn.costPerFlightHour, flatSeason.estimate]).toEqual([null, null, 0]);
    }
    expect([result.lowestCost, result.currency]).toEqual([null, null]);
  });

  it('the default pressures span the tire', async () => {
    const { points, ownPressurePsi } = await sweepPressure(quietScenario(), {
      setup: 'only',
      trials: 4,
      workers: 1,
    });
    expect(points[0]!.pressurePsi).toBe(6);
    expect(points.at(-1)!.pressurePsi).toBe(30);
    expect(ownPressurePsi).toBe(30);
  });

  it('limits that lack data are listed and bound nothing', async () => {
    const scenario = quietScenario({ airplanes: { 'reference four-seater': { geometry: null } } });
    const { notChecked, cautions, limitsRange } = await sweepPressure(scenario, quietOptions);
    expect(notChecked.find(({ code }) => code === 'propeller clearance')!.needs).toEqual([
      'airplanes.reference four-seater.geometry',
    ]);
    expect(cautions.map(({ code }) => code)).toContain('limits not checked');
    expect(limitsRange).not.toBeNull();
  });

  it('pressures above the rated one are a caution', async () => {
    const { cautions } = await sweepPressure(quietScenario(), {
      ...quietOptions,
      pressuresPa: [psiToPa(40)],
    });
    expect(cautions.map(({ code }) => code)).toContain('above rated pressure');
  });

  it('no range is left where every pressure breaks some limit, but not all of them the same', async () => {
    // 1200 kg take more than three people below 25 psi; the tires are rated 20 psi.
    const scenario = quietScenario({
      tires: { plain: { ratedPressure: '20 psi', ratedLoad: '700 kg' }, other: { like: 'rigid 26 deep' } },
      setups: { only: { thirdTire: 'other' } },
      airplanes: { 'reference four-seater': { maximumMass: '1400 kg', handlingMass: '1200 kg' } },
    });
    const result = await sweepPressure(scenario, { ...quietOptions, pressuresPa: [17, 20].map(psiToPa) });
    expect(result.points.map(({ broken }) => broken)).toEqual([
      ['push by hand'],
      ['push by hand'],
      ['rated pressure'],
    ]);
    expect(result.brokenThroughout).toEqual([]);
    expect(result).toMatchObject({
      limitsRange: null,
      sensibleRange: null,
      checkForLimits: null,
      checkForSensible: null,
    });
    // The best life is then that of all pressures looked at.
    const lives = result.points.map(({ lifeHours }) => lifeHours.restrictedMean.estimate);
    expect(result.bestLife.pressurePa).toBe(result.points[lives.indexOf(Math.max(...lives))]!.pressurePa);
  });
});

it('is plain data', () => {
  expect(JSON.parse(JSON.stringify(sweep))).toEqual(sweep);
});

it('tells how far it has come, and stops when told', async () => {
  const seen: number[] = [];
  const controller = new AbortController();
  const stopped = sweepPressure(MIXED, {
    ...options,
    signal: controller.signal,
    onProgress: ({ finishedTrials, totalTrials }) => {
      seen.push(finishedTrials / totalTrials);
      if (finishedTrials >= TRIALS) controller.abort();
    },
  });
  await expect(stopped).rejects.toThrow(CancelledError);
  expect(seen).toEqual([...seen].sort((one, other) => one - other));
  expect(seen.at(-1)).toBeLessThan(1);
});

it.each([
  [{ setup: 'rigid 26 dep' }, /there is no set-up named "rigid 26 dep"; did you mean "rigid 26 deep"\?/],
  [{ mix: 'gravle' }, /there is no runway mix named "gravle"; did you mean "gravel"\?/],
  [{ trials: 1 }, /trials is 1/],
  [{ pressuresPa: [25] }, /stated in Pa/],
  [
    { readingShare: 5 },
    /readingShare is 5; it must be a share above 0, at most 1; for five per cent write 0.05/,
  ],
  [{ sensibleLifeShare: 0 }, /sensibleLifeShare is 0/],
])('refuses %j', async (wrong, message) => {
  const attempt = sweepPressure(MIXED, { ...options, ...wrong });
  await expect(attempt).rejects.toThrow(UsageError);
  await expect(attempt).rejects.toThrow(message);
});

it('looks at the first mix of the file unless told otherwise', async () => {
  const { mix, points } = await sweepPressure(MIXED, {
    setup: options.setup,
    pressuresPa: [psiToPa(24)],
    trials: 4,
    workers: 1,
  });
  expect(mix).toBe('mostly paved');
  expect(paToPsi(points[0]!.pressurePa)).toBe(24);
});
