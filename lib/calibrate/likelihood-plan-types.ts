import type { CompiledTire } from '../scenario/compile.js';
import type { Position } from '../simulate/constants.js';
import type { ReadingBand, WheelPosition } from './record-types.js';

/** A tire at a pressure on an axle: what makes one tire wear like another. */
export interface TireKind {
  readonly tire: CompiledTire;
  readonly position: Position;
  readonly coldPa: number;
  readonly checkEveryDays: number;
  /** Name of the set-up. */
  readonly setup: string;
}

/** Landings alike: on one of the places of the plan, braked in one way. */
export interface PlannedPart {
  readonly place: number;
  /** 0 light, 1 normal, 2 hard. */
  readonly braking: number;
  readonly landings: number;
}

/** A place: strips and the chance of each. One strip where the log names it. */
export interface PlannedPlace {
  readonly name: string;
  readonly strips: readonly { readonly strip: number; readonly share: number }[];
}

/** What ends a tire by chance, as far as the records are read. */
export type StoneCause = 'puncture' | 'side puncture' | 'cut';

/** A step of the life of an axle: 0 the left or only wheel, 1 the right one. */
export type PlanStep =
  | {
      readonly step: 'fit';
      readonly side: 0 | 1;
      readonly tire: number;
      /** Depth worn before, m, and its variance, m2. */
      readonly wornM: number;
      readonly variance: number;
    }
  | { readonly step: 'roll'; readonly parts: readonly PlannedPart[] }
  | {
      readonly step: 'read';
      readonly side: 0 | 1;
      readonly reading: number;
      /** Band, or -1 for the worst spot. */
      readonly band: number;
      /** Depth worn as read from the new groove, m. */
      readonly wornM: number;
      readonly errorM: number;
      readonly stepM: number;
      /** True where no groove was left: the depth worn is at least that much. */
      readonly gone: boolean;
      readonly held: boolean;
    }
  /** Worn to the limit just now, or not worn yet. */
  | { readonly step: 'worn' | 'not worn'; readonly side: 0 | 1 }
  | {
      readonly step: 'event';
      readonly side: 0 | 1;
      readonly cause: StoneCause;
      /** Depth of a cut that is counted by its depth, m; null otherwise. */
      readonly depthM: number | null;
      /** Landings among which it happened. */
      readonly parts: readonly PlannedPart[];
    }
  /** The tire ended at some time within these landings; cause null if not known. */
  | {
      readonly step: 'ended within';
      readonly side: 0 | 1;
      readonly cause: StoneCause | 'worn' | null;
      readonly parts: readonly PlannedPart[];
    }
  | { readonly step: 'off'; readonly side: 0 | 1 };

/** The life of one axle of one airplane, or of a tire that stands alone. */
export interface PlanLine {
  /** Tires alike that it stands for, 1 or more. */
  readonly weight: number;
  readonly steps: readonly PlanStep[];
}

/** A tire of the plan. */
export interface PlannedTire {
  readonly id: string;
  readonly airplane: string;
  readonly position: WheelPosition;
  readonly kind: number;
}

/** A reading of the plan. */
export interface PlannedReading {
  readonly tire: string;
  readonly day: number;
  readonly band: ReadingBand;
  readonly grooveM: number;
  /** Landings since the log took the tire up. */
  readonly landings: number;
  /** Surface of most of those landings since the reading before; "no landing since", or "not known". */
  readonly surface: string;
  readonly held: boolean;
}

/** The span between two checks of a tire. */
export interface PressureSpan {
  readonly tire: string;
  readonly day: number;
  readonly tubed: boolean;
  readonly days: number;
  readonly setPa: number;
  readonly foundPa: number;
  /** Temperature at both checks, K, and its standard deviation where it is that of the season. */
  readonly setK: number;
  readonly setSpreadK: number;
  readonly foundK: number;
  readonly foundSpreadK: number;
  readonly setAmbientPa: number;
  readonly foundAmbientPa: number;
}

/** Records laid out for a likelihood: all names resolved, all exposure added up. */
export interface RecordPlan {
  readonly kinds: readonly TireKind[];
  readonly places: readonly PlannedPlace[];
  readonly tires: readonly PlannedTire[];
  readonly readings: readonly PlannedReading[];
  readonly lines: readonly PlanLine[];
  readonly pressureSpans: readonly PressureSpan[];
  /** Depth from which on cuts are counted, m; Infinity where only those to the carcass are. */
  readonly leastCutM: number;
  /** Records that are used, and what is left aside and why. */
  readonly used: {
    readonly readings: number;
    readonly ends: number;
    readonly cuts: number;
    readonly pressureChecks: number;
    readonly landings: number;
  };
  readonly remarks: readonly string[];
}
