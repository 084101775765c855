import { setImmediate as letOthersWork } from 'node:timers/promises';
import { CancelledError } from '../problems.js';

/** Longest time that others wait, ms. */
const MOST_MS = 50;
/** Of a part whose length is not known, so many breaths bring it half of what was left further. */
const HALF_AFTER = 2000;

/** What work that takes long owes to others: a turn now and then, a word on how far it is, and an ear for a stop. */
export interface WorkOptions {
  /** Called now and then: share of the work that seems to be done, 0 to 1, never less than before. */
  readonly onProgress?: ((doneShare: number) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/** Lets others work while a fit goes on, tells how far it is and hears of a stop. What it computes does not depend on it. */
export class SharedWork {
  private readonly options: WorkOptions;
  private last = performance.now();
  private told = 0;
  private from = 0;
  private to = 0;
  private breaths = 0;
  private expected: number | undefined;

  constructor(options: WorkOptions) {
    this.options = options;
  }

  /**
   * Enters the next part of the work.
   *
   * @param to share that is done when it ends; where that has been passed, a part of what is left.
   * @param expected breaths that it will take, if known.
   * @throws CancelledError when the signal has fired.
   */
  enter(to: number, expected?: number): void {
    this.hear();
    this.from = this.told;
    this.to = to;
    this.breaths = 0;
    this.expected = expected;
  }

  /** Notes that somebody else has brought the work so far. */
  skip(to: number): void {
    this.told = Math.max(this.told, to);
  }

  private hear(): void {
    if (this.options.signal?.aborted === true) {
      throw new CancelledError('the fit was stopped before it finished');
    }
  }

  /** To be called often; rejects with CancelledError when the signal has fired. */
  readonly breath = async (): Promise<void> => {
    this.breaths++;
    if (performance.now() - this.last < MOST_MS) return;
    await letOthersWork();
    this.hear();
    const part =
      this.expected === undefined
        ? this.breaths / (this.breaths + HALF_AFTER)
        : Math.min(1, this.breaths / this.expected);
    const share = this.from + Math.max(0, this.to - this.from) * part;
    this.told = Math.max(this.told, share);
    this.options.onProgress?.(this.told);
    this.last = performance.now();
  };
}
