import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import {
  compileScenario,
  parseScenario,
  readLogbook,
  readScenario,
  RecordsError,
  ScenarioError,
  type Problem,
} from '../../lib/index.js';
import { columnUnits, likelyUnit, properFraction } from '../../lib/calibrate/unit-words.js';
import { planRecords, type RecordHabits } from '../../lib/calibrate/likelihood-plan.js';
import { RECORD_TABLES, type ColumnSpec } from '../../lib/calibrate/table-columns.js';
import { logHint } from '../../lib/cli/log-hint.js';
import { shipped } from '../support/command.js';
import { changed, readSmall, SCENARIO, SMALL } from './small-log.js';

/** Every problem of a log as a line, with its place. */
function linesOf(work: () => unknown): string[] {
  try {
    work();
  } catch (error) {
    expect(error).toBeInstanceOf(RecordsError);
    return (error as RecordsError).problems.map(lineOf);
  }
  throw new Error('nothing was refused');
}

function lineOf({ file, line, path, found, allowed, suggestion }: Problem): string {
  return `${file ?? ''}:${line ?? ''} ${path}: ${found}; ${allowed}${suggestion === undefined ? '' : `; ${suggestion}`}`;
}

const IN_32NDS = { file: 'readings.csv', columns: { groove: { header: '32nds', unit: '1/32 in' } } };
const readings32 = (rows: string): Record<string, string> => ({
  'readings.csv': `tire,date,band,32nds\n${rows}\n`,
});
const spec = (table: keyof typeof RECORD_TABLES, column: string): ColumnSpec =>
  (RECORD_TABLES[table] as Readonly<Record<string, ColumnSpec>>)[column]!;

describe('units', () => {
  test('a unit of the mapping that is not known is told at its place, with what is allowed and what was meant', () => {
    const columns = { groove: { header: '32nds', unit: '32nds of an inch' } };
    const told = linesOf(() =>
      readSmall(readings32('L1,2024-05-01,centre,3'), { readings: { file: 'readings.csv', columns } }),
    );
    expect(told).toHaveLength(1);
    expect(told[0]).toMatch(/^log\.json:\d+ readings\.columns\.groove\.unit: "32nds of an inch"; /);
    expect(told[0]).toContain(
      'that unit is not known: expected "in", "mm", "cm", "m", "ft", "km", "NM", "mi", "um", "1/32 in" or "1/64 in"; did you mean "1/32 in"?',
    );
  });

  test('a header that is not there does not hide a unit that is not known', () => {
    const columns = { hours: { header: 'Hrs', unit: 'hrs' } };
    const told = linesOf(() => readSmall({}, { flights: { file: 'flights.csv', columns } }));
    expect(told.map((line) => line.replace(/^log\.json:\d+ /, '').split(';')[0])).toEqual([
      'flights.columns.hours: "Hrs"',
      'flights.columns.hours.unit: "hrs"',
    ]);
    expect(told.join('\n')).toContain('did you mean "h"?');
  });

  test.each([
    ['readings', 'groove', '32nds', '1/32 in'],
    ['readings', 'groove', 'thirty-seconds', '1/32 in'],
    ['readings', 'step', '64ths', '1/64 in'],
    ['readings', 'groove', 'inches', 'in'],
    ['readings', 'groove', 'Millimeters', 'mm'],
    ['flights', 'hours', 'hrs', 'h'],
    ['flights', 'hours', 'Hour', 'h'],
    ['pressure', 'temperature', 'F', 'degF'],
    ['pressure', 'temperature', 'deg C', 'degC'],
    ['pressure', 'found', 'PSI', 'psi'],
    ['pressure', 'found', 'psii', 'psi'],
    ['pressure', 'elevation', '32', null],
    ['pressure', 'found', 'F', null],
  ] as const)('%s, %s: "%s" likely means %j', (table, column, text, meant) => {
    expect(likelyUnit(text, spec(table, column))).toBe(meant);
    if (meant !== null) expect(columnUnits(spec(table, column))).toContain(meant);
  });

  test.each([
    ['0.5/32 in', '1/64 in'],
    ['0.25/32', '1/128'],
    ['1.5/32 in', '3/64 in'],
    ['1/32 in', null],
    ['0.0/32 in', null],
    ['0.5/0 in', null],
    ['0.5/32.5 in', null],
    ['0.5 in', null],
  ])('%s as a proper fraction is %j', (text, proper) => {
    expect(properFraction(text)).toBe(proper);
  });

  test('half a 32nd as a step is told how to be written', () => {
    const always = { step: '0.5/32 in' };
    const told = linesOf(() =>
      readSmall(readings32('L1,2024-05-01,centre,3'), { readings: { ...IN_32NDS, always } }),
    );
    expect(told).toEqual([
      expect.stringMatching(/readings\.always\.step: "0\.5\/32 in"; .*; write "1\/64 in"$/),
    ]);
    const right = { ...IN_32NDS, always: { step: '1/64 in' } };
    const [reading] = readSmall(readings32('L1,2024-05-01,centre,3'), { readings: right }).readings;
    expect(reading!.stepM).toBeCloseTo(0.0254 / 64, 12);
  });

  test.each([
    ['3/32', 'write 3, or give the column the unit "in"'],
    ['3/64', 'write a decimal number, or give the column the unit "in"'],
    ['1 1/2', 'write a decimal number, or give the column the unit "in"'],
  ])('%s in a column of 32nds is refused', (cell, hint) => {
    const told = linesOf(() => readSmall(readings32(`L1,2024-05-01,centre,${cell}`), { readings: IN_32NDS }));
    expect(told).toEqual([
      `readings.csv:2 32nds: "${cell}"; expected a number of 1/32 in, not a fraction; ${hint}`,
    ]);
  });
});

