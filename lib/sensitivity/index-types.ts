import type { IntervalEstimate } from '../estimate/interval.js';

/** A share of variance with its interval, all within 0 to 1. */
export interface IndexEstimate extends IntervalEstimate {
  /** As the formula gave it; below 0 or above 1 by chance where the true share is near that end. */
  readonly unclipped: number;
}

/**
 * - `matters`: the whole interval of the total index is above what is small.
 * - `too small to see`: the whole interval is below it.
 * - `need more trials`: the interval holds it.
 */
export type IndexVerdictKind = 'matters' | 'too small to see' | 'need more trials';

/** What can be said about an input. */
export interface IndexVerdict {
  readonly kind: IndexVerdictKind;
  /** One sentence. */
  readonly text: string;
  /** About how many rows, those at hand included, would tell; null unless they are asked for or no number would do. */
  readonly rowsNeeded: number | null;
}

/** Indices of one input or group. */
export interface InputIndices {
  readonly input: string;
  /** Share of the variance that would go on average if this were known and nothing else. */
  readonly firstOrder: IndexEstimate;
  /** Share of the variance that would stay on average if all else were known. */
  readonly total: IndexEstimate;
  readonly verdict: IndexVerdict;
}

/** Indices of all inputs of a figure. Plain data that can be stored as JSON. */
export interface VarianceIndices {
  readonly mean: number;
  readonly variance: number;
  /** Rows of the design; the figure was worked out (inputs + 2) times as often. */
  readonly rows: number;
  readonly evaluations: number;
  readonly level: number;
  readonly smallShare: number;
  /** In the order of the inputs. */
  readonly inputs: readonly InputIndices[];
}

/** What counts as small, and how sure to be. */
export interface IndexOptions {
  /** Two-sided level of the intervals, each by itself; default 0.95. */
  readonly level?: number | undefined;
  /** A total index below this is small, above 0 to 1; default 0.05 (common practice, no source). */
  readonly smallShare?: number | undefined;
  /** Resamples of the bootstrap, 100 to 10 000; default 500. */
  readonly resamples?: number | undefined;
}
