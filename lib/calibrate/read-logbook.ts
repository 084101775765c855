import { statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { plainText, valueText, type Problem } from '../problems.js';
import { problemsFromZod } from '../scenario/issues.js';
import { readJsonSource, type JsonSource } from '../scenario/json-source.js';
import { MAX_BYTES } from '../scenario/json-text.js';
import { readAtMost } from '../scenario/read-at-most.js';
import { mergeLayers } from '../scenario/merge.js';
import type { Scenario } from '../scenario/schema/index.js';
import { parseQuantity } from '../units.js';
import { checkFlights } from './check-flights.js';
import { checkReadings } from './check-readings.js';
import { checkTires } from './check-tires.js';
import { checkWork } from './check-work.js';
import { remarksOnWorn } from './check-worn.js';
import { dayOfDate, likelyIsoDate } from './dates.js';
import { knownNames } from './known-names.js';
import { logbookSchema, type LogbookFile } from './logbook-schema.js';
import { choiceText, didYouMean } from './read-cell.js';
import { flightsFromRows } from './read-flights.js';
import { checksFromRows, cutsFromRows, readingsFromRows } from './read-rows.js';
import type { ProblemOfTable } from './find-columns.js';
import { readTable, type RecordRow } from './read-table.js';
import { tiresFromRows } from './read-tires.js';
import type { Logbook } from './record-types.js';
import { RecordsError } from './records-error.js';
import { TireFinder } from './tire-finder.js';
import { wordColumns, type TableName } from './table-columns.js';

/** How to read a log. */
export interface ReadLogbookOptions {
  /** Scenario whose names the log uses; without it, names of set-ups, tires, strips and surfaces are not checked. */
  readonly scenario?: Scenario | undefined;
}

/** Deeper than any groove. */
const GREATEST_LEAST_CUT_M = 0.025;

type Source = string | Uint8Array;
type ReadFile = (name: string) => Source;

/**
 * Reads and checks the log of tires in service: a JSON file that names CSV files and says what their columns mean.
 *
 * @param file path of the JSON file; CSV files are relative to it.
 * @param options the scenario whose names it uses.
 * @returns the log in SI units.
 * @throws RecordsError listing every problem with file, line, column, what was found and what is allowed.
 */
export function readLogbook(file: string, options: ReadLogbookOptions = {}): Logbook {
  const folder = dirname(resolve(file));
  const source = readBytes(file, file);
  return assemble(source, file, (name) => readBytes(resolve(folder, name), name), options);
}

/**
 * Checks a log given as text.
 *
 * @param text the JSON text that describes it.
 * @param files texts of the CSV files by the names it uses.
 * @param options the scenario whose names it uses.
 * @param name what to call the JSON text in messages.
 * @returns the log in SI units.
 * @throws RecordsError listing every problem.
 */
export function parseLogbook(
  text: string,
  files: Readonly<Record<string, string>>,
  options: ReadLogbookOptions = {},
  name = 'logbook',
): Logbook {
  const read: ReadFile = (csv) => {
    if (Object.hasOwn(files, csv)) return files[csv]!;
    const suggestion = didYouMean(csv, Object.keys(files));
    const problem = {
      file: csv,
      path: '',
      found: 'no such file',
      allowed: 'expected one of the texts given',
    };
    throw new RecordsError([suggestion === undefined ? problem : { ...problem, suggestion }]);
  };
  return assemble(text, name, read, options);
}

/** Longest file of a log, bytes: some million rows. */
const MOST_BYTES = 64_000_000;

function readBytes(path: string, name: string): Uint8Array {
  const fail = (found: string, allowed: string): never => {
    throw new RecordsError([{ file: name, path: '', found, allowed }]);
  };
  let bytes: Uint8Array;
  let most = MAX_BYTES;
  try {
    const found = statSync(path);
    // A pipe or device has no size to look at first.
    if (found.isFile()) most = Math.min(found.size, MOST_BYTES);
    bytes = readAtMost(path, most + 1);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'an unknown error';
    return fail(code === 'ENOENT' ? 'no such file' : code, 'expected a file that can be read');
  }
  if (bytes.length > most) fail('a longer file', `expected a file of at most ${MOST_BYTES} bytes`);
  return bytes;
}

/** The JSON file as checked by the schema. */
function readDescription(source: Source, name: string): { file: LogbookFile; json: JsonSource } {
  const json = readJsonSource(source, name);
  const merged = mergeLayers([json], []);
  const parsed = logbookSchema.safeParse(merged.value);
  if (!parsed.success) throw new RecordsError(problemsFromZod(parsed.error, merged, logbookSchema));
  return { file: parsed.data, json };
}

function problemOf(
  json: JsonSource,
  path: readonly string[],
  details: Omit<Problem, 'file' | 'line' | 'column' | 'path'>,
): Problem {
  const { line, column } = json.positionOf(path);
  return { file: json.fileName, line, column, path: path.join('.'), ...details };
}

/** First and last day of the log. */
function readDays(
  { firstDay, lastDay }: LogbookFile,
  json: JsonSource,
  problems: Problem[],
): { firstDay: number; lastDay: number } {
  const read = (key: 'firstDay' | 'lastDay', text: string): number => {
    const day = dayOfDate(text);
    if (day !== null) return day;
    const iso = likelyIsoDate(text);
    const details = { found: valueText(text), allowed: 'expected a date such as 2024-05-31' };
    problems.push(
      problemOf(json, [key], iso === null ? details : { ...details, suggestion: `did you mean ${iso}?` }),
    );
    return 0;
  };
  const days = { firstDay: read('firstDay', firstDay), lastDay: read('lastDay', lastDay) };
  if (problems.length === 0 && days.lastDay < days.firstDay) {
    const allowed = `expected a day from ${firstDay} on`;
    problems.push(problemOf(json, ['lastDay'], { found: lastDay, allowed }));
  }
  return days;
}

/** Depth from which cuts are written down, m. */
function readLeastCut({ leastCutDepth }: LogbookFile, json: JsonSource, problems: Problem[]): number | null {
  if (leastCutDepth === undefined) return null;
  const read = parseQuantity(leastCutDepth, 'length');
  if (read.ok && read.si >= 0 && read.si <= GREATEST_LEAST_CUT_M) return read.si;
  const allowed = read.ok ? 'expected 0 mm to 25 mm' : read.reason;
  problems.push(problemOf(json, ['leastCutDepth'], { found: valueText(leastCutDepth), allowed }));
  return null;
}

/** Columns under "words" that no table has. */
function checkWords({ words = {} }: LogbookFile, json: JsonSource, problems: Problem[]): void {
  const known = wordColumns();
  for (const name of Object.keys(words)) {
    if (known.includes(name)) continue;
    const suggestion = didYouMean(name, known);
    const details = { found: valueText(name), allowed: `expected a column of words: ${choiceText(known)}` };
    problems.push(
      problemOf(json, ['words', name], suggestion === undefined ? details : { ...details, suggestion }),
    );
  }
}

type Tables = { readonly [Name in TableName]: readonly RecordRow<Name>[] } & {
  /** False where a tire or a column of tires could not be read. */
  readonly allTires: boolean;
};

function readTables(file: LogbookFile, json: JsonSource, read: ReadFile, problems: Problem[]): Tables {
  const table = <Name extends TableName>(name: Name): RecordRow<Name>[] => {
    const description = file[name];
    if (description === undefined) return [];
    let source: Source;
    try {
      source = read(description.file);
    } catch (error) {
      if (!(error instanceof RecordsError)) throw error;
      problems.push(
        ...error.problems.map(({ found, suggestion }) => {
          const allowed = `expected a file that can be read: ${plainText(description.file, 100)}`;
          const details = { found, allowed };
          return problemOf(
            json,
            [name, 'file'],
            suggestion === undefined ? details : { ...details, suggestion },
          );
        }),
      );
      return [];
    }
    const ofTable: ProblemOfTable = (path, details) => problemOf(json, [name, ...path], details);
    return readTable(name, description, source, file.words ?? {}, problems, ofTable);
  };
  const before = problems.length;
  const tires = table('tires');
  const allTires = problems.length === before;
  return {
    tires,
    allTires,
    readings: table('readings'),
    flights: table('flights'),
    pressure: table('pressure'),
    cuts: table('cuts'),
  };
}

function assemble(source: Source, name: string, read: ReadFile, { scenario }: ReadLogbookOptions): Logbook {
  const { file, json } = readDescription(source, name);
  const problems: Problem[] = [];
  checkWords(file, json, problems);
  // Without its words half the cells would be told as wrong.
  const withWords = problems.length === 0;
  const { firstDay, lastDay } = readDays(file, json, problems);
  const withDays = withWords && problems.length === 0;
  const leastCutM = readLeastCut(file, json, problems);
  if (!withWords) throw new RecordsError(problems);

  const names = scenario === undefined ? null : knownNames(scenario);
  const rows = readTables(file, json, read, problems);
  // Without its days nothing can be held against them.
  if (!withDays) throw new RecordsError(problems);
  const context = { firstDay, lastDay, names, problems };
  const beforeTires = problems.length;
  const tires = tiresFromRows(rows.tires, lastDay, names, problems);
  if (!rows.allTires || problems.length > beforeTires) {
    flightsFromRows(rows.flights, null, context);
    readingsFromRows(rows.readings, null, context);
    checksFromRows(rows.pressure, null, context);
    cutsFromRows(rows.cuts, null, context);
    // Rows that name a tire which could not be read would all be told as wrong.
    const allowed = 'rows of the other tables are matched to tires once the rows above are right';
    problems.push({ file: file.tires.file, path: '', found: 'tires that could not be read', allowed });
    throw new RecordsError(problems);
  }
  const withFlights = file.flights !== undefined;
  checkTires(tires, firstDay, withFlights, problems);
  const finder = new TireFinder(tires);
  const flightRows = flightsFromRows(rows.flights, finder, context);
  const readingRows = readingsFromRows(rows.readings, finder, context);
  const logbook: Logbook = {
    name: file.name,
    note: file.note ?? null,
    firstDay,
    lastDay,
    tires,
    readings: readingRows.map(({ record }) => record),
    flights: flightRows.map(({ record }) => record),
    pressureChecks: checksFromRows(rows.pressure, finder, context),
    cuts: cutsFromRows(rows.cuts, finder, context),
    spreadPeriods: file.spreadPeriods,
    leastCutM,
    remarks: [],
  };
  const remarksOnReadings = checkReadings(readingRows, tires, names, problems);
  const allFlights = !problems.some((problem) => problem.file === file.flights?.file);
  checkFlights(flightRows, allFlights, problems);
  if (problems.length > 0) throw new RecordsError(problems);
  const remarks = [...checkWork(logbook, withFlights, problems), ...remarksOnReadings];
  if (names !== null) remarks.push(...remarksOnWorn(logbook, readingRows, names, withFlights));
  if (problems.length > 0) throw new RecordsError(problems);
  return { ...logbook, remarks };
}
