import type { Dimension } from '../units.js';
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
}

type Columns = Readonly<Record<string, ColumnSpec>>;

const name = (required: boolean, description: string): { kind: 'name' } & ColumnSpec => ({
  kind: 'name',
  required,
  description,
});
const word = (
  required: boolean,
  words: readonly string[],
  description: string,
): { kind: 'word' } & ColumnSpec => ({ kind: 'word', required, words, description });
const day = (required: boolean, description: string): { kind: 'day' } & ColumnSpec => ({
  kind: 'day',
  required,
  description,
});
const number = (
  required: boolean,
  dimension: Dimension,
  min: string,
  max: string,
  description: string,
): { kind: 'number' } & ColumnSpec => ({ kind: 'number', required, dimension, min, max, description });
const count = (
  required: boolean,
  min: string,
  max: string,
  description: string,
): { kind: 'number' } & ColumnSpec => ({ ...number(required, 'count', min, max, description), whole: true });

/** Where a tire is fitted, in words of the shop; "third" is the nose or tail wheel, whichever there is. */
export const POSITION_WORDS = ['left main', 'right main', 'nose', 'tail', 'third'] as const;
/** Taken off in good order: with its mate, for another set-up, with the airplane sold. Not the end of its life. */
export const SOUND = 'sound';
/** How a tire may have ended, in words of the log. */
export const CAUSE_WORDS: readonly string[] = [...REMOVAL_CAUSES, SOUND];
/** Where a cut was found. */
export const CUT_PLACES = ['tread', 'side'] as const;

const TIRES = {
  tire: name(true, 'Name of the tire: serial number or tag, unique in the log.'),
  airplane: name(true, 'Airplane it is fitted to.'),
  position: word(true, POSITION_WORDS, 'Wheel it is fitted to.'),
  setup: name(false, 'Name of a set-up of the scenario.'),
  class: name(false, 'Name of an entry of "tires" of the scenario; blank: that of the set-up.'),
  fitted: day(true, 'Day it was fitted, or on which the log takes it up; it flies from the next day on.'),
  'landings before': number(
    false,
    'count',
    '0',
    '1000000',
    'Landings it had done by then; blank: it was new.',
  ),
  'hours before': number(false, 'duration', '0 h', '100000 h', 'Flight hours it had done by then.'),
  removed: day(false, 'Day it came off; blank: in service, unless one of the next two columns is filled in.'),
  'removed after': day(false, 'Last day it was known to be sound, where the day it failed is not known.'),
  'removed by': day(
    false,
    'Day by which it had failed; without the column before: at any time since it was fitted.',
  ),
  'last seen': day(false, 'Last day it was seen in service; blank: the last day of the log.'),
  cause: word(
    false,
    CAUSE_WORDS,
    'Why it came off; "sound" in good order (with its mate, another set-up, sold): not the end of its life.',
  ),
  landings: number(
    false,
    'count',
    '0',
    '1000000',
    'Landings from new to its end or to the day last seen, where flights are not in the log.',
  ),
  hours: number(false, 'duration', '0 h', '100000 h', 'Flight hours from new, likewise.'),
  count: count(false, '1', '100000', 'Tires alike; blank: one.'),
} as const satisfies Columns;

const READINGS = {
  tire: name(true, 'Name of the tire.'),
  date: day(true, 'Day of the reading, after the flights of that day.'),
  band: word(true, READING_BANDS, 'Where on the tread: mean round a band, or the worst spot of the tire.'),
  groove: number(true, 'length', '0 mm', '25 mm', 'Groove depth read.'),
  error: number(false, 'length', '0 mm', '3 mm', 'Standard deviation of the reading: gauge and hand.'),
  step: number(false, 'length', '0 mm', '2 mm', 'Step to which readings are rounded.'),
  repeat: count(
    false,
    '1',
    '100',
    'Number of the reading where a band is read several times a day; blank: 1.',
  ),
} as const satisfies Columns;

const FLIGHTS = {
  airplane: name(true, 'Airplane.'),
  date: day(true, 'Day, or first of several days.'),
  'to date': day(false, 'Last of several days; blank: one day.'),
  landings: count(true, '0', '100000', 'Landings.'),
  hours: number(false, 'duration', '0 h', '10000 h', 'Flight hours.'),
  strip: name(false, 'Name of a strip of the scenario.'),
  surface: name(false, 'Name of a surface of the scenario, where the strip is not known.'),
  braking: word(false, BRAKING_HABITS, 'Braking against the habits of the scenario.'),
  'airframe hours': number(
    false,
    'duration',
    '0 h',
    '200000 h',
    'Reading of the hour meter at the end of the row: shows flying that is missing from the log.',
  ),
} as const satisfies Columns;

const PRESSURE = {
  tire: name(false, 'Name of the tire; blank where airplane and position tell it.'),
  airplane: name(false, 'Airplane, where the tire is not named.'),
  position: word(false, POSITION_WORDS, 'Wheel, where the tire is not named.'),
  date: day(true, 'Day of the check, after the flights of that day.'),
  found: number(true, 'pressure', '0 psi', '150 psi', 'Gauge pressure found.'),
  set: number(false, 'pressure', '0 psi', '150 psi', 'Gauge pressure after the check; blank: not stated.'),
  temperature: number(false, 'temperature', '-60 degC', '70 degC', 'Temperature of air and tire.'),
  elevation: number(false, 'length', '-1500 ft', '15000 ft', 'Elevation of the place.'),
} as const satisfies Columns;

const CUTS = {
  tire: name(false, 'Name of the tire; blank where airplane and position tell it.'),
  airplane: name(false, 'Airplane, where the tire is not named.'),
  position: word(false, POSITION_WORDS, 'Wheel, where the tire is not named.'),
  date: day(true, 'Day of the inspection that found it.'),
  depth: number(false, 'length', '0 mm', '60 mm', 'Depth from the surface of the rubber.'),
  place: word(true, CUT_PLACES, 'Where on the tire.'),
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

/** Cells of a row as read: text for names and words, numbers in SI units, days as day numbers; null if blank. */
export type Cells<Name extends TableName> = {
  readonly [Column in keyof (typeof RECORD_TABLES)[Name]]: CellValue<(typeof RECORD_TABLES)[Name][Column]>;
};
type CellValue<Spec> = Spec extends { kind: 'name' | 'word' } ? string | null : number | null;
