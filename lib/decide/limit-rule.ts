import type {
  LimitAcrossWorlds,
  LimitAtState,
  LimitCheck,
  LimitStatus,
  PressureState,
  SeasonPressures,
} from './limit-types.js';
import { quantileSorted } from '../estimate/moments.js';
import type { CompiledScenario, CompiledSetup } from '../scenario/compile.js';
import { coldPressures, Standing, type WheelPressures } from './standing.js';

/** A value and its limit in one world; the limit is null where it is not known. */
export interface LimitReading {
  readonly value: number;
  readonly limit: number | null;
}

type Described = Pick<
  LimitCheck,
  'code' | 'title' | 'wheel' | 'surface' | 'binding' | 'unit' | 'bound' | 'needs' | 'source' | 'caution'
>;

/** How a limit is read off a set-up. */
export interface LimitRule extends Described {
  /** False where the value is the same at any pressure. */
  readonly pressureMatters: boolean;
  /** Null where the value cannot be worked out. */
  read(standing: Standing): LimitReading | null;
}

/** Fields of a rule that most rules share. */
export const RULE_DEFAULTS: Pick<
  LimitRule,
  'wheel' | 'surface' | 'binding' | 'pressureMatters' | 'needs' | 'caution'
> = {
  wheel: null,
  surface: null,
  binding: true,
  pressureMatters: true,
  needs: [],
  caution: null,
};

/** A set-up in the worlds in which its limits are looked at. */
export interface SetupWorlds {
  readonly setup: CompiledSetup;
  /** At the medians of all assumptions and the cold setting. */
  readonly median: Standing;
  readonly drawn: readonly Standing[];
  /** At other pressures of the season, medians of all assumptions. */
  readonly season: readonly { readonly state: PressureState; readonly standing: Standing }[];
}

/** Puts a set-up into its worlds. */
export function setupWorlds(
  scenario: CompiledScenario,
  setup: CompiledSetup,
  medianWorld: Float64Array,
  drawnWorlds: readonly Float64Array[],
  season: SeasonPressures | null,
): SetupWorlds {
  const cold = (world: Float64Array): Standing =>
    new Standing(scenario, setup, world, coldPressures(scenario, setup, world));
  const at = (
    state: PressureState,
    pressures: WheelPressures,
  ): { readonly state: PressureState; readonly standing: Standing } => ({
    state,
    standing: new Standing(scenario, setup, medianWorld, pressures),
  });
  return {
    setup,
    median: cold(medianWorld),
    drawn: drawnWorlds.map(cold),
    season:
      season === null
        ? []
        : [
            at('hot', { mainPa: season.mainHighestPa, thirdPa: season.thirdHighestPa }),
            at('landed', { mainPa: season.mainLandedPa, thirdPa: season.thirdLandedPa }),
            at('leaked', { mainPa: season.mainLowestPa, thirdPa: season.thirdLowestPa }),
          ],
  };
}

/** Distance of a reading to its limit, positive within it; null where there is no limit. */
export function marginOf({ bound }: Pick<LimitRule, 'bound'>, reading: LimitReading | null): number | null {
  if (reading?.limit == null) return null;
  return bound === 'at most' ? reading.limit - reading.value : reading.value - reading.limit;
}

/** What is missing can turn "within" into "not checked", but never hides a limit that is broken already. */
function statusOf({ needs }: Pick<LimitRule, 'needs'>, margin: number | null): LimitStatus {
  if (margin !== null && margin < 0) return 'beyond';
  return margin === null || needs.length > 0 ? 'not checked' : 'within';
}

/**
 * Reads a limit off a set-up.
 *
 * @param rule which.
 * @param worlds the set-up.
 */
export function checkRule(rule: LimitRule, worlds: SetupWorlds): LimitCheck {
  const { code, title, wheel, surface, binding, unit, bound, needs, source, caution } = rule;
  const reading = rule.read(worlds.median);
  const margin = marginOf(rule, reading);
  const status = statusOf(rule, margin);
  return {
    code,
    title,
    wheel,
    surface,
    binding,
    unit,
    bound,
    value: reading?.value ?? null,
    limit: reading?.limit ?? null,
    margin,
    status,
    worlds: acrossWorlds(rule, worlds.drawn),
    season: rule.pressureMatters ? worlds.season.flatMap((each) => atState(rule, each)) : [],
    needs: status === 'beyond' ? [] : needs,
    source,
    caution,
  };
}

function acrossWorlds(rule: LimitRule, drawn: readonly Standing[]): LimitAcrossWorlds | null {
  const readings = drawn.flatMap((standing) => rule.read(standing) ?? []);
  if (readings.length === 0) return null;
  const values = Float64Array.from(readings, ({ value }) => value).sort();
  const margins = readings.flatMap((reading) => marginOf(rule, reading) ?? []);
  return {
    p10: quantileSorted(values, 0.1),
    p90: quantileSorted(values, 0.9),
    shareBeyond: margins.length === 0 ? null : margins.filter((margin) => margin < 0).length / margins.length,
  };
}

function atState(
  rule: LimitRule,
  { state, standing }: { readonly state: PressureState; readonly standing: Standing },
): LimitAtState[] {
  const reading = rule.read(standing);
  if (reading === null) return [];
  const margin = marginOf(rule, reading);
  const ofThird = rule.wheel === 'nose' || rule.wheel === 'tail';
  const { mainPa, thirdPa } = standing.pressures;
  return [
    {
      state,
      gaugePa: ofThird ? thirdPa : mainPa,
      value: reading.value,
      margin,
      status: statusOf(rule, margin),
    },
  ];
}
