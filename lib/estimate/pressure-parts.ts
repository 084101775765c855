import { gaugePressurePa, referencePressurePa, remainingExcessShare } from '../models/inflation.js';
import { dateText } from '../scenario/calendar.js';
import type { CompiledMix, CompiledScenario } from '../scenario/compile.js';
import { fillWheelConstants, WheelConstants } from '../simulate/constants.js';
import { medianWorld } from '../simulate/world.js';
import { normalRatioQuantile } from './normal-ratio.js';
import type { QuantileBand } from './quantile-band.js';

/** Which wheel: a main wheel, or the nose or tail wheel. */
export type PressureWheel = 'main' | 'third';

/** What each influence alone does to gauge pressure in one landing, as a change from the cold setting, Pa. */
export interface PressurePart {
  /** Landing of the season, from 0. */
  readonly landing: number;
  /** Days since the start of the season. */
  readonly day: number;
  /** Its date, for example "14 June". */
  readonly date: string;
  /** True where the tires were set just before, in the air of this landing. */
  readonly justSet: boolean;
  /** Air warmer or colder than when the tire was set: over landings of the date. */
  readonly temperaturePa: QuantileBand;
  /** Thinner air at the strips than at the base: mean over the landings of the mix, and its strips. */
  readonly elevationPa: { readonly lowest: number; readonly mean: number; readonly highest: number };
  /** Air that went through tube or tire since the check, at the median rate. */
  readonly permeationPa: number;
}

/**
 * What temperature, elevation and permeation do to the pressure of a tire, each as if the others did not exist. Exact,
 * in the world of medians; gauge error, slow leaks and the walk-around are left out.
 *
 * @param scenario compiled scenario.
 * @param setupName name of the set-up, which exists.
 * @param mixName name of the runway mix, which exists.
 * @param wheel main, or nose or tail wheel.
 * @param checked 1 for the landings before which tires are checked and set.
 * @param landings landings of the season to look at, ascending.
 * @returns one entry per landing asked for.
 */
export function pressureParts(
  scenario: CompiledScenario,
  setupName: string,
  mixName: string,
  wheel: PressureWheel,
  checked: Uint8Array,
  landings: readonly number[],
): PressurePart[] {
  const setup = scenario.setups.find(({ name }) => name === setupName)!;
  const mix = scenario.mixes.find(({ name }) => name === mixName)!;
  const constants = new WheelConstants(scenario.strips.length);
  const [tire, settingPa] = wheel === 'main' ? [setup.main, setup.mainPa] : [setup.third, setup.thirdPa];
  fillWheelConstants(scenario, medianWorld(scenario), tire, settingPa, wheel, constants);
  const { coldPa, basePa, lossPerDay } = constants;
  const { day, temperatureK } = scenario.calendar;
  const elevationPa = elevationParts(scenario, mix, (ambientPa) => basePa - ambientPa);
  const atTemperature = (setK: number, nowK: number): number =>
    gaugePressurePa(referencePressurePa(coldPa, basePa, setK), basePa, nowK) - coldPa;
  return landings.map((landing) => {
    const set = lastSet(checked, landing);
    const setK = temperatureK[set]!;
    const quantile = (probability: number): number =>
      set === landing
        ? 0
        : atTemperature(
            setK,
            setK *
              normalRatioQuantile(temperatureK[landing]!, setK, scenario.temperatureSpreadK, probability),
          );
    return {
      landing,
      day: day[landing]!,
      date: dateText(scenario.calendar, day[landing]!),
      justSet: set === landing,
      temperaturePa: { p10: quantile(0.1), p50: quantile(0.5), p90: quantile(0.9) },
      elevationPa,
      permeationPa: coldPa * (remainingExcessShare(lossPerDay, day[landing]! - day[set]!) - 1),
    };
  });
}

/** The landing before which the tires were set last: new tires are set before the first. */
function lastSet(checked: Uint8Array, landing: number): number {
  let set = landing;
  while (set > 0 && checked[set] !== 1) set--;
  return set;
}

function elevationParts(
  { strips }: CompiledScenario,
  mix: CompiledMix,
  change: (ambientPa: number) => number,
): PressurePart['elevationPa'] {
  const changes = mix.strips.map((strip) => change(strips[strip]!.ambientPa));
  const mean = changes.reduce(
    (sum, each, index) =>
      sum + each * (mix.cumulativeShares[index]! - (index === 0 ? 0 : mix.cumulativeShares[index - 1]!)),
    0,
  );
  return {
    lowest: changes.reduce((a, b) => Math.min(a, b)),
    mean,
    highest: changes.reduce((a, b) => Math.max(a, b)),
  };
}
