/**
 * Records of tires in service: what a maintenance log tells, in SI units, whatever files it was read from.
 *
 * Days are whole days since 1 January 1970 in the Gregorian calendar (`dayOfDate`, `dateOfDay`). One rule orders what
 * happens on one day: work on tires (fitting, reading, checking, removing) is done after the flights of that day, so a
 * tire takes part in the landings of the days after `fittedDay` up to and including the day it came off.
 */
import type { Problem } from '../problems.js';
import type { RemovalCause } from '../simulate/columns.js';

/** Wheel a tire is fitted to; the third wheel is the nose or tail wheel. The words are those of a replayed landing. */
export type WheelPosition = 'left main' | 'right main' | 'third';

/** Where on the tread a groove was read: mean round a band, or the least groove anywhere on the tire. */
export const READING_BANDS = ['centre', 'inner shoulder', 'outer shoulder', 'worst spot'] as const;
/** Where on the tread a groove was read. */
export type ReadingBand = (typeof READING_BANDS)[number];

/** Braking habit of some landings, against that of the scenario ("normal"). */
export const BRAKING_HABITS = ['light', 'normal', 'hard'] as const;
/** Braking habit of some landings. */
export type BrakingHabit = (typeof BRAKING_HABITS)[number];

/** Why a tire failed: the words of the simulator. */
export type FailureCause = Exclude<RemovalCause, 'in service'>;

/** Row of a file that a record was read from. */
export interface RecordPlace {
  readonly file: string;
  /** Line on which the row begins, counted from 1. */
  readonly line: number;
}

/** What is known of the end of a tire's life. */
export type TireEnd =
  /** It came off on this day for this cause. */
  | { readonly kind: 'exact'; readonly day: number; readonly cause: FailureCause }
  /**
   * Its life had not ended on this day (right-censored): still in service when last seen, or taken off sound (with its
   * mate, for another set-up, with the airplane sold).
   */
  | { readonly kind: 'right'; readonly day: number; readonly reason: 'in service' | 'sound' }
  /** It ended after one day and on or before another one (interval-censored); cause null if not known. */
  | {
      readonly kind: 'interval';
      readonly afterDay: number;
      readonly byDay: number;
      readonly cause: FailureCause | null;
    }
  /** It ended at some time after it was fitted and on or before this day (left-censored); cause null if not known. */
  | { readonly kind: 'left'; readonly byDay: number; readonly cause: FailureCause | null };

/** One tire on one wheel, or several tires alike. */
export interface TireRecord {
  /** Name of the tire in the log: unique. */
  readonly id: string;
  readonly airplane: string;
  readonly position: WheelPosition;
  /** Name of a set-up of the scenario; null if only the tire class is known. */
  readonly setup: string | null;
  /** Name of an entry of "tires" of the scenario; that of the set-up where left out. Null without a scenario. */
  readonly tireClass: string | null;
  /** Day it was fitted, or on which the log takes it up. */
  readonly fittedDay: number;
  /** Landings it had done before that day; 0 for a new tire. Its life is seen from there on (delayed entry). */
  readonly landingsBefore: number;
  /** Flight hours before that day, h; 0 for a new tire, null if not known. */
  readonly flightHoursBefore: number | null;
  readonly end: TireEnd;
  /** Landings from new to its end, or to the day it was last seen, where the log counts them; null otherwise. */
  readonly landingsStated: number | null;
  /** The same in flight hours, h. */
  readonly flightHoursStated: number | null;
  /** Tires alike, 1 or more; only a single tire has readings. */
  readonly count: number;
  readonly place: RecordPlace;
}

/** One reading of a tread gauge. */
export interface TreadReadingRecord {
  /** `id` of a tire. */
  readonly tire: string;
  readonly day: number;
  readonly band: ReadingBand;
  /** Groove depth read, m. 0 where no groove is left: what is worn below it does not show. */
  readonly grooveM: number;
  /** Standard deviation of the reading (gauge, hand), m; null if not stated. */
  readonly errorM: number | null;
  /** Step to which readings are rounded, m; null if not stated. */
  readonly stepM: number | null;
  readonly place: RecordPlace;
}

