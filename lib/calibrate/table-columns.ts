import type { Dimension } from '../units.js';
import { TODAY_DEFAULTS } from '../scenario/schema/today.js';
import { REMOVAL_CAUSES } from '../simulate/columns.js';
import { BRAKING_HABITS, READING_BANDS } from './record-types.js';

/** What a column of a table of records may hold. */
export interface ColumnSpec {
  /** `name` any short text, `word` one of a list, `day` an ISO date, `number` a number with the unit of its column. */
  readonly kind: 'name' | 'word' | 'day' | 'number';
  /** A cell may not be blank. */
  readonly required: boolean;
  readonly description: string;
  readonly words?: readonly string[];
  readonly dimension?: Dimension;
  /** Least and greatest plausible value, as quantities. */
  readonly min?: string;
  readonly max?: string;
  readonly whole?: boolean;
  /** A cell as it may stand in the file, invented. */
  readonly example: string;
  /** Unit in the header above such a cell; numbers that need a unit only. */
  readonly exampleUnit?: string;
}

type Columns = Readonly<Record<string, ColumnSpec>>;

const name = (required: boolean, example: string, description: string): { kind: 'name' } & ColumnSpec => ({
  kind: 'name',
  required,
  description,
  example,
});
const word = (
  required: boolean,
  words: readonly string[],
  example: string,
  description: string,
): { kind: 'word' } & ColumnSpec => ({ kind: 'word', required, words, description, example });
const day = (required: boolean, example: string, description: string): { kind: 'day' } & ColumnSpec => ({
  kind: 'day',
  required,
  description,
  example,
});
/** @param example cell and unit: "2.4 mm"; a bare number where none is needed. */
const number = (
  required: boolean,
  dimension: Dimension,
  [min, max]: readonly [string, string],
  example: string,
  description: string,
): { kind: 'number' } & ColumnSpec => {
  const [cell = '', exampleUnit] = example.split(' ');
  const unit = exampleUnit === undefined ? {} : { exampleUnit };
  return { kind: 'number', required, dimension, min, max, description, example: cell, ...unit };
};
const count = (
  required: boolean,
  range: readonly [string, string],
  example: string,
  description: string,
): { kind: 'number' } & ColumnSpec => ({
  ...number(required, 'count', range, example, description),
  whole: true,
});

/** Where a tire is fitted, in words of the shop; "third" is the nose or tail wheel, whichever there is. */
export const POSITION_WORDS = ['left main', 'right main', 'nose', 'tail', 'third'] as const;
/** Taken off in good order: with its mate, for another set-up, with the airplane sold. Not the end of its life. */
export const SOUND = 'sound';
/** How a tire may have ended, in words of the log. */
export const CAUSE_WORDS: readonly string[] = [...REMOVAL_CAUSES, SOUND];
/** Where a cut was found. */
export const CUT_PLACES = ['tread', 'side'] as const;

const TIRES = {
  tire: name(true, 'A-L1', 'Name of the tire: serial number or tag, unique in the log.'),
  airplane: name(true, 'A', 'Airplane it is fitted to.'),
  position: word(
    true,
    POSITION_WORDS,
    'left main',
    'Wheel it is fitted to; "third" is the nose or tail wheel, whichever there is.',
  ),
  setup: name(false, 'soft 9 psi', 'Name of a set-up of the scenario.'),
  class: name(false, 'soft 29', 'Name of an entry of "tires" of the scenario; blank: that of the set-up.'),
  fitted: day(
    true,
    '2024-05-01',
    'Day it was fitted, or on which the log takes it up; it flies from the next day on.',
  ),
  'landings before': number(
    false,
    'count',
    ['0', '1000000'],
    '120',
    'Landings it had done by then; blank: it was new.',
  ),
  'hours before': number(false, 'duration', ['0 h', '100000 h'], '95 h', 'Flight hours it had done by then.'),
  removed: day(
    false,
    '2024-07-20',
    'Day it came off; blank: in service, unless one of the next two columns is filled in.',
  ),
  'removed after': day(
    false,
    '2024-07-01',
    'Last day it was known to be sound, where the day it failed is not known.',
  ),
  'removed by': day(
    false,
    '2024-07-20',
    'Day by which it had failed; without the column before: at any time since it was fitted.',
  ),
  'last seen': day(false, '2024-08-31', 'Last day it was seen in service; blank: the last day of the log.'),
  cause: word(
    false,
    CAUSE_WORDS,
    'worn',
    'Why it came off; "sound" in good order (with its mate, another set-up, sold): not the end of its life.',
  ),
  landings: number(
    false,
    'count',
    ['0', '1000000'],
    '260',
    'Landings from new to its end or to the day last seen, where flights are not in the log.',
  ),
  hours: number(false, 'duration', ['0 h', '100000 h'], '210 h', 'Flight hours from new, likewise.'),
  count: count(false, ['1', '100000'], '1', 'Tires alike; blank: one.'),
} as const satisfies Columns;

