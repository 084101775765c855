import { dateOfDay } from '../calibrate/dates.js';
import type { Logbook } from '../calibrate/record-types.js';
import {
  recordsSummary,
  type EndCount,
  type EquipmentCount,
  type PlaceCount,
  type RecordsSummary,
} from '../calibrate/records-summary.js';
import { formatQuantity } from '../units.js';
import { countedText, wholeText } from './amounts.js';
import { TABLE_WIDTH } from './table.js';
import { percentText, printable, wrap } from './words.js';

/** How the ends of tires are known, in words. */
const END_WORDS: Readonly<Record<EndCount['kind'], string>> = {
  exact: 'ended on a known day',
  interval: 'ended between two days',
  left: 'ended at some time since fitted',
  right: 'had not ended',
};
/** Remarks that are listed; the rest are counted. */
const REMARKS_LISTED = 20;
const LABEL_WIDTH = 34;

/**
 * What a log holds, as text of at most 100 columns.
 *
 * @param logbook a checked log.
 * @param scenario name of the scenario whose names the log was held against; null: they were not checked.
 * @returns text ending without a line end.
 */
export function recordsText(logbook: Logbook, scenario: string | null): string {
  const summary = recordsSummary(logbook);
  const { name, note, firstDay, lastDay, remarks } = logbook;
  const checked =
    scenario === null
      ? 'Names of set-ups, tires, strips and surfaces were not checked: give --scenario FILE.'
      : `Its names are those of the scenario ${scenario}.`;
  const toldTo = summary.lastToldDay === null ? '' : `; last row ${dateOfDay(summary.lastToldDay)}`;
  const head = [
    name,
    ...(note === null ? [] : [note]),
    `${dateOfDay(firstDay)} to ${dateOfDay(lastDay)}${toldTo}. ${countedText(summary.airplanes.length, 'airplane')}. ${checked}`,
  ];
  return [
    head.map(paragraph).join('\n'),
    tiresText(summary),
    countsText(logbook, summary),
    remarksText(remarks),
  ].join('\n\n');
}

/**
 * What `gravelbar check` says of a log that is right.
 *
 * @param file name of the file that describes the log.
 * @param logbook as read from it.
 * @param scenario name of the scenario whose names the log was held against, or null.
 */
export function checkedText(file: string, logbook: Logbook, scenario: string | null): string {
  return `${printable(file)} is valid: ${recordsText(logbook, scenario)}`;
}

function paragraph(text: string): string {
  return wrap(printable(text), TABLE_WIDTH, '  ');
}

function line(label: string, text: string): string {
  const cut = printable(label);
  // A long name stands on a line of its own.
  const start = cut.length > LABEL_WIDTH ? `${cut}\n${' '.repeat(LABEL_WIDTH)}` : cut.padEnd(LABEL_WIDTH);
  const [first = '', ...rest] = wrap(printable(text), TABLE_WIDTH - LABEL_WIDTH - 4).split('\n');
  return `  ${[`${start}  ${first}`, ...rest.map((more) => `${' '.repeat(LABEL_WIDTH + 4)}${more}`)].join('\n')}`;
}

function tiresText({ tires, mainTires, takenUpUsed, ends, equipment }: RecordsSummary): string {
  const kinds = [...new Set(ends.map(({ kind }) => kind))];
  const used = takenUpUsed === 0 ? '' : `; ${takenUpUsed} had flown before the log took them up`;
  return [
    paragraph(`${countedText(tires, 'tire')}: ${mainTires} main, ${tires - mainTires} nose or tail${used}`),
    ...kinds.map((kind) => endLine(kind, ends)),
    ...equipment.map((each) => line(equipmentName(each), equipmentCount(each))),
  ].join('\n');
}

function endLine(kind: EndCount['kind'], ends: readonly EndCount[]): string {
  const own = ends.filter((each) => each.kind === kind);
  const all = own.reduce((sum, { tires }) => sum + tires, 0);
  const causes = own.map(({ cause, tires }) => `${tires} ${cause ?? 'for a cause not known'}`);
  return line(END_WORDS[kind], `${all}: ${causes.join(', ')}`);
}

function equipmentName({ setup, tireClass }: EquipmentCount): string {
  if (setup !== null) return `set-up ${setup}`;
  return tireClass === null ? 'neither set-up nor class told' : `tire ${tireClass}`;
}

function equipmentCount({ mainTires, thirdTires }: EquipmentCount): string {
  return `${mainTires} main, ${thirdTires} nose or tail`;
}

/** Name of a place for people. */
export function placeName({ strip, surface }: Pick<PlaceCount, 'strip' | 'surface'>): string {
  return strip ?? surface ?? 'place not told';
}

function countsText(logbook: Logbook, { readings, flights, pressureChecks, cuts }: RecordsSummary): string {
  const bands = Object.entries(readings.byBand).map(([band, count]) => `${count} ${band}`);
  const none = 'none';
  const least = logbook.leastCutM;
  const rate =
    least === null
      ? 'they tell no rate, as the log does not state "leastCutDepth"'
      : `written down from ${formatQuantity(least, 'length', 'mm', 3)} on`;
  const hours =
    flights.withoutHours === 0
      ? `${wholeText(flights.hoursTold)} hours`
      : `${wholeText(flights.hoursTold)} hours in rows that tell them (${flights.withoutHours} do not)`;
  const periods =
    flights.periods === 0
      ? ''
      : `; ${flights.periods} over several days${logbook.spreadPeriods ? ', spread evenly' : ''}`;
  return [
    line(
      'tread readings',
      readings.count === 0
        ? none
        : `${wholeText(readings.count)} of ${countedText(readings.tires, 'tire')}: ${bands.join(', ')}`,
    ),
    line(
      'flights',
      flights.rows === 0
        ? none
        : `${countedText(flights.rows, 'row')}${periods}; ${countedText(flights.landings, 'landing')}, ${hours}`,
    ),
    ...flights.places.map((place) =>
      line(
        `  ${placeName(place)}`,
        `${countedText(place.landings, 'landing')}, ${percentText(flights.landings === 0 ? 0 : place.landings / flights.landings)}`,
      ),
    ),
    line(
      'pressure checks',
      pressureChecks.count === 0
        ? none
        : `${wholeText(pressureChecks.count)} of ${countedText(pressureChecks.tires, 'tire')}; ${pressureChecks.withTemperature} with temperature`,
    ),
    line(
      'cuts found',
      cuts.count === 0
        ? `none; ${rate}`
        : `${cuts.count}, ${cuts.withDepth} with depth, ${cuts.inSide} in the side; ${rate}`,
    ),
  ].join('\n');
}

function remarksText(remarks: Logbook['remarks']): string {
  if (remarks.length === 0) return 'No remarks: every row was read as written.';
  const listed = remarks.slice(0, REMARKS_LISTED).map(({ file, line: at, path, found, allowed }) => {
    const place = [file, at].filter((each) => each !== undefined).join(':');
    return `  ${wrap(printable(`${place}  ${path}: ${found}; ${allowed}`), TABLE_WIDTH - 2, '    ')}`;
  });
  const more = remarks.length > REMARKS_LISTED ? [`  and ${remarks.length - REMARKS_LISTED} more`] : [];
  return [`${countedText(remarks.length, 'remark')}, all rows were read:`, ...listed, ...more].join('\n');
}
