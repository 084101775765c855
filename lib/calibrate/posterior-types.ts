/** Quantiles of one number before and after the records, SI units. */
export interface FittedQuantiles {
  readonly prior: readonly number[];
  readonly posterior: readonly number[];
}

/** What the records tell about a number. */
export type LearningVerdict = 'learned' | 'barely learned' | 'not identified';

/** One assumption before and after the records. */
export interface FittedAssumption {
  /** Place in the scenario, or name of a number that belongs to the records. */
  readonly path: string;
  /** Law by which its margin is written: that of the scenario where it is one of these. */
  readonly form: 'lognormal' | 'normal';
  /** Quantiles at the probabilities of {@link AssumptionFit.probabilities}, SI units. */
  readonly quantiles: FittedQuantiles;
  readonly priorMedian: number;
  readonly median: number;
  /** Standard deviation of its standard normal score: 1 before the records. */
  readonly scoreDeviation: number;
  /** Mean of that score: 0 before the records; beyond 2.5 either way the scenario held it for implausible. */
  readonly scoreMean: number;
  /** Standard deviation of the score if all others were known. */
  readonly scoreDeviationAlone: number;
  readonly effectiveSize: number;
  readonly rHat: number;
  readonly verdict: LearningVerdict;
  /** The reason of the verdict, in a sentence. */
  readonly reason: string;
}

/** Two numbers that the records tie to each other. */
export interface FitCorrelation {
  readonly one: string;
  readonly other: string;
  /** Of their scores, -1 to 1. */
  readonly correlation: number;
}

/** A combination of numbers that the records tell best. */
export interface LearnedDirection {
  /** Standard deviation of the combination of scores: 1 before the records. */
  readonly deviation: number;
  /** Weights in the combination, squares adding to 1; small ones are left out. */
  readonly weights: readonly { readonly path: string; readonly weight: number }[];
}

/** One reading as expected from the fitted assumptions. */
export interface FittedReading {
  readonly tire: string;
  /** Day as a date, YYYY-MM-DD. */
  readonly date: string;
  readonly band: string;
  /** Landings since the log took the tire up. */
  readonly landings: number;
  /** Surface of most landings since the reading before; "no landing since", or "not known". */
  readonly surface: string;
  /** Groove read, and as expected without any reading of this tire: middle and the 80 % interval, m. */
  readonly grooveM: number;
  readonly expectedM: number;
  readonly lowM: number;
  readonly highM: number;
  /** How far it is from what the readings of the tire before it let expect, in standard deviations; positive: more groove. */
  readonly stepwiseOffBy: number;
  /** True where it was held out of the fit. */
  readonly heldOut: boolean;
}

/** One pressure found, as expected from the fitted assumptions. */
export interface FittedPressure {
  readonly tire: string;
  readonly date: string;
  readonly days: number;
  readonly foundPa: number;
  /** Expected without a slow leak, Pa. */
  readonly expectedPa: number;
  /** Chance of finding less, slow leaks included: spread evenly over 0 to 1 where the fit holds. */
  readonly chanceBelow: number;
}

/** How often intervals held what they should. */
export interface FitCalibration {
  /** What was counted; without any reading of the tire: but for tires taken up part-worn, of which any groove was possible. */
  readonly what:
    | 'readings, each from those before it'
    | 'readings, without any reading of the tire'
    | 'held-out readings, without any reading of the tire'
    | 'pressures found';
  /** Share that the intervals should hold. */
  readonly stated: number;
  readonly held: number;
  readonly of: number;
  /** 95 % interval of the share if each counted for itself (Wilson). Readings of one tire do not: see the text. */
  readonly low: number;
  readonly high: number;
}

/** A tire whose readings do not fit. */
export interface FittedTire {
  readonly tire: string;
  readonly readings: number;
  /** Sum of the squared stepwise distances: near the number of readings where all is well. */
  readonly squaredDistance: number;
  /** Chance of a sum as large as this (chi-square). */
  readonly chance: number;
  /** True where the chance is below 1 in 100 shared among all tires. */
  readonly flagged: boolean;
}

/** Checks of the fit against the records. */
export interface FitChecks {
  readonly readings: readonly FittedReading[];
  readonly pressures: readonly FittedPressure[];
  readonly calibration: readonly FitCalibration[];
  readonly tires: readonly FittedTire[];
  /** Punctures and cuts counted, and expected over the same landings. */
  readonly stones: {
    readonly punctures: number;
    readonly expectedPunctures: number;
    readonly cuts: number;
    readonly expectedCuts: number;
  };
  /** Where records and scenario contradict each other or themselves: sentences, none where all is well. */
  readonly conflicts: readonly string[];
}

/** Further records and what they would tell. */
export interface NextReading {
  /** What to do, in words. */
  readonly what: string;
  readonly kind: 'tread readings' | 'pressure checks' | 'counting cuts and punctures';
  readonly setup: string;
  /** Strip; null for pressure checks. */
  readonly strip: string | null;
  readonly readings: number;
  /** Expected gain of information on all assumptions together, in nats (linearised). */
  readonly information: number;
  /** Assumptions that it would narrow most: standard deviations of their scores now and then. */
  readonly narrows: readonly { readonly path: string; readonly now: number; readonly then: number }[];
}

/** Posterior draws: one row per draw, columns in the order of the paths, SI units. */
export interface PosteriorDraws {
  readonly paths: readonly string[];
  readonly rows: readonly (readonly number[])[];
}

/** How well the draws stand for the posterior. */
export interface FitConvergence {
  readonly converged: boolean;
  readonly largestRHat: number;
  readonly smallestEffectiveSize: number;
  /** Draws of all chains together. */
  readonly draws: number;
  readonly chains: number;
  readonly acceptedShare: number;
  /** Times the likelihood was worked out. */
  readonly evaluations: number;
}

/** Assumptions of a scenario after a look at records: plain data. */
export interface AssumptionFit {
  readonly kind: 'gravelbar fit';
  readonly formatVersion: 1;
  /** Name of the scenario whose assumptions were the prior. */
  readonly scenario: string;
  /** "fitted to FILE (n records, first to last day)". */
  readonly source: string;
  readonly logbook: {
    readonly name: string;
    readonly note: string | null;
    readonly firstDate: string;
    readonly lastDate: string;
  };
  readonly seed: string;
  readonly used: {
    readonly readings: number;
    readonly ends: number;
    readonly cuts: number;
    readonly pressureChecks: number;
    readonly landings: number;
  };
  /** What was left aside or taken for granted. */
  readonly remarks: readonly string[];
  /** Probabilities of the quantiles. */
  readonly probabilities: readonly number[];
  /** What the records bear on, most learned first. */
  readonly assumptions: readonly FittedAssumption[];
  /** Assumptions in doubt that no record bears on: they keep their prior. */
  readonly untouched: readonly string[];
  readonly correlations: readonly FitCorrelation[];
  readonly directions: readonly LearnedDirection[];
  readonly nextReadings: readonly NextReading[];
  readonly checks: FitChecks;
  /** Draws of the assumptions of the scenario among those touched. */
  readonly draws: PosteriorDraws;
  readonly convergence: FitConvergence;
}
