import { lastDayPossible } from './tire-finder.js';
import type { FailureCause, Logbook, TireEnd, TireRecord } from './record-types.js';

/** Tires whose ends are known in the same way. */
export interface EndCount {
  /** `exact` on a day, `interval` between two days, `left` at some time since fitted, `right` not ended. */
  readonly kind: TireEnd['kind'];
  /** Cause of an end, null if not known; for `right` why it stands there. */
  readonly cause: FailureCause | 'in service' | 'sound' | null;
  readonly tires: number;
}

/** Landings of a log at one place. */
export interface PlaceCount {
  /** Strip of the scenario, else surface; both null where neither is told. */
  readonly strip: string | null;
  readonly surface: string | null;
  readonly landings: number;
}

/** Tires of a log with the same equipment. */
export interface EquipmentCount {
  /** Set-up, else class of tire; both null where neither is told. */
  readonly setup: string | null;
  readonly tireClass: string | null;
  readonly mainTires: number;
  readonly thirdTires: number;
}

/** What a log holds. */
export interface RecordsSummary {
  readonly airplanes: readonly string[];
  readonly tires: number;
  readonly mainTires: number;
  readonly equipment: readonly EquipmentCount[];
  /** By kind and cause, in order of first appearance within each kind. */
  readonly ends: readonly EndCount[];
  /** Tires that had flown before the log took them up. */
  readonly takenUpUsed: number;
  /** First day a tire was fitted, which may lie before the log where it has no flights; null without tires. */
  readonly firstFittedDay: number | null;
  /** Last day on which something is told of a tire or a flight; null for an empty log. */
  readonly lastToldDay: number | null;
  readonly readings: {
    readonly count: number;
    readonly tires: number;
    readonly byBand: Readonly<Record<string, number>>;
  };
  readonly flights: {
    readonly rows: number;
    /** Rows over several days. */
    readonly periods: number;
    readonly landings: number;
    /** Flight hours, h, of the rows that tell them. */
    readonly hoursTold: number;
    /** Rows without hours. */
    readonly withoutHours: number;
    /** Most landings first. */
    readonly places: readonly PlaceCount[];
  };
  readonly pressureChecks: {
    readonly count: number;
    readonly tires: number;
    readonly withTemperature: number;
  };
  readonly cuts: { readonly count: number; readonly withDepth: number; readonly inSide: number };
}

const KINDS = ['exact', 'interval', 'left', 'right'] as const;

function add(counts: Map<string, number>, key: string, more: number): void {
  counts.set(key, (counts.get(key) ?? 0) + more);
}

function endCounts(tires: readonly TireRecord[]): EndCount[] {
  const counts = new Map<string, EndCount>();
  for (const { end, count } of tires) {
    const cause = end.kind === 'right' ? end.reason : end.cause;
    const key = JSON.stringify([end.kind, cause]);
    counts.set(key, { kind: end.kind, cause, tires: (counts.get(key)?.tires ?? 0) + count });
  }
  return KINDS.flatMap((kind) => [...counts.values()].filter((each) => each.kind === kind));
}

function equipmentCounts(tires: readonly TireRecord[]): EquipmentCount[] {
  const counts = new Map<string, EquipmentCount>();
  for (const { setup, tireClass, position, count } of tires) {
    // The class of a set-up differs between main and third wheel: one line for both.
    const key = JSON.stringify(setup === null ? [null, tireClass] : [setup]);
    const before = counts.get(key);
    const third = position === 'third';
    counts.set(key, {
      setup,
      tireClass: setup === null ? tireClass : null,
      mainTires: (before?.mainTires ?? 0) + (third ? 0 : count),
      thirdTires: (before?.thirdTires ?? 0) + (third ? count : 0),
    });
  }
  return [...counts.values()];
}

/**
 * Landings by place, most first.
 *
 * @param rows flights or parts of an exposure.
 */
export function placeCounts(rows: readonly PlaceCount[]): PlaceCount[] {
  const counts = new Map<string, PlaceCount>();
  for (const { strip, surface, landings } of rows) {
    const key = JSON.stringify([strip, surface]);
    counts.set(key, { strip, surface, landings: (counts.get(key)?.landings ?? 0) + landings });
  }
  const name = ({ strip, surface }: PlaceCount): string => strip ?? surface ?? '';
  return [...counts.values()].sort(
    (one, other) => other.landings - one.landings || (name(one) < name(other) ? -1 : 1),
  );
}

/**
 * What a log holds, counted.
 *
 * @param logbook a checked log.
 * @returns counts; a row of several tires counts as so many.
 */
export function recordsSummary(logbook: Logbook): RecordsSummary {
  const { tires, readings, flights, pressureChecks, cuts } = logbook;
  const all = tires.reduce((sum, { count }) => sum + count, 0);
  const third = tires.reduce((sum, { position, count }) => sum + (position === 'third' ? count : 0), 0);
  const byBand = new Map<string, number>();
  for (const { band } of readings) add(byBand, band, 1);
  const days = [
    ...tires.map(({ fittedDay }) => fittedDay),
    // A tire in service is taken to be so to the end of the log: that is no row.
    ...tires.flatMap((tire) =>
      tire.end.kind === 'right' && tire.end.reason === 'in service' ? [] : [lastDayPossible(tire)],
    ),
    ...flights.map(({ toDay }) => toDay),
    ...[...readings, ...pressureChecks, ...cuts].map(({ day }) => day),
  ];
  return {
    airplanes: [...new Set(tires.map(({ airplane }) => airplane))],
    tires: all,
    mainTires: all - third,
    equipment: equipmentCounts(tires),
    ends: endCounts(tires),
    takenUpUsed: tires.reduce(
      (sum, { landingsBefore, flightHoursBefore, count }) =>
        sum + (landingsBefore > 0 || (flightHoursBefore ?? 0) > 0 ? count : 0),
      0,
    ),
    firstFittedDay: least(tires.map(({ fittedDay }) => fittedDay)),
    lastToldDay: least(
      days.map((day) => -day),
      -1,
    ),
    readings: {
      count: readings.length,
      tires: new Set(readings.map(({ tire }) => tire)).size,
      byBand: Object.fromEntries(byBand),
    },
    flights: {
      rows: flights.length,
      periods: flights.filter(({ fromDay, toDay }) => toDay > fromDay).length,
      landings: flights.reduce((sum, { landings }) => sum + landings, 0),
      hoursTold: flights.reduce((sum, { flightHours }) => sum + (flightHours ?? 0), 0),
      withoutHours: flights.filter(({ flightHours }) => flightHours === null).length,
      places: placeCounts(flights),
    },
    pressureChecks: {
      count: pressureChecks.length,
      tires: new Set(pressureChecks.map(({ tire }) => tire)).size,
      withTemperature: pressureChecks.filter(({ temperatureK }) => temperatureK !== null).length,
    },
    cuts: {
      count: cuts.length,
      withDepth: cuts.filter(({ depthM }) => depthM !== null).length,
      inSide: cuts.filter(({ where }) => where === 'side').length,
    },
  };
}

/** Least of some numbers, or null of none; `sign` -1 gives it back with the other sign. */
function least(values: readonly number[], sign = 1): number | null {
  return values.length === 0 ? null : sign * values.reduce((low, value) => Math.min(low, value), Infinity);
}
