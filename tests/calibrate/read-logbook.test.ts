import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dayOfDate, parseQuantity, type Dimension } from '../../lib/index.js';
import { changed, readSmall, SMALL } from './small-log.js';

const day = (text: string): number => dayOfDate(text)!;
function si(text: string, dimension: Dimension): number {
  const read = parseQuantity(text, dimension);
  if (!read.ok) throw new Error(read.reason);
  return read.si;
}

describe('a log', () => {
  const log = readSmall();

  test('is read in SI units, with the place of every row', () => {
    expect(log).toMatchObject({
      name: 'small',
      note: 'Invented.',
      firstDay: day('2024-05-01'),
      lastDay: day('2024-07-01'),
      leastCutM: 0.002,
      spreadPeriods: false,
      remarks: [],
    });
    expect(log.tires[0]).toEqual({
      id: 'L1',
      airplane: 'mine',
      position: 'left main',
      setup: 'soft',
      tireClass: 'soft 29',
      fittedDay: day('2024-05-01'),
      landingsBefore: 0,
      flightHoursBefore: 0,
      end: { kind: 'exact', day: day('2024-06-20'), cause: 'worn' },
      landingsStated: null,
      flightHoursStated: null,
      count: 1,
      place: { file: 'tires.csv', line: 2 },
    });
    expect(log.tires[3]).toMatchObject({ position: 'third', tireClass: 'nose 8.50-6' });
    expect(log.tires[1]!.end).toEqual({ kind: 'right', day: day('2024-07-01'), reason: 'in service' });
    expect(log.readings[1]).toEqual({
      tire: 'L1',
      day: day('2024-06-01'),
      band: 'centre',
      grooveM: 0.0015,
      errorM: 0.0001,
      stepM: 0.0001,
      place: { file: 'readings.csv', line: 3 },
    });
    expect(log.flights[0]).toMatchObject({
      landings: 3,
      flightHours: 2.5,
      strip: 'home pavement',
      surface: null,
    });
    expect(log.pressureChecks[0]).toEqual({
      tire: 'L1',
      day: day('2024-05-20'),
      foundPa: si('8.5 psi', 'pressure'),
      setPa: si('9 psi', 'pressure'),
      temperatureK: 288.15,
      elevationM: si('300 ft', 'length'),
      place: { file: 'pressure.csv', line: 2 },
    });
    expect(log.cuts).toEqual([
      {
        tire: 'R1',
        day: day('2024-06-01'),
        depthM: 0.0025,
        where: 'tread',
        place: { file: 'cuts.csv', line: 2 },
      },
    ]);
  });

  test('may be in other units, columns, words, signs and order: it is the same log', () => {
    const other = readSmall(
      {
        'tires.csv': `remark;Serial;Wheel;fitted;OFF;why
;R1;R;2024-05-01;;
"spare, ""good""";N1;N;2024-05-01;;
;L2;L;2024-06-20;;
;L1;L;2024-05-01;2024-06-20;bald
`,
        'readings.csv':
          '\ufefftire,date,band,groove (cm)\r\nR1,2024-06-01,centre,0.18\r\nL1,2024-06-01,worst spot,0.12\r\n' +
          'L1,2024-06-01,centre,.15\r\nL1,2024-05-01,centre,0.30\r\n',
        'pressure.csv': `airplane\tposition\tdate\tfound [kPa]\tset [kPa]\ttemperature [K]
mine\tnose\t2024-05-20\t117,2108739838621\t124,10563127703051\t288,15
mine\tleft main\t2024-05-20\t58,60543699193102\t62,05281563851525\t288,15
`,
      },
      {
        words: {
          position: { L: 'left main', R: 'right main', N: 'nose' },
          cause: { bald: 'worn' },
        },
        tires: {
          file: 'tires.csv',
          columns: { tire: 'Serial', position: 'Wheel', removed: 'OFF', cause: { header: 'why' } },
          always: { airplane: 'mine', setup: 'soft' },
          ignore: ['remark'],
          delimiter: ';',
        },
        readings: { file: 'readings.csv', always: { error: '100 um', step: '0.1 mm' } },
        pressure: { file: 'pressure.csv', always: { elevation: '300 ft' }, delimiter: 'tab', decimal: ',' },
      },
    );
    const bare = (records: readonly { readonly place: object }[]): unknown[] =>
      records.map((each) => JSON.stringify({ ...each, place: null })).sort();
    for (const table of ['tires', 'readings', 'flights', 'cuts'] as const) {
      expect(bare(other[table])).toEqual(bare(log[table]));
    }
    const found = (checks: typeof log.pressureChecks): number[] =>
      checks.map(({ foundPa }) => Math.round(foundPa)).sort();
    expect(found(other.pressureChecks)).toEqual(found(log.pressureChecks));
  });

  test('reads a gauge in 32nds, bare or as fractions', () => {
    const text = 'tire,date,band,groove [1/32 in],error [1/32 in]\nL1,2024-06-01,centre,3,0.25\n';
    const { readings } = readSmall({ 'readings.csv': text });
    expect(readings[0]!.grooveM).toBeCloseTo(si('3/32 in', 'length'), 12);
    const fraction = 'tire,date,band,groove [in]\nL1,2024-06-01,centre,3/32\n';
    expect(readSmall({ 'readings.csv': fraction }).readings[0]!.grooveM).toBe(si('3/32 in', 'length'));
  });

  test('takes blank cells by the rule of their column, and lines of bare delimiters for nothing', () => {
    const text = 'tire,airplane,position,fitted,class\nA,mine,left main,2024-05-01,soft 29\n,,,,\n\n';
    const { tires } = readSmall(
      { 'tires.csv': text },
      { readings: undefined, pressure: undefined, cuts: undefined },
    );
    expect(tires).toHaveLength(1);
    expect(tires[0]).toMatchObject({ setup: null, tireClass: 'soft 29', landingsBefore: 0, count: 1 });
  });

  test('tells every way to end', () => {
    const text = `tire,airplane,position,setup,fitted,removed,removed after,removed by,last seen,cause,count,landings before
A,mine,left main,soft,2024-05-01,2024-05-20,,,,sound,,
B,mine,left main,soft,2024-05-20,,2024-06-01,2024-06-20,,cut,,
C,mine,right main,soft,2024-05-01,,,2024-06-20,,,,40
D,mine,nose,soft,2024-05-01,,,,2024-06-01,in service,3,
`;
    const { tires } = readSmall(
      { 'tires.csv': text },
      { readings: undefined, pressure: undefined, cuts: undefined },
    );
    expect(tires.map(({ end }) => end)).toEqual([
      { kind: 'right', day: day('2024-05-20'), reason: 'sound' },
      { kind: 'interval', afterDay: day('2024-06-01'), byDay: day('2024-06-20'), cause: 'cut' },
      { kind: 'left', byDay: day('2024-06-20'), cause: null },
      { kind: 'right', day: day('2024-06-01'), reason: 'in service' },
    ]);
    expect(tires.map(({ landingsBefore, count }) => [landingsBefore, count])).toEqual([
      [0, 1],
      [0, 1],
      [40, 1],
      [0, 3],
    ]);
    // Hours before are not known where only landings are stated.
    expect(tires[2]!.flightHoursBefore).toBeNull();
  });

  test('may come without a scenario: names are then not checked', () => {
    const files = changed('tires.csv', 'L2,mine,left main,soft', 'L2,mine,left main,anything');
    expect(() => readSmall(files)).toThrow(/set-up/);
    expect(readSmall(files, {}, null).tires[1]).toMatchObject({ setup: 'anything', tireClass: null });
  });

  test('remarks on what a reader should know', () => {
    const files = {
      ...changed('flights.csv', 'mine,2024-06-21,home pavement,1,0.5', 'mine,2024-06-21,,1,0.5'),
      'tires.csv': SMALL['tires.csv']!.split('\n')
        .filter((line) => line !== '')
        .map((line, i) => line + [',landings', ',', ',40', ',', ','][i]!)
        .join('\n'),
    };
    const { remarks } = readSmall(files);
    expect(remarks.map(({ file, found }) => [file, found])).toEqual([
      ['tires.csv', '40'],
      ['flights.csv', '1 landings in 1 rows with neither strip nor surface'],
    ]);
  });
});

