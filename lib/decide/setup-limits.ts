import { AUTHORITY, type Caution } from '../cautions.js';
import { UsageError, wholeNumber } from '../problems.js';
import type { CompiledScenario, CompiledSetup, CompiledStrip, CompiledSurface } from '../scenario/compile.js';
import { indexOfName } from '../simulate/names.js';
import { DrawnWorlds, medianWorld } from '../simulate/world.js';
import { fairingRules } from './fairing-rules.js';
import { gripRules } from './grip-rules.js';
import { groundRules } from './ground-rules.js';
import { checkRule, setupWorlds, type LimitRule } from './limit-rule.js';
import type { LimitCheck, SeasonPressures, SetupLimits } from './limit-types.js';
import { ratingRules } from './rating-rules.js';
import { setupFigures, sideStiffnessPerLoad } from './setup-figures.js';
import { stanceRules } from './stance-rules.js';
import { coldPressures, Standing } from './standing.js';

/** Worlds in which limits are looked at: the first ones of a run. */
const DEFAULT_WORLDS = 400;
const MOST_WORLDS = 100_000;

/** Options of {@link setupLimits}. */
export interface SetupLimitsOptions {
  /** Runway mixes that say where the airplane lands; default: all of the scenario. */
  readonly mixes?: readonly string[] | undefined;
  /** Worlds for the range of each value, 2 to 100 000; default 400. */
  readonly worlds?: number | undefined;
  /**
   * Pressures that set-ups meet in a season, by name of the set-up, for example from `seasonPressures`. Without them
   * limits are looked at for the cold setting alone.
   */
  readonly seasonPressures?: Readonly<Record<string, SeasonPressures>> | undefined;
}

/**
 * Holds every set-up of a scenario against its limits: ratings, propeller, attitude and tail, fairings, bead, water,
 * soft ground, and pushing by hand.
 *
 * Each value is that of the median world at the cold setting, with its range from world to world. What the scenario
 * does not say is "not checked" and names what it needs: it never counts as within.
 *
 * @param scenario compiled scenario.
 * @param options where it lands, and the pressures of a season.
 * @returns one answer per set-up, in the order of the file; plain data.
 * @throws UsageError for a name or number that does not exist.
 * @example
 * import { compileScenario, parseScenario, setupLimits } from 'gravelbar';
 * const { scenario } = parseScenario(
 *   JSON.stringify({
 *     name: 'limits',
 *     setups: {
 *       hard: { mainTire: 'rigid 26 deep', mainPressure: '40 psi', thirdTire: 'nose 8.50-6', thirdPressure: '25 psi' },
 *     },
 *     mixes: { home: { 'home pavement': '100 %' } },
 *   }),
 * );
 * const [hard] = setupLimits(compileScenario(scenario));
 * hard?.checks.find(({ code }) => code === 'rated pressure')?.status; // => 'beyond'
 */
export function setupLimits(scenario: CompiledScenario, options: SetupLimitsOptions = {}): SetupLimits[] {
  const season = options.seasonPressures ?? {};
  for (const name of Object.keys(season)) indexOfName('set-up', name, scenario.setups);
  const places = landingPlaces(scenario, options.mixes);
  const worlds = drawWorlds(scenario, options.worlds ?? DEFAULT_WORLDS);
  const median = medianWorld(scenario);
  const stiffnesses = scenario.setups.flatMap(
    (setup) =>
      sideStiffnessPerLoad(new Standing(scenario, setup, median, coldPressures(scenario, setup, median))) ??
      [],
  );
  const stiffest = stiffnesses.length === 0 ? null : Math.max(...stiffnesses);
  return scenario.setups.map((setup) => {
    const pressures = Object.hasOwn(season, setup.name) ? season[setup.name]! : null;
    const standing = setupWorlds(scenario, setup, median, worlds, pressures);
    const checks = rulesOf(scenario, setup, places).map((rule) => checkRule(rule, standing));
    return {
      setup: setup.name,
      mainTire: setup.main.name,
      thirdTire: setup.third.name,
      mainColdPa: setup.mainPa,
      thirdColdPa: setup.thirdPa,
      seasonPressures: pressures,
      checks,
      figures: setupFigures(scenario, standing, stiffest),
      cautions: limitCautions(scenario, setup, checks),
    };
  });
}

/** Strips and surfaces that the airplane meets. */
export interface LandingPlaces {
  readonly strips: readonly CompiledStrip[];
  readonly surfaces: readonly CompiledSurface[];
}

/**
 * Strips and surfaces of runway mixes, in the order of the file.
 *
 * @throws UsageError for a mix that does not exist, and for none at all.
 */
export function landingPlaces(scenario: CompiledScenario, mixes?: readonly string[]): LandingPlaces {
  if (mixes?.length === 0) throw new UsageError('there is no runway mix to look at: give at least one');
  const wanted =
    mixes?.map((name) => scenario.mixes[indexOfName('runway mix', name, scenario.mixes)]!) ?? scenario.mixes;
  const stripIndices = new Set(wanted.flatMap((mix) => mix.strips));
  const strips = scenario.strips.filter((_, index) => stripIndices.has(index));
  const surfaceIndices = new Set(
    strips.flatMap(({ touchdown, rollout, taxi }) => [touchdown, rollout, taxi]),
  );
  return { strips, surfaces: scenario.surfaces.filter((_, index) => surfaceIndices.has(index)) };
}

/** The first worlds of a run. */
export function drawWorlds(scenario: CompiledScenario, count: number): Float64Array[] {
  wholeNumber('worlds', count, 2, MOST_WORLDS);
  const source = new DrawnWorlds(scenario);
  return Array.from({ length: count }, (_, trial) => {
    const world = new Float64Array(scenario.assumptions.length);
    source.fill(trial, world);
    return world;
  });
}

/** All limits that apply to a set-up. */
export function rulesOf(
  scenario: CompiledScenario,
  setup: CompiledSetup,
  places: LandingPlaces,
): LimitRule[] {
  return [
    ...ratingRules(scenario, setup, places.strips),
    ...stanceRules(scenario),
    ...fairingRules(scenario, setup),
    ...gripRules(scenario, setup, places.strips),
    ...groundRules(scenario, places.surfaces),
  ];
}

/** What a reader must know before acting on the limits of a set-up. */
function limitCautions(
  { airplane }: CompiledScenario,
  { fairingFit }: CompiledSetup,
  checks: readonly LimitCheck[],
): Caution[] {
  const cautions: Caution[] = [AUTHORITY];
  const sources = [airplane.geometry?.source, fairingFit?.source].filter((source) => source !== undefined);
  if (sources.length > 0) {
    cautions.push({
      code: 'measures',
      message: `Clearances rest on measures of the scenario (${[...new Set(sources)].join('; ')}): measure your own airplane.`,
    });
  }
  const later = checks.filter(
    ({ status, season }) => status === 'within' && season.some((state) => state.status === 'beyond'),
  );
  if (later.length > 0) {
    cautions.push({
      code: 'beyond in the season',
      message: `Within limits as set, but beyond them at pressures met between checks in the season: ${[...new Set(later.map(({ code }) => code))].join(', ')}.`,
    });
  }
  return cautions;
}