const READINGS = {
  tire: name(true, 'A-L1', 'Name of the tire.'),
  date: day(true, '2024-06-15', 'Day of the reading, after the flights of that day.'),
  band: word(
    true,
    READING_BANDS,
    'centre',
    'Where on the tread: mean round a band, or the worst spot of the tire.',
  ),
  groove: number(true, 'length', ['0 mm', '25 mm'], '2.4 mm', 'Groove depth read.'),
  error: number(
    false,
    'length',
    ['0 mm', '3 mm'],
    '0.15 mm',
    `Standard deviation of the reading: gauge and hand. ${TODAY_DEFAULTS.readingError} where it is not stated (assumption).`,
  ),
  step: number(
    false,
    'length',
    ['0 mm', '2 mm'],
    '0.1 mm',
    'Step to which readings are rounded; halves of a 32nd are "1/64 in".',
  ),
  repeat: count(
    false,
    ['1', '100'],
    '1',
    'Number of the reading where a band is read several times a day; blank: 1.',
  ),
} as const satisfies Columns;

const FLIGHTS = {
  airplane: name(true, 'A', 'Airplane.'),
  date: day(true, '2024-05-03', 'Day, or first of several days.'),
  'to date': day(false, '2024-05-09', 'Last of several days; blank: one day.'),
  landings: count(true, ['0', '100000'], '4', 'Landings.'),
  hours: number(false, 'duration', ['0 h', '10000 h'], '3.2 h', 'Flight hours.'),
  strip: name(false, 'valley gravel', 'Name of a strip of the scenario.'),
  surface: name(false, 'gravel', 'Name of a surface of the scenario, where the strip is not known.'),
  braking: word(false, BRAKING_HABITS, 'hard', 'Braking against the habits of the scenario.'),
  'airframe hours': number(
    false,
    'duration',
    ['0 h', '200000 h'],
    '1204.5 h',
    'Reading of the hour meter at the end of the row: shows flying that is missing from the log.',
  ),
} as const satisfies Columns;

const PRESSURE = {
  tire: name(false, 'A-L1', 'Name of the tire; blank where airplane and position tell it.'),
  airplane: name(false, 'A', 'Airplane, where the tire is not named.'),
  position: word(false, POSITION_WORDS, 'left main', 'Wheel, where the tire is not named.'),
  date: day(true, '2024-06-01', 'Day of the check, after the flights of that day.'),
  found: number(true, 'pressure', ['0 psi', '150 psi'], '8.6 psi', 'Gauge pressure found.'),
  set: number(
    false,
    'pressure',
    ['0 psi', '150 psi'],
    '9 psi',
    'Gauge pressure after the check; blank: not stated.',
  ),
  temperature: number(
    false,
    'temperature',
    ['-60 degC', '70 degC'],
    '14 degC',
    'Temperature of air and tire.',
  ),
  elevation: number(false, 'length', ['-1500 ft', '15000 ft'], '300 ft', 'Elevation of the place.'),
} as const satisfies Columns;

