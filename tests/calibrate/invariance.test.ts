/** The same records, written in another order, other units, columns and words, must teach the same. */
import { beforeAll, describe, expect, test } from 'vitest';
import { dateOfDay } from '../../dist/calibrate/dates.js';
import { fitAssumptions } from '../../dist/calibrate/posterior.js';
import type { AssumptionFit as Fit } from '../../dist/calibrate/posterior-types.js';
import type { Logbook } from '../../dist/calibrate/record-types.js';
import { lifeRecords, parseLogbook } from '../../dist/index.js';
import { nextUniform, openStream } from '../../dist/random/stream.js';
import { medianWorld } from '../../dist/simulate/world.js';
import { doubtedScenario, inventLog } from '../support/invented-records.js';

const scenario = doubtedScenario();
const made = inventLog(
  scenario,
  medianWorld(scenario),
  {
    airplanes: 3,
    landingsPerDay: 6,
    days: 60,
    readEvery: 20,
    errorM: 0.0003,
    wornSpreadM: 0.0005,
    checkEvery: 20,
    pressureErrorPa: 3000,
  },
  'invariance',
);
/** Checks go on after a tire came off: those would be refused. */
const invented: Logbook = {
  ...made,
  pressureChecks: made.pressureChecks.filter(({ tire, day }) => {
    const { end } = made.tires.find(({ id }) => id === tire)!;
    return end.kind !== 'exact' || day <= end.day;
  }),
};

/** A way to write a log: metres, pascals, kelvin, hours as numbers of a unit, and what stands in the file for a word. */
interface Form {
  readonly length: { readonly unit: string; readonly of: (metres: number) => number };
  readonly pressure: { readonly unit: string; readonly of: (pascals: number) => number };
  readonly temperature: { readonly unit: string; readonly of: (kelvin: number) => number };
  readonly hours: { readonly unit: string; readonly of: (hours: number) => number };
  readonly delimiter?: ',' | ';' | 'tab';
  readonly decimal?: ',';
  /** Headers other than the standard names, by table and column. */
  readonly columns?: Readonly<Record<string, Readonly<Record<string, string>>>>;
  /** Words as they stand in the file, by what they mean. */
  readonly words?: Readonly<Record<string, Readonly<Record<string, string>>>>;
  readonly eol?: string;
}

const METRIC: Form = {
  length: { unit: 'mm', of: (metres) => metres / 0.001 },
  pressure: { unit: 'Pa', of: (pascals) => pascals },
  temperature: { unit: 'K', of: (kelvin) => kelvin },
  hours: { unit: 'h', of: (hours) => hours },
};

type Row = readonly (string | number | null)[];
type Shuffle = (rows: readonly Row[]) => readonly Row[];

/** Files of a log in some form; numbers with all their digits. */
function filesOf(log: Logbook, form: Form, shuffle: Shuffle = (rows) => rows): Record<string, string> {
  const {
    length,
    pressure,
    temperature,
    hours,
    delimiter = ',',
    decimal,
    columns = {},
    words = {},
    eol = '\n',
  } = form;
  const sign = delimiter === 'tab' ? '\t' : delimiter;
  const word = (column: string, meaning: string): string => words[column]?.[meaning] ?? meaning;
  const cell = (value: string | number | null): string => {
    if (value === null) return '';
    return typeof value === 'number' && decimal !== undefined
      ? String(value).replace('.', decimal)
      : String(value);
  };
  const table = (name: string, header: readonly string[], rows: readonly Row[]): string => {
    const named = header.map((text) => {
      const [, column = text, unit = ''] = /^(.*?)( \[.*\])?$/.exec(text)!;
      return (columns[name]?.[column] ?? column) + unit;
    });
    return (
      [named, ...shuffle(rows).map((row) => row.map(cell))].map((cells) => cells.join(sign)).join(eol) + eol
    );
  };
  return {
    'tires.csv': table(
      'tires',
      ['tire', 'airplane', 'position', 'setup', 'fitted', 'removed', 'cause'],
      log.tires.map(({ id, airplane, position, setup, fittedDay, end }) => [
        id,
        airplane,
        word('position', position),
        setup,
        dateOfDay(fittedDay),
        end.kind === 'exact' ? dateOfDay(end.day) : '',
        end.kind === 'exact' ? word('cause', end.cause) : '',
      ]),
    ),
    'readings.csv': table(
      'readings',
      ['tire', 'date', 'band', `groove [${length.unit}]`, `error [${length.unit}]`],
      log.readings.map(({ tire, day, band, grooveM, errorM }) => [
        tire,
        dateOfDay(day),
        word('band', band),
        length.of(grooveM),
        length.of(errorM!),
      ]),
    ),
    'flights.csv': table(
      'flights',
      ['airplane', 'date', 'strip', 'landings', `hours [${hours.unit}]`],
      log.flights.map(({ airplane, fromDay, landings, strip }) => [
        airplane,
        dateOfDay(fromDay),
        word('strip', strip!),
        landings,
        hours.of(0.75 * landings),
      ]),
    ),
    'pressure.csv': table(
      'pressure',
      [
        'tire',
        'date',
        `found [${pressure.unit}]`,
        `set [${pressure.unit}]`,
        `temperature [${temperature.unit}]`,
      ],
      log.pressureChecks.map(({ tire, day, foundPa, setPa, temperatureK }) => [
        tire,
        dateOfDay(day),
        pressure.of(foundPa),
        pressure.of(setPa!),
        temperature.of(temperatureK!),
      ]),
    ),
  };
}

