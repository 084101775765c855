import type { Criterion } from '../decide/criteria.js';
import type { IntervalEstimate } from '../estimate/interval.js';
import type { MeanEstimate } from '../estimate/paired.js';

/**
 * - `worth measuring`: the lower bound is above 0, all inputs tried taken into account (Bonferroni).
 * - `perhaps`: the interval of the fitted value is above 0, but with so many inputs tried that may be chance.
 * - `no value seen`: knowing it would not change the choice, as far as seen.
 * - `too few trials`: for a group of so many assumptions.
 */
export type MeasuringVerdict = 'worth measuring' | 'perhaps' | 'no value seen' | 'too few trials';

/** Value of knowing one assumption or group before choosing. */
export interface InformationOnInput {
  readonly input: string;
  readonly paths: readonly string[];
  /** Expected gain, in the unit of the choice; null with too few trials. */
  readonly value: IntervalEstimate | null;
  /** What choosing by it gains in trials that the model has not seen: a lower bound on average. */
  readonly atLeast: MeanEstimate | null;
  /** Share of trials in which another set-up would be chosen. */
  readonly shareOtherChoice: number | null;
  /** Flats avoided per season by that choice; negative where it costs flats. */
  readonly avoidedFlats: MeanEstimate | null;
  readonly verdict: MeasuringVerdict;
}

/** Value of information for the choice of a set-up. Plain data that can be stored as JSON. */
export interface ValueOfInformation {
  readonly kind: 'value of information';
  readonly version: string;
  readonly seed: string;
  readonly scenarioHash: string;
  readonly mix: string;
  readonly criterion: Criterion;
  /** Unit of all values: money, flats or days per season, or hours of tire life. */
  readonly unit: string;
  readonly trials: number;
  readonly level: number;
  /** Best on average: what is chosen without knowing more. */
  readonly best: string;
  /** Set-ups compared. */
  readonly setups: readonly string[];
  /**
   * Value of knowing the world, no less than that of any input seen; null with too few twins. `atLeast` and `atMost`
   * are bounds without a model of luck, moved to the value where chance puts them on its wrong side.
   */
  readonly perfect:
    (IntervalEstimate & { readonly atLeast: number | null; readonly atMost: number | null }) | null;
  /** Most valuable first. */
  readonly inputs: readonly InformationOnInput[];
  /** One sentence: what to measure next, or why nothing. */
  readonly advice: string;
}
