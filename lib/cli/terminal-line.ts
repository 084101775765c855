const REDRAW_MS = 100;

/** One line of a terminal that is drawn anew as work goes on; silent where there is no terminal. */
export interface TerminalLine {
  /**
   * @param share of the work that is done, 0 to 1.
   * @param textOf gives the line from the time since the line was made, ms; called only where it is drawn.
   */
  draw(share: number, textOf: (elapsedMs: number) => string): void;
  readonly clear: () => void;
}

/**
 * A line that is drawn at most ten times a second, and at the end.
 *
 * @param stream usually standard error.
 * @param now clock in ms; only for pace and for the time left.
 */
export function terminalLine(
  stream: NodeJS.WriteStream,
  now: () => number = () => performance.now(),
): TerminalLine {
  if (!stream.isTTY) return { draw: () => undefined, clear: () => undefined };
  const start = now();
  let drawn = -Infinity;
  return {
    draw(share, textOf): void {
      const time = now();
      if (time - drawn < REDRAW_MS && share < 1) return;
      drawn = time;
      stream.write(`\r\u001b[K${textOf(time - start)}`);
    },
    clear(): void {
      stream.write('\r\u001b[K');
    },
  };
}

/** Seconds left at the pace so far, rounded up. */
export function secondsLeft(share: number, elapsedMs: number): number {
  return Math.ceil((elapsedMs * (1 / share - 1)) / 1000);
}