describe('growth of tread', () => {
  const growing = (error: string): ReturnType<typeof readSmall> =>
    readSmall(readings32('R1,2024-05-01,centre,2\nR1,2024-06-01,centre,3.5'), {
      readings: { ...IN_32NDS, always: { error } },
    });

  test('beyond five standard errors is refused, with the cells as written', () => {
    // 1.5/32 in is 1.19 mm; five standard errors of the difference are 0.71 mm.
    expect(linesOf(() => growing('0.1 mm'))).toEqual([
      'readings.csv:3 groove: "3.5" (2.78 mm); expected at most 2.29 mm: "2" (1.59 mm) were read on 2024-05-01 (line 2), and tread does not grow',
    ]);
  });

  test('of two to five is remarked on', () => {
    // 1.19 mm over sqrt(2) x 0.3 mm.
    expect(growing('0.3 mm').remarks.map(lineOf)).toEqual([
      'readings.csv:3 groove: "3.5" (2.78 mm) after "2" (1.59 mm) on 2024-05-01 (line 2); it seems to grow, by 2.8 standard errors: look whether the tire, the spot and the number are right',
    ]);
  });

  test('of less than two is not', () => {
    expect(growing('0.5 mm').remarks).toEqual([]);
  });

  test('counts the others with their lines', () => {
    const text = [
      'tire,date,band,groove [mm]',
      ...['L1', 'R1', 'N1'].flatMap((tire, at) => [
        `${tire},2024-05-01,centre,1`,
        `${tire},2024-06-01,centre,${2 + at / 10}`,
      ]),
    ].join('\n');
    const always = { error: '0.3 mm' };
    const [remark] = readSmall(
      { 'readings.csv': text },
      { readings: { file: 'readings.csv', always } },
    ).remarks;
    expect(remark).toMatchObject({ line: 7, found: '2.2 mm after 1 mm on 2024-05-01 (line 6)' });
    expect(remark!.allowed).toContain(
      'so do 2 more of 3 pairs of readings (by chance about 1 or fewer), lines 3, 5',
    );
  });

  const UNSTATED = SMALL['readings.csv']!.replaceAll(/,0\.1,0\.1$/gm, '').replace(
    ',error [mm],step [mm]',
    '',
  );

  test('without a stated error tells which one is assumed and what it hides, in the check and in the fit', () => {
    // Five times sqrt(2) times 0.4 mm.
    const log = readSmall({ 'readings.csv': UNSTATED });
    expect(log.remarks.map(lineOf)).toEqual([
      'readings.csv:2 error: gauge error not stated; 0.4 mm is assumed (standard deviation): growth of tread below 2.8 mm is not seen as a mistake',
    ]);
    const habits: RecordHabits = {
      grooveErrorM: 0.0005,
      grooveStepM: 0.0001,
      newGrooveSpreadM: 0.0001,
      mix: undefined,
      heldOut: new Set<string>(),
    };
    const plan = planRecords(compileScenario(SCENARIO), log, habits);
    expect(plan.remarks).toContain(
      '4 readings state no gauge error: 0.5 mm is assumed (standard deviation), and growth of tread below 2.8 mm was not seen as a mistake',
    );
    expect(planRecords(compileScenario(SCENARIO), readSmall(), habits).remarks.join()).not.toContain(
      'gauge error',
    );
  });

  test('of some readings only: they are counted', () => {
    const log = readSmall(changed('readings.csv', 'centre,1.8,0.1,', 'centre,1.8,,'));
    expect(log.remarks.map(({ line, found }) => [line, found])).toEqual([
      [5, 'gauge error not stated for 1 of 4 readings'],
    ]);
  });
});

