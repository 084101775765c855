import type { Caution } from '../cautions.js';
import type { Criterion } from '../decide/criteria.js';
import type { Verdict } from '../decide/verdict.js';
import type { IntervalEstimate } from '../estimate/interval.js';
import type { MeanEstimate } from '../estimate/paired.js';
import type { ThreeDoubts } from '../estimate/uncertainty.js';
import type { IndexEstimate, IndexVerdict } from './index-types.js';
import type { OneAtATimeStudy } from './one-at-a-time-types.js';
import type { StudyRun } from './run-worlds.js';
import type { ChoiceFlip, ChoiceThreshold } from './threshold-types.js';
import type { TrialEffects } from './trial-inputs.js';
import type { ValueOfReadings } from './value-of-readings.js';
import type { VarianceStudy } from './variance-types.js';
import type { InformationOnInput, ValueOfInformation } from './voi-types.js';

/** Options of whatMatters. */
export interface WhatMattersOptions extends StudyRun {
  /** Name of the runway mix; default: the one where knowing more is worth most. */
  readonly mix?: string | undefined;
  /** What set-ups are chosen by; default: money if everything is priced, else life. */
  readonly criterion?: Criterion | undefined;
  /** Names of at least two set-ups; default: all. */
  readonly setups?: readonly string[] | undefined;
  /**
   * Trials of the common run, 100 to 1 000 000; default 1000. One assumption at a time takes a tenth of it for each
   * side, a threshold a fifth for each value; both are anchored on the common run.
   */
  readonly trials?: number | undefined;
  /** Rows of the variance design, 16 to 1 048 576, best a power of two; default 256. */
  readonly rows?: number | undefined;
  /** Two-sided level of the intervals, default 0.95. */
  readonly level?: number | undefined;
}

/** Parts of the study, in the order in which they are done. */
export const STUDY_STAGES = ['common run', 'one at a time', 'shares of doubt', 'thresholds'] as const;
/** One of {@link STUDY_STAGES}. */
export type StudyStage = (typeof STUDY_STAGES)[number];

/** What a part of the study took. */
export interface StageWork {
  readonly stage: StudyStage;
  /** Trials, counted for each set-up, mix and world; twins are counted too. */
  readonly trials: number;
  /** Landings computed in them. */
  readonly landings: number;
}

/**
 * - `safe`: the trials tell the best from the next, and knowing all assumptions beforehand would gain less than what
 *   matters, its whole interval considered.
 * - `probably safe`: the same, but the interval of that gain reaches above what matters, or there are too few twins.
 * - `either will do`: the means differ by less than what matters, their whole intervals considered, and so does that
 *   gain.
 * - `not safe`: knowing all beforehand would gain more than what matters.
 * - `not told yet`: the trials neither tell the best from the others, nor that the difference is below what matters.
 */
export type ChoiceSafetyKind = 'safe' | 'probably safe' | 'either will do' | 'not safe' | 'not told yet';

/** Which set-up another criterion would choose. */
export interface OtherAim {
  readonly criterion: Criterion;
  /** Best on average by it. */
  readonly best: string;
  /** Whether the trials tell it from each of the others. */
  readonly toldApart: boolean;
}

/** How safe it is to choose the set-up that is best on average. Money is that of a season. */
export interface ChoiceSafety {
  readonly kind: ChoiceSafetyKind;
  readonly mix: string;
  readonly best: string;
  /** The set-up that is best in most of the worlds where the best on average is not; else the next one. */
  readonly rival: string;
  /** Set-ups that are best in at least a hundredth of the worlds, and the rival; all with too few twins. */
  readonly contenders: readonly string[];
  /** By how much the best is better than the rival on average. */
  readonly lead: MeanEstimate;
  /** The three doubts about the lead over the next, in the unit of a trial's figure; null if all are copies. */
  readonly doubts: ThreeDoubts | null;
  /** Other set-ups that are worse by less than what matters: the whole interval of the difference is below it. */
  readonly asGood: readonly string[];
  /** Numerical doubt: chance that its mean is the best, given the trials. */
  readonly chanceBestOnAverage: number;
  /** Ignorance: share of worlds in which another set-up is best; null with too few twins. */
  readonly shareOfWorldsOther: IntervalEstimate | null;
  /** Expected gain of knowing all assumptions before choosing; null with too few twins. */
  readonly perfect: ValueOfInformation['perfect'];
  /** A difference below this does not matter: a twentieth of the best mean. */
  readonly indifference: number;
  readonly verdict: Verdict;
}

