import { describe, expect, test } from 'vitest';
import { RecordsError, ScenarioError, type Problem } from '../../lib/index.js';
import { changed, readSmall, SMALL } from './small-log.js';

function problemsOf(work: () => unknown): readonly Problem[] {
  try {
    work();
  } catch (error) {
    expect(error).toBeInstanceOf(RecordsError);
    expect(error).toBeInstanceOf(ScenarioError);
    return (error as RecordsError).problems;
  }
  throw new Error('nothing was refused');
}

/** One problem as a line: place, what was found, what is allowed, what to do. */
function lineOf({ file, line, path, found, allowed, suggestion }: Problem): string {
  return `${file ?? ''}:${line ?? ''} ${path}: ${found}; ${allowed}${suggestion === undefined ? '' : `; ${suggestion}`}`;
}

const CELLS: readonly (readonly [what: string, file: string, piece: string, by: string, told: string])[] = [
  [
    'a date that is none',
    'tires.csv',
    '2024-06-20,worn',
    '2024-06-31,worn',
    'tires.csv:2 removed: "2024-06-31"; expected a date such as 2024-05-31',
  ],
  [
    'a date in another form',
    'tires.csv',
    '2024-06-20,worn',
    '20.06.2024,worn',
    'tires.csv:2 removed: "20.06.2024"; expected a date such as 2024-05-31; did you mean 2024-06-20?',
  ],
  [
    'a date that could be two',
    'tires.csv',
    '2024-06-20,worn',
    '06/07/2024,worn',
    'tires.csv:2 removed: "06/07/2024"; expected a date such as 2024-05-31',
  ],
  [
    'an unknown cause',
    'tires.csv',
    'worn',
    'wron',
    'tires.csv:2 cause: "wron"; expected "in service", "worn", "cut", "puncture", "pressure", "age" or "sound"; did you mean "worn"?',
  ],
  [
    'a missing cell',
    'tires.csv',
    'L1,mine,left main',
    'L1,,left main',
    'tires.csv:2 airplane: a blank cell; expected a name',
  ],
  [
    'a word for nothing',
    'readings.csv',
    '1.8,0.1,0.1',
    '1.8,n/a,0.1',
    'readings.csv:5 error [mm]: "n/a"; expected a number of mm; leave the cell blank where nothing is known',
  ],
  [
    'a unit in the cell',
    'readings.csv',
    '1.8,0.1',
    '1.8 mm,0.1',
    'readings.csv:5 groove [mm]: "1.8 mm"; expected a number of mm; write the number alone: the unit stands in the header',
  ],
  [
    'a decimal comma',
    'readings.csv',
    '1.8,0.1',
    '"1,8",0.1',
    'readings.csv:5 groove [mm]: "1,8"; expected a number of mm; write a decimal point, or set "decimal": "," for this table',
  ],
  [
    'too deep a groove',
    'readings.csv',
    '1.8,0.1',
    '180,0.1',
    'readings.csv:5 groove [mm]: "180"; expected 0 mm to 25 mm; the header says mm: was it 180 um?',
  ],
  [
    'part of a landing',
    'flights.csv',
    'pavement,3',
    'pavement,2.5',
    'flights.csv:2 landings: "2.5"; expected a whole number',
  ],
  [
    'a negative number',
    'flights.csv',
    'pavement,3',
    'pavement,-3',
    'flights.csv:2 landings: "-3"; expected 0 to 100000',
  ],
  [
    'a cell too many',
    'cuts.csv',
    '2.5,tread',
    '2.5,tread,deep',
    'cuts.csv:2 : 5 cells; expected 4, as many as the header',
  ],
  [
    'a quote that is not closed',
    'cuts.csv',
    '2.5,tread',
    '2.5,"tread',
    'cuts.csv:2 : a quote out of place; expected cells as CSV writes them: quotes doubled within quotes, and closed',
  ],
];

