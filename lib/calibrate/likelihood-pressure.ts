import { gaugePressurePa, referencePressurePa, remainingExcessShare } from '../models/inflation.js';
import { exp, log } from '../numeric/elementary.js';
import { SECONDS_PER_DAY } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PressureSpan } from './likelihood-plan-types.js';

/** Times within a span at which a slow leak may have begun: middles of equal shares. */
const LEAK_TIMES = 8;

/** What the law of one span is made of. */
export interface PressureLaw {
  /** Pressure expected without a leak, Pa, and its standard deviation. */
  readonly meanPa: number;
  readonly spreadPa: number;
  /** Pressure expected with a leak that began at each of the times, Pa. */
  readonly leakingPa: Float64Array;
  /** Chance that a leak began in the span. */
  readonly leakChance: number;
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
  return {
    meanPa,
    spreadPa,
    leakingPa,
    leakChance: 1 - exp(-world[global.slowLeaks]! * SECONDS_PER_DAY * days),
  };
}

/** Logarithm of the density of what was found, up to a constant. */
export function logPressureDensity(
  { meanPa, spreadPa, leakingPa, leakChance }: PressureLaw,
  foundPa: number,
): number {
  const half = (expected: number): number => {
    const off = (foundPa - expected) / spreadPa;
    return 0.5 * off * off;
  };
  // Exponents relative to the least one: none is too small for a number.
  const without = half(meanPa);
  let least = without;
  for (const expected of leakingPa) least = Math.min(least, half(expected));
  let leaking = 0;
  for (const expected of leakingPa) leaking += exp(least - half(expected)) / leakingPa.length;
  const sum = (1 - leakChance) * exp(least - without) + leakChance * leaking;
  return log(Math.max(sum, 1e-300)) - least - log(spreadPa);
}
