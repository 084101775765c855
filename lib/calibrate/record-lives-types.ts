import type { FitForecast } from '../estimate/life-forecast.js';
import type { FitVerdict, LawParameters } from '../estimate/life-fit.js';
import type { OpenInterval } from '../estimate/kaplan-meier.js';
import type { LifeLawName } from '../estimate/life-laws.js';
import type { LifeUnit } from './lives.js';
import type { FailureCause, LifeRecord } from './record-types.js';
import type { PlaceCount } from './records-summary.js';

/** What tires are put together by. */
export type LivesBy = 'setup' | 'tire class';

/** How to count the lives of a log. */
export interface RecordLivesOptions {
  /** Unit of use; default: landings. */
  readonly unit?: LifeUnit | undefined;
  /** Default: by set-up, by class where the log tells no set-up. Main and third wheels are always kept apart. */
  readonly by?: LivesBy | undefined;
  /**
   * Use, in the unit, at which shares are told and from which on the further life is told; above 0, ascending order is not
   * needed. Default: for shares, the greatest use that five tires of the group passed under watch; for the further life, the
   * middle use of the tires in service.
   */
  readonly at?: readonly number[] | undefined;
  /** Two-sided level of all intervals, between 0 and 1; default 0.95. */
  readonly level?: number | undefined;
}

/** An estimate whose interval lies inside [0, 1]; null where nothing was seen of it. */
export interface ShareEstimate {
  readonly estimate: number | null;
  /** Of Greenwood's type (root of the variance), ends within a range taken in the middle; null where none had ended yet. */
  readonly standardError: number | null;
  readonly lower: number;
  readonly upper: number;
}

/** One step of a life curve. */
export interface RecordCurvePoint {
  /** Use, in the unit asked for. */
  readonly use: number;
  /** Tires under watch just before. */
  readonly atRisk: number;
  readonly ended: number;
  /** Share still running just after, and its interval. */
  readonly running: number;
  readonly lower: number;
  readonly upper: number;
}

/** Share of tires ended by one cause, with the other causes able to come first. */
export interface CauseShare extends ShareEstimate {
  /** Null for ends whose cause the log does not tell. */
  readonly cause: FailureCause | null;
  /** Ends by that cause in the whole log. */
  readonly ends: number;
}

/** What had become of tires at one use. */
export interface SharesAtUse {
  readonly use: number;
  /** Tires under watch just then. */
  readonly atRisk: number;
  readonly running: ShareEstimate;
  /** Every cause, also those that nothing ended by; with the share running they add to 1. */
  readonly byCause: readonly CauseShare[];
}

/** Tenth, fiftieth and ninetieth percentile. */
export interface LifePercentiles<Figure> {
  readonly p10: Figure;
  readonly p50: Figure;
  readonly p90: Figure;
}

/** Further life of a tire that has reached a use. */
export interface FurtherLife {
  readonly use: number;
  /** Use more until one in ten, half and nine in ten of such tires have ended. */
  readonly more: LifePercentiles<FitForecast>;
  /** True where half of them end only beyond the longest life of the log: the law is carried on where nothing was seen. */
  readonly beyondSeen: boolean;
}

/** A law fitted to the lives of a group. */
export interface RecordLaw {
  readonly law: LifeLawName;
  readonly verdict: FitVerdict;
  /** Null where the lives do not identify the law. */
  readonly parameters: LawParameters | null;
  readonly percentiles: LifePercentiles<FitForecast> | null;
  readonly further: readonly FurtherLife[];
  readonly logLikelihood: number;
}

/** Lives of the tires of one set-up (or class) on main or third wheels. */
export interface LifeGroup {
  /** Set-up or class; null where the log does not tell it. */
  readonly name: string | null;
  readonly wheels: 'main' | 'third';
  readonly tires: number;
  readonly airplanes: number;
  readonly ends: number;
  /** Of those, ends that are known only to lie within a range of use. */
  readonly endsInRange: number;
  /** Tires in service when last seen, and tires taken off in good order. */
  readonly inService: number;
  readonly takenOffSound: number;
  /** Tires that came under watch after some use. */
  readonly takenUpUsed: number;
  /** Greatest use seen. */
  readonly longest: number;
  /** Landings of these tires by place, most first; empty where the log has no flights. */
  readonly places: readonly PlaceCount[];
  readonly lives: readonly LifeRecord[];
  /** Why there is no curve and no law; null where there are. */
  readonly refused: string | null;
  /** Kaplan-Meier curve with log-log bands; null where refused. */
  readonly curve: readonly RecordCurvePoint[] | null;
  /** Life by which a share has ended, from the curve; bounds are null where the log does not reach them. */
  readonly percentiles: LifePercentiles<OpenInterval> | null;
  readonly shares: readonly SharesAtUse[];
  /** Null where refused. */
  readonly laws: readonly RecordLaw[] | null;
  /** Law that the lives speak for; null where they do not tell the two apart. */
  readonly betterLaw: LifeLawName | null;
  /** What a reader should know of this group, a sentence each. */
  readonly remarks: readonly string[];
}

/** Lives of the tires of a log. */
export interface RecordLives {
  readonly logbook: string;
  readonly note: string | null;
  readonly firstDay: string;
  readonly lastDay: string;
  readonly unit: LifeUnit;
  readonly by: LivesBy;
  readonly level: number;
  /** In order of first appearance in the log, main wheels before third ones. */
  readonly groups: readonly LifeGroup[];
  /** Tires left out as the log does not tell their use in that unit, or saw no use of them at all. */
  readonly leftOut: { readonly notCounted: readonly string[]; readonly notUsed: readonly string[] };
  /** What a reader should know of all groups, a sentence each. */
  readonly remarks: readonly string[];
}
