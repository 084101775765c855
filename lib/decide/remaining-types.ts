import type { EndCause } from '../estimate/curves.js';
import type { MonteCarloInterval } from '../estimate/life.js';
import type { ReadingCheck, TreadReading } from '../estimate/remaining-weights.js';
import type { Progress } from '../simulate/simulate.js';

/** What is known of the main tires on the airplane. `scenario.today` of a compiled scenario has this form. */
export interface TodayTires {
  /** Flight hours since both main tires were new, h; null if landings are given. */
  readonly flightHours: number | null;
  /** Landings since then; they go before the hours. */
  readonly landings: number | null;
  /** Readings of the tread gauge; none is allowed. */
  readonly readings: readonly TreadReading[];
  /** Age of the main tires, days; null or left out: as the season gives at so many landings. */
  readonly ageDays?: number | null | undefined;
  /** Today in days since the start of the season, below 365; null or left out: as the season gives. */
  readonly dayOfSeason?: number | null | undefined;
  /** Cold pressure at which the main tires were and will be kept, Pa; null or left out: that of the set-up. */
  readonly mainPa?: number | null | undefined;
  /** Chance to pass the tread limit before the next inspection that is accepted, in (0, 0.5]; default 0.05. */
  readonly latestChance?: number | undefined;
}

/** What to work out, and how long at most. */
export interface RemainingLifeRequest {
  /** Name of the set-up on the airplane. */
  readonly setup: string;
  /** Name of the runway mix that it has flown and will fly. */
  readonly mix: string;
  /** Most trials to live through, 500 to 100 000; default 20 000. Fewer are used if they are enough. */
  readonly trials?: number | undefined;
  /** Flight hours from now to tell the chance to reach, h; 0 or more. */
  readonly reachHours?: readonly number[] | undefined;
  /** Days from now to tell the chance to reach, 0 or more. */
  readonly reachDays?: readonly number[] | undefined;
  /** Called as trials finish. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/** A chance with its Monte Carlo 95 % interval. */
export interface ChanceEstimate {
  readonly estimate: number;
  readonly standardError: number;
  readonly lower: number;
  readonly upper: number;
}

/** Quantiles of a remaining life in one unit; null where they lie beyond the horizon of the scenario. */
export interface RemainingFigures {
  /** One set in ten has less left. */
  readonly p10: number | null;
  /** Half of the sets have less left. */
  readonly p50: number | null;
  /** Nine sets in ten have less left; p10 to p90 is the 80 % interval. */
  readonly p90: number | null;
  /** Monte Carlo 95 % intervals. */
  readonly intervals: {
    readonly p10: MonteCarloInterval;
    readonly p50: MonteCarloInterval;
    readonly p90: MonteCarloInterval;
  };
}

/** Chance that the tires stay in service up to some time. */
export interface ReachChance {
  /** Flight hours from now, h. */
  readonly hours: number;
  /** Landings from now. */
  readonly landings: number;
  /** Days from now. */
  readonly days: number;
  /** Day and month it is then. */
  readonly date: string;
  /** Null beyond the horizon of the scenario. */
  readonly chance: ChanceEstimate | null;
}

/** When to look at the tread next. */
export interface NextInspection {
  /** Accepted chance that the tread limit is passed before. */
  readonly acceptedChance: number;
  /** Landings from now; 0 if the chance is higher already. */
  readonly landings: number;
  /** Flight hours from now, h. */
  readonly hours: number;
  /** Days from now. */
  readonly days: number;
  /** Flight hours from now by the cautious end of the Monte Carlo error of that chance, h. */
  readonly cautiousHours: number;
  /** True if the chance stays below the accepted one up to the horizon of the scenario. */
  readonly beyondHorizon: boolean;
}

/** Curves from now on, in columns. */
export interface RemainingCurves {
  readonly landings: readonly number[];
  readonly hours: readonly number[];
  readonly days: readonly number[];
  /** Chance to be still in service. */
  readonly survival: readonly number[];
  /** Monte Carlo 95 % band. */
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  /** Chance that the worst place of the tread has passed the limit, by wear alone. */
  readonly pastLimit: readonly number[];
}

/** How far the readings are from what the scenario gave, and what was done about it. */
export interface ReadingAgreement {
  readonly checks: readonly ReadingCheck[];
  /** Chance of readings at least as far off, were the scenario true; null without readings. */
  readonly chance: number | null;
  /** Factor by which the errors of the readings were taken as greater: 1 unless the trials had to reach further. */
  readonly widenedBy: number;
}

/** The life left in a set of main tires: plain data that can be stored as JSON. */
export interface RemainingLife {
  readonly scenario: string;
  readonly setup: string;
  readonly mix: string;
  readonly seed: string;
  readonly flown: { readonly landings: number; readonly hours: number };
  /** Day and month of today. */
  readonly date: string;
  /** Trials lived through. */
  readonly trials: number;
  /** Trials that may be like these tires: nothing but wear has taken them off by now. */
  readonly trialsStillOn: number;
  /** How many equally weighted trials the answer is worth. */
  readonly effectiveTrials: number;
  readonly agreement: ReadingAgreement;
  /** Life left until the first of the two main tires must come off, for any reason. */
  readonly remaining: {
    readonly landings: RemainingFigures;
    readonly hours: RemainingFigures;
    readonly days: RemainingFigures;
  };
  /** Share of sets with more left than the horizon of the scenario. */
  readonly beyondHorizon: number;
  /** Chance that the tread limit has been passed already somewhere on a main tire. */
  readonly pastLimitNow: ChanceEstimate;
  /** Chance to end by each cause before the horizon; worn includes what is past the limit now. */
  readonly endCauses: Readonly<Record<EndCause, ChanceEstimate>>;
  readonly endOfSeason: ReachChance;
  readonly reach: readonly ReachChance[];
  readonly nextInspection: NextInspection;
  /**
   * Flight hours left by proportion, as the lowest reading over the limit and the hours flown give, h: a check by hand
   * that knows no model. Null without readings, wear or hours.
   */
  readonly straightLineHours: number | null;
  readonly curves: RemainingCurves;
  /** What the reader must know, in sentences. */
  readonly remarks: readonly string[];
}