const LINKS: readonly (readonly [what: string, file: string, piece: string, by: string, told: string])[] = [
  [
    'a tire twice',
    'tires.csv',
    'L2,',
    'L1,',
    'tires.csv:3 tire: the tire of line 2 again; expected each tire once; give a tire that was fitted a second time another name, with its landings before',
  ],
  [
    'two tires on a wheel',
    'tires.csv',
    'soft,2024-06-20',
    'soft,2024-06-19',
    'tires.csv:3 fitted: 2024-06-19; tire L1 is on that wheel up to 2024-06-20 (line 2)',
  ],
  [
    'off before it was on',
    'tires.csv',
    '2024-06-20,worn',
    '2024-04-20,worn',
    'tires.csv:2 removed: 2024-04-20; expected a day from 2024-05-01 on, when it was fitted',
  ],
  [
    'off after the end of the log',
    'tires.csv',
    '2024-06-20,worn',
    '2025-06-20,worn',
    'tires.csv:2 removed: 2025-06-20; expected a day up to the end of the log, 2024-07-01',
  ],
  [
    'fitted before the log',
    'tires.csv',
    'soft,2024-05-01,2024-06-20',
    'soft,2024-04-01,2024-06-20',
    'tires.csv:2 fitted: 2024-04-01; expected a day of the log, from 2024-05-01 on: its flights before are not in it; write the first day of the log, and under "landings before" what it had done by then',
  ],
  [
    'no cause',
    'tires.csv',
    ',worn',
    ',',
    'tires.csv:2 cause: a blank cell; expected why it came off: "worn", "cut", "puncture", "pressure", "age" or "sound"',
  ],
  [
    'a cause without a day',
    'tires.csv',
    '2024-06-20,worn',
    ',worn',
    'tires.csv:2 cause: "worn"; expected a blank cell, as there is no day on which it came off',
  ],
  [
    'an unknown set-up',
    'tires.csv',
    'L2,mine,left main,soft',
    'L2,mine,left main,sotf',
    'tires.csv:3 setup: "sotf"; expected the name of a set-up of the scenario: "soft"; did you mean "soft"?',
  ],
  [
    'the other third wheel',
    'tires.csv',
    'nose',
    'tail',
    'tires.csv:5 position: "tail"; the airplane of the scenario has a nose wheel; did you mean "nose"?',
  ],
  [
    'a reading of no tire',
    'readings.csv',
    'R1,',
    'R2,',
    'readings.csv:5 tire: "R2"; expected the name of a tire of the log; did you mean "L2"?',
  ],
  [
    'a reading when it was off',
    'readings.csv',
    'L1,2024-06-01,worst',
    'L1,2024-06-21,worst',
    'readings.csv:4 date: 2024-06-21; expected a day from 2024-05-01 to 2024-06-20, when tire L1 was fitted',
  ],
  [
    'a reading in the future',
    'readings.csv',
    'R1,2024-06-01',
    'R1,2024-07-02',
    'readings.csv:5 date: 2024-07-02; expected a day of the log, 2024-05-01 to 2024-07-01',
  ],
  [
    'a reading twice',
    'readings.csv',
    'worst spot',
    'centre',
    'readings.csv:4 band: a reading that line 3 has already; expected one reading per tire, day and band; number repeated readings in a column "repeat"',
  ],
  [
    'tread that grows',
    'readings.csv',
    'L1,2024-05-01,centre,3.0',
    'L1,2024-05-01,centre,0.5',
    'readings.csv:3 groove: 1.5 mm; expected at most 1.24 mm: 0.5 mm were read on 2024-05-01 (line 2), and tread does not grow',
  ],
  [
    'a groove deeper than new',
    'readings.csv',
    'R1,2024-06-01,centre,1.8',
    'R1,2024-06-01,centre,18',
    'readings.csv:5 groove: 18 mm; a new "soft 29" has 3 mm',
  ],
  [
    'flying of no airplane',
    'flights.csv',
    'mine,2024-05-03',
    'mien,2024-05-03',
    'flights.csv:2 airplane: "mien"; expected an airplane with tires in the log; did you mean "mine"?',
  ],
  [
    'an unknown strip',
    'flights.csv',
    'home pavement,3',
    'home pavment,3',
    'flights.csv:2 strip: "home pavment"; expected the name of a strip of the scenario: "home pavement", "valley gravel", "ridge rock", "meadow" or "river bar"; did you mean "home pavement"?',
  ],
  [
    'flights twice',
    'flights.csv',
    '2024-06-21,home',
    '2024-06-20,home',
    'flights.csv:6 date: 2024-06-20 on home pavement, as in line 5; expected one row per airplane, day and place; add the landings up in one row',
  ],
  [
    'a check twice',
    'pressure.csv',
    'mine,nose',
    'mine,left main',
    'pressure.csv:3 date: a check that line 2 has already; expected one check per tire and day: what was found first and set last',
  ],
  [
    'a check of a bare wheel',
    'pressure.csv',
    'mine,nose,2024-05-20',
    'mine,nose,',
    'pressure.csv:3 date: a blank cell; expected a date such as 2024-05-31',
  ],
  [
    'a check on the day of a change',
    'pressure.csv',
    'left main,2024-05-20',
    'left main,2024-06-20',
    'pressure.csv:2 position: 2 tires there on 2024-06-20; expected one tire on that wheel on that day; name the tire: one came off and one was fitted that day',
  ],
];

