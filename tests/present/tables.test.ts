import { beforeAll, describe, expect, test } from 'vitest';
import { grid } from '../../lib/present/grid.js';
import { comparisonTable, TABLE_WIDTH } from '../../lib/present/table.js';
import { textWidth } from '../../lib/present/words.js';
import { runScenario, type RunResult } from '../../lib/run.js';
import { compileScenario } from '../../lib/scenario/compile.js';
import { readScenario } from '../../lib/scenario/read.js';
import { shipped } from '../support/command.js';

let result: RunResult;

beforeAll(async () => {
  const scenario = compileScenario(readScenario(shipped('first.json')).scenario);
  ({ result } = await runScenario(scenario, { trials: 12, workers: 1 }));
});

type Change = Partial<Record<'p10' | 'p50' | 'p90', number | null>>;

/** The result with other lives in hours, pairing by pairing. */
function withLives(...changes: readonly Change[]): RunResult {
  const pairings = result.pairings.map((pairing, index) => {
    const { life } = pairing;
    return { ...pairing, life: { ...life, hours: { ...life.hours, ...changes[index] } } };
  });
  return { ...result, pairings };
}

function rowOf(table: string, setup: string): string {
  return table.split('\n').find((line) => line.startsWith(setup))!;
}

describe('the grid', () => {
  test('aligns cells, cuts or wraps what is too long, and leaves no blanks at line ends', () => {
    const columns = [
      { title: ['name'], align: 'left', width: 6, wraps: true },
      { title: ['two', 'lines'], align: 'right', width: 7 },
    ] as const;
    const rows = [
      ['a', '1'],
      ['long name', '12345678'],
      ['雪雪雪', '雪雪雪雪'],
    ];
    expect(grid(columns, rows).split('\n')).toEqual([
      '            two',
      'name      lines',
      '---------------',
      'a             1',
      'long    1234...',
      '  name',
      '雪雪雪  雪雪...',
    ]);
  });
});

describe('the comparison', () => {
  test('puts the longest median life first, one beyond the horizon before all', () => {
    const [soft, rigid] = result.pairings.map(({ setup }) => setup) as [string, string];
    const order = (table: string): number => table.indexOf(`\n${soft}`) - table.indexOf(`\n${rigid}`);
    expect(order(comparisonTable(withLives({ p50: 200 }, { p50: 100 })))).toBeLessThan(0);
    expect(order(comparisonTable(withLives({ p50: 100 }, { p50: 200 })))).toBeGreaterThan(0);
    expect(order(comparisonTable(withLives({ p50: null }, { p50: 200 })))).toBeLessThan(0);
  });

  test('shows the figures of the result, open above where the horizon ends them', () => {
    const [soft] = result.pairings;
    const table = comparisonTable(withLives({ p10: 12.34, p50: 123.4, p90: null }));
    expect(rowOf(table, soft!.setup)).toContain(' 123 (over 12.3) ');
    expect(table).toContain(`${result.trials} trials, seed gravelbar, gravelbar ${result.version}`);
    for (const { message } of result.cautions)
      expect(table.replaceAll(/\n\s+/g, ' ')).toContain(`Caution: ${message}`);
  });

  test(`never passes ${TABLE_WIDTH} columns, however large the figures`, () => {
    const huge: Change = { p10: 123_456, p50: 345_678, p90: 384_000 };
    const table = comparisonTable(withLives(huge, huge));
    expect(table).toContain('345678 (123456-384000)');
    for (const line of table.split('\n')) expect(textWidth(line)).toBeLessThanOrEqual(TABLE_WIDTH);
  });

  test('says how well the median is known when a precision was asked for', () => {
    const precise = { ...result, precision: { asked: 0.02, reached: 0.0187 } };
    expect(comparisonTable(precise)).toContain('median lives known within 1.9 % (asked 2.0 %)');
    const missed = { ...result, precision: { asked: 0.02, reached: 0.15 } };
    expect(comparisonTable(missed).replace(/\s+/g, ' ')).toContain(
      'known within 15 % (asked 2.0 %, NOT reached)',
    );
    const unknown = { ...result, precision: { asked: 0.02, reached: null } };
    expect(comparisonTable(unknown)).not.toContain('within');
  });
});
