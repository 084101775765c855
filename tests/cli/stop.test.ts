import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import type { RunResult } from '../../lib/run.js';
import {
  commandFile,
  gravelbar,
  inFolder,
  listing,
  runProgram,
  shipped,
  type Finished,
} from '../support/command.js';

const TRIALS = ['--trials', '100000'];
const LONG = ['run', shipped('mixed-season.json'), ...TRIALS, '--workers', '2'];

/** The output folder is made just before the first trial. */
async function untilRunning(folder: string): Promise<void> {
  while (!existsSync(folder)) await wait(10);
}

async function stopped(args: readonly string[], folder: string, name: NodeJS.Signals): Promise<Finished> {
  const out = join(folder, 'out');
  return gravelbar([...args, '--json', '--out', 'out'], {
    cwd: folder,
    whileRunning: async (kill) => {
      await untilRunning(out);
      await wait(200);
      kill(name);
    },
  });
}

test('a run stopped by Ctrl-C shows and writes the figures of the finished trials, and exits with 130', () =>
  inFolder(async (folder) => {
    const finished = await stopped(LONG, folder, 'SIGINT');
    expect(finished.code).toBe(130);
    const result = JSON.parse(finished.stdout) as RunResult;
    expect(result.complete).toBe(false);
    expect(result.trials).toBeGreaterThanOrEqual(2);
    expect(result.trials).toBeLessThan(100_000);
    expect(result.cautions.map(({ code }) => code)).toContain('stopped early');
    expect(result.pairings).toHaveLength(15);
    expect(finished.stderr).toBe(
      'wrote out/result.json, out/pairings.csv, out/comparison.txt\n' +
        `gravelbar: stopped after ${result.trials} finished trials; the figures are those of these trials\n`,
    );
    const read = (file: string): string => readFileSync(join(folder, 'out', file), 'utf8');
    expect(read('result.json')).toBe(finished.stdout);
    expect(read('pairings.csv').trimEnd().split('\n')).toHaveLength(16);
    expect(read('comparison.txt')).toContain(
      `Caution: The run was stopped; figures rest on the first ${result.trials} trials.`,
    );
    expect(listing(join(folder, 'out'))).toHaveLength(3);
  }));

test('the trials of a stopped run are the first ones of the whole run', () =>
  inFolder(async (folder) => {
    const run = ['run', shipped('first.json'), '--workers', '1'];
    const part = JSON.parse((await stopped([...run, ...TRIALS], folder, 'SIGTERM')).stdout) as RunResult;
    const whole = await gravelbar([...run, '--trials', String(part.trials), '--json']);
    const { pairings, complete } = JSON.parse(whole.stdout) as RunResult;
    expect([part.complete, complete]).toEqual([false, true]);
    expect(part.pairings).toEqual(pairings);
  }));

test('a command stopped while it loads says so, leaves nothing behind and exits with 130', () =>
  inFolder(async (folder) => {
    // Sends the signal as soon as the command begins to listen for it.
    const preload = join(folder, 'interrupt.mjs');
    writeFileSync(
      preload,
      `process.on('newListener', (name) => {
         if (name === 'SIGINT') process.nextTick(() => process.kill(process.pid, 'SIGINT'));
       });`,
    );
    const before = listing(folder);
    const args = ['--import', pathToFileURL(preload).href, commandFile, ...LONG, '--out', 'out'];
    const finished = await runProgram(process.execPath, args, { cwd: folder });
    expect(finished).toEqual({
      code: 130,
      signal: null,
      stdout: '',
      stderr: 'gravelbar: stopped before it began\n',
    });
    expect(listing(folder)).toEqual(before);
  }));