describe('every kind of bad row is named', () => {
  test.each([...CELLS, ...LINKS])('%s', (_, file, piece, by, told) => {
    expect(problemsOf(() => readSmall(changed(file, piece, by))).map(lineOf)).toEqual(
      // Where tires cannot be read, nothing is said of rows that name them.
      file === 'tires.csv' &&
        !told.includes(':3 tire') &&
        !told.includes('is on that wheel') &&
        !told.includes('fitted: 2024-04-01')
        ? [
            told,
            'tires.csv: : tires that could not be read; rows of the other tables are matched to tires once the rows above are right',
          ]
        : [told],
    );
  });

  test('a day’s work that cuts a row over several days in two', () => {
    const flights =
      'airplane,date,to date,landings,strip\nmine,2024-05-02,2024-06-10,9,home pavement\nmine,2024-06-11,2024-06-30,6,home pavement\n';
    expect(problemsOf(() => readSmall({ 'flights.csv': flights })).map(lineOf)).toEqual([
      'flights.csv:3 date: 2024-06-11 to 2024-06-30; a tire was last seen or taken off on 2024-06-20 (tires.csv, line 2): its landings before and after are not known; split the row after that day, or allow "spreadPeriods"',
      'flights.csv:2 date: 2024-05-02 to 2024-06-10; a tire was read on 2024-06-01 (readings.csv, line 3): its landings before and after are not known; split the row after that day, or allow "spreadPeriods"',
    ]);
    expect(readSmall({ 'flights.csv': flights }, { spreadPeriods: true }).flights).toHaveLength(2);
  });

  test('days that overlap in part', () => {
    const flights =
      'airplane,date,to date,landings\nmine,2024-05-02,2024-05-10,9\nmine,2024-05-10,2024-05-20,6\n';
    const told = problemsOf(() => readSmall({ 'flights.csv': flights }, { spreadPeriods: true })).map(lineOf);
    expect(told).toEqual([
      'flights.csv:3 date: 2024-05-10 to 2024-05-20; expected no days of 2024-05-02 to 2024-05-10 (line 2): landings may be counted twice',
    ]);
  });

  const metered = (hours: readonly number[]): string =>
    `airplane,date,landings,hours [h],airframe hours [h]\n${hours.map((at, i) => `mine,2024-05-${i + 10},2,1.5,${at}`).join('\n')}\n`;

  test.each([
    [
      [100, 101.5, 106],
      '106 h; the meter moved 4.5 h since 2024-05-11 (line 3) and the rows add to 1.5 h: flights are missing',
    ],
    [
      [100, 101.5, 101.6],
      '101.6 h; the meter moved 0.1 h since 2024-05-11 (line 3) and the rows add to 1.5 h: flights are told twice',
    ],
    [
      [100, 101.5, 99],
      '99 h; expected at least 101.5 h: the meter does not go back since 2024-05-11 (line 3)',
    ],
  ])('an hour meter at %j', (hours, told) => {
    const problems = problemsOf(() => readSmall({ 'flights.csv': metered(hours) }));
    expect(problems.map(lineOf)).toEqual([`flights.csv:4 airframe hours: ${told}`]);
  });

  test('an hour meter that agrees to its rounding', () => {
    expect(readSmall({ 'flights.csv': metered([100, 101.6, 103]) }).flights).toHaveLength(3);
  });

  test('a tire that failed without a landing', () => {
    const flights = changed(
      'flights.csv',
      'mine,2024-05-03,home pavement,3',
      'mine,2024-06-30,home pavement,3',
    );
    const files = {
      ...flights,
      ...changed('tires.csv', '2024-06-20,worn', '2024-05-10,cut'),
      'readings.csv': 'tire,date,band,groove [mm]\n',
    };
    const told = problemsOf(() =>
      readSmall({ ...files, 'pressure.csv': SMALL['pressure.csv']!.split('\n')[0]! }),
    );
    expect(told.map(lineOf)).toEqual([
      'tires.csv:2 removed: a tire that failed by 2024-05-10; expected landings of mine since 2024-05-01: there are none in the log; write "sound" as its cause if no landing ended it',
    ]);
  });
});