/** Flying of one airplane at one place, on one day or over some days. */
export interface FlightRecord {
  readonly airplane: string;
  /** First and last day, the same for a single day. */
  readonly fromDay: number;
  readonly toDay: number;
  readonly landings: number;
  /** Flight hours, h; null if not known. */
  readonly flightHours: number | null;
  /** Name of a strip of the scenario; null where only the surface is known. */
  readonly strip: string | null;
  /** Name of a surface of the scenario; null where the strip tells, or nothing is known of the ground. */
  readonly surface: string | null;
  readonly braking: BrakingHabit | null;
  readonly place: RecordPlace;
}

/** One pressure check of one tire. */
export interface PressureCheckRecord {
  /** `id` of the tire checked. */
  readonly tire: string;
  readonly day: number;
  /** Gauge pressure found, Pa. */
  readonly foundPa: number;
  /** Gauge pressure after the check, Pa; null if not stated. What was found is left so where it equals `foundPa`. */
  readonly setPa: number | null;
  /** Temperature of air and tire, K; null if not stated. */
  readonly temperatureK: number | null;
  /** Elevation of the place, m; null if not stated. */
  readonly elevationM: number | null;
  readonly place: RecordPlace;
}

/** A cut found at an inspection. */
export interface CutRecord {
  /** `id` of a tire. */
  readonly tire: string;
  readonly day: number;
  /** Depth from the surface of the rubber, m; null if not measured. */
  readonly depthM: number | null;
  readonly where: 'tread' | 'side';
  readonly place: RecordPlace;
}

/** A whole log, checked: every record names tires, airplanes and days that fit together. */
export interface Logbook {
  readonly name: string;
  /** Remark of the log; says so where the data is invented. */
  readonly note: string | null;
  /** First and last day of the log: nothing in it lies outside, but tires may have been fitted before. */
  readonly firstDay: number;
  readonly lastDay: number;
  readonly tires: readonly TireRecord[];
  readonly readings: readonly TreadReadingRecord[];
  readonly flights: readonly FlightRecord[];
  readonly pressureChecks: readonly PressureCheckRecord[];
  readonly cuts: readonly CutRecord[];
  /** Landings of a row over several days may be spread evenly over them; otherwise such rows are never divided. */
  readonly spreadPeriods: boolean;
  /** Cuts shallower than this are not written down (but for those that end a tire), m; null if not known: then the number of cuts tells no rate. */
  readonly leastCutM: number | null;
  /** What was read all the same but a reader should know: one entry each, never fatal. */
  readonly remarks: readonly Problem[];
}

/** Landings alike within a span of time. */
export interface ExposurePart {
  readonly strip: string | null;
  readonly surface: string | null;
  readonly braking: BrakingHabit | null;
  /** Landings; whole unless a period was spread over its days. */
  readonly landings: number;
  /** Flight hours, h; null if not known for all of them. */
  readonly flightHours: number | null;
}

/** What a tire went through from the evening of one day to the evening of another one. */
export interface Exposure {
  readonly afterDay: number;
  readonly throughDay: number;
  readonly landings: number;
  /** Flight hours, h; null if not known for all of them. */
  readonly flightHours: number | null;
  /** By place and braking, in order of first appearance. */
  readonly parts: readonly ExposurePart[];
}

/** Readings of a tire on one day, with what it went through since the reading day before (the first: since fitted). */
export interface ReadingDay {
  readonly day: number;
  readonly readings: readonly TreadReadingRecord[];
  readonly since: Exposure;
}

/** One tire with all that the log tells of it, in order of time. */
export interface TireHistory {
  readonly tire: TireRecord;
  readonly readingDays: readonly ReadingDay[];
  readonly pressureChecks: readonly PressureCheckRecord[];
  readonly cuts: readonly CutRecord[];
  /** From the day it was fitted to the last day it was certainly on (exact and right ends: that day). */
  readonly exposure: Exposure;
  /** Where the end is not exact: from there to the day by which it had ended; null otherwise. */
  readonly doubtful: Exposure | null;
}

/** Lives of tires for life statistics: one row each, in one unit of use. */
export interface LifeRecord {
  readonly tire: string;
  /** Life is above this, 0 or more: the same as `to` for an exact end. */
  readonly from: number;
  /** Life is at most this; Infinity for one that had not ended. */
  readonly to: number;
  /** Use at which it came under watch, 0 for a tire watched from new; below `to`. */
  readonly entry: number;
  readonly count: number;
  /** Null for one that had not ended, or ended for a cause unknown. */
  readonly cause: FailureCause | null;
}
