import { describe, expect, test } from 'vitest';
import { LandingMeans } from '../../dist/calibrate/likelihood-ground.js';
import { planRecords, type RecordHabits } from '../../dist/calibrate/likelihood-plan.js';
import { logPressureDensity, pressureLaw } from '../../dist/calibrate/likelihood-pressure.js';
import { RecordLikelihood } from '../../dist/calibrate/likelihood.js';
import type { Logbook } from '../../dist/calibrate/record-types.js';
import { recordWear } from '../../dist/simulate/wear-histories.js';
import { assumptionQuantile, medianWorld } from '../../dist/simulate/world.js';
import type { CompiledScenario } from '../../dist/scenario/compile.js';
import { doubtedScenario, inventLog, type LogShape } from '../support/invented-records.js';
import { fixed, shippedScenario } from '../support/scenarios.js';

const HABITS: RecordHabits = {
  grooveErrorM: 0.0003,
  grooveStepM: 0,
  newGrooveSpreadM: 0,
  mix: undefined,
  heldOut: new Set(),
};
const ERRORS = { pressureErrorPa: 3000, wornSpreadM: 0.0005, errorDoubt: 1.5 };
const SHAPE: LogShape = {
  airplanes: 2,
  landingsPerDay: 5,
  days: 20,
  readEvery: 5,
  errorM: 0.0003,
  wornSpreadM: 0.0005,
  checkEvery: 0,
  pressureErrorPa: 3000,
};

/** Scenario with everything at its median but some values. */
function held(scenario: CompiledScenario): CompiledScenario {
  return {
    ...scenario,
    assumptions: scenario.assumptions.map((each) => ({
      ...each,
      kind: 'fixed',
      a: assumptionQuantile(each, 0.5),
      b: 0,
      c: 0,
    })),
  };
}

describe('mean landings', () => {
  // A year without seasons: in a season that warms, tires checked every two weeks stand a little higher than the model of
  // the likelihood lets them, and shoulders wear up to 3 % less.
  const months = ['May', 'June', 'July', 'August'].map((month) => ({
    month,
    landings: '60',
    flightHours: '54 h',
    temperature: '12 degC',
  }));
  const scenario = held(
    shippedScenario('mixed-season', {
      mixes: { paved: { 'home pavement': '100 %' }, rock: { 'ridge rock': '100 %' } },
      monthlyMixes: null,
      season: { months, temperatureSpread: '5 degC', baseElevation: '300 ft', source: 'test' },
      habits: { removeAt: 'cords' },
      assumptions: { slowLeaks: fixed('0 /year') },
    }),
  );
  const TRIALS = 300;
  const LANDINGS = 100;
  const kinds = scenario.setups.map((setup) => ({
    tire: setup.main,
    position: 'main' as const,
    coldPa: setup.mainPa,
    checkEveryDays: setup.checkEveryDays,
    setup: setup.name,
  }));
  const places = scenario.strips.map(({ name }, strip) => ({ name, strips: [{ strip, share: 1 }] }));
  const means = new LandingMeans(scenario, kinds, places, medianWorld(scenario));

  test.each([
    ['rigid 29 deep', 'paved', 'home pavement'],
    ['rigid 26 deep', 'rock', 'ridge rock'],
    ['soft 29 at 9 psi', 'paved', 'home pavement'],
  ])(
    'of %s on %s wear what the simulator wears, within 1 %% and its own error',
    async (setup, mix, strip) => {
      const wear = await recordWear(scenario, { setup, mix, trials: TRIALS }, [LANDINGS]);
      const kind = kinds.findIndex((each) => each.setup === setup);
      const at = means.depthAt(
        kind,
        scenario.strips.findIndex(({ name }) => name === strip),
        1,
      );
      const products = means.productsAt(
        false,
        kind,
        kind,
        scenario.strips.findIndex(({ name }) => name === strip),
      );
      (['centreM', 'innerM', 'outerM'] as const).forEach((band, b) => {
        const depths = Array.from(wear.left[band]);
        const mean = depths.reduce((sum, depth) => sum + depth, 0) / TRIALS;
        const spread = Math.sqrt(depths.reduce((sum, depth) => sum + (depth - mean) ** 2, 0) / (TRIALS - 1));
        const expected = LANDINGS * means.depthM[at + b]!;
        // 4.42 standard errors: one false alarm in 100 000.
        const error = 0.01 * expected + (4.42 * spread) / Math.sqrt(TRIALS);
        expect(Math.abs(mean - expected), `${band} ${mean} ${expected}`).toBeLessThan(error);
        const luck = Math.sqrt(means.scatterSquare * means.product(products + 4 * b) - 1) * expected;
        // The luck of a landing within a fifth: the spread of a sample of 300 is off by 4.42 / sqrt(600) = 18 % at most.
        expect(spread / (luck / Math.sqrt(LANDINGS))).toBeGreaterThan(0.8 * (1 - 0.18));
        expect(spread / (luck / Math.sqrt(LANDINGS))).toBeLessThan(1.2 * (1 + 0.18));
      });
    },
  );
});

