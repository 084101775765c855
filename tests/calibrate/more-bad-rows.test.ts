/** Further kinds of bad row: each is told with its file, line and reason, and nothing is dropped in silence. */
import { describe, expect, test } from 'vitest';
import { parseLogbook, RecordsError, type Logbook } from '../../lib/index.js';
import { changed, DESCRIPTION, readSmall, SCENARIO, SMALL } from './small-log.js';

type Files = Readonly<Record<string, string>>;

function linesOf(work: () => unknown): string[] {
  try {
    work();
  } catch (error) {
    if (!(error instanceof RecordsError)) throw error;
    return error.problems.map(
      ({ file, line, path, found, allowed, suggestion }) =>
        `${file ?? ''}:${line ?? ''} ${path}: ${found}; ${allowed}${suggestion === undefined ? '' : `; ${suggestion}`}`,
    );
  }
  throw new Error('nothing was refused');
}

const NO_WORK: Files = {
  'readings.csv': 'tire,date,band,groove [mm]\n',
  'pressure.csv': 'tire,date,found [psi]\n',
  'cuts.csv': 'tire,date,place\n',
};
const UNREAD =
  'tires.csv: : tires that could not be read; rows of the other tables are matched to tires once the rows above are right';
const oneTire = (header: string, cells: string): Files => ({
  ...NO_WORK,
  'tires.csv': `tire,airplane,position,setup,fitted,${header}\nL1,mine,left main,soft,2024-05-01,${cells}\n`,
});

