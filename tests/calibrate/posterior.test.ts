import { beforeAll, describe, expect, test } from 'vitest';
import { agreeBetterText } from '../../dist/calibrate/check-fit.js';
import { assumptionsFile } from '../../dist/calibrate/assumptions-file.js';
import { fitAssumptions, NotConvergedError } from '../../dist/calibrate/posterior.js';
import type { AssumptionFit as Fit } from '../../dist/calibrate/posterior-types.js';
import type { Logbook } from '../../dist/calibrate/record-types.js';
import { valueAtScore } from '../../dist/calibrate/prior.js';
import { standardNormalQuantile } from '../../dist/numeric/normal.js';
import { normalCdf } from '../../dist/numeric/special.js';
import { CancelledError, UsageError } from '../../dist/problems.js';
import { assumptionQuantile, medianWorld } from '../../dist/simulate/world.js';
import { DOUBTED, doubtedScenario, inventLog, type LogShape } from '../support/invented-records.js';
import { quietScenario } from '../support/scenarios.js';

const scenario = doubtedScenario();
const index = (path: string): number => scenario.assumptions.findIndex((each) => each.path === path);
const SHAPE: LogShape = {
  airplanes: 4,
  landingsPerDay: 5,
  days: 100,
  readEvery: 20,
  errorM: 0.0003,
  wornSpreadM: 0.0005,
  checkEvery: 20,
  pressureErrorPa: 3000,
};
const OPTIONS = { newGrooveSpreadM: 0, wornSpreadM: 0.0005, pressureErrorPa: 3000 };

/** A true world away from the medians. */
function truth(): Float64Array {
  const world = medianWorld(scenario);
  const set = (path: string, score: number): void => {
    world[index(path)] = valueAtScore(scenario.assumptions[index(path)]!, score);
  };
  set('assumptions.abradability', 1);
  set('surfaces.rough.wearFactor', -0.8);
  set('assumptions.bandGain', 0.5);
  set('assumptions.tubePermeation', -1);
  set('surfaces.plain.sharpStones', -1);
  set('surfaces.rough.sharpStones', -1);
  return world;
}

const world = truth();
const log = inventLog(scenario, world, SHAPE, 'recovery');
let fit: Fit;
beforeAll(async () => {
  fit = await fitAssumptions(scenario, log, OPTIONS);
}, 120_000);

function quantile(of: Fit, path: string, probability: number): number {
  return of.assumptions.find((each) => each.path === path)!.quantiles.posterior[
    of.probabilities.indexOf(probability)
  ]!;
}

describe('a fit of an invented log', () => {
  test.each([
    'assumptions.abradability',
    'surfaces.rough.wearFactor',
    'assumptions.bandGain',
    'assumptions.tubePermeation',
  ])('holds the truth of %s in its 98 per cent interval', (path) => {
    expect(world[index(path)]!).toBeGreaterThan(quantile(fit, path, 0.01));
    expect(world[index(path)]!).toBeLessThan(quantile(fit, path, 0.99));
  });

  test('says what was learned and what was not, and why', () => {
    const verdict = (path: string): string => fit.assumptions.find((each) => each.path === path)!.verdict;
    expect(verdict('assumptions.abradability')).toBe('learned');
    expect(verdict('surfaces.rough.wearFactor')).not.toBe('not identified');
    for (const { reason, scoreDeviation, verdict: word } of fit.assumptions) {
      expect(reason).toMatch(/\.$/);
      expect(word === 'learned').toBe(scoreDeviation <= 0.5);
    }
  });

  test('tells convergence, and has converged', () => {
    expect(fit.convergence.converged).toBe(true);
    expect(fit.convergence.largestRHat).toBeLessThanOrEqual(1.02);
    expect(fit.convergence.smallestEffectiveSize).toBeGreaterThanOrEqual(400);
  });

  test('is plain data', () => {
    expect(JSON.parse(JSON.stringify(fit))).toEqual(fit);
  });

  test('keeps the prior quantiles of the scenario beside the posterior ones', () => {
    const { quantiles } = fit.assumptions.find(({ path }) => path === 'assumptions.bandGain')!;
    fit.probabilities.forEach((p, k) => {
      const prior = assumptionQuantile(scenario.assumptions[index('assumptions.bandGain')]!, p);
      expect(quantiles.prior[k]! / prior).toBeCloseTo(1, 12);
    });
  });

  test('finds no conflict, and its intervals hold about what they should', () => {
    expect(fit.checks.conflicts).toEqual([]);
    const stepwise = fit.checks.calibration.find(({ what }) => what.includes('each from those before'))!;
    expect(stepwise.low).toBeLessThan(0.8);
    expect(stepwise.high).toBeGreaterThan(0.8);
  });

  test('advises readings that narrow, the most telling first', () => {
    expect(fit.nextReadings.length).toBeGreaterThan(2);
    const gains = fit.nextReadings.map(({ information }) => information);
    expect(gains).toEqual(gains.toSorted((one, other) => other - one));
    for (const { narrows } of fit.nextReadings)
      for (const { now, then } of narrows) expect(then).toBeLessThan(now);
  });
});