function readAs(form: Form, shuffle?: Shuffle): Logbook {
  const { delimiter = ',', decimal, columns = {}, words = {} } = form;
  const tableOf = (name: string): object => ({
    file: `${name}.csv`,
    delimiter,
    ...(decimal === undefined ? {} : { decimal }),
    columns: columns[name] === undefined ? {} : mappingOf(name, form),
  });
  const description = {
    name: 'the same',
    firstDay: dateOfDay(invented.firstDay),
    lastDay: dateOfDay(invented.lastDay),
    words: Object.fromEntries(
      Object.entries(words).map(([column, meanings]) => [
        column,
        Object.fromEntries(Object.entries(meanings).map(([meaning, text]) => [text, meaning])),
      ]),
    ),
    ...Object.fromEntries(['tires', 'readings', 'flights', 'pressure'].map((name) => [name, tableOf(name)])),
  };
  return parseLogbook(JSON.stringify(description), filesOf(invented, form, shuffle));
}

/** Headers of a table as they stand in its file, by column. */
function mappingOf(name: string, { columns = {}, length, pressure, temperature, hours }: Form): object {
  const units: Readonly<Record<string, string>> = {
    groove: length.unit,
    error: length.unit,
    found: pressure.unit,
    set: pressure.unit,
    temperature: temperature.unit,
    hours: hours.unit,
  };
  return Object.fromEntries(
    Object.entries(columns[name]!).map(([column, header]) => {
      const unit = units[column];
      return [column, { header: unit === undefined ? header : `${header} [${unit}]` }];
    }),
  );
}

const OPTIONS = { seed: 'the same', draws: 200, chains: 2, effectiveSize: 100, newGrooveSpreadM: 0 };
let metric: Fit;
beforeAll(async () => {
  metric = await fitAssumptions(scenario, readAs(METRIC), OPTIONS);
});

test('the log holds what is compared: ends by wear or stones, readings, checks', () => {
  const causes = new Set(invented.tires.map(({ end }) => end.kind));
  expect(causes).toEqual(new Set(['exact', 'right']));
  expect(metric.used.readings).toBeGreaterThan(20);
  expect(metric.used.pressureChecks).toBeGreaterThan(5);
  expect(metric.assumptions.length).toBeGreaterThan(6);
});

test.each(['one', 'two'])(
  'rows of every file in another order (%s) give the same fit, to the bit',
  async (seed) => {
    const stream = openStream(`order ${seed}`);
    const shuffle: Shuffle = (rows) =>
      rows
        .map((row) => ({ row, key: nextUniform(stream) }))
        .sort((a, b) => a.key - b.key)
        .map(({ row }) => row);
    const log = readAs(METRIC, shuffle);
    expect(log.readings.map(({ grooveM }) => grooveM)).not.toEqual(
      readAs(METRIC).readings.map(({ grooveM }) => grooveM),
    );
    expect(await fitAssumptions(scenario, log, OPTIONS)).toEqual(metric);
  },
);