const ROWS: readonly (readonly [what: string, files: Files, told: readonly string[]])[] = [
  // Negative numbers, in every table that has any.
  [
    'a negative groove',
    changed('readings.csv', 'centre,1.8', 'centre,-1.8'),
    ['readings.csv:5 groove [mm]: "-1.8"; expected 0 mm to 25 mm'],
  ],
  [
    'a negative error',
    changed('readings.csv', '1.8,0.1', '1.8,-0.1'),
    ['readings.csv:5 error [mm]: "-0.1"; expected 0 mm to 3 mm'],
  ],
  [
    'a negative pressure',
    changed('pressure.csv', '8.5,9.0', '-8.5,9.0'),
    ['pressure.csv:2 found [psi]: "-8.5"; expected 0 psi to 150 psi'],
  ],
  [
    'negative hours',
    changed('flights.csv', '3,2.5', '3,-2.5'),
    ['flights.csv:2 hours [h]: "-2.5"; expected 0 h to 10000 h'],
  ],
  [
    'a negative depth of cut',
    changed('cuts.csv', '2.5,tread', '-2.5,tread'),
    ['cuts.csv:2 depth [mm]: "-2.5"; expected 0 mm to 60 mm'],
  ],
  // Numbers that are none.
  ...['NaN', 'Infinity', '1e999', '0x1', '1.2.3', '--2'].map((text) => {
    const told = `readings.csv:5 groove [mm]: "${text}"; expected a number of mm`;
    return [text, changed('readings.csv', 'centre,1.8', `centre,${text}`), [told]] as const;
  }),
  // Dates.
  [
    'a date without zeros',
    changed('readings.csv', 'R1,2024-06-01', 'R1,2024-6-1'),
    ['readings.csv:5 date: "2024-6-1"; expected a date such as 2024-05-31; did you mean 2024-06-01?'],
  ],
  [
    'a date with a time',
    changed('readings.csv', 'R1,2024-06-01', 'R1,2024-06-01T10:00'),
    ['readings.csv:5 date: "2024-06-01T10:00"; expected a date such as 2024-05-31'],
  ],
  [
    'a leap day of a year that has none',
    changed('readings.csv', 'R1,2024-06-01', 'R1,2023-02-29'),
    ['readings.csv:5 date: "2023-02-29"; expected a date such as 2024-05-31'],
  ],
  // Time going backward, or out of the log.
  [
    'days that end before they begin',
    { 'flights.csv': 'airplane,date,to date,landings\nmine,2024-05-10,2024-05-02,9\n' },
    ['flights.csv:2 to date: 2024-05-02; expected a day from 2024-05-10 to 2024-07-01'],
  ],
  [
    'a flight before the log',
    changed('flights.csv', '2024-05-03', '2024-04-03'),
    ['flights.csv:2 date: 2024-04-03; expected a day of the log, 2024-05-01 to 2024-07-01'],
  ],
  [
    'a flight after the log',
    changed('flights.csv', '2024-06-21', '2024-08-21'),
    ['flights.csv:6 date: 2024-08-21; expected a day of the log, 2024-05-01 to 2024-07-01'],
  ],
  [
    'failed before it was last sound',
    oneTire('removed after,removed by,cause', '2024-06-10,2024-06-05,worn'),
    ['tires.csv:2 removed by: 2024-06-05; expected a day after 2024-06-10', UNREAD],
  ],
  [
    'two ways to end',
    oneTire('removed,last seen,cause', '2024-06-10,2024-06-15,worn'),
    [
      'tires.csv:2 removed: several ways to end; expected "removed", or "removed after" and "removed by", or "last seen", or all blank',
      UNREAD,
    ],
  ],
  // Tires and wheels.
  [
    'one tire on two wheels at once',
    changed('tires.csv', 'N1,mine,nose', 'R1,mine,nose'),
    [
      'tires.csv:5 tire: the tire of line 4 again; expected each tire once; give a tire that was fitted a second time another name, with its landings before',
    ],
  ],
  [
    'two tires on one wheel from the same day on',
    changed('tires.csv', 'N1,mine,nose', 'N1,mine,right main'),
    [
      'tires.csv:5 fitted: 2024-05-01; tire R1 is on that wheel up to 2024-07-01 (line 4)',
      'pressure.csv:3 position: no tire there on 2024-05-20; expected one tire on that wheel on that day',
    ],
  ],
  [
    'a check of a tire on another wheel',
    { 'pressure.csv': 'tire,airplane,position,date,found [psi]\nL1,mine,right main,2024-05-25,8\n' },
    [
      'pressure.csv:2 position: "right main"; expected a blank cell or "left main", where tire L1 is (line 2)',
    ],
  ],
  [
    'a cut of a tire on another airplane',
    { 'cuts.csv': 'tire,airplane,position,date,place\nR1,yours,right main,2024-06-01,tread\n' },
    ['cuts.csv:2 airplane: "yours"; expected a blank cell or "mine", where tire R1 is (line 4)'],
  ],
  [
    'a check of a wheel without a tire',
    changed('pressure.csv', 'mine,nose', 'yours,nose'),
    ['pressure.csv:3 airplane: "yours"; expected an airplane with tires in the log'],
  ],
  [
    'a cut after the tire was off',
    changed('cuts.csv', 'R1,2024-06-01', 'L1,2024-06-25'),
    ['cuts.csv:2 date: 2024-06-25; expected a day from 2024-05-01 to 2024-06-20, when tire L1 was fitted'],
  ],
  [
    'a cut before it was on',
    changed('cuts.csv', 'R1,2024-06-01', 'L2,2024-06-01'),
    ['cuts.csv:2 date: 2024-06-01; expected a day from 2024-06-20 to 2024-07-01, when tire L2 was fitted'],
  ],
  [
    'a check after the tire was off',
    { 'pressure.csv': 'tire,date,found [psi]\nL1,2024-06-25,8\n' },
    [
      'pressure.csv:2 date: 2024-06-25; expected a day from 2024-05-01 to 2024-06-20, when tire L1 was fitted',
    ],
  ],
  // Words.
  [
    'a band that is none',
    changed('readings.csv', 'worst spot', 'worst spott'),
    [
      'readings.csv:4 band: "worst spott"; expected "centre", "inner shoulder", "outer shoulder" or "worst spot"; did you mean "worst spot"?',
    ],
  ],
  [
    'a place of a cut that is none',
    changed('cuts.csv', 'tread\n', 'trad\n'),
    ['cuts.csv:2 place: "trad"; expected "tread" or "side"; did you mean "tread"?'],
  ],
  // Several faults in one row are told together.
  [
    'two faults in one row',
    changed('flights.csv', 'mine,2024-05-03,home pavement,3', 'mine,2024-13-03,home pavement,three'),
    [
      'flights.csv:2 date: "2024-13-03"; expected a date such as 2024-05-31',
      'flights.csv:2 landings: "three"; expected a number',
    ],
  ],
  // Files as programs write them.
  [
    'blank lines above the header and between rows: lines are counted as they stand',
    { 'cuts.csv': '\n\ntire,date,place\n\nR1,2024-06-01,tread\n,,\n\nR1,2024-06-01,trad\n\n' },
    ['cuts.csv:8 place: "trad"; expected "tread" or "side"; did you mean "tread"?'],
  ],
  [
    'a bad header below a blank line',
    { 'cuts.csv': '\r\n\r\ntire,date,plaec\r\n' },
    [
      'cuts.csv:3 place: no such column; expected a column "place"; did you mean "plaec"?',
      'cuts.csv:3 plaec: a column that is not known; expected "tire", "airplane", "position", "date", "depth" or "place"; did you mean "place"?',
    ],
  ],
  [
    'a byte order mark and CRLF',
    { 'cuts.csv': '\ufefftire,date,place\r\nR1,2024-06-01,tread\r\n\r\nR1,2024-06-01,trad\r\n' },
    ['cuts.csv:4 place: "trad"; expected "tread" or "side"; did you mean "tread"?'],
  ],
  [
    'a cell over two lines: rows are told by the line on which they begin',
    { 'cuts.csv': 'tire,date,place,"depth [mm]"\nR1,2024-06-01,"tread\n",2\nR1,2024-06-01,trad,2\n' },
    [
      'cuts.csv:2 place: "tread\\n"; expected "tread" or "side"; did you mean "tread"?',
      'cuts.csv:4 place: "trad"; expected "tread" or "side"; did you mean "tread"?',
    ],
  ],
  [
    'another delimiter in a row than in the header',
    { 'cuts.csv': 'tire,date,place\nR1;2024-06-01;tread\n' },
    ['cuts.csv:2 : 1 cell; expected 3, as many as the header'],
  ],
  [
    'tabs',
    { 'cuts.csv': 'tire\tdate\tplace\nR1\t2024-06-01\ttread\n' },
    [
      'cuts.csv:1 : "tire\\tdate\\tplace"; expected cells with "," between them; set "delimiter": "tab" for this table',
    ],
  ],
  ['nothing at all', { 'cuts.csv': '' }, ['cuts.csv: : nothing; expected a header and rows']],
  [
    'nothing but blank lines',
    { 'cuts.csv': '\n\n,,\n' },
    ['cuts.csv: : nothing; expected a header and rows'],
  ],
];

