import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import {
  logbookJsonSchema,
  parseLogbook,
  readLogbook,
  readScenario,
  RECORD_TABLES,
  RecordsError,
  recordsSummary,
  recordsText,
  type ColumnSpec,
} from '../../lib/index.js';
import { END_EXAMPLES } from '../../lib/calibrate/end-examples.js';
import { fileKind } from '../../lib/calibrate/logbook-kind.js';
import { readCell, readUnit } from '../../lib/calibrate/read-cell.js';
import { starterLog } from '../../lib/calibrate/starter-log.js';
import { headerOf } from '../../lib/calibrate/table-columns.js';
import { recordsPage } from '../../lib/present/records-page.js';
import { shipped } from '../support/command.js';
import { DESCRIPTION, readSmall, SCENARIO, SMALL } from './small-log.js';

type JsonObject = Record<string, unknown>;

const schema = logbookJsonSchema();
const validate = new Ajv2020({ strict: true }).compile(schema);
const json = (name: string): JsonObject => JSON.parse(readFileSync(shipped(name), 'utf8')) as JsonObject;
const first = readScenario(shipped('first.json')).scenario;

const COLUMNS: readonly (readonly [table: string, name: string, spec: ColumnSpec])[] = Object.entries(
  RECORD_TABLES,
).flatMap(([table, columns]) =>
  Object.entries<ColumnSpec>(columns).map(([name, spec]) => [table, name, spec] as const),
);

/** True if the library reads the small log with a description laid over its own. */
function reads(description: JsonObject): boolean {
  try {
    readSmall({}, description);
    return true;
  } catch (error) {
    if (error instanceof RecordsError) return false;
    throw error;
  }
}

describe('the published JSON Schema of logs', () => {
  test('is the one in the scenarios folder', () => {
    expect(readFileSync(shipped('logbook.schema.json'), 'utf8')).toBe(`${JSON.stringify(schema, null, 2)}\n`);
    expect(schema['$schema']).toBe('https://json-schema.org/draft/2020-12/schema');
  });

  test.each(['logbook/logbook.json', 'own-columns/logbook.json'])('accepts %s', (name) => {
    expect(validate(json(name)), JSON.stringify(validate.errors)).toBe(true);
  });

  test('knows every column of every table, and describes every key', () => {
    const tables = schema['properties'] as Record<string, { properties: Record<string, JsonObject> }>;
    for (const [table, name, { description }] of COLUMNS) {
      for (const part of ['columns', 'always']) {
        const members = tables[table]!.properties[part]!['properties'] as Record<string, JsonObject>;
        expect(members[name]!['description'], `${table}.${part}.${name}`).toBe(description);
      }
    }
    const undescribed: string[] = [];
    const visit = (part: unknown, place: string): void => {
      if (typeof part !== 'object' || part === null) return;
      const { properties } = part as { readonly properties?: Readonly<Record<string, JsonObject>> };
      for (const [name, member] of Object.entries(properties ?? {})) {
        if (member['description'] === undefined && member['$ref'] === undefined)
          undescribed.push(`${place}.${name}`);
      }
      for (const [key, member] of Object.entries(part)) visit(member, `${place}.${key}`);
    };
    visit(schema['properties'], '');
    expect(undescribed).toEqual([]);
  });

  const cuts = { file: 'cuts.csv' };
  const CASES: readonly (readonly [what: string, description: JsonObject, right: boolean])[] = [
    ['the small log', {}, true],
    ['spread periods', { spreadPeriods: true }, true],
    ['a column mapped', { cuts: { ...cuts, columns: { depth: 'depth [mm]' } } }, true],
    [
      'a column with a unit',
      { cuts: { ...cuts, columns: { depth: { header: 'depth [mm]', unit: 'cm' } } } },
      true,
    ],
    ['words', { words: { strip: { X: 'meadow' } } }, true],
    ['no first day', { firstDay: undefined }, false],
    ['a day in another form', { lastDay: '1.7.2024' }, false],
    ['an unknown key', { tyres: { file: 'tires.csv' } }, false],
    ['an unknown column mapped', { cuts: { ...cuts, columns: { width: 'depth [mm]' } } }, false],
    ['an unknown column always there', { cuts: { ...cuts, always: { width: '3 mm' } } }, false],
    ['a number always the same', { tires: { file: 'tires.csv', always: { 'hours before': '0 h' } } }, true],
    ['one without its unit', { tires: { file: 'tires.csv', always: { 'hours before': '0' } } }, false],
    ['words of a column of numbers', { words: { depth: { deep: '5' } } }, false],
    ['an unknown delimiter', { cuts: { ...cuts, delimiter: '|' } }, false],
    ['a table without a file', { cuts: { ignore: [] } }, false],
    ['a name that is a number', { name: 7 }, false],
  ];
  test.each(CASES)('%s: says the same as the library', (_, description, right) => {
    expect(validate(JSON.parse(JSON.stringify({ ...DESCRIPTION, ...description })))).toBe(right);
    expect(reads(description)).toBe(right);
  });
});