const FORMS: readonly (readonly [string, Form])[] = [
  [
    'inches, psi, Fahrenheit, minutes',
    {
      length: { unit: 'in', of: (metres) => metres / 0.0254 },
      pressure: { unit: 'psi', of: (pascals) => pascals / 6894.757293168361 },
      temperature: { unit: 'degF', of: (kelvin) => (kelvin - 273.15) * 1.8 + 32 },
      hours: { unit: 'min', of: (hours) => 60 * hours },
    },
  ],
  [
    'thirty-seconds of an inch, kPa, Celsius, with semicolons, decimal commas and CRLF',
    {
      length: { unit: '1/32 in', of: (metres) => (32 * metres) / 0.0254 },
      pressure: { unit: 'kPa', of: (pascals) => pascals / 1000 },
      temperature: { unit: 'degC', of: (kelvin) => kelvin - 273.15 },
      hours: { unit: 's', of: (hours) => 3600 * hours },
      delimiter: ';',
      decimal: ',',
      eol: '\r\n',
    },
  ],
  [
    'centimetres, bar, tabs, other headers and words',
    {
      length: { unit: 'cm', of: (metres) => 100 * metres },
      pressure: { unit: 'bar', of: (pascals) => pascals / 1e5 },
      temperature: { unit: 'K', of: (kelvin) => kelvin },
      hours: { unit: 'h', of: (hours) => hours },
      delimiter: 'tab',
      columns: {
        tires: { tire: 'Reifen', fitted: 'montiert', cause: 'Grund' },
        readings: { tire: 'Reifen', groove: 'Profil', error: 'Fehler' },
        flights: { strip: 'Platz' },
        pressure: { found: 'gefunden', set: 'gesetzt' },
      },
      words: {
        position: { 'left main': 'HL', 'right main': 'HR' },
        band: { centre: 'M', 'inner shoulder': 'I', 'outer shoulder': 'A' },
        cause: { worn: 'abgefahren', cut: 'Schnitt', puncture: 'platt' },
        strip: { place: 'HOME', track: 'TRACK' },
      },
    },
  ],
];

describe.each(FORMS)('in %s', (_, form) => {
  test('the log is the same to 13 digits, and the lives are', () => {
    const [log, same] = [readAs(form), readAs(METRIC)];
    log.readings.forEach(({ grooveM, errorM }, i) => {
      expect(Math.abs(grooveM - same.readings[i]!.grooveM)).toBeLessThan(1e-16);
      expect(Math.abs(errorM! / same.readings[i]!.errorM! - 1)).toBeLessThan(1e-13);
    });
    log.pressureChecks.forEach(({ foundPa, setPa, temperatureK }, i) => {
      const other = same.pressureChecks[i]!;
      expect(Math.abs(foundPa / other.foundPa - 1)).toBeLessThan(1e-13);
      expect(Math.abs(setPa! / other.setPa! - 1)).toBeLessThan(1e-13);
      expect(Math.abs(temperatureK! / other.temperatureK! - 1)).toBeLessThan(1e-13);
    });
    const hours = (of: Logbook): number[] => lifeRecords(of, { unit: 'flight hours' }).map(({ to }) => to);
    hours(log).forEach((life, i) => {
      if (life !== Infinity) expect(Math.abs(life / hours(same)[i]! - 1)).toBeLessThan(1e-12);
    });
    expect(lifeRecords(log)).toEqual(lifeRecords(same));
  });

  // The chains see records that differ in the last bits: as long as no move is decided otherwise for it, the draws agree to
  // nine digits and more.
  test('the fit is the same to 9 digits', async () => {
    const fit = await fitAssumptions(scenario, readAs(form), OPTIONS);
    expect(fit.assumptions.map(({ path, verdict }) => [path, verdict])).toEqual(
      metric.assumptions.map(({ path, verdict }) => [path, verdict]),
    );
    fit.assumptions.forEach(({ quantiles }, i) => {
      quantiles.posterior.forEach((value, k) => {
        expect(Math.abs(value / metric.assumptions[i]!.quantiles.posterior[k]! - 1)).toBeLessThan(1e-9);
      });
    });
    expect(fit.used).toEqual(metric.used);
    expect(fit.checks.readings).toHaveLength(metric.checks.readings.length);
  });
});