test('the same records in any order give the same draws', async () => {
  const turned: Logbook = {
    ...log,
    tires: log.tires.toReversed(),
    readings: log.readings.toReversed(),
    flights: log.flights.toReversed(),
    pressureChecks: log.pressureChecks.toReversed(),
  };
  const again = await fitAssumptions(scenario, turned, OPTIONS);
  expect(again.draws).toEqual(fit.draws);
  expect(again.assumptions).toEqual(fit.assumptions);
});

test('no records leave the prior as it is', async () => {
  const empty: Logbook = { ...log, tires: [], readings: [], flights: [], pressureChecks: [], cuts: [] };
  const nothing = await fitAssumptions(scenario, empty);
  expect(nothing.assumptions).toEqual([]);
  expect(nothing.untouched).toEqual(
    scenario.assumptions.filter(({ kind }) => kind !== 'fixed').map(({ path }) => path),
  );
  expect(() => assumptionsFile(nothing)).toThrow(UsageError);
});

test('one coarse reading leaves the prior nearly as it is, quantile by quantile', async () => {
  const one: Logbook = {
    ...log,
    readings: log.readings.slice(0, 1).map((each) => ({ ...each, errorM: 0.009 })),
    pressureChecks: [],
  };
  const alone = { ...one, tires: one.tires.filter(({ id }) => id === one.readings[0]!.tire) };
  const coarse = await fitAssumptions(scenario, alone, OPTIONS);
  for (const { quantiles, effectiveSize, path } of coarse.assumptions) {
    if (!path.startsWith('assumptions.')) continue;
    const { kind, a, b } = scenario.assumptions[index(path)]!;
    expect(kind).toBe('lognormal');
    // The chance of lying below the prior's median: half, within 4.42 errors and what the reading may have moved.
    const scoreOf = (value: number): number => Math.log(value / a) / b;
    const median = scoreOf(quantiles.posterior[coarse.probabilities.indexOf(0.5)]!);
    expect(Math.abs(normalCdf(median) - 0.5)).toBeLessThan(0.08 + (4.42 * 0.5) / Math.sqrt(effectiveSize));
    expect(standardNormalQuantile(normalCdf(median))).toBeCloseTo(median, 6);
  }
});

test('records that contradict each other are told, tire by tire', async () => {
  const [first] = log.tires;
  const broken: Logbook = {
    ...log,
    readings: log.readings.map((each) =>
      each.tire === first!.id && each.day === 40
        ? { ...each, grooveM: Math.max(0, each.grooveM - 0.004) }
        : each,
    ),
  };
  const found = await fitAssumptions(scenario, broken, OPTIONS);
  expect(found.checks.conflicts.length).toBeGreaterThan(0);
  expect(found.checks.conflicts.join(' ')).toContain('scatter far more than their stated error');
  expect(found.checks.tires[0]!.tire).toBe(first!.id);
});

test('pressures that agree far better than the error assumed are a remark, and no conflict', async () => {
  const found = await fitAssumptions(scenario, log, { ...OPTIONS, pressureErrorPa: 40_000 });
  expect(found.checks.conflicts).toEqual([]);
  expect(found.remarks).toContain(agreeBetterText('pressure readings').slice(0, -1));
});

