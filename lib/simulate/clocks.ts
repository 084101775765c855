import { nextExponential, nextUniform53, openStream, streamKey, type Stream } from '../random/stream.js';

/** Random processes of a wheel that end or change something; each has a clock of its own. */
export const PROCESSES = ['puncture', 'pressure', 'cut', 'leak'] as const;
export const PUNCTURE = 0;
export const PRESSURE = 1;
export const CUT = 2;
export const LEAK = 3;

/** Wheels: left main, right main, nose or tail. */
export const WHEELS = 3;

const CLOCKS = WHEELS * PROCESSES.length;

/**
 * Thresholds of the event clocks of a trial.
 *
 * An event happens when the hazard added up since the last one passes a standard exponential threshold (inversion
 * of the integrated hazard), so one draw serves a whole life. The k-th threshold of a process on a wheel is the
 * same for all pairings: the set-up with the greater hazard meets its event first.
 */
export class EventClocks {
  /** Thresholds drawn so far; the first of every clock come from one stream, later ones from a stream per clock. */
  private readonly thresholds: number[][] = Array.from({ length: CLOCKS }, () => [0]);
  private readonly streams: (Stream | null)[] = new Array<Stream | null>(CLOCKS).fill(null);
  private consequences: number[] = [];
  private consequenceStream: Stream | null = null;
  private readonly seed: string;
  private trial = 0;
  private luck = 0;

  constructor(seed: string) {
    this.seed = seed;
  }

  /** Starts a trial. */
  open(trial: number, luck: number): void {
    this.trial = trial;
    this.luck = luck;
    const first = openStream(streamKey(this.seed, `first events ${luck}`, trial));
    for (const list of this.thresholds) {
      list.length = 1;
      list[0] = nextExponential(first);
    }
    this.streams.fill(null);
    this.consequences = [];
    this.consequenceStream = null;
  }

  /** Threshold of the `count`-th event (from 0) of a process on a wheel. */
  threshold(wheel: number, process: number, count: number): number {
    const slot = wheel * PROCESSES.length + process;
    const list = this.thresholds[slot]!;
    while (list.length <= count) {
      const stream = (this.streams[slot] ??= openStream(
        streamKey(this.seed, `later events ${PROCESSES[process]!} ${wheel} ${this.luck}`, this.trial),
      ));
      list.push(nextExponential(stream));
    }
    return list[count]!;
  }

  /** Uniform that decides how the `count`-th flat (from 0) of the trial goes on. */
  consequence(count: number): number {
    while (this.consequences.length <= count) {
      this.consequenceStream ??= openStream(streamKey(this.seed, `consequence ${this.luck}`, this.trial));
      this.consequences.push(nextUniform53(this.consequenceStream));
    }
    return this.consequences[count]!;
  }
}
