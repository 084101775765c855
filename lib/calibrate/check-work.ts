import type { Problem } from '../problems.js';
import { problemAtRow } from './check-tires.js';
import { dateOfDay } from './dates.js';
import { exposureBetween, indexFlights, periodCutBy, type FlightIndex } from './exposure.js';
import { lastDayOn, lastDayPossible } from './tire-finder.js';
import type { FlightRecord, Logbook, RecordPlace, TireRecord } from './record-types.js';

/** Landings stated and landings flown may differ by this share before a reader should know. */
const STATED_SLACK = 0.05;

/**
 * Work on tires against the flying between: rows over several days that it cuts in two, tires that failed without a
 * landing, tires without flights.
 *
 * @returns remarks: nothing that is wrong, but a reader should know.
 */
export function checkWork(logbook: Logbook, withFlights: boolean, problems: Problem[]): Problem[] {
  const remarks: Problem[] = [];
  remarkSameCuts(logbook, remarks);
  if (!withFlights) {
    for (const tire of logbook.tires) checkStated(tire, problems);
    return remarks;
  }
  const index = indexFlights(logbook);
  if (!logbook.spreadPeriods) checkPeriods(logbook, index, problems);
  for (const tire of logbook.tires) checkTire(tire, index, problems, remarks);
  for (const rows of index.values()) remarkGaps(rows, remarks);
  const untold = logbook.flights.filter(
    ({ strip, surface, landings }) => strip === null && surface === null && landings > 0,
  );
  if (untold.length > 0) {
    const landings = untold.reduce((sum, flight) => sum + flight.landings, 0);
    remarks.push(
      problemAtRow(untold[0]!.place, 'strip', {
        found: `${landings} landings in ${untold.length} rows with neither strip nor surface`,
        allowed: 'wear on them can not be told by surface',
      }),
    );
  }
  return remarks;
}

/** Cuts alike in all that is told of them: there may be two such, or one was written down twice. */
function remarkSameCuts({ cuts }: Logbook, remarks: Problem[]): void {
  const seen = new Map<string, RecordPlace>();
  const again: [one: RecordPlace, other: RecordPlace][] = [];
  for (const { tire, day, depthM, where, place } of cuts) {
    const key = JSON.stringify([tire, day, depthM, where]);
    const earlier = seen.get(key);
    if (earlier === undefined) seen.set(key, place);
    else again.push([earlier, place]);
  }
  const [first] = again;
  if (first === undefined) return;
  remarks.push(
    problemAtRow(first[1], 'depth', {
      found: `${again.length === 1 ? 'a cut' : `${again.length} cuts, the first of them`} as in line ${first[0].line}`,
      allowed: 'each row counts as a cut of its own',
    }),
  );
}

/** Days between rows over several days that no row covers: they may be a rest, or missing. */
function remarkGaps(rows: readonly FlightRecord[], remarks: Problem[]): void {
  // In a log kept by the day, a day without a row is a day without flights.
  if (rows.every(({ fromDay, toDay }) => fromDay === toDay)) return;
  let reach: FlightRecord | undefined;
  for (const row of rows) {
    if (reach !== undefined && row.fromDay > reach.toDay + 1) {
      remarks.push(
        problemAtRow(row.place, 'date', {
          found: `no row for ${row.airplane} from ${dateOfDay(reach.toDay + 1)} to ${dateOfDay(row.fromDay - 1)}`,
          allowed: 'it is taken not to have flown on those days',
        }),
      );
    }
    if (reach === undefined || row.toDay > reach.toDay) reach = row;
  }
}

/** Without flights, a life can only be told by what is stated. */
function checkStated(
  { landingsStated, flightHoursStated, landingsBefore, place }: TireRecord,
  problems: Problem[],
): void {
  if (landingsStated === null && flightHoursStated === null) {
    problems.push(
      problemAtRow(place, 'landings', {
        found: 'a blank cell',
        allowed: 'expected its landings or hours, as the log has no table of flights',
      }),
    );
  }
  if (landingsStated !== null && landingsStated < landingsBefore) {
    const allowed = `expected at least the ${landingsBefore} landings before it was fitted`;
    problems.push(problemAtRow(place, 'landings', { found: String(landingsStated), allowed }));
  }
}

/** Days of work that divide a row over several days. */
function checkPeriods(logbook: Logbook, index: FlightIndex, problems: Problem[]): void {
  const told = new Set<FlightRecord>();
  const airplaneOf = new Map(logbook.tires.map(({ id, airplane }) => [id, airplane]));
  const look = (airplane: string, day: number, place: RecordPlace, work: string): void => {
    const row = periodCutBy(index, airplane, day);
    if (row === null || told.has(row)) return;
    told.add(row);
    problems.push(
      problemAtRow(row.place, 'date', {
        found: `${dateOfDay(row.fromDay)} to ${dateOfDay(row.toDay)}`,
        allowed: `a tire was ${work} on ${dateOfDay(day)} (${place.file}, line ${place.line}): its landings before and after are not known`,
        suggestion: 'split the row after that day, or allow "spreadPeriods"',
      }),
    );
  };
  for (const tire of logbook.tires) {
    look(tire.airplane, tire.fittedDay, tire.place, 'fitted');
    look(tire.airplane, lastDayOn(tire), tire.place, 'last seen or taken off');
    look(tire.airplane, lastDayPossible(tire), tire.place, 'taken off');
  }
  for (const { tire, day, place } of logbook.readings) look(airplaneOf.get(tire)!, day, place, 'read');
}

function checkTire(tire: TireRecord, index: FlightIndex, problems: Problem[], remarks: Problem[]): void {
  const { airplane, fittedDay, end, place, landingsBefore, landingsStated } = tire;
  const { landings } = exposureBetween(index, airplane, fittedDay, lastDayPossible(tire));
  if (landings === 0 && end.kind !== 'right') {
    problems.push(
      problemAtRow(place, 'removed', {
        found: `a tire that failed by ${dateOfDay(lastDayPossible(tire))}`,
        allowed: `expected landings of ${airplane} since ${dateOfDay(fittedDay)}: there are none in the log`,
        suggestion: 'write "sound" as its cause if no landing ended it',
      }),
    );
  } else if (landings === 0 && lastDayOn(tire) > fittedDay) {
    const allowed = `no landings of ${airplane} are in the log since then`;
    remarks.push(problemAtRow(place, 'fitted', { found: dateOfDay(fittedDay), allowed }));
  }
  const flown = landingsBefore + landings;
  if (landingsStated !== null && Math.abs(landingsStated - flown) > STATED_SLACK * flown) {
    const allowed = `the flights of the log give ${Math.round(flown)} landings; what is stated goes before`;
    remarks.push(problemAtRow(place, 'landings', { found: String(landingsStated), allowed }));
  }
}
