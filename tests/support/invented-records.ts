/**
 * Invented records, made from known values by the mean landing and the luck that the likelihood is built on: for tests of
 * the update itself. What the simulator makes of the same landings is compared elsewhere.
 */
import { LandingMeans } from '../../dist/calibrate/likelihood-ground.js';
import type { TireKind } from '../../dist/calibrate/likelihood-plan-types.js';
import type { Logbook, TireEnd } from '../../dist/calibrate/record-types.js';
import { gaugePressurePa, referencePressurePa } from '../../dist/models/inflation.js';
import { gammaUnitMeanQuantileTable, quantileAtZ } from '../../dist/numeric/quantile-table.js';
import { normalFromUniform } from '../../dist/numeric/normal.js';
import {
  nextExponential,
  nextUniform,
  openStream,
  streamKey,
  type Stream,
} from '../../dist/random/stream.js';
import type { CompiledScenario } from '../../dist/scenario/compile.js';
import { medianWorld } from '../../dist/simulate/world.js';
import { quietScenario } from './scenarios.js';

type Writable<Type> = { -readonly [Key in keyof Type]: Type[Key] };
type MutableLogbook = {
  -readonly [Key in keyof Logbook]: Logbook[Key] extends readonly (infer Item)[] ? Item[] : Logbook[Key];
};

/** Assumptions in doubt in the test scenario. */
export const DOUBTED = {
  assumptions: {
    abradability: { distribution: 'lognormal', p10: '0.07 mm3/J', p90: '0.14 mm3/J', source: 'test' },
    landingWearSpread: { value: '0.5', source: 'test' },
    bandGain: { distribution: 'lognormal', p10: '1', p90: '2.4', source: 'test' },
    tubePermeation: { distribution: 'lognormal', p10: '2 %/month', p90: '8 %/month', source: 'test' },
    slowLeaks: { distribution: 'lognormal', p10: '0.2 /year', p90: '1.5 /year', source: 'test' },
    leakAtStart: { value: '3 %/day', source: 'test' },
  },
  surfaces: {
    plain: {
      sharpStones: { distribution: 'lognormal', p10: '0.002 /m2', p90: '0.02 /m2', source: 'test' },
    },
    rough: {
      like: 'plain',
      wearFactor: { distribution: 'lognormal', p10: '1.4', p90: '3', source: 'test' },
      sharpStones: { distribution: 'lognormal', p10: '0.01 /m2', p90: '0.1 /m2', source: 'test' },
    },
  },
  strips: { track: { like: 'place', touchdown: 'rough', rollout: 'rough', taxi: 'rough' } },
  mixes: { only: { place: '60 %', track: '40 %' } },
} as const;

/** The quiet scenario with some assumptions in doubt and a rough strip. */
export function doubtedScenario(): CompiledScenario {
  return quietScenario(DOUBTED);
}

/** Size and kind of a log. */
export interface LogShape {
  readonly airplanes: number;
  readonly landingsPerDay: number;
  readonly days: number;
  /** Days between readings; 0 for none. */
  readonly readEvery: number;
  readonly errorM: number;
  readonly wornSpreadM: number;
  /** Days between pressure checks of the left tire; 0 for none. */
  readonly checkEvery: number;
  readonly pressureErrorPa: number;
}

const PLACE = { file: 'invented', line: 1 };
const BANDS = ['centre', 'inner shoulder', 'outer shoulder'] as const;
const STRIPS = ['place', 'track'] as const;

/**
 * Makes a log.
 *
 * @param scenario from {@link doubtedScenario}.
 * @param world true values of the assumptions.
 * @param seed names the random stream.
 */
export function inventLog(
  scenario: CompiledScenario,
  world: Float64Array,
  shape: LogShape,
  seed: string,
): Logbook {
  const stream = openStream(streamKey(seed, 'invented log', 0));
  const setup = scenario.setups[0]!;
  const kinds: TireKind[] = [
    {
      tire: setup.main,
      position: 'main',
      coldPa: setup.mainPa,
      checkEveryDays: setup.checkEveryDays,
      setup: setup.name,
    },
  ];
  const strips = STRIPS.map((name) => scenario.strips.findIndex((strip) => strip.name === name));
  const places = strips.map((strip, k) => ({ name: STRIPS[k]!, strips: [{ strip, share: 1 }] }));
  const means = new LandingMeans(scenario, kinds, places, medianWorld(scenario));
  means.fill(world);
  const log: MutableLogbook = {
    name: 'invented.json',
    note: 'Invented.',
    firstDay: 0,
    lastDay: shape.days,
    tires: [],
    readings: [],
    flights: [],
    pressureChecks: [],
    cuts: [],
    spreadPeriods: false,
    leastCutM: null,
    remarks: [],
  };
  for (let a = 0; a < shape.airplanes; a++)
    flyAirplane(scenario, world, shape, stream, means, strips, log, `plane ${a}`);
  return log;
}

