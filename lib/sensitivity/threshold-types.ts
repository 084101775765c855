import type { Criterion } from '../decide/criteria.js';
import type { MeanEstimate } from '../estimate/paired.js';
import type { Simulation } from '../simulate/simulate.js';
import type { StudyRun } from './run-worlds.js';

/** Options of choiceThreshold. */
export interface ThresholdOptions extends StudyRun {
  /** Place of the assumption that is moved. */
  readonly assumption: string;
  readonly criterion: Criterion;
  /** Name of the runway mix; default: the first of the file. */
  readonly mix?: string | undefined;
  /** Names of at least two set-ups; default: all. */
  readonly setups?: readonly string[] | undefined;
  /** Trials at each value, 16 to 100 000; default 200. */
  readonly trials?: number | undefined;
  /** Two-sided level of the intervals, default 0.95. */
  readonly level?: number | undefined;
  /**
   * A plain run of the scenario, longer, from trial 0 on: what is known from it of the plain means is taken into account
   * (control variates), so that these results agree with it and err less. Default: none.
   */
  readonly common?: Simulation | undefined;
}

/** All set-ups with the assumption held at one value, all else as in a plain run. */
export interface ThresholdPoint {
  /** Probability of a lower value, as the scenario has it. */
  readonly probability: number;
  readonly valueSi: number;
  readonly means: readonly { readonly setup: string; readonly mean: MeanEstimate }[];
  readonly best: string;
}

/** A value at which another set-up becomes the best. */
export interface ChoiceFlip {
  /** Best below the value, and above. */
  readonly below: string;
  readonly above: string;
  readonly valueSi: number;
  /** Interval of the value; null on a side where it may lie beyond probability 0.01 or 0.99. */
  readonly lowerSi: number | null;
  readonly upperSi: number | null;
  /** Probability of a lower value, as the scenario has it. */
  readonly probability: number;
  /** The same at the ends of the interval of the value; null as there. */
  readonly lowerProbability: number | null;
  readonly upperProbability: number | null;
  /** True if the trials tell the two set-ups apart somewhere on both sides. */
  readonly toldApart: boolean;
  /** One sentence. */
  readonly text: string;
}

/** Where the choice flips as one assumption moves. Plain data that can be stored as JSON. */
export interface ChoiceThreshold {
  readonly kind: 'threshold';
  readonly version: string;
  readonly seed: string;
  readonly scenarioHash: string;
  readonly assumption: string;
  readonly mix: string;
  readonly criterion: Criterion;
  readonly unit: string;
  readonly better: 'more' | 'less';
  /** Trials at each value. */
  readonly trials: number;
  /** Landings computed, all values and set-ups together. */
  readonly landings: number;
  readonly level: number;
  /** By rising value: the grid, and the values tried while searching. */
  readonly points: readonly ThresholdPoint[];
  /** By rising value; empty if one set-up is best throughout. */
  readonly flips: readonly ChoiceFlip[];
  /** One sentence for each flip, or that there is none. */
  readonly text: string;
}
