import { flightHoursAfter } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { WEAR_CAUSES, type PairingTrials, type WearCause } from '../simulate/columns.js';
import { TWIN_EVERY, type Simulation } from '../simulate/simulate.js';
import {
  END_CAUSES,
  endedFlags,
  lifeCurves,
  thinCurves,
  type EndCause,
  type LifeCurves,
  type ThinCurves,
} from './curves.js';
import type { IntervalEstimate } from './interval.js';
import { clopperPearsonInterval } from './proportion.js';
import { summarizeLife, summarizeReading, type LifeSummary } from './life.js';
import { chancesAlongPaths, summarizePunctures, type PunctureSummary } from './risk.js';
import { expectedDaysLost, expectedSeasonCost, missingPrices } from './season-figures.js';
import { ratioOfSums, type Estimate } from './shares.js';
import { meanEstimate, splitChanceDoubt, splitDoubt, type ThreeDoubts } from './uncertainty.js';
import { agedLandings, rowsOf, splitLives, worldCurves } from './world-curves.js';

/** Everything estimated for one pairing. */
export interface PairingSummary {
  readonly setup: string;
  readonly mix: string;
  /** Life of the main tires: until the first of the two fitted new must come off, for any reason. */
  readonly life: LifeSummary;
  /** Wear alone, to the tread limit: as if nothing else ended the tires. */
  readonly treadLimit: LifeSummary;
  /** Wear alone, until cords show: as if nothing else ended the tires and nobody changed them at the limit. */
  readonly cords: LifeSummary;
  readonly puncture: PunctureSummary;
  readonly wearShares: {
    readonly byCause: Readonly<Record<WearCause, Estimate>>;
    readonly bySurface: Readonly<Record<string, Estimate>>;
  };
  /** Share of first main tires ended by each cause within the horizon. */
  readonly removalCauses: Readonly<Record<EndCause, IntervalEstimate>>;
  /** Mean depth worn off each band when the first main tire comes off, mm. */
  readonly bandWearMm: {
    readonly centre: Estimate;
    readonly innerShoulder: Estimate;
    readonly outerShoulder: Estimate;
  };
  readonly thirdWheel: {
    /** Where it is. */
    readonly position: 'nose' | 'tail';
    readonly life: LifeSummary;
    readonly removalCauses: Readonly<Record<EndCause, IntervalEstimate>>;
  };
  /** The three doubts about life (flight hours) and about the chance of a flat in the season. */
  readonly doubts: { readonly lifeHours: ThreeDoubts; readonly punctureSeason: ThreeDoubts };
  readonly season: SeasonSummary;
  readonly curves: ThinCurves;
}

/** Other figures of one season, means over trials; days and money hold flats as expected (see season-figures.ts). */
export interface SeasonSummary {
  readonly mainTiresFitted: Estimate;
  readonly thirdTiresFitted: Estimate;
  readonly daysLost: Estimate;
  /** Money per season; null without all prices that it takes. */
  readonly cost: Estimate | null;
  /** Money per flight hour; null likewise. */
  readonly costPerFlightHour: Estimate | null;
  readonly beadSlips: Estimate;
  readonly slowLeaks: Estimate;
  /** Share of scheduled pressure readings below 90 % of the cold setting. */
  readonly lowReadings: Estimate;
  /** Share of wet paved landings above the hydroplaning speed of a main tire, were the runway flooded. */
  readonly hydroplaning: Estimate;
  /** Expected stones thrown at the tail per landing. */
  readonly tailHitsPerLanding: Estimate;
}

const M_TO_MM = 1000;

/**
 * All estimates of a simulation, pairing by pairing.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @returns one summary per pairing, in the order of the simulation.
 */
export function summarize(scenario: CompiledScenario, simulation: Simulation): PairingSummary[] {
  return simulation.pairings.map((trials, index) =>
    summarizePairing(scenario, trials, simulation.twins[index]!),
  );
}

/**
 * All estimates of one pairing.
 *
 * @param scenario the compiled scenario.
 * @param trials its trials.
 * @param twins the twins of every fourth of them.
 */
