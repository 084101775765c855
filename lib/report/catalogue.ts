import { endingsChart } from '../chart/endings.js';
import { inflationChoiceChart } from '../chart/inflation-choice.js';
import { lifeCurveChart } from '../chart/life-curve.js';
import { pairingMapChart } from '../chart/pairing-map.js';
import { pressureSeasonChart } from '../chart/pressure-season.js';
import type { ChartSpec } from '../chart/spec.js';
import { treadFanChart } from '../chart/tread-fan.js';
import { trialStoryChart } from '../chart/trial-story.js';
import { wearSharesChart } from '../chart/wear-shares.js';
import { sweepPressure } from '../decide/pressure-sweep.js';
import { pressureSeason } from '../estimate/pressure-season.js';
import { remainingLife } from '../decide/remaining-life.js';
import type { RemainingLife } from '../decide/remaining-types.js';
import { recordTreadFan } from '../estimate/record-tread-fan.js';
import { UsageError } from '../problems.js';
import { runScenario, type RunResult } from '../run.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { recordPressures } from '../simulate/pressure-histories.js';
import { replay } from '../simulate/replay.js';
import type { Progress } from '../simulate/simulate.js';
import { nearestName } from '../units.js';

/** What a chart is drawn from. */
export interface ChartRequest {
  readonly setup: string;
  readonly mix: string;
  /** False leaves out the tires of today where the scenario has some; default true. */
  readonly withToday?: boolean | undefined;
  /** Trial that is opened, counted from 0. */
  readonly trial: number;
  /** Number of trials; default: as many as the chart is usually drawn from. */
  readonly trials?: number | undefined;
  /** Worker threads; the chart does not depend on it. */
  readonly workers?: number | undefined;
  /** Called as trials finish. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/** A chart that can be asked for by name. */
export interface ChartKind {
  /** What it shows. */
  readonly about: string;
  /** What it is drawn for: all that the scenario compares, one mix, one pairing, or one trial of it. */
  readonly scope: 'all' | 'mix' | 'pairing' | 'trial';
  /** True if the tires of today are drawn too. */
  readonly drawsToday?: boolean;
  readonly draw: (scenario: CompiledScenario, request: ChartRequest) => Promise<ChartSpec>;
}

async function resultOf(
  scenario: CompiledScenario,
  { trials, workers, onProgress, signal }: ChartRequest,
): Promise<RunResult> {
  return (await runScenario(scenario, { trials, workers, onProgress, signal })).result;
}

/**
 * True if a life curve of a pairing goes on from the tires that are on the airplane today.
 *
 * @param scenario compiled scenario.
 * @param request the pairing.
 */
export function showsToday(
  { today }: CompiledScenario,
  { setup, mix, withToday = true }: Pick<ChartRequest, 'setup' | 'mix' | 'withToday'>,
): boolean {
  return withToday && today !== null && today.setup === setup && today.mix === mix;
}

/** Life left in the tires of today, if they are shown. */
async function remainingOf(
  scenario: CompiledScenario,
  request: ChartRequest,
): Promise<RemainingLife | undefined> {
  const { today } = scenario;
  if (today === null || !showsToday(scenario, request)) return undefined;
  const { setup, mix, onProgress, signal } = request;
  return remainingLife(scenario, { setup, mix, onProgress, signal }, today);
}

/** The charts by name. */
export const CHARTS: Readonly<Record<string, ChartKind>> = {
  life: {
    about: 'chance that the tires are still in service against flight hours',
    scope: 'pairing',
    drawsToday: true,
    draw: async (scenario, request) => {
      const today = await remainingOf(scenario, request);
      return lifeCurveChart(await resultOf(scenario, request), { ...request, today });
    },
  },
  map: {
    about: 'life and chance of a flat of every set-up on every mix',
    scope: 'all',
    draw: async (scenario, request) => pairingMapChart(await resultOf(scenario, request)),
  },
  endings: {
    about: 'what takes the tires off, and when',
    scope: 'pairing',
    draw: async (scenario, request) => endingsChart(await resultOf(scenario, request), request),
  },
  wear: {
    about: 'what wears the tires, by cause and surface',
    scope: 'mix',
    draw: async (scenario, request) =>
      wearSharesChart(await resultOf(scenario, request), { mix: request.mix }),
  },
  tread: {
    about: 'rubber left on centre and shoulders against landings',
    scope: 'pairing',
    draw: async (scenario, request) => treadFanChart(await recordTreadFan(scenario, request)),
  },
  pressure: {
    about: 'pressure between checks over the season',
    scope: 'pairing',
    draw: async (scenario, request) =>
      pressureSeasonChart(pressureSeason(scenario, await recordPressures(scenario, request))),
  },
  inflation: {
    about: 'life, flats, effort and clearance against cold pressure',
    scope: 'pairing',
    draw: async (scenario, request) => inflationChoiceChart(await sweepPressure(scenario, request)),
  },
  story: {
    about: 'one trial, landing by landing',
    scope: 'trial',
    draw: (scenario, request) => Promise.resolve(trialStoryChart(scenario, replay(scenario, request))),
  },
};

/**
 * A chart by its name.
 *
 * @param name one of the keys of {@link CHARTS}.
 * @throws UsageError for another name, with the nearest one and all of them.
 */
export function chartKind(name: string): ChartKind {
  const names = Object.keys(CHARTS);
  const kind = names.includes(name) ? CHARTS[name] : undefined;
  if (kind !== undefined) return kind;
  const nearest = nearestName(name, names);
  const hint = nearest === null ? '.' : `; did you mean "${nearest}"?`;
  throw new UsageError(`there is no chart named "${name}"${hint} There are: ${names.join(', ')}`);
}
