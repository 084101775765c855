import { secondsLeft, terminalLine } from './terminal-line.js';

/** Before this share of the work is done, its pace says nothing. */
const LEAST_TOLD = 0.02;

/** Draws how far a phase of work has come on one line of a terminal; silent where there is none. */
export interface PhaseLine {
  /** @param doneShare 0 to 1. */
  update(doneShare: number): void;
  clear(): void;
}

/**
 * A line for one phase of work.
 *
 * @param stream usually standard error.
 * @param what is being done, in a word or two.
 * @param atEnd what goes on once the least work is done, such as "until the chains agree".
 * @param now clock in ms; only for pace and for the time left.
 */
export function phaseLine(
  stream: NodeJS.WriteStream,
  what: string,
  atEnd = '',
  now?: () => number,
): PhaseLine {
  const line = terminalLine(stream, now);
  return {
    update(doneShare): void {
      line.draw(doneShare, (elapsedMs) => {
        const left = doneShare >= LEAST_TOLD ? secondsLeft(doneShare, elapsedMs) : null;
        // The least work may not be enough: then nobody knows how much is left.
        const rest =
          doneShare >= 1 ? (atEnd === '' ? '' : `${atEnd} `) : left === null ? '' : `about ${left} s left `;
        return `${what}: ${Math.floor(100 * doneShare)} %  ${rest}(Ctrl-C stops)`;
      });
    },
    clear: line.clear,
  };
}
