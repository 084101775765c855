import type { Progress } from '../simulate/simulate.js';
import { secondsLeft, terminalLine } from './terminal-line.js';

/** Draws progress on one line of a terminal; silent where there is none. */
export interface ProgressLine {
  update(progress: Progress): void;
  clear(): void;
}

/**
 * A progress line on a stream.
 *
 * @param stream usually standard error.
 * @param now clock in ms; only for pace and for the time left.
 */
export function progressLine(stream: NodeJS.WriteStream, now?: () => number): ProgressLine {
  const line = terminalLine(stream, now);
  return {
    update({ finishedTrials, totalTrials }): void {
      const share = finishedTrials / totalTrials;
      line.draw(share, (elapsedMs) => {
        const left = share > 0 ? secondsLeft(share, elapsedMs) : 0;
        return `${Math.floor(100 * share)} %  ${finishedTrials} of ${totalTrials} trials, about ${left} s left (Ctrl-C stops)`;
      });
    },
    clear: line.clear,
  };
}
