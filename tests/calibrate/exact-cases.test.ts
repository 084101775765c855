/** Records for which the posterior is known exactly: counts with a gamma prior, and readings with a normal one. */
import { describe, expect, test } from 'vitest';
import { planRecords } from '../../dist/calibrate/likelihood-plan.js';
import { RecordLikelihood } from '../../dist/calibrate/likelihood.js';
import { fitAssumptions } from '../../dist/calibrate/posterior.js';
import type { Logbook, TireRecord, TreadReadingRecord } from '../../dist/calibrate/record-types.js';
import { samplePosterior } from '../../dist/calibrate/sampler.js';
import { standardNormalQuantile } from '../../dist/numeric/normal.js';
import { gammaQuantile, normalCdf, regularizedGammaQ } from '../../dist/numeric/special.js';
import { recordWear } from '../../dist/simulate/wear-histories.js';
import { medianWorld } from '../../dist/simulate/world.js';
import { fixed, quietScenario } from '../support/scenarios.js';

/** Standard errors that a sound sampler passes once in 100 000 times, two-sided. */
const MOST_ERRORS = 4.42;
const PLACE = { file: 'invented', line: 1 };
const DAYS = 30;
const LANDINGS_PER_DAY = 5;

function logOf(tires: readonly Partial<TireRecord>[], readings: readonly TreadReadingRecord[]): Logbook {
  return {
    name: 'exact',
    note: 'Invented.',
    firstDay: 0,
    lastDay: DAYS,
    tires: tires.map((tire, i) => ({
      id: `tire ${i}`,
      airplane: 'plane',
      position: 'left main',
      setup: 'only',
      tireClass: null,
      fittedDay: 0,
      landingsBefore: 0,
      flightHoursBefore: 0,
      end: { kind: 'right', day: DAYS, reason: 'in service' },
      landingsStated: null,
      flightHoursStated: null,
      count: 1,
      place: PLACE,
      ...tire,
    })),
    readings,
    flights: Array.from({ length: DAYS }, (_, day) => ({
      airplane: 'plane',
      fromDay: day + 1,
      toDay: day + 1,
      landings: LANDINGS_PER_DAY,
      flightHours: null,
      strip: 'place',
      surface: null,
      braking: null,
      place: PLACE,
    })),
    pressureChecks: [],
    cuts: [],
    spreadPeriods: false,
    leastCutM: null,
    remarks: [],
  };
}

describe('stones counted, with a gamma prior of their number', () => {
  // Gelman et al., Bayesian Data Analysis, the asthma example (source from memory, numbers worked out in R): the prior
  // Gamma(3, 5) with 3 events in an exposure of 2 gives Gamma(6, 7), with 30 in 20 Gamma(33, 25). Here the events are
  // punctures and cuts of tires that do not wear, and the unit of the rate is such that the exposure is that of the example.
  const scenario = quietScenario({ surfaces: { plain: { sharpStones: fixed('0.01 /m2') } } });

  test.each([
    { events: 3, exposure: 2, mean: 0.857142857, above1: 0.300708276, limits: [0.314556322, 1.666904583] },
    { events: 30, exposure: 20, mean: 1.32, above1: 0.928543969, limits: [0.908627263, 1.806978083] },
  ])('$events events in an exposure of $exposure', async ({ events, exposure, mean, above1, limits }) => {
    const each = events / 3;
    const log = logOf(
      [
        { end: { kind: 'exact', day: DAYS, cause: 'puncture' }, count: each },
        { end: { kind: 'exact', day: DAYS, cause: 'cut' }, count: 2 * each },
        { count: 40 },
      ],
      [],
    );
    const habits = {
      grooveErrorM: 0.0003,
      grooveStepM: 0,
      newGrooveSpreadM: 0,
      mix: undefined,
      heldOut: new Set<string>(),
    };
    const errors = { pressureErrorPa: 3000, wornSpreadM: 0.0005, errorDoubt: 1.5 };
    const likelihood = new RecordLikelihood(scenario, planRecords(scenario, log, habits), errors);
    const at = (factor: number): Parameters<RecordLikelihood['logLikelihood']>[0] => {
      const world = medianWorld(scenario);
      // Tires that do not wear: the rate of stones is all there is.
      world[scenario.global.abradability] = 0;
      scenario.surfaces.forEach(({ sharpStones }) => (world[sharpStones]! *= factor));
      return { world, grooveErrorFactor: 1, pressureErrorFactor: 1 };
    };
    const { punctures, cuts } = likelihood.predictReadings(at(1), true);
    const toFactor = exposure / (punctures + cuts);
    const rateOf = (score: number): number => gammaQuantile(normalCdf(score), 3, 1 / 5);
    const sampled = await samplePosterior(
      1,
      ([score]) => likelihood.logLikelihood(at(toFactor * rateOf(score!))),
      { seed: 'counted stones', effectiveSize: 2000 },
    );
    expect(sampled.converged).toBe(true);
    const size = sampled.diagnostics[0]!.effectiveSize;
    const draws = sampled.chains.flat().map(([score]) => rateOf(score!));
    const found = draws.reduce((sum, value) => sum + value, 0) / draws.length;
    const deviation = Math.sqrt(3 + events) / (5 + exposure);
    expect(Math.abs(found - mean)).toBeLessThan((MOST_ERRORS * deviation) / Math.sqrt(size));
    const shares: [bound: number, above: number][] = [
      [1, above1],
      [limits[0]!, 0.975],
      [limits[1]!, 0.025],
    ];
    for (const [bound, above] of shares) {
      expect(regularizedGammaQ(3 + events, (5 + exposure) * bound)).toBeCloseTo(above, 7);
      const share = draws.filter((value) => value > bound).length / draws.length;
      expect(Math.abs(share - above)).toBeLessThan(MOST_ERRORS * Math.sqrt((above * (1 - above)) / size));
    }
  });
});

