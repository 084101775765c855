import { endingsChart } from '../chart/endings.js';
import { inflationChoiceChart } from '../chart/inflation-choice.js';
import { lifeCurveChart } from '../chart/life-curve.js';
import { pairingMapChart } from '../chart/pairing-map.js';
import { pressureSeasonChart } from '../chart/pressure-season.js';
import type { ChartSpec } from '../chart/spec.js';
import { treadFanChart } from '../chart/tread-fan.js';
import { wearSharesChart } from '../chart/wear-shares.js';
import { sweepPressure } from '../decide/pressure-sweep.js';
import { recordTreadFan } from '../estimate/record-tread-fan.js';
import { pressureSeason } from '../estimate/pressure-season.js';
import type { PairingSummary } from '../estimate/summary.js';
import { CancelledError } from '../problems.js';
import type { RunResult } from '../run.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { recordPressures } from '../simulate/pressure-histories.js';
import type { Progress } from '../simulate/simulate.js';
import { STOPPED, type CollectOptions } from './chapter.js';
import { alone, type ChartGroup, type ChartPart } from './chart-part.js';
import type { Lead } from './lead.js';

/** Trials that tread and pressure are drawn from, at most: enough for quantiles that do not jump. */
const WATCHED_TRIALS = 400;

/**
 * All charts of a report. Those of the result come first; those that need further trials are made for the set-up that
 * leads on each mix.
 *
 * @param result the answer of a run.
 * @param compiled its scenario.
 * @param all who leads on each mix.
 * @param finding the answer in one sentence.
 * @param options progress and stop.
 * @returns the charts, question by question.
 */
export async function collectCharts(
  result: RunResult,
  compiled: CompiledScenario,
  all: readonly Lead[],
  finding: string,
  options: CollectOptions,
): Promise<ChartPart[]> {
  // A run of few trials is asked for a quick look.
  const trials = Math.min(WATCHED_TRIALS, result.trials);
  return [
    mapPart(result, finding),
    lifePart(result, all),
    endingsPart(result, all),
    wearPart(result, all),
    await watchedPart(
      {
        id: 'tread',
        title: 'How the tread wears',
        about:
          'Rubber left on the main tires of the leading set-up of each mix, by wear alone: as if no cut and no flat ended them.',
      },
      all,
      { ...options, trials },
      async (request) => treadFanChart(await recordTreadFan(compiled, request)),
    ),
    await watchedPart(
      {
        id: 'pressure',
        title: 'Pressure between checks',
        about:
          'Gauge pressure of a main tire over the season, as it is met at the strips: temperature, elevation and slow loss ' +
          'move it, checks restore it. For each leading set-up on the first mix that it leads; on others only the elevation ' +
          'of the strips differs.',
      },
      oncePerSetup(all),
      { ...options, trials },
      async (request) =>
        pressureSeasonChart(pressureSeason(compiled, await recordPressures(compiled, request))),
    ),
    await watchedPart(
      {
        id: 'inflation',
        title: 'Which pressure',
        about:
          'What the cold pressure of the main tires of the leading set-up does to life, flats, effort and clearance, on the same landings throughout. The manual and the rated pressure come first.',
      },
      all,
      { ...options, trials },
      async (request) =>
        inflationChoiceChart(await sweepPressure(compiled, { ...request, workers: options.workers })),
    ),
  ];
}

/** The map under the finding of the report, so that the two never seem to differ. */
function mapPart(result: RunResult, finding: string): ChartPart {
  const map = pairingMapChart(result);
  return {
    id: 'map',
    title: 'All pairings at a glance',
    about:
      'Life and risk of every set-up on every mix, with the spread that luck and ignorance leave. Bold figures go by the ' +
      'simulation error of each set-up alone; the answer above goes by differences on common landings, which are known better.',
    groups: [alone({ ...map, title: { ...map.title, text: [finding] } })],
    missing: null,
  };
}

function lifePart(result: RunResult, all: readonly Lead[]): ChartPart {
  return {
    id: 'life',
    title: 'How long they last',
    about:
      'Chance that the main tires are still in service against flight hours: of the leading set-up on each mix, and folded ' +
      'below it of the others.',
    groups: all.map(({ mix, leader, ranked }) => {
      const draw = ({ setup }: PairingSummary): ChartSpec => lifeCurveChart(result, { setup, mix });
      const others = ranked.filter((pairing) => pairing !== leader);
      return { chart: draw(leader), folded: others.map(draw), summary: `The other set-ups on ${mix}` };
    }),
    missing: null,
  };
}

function endingsPart(result: RunResult, all: readonly Lead[]): ChartPart {
  return {
    id: 'endings',
    title: 'How they end',
    about:
      'Share of the sets of main tires of the leading set-up that have come off, by what took the first of the two off.',
    groups: all.map(({ mix, leader }) => alone(endingsChart(result, { setup: leader.setup, mix }))),
    missing: null,
  };
}

function wearPart(result: RunResult, all: readonly Lead[]): ChartPart {
  return {
    id: 'wear',
    title: 'What wears them',
    about: 'Shares of the rubber that the main tires lose, by cause and by surface.',
    groups: all.map(({ mix }) => alone(wearSharesChart(result, { mix }))),
    missing: null,
  };
}

/** The first lead of each set-up. */
function oncePerSetup(all: readonly Lead[]): Lead[] {
  const setups = all.map(({ leader }) => leader.setup);
  return all.filter(({ leader }, index) => setups.indexOf(leader.setup) === index);
}

interface Request {
  readonly setup: string;
  readonly mix: string;
  readonly trials: number;
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  readonly signal?: AbortSignal | undefined;
}

/** Charts of the leading set-up of each mix that need trials of their own. */
async function watchedPart(
  words: Pick<ChartPart, 'id' | 'title' | 'about'>,
  all: readonly Lead[],
  options: CollectOptions & { readonly trials: number },
  draw: (request: Request) => Promise<ChartSpec>,
): Promise<ChartPart> {
  const groups: ChartGroup[] = [];
  try {
    for (const { mix, leader } of all) {
      const { trials, onProgress, signal } = options;
      const request = { setup: leader.setup, mix, trials, onProgress, signal };
      groups.push(alone(await draw(request)));
    }
  } catch (error) {
    if (!(error instanceof CancelledError)) throw error;
    return { ...words, groups, missing: STOPPED };
  }
  return { ...words, groups, missing: null };
}