test('days that no row of a log kept by periods covers are remarked on', () => {
  const flights = `airplane,date,to date,landings
mine,2024-05-02,2024-05-31,9
mine,2024-06-10,2024-06-30,6
`;
  const { remarks } = readSmall({ 'flights.csv': flights }, { spreadPeriods: true });
  expect(remarks.map(({ line, found }) => [line, found])).toContainEqual([
    3,
    'no row for mine from 2024-06-01 to 2024-06-09',
  ]);
});

describe('any text in any cell', () => {
  test('is read or told, never anything else', () => {
    const names = Object.keys(SMALL);
    const cell = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.constantFrom('', '0', '-1', '1e9', '2024-02-30', '"', 'L1', '１'),
    );
    fc.assert(
      fc.property(fc.constantFrom(...names), fc.nat(4), fc.nat(6), cell, (file, row, column, text) => {
        const rows = SMALL[file]!.trimEnd()
          .split('\n')
          .map((line) => line.split(','));
        const cells = rows[row % rows.length]!;
        cells[column % cells.length] = text;
        try {
          readSmall({ [file]: rows.map((each) => each.join(',')).join('\n') });
        } catch (error) {
          expect(error).toMatchObject({ name: 'RecordsError' });
          expect((error as Error).message).toMatch(/found .*; (?:expected|a |an |the |tire|rows|not )/);
        }
      }),
      { numRuns: 400, seed: 5 },
    );
  });
});