test('progress of a fit never falls and ends at 1; a signal is heard in the middle of it', async () => {
  const shares: number[] = [];
  await fitAssumptions(scenario, log, { ...OPTIONS, onProgress: (share) => shares.push(share) });
  expect(shares).toEqual([...shares].sort((one, other) => one - other));
  expect(shares.length).toBeGreaterThan(2);
  expect(shares.at(-1)).toBe(1);
  const stop = new AbortController();
  let heard = 0;
  const stopped = fitAssumptions(scenario, log, {
    ...OPTIONS,
    signal: stop.signal,
    onProgress: () => {
      heard++;
      stop.abort();
    },
  });
  await expect(stopped).rejects.toThrow(CancelledError);
  expect(heard).toBe(1);
});

test('records far from the scenario are told', async () => {
  const worn = medianWorld(scenario);
  worn[scenario.global.abradability]! *= 4;
  const far = inventLog(scenario, worn, { ...SHAPE, days: 40 }, 'far');
  const found = await fitAssumptions(scenario, far, OPTIONS);
  expect(found.checks.conflicts.join(' ')).toMatch(
    /abradability far above what the scenario holds for plausible/,
  );
});

test('held-out tires are predicted and not learned from', async () => {
  const held = log.tires.slice(0, 4).map(({ id }) => id);
  const found = await fitAssumptions(scenario, log, { ...OPTIONS, heldOut: held });
  expect(found.used.readings).toBeLessThan(fit.used.readings);
  const { of } = found.checks.calibration.find(({ what }) => what.startsWith('held-out'))!;
  expect(of).toBe(log.readings.filter(({ tire }) => held.includes(tire)).length);
  // What they read cannot matter: changed readings of held-out tires give the same draws.
  const changed = {
    ...log,
    readings: log.readings.map((each) =>
      held.includes(each.tire) ? { ...each, grooveM: 0.9 * each.grooveM } : each,
    ),
  };
  expect((await fitAssumptions(scenario, changed, { ...OPTIONS, heldOut: held })).draws).toEqual(found.draws);
});

describe('refusals', () => {
  test('a fit that has not converged is refused, with the estimate so far', async () => {
    const failed = fitAssumptions(scenario, log, { ...OPTIONS, mostDraws: 100 });
    await expect(failed).rejects.toThrow(NotConvergedError);
    await failed.catch((error: unknown) => {
      expect((error as NotConvergedError).fit.draws.rows.length).toBeGreaterThan(100);
      expect((error as NotConvergedError).message).toContain('R-hat');
    });
  });

  test.each([
    [{ draws: 1 }, 'draws is 1; it must be a number from 2 to 20000'],
    [{ chains: 2.5 }, 'chains is 2.5; it must be a whole number'],
    [{ grooveErrorM: 0.4 }, 'grooveErrorM is 0.4; it must be a number from 0.000001 to 0.01'],
    [{ heldOut: ['nobody'] }, 'heldOut names nobody; the records have no such tire'],
    [{ mix: 'onyl' }, 'did you mean "only"?'],
  ])('%j is refused', async (options, words) => {
    const call = fitAssumptions(scenario, log, options);
    await expect(call).rejects.toThrow(UsageError);
    await expect(call).rejects.toThrow(words);
  });

  test('names that the scenario does not have are refused with the nearest one', async () => {
    const flights = log.flights.map((flight) => ({ ...flight, strip: 'trac' }));
    await expect(fitAssumptions(scenario, { ...log, flights })).rejects.toThrow('did you mean "track"?');
  });

  test('a signal stops it', async () => {
    const stop = new AbortController();
    stop.abort();
    await expect(fitAssumptions(scenario, log, { signal: stop.signal })).rejects.toThrow(CancelledError);
  });

  test('a scenario that is fitted already is refused', async () => {
    const fitted = quietScenario(DOUBTED, JSON.parse(assumptionsFile(fit)) as never);
    expect(fitted.fitted!.rows).toBe(1000);
    await expect(fitAssumptions(fitted, log)).rejects.toThrow('fitted already');
  });
});
