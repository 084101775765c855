import type { Progress } from '../simulate/simulate.js';
import type { Measured } from './measure.js';

/** What a known answer is about. */
export type KnownAnswerTopic = 'wear' | 'flats' | 'ends' | 'pressure' | 'doubt';

/** A result of the simulator beside the exact one. */
export interface KnownAnswer {
  readonly name: string;
  readonly topic: KnownAnswerTopic;
  /** How the exact result is worked out, in words. */
  readonly formula: string;
  /** Where the formula stands. */
  readonly source: string;
  readonly unit: string;
  readonly exact: number;
  readonly estimate: number;
  /** Monte Carlo standard error of the estimate; 0 where chance plays no part. */
  readonly standardError: number;
  /** Trials, or pairs of twins, that the estimate rests on. */
  readonly trials: number;
  readonly seed: string;
}

/** How a yardstick is run. */
export interface YardstickRun {
  readonly trials: number;
  readonly seed: string;
  readonly onProgress: (progress: Progress) => void;
  readonly signal: AbortSignal | undefined;
}

/** Runs one quiet scenario and gives what is known of it. */
export type Yardstick = (run: YardstickRun) => Promise<readonly KnownAnswer[]>;

/** Puts a known answer together. */
export function answer(
  { trials, seed }: Pick<YardstickRun, 'trials' | 'seed'>,
  about: Pick<KnownAnswer, 'name' | 'topic' | 'formula' | 'source' | 'unit'>,
  exact: number,
  measured: Measured,
): KnownAnswer {
  return { ...about, exact, ...measured, trials, seed };
}
