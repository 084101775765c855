import { DEFAULT_LEVEL } from '../estimate/interval.js';
import { properShare, UsageError, wholeNumber } from '../problems.js';
import { scenarioHash } from '../run.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { indexOfName } from '../simulate/names.js';
import type { Simulation } from '../simulate/simulate.js';
import { DrawnWorlds } from '../simulate/world.js';
import { version } from '../version.js';
import { anchorOf, type Anchor } from './common-run.js';
import { doubtedAssumptions } from './doubted.js';
import { valueAtProbability } from './fitted.js';
import { openScope, type OpenScope, type StudyScope } from './figures.js';
import type { AssumptionEffect, OneAssumption, OneAtATimeStudy } from './one-at-a-time-types.js';
import { rankings } from './rankings.js';
import {
  checkedWorkers,
  landingsOf,
  runWorlds,
  type StudyRun,
  type WorldFigures,
  type WorldPlan,
} from './run-worlds.js';
import { StoppedStudyError } from './stopped.js';

/** Options of {@link oneAtATime}. */
export interface OneAtATimeOptions extends StudyScope, StudyRun {
  /** Places of the assumptions to move; default: all in doubt. */
  readonly assumptions?: readonly string[] | undefined;
  /** Trials of each, 16 to 100 000; default 128. */
  readonly trials?: number | undefined;
  /** Two-sided level of the intervals, default 0.95. */
  readonly level?: number | undefined;
  /** Names of two of the set-ups whose lead is watched; default: best and next of the plain run, by each criterion. */
  readonly lead?: readonly [string, string] | undefined;
  /**
   * A plain run of the scenario, longer, from trial 0 on: what is known from it of the plain means is taken into account
   * (control variates), so that these results agree with it and err less. Default: none.
   */
  readonly common?: Simulation | undefined;
}

export const LOW = 0.1;
export const HIGH = 0.9;
const DEFAULT_TRIALS = 128;
const LEAST_TRIALS = 16;
const MOST_TRIALS = 100_000;
/** An assumption that changes no bit of any figure in so many trials is not run on. */
export const PILOT_TRIALS = 16;

/**
 * Moves one assumption at a time to its value at probability 0.1 and at 0.9, with all else as in a plain run: the same
 * worlds and the same landings on both sides, so that the difference is the assumption's own.
 *
 * Effects are averages over what else is not known. Two assumptions that act together show here only as far as the
 * average goes; see varianceDrivers for the rest. One that was fitted together with others is moved by itself, while the
 * others stay as drawn: worlds that the records would hold for unlikely.
 *
 * @param scenario compiled scenario.
 * @param options mix, set-ups, figures, assumptions, trials.
 * @returns effects on every figure and on the ranking of set-ups, largest first; the same bits for any workers.
 * @throws UsageError for names and numbers that do not exist or are out of range.
 * @throws StoppedStudyError when the signal fires; it carries the study of the finished trials.
 * @throws NonFiniteError when a model gives a number that is not finite.
 */
export async function oneAtATime(
  scenario: CompiledScenario,
  options: OneAtATimeOptions = {},
): Promise<OneAtATimeStudy> {
  const scope = openScope(scenario, options);
  const moved = doubtedAssumptions(scenario, options.assumptions);
  const { trials = DEFAULT_TRIALS, level = DEFAULT_LEVEL } = options;
  wholeNumber('trials', trials, LEAST_TRIALS, MOST_TRIALS);
  properShare('level', level);
  checkedWorkers(options.workers);
  const lead = placesOfLead(scope, options.lead);
  const anchors = (rows: number): Anchor[] =>
    scope.readers.map((reader) => anchorOf(scenario, scope, reader, options.common, rows, level));
  anchors(LEAST_TRIALS);

  const pilotTrials = Math.min(trials, PILOT_TRIALS);
  const all = trials * (1 + 2 * moved.length);
  const pilot = await runWorlds(scenario, scope, movedPlan(scenario, moved, 0, pilotTrials), {
    ...options,
    onProgress: ({ finishedTrials }) => options.onProgress?.({ finishedTrials, totalTrials: all }),
  });
  const pilotRows = Math.floor(pilot.finished / (1 + 2 * moved.length));
  const first = splitSides(pilot, moved, pilotRows);
  const stopped = options.signal?.aborted === true || pilotRows < pilotTrials;
  const seen = moved.filter((_, k) =>
    first.low[k]!.some((figures, at) => changes(figures, first.high[k]![at]!, first.base[at]!)),
  );
  const rest = stopped ? 0 : trials - pilotTrials;
  const later = await runWorlds(scenario, scope, movedPlan(scenario, seen, pilotTrials, rest), {
    ...options,
    onProgress: ({ finishedTrials, totalTrials }) =>
      options.onProgress?.({
        finishedTrials: pilot.finished + finishedTrials,
        totalTrials: pilot.finished + totalTrials,
      }),
  });
  const rows = Math.floor(later.finished / (1 + 2 * seen.length));
  const second = splitSides(later, seen, rows);
  const found = pilotRows + rows;
  const complete = found === trials;
  const study =
    found < 2
      ? null
      : judgeSides(scenario, scope, moved, seen, first, second, {
          trials: found,
          landings:
            landingsOf(pilot, pilotRows * (1 + 2 * moved.length)) +
            landingsOf(later, rows * (1 + 2 * seen.length)),
          complete,
          level,
          lead,
          anchors: anchors(found),
        });
  if (study === null || !complete) throw new StoppedStudyError(study, found, trials);
  return study;
}

