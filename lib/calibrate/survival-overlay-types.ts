/** Lives in records against lives that the simulator expects: plain data. */

/** A step curve with the range that holds 8 of 10 worlds, at the landings of the set-up; null where too little is seen. */
export interface OverlayBand {
  readonly low: readonly (number | null)[];
  readonly middle: readonly (number | null)[];
  readonly high: readonly (number | null)[];
}

/** A number expected: middle, and the range that holds 8 of 10 worlds. */
export interface ExpectedCount {
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

/** One end in the records against what was expected at that many landings. */
export interface OverlayEnd {
  readonly landings: number;
  /** Share still in service: the middle of the step of the life curve of the records. */
  readonly recorded: number;
  /** True where it lies in the range that holds 8 of 10 worlds: before the records, and fitted to them (null without a fit). */
  readonly heldBefore: boolean;
  readonly heldFitted: boolean | null;
}

/** One set-up: the records of its tires, and the same tires lived again by the simulator. */
export interface OverlaySetup {
  readonly setup: string;
  readonly tires: number;
  readonly ends: number;
  readonly airplanes: number;
  /** Fewer than three ends make no curve worth comparing. */
  readonly verdict: 'compared' | 'too few ends';
  /** Landings at which the curves are told, ascending from 0. */
  readonly landings: readonly number[];
  /** Kaplan-Meier curve of the records with its pointwise 95 % interval (log-log); null beyond the last tire. */
  readonly records: {
    readonly survival: readonly (number | null)[];
    readonly lower: readonly (number | null)[];
    readonly upper: readonly (number | null)[];
  };
  readonly before: OverlayBand;
  /** Null without a fit. */
  readonly fitted: OverlayBand | null;
  readonly atEnds: readonly OverlayEnd[];
  /** Ends expected within the time that the log watches these tires. */
  readonly endsBefore: ExpectedCount;
  readonly endsFitted: ExpectedCount | null;
  /** Strips that each airplane flew on these tires, with shares of landings. */
  readonly flown: readonly {
    readonly airplane: string;
    readonly strips: readonly { readonly strip: string; readonly share: number }[];
  }[];
}

/** How often the curve of the records lies within the range that should hold 8 of 10. */
export interface OverlayCalibration {
  readonly stated: number;
  /** Ends at which it does, among all ends of set-ups that are compared. Ends of one set-up are alike. */
  readonly endsHeld: number;
  readonly ends: number;
  /** Set-ups whose number of ends lies within the range, among all set-ups. */
  readonly setupsHeld: number;
  readonly setups: number;
}

/** Lives of the records and of the simulator, side by side. */
export interface SurvivalOverlay {
  readonly kind: 'gravelbar survival overlay';
  readonly scenario: string;
  readonly logbook: string;
  /** Where the fitted assumptions come from; null without a fit. */
  readonly source: string | null;
  readonly position: 'main' | 'third';
  readonly seed: string;
  /** Worlds that each range is made of. */
  readonly worlds: number;
  readonly setups: readonly OverlaySetup[];
  readonly calibration: {
    readonly before: OverlayCalibration;
    readonly fitted: OverlayCalibration | null;
  };
  /** What is compared, and where records and simulator differ: sentences. */
  readonly notes: readonly string[];
}
