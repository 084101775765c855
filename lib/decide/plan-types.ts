import type { ExpectedShortfall } from '../estimate/expected-shortfall.js';
import type { IntervalEstimate } from '../estimate/interval.js';
import type { MeanEstimate, PairedDifference } from '../estimate/paired.js';
import type { QuantileInterval } from '../estimate/quantile-interval.js';
import type { Progress } from '../simulate/simulate.js';

/** What plans are chosen by. */
export const PLAN_CRITERIA = ['cost', 'daysLost', 'flats'] as const;
/** Money, days lost or flats of a season; less is better. */
export type PlanCriterion = (typeof PLAN_CRITERIA)[number];

/** How to search for plans. */
export interface PlanOptions {
  /** What to choose by; default: money where everything has a price, else days lost. */
  readonly criterion?: PlanCriterion | undefined;
  /** Trials, 2 to 100 000; default: those of the scenario. */
  readonly trials?: number | undefined;
  /** Most plans that are simulated; above, the most promising ones are. 2 to 1000, default 96. */
  readonly mostPlans?: number | undefined;
  /** Called as trials finish, over all airplanes. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/** Part of a season on one gear set. */
export interface PlanLegFigures {
  readonly setup: string;
  /** Months flown on it, in order. */
  readonly months: readonly string[];
  readonly landings: number;
  readonly flightHours: number;
}

/** Money of a plan for one airplane. */
export interface PlanMoney {
  /** A season as expected. */
  readonly perSeason: MeanEstimate;
  readonly perFlightHour: MeanEstimate;
  /** Nine seasons in ten cost less, as they happen. */
  readonly p90: QuantileInterval;
  /** Mean of the worst tenth of the seasons. */
  readonly worstTenth: ExpectedShortfall;
  /** Of the season as expected: changes of gear sets, and longer flights on draggy gear. */
  readonly changes: number;
  readonly cruise: number;
}

/** One plan of one airplane. */
export interface PlanFigures {
  /** The months and sets in words. */
  readonly name: string;
  readonly legs: readonly PlanLegFigures[];
  /** Gear set by month flown. */
  readonly setupOfMonth: readonly string[];
  /** Changes of the gear set in a year that repeats. */
  readonly changes: number;
  /** Null where a price is missing. */
  readonly money: PlanMoney | null;
  /** Expected flats in the season, all wheels. */
  readonly flats: MeanEstimate;
  /** Expected days lost in the season, changes of gear sets included. */
  readonly daysLost: MeanEstimate;
  /** This plan less the best one, in the unit of the criterion; exactly 0 for the best. */
  readonly versusBest: PairedDifference;
  /** Share of seasons in which no plan does better: luck and ignorance together. */
  readonly bestShare: number;
}

/** When a change of gear sets begins to pay over staying on one of them. */
export interface BreakEven {
  /** Best plan with changes. */
  readonly withChanges: string;
  /** Gear set that would stay on all season. */
  readonly staying: string;
  /** What the plan with changes saves in a season, changes paid; negative if it does not pay. */
  readonly saving: PairedDifference;
  /** Landings of the season on other gear sets than the one that would stay. */
  readonly otherLandings: number;
  /**
   * Landings of that kind in a season above which the changes pay, with its interval; null where the trials do not
   * tell that those landings save anything.
   */
  readonly payFrom: IntervalEstimate | null;
}

/** A month of the season with landings. */
export interface PlanMonth {
  readonly month: string;
  readonly landings: number;
  /** True if the gear set may be changed before its first landing. */
  readonly mayChange: boolean;
}

/** The plans of one kind of airplane. */
export interface AirplanePlans {
  readonly airplane: string;
  readonly count: number;
  readonly mix: string;
  /** Months flown, in order: those of `setupOfMonth` of every plan. */
  readonly months: readonly PlanMonth[];
  /** Plans, best first. */
  readonly plans: readonly PlanFigures[];
  /** How many plans there are. */
  readonly possible: number;
  /** True if every plan was simulated. */
  readonly complete: boolean;
  /** How the plans were searched, in words. */
  readonly search: string;
  /** Plans that the trials cannot tell from the best one, the best one first. */
  readonly notToldApart: readonly string[];
  /** The best plan with changes against each gear set on all season; empty if there is no plan with changes. */
  readonly breakEvens: readonly BreakEven[];
}

/** The whole fleet on its best plans. */
export interface FleetTotals {
  readonly airplanes: number;
  readonly money: {
    readonly perSeason: MeanEstimate;
    readonly p90: QuantileInterval;
    readonly worstTenth: ExpectedShortfall;
  } | null;
  readonly flats: MeanEstimate;
  readonly daysLost: MeanEstimate;
}

/** Plans of a fleet. Plain data that can be stored as JSON. */
export interface FleetPlan {
  readonly scenario: string;
  readonly seed: string;
  readonly trials: number;
  readonly version: string;
  readonly criterion: PlanCriterion;
  /** Label of the prices; null where a price is missing. */
  readonly currency: string | null;
  /** What is missing to give the plans a price; null if nothing is. */
  readonly needs: string | null;
  readonly airplanes: readonly AirplanePlans[];
  readonly totals: FleetTotals;
}
