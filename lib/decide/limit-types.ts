import type { Caution } from '../cautions.js';

/** Short stable name of a check. */
export type LimitCode =
  | 'rated pressure'
  | 'rated load'
  | 'load at pressure'
  | 'deflection at rest'
  | 'rated speed'
  | 'propeller clearance'
  | 'propeller clearance, flat tire'
  | 'attitude at rest'
  | 'tail angle'
  | 'fairing clearance at rest'
  | 'fairing clearance on a bump'
  | 'aft chock clearance'
  | 'bead slip'
  | 'hydroplaning, wheel not turning'
  | 'hydroplaning, rolling wheel'
  | 'ground bearing'
  | 'push by hand';

/** Unit of the value, the limit and the margin of a check. */
export type LimitUnit = 'Pa' | 'kg' | 'm' | 'm/s' | 'rad' | 'N' | 'N m' | 'share';

/** What came of a check. What is not known is never within its limit. */
export type LimitStatus = 'within' | 'beyond' | 'not checked';

/** Pressure at which a value holds: as set cold, highest and lowest between checks in the season, usual at landing. */
export type PressureState = 'cold' | 'hot' | 'leaked' | 'landed';

/** A value under a pressure that is not the cold setting. */
export interface LimitAtState {
  readonly state: PressureState;
  /** Gauge pressure of the wheel that decides (of a main wheel where no one wheel does), Pa. */
  readonly gaugePa: number;
  readonly value: number;
  /** Positive within the limit; null where the limit is not known. */
  readonly margin: number | null;
  readonly status: LimitStatus;
}

/** A value from world to world: the middle eight in ten. */
export interface LimitAcrossWorlds {
  readonly p10: number;
  readonly p90: number;
  /** Share of worlds in which the value is beyond the limit; null where the limit is not known. */
  readonly shareBeyond: number | null;
}

/** One limit of a tire set-up on the airplane. Plain data that can be stored as JSON. */
export interface LimitCheck {
  readonly code: LimitCode;
  /** What is compared, in words. */
  readonly title: string;
  /** Wheel that decides; null where none does. */
  readonly wheel: 'main' | 'nose' | 'tail' | null;
  /** Surface it is about; null where it holds everywhere. */
  readonly surface: string | null;
  /** False for a limit of conditions that come and go (a flooded runway, soft ground): weigh it, it bounds no range. */
  readonly binding: boolean;
  readonly unit: LimitUnit;
  /** Which side of the limit is the good one. */
  readonly bound: 'at most' | 'at least';
  /** At the medians of all assumptions and the cold setting; null where it cannot be worked out. */
  readonly value: number | null;
  /** Null where it is not known. */
  readonly limit: number | null;
  /** Distance to the limit, positive within it; null where value or limit is. */
  readonly margin: number | null;
  readonly status: LimitStatus;
  readonly worlds: LimitAcrossWorlds | null;
  /** The same at other pressures of the season; empty where pressure does not matter or no season was lived. */
  readonly season: readonly LimitAtState[];
  /** Places in the scenario that would have to be filled in: "not checked: needs ..."; empty once checked. */
  readonly needs: readonly string[];
  /** Where the limit or its formula comes from, with its status. */
  readonly source: string;
  readonly caution: string | null;
}

/** A figure of a set-up that has no limit: read it beside those of other set-ups. */
export interface SetupFigure {
  readonly code:
    | 'loaded height'
    | 'loaded height of the third wheel'
    | 'tail height'
    | 'crosswind stiffness'
    | 'valve tear'
    | 'unbalance';
  readonly title: string;
  readonly unit: 'm' | 'share' | 'kg m';
  /** Null where it cannot be worked out. */
  readonly value: number | null;
  readonly worlds: { readonly p10: number; readonly p90: number } | null;
  readonly needs: readonly string[];
  readonly source: string;
  /** Remark on how to read it. */
  readonly note: string;
}

/** Gauge pressures that a set-up meets in a season, Pa. */
export interface SeasonPressures {
  /** Lowest between checks: one season in ten goes lower. */
  readonly mainLowestPa: number;
  /** Highest: one season in ten goes higher. */
  readonly mainHighestPa: number;
  /** Median at landing. */
  readonly mainLandedPa: number;
  readonly thirdLowestPa: number;
  readonly thirdHighestPa: number;
  readonly thirdLandedPa: number;
}

/** The limits of one set-up. */
export interface SetupLimits {
  readonly setup: string;
  readonly mainTire: string;
  readonly thirdTire: string;
  readonly mainColdPa: number;
  readonly thirdColdPa: number;
  /** Null where no season was given. */
  readonly seasonPressures: SeasonPressures | null;
  readonly checks: readonly LimitCheck[];
  readonly figures: readonly SetupFigure[];
  readonly cautions: readonly Caution[];
}
