import type { DrivenFigure } from './figures.js';
import type { IndexEstimate, VarianceIndices } from './index-types.js';

/** Name of the input that stands for the luck of landings. */
export const LANDING_LUCK = 'landing luck';

/** What drives one figure. */
export interface FigureDrivers {
  readonly setup: string;
  /** The set-up it is compared with; null for the figure itself. */
  readonly versus: string | null;
  readonly figure: DrivenFigure;
  readonly unit: string;
  readonly indices: VarianceIndices;
  /** Share of the variance that knowing all assumptions would take away: 1 less the total index of landing luck. */
  readonly ignorance: IndexEstimate;
  /** Inputs that matter, largest total index first. */
  readonly matters: readonly string[];
  /** One sentence. */
  readonly text: string;
}

/** What drives the figures of set-ups on a mix. Plain data that can be stored as JSON. */
export interface VarianceStudy {
  readonly kind: 'variance';
  readonly version: string;
  readonly seed: string;
  readonly scenarioHash: string;
  readonly mix: string;
  readonly setups: readonly string[];
  readonly notPriced: string | null;
  readonly rows: number;
  /** Trials run, those of the first look included. */
  readonly trials: number;
  /** Landings computed in them, all set-ups together. */
  readonly landings: number;
  readonly complete: boolean;
  /** Inputs and what they stand for; landing luck stands for no assumption. */
  readonly inputs: readonly { readonly name: string; readonly paths: readonly string[] }[];
  readonly figures: readonly FigureDrivers[];
}
