import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import type { RunResult } from '../../lib/run.js';
import { gravelbar, inFolder, listing, shipped } from '../support/command.js';

const FIRST = shipped('first.json');
const FILES = ['comparison.txt', 'pairings.csv', 'report.html', 'result.json'];
/** Letters of the report of five set-ups on three mixes: what a phone opens at once. */
const MOST_BYTES = 1_500_000;

const names = (folder: string): string[] => listing(folder).map((line) => line.replace(/ \w+$/, ''));

describe('report', () => {
  test('writes the report beside the files of a run, and prints the comparison and the answer in words', () =>
    inFolder(async (folder) => {
      const args = ['--trials', '40', '--seed', 'paper'];
      const report = await gravelbar(['report', FIRST, '--out', 'new/deep', ...args], { cwd: folder });
      expect(report.code).toBe(0);
      expect(report.stderr).toBe(
        'wrote new/deep/result.json, new/deep/pairings.csv, new/deep/comparison.txt, new/deep/report.html\n',
      );
      const out = join(folder, 'new', 'deep');
      expect(names(out)).toEqual(FILES);
      const run = await gravelbar(['run', FIRST, '--out', 'plain', ...args], { cwd: folder });
      for (const name of FILES.filter((file) => file !== 'report.html')) {
        expect(readFileSync(join(out, name), 'utf8')).toBe(readFileSync(join(folder, 'plain', name), 'utf8'));
      }
      expect(report.stdout.startsWith(run.stdout)).toBe(true);
      expect(report.stdout).toContain('\nIn words: rigid 25 psi lasts longest');
      expect(report.stdout.split('\n').filter((line) => line.length > 100)).toEqual([]);
      const page = readFileSync(join(out, 'report.html'), 'utf8');
      const result = JSON.parse(readFileSync(join(out, 'result.json'), 'utf8')) as RunResult;
      for (const text of [result.scenarioHash, result.version, 'paper', result.scenario])
        expect(page).toContain(text);
      for (const { message } of result.cautions) {
        expect(page.replaceAll('\u00a0', ' ')).toContain(message.replaceAll("'", '&#39;'));
      }
    }));

  test('is the same, byte by byte, for any number of workers, and no other for another day or place', () =>
    inFolder(async (folder) => {
      const report = async (out: string, workers: string): Promise<string> => {
        await gravelbar(['report', FIRST, '--trials', '20', '--workers', workers, '--out', out], {
          cwd: folder,
        });
        return readFileSync(join(folder, out, 'report.html'), 'utf8');
      };
      const one = await report('one', '1');
      expect(await report('elsewhere/two', '2')).toBe(one);
      expect(one).not.toContain(folder);
      expect(one).not.toMatch(/\b20\d\d-\d\d-\d\d\b/);
    }));

  test('of five set-ups on three mixes stays small', () =>
    inFolder(async (folder) => {
      const args = ['report', shipped('mixed-season.json'), '--trials', '30', '--out', 'out'];
      expect((await gravelbar(args, { cwd: folder })).code).toBe(0);
      const page = readFileSync(join(folder, 'out', 'report.html'), 'utf8');
      expect(Buffer.byteLength(page)).toBeLessThan(MOST_BYTES);
      expect(page.match(/<article/g)).toHaveLength(3);
    }));

  test('of a stopped run rests on its finished trials and names the charts that it lacks', () =>
    inFolder(async (folder) => {
      const args = ['report', shipped('mixed-season.json'), '--trials', '100000', '--out', 'out'];
      const finished = await gravelbar(args, {
        cwd: folder,
        whileRunning: async (kill) => {
          while (!existsSync(join(folder, 'out'))) await wait(10);
          await wait(1500);
          kill('SIGINT');
        },
      });
      expect(finished.code).toBe(130);
      expect(names(join(folder, 'out'))).toEqual(FILES);
      const result = JSON.parse(readFileSync(join(folder, 'out', 'result.json'), 'utf8')) as RunResult;
      expect(result.complete).toBe(false);
      expect(finished.stderr).toContain(
        `gravelbar: stopped; the report rests on ${result.trials} finished trials and says which charts it lacks\n`,
      );
      const page = readFileSync(join(folder, 'out', 'report.html'), 'utf8');
      expect(page).toContain('stopped early');
      expect(page.match(/Left out: the run was stopped/g)!.length).toBeGreaterThan(1);
    }));

  test('needs a folder that can be written to, and leaves nothing behind where it cannot', () =>
    inFolder(async (folder) => {
      writeFileSync(join(folder, 'taken'), '');
      const before = listing(folder);
      const refused = await gravelbar(['report', FIRST, '--out', 'taken/deep'], { cwd: folder });
      expect(refused).toMatchObject({ code: 2, stdout: '' });
      expect(refused.stderr).toContain('cannot write into the folder taken/deep');
      const missing = await gravelbar(['report', FIRST], { cwd: folder });
      expect(missing).toMatchObject({ code: 2, stdout: '' });
      expect(missing.stderr).toContain('--out <folder>');
      const wrong = await gravelbar(['report', FIRST, '--out', 'made/here', '--trials', '1'], {
        cwd: folder,
      });
      expect(wrong.code).toBe(2);
      expect(listing(folder)).toEqual(before);
    }));
});