/** Logarithm of the density of a normal law, up to the constant, by elimination without pivots. */
function logNormal(off: readonly number[], covariance: readonly number[][]): number {
  const a = covariance.map((row, i) => [...row, off[i]!]);
  const size = off.length;
  let logDeterminant = 0;
  let square = 0;
  for (let i = 0; i < size; i++) {
    logDeterminant += Math.log(a[i]![i]!);
    square += a[i]![size]! ** 2 / a[i]![i]!;
    for (let j = i + 1; j < size; j++) {
      const factor = a[j]![i]! / a[i]![i]!;
      for (let k = i; k <= size; k++) a[j]![k]! -= factor * a[i]![k]!;
    }
  }
  return -0.5 * (logDeterminant + square);
}

/** A log of readings alone: no stones, tires far from worn. */
function readingsAlone(scenario: CompiledScenario): Logbook {
  const world = medianWorld(scenario);
  scenario.surfaces.forEach(({ sharpStones }) => (world[sharpStones] = 0));
  return inventLog(scenario, world, SHAPE, 'readings alone');
}

test('readings of both wheels have the joint normal law of steady wear, shared luck and gauge error', () => {
  const scenario = doubtedScenario();
  const log = readingsAlone(scenario);
  const plan = planRecords(scenario, log, HABITS);
  const likelihood = new RecordLikelihood(scenario, plan, ERRORS);
  const stones = scenario.surfaces.map(({ sharpStones }) => sharpStones);
  const at = (
    abradability: number,
  ): { readonly world: Float64Array; grooveErrorFactor: number; pressureErrorFactor: number } => {
    const world = medianWorld(scenario);
    stones.forEach((index) => (world[index] = 0));
    world[scenario.global.abradability] = abradability;
    return { world, grooveErrorFactor: 1, pressureErrorFactor: 1 };
  };
  // The same by brute force: every reading is a sum over days; days wear both wheels with one multiplier per landing.
  const brute = (abradability: number): number => {
    const { world } = at(abradability);
    const means = new LandingMeans(scenario, plan.kinds, plan.places, medianWorld(scenario));
    means.fill(world);
    const strips = new Map(scenario.strips.map(({ name }, index) => [name, index]));
    const bands = ['centre', 'inner shoulder', 'outer shoulder'];
    let total = 0;
    for (const airplane of new Set(log.flights.map((flight) => flight.airplane))) {
      const days = log.flights.filter((flight) => flight.airplane === airplane);
      const readings = log.readings.filter(({ tire }) => tire.startsWith(airplane));
      const perDay = (band: string, day: (typeof days)[number]): number =>
        means.depthM[means.depthAt(0, strips.get(day.strip!)!, 1) + bands.indexOf(band)]!;
      const off = readings.map(({ band, day, grooveM }) => {
        const worn = days
          .filter(({ toDay }) => toDay <= day)
          .reduce((sum, each) => sum + each.landings * perDay(band, each), 0);
        return plan.kinds[0]!.tire.newTreadM - grooveM - worn;
      });
      const covariance = readings.map((one, i) =>
        readings.map((other, j) => {
          const until = Math.min(one.day, other.day);
          const luck = days
            .filter(({ toDay }) => toDay <= until)
            .reduce(
              (sum, each) => sum + each.landings * 0.25 * perDay(one.band, each) * perDay(other.band, each),
              0,
            );
          return luck + (i === j ? SHAPE.errorM ** 2 : 0);
        }),
      );
      total += logNormal(off, covariance);
    }
    return total;
  };
  const [low, high] = [0.8e-10, 1.1e-10];
  const found = likelihood.logLikelihood(at(high)) - likelihood.logLikelihood(at(low));
  // Pressures that fall between checks let steady wear vary a little, which the brute force leaves out.
  expect(found).toBeCloseTo(brute(high) - brute(low), 4);
  expect(Math.abs(found)).toBeGreaterThan(0.1);
});

