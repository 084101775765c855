import { log } from '../numeric/elementary.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { medianWorld } from '../simulate/world.js';
import { LandingMeans, type StoneHazards } from './likelihood-ground.js';
import type { PressureSpan, TireKind } from './likelihood-plan-types.js';
import { pressureLaw } from './likelihood-pressure.js';
import { BAND_COUNT } from './likelihood-work.js';
import type { NextReading } from './posterior-types.js';
import type { PriorCoordinate } from './prior.js';
import { identityMatrix, type SquareMatrix } from './sampler-matrix.js';

/** Further records that are weighed: so many tires read after so many landings, checks a month apart, landings counted. */
const TIRES = 10;
const LANDINGS_READ = 100;
const CHECKS = 20;
const CHECK_DAYS = 30;
const LANDINGS_COUNTED = 2000;
const STEP = 0.25;
const TOLD_NARROWED = 4;
/** A narrowing of the spread by less than this share is not told. */
const LEAST_NARROWING = 0.03;

/** What is known so far: coordinates of all numbers in doubt and the covariance of their scores. */
export interface Knowledge {
  readonly coordinates: readonly PriorCoordinate[];
  readonly mean: Float64Array;
  readonly covariance: SquareMatrix;
}

/** Knowledge of all numbers, from that of those the records bear on: the others stand as before. */
export function wholeKnowledge(
  all: readonly PriorCoordinate[],
  touched: readonly number[],
  mean: Float64Array,
  covariance: SquareMatrix,
): Knowledge {
  const size = all.length;
  const wholeMean = new Float64Array(size);
  const whole = identityMatrix(size);
  touched.forEach((i, row) => {
    wholeMean[i] = mean[row]!;
    touched.forEach((j, column) => (whole[i * size + j] = covariance[row * touched.length + column]!));
  });
  return { coordinates: all, mean: wholeMean, covariance: whole };
}

/** One figure that a further record would tell, with its error. */
interface Figure {
  /** Its derivative by each score. */
  readonly slope: Float64Array;
  readonly variance: number;
}

/** Narrows the covariance by figures, one after the other; returns the information gained. */
function narrow(covariance: SquareMatrix, size: number, figures: readonly Figure[]): number {
  let information = 0;
  for (const { slope, variance } of figures) {
    const spread = new Float64Array(size);
    let known = 0;
    for (let i = 0; i < size; i++) {
      let sum = 0;
      for (let j = 0; j < size; j++) sum += covariance[i * size + j]! * slope[j]!;
      spread[i] = sum;
      known += slope[i]! * sum;
    }
    information += 0.5 * log(1 + known / variance);
    const total = variance + known;
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) covariance[i * size + j]! -= (spread[i]! * spread[j]!) / total;
    }
  }
  return information;
}

interface Candidate extends Omit<NextReading, 'information' | 'narrows'> {
  /** Figures that the records would tell, in a world, and their variances. */
  readonly figures: (
    means: LandingMeans,
    world: Float64Array,
  ) => { readonly value: number; readonly variance: number }[];
}

/**
 * What further records would tell, by the information of their expected values, linearised at the mean of the scores.
 *
 * @param scenario compiled scenario: its set-ups on the strips of its mixes are weighed.
 * @param knowledge what is known so far.
 * @param errors of the readings to come: groove in m, pressure in Pa.
 * @returns further records, the most telling first.
 */
