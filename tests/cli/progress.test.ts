import { expect, test } from 'vitest';
import { progressLine } from '../../lib/cli/progress.js';

/** A stream that keeps what is written to it. */
function fakeStream(isTTY: boolean): { readonly stream: NodeJS.WriteStream; readonly written: string[] } {
  const written: string[] = [];
  const write = (text: string): boolean => {
    written.push(text);
    return true;
  };
  return { stream: { isTTY, write } as unknown as NodeJS.WriteStream, written };
}

test('progress is drawn on one line of a terminal, at most ten times a second, with the time left', () => {
  const { stream, written } = fakeStream(true);
  let now = 0;
  const line = progressLine(stream, () => now);
  for (const [time, finishedTrials] of [
    [1000, 100],
    [1050, 110],
    [2000, 250],
    [2001, 1000],
  ] as const) {
    now = time;
    line.update({ finishedTrials, totalTrials: 1000 });
  }
  line.clear();
  expect(written).toEqual([
    '\r\u001b[K10 %  100 of 1000 trials, about 9 s left (Ctrl-C stops)',
    '\r\u001b[K25 %  250 of 1000 trials, about 6 s left (Ctrl-C stops)',
    '\r\u001b[K100 %  1000 of 1000 trials, about 0 s left (Ctrl-C stops)',
    '\r\u001b[K',
  ]);
});

test('nothing is drawn where there is no terminal', () => {
  const { stream, written } = fakeStream(false);
  const line = progressLine(stream);
  line.update({ finishedTrials: 1, totalTrials: 2 });
  line.clear();
  expect(written).toEqual([]);
});