export function summarizePairing(
  scenario: CompiledScenario,
  trials: PairingTrials,
  twins: PairingTrials,
): PairingSummary {
  const { calendar } = scenario;
  const { columns } = trials;
  const curves = lifeCurves(trials);
  const puncture = summarizePunctures(trials, calendar.landingsPerYear);
  const hours = (table: PairingTrials): Float64Array =>
    Float64Array.from(table.columns.lifeLandings, (landings) => flightHoursAfter(calendar, landings));
  const lifeHours = hours(trials);
  return {
    setup: trials.setup,
    mix: trials.mix,
    life: summarizeLife(calendar, columns.lifeLandings, endedFlags(columns.lifeCause)),
    treadLimit: summarizeReading(calendar, columns.treadLimitLandings, columns.followedLandings),
    cords: summarizeReading(calendar, columns.cordsLandings, columns.followedLandings),
    puncture,
    wearShares: wearShares(scenario, trials),
    removalCauses: causeShares(curves),
    bandWearMm: {
      centre: meanEstimate(columns.centreLostM.map((depth) => depth * M_TO_MM)),
      innerShoulder: meanEstimate(columns.innerLostM.map((depth) => depth * M_TO_MM)),
      outerShoulder: meanEstimate(columns.outerLostM.map((depth) => depth * M_TO_MM)),
    },
    thirdWheel: {
      position: scenario.airplane.gear,
      life: summarizeLife(calendar, columns.thirdLifeLandings, endedFlags(columns.thirdLifeCause)),
      removalCauses: causeShares(lifeCurves(thirdWheel(trials))),
    },
    doubts: {
      lifeHours: splitDoubt(lifeHours, everyTwinned(lifeHours, twins.rows), hours(twins)),
      punctureSeason: splitChanceDoubt(
        puncture.season.estimate,
        everyTwinned(chancesAlongPaths(trials), twins.rows),
        chancesAlongPaths(twins),
        puncture.season.standardError,
      ),
    },
    season: summarizeSeason(scenario, trials),
    curves: thinCurves(curves, calendar, undefined, (landings, survival) => {
      const aged = agedLandings(trials, twins);
      const wornAt = scenario.habits.removeAtCords ? 'cords' : 'tread limit';
      const lives = splitLives(trials, wornAt, aged);
      const first = rowsOf(lives, twins.rows, TWIN_EVERY);
      return worldCurves(lives, first, splitLives(twins, wornAt, aged), landings, survival);
    }),
  };
}

/** The same trials with the nose or tail tire in the place of the mains. */
function thirdWheel(trials: PairingTrials): PairingTrials {
  const { columns } = trials;
  return {
    ...trials,
    columns: { ...columns, lifeLandings: columns.thirdLifeLandings, lifeCause: columns.thirdLifeCause },
  };
}

function everyTwinned(values: Float64Array, twins: number): Float64Array {
  return Float64Array.from({ length: twins }, (_, row) => values[row * TWIN_EVERY]!);
}

function causeShares({ incidence }: LifeCurves): Record<EndCause, IntervalEstimate> {
  const last = incidence.time.length - 1;
  const share = (index: number): IntervalEstimate => {
    const { incidence: values, lower, upper } = incidence.byCause[index]!;
    if (last < 0) return { estimate: 0, lower: 0, upper: 1 - survivalFloor(incidence.trials) };
    return { estimate: values[last]!, lower: lower[last]!, upper: upper[last]! };
  };
  return Object.fromEntries(END_CAUSES.map((cause, index) => [cause, share(index)])) as Record<
    EndCause,
    IntervalEstimate
  >;
}

/** Lower 97.5 % bound of a survival of which no end was seen, by the rule of Clopper and Pearson. */
function survivalFloor(trials: number): number {
  return clopperPearsonInterval(trials, trials).lower;
}

function wearShares(scenario: CompiledScenario, trials: PairingTrials): PairingSummary['wearShares'] {
  const { columns } = trials;
  const parts = [
    columns.spinUpWornM3,
    columns.brakingWornM3,
    columns.pivotWornM3,
    columns.squirmWornM3,
    columns.scrubWornM3,
  ];
  const whole = Float64Array.from(parts[0]!, (_, row) => parts.reduce((sum, part) => sum + part[row]!, 0));
  return {
    byCause: Object.fromEntries(
      WEAR_CAUSES.map((cause, index) => [cause, ratioOfSums(parts[index]!, whole)]),
    ) as Record<WearCause, Estimate>,
    bySurface: Object.fromEntries(
      scenario.surfaces.flatMap(({ name }, index) => {
        const share = ratioOfSums(trials.surfaceWornM3[index]!, whole);
        return share.estimate > 0 ? [[name, share] as const] : [];
      }),
    ),
  };
}

function summarizeSeason(scenario: CompiledScenario, trials: PairingTrials): SeasonSummary {
  const { columns } = trials;
  const { landingsPerYear, flightHoursPerYear } = scenario.calendar;
  const per = ({ estimate, standardError }: Estimate, exposure: number): Estimate => ({
    estimate: estimate / exposure,
    standardError: standardError / exposure,
  });
  const { costs } = scenario;
  const setup = scenario.setups.find(({ name }) => name === trials.setup);
  const isPriced = setup !== undefined && missingPrices(scenario, setup) === null;
  const cost = costs === null || !isPriced ? null : meanEstimate(expectedSeasonCost(costs, trials));
  return {
    mainTiresFitted: meanEstimate(columns.mainsFitted),
    thirdTiresFitted: meanEstimate(columns.thirdFitted),
    daysLost: meanEstimate(expectedDaysLost(trials)),
    cost,
    costPerFlightHour: cost === null ? null : per(cost, flightHoursPerYear),
    beadSlips: meanEstimate(columns.beadSlips),
    slowLeaks: meanEstimate(columns.leaks),
    lowReadings: ratioOfSums(columns.checksLow, columns.checks),
    hydroplaning: ratioOfSums(columns.hydroplaningLandings, columns.wetPavedLandings),
    tailHitsPerLanding: per(meanEstimate(columns.tailHits), landingsPerYear),
  };
}
