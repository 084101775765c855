/** Set-ups against each other, on the same landings in the same worlds. */
import { DEFAULT_LEVEL, type IntervalEstimate } from '../estimate/interval.js';
import { pairedDifference, type PairedDifference } from '../estimate/paired.js';
import { wilsonInterval } from '../estimate/proportion.js';
import { expectedDaysLost, expectedSeasonCost } from '../estimate/season-figures.js';
import { flightHoursAfter } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { IN_SERVICE, type PairingTrials } from '../simulate/columns.js';
import { indexOfName } from '../simulate/names.js';
import type { Simulation } from '../simulate/simulate.js';
import { bestOnMix, requireBestOptions } from './best.js';
import type { BestOptions, BestSetup } from './best-types.js';
import {
  CRITERIA,
  lifeHours,
  trialsOnMix,
  whatIsUnpriced,
  type Criterion,
  type MixTrials,
  type NotPriced,
} from './criteria.js';

/** Options of {@link comparePairings}. */
export interface CompareOptions extends BestOptions {
  /** Name of the runway mix; default: every mix on which at least two set-ups were run. */
  readonly mix?: string | undefined;
  /** Name of a set-up that all others are compared with; default: each with each. */
  readonly against?: string | undefined;
  /** What to look for the best set-up by; default: all of CRITERIA. */
  readonly criteria?: readonly Criterion[] | undefined;
}

/** Difference of the mean lives, counted up to the horizon, and who outlasts whom. Hours are flight hours. */
export interface LifeDifference extends PairedDifference {
  /** Lives count up to here, h. */
  readonly horizonHours: number;
  /** Share of trials in which the tires were still on at the horizon: their life is longer than it counts. */
  readonly beyondHorizon: { readonly setup: number; readonly against: number };
  /** Shares of trials, luck included; they add to 1. */
  readonly outlasts: {
    readonly setup: IntervalEstimate;
    readonly against: IntervalEstimate;
    /** Both came off after the same landing. */
    readonly sameLanding: number;
    /** Both were still on at the horizon. */
    readonly notTold: number;
  };
}

/** One set-up less another: every difference is `setup` minus `against`. */
export interface SetupDifference {
  readonly setup: string;
  readonly against: string;
  readonly lifeHours: LifeDifference;
  readonly flatsPerSeason: PairedDifference;
  readonly daysLostPerSeason: PairedDifference;
  readonly costPerSeason: PairedDifference | NotPriced;
  readonly costPerFlightHour: PairedDifference | NotPriced;
}

/** The set-ups on one mix, compared. Plain data that can be stored as JSON. */
export interface MixComparison {
  readonly mix: string;
  readonly trials: number;
  /** Set-ups in the order of the run. */
  readonly setups: readonly string[];
  /** Label of money; null without prices. */
  readonly currency: string | null;
  readonly differences: readonly SetupDifference[];
  /** The best set-up by each criterion asked for. */
  readonly best: Partial<Readonly<Record<Criterion, BestSetup | NotPriced>>>;
}

/**
 * Compares set-ups on the same landings: paired differences, and the best set-up by each criterion.
 *
 * All set-ups of a run meet the same landings in the same worlds, trial by trial, so that most of what varies drops
 * out of their differences; `varianceRatio` says how much. Each trial has a world of its own, so the errors over
 * trials are those of independent values; twins are left out of them. Flats, days and money hold flats as expected
 * along each path, which changes no mean and takes out the luck of rare events (see season-figures.ts).
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @param options which mix and set-ups, what matters, and where to ask for more.
 * @returns one comparison per mix, in the order of the scenario.
 * @throws UsageError for names that do not exist, options out of range, or fewer than two set-ups to compare.
 */
export function comparePairings(
  scenario: CompiledScenario,
  simulation: Simulation,
  options: CompareOptions = {},
): MixComparison[] {
  const criteria = options.criteria ?? CRITERIA;
  requireBestOptions(options, criteria);
  return mixesOf(scenario, simulation, options.mix).map((mix) => {
    const onMix = trialsOnMix(scenario, simulation, mix);
    return {
      mix,
      trials: onMix.trials[0]!.rows,
      setups: onMix.setups,
      currency: scenario.costs?.currency ?? null,
      differences: pairsOf(onMix, options.against).map(([setup, against]) =>
        difference(scenario, onMix, setup, against, options.level ?? DEFAULT_LEVEL),
      ),
      best: Object.fromEntries(
        criteria.map((criterion) => [
          criterion,
          bestOnMix(scenario, simulation.seed, onMix, criterion, options),
        ]),
      ),
    };
  });
}