function normal(stream: Stream): number {
  return normalFromUniform(nextUniform(stream));
}

function flyAirplane(
  scenario: CompiledScenario,
  world: Float64Array,
  shape: LogShape,
  stream: Stream,
  means: LandingMeans,
  strips: readonly number[],
  log: MutableLogbook,
  airplane: string,
): void {
  const { main } = scenario.setups[0]!;
  const table = gammaUnitMeanQuantileTable(world[scenario.global.landingWearSpread]!);
  const worn = [new Float64Array(3), new Float64Array(3)];
  const limits = [0, 1].map(() => means.wornAtM(0) + shape.wornSpreadM * normal(stream));
  const thresholds = [0, 1].map(() => ({ puncture: nextExponential(stream), cut: nextExponential(stream) }));
  const hazard = { puncture: 0, sidePuncture: 0, cut: 0, logged: 0 };
  const ends: (TireEnd | null)[] = [null, null];
  const ids = [`${airplane} L`, `${airplane} R`];
  for (let day = 1; day <= shape.days && ends.some((end) => end === null); day++) {
    const kind = nextUniform(stream) < 0.6 ? 0 : 1;
    const at = means.depthAt(0, strips[kind]!, 1);
    for (let n = 0; n < shape.landingsPerDay; n++) {
      const multiplier = quantileAtZ(table, normal(stream));
      worn.forEach((depths, side) => {
        means.hazards(0, strips[kind]!, depths, 0, Infinity, hazard);
        thresholds[side]!.puncture -= hazard.puncture + hazard.sidePuncture;
        thresholds[side]!.cut -= hazard.cut;
        for (let b = 0; b < 3; b++) depths[b]! += multiplier * means.depthM[at + b]!;
      });
    }
    log.flights.push({
      airplane,
      fromDay: day,
      toDay: day,
      landings: shape.landingsPerDay,
      flightHours: null,
      strip: STRIPS[kind],
      surface: null,
      braking: null,
      place: PLACE,
    });
    worn.forEach((depths, side) => {
      if (ends[side] !== null) return;
      const { puncture, cut } = thresholds[side]!;
      const cause =
        puncture <= 0 ? 'puncture' : cut <= 0 ? 'cut' : Math.max(...depths) >= limits[side]! ? 'worn' : null;
      const read = shape.readEvery > 0 && day % shape.readEvery === 0;
      if (read) {
        BANDS.forEach((band, b) => {
          const grooveM = main.newTreadM - depths[b]! + shape.errorM * normal(stream);
          log.readings.push({
            tire: ids[side]!,
            day,
            band,
            grooveM: Math.max(0, grooveM),
            errorM: shape.errorM,
            stepM: 0,
            place: PLACE,
          });
        });
      }
      if (cause !== null) ends[side] = { kind: 'exact', day, cause };
      else if (day === shape.days) ends[side] = { kind: 'right', day, reason: 'in service' };
    });
  }
  ids.forEach((id, side) => {
    log.tires.push({
      id,
      airplane,
      position: side === 0 ? 'left main' : 'right main',
      setup: scenario.setups[0]!.name,
      tireClass: null,
      fittedDay: 0,
      landingsBefore: 0,
      flightHoursBefore: 0,
      end: ends[side]!,
      landingsStated: null,
      flightHoursStated: null,
      count: 1,
      place: PLACE,
    });
  });
  if (shape.checkEvery > 0) checkPressures(scenario, world, shape, stream, log, ids[0]!);
}

/** Checks of one tire that is set to its cold pressure each time; a leak that began is mended at the next check. */
function checkPressures(
  scenario: CompiledScenario,
  world: Float64Array,
  shape: LogShape,
  stream: Stream,
  log: MutableLogbook,
  tire: string,
): void {
  const { global, basePa } = scenario;
  const { mainPa } = scenario.setups[0]!;
  const perDay = (index: number): number => world[index]! * 86_400;
  const temperatureK = 288.15;
  for (let day = 0; day + shape.checkEvery <= shape.days; day += shape.checkEvery) {
    const setPa = mainPa + shape.pressureErrorPa * normal(stream);
    const begins = nextExponential(stream) / perDay(global.slowLeaks);
    const leaking = Math.max(0, shape.checkEvery - begins);
    const excess = referencePressurePa(setPa, basePa, temperatureK) - basePa;
    const rate = perDay(global.tubePermeation) * shape.checkEvery + perDay(global.leakAtStart) * leaking;
    const found = gaugePressurePa(basePa + excess * Math.exp(-rate), basePa, temperatureK);
    const check: Writable<Logbook['pressureChecks'][number]> = {
      tire,
      day: day + shape.checkEvery,
      foundPa: Math.max(0, found + shape.pressureErrorPa * normal(stream)),
      setPa: mainPa,
      temperatureK,
      elevationM: 0,
      place: PLACE,
    };
    if (day === 0) log.pressureChecks.push({ ...check, day: 0, foundPa: mainPa });
    log.pressureChecks.push(check);
  }
}
