import type { Progress } from '../simulate/simulate.js';

const REDRAW_MS = 100;

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
export function progressLine(
  stream: NodeJS.WriteStream,
  now: () => number = () => performance.now(),
): ProgressLine {
  if (!stream.isTTY) return { update: () => undefined, clear: () => undefined };
  const start = now();
  let drawn = -Infinity;
  return {
    update({ finishedTrials, totalTrials }): void {
      const time = now();
      if (time - drawn < REDRAW_MS && finishedTrials < totalTrials) return;
      drawn = time;
      const share = finishedTrials / totalTrials;
      const left = share > 0 ? Math.ceil(((time - start) * (1 / share - 1)) / 1000) : 0;
      stream.write(
        `\r\u001b[K${Math.floor(100 * share)} %  ${finishedTrials} of ${totalTrials} trials, about ${left} s left (Ctrl-C stops)`,
      );
    },
    clear(): void {
      stream.write('\r\u001b[K');
    },
  };
}