const CUTS = {
  tire: name(false, 'A-L1', 'Name of the tire; blank where airplane and position tell it.'),
  airplane: name(false, 'A', 'Airplane, where the tire is not named.'),
  position: word(false, POSITION_WORDS, 'left main', 'Wheel, where the tire is not named.'),
  date: day(true, '2024-06-15', 'Day of the inspection that found it.'),
  depth: number(false, 'length', ['0 mm', '60 mm'], '2.5 mm', 'Depth from the surface of the rubber.'),
  place: word(true, CUT_PLACES, 'tread', 'Where on the tire.'),
} as const satisfies Columns;

/** The tables of a log with their columns. */
export const RECORD_TABLES = {
  tires: TIRES,
  readings: READINGS,
  flights: FLIGHTS,
  pressure: PRESSURE,
  cuts: CUTS,
} as const;

/** Name of a table of a log. */
export type TableName = keyof typeof RECORD_TABLES;
/** All of them, in the order in which they are read. */
export const TABLE_NAMES = Object.keys(RECORD_TABLES) as readonly TableName[];

/** Columns of the tables that hold names or words: those that "words" may translate. */
export function wordColumns(): string[] {
  const columns = TABLE_NAMES.flatMap((table) => Object.entries<ColumnSpec>(RECORD_TABLES[table]));
  return [
    ...new Set(columns.flatMap(([name, { kind }]) => (kind === 'name' || kind === 'word' ? [name] : []))),
  ];
}

/** What a row of each table is, and how it counts. */
export const TABLE_MEANINGS: Readonly<Record<TableName, string>> = {
  tires:
    'One row for each tire on a wheel, from the day it was fitted (or the log takes it up) to its end; the rows of all ' +
    'other tables name these tires. A tire that is fitted a second time is a new row with another name and its ' +
    'landings before. A row may stand for several tires alike (`count`); such a row has no readings.',
  readings:
    'One row for each groove depth read with a gauge. 0 means that no groove is left: wear below it does not show. ' +
    'Readings of one tire are compared over time: tread that grows by more than gauge errors explain is refused. A reading ' +
    'tells of wear by the landings between it and the reading before, or since a new tire was fitted: they must be rows ' +
    'of flights, best with their strip. The first reading of a tire that had flown before only tells where its wear begins.',
  flights:
    'One row for each airplane, day and place, or for some days together (`to date`). The rows tell what every tire of ' +
    'the airplane went through, so none may be missing: a day without a row is a day without flights.',
  pressure:
    'One row for each check of one tire: what was found first and what was set last that day. A blank `set` means that ' +
    'nobody wrote down what was left in it. A check tells of leaks only against the check before of the same tire, and ' +
    'only if that one has `set`: the first check of a tire, and one after a blank `set`, tell nothing. Where ' +
    'nothing was let out or in, `set` is what was found. With `temperature` at both, a leak is told from a cold morning; without, the spread ' +
    'of temperatures over the season hides small leaks.',
  cuts:
    'One row for each cut found. One that ended the tire is told by its cause in the table of tires, and may stand here ' +
    'too. Cuts tell a rate only if the log says from which depth on they are written down (`leastCutDepth`).',
};

/** Header of a column with its unit, as examples and new logs write it: "groove [mm]". */
export function headerOf(name: string, { exampleUnit }: ColumnSpec): string {
  return exampleUnit === undefined ? name : `${name} [${exampleUnit}]`;
}

/** Cells of a row as read: text for names and words, numbers in SI units, days as day numbers; null if blank. */
export type Cells<Name extends TableName> = {
  readonly [Column in keyof (typeof RECORD_TABLES)[Name]]: CellValue<(typeof RECORD_TABLES)[Name][Column]>;
};
type CellValue<Spec> = Spec extends { kind: 'name' | 'word' } ? string | null : number | null;