describe('columns', () => {
  test.each([
    [
      'no unit',
      { 'readings.csv': 'tire,date,band,groove\n' },
      {},
      /readings\.csv:1 groove: "groove"; expected a unit in the header, such as "groove \[in\]"/,
    ],
    [
      'a wrong unit',
      { 'readings.csv': 'tire,date,band,groove [psi]\n' },
      {},
      /readings\.csv:1 groove: "groove \[psi\]"; its unit "psi" is not known: expected .*"1\/32 in"/,
    ],
    [
      'a unit misspelt',
      { 'pressure.csv': 'tire,date,found [pis]\n' },
      {},
      /found: "found \[pis\]"; .*did you mean "psi"\?/,
    ],
    [
      'a column missing',
      { 'cuts.csv': 'tire,date\n' },
      {},
      /cuts\.csv:1 place: no such column; expected a column "place"/,
    ],
    [
      'a column unknown',
      { 'cuts.csv': 'tire,date,place,who\n' },
      {},
      /cuts\.csv:1 who: a column that is not known; .*name it under "columns" or "ignore"/,
    ],
    [
      'a column twice',
      { 'cuts.csv': 'tire,date,place,place\n' },
      {},
      /cuts\.csv:1 place: 2 columns; expected one column of that name/,
    ],
    [
      'another delimiter',
      { 'cuts.csv': 'tire;date;place\n' },
      {},
      /cuts\.csv:1 : "tire;date;place"; expected cells with "," between them; set "delimiter": ";" for this table/,
    ],
    [
      'a mapping to nothing',
      {},
      { cuts: { file: 'cuts.csv', columns: { depth: 'Depht' } } },
      /log\.json:\d+ cuts\.columns\.depth: "Depht"; expected a header of cuts\.csv/,
    ],
    [
      'a mapping of nothing',
      {},
      { cuts: { file: 'cuts.csv', columns: { dpeth: 'depth [mm]' } } },
      /log\.json:\d+ cuts\.columns\.dpeth: "dpeth"; .*did you mean "depth"\?/,
    ],
    [
      'a value for a column that is there',
      {},
      { cuts: { file: 'cuts.csv', always: { place: 'side' } } },
      /cuts\.always\.place: "side"; not with a column place in the file/,
    ],
    [
      'a value without its unit',
      {},
      { flights: { file: 'flights.csv', always: { 'airframe hours': '5' } } },
      /flights\.always\.airframe hours: "5"; needs a unit|flights\.always\.airframe hours: "5"; /,
    ],
    [
      'a file that is not there',
      {},
      { cuts: { file: 'cut.csv' } },
      /log\.json:\d+ cuts\.file: no such file; expected a file that can be read: cut\.csv; did you mean "cuts\.csv"\?/,
    ],
    [
      'words of no column',
      {},
      { words: { strp: { A: 'meadow' } } },
      /log\.json:\d+ words\.strp: "strp"; .*did you mean "strip"\?/,
    ],
    [
      'a log that ends before it begins',
      {},
      { lastDay: '2024-04-01' },
      /log\.json:\d+ lastDay: 2024-04-01; expected a day from 2024-05-01 on/,
    ],
    [
      'a day that is none',
      {},
      { firstDay: '1 May 2024' },
      /log\.json:\d+ firstDay: "1 May 2024"; expected a date/,
    ],
    [
      'a key that is none',
      {},
      { spreadPeriod: true },
      /log\.json:\d+ spreadPeriod: .*did you mean "spreadPeriods"\?/,
    ],
  ] as const)('%s', (_, files, description, told) => {
    const lines = problemsOf(() => readSmall(files, description)).map(lineOf);
    expect(lines.filter((line) => told.test(line))).toHaveLength(1);
  });
});

describe('all problems at once', () => {
  test('over all files, with the first forty in the message and the rest counted', () => {
    const rows = Array.from({ length: 60 }, (_, i) => `R1,2024-06-01,centre,${i}x`).join('\n');
    const files = {
      ...changed('flights.csv', 'pavement,3', 'pavement,three'),
      'readings.csv': `tire,date,band,groove [mm]\n${rows}\n`,
    };
    try {
      readSmall(files);
      throw new Error('nothing was refused');
    } catch (error) {
      const { problems, message } = error as RecordsError;
      expect(problems).toHaveLength(61);
      expect(message).toMatch(/^61 problems\n/);
      expect(message).toMatch(/\n {2}and 21 more$/);
      expect(problems.map(({ file }) => file)).toContain('flights.csv');
    }
  });
});