function mixesOf(scenario: CompiledScenario, { pairings }: Simulation, mix: string | undefined): string[] {
  if (mix !== undefined) return [mix];
  const comparable = scenario.mixes
    .map(({ name }) => name)
    .filter((name) => pairings.filter((pairing) => pairing.mix === name).length > 1);
  // Without any, the first one tells what is missing.
  return comparable.length > 0 ? comparable : scenario.mixes.slice(0, 1).map(({ name }) => name);
}

/** Pairs of indices: each set-up with each later one, or each other one with the chosen one. */
function pairsOf({ setups }: MixTrials, against: string | undefined): (readonly [number, number])[] {
  const indices = Array.from(setups.keys());
  if (against === undefined) {
    return indices.flatMap((first) => indices.slice(first + 1).map((second) => [first, second] as const));
  }
  const chosen = indexOfName(
    'set-up on this mix',
    against,
    setups.map((name) => ({ name })),
  );
  return indices.filter((index) => index !== chosen).map((index) => [index, chosen] as const);
}

function difference(
  scenario: CompiledScenario,
  { setups, trials }: MixTrials,
  setup: number,
  against: number,
  level: number,
): SetupDifference {
  const pair = [trials[setup]!, trials[against]!] as const;
  const paired = (figures: (table: PairingTrials) => Float64Array): PairedDifference =>
    pairedDifference(figures(pair[0]), figures(pair[1]), level);
  const names = [setups[setup]!, setups[against]!];
  const { costs } = scenario;
  const hours = scenario.calendar.flightHoursPerYear;
  const unpriced = whatIsUnpriced(scenario, names);
  const money = (perHours: number): PairedDifference | NotPriced =>
    unpriced ?? paired((table) => expectedSeasonCost(costs!, table).map((cost) => cost / perHours));
  return {
    setup: names[0]!,
    against: names[1]!,
    lifeHours: { ...paired((table) => lifeHours(scenario, table)), ...livesOf(scenario, pair, level) },
    flatsPerSeason: paired(({ columns }) => columns.flatsHazard),
    daysLostPerSeason: paired(expectedDaysLost),
    costPerSeason: money(1),
    costPerFlightHour: money(hours),
  };
}

type LivesCompared = Pick<LifeDifference, 'horizonHours' | 'beyondHorizon' | 'outlasts'>;

function livesOf(
  { calendar }: CompiledScenario,
  [setup, against]: readonly [PairingTrials, PairingTrials],
  level: number,
): LivesCompared {
  const { rows } = setup;
  const [a, b] = [setup.columns, against.columns];
  let longer = 0;
  let shorter = 0;
  let notTold = 0;
  let horizon = 0;
  for (let row = 0; row < rows; row++) {
    horizon = Math.max(horizon, a.followedLandings[row]!);
    if (a.lifeCause[row] === IN_SERVICE && b.lifeCause[row] === IN_SERVICE) notTold++;
    // Still on at the horizon is longer than to have come off at its last landing.
    else if (a.lifeLandings[row] === b.lifeLandings[row]) {
      if (a.lifeCause[row] === IN_SERVICE) longer++;
      else if (b.lifeCause[row] === IN_SERVICE) shorter++;
    } else if (a.lifeLandings[row]! > b.lifeLandings[row]!) longer++;
    else shorter++;
  }
  const open = ({ lifeCause }: PairingTrials['columns']): number =>
    lifeCause.reduce((count, cause) => count + (cause === IN_SERVICE ? 1 : 0), 0) / rows;
  return {
    horizonHours: flightHoursAfter(calendar, horizon),
    beyondHorizon: { setup: open(a), against: open(b) },
    outlasts: {
      setup: wilsonInterval(longer, rows, level),
      against: wilsonInterval(shorter, rows, level),
      sameLanding: (rows - longer - shorter - notTold) / rows,
      notTold: notTold / rows,
    },
  };
}
