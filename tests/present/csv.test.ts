import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { curvesCsv, pairingsCsv, trialsCsv } from '../../lib/present/csv.js';
import { CURVE_TABLE, curveRows } from '../../lib/present/curve-rows.js';
import { PAIRING_TABLE, pairingRows } from '../../lib/present/pairing-rows.js';
import type { Cell, TableColumn } from '../../lib/present/rows.js';
import { TRIAL_TABLE, trialRows } from '../../lib/present/trial-rows.js';
import { inFolder } from '../support/command.js';
import { parseCsv } from '../support/csv.js';
import { renamed, runShipped, type ShippedRun } from '../support/results.js';

/** Names that a program could misread: separators, quotes, line ends, markup, formulas. */
const ODD_NAMES = [
  ['a, b', 'half "rough"'],
  ['two\nlines', 'two\r\nlines\r'],
  ['<script>alert(1)</script>', '&amp;'],
  ['=1+1', '+cmd|calc'],
  ['-2+3', '@SUM(A1)'],
  ['\t=1', '\r=1'],
  ["'=1+1", "it's"],
  ['a;=1+1', 'a\t=1'],
  ['\n=1', '\uff1d1'],
  ['雪上 🛞 e\u0301', ' blank '],
  ['true', '12'],
] as const;

let run: ShippedRun;
let odd: ShippedRun;

beforeAll(async () => {
  run = await runShipped('mixed-season.json', 4);
  odd = renamed(run, ODD_NAMES);
});

/** The value that a field stands for; an apostrophe was put before texts that begin like a formula or with one. */
function valueOf({ kind }: TableColumn, field: string | null): Cell {
  if (field === null) return null;
  if (kind === 'text') return field.replace(/^'/, '');
  return kind === 'yes-no' ? field === 'true' : Number(field);
}

function recordsOf(columns: readonly TableColumn[], csv: string): Record<string, Cell>[] {
  const [heading, ...rows] = parseCsv(csv);
  expect(heading).toEqual(columns.map(({ name }) => name));
  return rows.map((fields) => {
    expect(fields).toHaveLength(columns.length);
    const cells = fields.map((field, index) => valueOf(columns[index]!, field));
    return Object.fromEntries(columns.map(({ name }, index) => [name, cells[index]!]));
  });
}

const whole = (pieces: Iterable<string>): string => [...pieces].join('');

describe('CSV', () => {
  test('read back gives the rows of pairings, every digit of them', () => {
    for (const { result } of [run, odd]) {
      expect(recordsOf(PAIRING_TABLE, pairingsCsv(result))).toEqual(withEmptyText(pairingRows(result)));
    }
  });

  test('read back gives the rows of trials', () => {
    for (const { scenario, simulation } of [run, odd]) {
      expect(recordsOf(TRIAL_TABLE, whole(trialsCsv(scenario, simulation)))).toEqual([
        ...trialRows(scenario, simulation),
      ]);
    }
  });

  test('read back gives the rows of curve points', () => {
    for (const { result } of [run, odd]) {
      expect(recordsOf(CURVE_TABLE, curvesCsv(result))).toEqual(curveRows(result));
    }
  });

  test('read back gives any names', () => {
    const one = { ...run.result, pairings: run.result.pairings.slice(0, 1) };
    const text = fc.oneof(
      fc.string({ unit: 'binary', minLength: 1 }),
      fc.stringMatching(/^['"=+\-@,;\t\r\n ]{1,9}$/),
    );
    fc.assert(
      fc.property(text, text, (setup, mix) => {
        const csv = curvesCsv({ ...one, pairings: [{ ...one.pairings[0]!, setup, mix }] });
        for (const row of recordsOf(CURVE_TABLE, csv)) {
          expect([row['setup'], row['mix']]).toEqual([setup, mix]);
        }
      }),
      { numRuns: 200 },
    );
  });

  test('shows a spreadsheet no formula, also where it splits at semicolons or tabs', () => {
    for (const csv of [pairingsCsv(odd.result), whole(trialsCsv(odd.scenario, odd.simulation))]) {
      for (const field of parseCsv(csv).flat()) {
        // OWASP, "CSV Injection" (owasp.org/www-community/attacks/CSV_Injection): = + - @, tab, carriage return, line feed.
        if (field !== null && !Number.isFinite(Number(field))) expect(field).not.toMatch(/^[=+\-@\t\r\n]/);
      }
      // Quoted fields out of the way, nothing is left to split at.
      expect(csv.replaceAll(/"(?:[^"]|"")*"/g, '')).not.toMatch(/[;\t]/);
    }
  });

  test('keeps negative numbers, leaves unknown figures empty and writes yes and no as words', () => {
    const [pairing] = run.result.pairings;
    const hours = { ...pairing!.life.hours, p10: -1.5, p90: null };
    const changed = { ...pairing!, life: { ...pairing!.life, hours } };
    const [heading, row] = parseCsv(pairingsCsv({ ...run.result, pairings: [changed] }));
    expect(row![heading!.indexOf('life_hours_p10')]).toBe('-1.5');
    expect(row![heading!.indexOf('life_hours_p90')]).toBeNull();
    const flats = trialsCsv(run.scenario, run.simulation, { columns: ['any_flat'] });
    expect(new Set(parseCsv(whole(flats)).flat())).toEqual(new Set(['any_flat', 'true', 'false']));
  });

  test('of many trials comes in pieces of whole lines that can be written one after the other', () =>
    inFolder(async (folder) => {
      const { scenario, simulation } = await runShipped('first.json', 800);
      const pieces = trialsCsv(scenario, simulation, { columns: ['setup', 'trial_number', 'life_hours'] });
      const texts = [...pieces];
      expect(texts.length).toBeGreaterThan(3);
      for (const text of texts) expect(text).toMatch(/\n$/);
      const file = join(folder, 'trials.csv');
      await writeFile(file, pieces);
      expect(readFileSync(file, 'utf8')).toBe(texts.join(''));
      expect(parseCsv(texts.join(''))).toHaveLength(1 + 2 * 800);
    }));
});

/** CSV does not tell an empty text from a missing one. */
function withEmptyText(rows: readonly Record<string, Cell>[]): Record<string, Cell>[] {
  return rows.map((row) =>
    Object.fromEntries(Object.entries(row).map(([name, cell]) => [name, cell === '' ? null : cell])),
  );
}