test('readings of steady wear with a normal prior: the conjugate normal posterior, through the whole fit', async () => {
  // Depth worn = abradability x slip work, with nothing else in doubt: prior N(m, v), readings with error s, so that the
  // precision is 1 / v + sum x^2 / s^2 (standard result). The work x is that of the simulator, not of the likelihood.
  const [p10, p90] = [0.08, 0.12];
  const scenario = quietScenario({
    assumptions: {
      abradability: { distribution: 'normal', p10: `${p10} mm3/J`, p90: `${p90} mm3/J`, source: 'test' },
    },
  });
  const CUBIC_MM = 1e-9;
  const prior = {
    mean: 0.1 * CUBIC_MM,
    deviation: ((p90 - p10) * CUBIC_MM) / 2 / standardNormalQuantile(0.9),
  };
  const still = quietScenario();
  const days = [10, 20, 30];
  const errorM = 0.00005;
  const slopes: number[] = [];
  const values: number[] = [];
  const readings: TreadReadingRecord[] = [];
  const { newTreadM } = still.setups[0]!.main;
  for (const day of days) {
    const wear = await recordWear(still, { setup: 'only', mix: 'only', trials: 2 }, [LANDINGS_PER_DAY * day]);
    const depths = { centre: wear.left.centreM[0]!, 'inner shoulder': wear.left.innerM[0]! };
    Object.entries(depths).forEach(([band, depthM], i) => {
      // Seen: 15 % more wear than at 0.1 mm3/J, and errors of readings.
      const seenM = 1.15 * depthM + errorM * [0.7, -1.1, 0.4, 1.3, -0.6, -0.2][slopes.length]!;
      slopes.push(depthM / prior.mean);
      values.push(seenM);
      readings.push({
        tire: 'tire 0',
        day,
        band: band as 'centre',
        grooveM: newTreadM - seenM,
        errorM,
        stepM: 0,
        place: { ...PLACE, line: 10 * day + i },
      });
    });
  }
  const precision = 1 / prior.deviation ** 2 + slopes.reduce((sum, slope) => sum + (slope / errorM) ** 2, 0);
  const mean =
    (prior.mean / prior.deviation ** 2 +
      slopes.reduce((sum, slope, i) => sum + (slope * values[i]!) / errorM ** 2, 0)) /
    precision;
  const fit = await fitAssumptions(scenario, logOf([{}], readings), {
    effectiveSize: 4000,
    newGrooveSpreadM: 0,
    // Reading errors as stated.
    errorDoubt: 1.0001,
  });
  const [found] = fit.assumptions;
  expect(fit.assumptions.map(({ path }) => path)).toEqual(['assumptions.abradability']);
  const wanted = {
    mean: (mean - prior.mean) / prior.deviation,
    deviation: 1 / Math.sqrt(precision) / prior.deviation,
  };
  // A posterior that is neither the prior nor the readings alone.
  expect(wanted.deviation).toBeGreaterThan(0.02);
  expect(wanted.deviation).toBeLessThan(0.5);
  const { scoreMean, scoreDeviation, effectiveSize } = found!;
  expect(Math.abs(scoreMean - wanted.mean)).toBeLessThan(
    (MOST_ERRORS * wanted.deviation) / Math.sqrt(effectiveSize),
  );
  expect(Math.abs((scoreDeviation / wanted.deviation) ** 2 - 1)).toBeLessThan(
    MOST_ERRORS * Math.sqrt(2 / effectiveSize),
  );
});