export function nextReadings(
  scenario: CompiledScenario,
  { coordinates, mean, covariance }: Knowledge,
  errors: { readonly grooveM: number; readonly pressurePa: number },
): NextReading[] {
  const kinds: TireKind[] = scenario.setups.map((setup) => ({
    tire: setup.main,
    position: 'main',
    coldPa: setup.mainPa,
    checkEveryDays: setup.checkEveryDays,
    setup: setup.name,
  }));
  const strips = [...new Set(scenario.mixes.flatMap((mix) => mix.strips))].sort((one, other) => one - other);
  const places = strips.map((strip) => ({
    name: scenario.strips[strip]!.name,
    strips: [{ strip, share: 1 }],
  }));
  const medians = medianWorld(scenario);
  const means = new LandingMeans(scenario, kinds, places, medians);
  const candidates = candidatesOf(scenario, kinds, strips, errors);
  const size = coordinates.length;
  const worldAt = (scores: Float64Array): Float64Array => {
    const world = Float64Array.from(medians);
    coordinates.forEach(({ index, valueAt }, i) => {
      if (index !== null) world[index] = valueAt(scores[i]!);
    });
    return world;
  };
  const evaluate = (scores: Float64Array): { value: number; variance: number }[][] => {
    const world = worldAt(scores);
    means.fill(world);
    return candidates.map((candidate) => candidate.figures(means, world));
  };
  const middle = evaluate(mean);
  const slopes = middle.map((figures) => figures.map(() => new Float64Array(size)));
  coordinates.forEach(({ index }, i) => {
    if (index === null) return;
    const [up, down] = [1, -1].map((sign) =>
      evaluate(mean.map((each, k) => (k === i ? each + sign * STEP : each))),
    ) as [typeof middle, typeof middle];
    slopes.forEach((figures, c) => {
      figures.forEach((slope, f) => (slope[i] = (up[c]![f]!.value - down[c]![f]!.value) / (2 * STEP)));
    });
  });
  const found = candidates.map((candidate, c): NextReading => {
    const then = Float64Array.from(covariance);
    const figures = middle[c]!.map(({ variance }, f) => ({ slope: slopes[c]![f]!, variance }));
    const information = narrow(then, size, figures);
    const narrows = coordinates
      .map(({ path }, i) => ({
        path,
        now: Math.sqrt(covariance[i * size + i]!),
        then: Math.sqrt(Math.max(0, then[i * size + i]!)),
      }))
      .filter((each) => each.then < (1 - LEAST_NARROWING) * each.now)
      .sort((one, other) => one.then / one.now - other.then / other.now)
      .slice(0, TOLD_NARROWED);
    const { what, kind, setup, strip, readings } = candidate;
    return { what, kind, setup, strip, readings, information, narrows };
  });
  return found
    .filter(({ information }) => information > 0)
    .sort((one, other) => other.information - one.information || (one.what < other.what ? -1 : 1));
}

function candidatesOf(
  scenario: CompiledScenario,
  kinds: readonly TireKind[],
  strips: readonly number[],
  errors: { readonly grooveM: number; readonly pressurePa: number },
): Candidate[] {
  const onStrips = kinds.flatMap(({ setup }, kind) =>
    strips.flatMap((strip): Candidate[] => {
      const name = scenario.strips[strip]!.name;
      return [
        {
          what: `read centre and both shoulders of ${TIRES} tires of "${setup}" after ${LANDINGS_READ} landings on ${name}`,
          kind: 'tread readings',
          setup,
          strip: name,
          readings: TIRES * BAND_COUNT,
          figures: (means) => treadFigures(means, kind, strip, errors.grooveM),
        },
        {
          what: `count cuts and punctures of "${setup}" over ${LANDINGS_COUNTED} tire-landings on ${name}`,
          kind: 'counting cuts and punctures',
          setup,
          strip: name,
          readings: LANDINGS_COUNTED,
          figures: (means) => stoneFigures(means, kind, strip),
        },
      ];
    }),
  );
  const checked = kinds.map(({ setup, tire, coldPa }): Candidate => {
    const span: PressureSpan = {
      tire: '',
      day: 0,
      tubed: tire.tubed,
      days: CHECK_DAYS,
      setPa: coldPa,
      foundPa: 0,
      setK: 288.15,
      setSpreadK: 0,
      foundK: 288.15,
      foundSpreadK: 0,
      setAmbientPa: scenario.basePa,
      foundAmbientPa: scenario.basePa,
    };
    return {
      what: `check the pressure of ${CHECKS} tires of "${setup}" ${CHECK_DAYS} days apart, with their temperature`,
      kind: 'pressure checks',
      setup,
      strip: null,
      readings: CHECKS,
      figures: (_means, world) => {
        const { meanPa, spreadPa } = pressureLaw(scenario, span, world, errors.pressurePa);
        return [{ value: meanPa, variance: (spreadPa * spreadPa) / CHECKS }];
      },
    };
  });
  return [...onStrips, ...checked];
}

function treadFigures(
  means: LandingMeans,
  kind: number,
  strip: number,
  errorM: number,
): { value: number; variance: number }[] {
  const at = means.depthAt(kind, strip, 1);
  const products = means.productsAt(false, kind, kind, strip);
  return Array.from({ length: BAND_COUNT }, (_, b) => {
    const depth = means.depthM[at + b]!;
    const product = means.scatterSquare * means.product(products + b * BAND_COUNT + b);
    const luck = LANDINGS_READ * depth * depth * Math.max(0, product - 1);
    return { value: LANDINGS_READ * depth, variance: (errorM * errorM + luck) / TIRES };
  });
}

/** Counts of a Poisson law as figures: the mean, with itself as variance. */
function stoneFigures(
  means: LandingMeans,
  kind: number,
  strip: number,
): { value: number; variance: number }[] {
  const hazard: StoneHazards = { puncture: 0, sidePuncture: 0, cut: 0, logged: 0 };
  means.hazards(kind, strip, new Float64Array(BAND_COUNT), 0, Infinity, hazard);
  return [hazard.puncture + hazard.sidePuncture, hazard.cut].map((each) => {
    const value = LANDINGS_COUNTED * each;
    return { value, variance: Math.max(value, 1e-12) };
  });
}