describe('a tire taken off as worn', () => {
  const last = (groove: number): Record<string, string> =>
    changed('readings.csv', 'worst spot,1.2', `worst spot,${groove}`);
  const all = (groove: number): Record<string, string> => ({
    'readings.csv': last(groove)['readings.csv']!.replace('centre,1.5', `centre,${groove}`),
  });

  test('with much groove left is remarked on', () => {
    expect(readSmall(all(2.4)).remarks.map(lineOf)).toEqual([
      'tires.csv:2 cause: taken off as worn with 2.4 mm of groove read on 2024-06-01 (readings.csv, line 4); in the scenario a tire is worn when no groove is left: look whether cause, tire and reading are right',
    ]);
  });

  test('that may have worn since is not', () => {
    // 1.2 mm left after 1.8 mm in 9 landings, and 5 more landings.
    expect(readSmall().remarks).toEqual([]);
  });

  test('is held against the limit of the scenario', () => {
    const limited = (treadLimit: string, removeAt: string): typeof SCENARIO =>
      parseScenario(
        JSON.stringify({
          name: 'small',
          setups: {
            soft: {
              mainTire: 'soft 29',
              mainPressure: '9 psi',
              thirdTire: 'nose 8.50-6',
              thirdPressure: '18 psi',
            },
          },
          mixes: { home: { 'home pavement': '100 %' } },
          habits: { treadLimit, removeAt },
        }),
      ).scenario;
    expect(readSmall(all(2.4), {}, limited('2 mm', 'tread limit')).remarks).toEqual([]);
    const [remark] = readSmall(all(2.4), {}, limited('0.5 mm', 'tread limit')).remarks;
    expect(remark!.allowed).toContain('worn when the groove is down to 0.5 mm');
    expect(readSmall(all(2.4), {}, limited('2 mm', 'cords')).remarks).toHaveLength(1);
  });

  test('of no known limit, or for another cause, is not', () => {
    expect(readSmall(all(2.4), {}, null).remarks).toEqual([]);
    expect(readSmall({ ...all(2.4), ...changed('tires.csv', 'worn', 'cut') }).remarks).toEqual([]);
  });
});

describe('one pass', () => {
  test('tells the cells of all tables although no tire can be read', () => {
    const files = {
      ...changed('tires.csv', 'tire,airplane', 'tag,airplane'),
      ...changed('readings.csv', 'R1,2024-06-01', 'R1,2025-06-01'),
      ...changed('flights.csv', 'home pavement,3', 'home pavment,3'),
      ...changed('pressure.csv', 'mine,nose,2024-05-20,17', 'mine,nose,2024-05-20,x'),
      ...changed('cuts.csv', '2.5,tread', '2.5,middle'),
    };
    const places = linesOf(() => readSmall(files)).map((line) => line.split(';')[0]);
    expect(places).toEqual([
      'tires.csv:1 tire: no such column',
      'tires.csv:1 tag: a column that is not known',
      'pressure.csv:3 found [psi]: "x"',
      'cuts.csv:2 place: "middle"',
      'flights.csv:2 strip: "home pavment"',
      'readings.csv:5 date: 2025-06-01',
      'tires.csv: : tires that could not be read',
    ]);
  });

  test('tells the cells of a table of which a column is missing, and the days of the log', () => {
    const files = {
      'readings.csv': 'tire,date,band\nL1,2024-05-01,middle\n',
    };
    expect(
      linesOf(() => readSmall(files, { lastDay: '1.7.2024' })).map((line) => line.split(';')[0]),
    ).toEqual([
      expect.stringMatching(/^log\.json:\d+ lastDay: "1\.7\.2024"$/),
      'readings.csv:1 groove: no such column',
      'readings.csv:2 band: "middle"',
    ]);
  });

  test('says nothing of a meter where a row between could not be read', () => {
    const rows = ['10,2,1.5,100', '11,x,1.5,101.5', '12,2,1.5,103'].map((row) => `mine,2024-05-${row}`);
    const text = `airplane,date,landings,hours [h],airframe hours [h]\n${rows.join('\n')}\n`;
    expect(linesOf(() => readSmall({ 'flights.csv': text }))).toEqual([
      expect.stringContaining('flights.csv:3 landings: "x"'),
    ]);
  });
});

describe('a log given for a scenario', () => {
  const errorOf = (file: string): ScenarioError => {
    try {
      readScenario(file);
    } catch (error) {
      if (error instanceof ScenarioError) return error;
    }
    throw new Error('nothing was refused');
  };

  test('is called one', () => {
    expect(logHint(errorOf(shipped(join('logbook', 'logbook.json'))))).toMatch(
      /logbook\.json is a log of tires, not a scenario: "gravelbar check", "lives" and "fit" read it$/,
    );
  });

  test('other mistakes are not', () => {
    expect(logHint(errorOf(shipped(join('logbook', 'truth.json'))))).toBeNull();
    expect(logHint(errorOf('none.json'))).toBeNull();
    expect(logHint(new RecordsError([{ path: '', found: 'x', allowed: 'y' }]))).toBeNull();
  });
});

test.skipIf(process.platform === 'win32')('a device without an end is not read to its end', () => {
  expect(logHint(new ScenarioError([{ file: '/dev/zero', path: '', found: '', allowed: '' }]))).toBeNull();
  expect(linesOf(() => readLogbook('/dev/zero'))).toEqual([
    '/dev/zero: : a longer file; expected a file of at most 64000000 bytes',
  ]);
});
