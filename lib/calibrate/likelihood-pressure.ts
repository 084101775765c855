import { gaugePressurePa, referencePressurePa, remainingExcessShare } from '../models/inflation.js';
import { exp, log } from '../numeric/elementary.js';
import { SECONDS_PER_DAY } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Figures } from './likelihood-figures.js';
import { fastNormalCdf } from './likelihood-normal.js';
import type { PressureSpan } from './likelihood-plan-types.js';

/** Equal shares of a span in which a slow leak may have begun, or air been added. */
const LEAK_PARTS = 6;
const TOP_UP_PARTS = 4;
/**
 * Share of spans in which a tire got air that no record tells of, since it looked soft or was at hand: assumption. Without
 * it one such tire would rule over all others.
 */
const TOP_UP_CHANCE = 0.02;

/**
 * After so many days the airplane was laid up: a leak that began meanwhile is seen to before it flies again, so that such
 * a span tells of permeation but not how often leaks begin. The chance of one is then taken as given (assumption).
 */
const LAID_UP_DAYS = 60;
const LAID_UP_LEAK_CHANCE = 0.1;

/**
 * How much the loss of one leak differs from that of another of the same age, as a share of the loss: assumption. Leaks
 * all alike would make a likelihood of spikes, more sure of the leaks than anyone can be.
 */
const LEAK_UNLIKENESS = 0.4;

/** What is lost over some days in one world, whatever the pressure. */
export interface PressureLosses {
  readonly days: number;
  readonly tubed: boolean;
  /** Share of the excess over ambient that is left without a leak. */
  kept: number;
  /** Share of that which is left after a leak that began at the ends of each part of the span, latest first. */
  readonly leaking: Float64Array;
  /** Share that is left since air was added at the ends of each part of the span, latest first. */
  readonly topped: Float64Array;
  /** Chance that a leak began. */
  leakChance: number;
}

/** Losses of some days, to be filled. */
export function pressureLosses(days: number, tubed: boolean): PressureLosses {
  const leaking = new Float64Array(LEAK_PARTS + 1);
  return { days, tubed, kept: 1, leaking, topped: new Float64Array(TOP_UP_PARTS + 1), leakChance: 0 };
}

/** Works losses out in a world. */
export function fillLosses({ global }: CompiledScenario, world: Float64Array, losses: PressureLosses): void {
  const { days, tubed, leaking, topped } = losses;
  const rate = world[tubed ? global.tubePermeation : global.tubelessPermeation]! * SECONDS_PER_DAY;
  const start = world[global.leakAtStart]! * SECONDS_PER_DAY;
  const growth = world[global.leakGrowth]! * SECONDS_PER_DAY;
  for (let k = 0; k <= LEAK_PARTS; k++) {
    const since = (days * k) / LEAK_PARTS;
    leaking[k] = exp(-start * since * (1 + 0.5 * growth * since));
  }
  for (let k = 0; k <= TOP_UP_PARTS; k++) topped[k] = remainingExcessShare(rate, (days * k) / TOP_UP_PARTS);
  losses.kept = topped[TOP_UP_PARTS]!;
  losses.leakChance =
    days > LAID_UP_DAYS ? LAID_UP_LEAK_CHANCE : 1 - exp(-world[global.slowLeaks]! * SECONDS_PER_DAY * days);
}

/** What the law of one span is made of. */
export interface PressureLaw {
  /** Pressure expected without a leak, Pa, and its standard deviation. */
  meanPa: number;
  spreadPa: number;
  /** Pressure expected with a leak that began at the ends of each part of the span, latest first, Pa. */
  readonly leakingPa: Float64Array;
  /** Chance that a leak began in the span. */
  leakChance: number;
  /** Pressure expected after air was added, unrecorded, at the ends of each part of the span, latest first, Pa. */
  readonly toppedPa: Float64Array;
}

/** A law to be filled. */
export function emptyPressureLaw(): PressureLaw {
  return {
    meanPa: 0,
    spreadPa: 1,
    leakingPa: new Float64Array(LEAK_PARTS + 1),
    leakChance: 0,
    toppedPa: new Float64Array(TOP_UP_PARTS + 1),
  };
}

/**
 * Law of the pressure found at the end of a span.
 *
 * @param world values of the assumptions.
 * @param errorPa standard deviation of a pressure reading, Pa.
 * @see exponential loss of the excess over ambient, constant volume between temperatures, and slow leaks as a rare second
 *   component of the law: the simulator's own air.
 */
export function pressureLaw(
  scenario: CompiledScenario,
  span: PressureSpan,
  world: Float64Array,
  errorPa: number,
): PressureLaw {
  const losses = pressureLosses(span.days, span.tubed);
  fillLosses(scenario, world, losses);
  const law = emptyPressureLaw();
  fillPressureLaw(scenario, span, world, errorPa, losses, law);
  return law;
}

