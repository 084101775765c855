import { CancelledError, wholeNumber } from '../problems.js';
import type { Progress } from '../simulate/simulate.js';
import { ignoranceAlone, luckAndIgnorance } from './doubt-answers.js';
import { competingEnds, firstPuncture, pinchesInSeason, puncturesInSeason } from './flat-answers.js';
import { coldAir, permeation, slowLeaks } from './pressure-answers.js';
import { constantWear, randomWear, renewedTires } from './wear-answers.js';
import type { KnownAnswer, Yardstick } from './yardstick.js';

/** Options of {@link knownAnswers}. */
export interface KnownAnswersOptions {
  /** Trials of each case, 400 to 100 000; default 2000. Cases without chance take four. */
  readonly trials?: number | undefined;
  /** Seed; default "known answers". */
  readonly seed?: string | undefined;
  /** Called as trials finish, all cases together. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

const DEFAULT_TRIALS = 2000;
/** Below, the errors of spreads are not near enough to normal. */
const LEAST_TRIALS = 400;
const MOST_TRIALS = 100_000;
const DEFAULT_SEED = 'known answers';

const YARDSTICKS: readonly Yardstick[] = [
  constantWear,
  randomWear,
  renewedTires,
  firstPuncture,
  puncturesInSeason,
  pinchesInSeason,
  competingEnds,
  permeation,
  coldAir,
  slowLeaks,
  ignoranceAlone,
  luckAndIgnorance,
];

/**
 * Runs the simulator on scenarios whose results are known exactly, and puts both side by side: wear, flats, pressure,
 * competing ends, luck and ignorance. Each case is a run of its own through the whole landing loop.
 *
 * @param options how many trials, seed.
 * @returns one entry per known result.
 * @throws UsageError for options out of range; CancelledError when the signal fires.
 */
export async function knownAnswers(options: KnownAnswersOptions = {}): Promise<KnownAnswer[]> {
  const { trials = DEFAULT_TRIALS, seed = DEFAULT_SEED, onProgress, signal } = options;
  wholeNumber('trials', trials, LEAST_TRIALS, MOST_TRIALS);
  const totalTrials = trials * YARDSTICKS.length;
  const answers: KnownAnswer[] = [];
  for (const [index, yardstick] of YARDSTICKS.entries()) {
    if (signal?.aborted === true) throw new CancelledError(`stopped after ${index} of the known answers`);
    const done = index * trials;
    const found = await yardstick({
      trials,
      // Errors of different cases must not go together.
      seed: `${seed} ${index}`,
      signal,
      onProgress: ({ finishedTrials, totalTrials: ofCase }) => {
        onProgress?.({ finishedTrials: done + Math.round((trials * finishedTrials) / ofCase), totalTrials });
      },
    });
    answers.push(...found.map((each) => ({ ...each, seed })));
  }
  return answers;
}