test.each([
  ['tires', 'count', '1.5', /expected a whole number/],
  ['tires', 'hours before', '-3 h', /expected 0 h to 100000 h/],
  ['flights', 'airframe hours', '900 years', /expected/],
])('%s: a value that is always the same, %s %s, keeps to its range', (table, column, value, told) => {
  expect(() => readSmall({}, { [table]: { file: `${table}.csv`, always: { [column]: value } } })).toThrow(
    told,
  );
});

describe('the reference page of records', () => {
  const page = recordsPage();

  test('is the one in the scenarios folder', () => {
    expect(readFileSync(shipped('RECORDS.md'), 'utf8')).toBe(page);
  });

  test('tells every column with its meaning, and every field of the file', () => {
    for (const [table, name, { description }] of COLUMNS) {
      const section = page.slice(page.indexOf(`\n### ${table}\n`)).split(/\n##+ /)[1]!;
      expect(section.includes(`| \`${name}\` |`) && section.includes(description), `${table}.${name}`).toBe(
        true,
      );
    }
    for (const field of Object.keys(schema['properties'] as object))
      expect(page).toContain(`| \`${field}\` |`);
  });

  test('has tables whose rows are as long as their headings', () => {
    for (const block of page.split('\n\n').filter((each) => each.startsWith('|'))) {
      const cells = block
        .trimEnd()
        .split('\n')
        .map((row) => row.split(/(?<!\\)\|/).length);
      expect(new Set(cells).size).toBe(1);
    }
  });

  test.each(COLUMNS)('%s.%s: its example is a cell that is read', (_, name, spec) => {
    const unit = spec.exampleUnit === undefined ? null : readUnit(spec.exampleUnit, spec);
    expect(unit === null).toBe(spec.exampleUnit === undefined);
    expect(readCell(spec.example, spec, unit, '.', new Map())).toMatchObject({ ok: true });
    expect(page).toContain(`\`${headerOf(name, spec)}\`: \`${spec.example}\``);
  });

  test('its rows of ends are read as the kinds it says', () => {
    const columns = [
      'tire',
      'fitted',
      'removed',
      'removed after',
      'removed by',
      'last seen',
      'cause',
    ] as const;
    const rows = END_EXAMPLES.map(
      ({ cells }, index) =>
        `${columns.map((column) => cells[column] ?? '').join(',')},A${index},left main,soft`,
    );
    const log = parseLogbook(
      JSON.stringify({
        name: 'ends',
        firstDay: '2024-05-01',
        lastDay: '2024-08-31',
        tires: { file: 't' },
        flights: { file: 'f' },
      }),
      {
        t: `${columns.join(',')},airplane,position,setup\n${rows.join('\n')}\n`,
        f: `airplane,date,landings\n${rows.map((_, index) => `A${index},2024-05-03,5`).join('\n')}\n`,
      },
      { scenario: SCENARIO },
    );
    expect(log.tires.map(({ end }) => end.kind)).toEqual(END_EXAMPLES.map(({ kind }) => kind));
    expect(new Set(END_EXAMPLES.map(({ kind }) => kind)).size).toBe(4);
    expect(log.tires.flatMap(({ end }) => (end.kind === 'right' ? [end.reason] : []))).toEqual([
      'in service',
      'in service',
      'sound',
    ]);
  });
});

describe('a log to start from', () => {
  const { 'logbook.json': description, ...tables } = starterLog();

  test('is read without a remark, names set-ups and strips of the starter scenario, and is called an example', () => {
    expect(validate(JSON.parse(description!)), JSON.stringify(validate.errors)).toBe(true);
    const log = parseLogbook(description!, tables, { scenario: first });
    expect(log.remarks).toEqual([]);
    expect(log.note).toContain('invented');
    expect(log.tires.map(({ id }) => id)).toEqual(['EXAMPLE-1', 'EXAMPLE-2']);
    for (const table of ['readings', 'flights', 'pressureChecks', 'cuts'] as const) {
      expect(log[table].length, table).toBeGreaterThan(0);
    }
  });

  test('has units in all headers that need one, and required columns all', () => {
    for (const [table, name, spec] of COLUMNS) {
      const header = tables[`${table}.csv`]!.split('\n')[0]!.split(',');
      if (spec.required) expect(header, `${table}.${name}`).toContain(headerOf(name, spec));
    }
    expect(tables['readings.csv']).toContain('groove [mm]');
    expect(tables['pressure.csv']).toContain('found [psi]');
  });
});

describe('what a log holds', () => {
  const log = readLogbook(join(shipped('logbook'), 'logbook.json'));

  test('adds up', () => {
    const summary = recordsSummary(log);
    const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
    expect(summary.tires).toBe(sum(log.tires.map(({ count }) => count)));
    expect(sum(summary.ends.map(({ tires }) => tires))).toBe(summary.tires);
    expect(sum(summary.equipment.map(({ mainTires, thirdTires }) => mainTires + thirdTires))).toBe(
      summary.tires,
    );
    expect(sum(summary.equipment.map(({ mainTires }) => mainTires))).toBe(summary.mainTires);
    expect(sum(summary.flights.places.map(({ landings }) => landings))).toBe(summary.flights.landings);
    expect(sum(Object.values(summary.readings.byBand))).toBe(log.readings.length);
    expect(summary.airplanes).toHaveLength(12);
    expect(summary.takenUpUsed).toBe(log.tires.filter(({ landingsBefore }) => landingsBefore > 0).length);
  });

  test('is told in lines of at most 100 columns, with names that are long or hostile', () => {
    const tires = SMALL['tires.csv']!.replaceAll(',soft,', `,${'a long set-up '.repeat(6)}\u001b[31m,`);
    const text = recordsText(readSmall({ 'tires.csv': tires }, {}, null), 'x'.repeat(150));
    for (const each of [text, recordsText(log, null)]) {
      expect(each.split('\n').filter((line) => line.length > 100)).toEqual([]);
      expect(each).not.toContain('\u001b');
    }
    expect(recordsText(log, null)).toContain('Names of set-ups');
  });

  test('tells remarks with their place', () => {
    const flights = SMALL['flights.csv']!.replaceAll('valley gravel', '');
    expect(recordsText(readSmall({ 'flights.csv': flights }), 'small')).toMatch(
      /1 remark, all rows were read:\n\s+flights\.csv:3 {2}strip: 6 landings in 2 rows with neither strip nor surface/,
    );
  });
});

describe('a log and a scenario', () => {
  test('are told apart by what they say', () => {
    expect(fileKind(shipped('logbook/logbook.json'))).toBe('log');
    expect(fileKind(shipped('own-columns/logbook.json'))).toBe('log');
    for (const name of ['first.json', 'defaults.json', 'logbook/fleet.json', 'two-gear-sets.json']) {
      expect(fileKind(shipped(name)), name).toBe('scenario');
    }
    expect(fileKind(shipped('logbook/tires.csv'))).toBeNull();
    expect(fileKind(shipped('none.json'))).toBeNull();
  });
});

describe('rows with the same wrong', () => {
  const head = 'tire,airplane,position,setup,fitted\n';
  const rows = (setups: readonly string[]): string =>
    head + setups.map((setup, index) => `T${index},A${index},left main,${setup},2024-05-01\n`).join('');
  const refused = (setups: readonly string[]): RecordsError => {
    try {
      readSmall({ 'tires.csv': rows(setups) });
    } catch (error) {
      if (error instanceof RecordsError) return error;
      throw error;
    }
    throw new Error('nothing was refused');
  };

  test('are told once, with the lines of all of them, and stay apart in the list', () => {
    const setups = Array.from({ length: 60 }, (_, index) => (index % 20 === 7 ? 'soft' : 'sotf'));
    const error = refused(setups);
    expect(error.problems).toHaveLength(58);
    const lines = error.message.split('\n');
    expect(lines).toHaveLength(4);
    expect(lines[0]).toBe('58 problems in tires.csv');
    expect(lines[1]).toContain('2  setup: found "sotf"; expected the name of a set-up');
    expect(lines[2]!.trim()).toBe('the same in 56 more rows: lines 3 to 8, 10 to 28, 30 to 48, 50 to 61');
  });

  test('are counted where their lines are too many to name', () => {
    const setups = Array.from({ length: 200 }, (_, index) => (index % 2 === 0 ? 'sotf' : 'soft'));
    const line = refused(setups).message.split('\n')[2]!;
    expect(line).toMatch(/the same in 99 more rows: lines 4, 6, 8, .*, 50 and 75 more up to line 200$/);
  });

  test('another wrong stands alone', () => {
    const { message } = refused(['sotf', 'sfot', 'sotf']);
    expect(
      message
        .split('\n')
        .slice(1, 4)
        .map((line) => line.trim().slice(0, 30)),
    ).toEqual([
      '2  setup: found "sotf"; expect',
      'the same in 1 more row: line 4',
      '3  setup: found "sfot"; expect',
    ]);
  });
});