/** The same for losses that are known already, written into a law that is at hand. */
export function fillPressureLaw(
  { basePa, global }: CompiledScenario,
  span: PressureSpan,
  world: Float64Array,
  errorPa: number,
  losses: PressureLosses,
  law: PressureLaw,
): void {
  const { setPa, setK, foundK, setAmbientPa, foundAmbientPa } = span;
  const { leakingPa, toppedPa } = law;
  // The gauge reads low by its bias: what is in the tire is more than what it shows.
  const bias = world[global.gaugeBias]!;
  const excess = referencePressurePa(setPa + bias, setAmbientPa, setK) - basePa;
  const kept = excess * losses.kept;
  const meanPa = gaugePressurePa(basePa + kept, foundAmbientPa, foundK) - bias;
  const absolutePa = meanPa + foundAmbientPa;
  const [atSet, atFound] = [(absolutePa * span.setSpreadK) / setK, (absolutePa * span.foundSpreadK) / foundK];
  const share = setPa > 0 ? losses.kept : 1;
  law.meanPa = meanPa;
  law.spreadPa = Math.sqrt(errorPa * errorPa * (1 + share * share) + atSet * atSet + atFound * atFound);
  for (let k = 0; k <= LEAK_PARTS; k++) {
    leakingPa[k] = gaugePressurePa(basePa + kept * losses.leaking[k]!, foundAmbientPa, foundK) - bias;
  }
  const fresh = referencePressurePa(setPa + bias, basePa, foundK) - basePa;
  for (let k = 0; k <= TOP_UP_PARTS; k++) {
    toppedPa[k] = gaugePressurePa(basePa + fresh * losses.topped[k]!, foundAmbientPa, foundK) - bias;
  }
  law.leakChance = losses.leakChance;
}

/** Normal parts of a law: no leak and no air added; a leak that began in a part of the span; air added in one. */
export const PRESSURE_PARTS: number = 1 + LEAK_PARTS + TOP_UP_PARTS;

/** Parts of the law laid out last: one place for all calls, as they come by the million. */
const parts = {
  chance: new Float64Array(PRESSURE_PARTS),
  meanPa: new Float64Array(PRESSURE_PARTS),
  variance: new Float64Array(PRESSURE_PARTS),
};

/** Parts of a law, valid until the next call. */
export interface PressureParts {
  readonly chance: Float64Array;
  readonly meanPa: Float64Array;
  /** Variance, Pa2. */
  readonly variance: Float64Array;
}

/**
 * Lays the parts of a law out. Each part of the span is as wide as the pressures at its ends: with points instead, a sharp
 * gauge would see a comb.
 */
export function pressureParts(law: PressureLaw): PressureParts {
  const recorded = 1 - TOP_UP_CHANCE;
  parts.chance[0] = recorded * (1 - law.leakChance);
  parts.meanPa[0] = law.meanPa;
  parts.variance[0] = law.spreadPa * law.spreadPa;
  laySpan(law, 1, recorded * law.leakChance, law.leakingPa, LEAK_UNLIKENESS);
  laySpan(law, 1 + LEAK_PARTS, TOP_UP_CHANCE, law.toppedPa, 0);
  return parts;
}

function laySpan(
  law: PressureLaw,
  first: number,
  chance: number,
  ends: Float64Array,
  unlikeness: number,
): void {
  const count = ends.length - 1;
  const own = law.spreadPa * law.spreadPa;
  for (let k = 0; k < count; k++) {
    const width = ends[k + 1]! - ends[k]!;
    const middle = 0.5 * (ends[k + 1]! + ends[k]!);
    const unlike = unlikeness * (law.meanPa - middle);
    parts.chance[first + k] = chance / count;
    parts.meanPa[first + k] = middle;
    parts.variance[first + k] = own + (width * width) / 12 + unlike * unlike;
  }
}

/** Least chance that what was found came from a part: keeps divisions sound. */
const LEAST_SHARE = 1e-9;

const exponents = new Float64Array(PRESSURE_PARTS);
/** What is further below the highest part than this adds nothing to a sum of doubles. */
const NOTHING_BELOW = 40;

/** Logarithm of the density of what was found, up to a constant. */
export function logPressureDensity(law: PressureLaw, foundPa: number): number {
  const { chance, meanPa, variance } = pressureParts(law);
  let least = Infinity;
  for (let k = 0; k < PRESSURE_PARTS; k++) {
    const off = foundPa - meanPa[k]!;
    const exponent = (0.5 * off * off) / variance[k]!;
    exponents[k] = exponent;
    if (exponent < least) least = exponent;
  }
  // Exponents relative to the least one: none is too small for a number.
  let sum = 0;
  for (let k = 0; k < PRESSURE_PARTS; k++) {
    const below = exponents[k]! - least;
    if (below < NOTHING_BELOW) sum += (chance[k]! * exp(-below)) / Math.sqrt(variance[k]!);
  }
  return log(Math.max(sum, 1e-300)) - least;
}

/**
 * What a pressure found tells: the spread of readings, the mean of each part by the chance that it came from that part,
 * and how often leaks begin.
 */
export function addPressureFigures(law: PressureLaw, foundPa: number, figures: Figures): void {
  const whole = logPressureDensity(law, foundPa);
  const { chance, meanPa, variance } = parts;
  for (let k = 0; k < PRESSURE_PARTS; k++) {
    const off = foundPa - meanPa[k]!;
    const height = (chance[k]! * exp(-(0.5 * off * off) / variance[k]! - whole)) / Math.sqrt(variance[k]!);
    const share = Math.max(LEAST_SHARE, height);
    if (k === 0) figures.addNormal(meanPa[k]!, variance[k]!, share);
    else figures.add(meanPa[k]!, variance[k]! / share);
  }
  figures.addCount(law.leakChance, 1);
}

/** Chance of finding less than what was found. */
export function chanceBelowPressure(law: PressureLaw, foundPa: number): number {
  const { chance, meanPa, variance } = pressureParts(law);
  let sum = 0;
  for (let k = 0; k < PRESSURE_PARTS; k++) {
    sum += chance[k]! * fastNormalCdf((foundPa - meanPa[k]!) / Math.sqrt(variance[k]!));
  }
  return sum;
}
