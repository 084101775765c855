/** A season under two sets of assumptions, on the same landings. */
import { pairedDifference, type PairedDifference } from '../estimate/paired.js';
import { expectedSeasonCost, missingPrices } from '../estimate/season-figures.js';
import { summarize, type PairingSummary } from '../estimate/summary.js';
import { UsageError } from '../problems.js';
import { compileScenario, type CompiledScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import type { PairingTrials } from '../simulate/columns.js';
import { simulate, type Progress, type Simulation } from '../simulate/simulate.js';
import { comparePairings, type MixComparison } from './compare.js';
import type { BestSetup } from './best-types.js';
import { CRITERIA, lifeHours, setupNamed } from './criteria.js';
import type { BestShift, BestTold, PairingShift, SeasonFigures, SeasonShift } from './season-shift-types.js';

/** How much to run, and how to follow it. */
export interface SeasonShiftOptions {
  /** Trials under each set of assumptions; default: that of the first scenario. */
  readonly trials?: number | undefined;
  /** Worker threads; the result does not depend on it. */
  readonly workers?: number | undefined;
  /** Called as trials of either run finish; the total is that of both. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/**
 * Lives through the season of a scenario under two sets of assumptions, before and after they were fitted to records, on
 * the same landings: what of the answer changes, and what of the doubt is left.
 *
 * Each trial meets the same landings before and after, and the same draws of the assumptions that were not fitted, so
 * that the error of a change is that of paired differences.
 *
 * @param before scenario with the assumptions before.
 * @param after the same scenario with other assumptions, as `readScenario(file, assumptionsFile(fit))` reads it; it is
 *   run with the seed of the first.
 * @param options trials, progress and stop.
 * @returns figures of each pairing and the best set-up on each mix, before and after.
 * @throws UsageError for scenarios that differ in set-ups, mixes or season, and for options out of range.
 * @throws CancelledError when the signal fires.
 * @throws NonFiniteError when a model gives a number that is not finite.
 */
export async function seasonShift(
  before: Scenario,
  after: Scenario,
  options: SeasonShiftOptions = {},
): Promise<SeasonShift> {
  const first = compileScenario(before);
  const second = compileScenario({ ...after, run: before.run });
  requireAlike(first, second);
  const trials = options.trials ?? first.trials;
  const run = (scenario: CompiledScenario, done: number): Promise<Simulation> =>
    simulate(scenario, {
      trials,
      workers: options.workers,
      signal: options.signal,
      onProgress: ({ finishedTrials }) =>
        options.onProgress?.({ finishedTrials: done + finishedTrials, totalTrials: 2 * trials }),
    });
  const simulations = [await run(first, 0), await run(second, trials)] as const;
  const figures = [summarize(first, simulations[0]), summarize(second, simulations[1])] as const;
  return {
    kind: 'gravelbar season shift',
    formatVersion: 1,
    scenario: before.name,
    seed: simulations[0].seed,
    trials: simulations[0].trials,
    season: {
      landings: first.calendar.landingsPerYear,
      flightHours: first.calendar.flightHoursPerYear,
    },
    currency: first.costs?.currency ?? null,
    pairings: figures[0].map((pairing, index) => ({
      setup: pairing.setup,
      mix: pairing.mix,
      before: seasonFigures(pairing),
      after: seasonFigures(figures[1][index]!),
      change: changeOf(first, second, simulations[0].pairings[index]!, simulations[1].pairings[index]!),
    })),
    best: bestShifts(first, second, simulations),
  };
}

/** Scenarios that differ in more than numbers cannot be told apart pairing by pairing. */
function requireAlike(first: CompiledScenario, second: CompiledScenario): void {
  const { calendar: mine } = first;
  const { calendar: other } = second;
  const parts = {
    'set-ups': [names(first.setups), names(second.setups)],
    'runway mixes': [names(first.mixes), names(second.mixes)],
    'landings of a season': [mine.landingsPerYear, other.landingsPerYear],
    'flight hours of a season': [mine.flightHoursPerYear, other.flightHoursPerYear],
    'prices of a season': [first.costs?.currency ?? 'none', second.costs?.currency ?? 'none'],
  } as const;
  for (const [what, [one, two]] of Object.entries(parts)) {
    if (one === two) continue;
    throw new UsageError(
      `the scenarios before and after must have the same ${what}; found ${one} and ${two}`,
    );
  }
}

function names(entries: readonly { readonly name: string }[]): string {
  return entries.map(({ name }) => JSON.stringify(name)).join(', ');
}

function seasonFigures({ life, puncture, season, doubts }: PairingSummary): SeasonFigures {
  const { ignorance, ignoranceAtMost } = doubts.lifeHours;
  const { p10, p50, p90, intervals } = life.hours;
  const { estimate, lower, upper } = puncture.season;
  return {
    lifeHours: { p10, p50, p90, medianInterval: intervals.p50 },
    beyondHorizon: life.beyondHorizon,
    flatChance: { estimate, lower, upper },
    flatAcrossWorlds: puncture.acrossWorlds,
    costPerFlightHour: season.costPerFlightHour,
    ignoranceHours:
      ignorance === null || ignoranceAtMost === null ? null : { estimate: ignorance, upper: ignoranceAtMost },
  };
}

function changeOf(
  first: CompiledScenario,
  second: CompiledScenario,
  before: PairingTrials,
  after: PairingTrials,
): PairingShift['change'] {
  const flats = ({ columns }: PairingTrials): Float64Array => columns.flatsHazard;
  const isPriced = (scenario: CompiledScenario): boolean =>
    missingPrices(scenario, setupNamed(scenario, before.setup)) === null;
  const cost = (scenario: CompiledScenario, trials: PairingTrials): Float64Array =>
    expectedSeasonCost(scenario.costs!, trials).map((each) => each / scenario.calendar.flightHoursPerYear);
  const money: PairedDifference | null =
    isPriced(first) && isPriced(second) ? pairedDifference(cost(second, after), cost(first, before)) : null;
  return {
    meanLifeHours: pairedDifference(lifeHours(second, after), lifeHours(first, before)),
    flatsPerSeason: pairedDifference(flats(after), flats(before)),
    costPerFlightHour: money,
  };
}

function bestShifts(
  first: CompiledScenario,
  second: CompiledScenario,
  [before, after]: readonly [Simulation, Simulation],
): BestShift[] {
  if (first.setups.length < 2) return [];
  const later = comparePairings(second, after);
  return comparePairings(first, before).flatMap((comparison, index) => shiftsOn(comparison, later[index]!));
}

function shiftsOn(first: MixComparison, second: MixComparison): BestShift[] {
  return CRITERIA.flatMap((criterion): BestShift[] => {
    const one = first.best[criterion];
    const two = second.best[criterion];
    if (one?.priced !== true || two?.priced !== true) return [];
    const [before, after] = [toldOf(one), toldOf(two)];
    return [{ mix: first.mix, criterion, before, after, change: changeOfBest(before, after) }];
  });
}

function toldOf({ verdict: { best, kind, equal, open, text } }: BestSetup): BestTold {
  return { best, kind, equal, open, text };
}

function changeOfBest(before: BestTold, after: BestTold): BestShift['change'] {
  if (before.best === after.best) return 'same';
  const isLevel = ({ equal, open }: BestTold, other: string): boolean =>
    equal.includes(other) || open.includes(other);
  return isLevel(before, after.best) || isLevel(after, before.best) ? 'not told' : 'changed';
}