/** Figures by set-up and figure: one column for each. */
type Side = readonly Float64Array[];

interface Sides {
  readonly base: Side;
  /** One per assumption moved. */
  readonly low: readonly Side[];
  readonly high: readonly Side[];
}

/** Trial after trial: the plain world, then each assumption low and high. */
function movedPlan(
  scenario: CompiledScenario,
  moved: readonly number[],
  firstTrial: number,
  trials: number,
): WorldPlan {
  const drawn = new DrawnWorlds(scenario);
  const perTrial = 1 + 2 * moved.length;
  return {
    jobs: trials * perTrial,
    fill: (job, world) => {
      const trial = firstTrial + Math.floor(job / perTrial);
      const side = job % perTrial;
      drawn.fill(trial, world);
      if (side > 0) {
        const index = moved[(side - 1) >> 1]!;
        world[index] = valueAtProbability(scenario, index, side % 2 === 1 ? LOW : HIGH);
      }
      return { trial, luck: 0 };
    },
  };
}

function splitSides({ columns }: WorldFigures, moved: readonly number[], rows: number): Sides {
  const perTrial = 1 + 2 * moved.length;
  const side = (at: number): Side =>
    columns.flatMap((figures) =>
      figures.map((column) => Float64Array.from({ length: rows }, (_, row) => column[row * perTrial + at]!)),
    );
  return {
    base: side(0),
    low: moved.map((_, k) => side(1 + 2 * k)),
    high: moved.map((_, k) => side(2 + 2 * k)),
  };
}

function changes(low: Float64Array, high: Float64Array, base: Float64Array): boolean {
  return base.some((value, row) => low[row] !== value || high[row] !== value);
}

function joined(one: Side, other: Side): Side {
  return one.map((column, at) => Float64Array.from([...column, ...other[at]!]));
}

interface Extent {
  readonly trials: number;
  readonly landings: number;
  readonly complete: boolean;
  readonly level: number;
  readonly lead: readonly [number, number] | undefined;
  /** How means are taken, by figure. */
  readonly anchors: readonly Anchor[];
}

/** Places of two set-ups among those of the study. */
function placesOfLead(
  { setups }: OpenScope,
  lead: readonly [string, string] | undefined,
): readonly [number, number] | undefined {
  if (lead === undefined) return undefined;
  const names = setups.map((name) => ({ name }));
  const [ahead, behind] = lead.map((name) => indexOfName('set-up of the study', name, names)) as [
    number,
    number,
  ];
  if (ahead === behind) throw new UsageError(`a lead needs two set-ups; found "${lead[0]}" twice`);
  return [ahead, behind];
}

function judgeSides(
  scenario: CompiledScenario,
  scope: OpenScope,
  moved: readonly number[],
  seen: readonly number[],
  first: Sides,
  second: Sides,
  { trials, landings, complete, level, lead, anchors }: Extent,
): OneAtATimeStudy {
  const base = joined(first.base, second.base);
  const places = scope.setups.flatMap((setup) =>
    scope.readers.map((reader, at) => ({ setup, reader, anchor: anchors[at]! })),
  );
  const assumptions = moved.map((index, k): OneAssumption => {
    const again = seen.indexOf(index);
    const low = again < 0 ? base : joined(first.low[k]!, second.low[again]!);
    const high = again < 0 ? base : joined(first.high[k]!, second.high[again]!);
    const effects = places.map(({ setup, reader, anchor }, at): AssumptionEffect => {
      const change = anchor.difference(high[at]!, low[at]!);
      const mean = anchor.mean(base[at]!).estimate;
      return {
        setup,
        figure: reader.figure,
        unit: reader.unit,
        atLow: anchor.mean(low[at]!),
        atHigh: anchor.mean(high[at]!),
        change,
        changeShare: mean === 0 ? null : change.estimate / Math.abs(mean),
      };
    });
    const assumption = scenario.assumptions[index]!;
    return {
      path: assumption.path,
      lowSi: valueAtProbability(scenario, index, LOW),
      highSi: valueAtProbability(scenario, index, HIGH),
      fittedWithOthers:
        (scenario.fitted?.indices.length ?? 0) > 1 && scenario.fitted!.indices.includes(index),
      seen: again >= 0,
      effects,
      rankings: rankings(scope, base, low, high, anchors, lead),
      largestChangeShare: Math.max(0, ...effects.map(({ changeShare }) => Math.abs(changeShare ?? 0))),
    };
  });
  return {
    kind: 'one at a time',
    version: version(),
    seed: scenario.seed,
    scenarioHash: scenarioHash(scenario),
    mix: scope.mix,
    setups: scope.setups,
    figures: scope.readers.map(({ figure }) => figure),
    notPriced: scope.notPriced,
    trials,
    landings,
    complete,
    level,
    base: places.map(({ setup, reader, anchor }, at) => ({
      setup,
      figure: reader.figure,
      mean: anchor.mean(base[at]!),
    })),
    assumptions: assumptions.sort((one, other) => other.largestChangeShare - one.largestChangeShare),
  };
}
