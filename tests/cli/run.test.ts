import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
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

const FIRST = shipped('first.json');
const SHIPPED = ['first.json', 'mixed-season.json', 'all-paved-to-all-rock.json', 'my-tires-today.json'];
const TABLE_WIDTH = 100;

function expectRising(...values: (number | null)[]): void {
  for (const value of values) expect(value).toSatisfy(Number.isFinite);
  const numbers = values as number[];
  expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
}

function sumOf(shares: Readonly<Record<string, { readonly estimate: number }>>): number {
  return Object.values(shares).reduce((sum, { estimate }) => sum + estimate, 0);
}

describe.each(SHIPPED)('run %s', (name) => {
  const stated = JSON.parse(readFileSync(shipped(name), 'utf8')) as Record<string, object>;
  const [setups, mixes] = [Object.keys(stated['setups']!), Object.keys(stated['mixes']!)];
  let finished: Finished;
  let table: string;

  beforeAll(() =>
    inFolder(async (folder) => {
      const args = ['run', shipped(name), '--trials', '10', '--json', '--out', '.'];
      finished = await gravelbar(args, { cwd: folder });
      table = readFileSync(join(folder, 'comparison.txt'), 'utf8');
    }),
  );

  test('--json prints one object with every figure finite and in order', () => {
    expect(finished.code).toBe(0);
    const result = JSON.parse(finished.stdout) as RunResult;
    expect(result).toMatchObject({ version: expect.any(String) as string, seed: 'gravelbar', trials: 10 });
    expect(result.scenario).not.toBe('');
    expect(result.cautions.map(({ code }) => code)).toContain('authority');
    expect(result.pairings.map(({ setup, mix }) => [setup, mix])).toEqual(
      setups.flatMap((setup) => mixes.map((mix) => [setup, mix])),
    );
    for (const { life, cords, puncture, wearShares, removalCauses } of result.pairings) {
      for (const unit of [life.hours, life.landings]) {
        expectRising(0, unit.p10, unit.p50, unit.p90);
        expectRising(0, unit.standardError);
        expectRising(unit.p10! / 2, unit.mean, unit.p90! * 2);
      }
      expectRising(0, cords.hours.p10, cords.hours.p50, cords.hours.p90);
      for (const risk of [puncture.per100Landings, puncture.season, puncture.awayFromHelp]) {
        expectRising(0, risk.lower, risk.estimate, risk.upper);
      }
      expectRising(puncture.awayFromHelp.estimate, puncture.season.estimate, 1);
      // The columns of worn rubber hold single-precision numbers.
      expect(sumOf(wearShares.byCause)).toBeCloseTo(1, 6);
      expect(sumOf(wearShares.bySurface)).toBeCloseTo(1, 6);
      for (const cause of Object.values(removalCauses)) {
        expectRising(0, cause.lower, cause.estimate, cause.upper, 1);
      }
      expect(sumOf(removalCauses)).toBeCloseTo(1 - life.beyondHorizon, 9);
    }
  });

  test(`the table has at most ${TABLE_WIDTH} columns, every pairing and every caution`, () => {
    expect(table.split('\n').filter((line) => line.length > TABLE_WIDTH)).toEqual([]);
    const blocks = table.split('Runway mix: ').slice(1);
    expect(blocks.map((block) => block.split('\n')[0])).toEqual(mixes);
    for (const block of blocks) {
      for (const setup of setups) {
        expect(block.split('\n').filter((line) => line.startsWith(`${setup}  `))).toHaveLength(3);
      }
    }
    expect(table).toContain('Caution: For comparison only.');
    expect(table).toContain('Caution: Only 10 trials');
  });
});

describe('run', () => {
  test('the same seed gives the same bytes for any number of workers, another seed others', async () => {
    const args = ['run', FIRST, '--trials', '16', '--json', '--seed'];
    const [one, again, other] = await Promise.all([
      gravelbar([...args, 'a', '--workers', '1']),
      gravelbar([...args, 'a', '--workers', '2']),
      gravelbar([...args, 'b', '--workers', '1']),
    ]);
    expect(again).toEqual(one);
    const [a, b] = [JSON.parse(one.stdout), JSON.parse(other.stdout)] as [RunResult, RunResult];
    expect([a.seed, b.seed]).toEqual(['a', 'b']);
    expect(b.pairings[0]!.life.hours.mean).not.toBe(a.pairings[0]!.life.hours.mean);
  });

  test('--precision runs until every median life is known that well, and says so', async () => {
    const { stdout } = await gravelbar(['run', FIRST, '--precision', '40 %', '--trials', '4000', '--json']);
    const result = JSON.parse(stdout) as RunResult;
    expect(result.precision?.asked).toBe(0.4);
    expect(result.precision!.reached).toBeLessThanOrEqual(0.4);
    expect(result.trials).toBeLessThan(4000);
    const { hours } = result.pairings[0]!.life;
    expect((hours.intervals.p50.upper! - hours.intervals.p50.lower!) / 2 / hours.p50!).toBeLessThan(0.45);
  });

  test('--csv and --out write what --json and the table show, over the results of an earlier run', () =>
    inFolder(async (folder) => {
      const args = ['run', FIRST, '--trials', '6', '--workers', '1', '--out', 'new/deep'];
      const table = await gravelbar([...args, '--seed', 'earlier'], { cwd: folder });
      const read = (name: string): string => readFileSync(join(folder, name), 'utf8');
      expect(table.code).toBe(0);
      expect(read('new/deep/comparison.txt')).toBe(table.stdout);
      const json = await gravelbar([...args, '--json', '--csv', 'pairings.csv'], { cwd: folder });
      expect(json.code).toBe(0);
      expect(json.stderr).toBe(
        'wrote pairings.csv, new/deep/result.json, new/deep/pairings.csv, new/deep/comparison.txt\n',
      );
      expect(listing(folder).map((line) => line.replace(/ \d+$/, ''))).toEqual([
        'new folder',
        'new/deep folder',
        'new/deep/comparison.txt',
        'new/deep/pairings.csv',
        'new/deep/result.json',
        'pairings.csv',
      ]);
      expect(read('new/deep/result.json')).toBe(json.stdout);
      expect(read('new/deep/comparison.txt')).not.toBe(table.stdout);
      expect(read('new/deep/pairings.csv')).toBe(read('pairings.csv'));
      const [heading, ...rows] = read('pairings.csv')
        .trimEnd()
        .split('\n')
        .map((line) => line.split(','));
      const { pairings, seed, trials } = JSON.parse(json.stdout) as RunResult;
      expect([seed, trials, rows.length]).toEqual(['gravelbar', 6, pairings.length]);
      const cell = (row: number, column: string): string => rows[row]![heading!.indexOf(column)]!;
      pairings.forEach(({ setup, mix, life, puncture }, row) => {
        expect([cell(row, 'setup'), cell(row, 'mix')]).toEqual([setup, mix]);
        expect(Number(cell(row, 'life_hours_p50'))).toBe(life.hours.p50);
        expect(Number(cell(row, 'flat_chance_season'))).toBe(puncture.season.estimate);
      });
    }));

  test('a reader that closes the pipe early ends it quietly', () =>
    inFolder(async (folder) => {
      const command = `"${process.execPath}" "${commandFile}" run "${FIRST}" --trials 4 --json`;
      const shell = await runProgram('bash', ['-c', `set -o pipefail; ${command} | head -1`], {
        cwd: folder,
      });
      expect(shell).toEqual({ code: 0, signal: null, stdout: '{\n', stderr: '' });
    }));
});
