import { gaugePressurePa, referencePressurePa, remainingExcessShare } from '../models/inflation.js';
import { exp, log } from '../numeric/elementary.js';
import { normalCdf } from '../numeric/special.js';
import { SECONDS_PER_DAY } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PressureSpan } from './likelihood-plan-types.js';

/** Times within a span at which a slow leak may have begun, or air been added: middles of equal shares. */
const LEAK_TIMES = 6;
const TOP_UP_TIMES = 4;
/**
 * Share of spans in which a tire got air that no record tells of, since it looked soft or was at hand: assumption. Without
 * it one such tire would rule over all others.
 */
const TOP_UP_CHANCE = 0.02;

/** What the law of one span is made of. */
export interface PressureLaw {
  /** Pressure expected without a leak, Pa, and its standard deviation. */
  readonly meanPa: number;
  readonly spreadPa: number;
  /** Pressure expected with a leak that began at each of the times, Pa. */
  readonly leakingPa: Float64Array;
  /** Chance that a leak began in the span. */
  readonly leakChance: number;
  /** Pressure expected after air was added, unrecorded, at each of some times, Pa. */
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
  const leakingPa = new Float64Array(LEAK_TIMES);
  const start = world[global.leakAtStart]! * SECONDS_PER_DAY;
  const growth = world[global.leakGrowth]! * SECONDS_PER_DAY;
  for (let k = 0; k < LEAK_TIMES; k++) {
    const leaking = (days * (k + 0.5)) / LEAK_TIMES;
    leakingPa[k] = found(kept * exp(-start * leaking * (1 + 0.5 * growth * leaking)));
  }
  const toppedPa = new Float64Array(TOP_UP_TIMES);
  const fresh = referencePressurePa(setPa + bias, basePa, foundK) - basePa;
  for (let k = 0; k < TOP_UP_TIMES; k++) {
    toppedPa[k] = found(fresh * remainingExcessShare(rate, (days * (k + 0.5)) / TOP_UP_TIMES));
  }
  return {
    meanPa,
    spreadPa,
    leakingPa,
    toppedPa,
    leakChance: 1 - exp(-world[global.slowLeaks]! * SECONDS_PER_DAY * days),
  };
}

/**
 * Chances of the parts of a law: no leak and no air added; a leak that began at one of the times; air added at one.
 */
function partChances({ leakChance, leakingPa, toppedPa }: PressureLaw): readonly [number, number, number] {
  const recorded = 1 - TOP_UP_CHANCE;
  return [
    recorded * (1 - leakChance),
    (recorded * leakChance) / leakingPa.length,
    TOP_UP_CHANCE / toppedPa.length,
  ];
}

/** Logarithm of the density of what was found, up to a constant. */
export function logPressureDensity(law: PressureLaw, foundPa: number): number {
  const { meanPa, spreadPa, leakingPa, toppedPa } = law;
  const perSpread = 1 / spreadPa;
  const half = (expected: number): number => {
    const off = (foundPa - expected) * perSpread;
    return 0.5 * off * off;
  };
  // Exponents relative to the least one: none is too small for a number.
  const without = half(meanPa);
  let least = without;
  for (const expected of leakingPa) least = Math.min(least, half(expected));
  for (const expected of toppedPa) least = Math.min(least, half(expected));
  const [sound, leak, topped] = partChances(law);
  let sum = sound * exp(least - without);
  for (const expected of leakingPa) sum += leak * exp(least - half(expected));
  for (const expected of toppedPa) sum += topped * exp(least - half(expected));
  return log(Math.max(sum, 1e-300)) - least - log(spreadPa);
}

/** Chance of finding less than what was found. */
export function chanceBelowPressure(law: PressureLaw, foundPa: number): number {
  const [sound, leak, topped] = partChances(law);
  const below = (expected: number): number => normalCdf((foundPa - expected) / law.spreadPa);
  let sum = sound * below(law.meanPa);
  for (const expected of law.leakingPa) sum += leak * below(expected);
  for (const expected of law.toppedPa) sum += topped * below(expected);
  return sum;
}