/** An input that the lead hangs on. */
export interface Decider {
  /** Place of the assumption, or the name of the group. */
  readonly input: string;
  readonly paths: readonly string[];
  /** Share of the variance of the lead that would stay if only this were unknown; null if that part is not finished. */
  readonly share: IndexEstimate | null;
  readonly verdict: IndexVerdict | null;
  /** The lead with the assumption at probability 0.1 and 0.9; null for a group or if that part is not finished. */
  readonly swing: {
    readonly lowSi: number;
    readonly highSi: number;
    readonly atLow: MeanEstimate;
    readonly atHigh: MeanEstimate;
    readonly change: MeanEstimate;
  } | null;
  /** Values at which the choice flips, of the assumption or the strongest of the group; null if not looked for. */
  readonly threshold: { readonly assumption: string; readonly flips: readonly ChoiceFlip[] } | null;
}

/** Readings that could be taken, and what they are worth before the choice. */
export interface ReadingsProposal {
  /** What to do: "count sharp stones on 4,000 m2 of gravel". */
  readonly text: string;
  readonly value: ValueOfReadings;
}

/** Something to measure. */
export interface MeasuringAdvice extends InformationOnInput {
  /** Group of assumptions that the same kind of work would tell; null if it has no other. */
  readonly group: InformationOnInput | null;
  /** Work that would tell it, in words; null where none is known. */
  readonly work: string | null;
  /** Readings whose worth can be told beforehand; empty where no kind of reading is known for it. */
  readonly readings: readonly ReadingsProposal[];
}

/** Which assumptions decide, whether the choice is safe, and what to measure next. Plain data that can be stored as JSON. */
export interface WhatMatters {
  readonly kind: 'what matters';
  readonly scenario: string;
  readonly version: string;
  readonly seed: string;
  readonly scenarioHash: string;
  readonly mix: string;
  /** The first one stands where knowing more is worth nothing on any. */
  readonly mixChosen: 'asked for' | 'the only one' | 'the first one' | 'where knowing more is worth most';
  readonly criterion: Criterion;
  /** Unit of leads and values: money, flats or days per season, or hours of life. */
  readonly unit: string;
  readonly better: 'more' | 'less';
  /** Factor from the figures of the studies within to that unit. */
  readonly perSeason: number;
  readonly setups: readonly string[];
  readonly level: number;
  /** Trials of the common run. */
  readonly trials: number;
  readonly complete: boolean;
  /** Parts that were not finished. */
  readonly missing: readonly StudyStage[];
  readonly work: readonly StageWork[];
  readonly choice: ChoiceSafety;
  /** The same on every mix that was run. */
  readonly mixes: readonly ChoiceSafety[];
  /** What the other criteria would choose on the mix. */
  readonly otherAims: readonly OtherAim[];
  /** Inputs that the lead hangs on, most important first; three at most. */
  readonly deciders: readonly Decider[];
  /**
   * Three at most, and empty if nothing is seen to be worth measuring: first what is proved to be worth something, then
   * what may be so by chance; the most valuable first, by the readings that could be taken where some are known, else by
   * knowing it.
   */
  readonly advice: readonly MeasuringAdvice[];
  /** Value of knowing each assumption by itself, and each natural group. */
  readonly information: ValueOfInformation;
  readonly groupInformation: ValueOfInformation;
  /** First-order effects on the lead, from the common run. */
  readonly fromTrials: TrialEffects;
  /** Null where not even a part is finished. */
  readonly oneAtATime: OneAtATimeStudy | null;
  readonly variance: VarianceStudy | null;
  readonly thresholds: readonly ChoiceThreshold[];
  /** What the figures rest on, where some assumptions are fitted to records; left out where none is. */
  readonly cautions?: readonly Caution[];
}