test('the order of the records does not change a bit of the likelihood', () => {
  const scenario = doubtedScenario();
  const log = inventLog(scenario, medianWorld(scenario), { ...SHAPE, checkEvery: 10 }, 'order');
  const turned: Logbook = {
    ...log,
    tires: log.tires.toReversed(),
    readings: log.readings.toReversed(),
    flights: log.flights.toReversed(),
    pressureChecks: log.pressureChecks.toReversed(),
  };
  const value = (records: Logbook): number => {
    const likelihood = new RecordLikelihood(scenario, planRecords(scenario, records, HABITS), ERRORS);
    return likelihood.logLikelihood(likelihood.at([], new Float64Array(0)));
  };
  expect(value(turned)).toBe(value(log));
});

test('punctures count as Poisson events: the likelihood is largest where expected and counted agree', () => {
  const scenario = doubtedScenario();
  const base = readingsAlone(scenario);
  // Ten tires, three punctured: nothing else is known.
  const tires = Array.from({ length: 10 }, (_, k) => ({
    ...base.tires[0]!,
    id: `tire ${k}`,
    airplane: base.tires[0]!.airplane,
    count: 2,
    end:
      k < 3
        ? { kind: 'exact' as const, day: 20, cause: 'puncture' as const }
        : { kind: 'right' as const, day: 20, reason: 'in service' as const },
  }));
  const log: Logbook = { ...base, tires, readings: [] };
  const likelihood = new RecordLikelihood(scenario, planRecords(scenario, log, HABITS), ERRORS);
  const atFactor = (factor: number): { value: number; expected: number; cuts: number } => {
    const world = medianWorld(scenario);
    scenario.surfaces.forEach(({ sharpStones }) => (world[sharpStones]! *= factor));
    const at = { world, grooveErrorFactor: 1, pressureErrorFactor: 1 };
    const { punctures, cuts } = likelihood.predictReadings(at, true);
    return { value: likelihood.logLikelihood(at), expected: punctures, cuts };
  };
  const one = atFactor(1);
  const factor = 7;
  const other = atFactor(factor);
  expect(other.expected).toBeCloseTo(factor * one.expected, 9);
  // Poisson: y log(factor) - (factor - 1) Lambda, with y = 6 punctures and Lambda of punctures and cuts, none of which came.
  const expected = 6 * Math.log(factor) - (factor - 1) * (one.expected + one.cuts);
  expect(other.value - one.value).toBeCloseTo(expected, 8);
});

test('pressures fall as excess over ambient, and a slow leak is the rare second part of the law', () => {
  const scenario = doubtedScenario();
  const world = medianWorld(scenario);
  const span = {
    tire: 'x',
    day: 30,
    tubed: true,
    days: 30,
    setPa: 200_000,
    foundPa: 0,
    setK: 288.15,
    setSpreadK: 0,
    foundK: 288.15,
    foundSpreadK: 0,
    setAmbientPa: scenario.basePa,
    foundAmbientPa: scenario.basePa,
  };
  const law = pressureLaw(scenario, span, world, 1000);
  const perMonth = world[scenario.global.tubePermeation]! * 86_400 * 30;
  expect(law.meanPa).toBeCloseTo(200_000 * Math.exp(-perMonth), 4);
  // Twice as warm in absolute terms by a tenth: absolute pressure rises by a tenth.
  const warm = pressureLaw(scenario, { ...span, foundK: 1.1 * 288.15 }, world, 1000);
  expect(warm.meanPa + scenario.basePa).toBeCloseTo(1.1 * (law.meanPa + scenario.basePa), 4);
  expect(law.leakChance).toBeCloseTo(1 - Math.exp(-world[scenario.global.slowLeaks]! * 86_400 * 30), 12);
  // The density adds up to sqrt(2 pi) over all pressures, as its constant is left out.
  let sum = 0;
  for (let found = -300_000; found < 500_000; found += 50)
    sum += 50 * Math.exp(logPressureDensity(law, found));
  expect(sum).toBeCloseTo(Math.sqrt(2 * Math.PI), 4);
});
