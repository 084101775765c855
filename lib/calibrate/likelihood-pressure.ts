import { gaugePressurePa, referencePressurePa, remainingExcessShare } from '../models/inflation.js';
import { exp, log } from '../numeric/elementary.js';
import { normalCdf } from '../numeric/special.js';
import { SECONDS_PER_DAY } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
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

/** What the law of one span is made of. */
export interface PressureLaw {
  /** Pressure expected without a leak, Pa, and its standard deviation. */
  readonly meanPa: number;
  readonly spreadPa: number;
  /** Pressure expected with a leak that began at the ends of each part of the span, earliest first, Pa. */
  readonly leakingPa: Float64Array;
  /** Chance that a leak began in the span. */
  readonly leakChance: number;
  /** Pressure expected after air was added, unrecorded, at the ends of each part of the span, Pa. */
  readonly toppedPa: Float64Array;
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
  { basePa, global }: CompiledScenario,
  span: PressureSpan,
  world: Float64Array,
  errorPa: number,
): PressureLaw {
  const { days, setPa, setK, foundK, setAmbientPa, foundAmbientPa } = span;
  // The gauge reads low by its bias: what is in the tire is more than what it shows.
  const bias = world[global.gaugeBias]!;
  const rate = world[span.tubed ? global.tubePermeation : global.tubelessPermeation]! * SECONDS_PER_DAY;
  const excess = referencePressurePa(setPa + bias, setAmbientPa, setK) - basePa;
  const kept = excess * remainingExcessShare(rate, days);
  const found = (excessPa: number): number =>
    gaugePressurePa(basePa + excessPa, foundAmbientPa, foundK) - bias;
  const meanPa = found(kept);
  const absolutePa = meanPa + foundAmbientPa;
  const [atSet, atFound] = [(absolutePa * span.setSpreadK) / setK, (absolutePa * span.foundSpreadK) / foundK];
  const share = setPa > 0 ? kept / excess : 1;
  const spreadPa = Math.sqrt(errorPa * errorPa * (1 + share * share) + atSet * atSet + atFound * atFound);
  const leakingPa = new Float64Array(LEAK_PARTS + 1);
  const start = world[global.leakAtStart]! * SECONDS_PER_DAY;
  const growth = world[global.leakGrowth]! * SECONDS_PER_DAY;
  for (let k = 0; k <= LEAK_PARTS; k++) {
    const leaking = (days * k) / LEAK_PARTS;
    leakingPa[k] = found(kept * exp(-start * leaking * (1 + 0.5 * growth * leaking)));
  }
  const toppedPa = new Float64Array(TOP_UP_PARTS + 1);
  const fresh = referencePressurePa(setPa + bias, basePa, foundK) - basePa;
  for (let k = 0; k <= TOP_UP_PARTS; k++) {
    toppedPa[k] = found(fresh * remainingExcessShare(rate, (days * k) / TOP_UP_PARTS));
  }
  return {
    meanPa,
    spreadPa,
    leakingPa,
    toppedPa,
    leakChance:
      days > LAID_UP_DAYS ? LAID_UP_LEAK_CHANCE : 1 - exp(-world[global.slowLeaks]! * SECONDS_PER_DAY * days),
  };
}

/** One normal part of the law. */
type SeePart = (chance: number, meanPa: number, spreadPa: number) => void;

/**
 * The normal parts of a law: no leak and no air added; a leak that began in one of the parts of the span; air added in one.
 * Each part of the span is as wide as the pressures at its ends: with points instead, a sharp gauge would see a comb.
 */
function eachPart({ meanPa, spreadPa, leakChance, leakingPa, toppedPa }: PressureLaw, see: SeePart): void {
  const recorded = 1 - TOP_UP_CHANCE;
  see(recorded * (1 - leakChance), meanPa, spreadPa);
  const between = (chance: number, ends: Float64Array, unlikeness: number): void => {
    for (let k = 1; k < ends.length; k++) {
      const width = ends[k]! - ends[k - 1]!;
      const middle = 0.5 * (ends[k]! + ends[k - 1]!);
      const unlike = unlikeness * (meanPa - middle);
      const wide = Math.sqrt(spreadPa * spreadPa + (width * width) / 12 + unlike * unlike);
      see(chance / (ends.length - 1), middle, wide);
    }
  };
  between(recorded * leakChance, leakingPa, LEAK_UNLIKENESS);
  between(TOP_UP_CHANCE, toppedPa, 0);
}

const exponents = new Float64Array(1 + LEAK_PARTS + TOP_UP_PARTS);
const heights = new Float64Array(1 + LEAK_PARTS + TOP_UP_PARTS);

/** Logarithm of the density of what was found, up to a constant. */
export function logPressureDensity(law: PressureLaw, foundPa: number): number {
  let count = 0;
  let least = Infinity;
  eachPart(law, (chance, meanPa, spreadPa) => {
    const off = (foundPa - meanPa) / spreadPa;
    const exponent = 0.5 * off * off;
    if (exponent < least) least = exponent;
    exponents[count] = exponent;
    heights[count] = chance / spreadPa;
    count++;
  });
  // Exponents relative to the least one: none is too small for a number.
  let sum = 0;
  for (let k = 0; k < count; k++) sum += heights[k]! * exp(least - exponents[k]!);
  return log(Math.max(sum, 1e-300)) - least;
}

/** Chance of finding less than what was found. */
export function chanceBelowPressure(law: PressureLaw, foundPa: number): number {
  let sum = 0;
  eachPart(law, (chance, meanPa, spreadPa) => {
    sum += chance * normalCdf((foundPa - meanPa) / spreadPa);
  });
  return sum;
}
