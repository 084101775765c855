import type { IntervalEstimate } from '../estimate/interval.js';
import type { MeanEstimate, PairedDifference } from '../estimate/paired.js';
import type { Estimate } from '../estimate/shares.js';
import type { ThreeDoubts } from '../estimate/uncertainty.js';
import type { Criterion } from './criteria.js';
import type { IgnoranceRegret } from './in-worlds.js';
import type { MeasureQuestion, Verdict } from './verdict.js';

/** Asks for the means of worlds, from a model that was fitted to them. */
export interface WorldMeansQuestion {
  readonly mix: string;
  readonly criterion: Criterion;
  /** Set-ups in the order in which their columns are wanted. */
  readonly setups: readonly string[];
}

/** What matters in a comparison, and where to ask for more. */
export interface BestOptions {
  /** Two-sided level of the intervals, default 0.95; a verdict shares it out among the rivals (Bonferroni). */
  readonly level?: number | undefined;
  /**
   * A difference of the means below this share of the best mean does not matter, 0 to 1; default 0.05 (common
   * practice, no source).
   */
  readonly indifferenceShare?: number | undefined;
  /** The same as an amount, in the unit of the criterion (h, flats, money per hour, days); it goes before the share. */
  readonly indifference?: Partial<Readonly<Record<Criterion, number>>> | undefined;
  /** Says what to measure when ignorance decides, for example from a sensitivity study; null if it does not know. */
  readonly whatToMeasure?: ((question: MeasureQuestion) => string | null) | undefined;
  /**
   * Means of worlds, one column per set-up and one value per world, in the unit of the criterion. Without it, or where
   * it gives null, luck is taken out by means of twins.
   */
  readonly worldMeans?: ((question: WorldMeansQuestion) => readonly Float64Array[] | null) | undefined;
}

/** What a choice loses on average, in the unit of the criterion. */
export interface Regret {
  /** Because the simulation is not exact: another mean may be the best one. Trials shrink it. */
  readonly numerical: number;
  /** Because the world is not known: in some worlds another set-up is better. Measuring shrinks it. */
  readonly ignorance: IgnoranceRegret | null;
  /** Against hindsight, trial by trial, luck included. Nothing shrinks it. */
  readonly hindsight: Estimate;
}

/** A set-up among the others. */
export interface SetupStanding {
  readonly setup: string;
  /** 1 for the best mean; set-ups with equal means share a rank. */
  readonly rank: number;
  readonly mean: MeanEstimate;
  /** How far its mean is behind that of the best, 0 or more; null for the best itself. */
  readonly behindBest: PairedDifference | null;
  /** Numerical: chance that its mean is the best, given the trials. These add to 1, ties in equal parts. */
  readonly chanceBestOnAverage: number;
  /** Ignorance: share of worlds in which its mean is the best. These add to 1. Null with too few twins. */
  readonly shareOfWorldsBest: Estimate | null;
  /** Luck and ignorance: share of trials in which it came out best. These add to 1, ties in equal parts. */
  readonly shareOfTrialsBest: IntervalEstimate;
  readonly regret: Regret;
}

/** The best set-up on a mix by one criterion. Plain data that can be stored as JSON. */
export interface BestSetup {
  readonly priced: true;
  readonly mix: string;
  readonly criterion: Criterion;
  readonly unit: string;
  readonly better: 'more' | 'less';
  readonly trials: number;
  /** Difference of the means that does not matter, in the unit. */
  readonly indifference: number;
  /** In the order of the run. */
  readonly setups: readonly SetupStanding[];
  /** The three doubts about the difference between the best set-up and the next one; null if all are copies. */
  readonly doubtOfLead: ThreeDoubts | null;
  readonly verdict: Verdict;
}
