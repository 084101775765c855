import type { MeanEstimate, PairedDifference } from '../estimate/paired.js';
import type { Criterion } from '../decide/criteria.js';
import type { DrivenFigure } from './figures.js';

/** A figure of a set-up with one assumption at its low and at its high value, all else as in a plain run. */
export interface AssumptionEffect {
  readonly setup: string;
  readonly figure: DrivenFigure;
  readonly unit: string;
  readonly atLow: MeanEstimate;
  readonly atHigh: MeanEstimate;
  /** High less low, on common worlds and landings. */
  readonly change: PairedDifference;
  /** Change over the mean of a plain run; null where that is 0. */
  readonly changeShare: number | null;
}

/** Who is best with the assumption at its low and at its high value. */
export interface RankingEffect {
  readonly criterion: Criterion;
  /** Set-ups from best to worst mean. */
  readonly orderAtLow: readonly string[];
  readonly orderAtHigh: readonly string[];
  /** Whether the best set-up changes: "perhaps" where the trials do not tell the two apart on both sides. */
  readonly choiceFlips: 'no' | 'perhaps' | 'yes';
  /** Two set-ups watched: best and next in a plain run over the same trials, or those asked for. */
  readonly ahead: string;
  readonly behind: string;
  /** By how much the first is better than the second, in the unit of the criterion; below 0 if it is worse. */
  readonly leadAtLow: PairedDifference;
  readonly leadAtHigh: PairedDifference;
  /** High less low, on common worlds and landings. */
  readonly leadChange: PairedDifference;
}

/** What one assumption does by itself. */
export interface OneAssumption {
  /** Place in the scenario. */
  readonly path: string;
  /** Values at probability 0.1 and 0.9, SI units. */
  readonly lowSi: number;
  readonly highSi: number;
  /** True if it was fitted to records together with others, which stay as drawn while it is moved. */
  readonly fittedWithOthers: boolean;
  /** False if nothing at all changed in the first trials; the rest were then not run, and all changes are 0. */
  readonly seen: boolean;
  readonly effects: readonly AssumptionEffect[];
  /** Empty for a single set-up. */
  readonly rankings: readonly RankingEffect[];
  /** Largest share by which any figure of any set-up changes. */
  readonly largestChangeShare: number;
}

/** Effects of assumptions one at a time. Plain data that can be stored as JSON. */
export interface OneAtATimeStudy {
  readonly kind: 'one at a time';
  readonly version: string;
  readonly seed: string;
  readonly scenarioHash: string;
  readonly mix: string;
  readonly setups: readonly string[];
  readonly figures: readonly DrivenFigure[];
  /** Why money is left out; null if it is not. */
  readonly notPriced: string | null;
  readonly trials: number;
  /** Landings computed, all set-ups and sides together. */
  readonly landings: number;
  readonly complete: boolean;
  readonly level: number;
  /** Means of a plain run over the same trials. */
  readonly base: readonly {
    readonly setup: string;
    readonly figure: DrivenFigure;
    readonly mean: MeanEstimate;
  }[];
  /** Largest change first. */
  readonly assumptions: readonly OneAssumption[];
}
