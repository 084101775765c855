import type { Caution } from '../cautions.js';
import type { MonteCarloInterval } from '../estimate/life.js';
import type { MeanEstimate, PairedDifference } from '../estimate/paired.js';
import type { Estimate } from '../estimate/shares.js';
import type { LimitCheck, LimitCode, PressureState } from './limit-types.js';

/** Life of the main tires at one pressure, flight hours. Quantiles are null where they lie beyond the horizon. */
export interface PressureLife {
  readonly p10: number | null;
  readonly p50: number | null;
  readonly p90: number | null;
  /** Monte Carlo 95 % interval of the median. */
  readonly p50Interval: MonteCarloInterval;
  /** Mean life counted up to `horizon`. */
  readonly restrictedMean: MeanEstimate;
  /** Flight hours up to which lives are counted: the same for all pressures. */
  readonly horizon: number;
}

/** A gap that must stay open, at one pressure. */
export interface PressureClearance {
  readonly kind: 'fairing at rest' | 'fairing on a bump' | 'propeller';
  readonly state: PressureState;
  /** Gauge pressure of the main tires, Pa. */
  readonly gaugePa: number;
  /** Negative: the gap is used up by as much. */
  readonly clearanceM: number;
}

/** Force to keep the airplane rolling on level ground, pushed by hand. */
export interface PressurePush {
  readonly surface: string;
  /** Null where it cannot be worked out; `needs` then says what is missing. */
  readonly forceN: number | null;
  /** People who share it within the guideline for one; null likewise. */
  readonly people: number | null;
  readonly needs: readonly string[];
}

/** Everything about one cold pressure of the main tires. */
export interface PressurePoint {
  readonly pressurePa: number;
  readonly pressurePsi: number;
  /** True for the set-up's own pressure. */
  readonly own: boolean;
  readonly lifeHours: PressureLife;
  /** Band with the greater mean depth worn off when the first main tire comes off. */
  readonly firstBand: 'centre' | 'shoulders';
  /** Mean depth worn off the deeper shoulder over that of the centre: 1 is even. */
  readonly shoulderOverCentre: number;
  /** Chance of at least one flat in the season, any wheel. */
  readonly flatSeason: MeanEstimate;
  /** Chance of at least one pinch flat in the season, any wheel. */
  readonly pinchSeason: Estimate;
  /** Bead slips in the season. */
  readonly beadSlips: Estimate;
  /** Torque the bead holds less that of full braking on dry pavement, N m; null where not known. */
  readonly beadMarginNm: number | null;
  /** Speeds above which the tire can ride up on a flooded runway, m/s. */
  readonly hydroplaningMps: { readonly wheelNotTurning: number; readonly rollingWheel: number };
  readonly push: readonly PressurePush[];
  /** Empty where nothing is known about fairing or propeller. */
  readonly clearances: readonly PressureClearance[];
  /** Money per flight hour, flats as expected along the path of each trial; null without prices. */
  readonly costPerFlightHour: MeanEstimate | null;
  /** Against the set-up's own pressure, on common landings. */
  readonly versusOwn: {
    /** Of the mean life up to the horizon, flight hours. */
    readonly lifeHours: PairedDifference;
    /** Money per flight hour; null without prices. */
    readonly costPerFlightHour: PairedDifference | null;
  };
  readonly checks: readonly LimitCheck[];
  /** Binding limits that are broken at this pressure, each once. */
  readonly broken: readonly LimitCode[];
}

/** What ends a range of pressures on one side. */
export type RangeEnd =
  | { readonly kind: 'limit'; readonly code: LimitCode; readonly title: string }
  /** Beyond it the tires last clearly shorter than at the best pressure. */
  | { readonly kind: 'life' }
  /** The range goes on beyond the pressures looked at. */
  | { readonly kind: 'end of the sweep' };

/** A range of cold pressures of the main tires. */
export interface PressureRange {
  readonly lowPa: number;
  readonly highPa: number;
  readonly lowPsi: number;
  readonly highPsi: number;
  readonly lowEnd: RangeEnd;
  readonly highEnd: RangeEnd;
}

/** The pressure at which a figure is best. */
export interface BestPressure {
  readonly pressurePa: number;
  readonly pressurePsi: number;
  /** Against the set-up's own pressure, on common landings. */
  readonly versusOwn: PairedDifference;
  /** Pressures whose figure the trials cannot tell from the best one, Pa, the best included. */
  readonly notToldApartPa: readonly number[];
}

/** How often to read the pressure so that it stays inside a range. */
export interface CheckInterval {
  /** Cold setting, Pa. */
  readonly setPa: number;
  /** Lower end of the range, Pa. */
  readonly lowPa: number;
  /** Share of readings that may lie below it. */
  readonly share: number;
  /**
   * Longest interval, days, of which the share of readings below the end is not higher; 0 if even the next day's is;
   * null if readings a whole season apart still keep to it.
   */
  readonly longestDays: number | null;
  /** Interval of the set-up as it stands, days, and the share of readings below the end with it. */
  readonly presentDays: number;
  readonly presentShare: number;
  /** Longest interval looked at, days: the length of the season. */
  readonly seasonDays: number;
}

/** A sweep of the cold pressure of the main tires of one set-up on one runway mix. Plain data. */
export interface PressureSweep {
  readonly setup: string;
  readonly mix: string;
  readonly mainTire: string;
  readonly version: string;
  readonly seed: string;
  readonly trials: number;
  /** SHA-256 of the compiled scenario that was swept. */
  readonly scenarioHash: string;
  readonly currency: string | null;
  readonly ownPressurePa: number;
  readonly ownPressurePsi: number;
  /** By rising pressure; the set-up's own is among them. */
  readonly points: readonly PressurePoint[];
  /** Where no binding limit is broken, those of `brokenThroughout` aside; null if there is no such pressure. */
  readonly limitsRange: PressureRange | null;
  /** Binding limits that are broken at every pressure looked at: pressure does not mend them. */
  readonly brokenThroughout: readonly { readonly code: LimitCode; readonly title: string }[];
  /** Limits that could not be checked, each with what it needs. */
  readonly notChecked: readonly { readonly code: LimitCode; readonly needs: readonly string[] }[];
  /** Among pressures inside `limitsRange`, or among all if there is none. */
  readonly bestLife: BestPressure;
  /** Null without prices. */
  readonly lowestCost: BestPressure | null;
  /** Inside `limitsRange`, the pressures whose mean life is not far below the best: see `sensibleLifeShare`. */
  readonly sensibleRange: PressureRange | null;
  /** Share of the best mean life that a sensible pressure keeps. */
  readonly sensibleLifeShare: number;
  /** To stay inside `limitsRange` from the set-up's own pressure; null if there is no such range. */
  readonly checkForLimits: CheckInterval | null;
  /** To stay inside `sensibleRange`; null if there is none. */
  readonly checkForSensible: CheckInterval | null;
  readonly cautions: readonly Caution[];
}