test.each(ROWS)('%s', (_, files, told) => {
  expect(linesOf(() => readSmall(files))).toEqual(told);
});

test.each([
  ['Latin 1', Uint8Array.of(0x74, 0x69, 0x72, 0xe9, 0x0a)],
  ['UTF-16', Uint8Array.of(0xff, 0xfe, 0x74, 0, 0x69, 0)],
])('%s is no UTF-8', (_, bytes) => {
  const files = { ...SMALL, 'cuts.csv': bytes as unknown as string };
  const work = (): Logbook => parseLogbook(JSON.stringify(DESCRIPTION), files, { scenario: SCENARIO });
  expect(linesOf(work)).toEqual([
    'cuts.csv: : bytes that are not UTF-8; expected text in UTF-8; save the sheet as "CSV UTF-8"',
  ]);
});

describe('what is right stays', () => {
  test('a check that names tire, airplane and wheel, all of them rightly', () => {
    const { pressureChecks } = readSmall({
      'pressure.csv': 'tire,airplane,position,date,found [psi]\nL1,mine,left main,2024-05-25,8\n',
    });
    expect(pressureChecks).toHaveLength(1);
  });

  test('two cuts alike both count, with a remark', () => {
    const log = readSmall({ 'cuts.csv': `${SMALL['cuts.csv']!}R1,2024-06-01,2.5,tread\n` });
    expect(log.cuts).toHaveLength(2);
    expect(
      log.remarks.map(({ file, line, path, found, allowed }) => [file, line, path, found, allowed]),
    ).toEqual([['cuts.csv', 3, 'depth', 'a cut as in line 2', 'each row counts as a cut of its own']]);
  });

  test('every row is a record or a problem: one bad row in any place leaves none untold', () => {
    for (const [name, text] of Object.entries(SMALL)) {
      const lines = text.trimEnd().split('\n');
      lines.slice(1).forEach((row, i) => {
        const broken = lines.with(i + 1, `${row},`).join('\n');
        expect(
          linesOf(() => readSmall({ [name]: broken })).some((line) => line.startsWith(`${name}:${i + 2} `)),
        ).toBe(true);
      });
    }
  });
});
