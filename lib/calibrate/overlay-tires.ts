import type { CompiledMix, CompiledScenario } from '../scenario/compile.js';
import { exposureBetween, indexFlights } from './exposure.js';
import { tireHistories } from './histories.js';
import { RecordNames } from './likelihood-names.js';
import type { PlannedPart } from './likelihood-plan-types.js';
import { lifeRecords } from './lives.js';
import type { Logbook, TireHistory, TireRecord } from './record-types.js';

/** A tire of the records, as a life curve sees it. */
export interface OverlayTire {
  readonly id: string;
  /** Place among the airplanes of the set-up. */
  readonly airplane: number;
  /** 0 left main, 1 right main, 2 nose or tail. */
  readonly wheel: number;
  /** Landings at which it came under watch, and at which it ended or was last seen. */
  readonly entry: number;
  readonly time: number;
  readonly ended: boolean;
  /** Landings at which the log would have stopped watching it; Infinity where it does not tell. */
  readonly watched: number;
  /** Tires alike. */
  readonly count: number;
}

/** Tires of one set-up. */
export interface OverlayGroup {
  /** Index of the set-up in the scenario. */
  readonly setup: number;
  readonly airplanes: readonly string[];
  /** Strips of the landings on these tires, one mix for each airplane. */
  readonly mixes: readonly CompiledMix[];
  readonly tires: readonly OverlayTire[];
}

/** Each tire by itself: those alike as often as they are. */
export function singlesOf({ tires }: OverlayGroup): OverlayTire[] {
  return tires.flatMap((tire) => new Array<OverlayTire>(tire.count).fill(tire));
}

/** What could not be taken over as it is. */
export interface OverlayRemarks {
  /** Ends known only within a range. */
  ranges: number;
  /** Tires that came off sound, before the end of the log. */
  sound: number;
  /** Tires without a set-up in the scenario, or without a landing. */
  leftOut: number;
  partWorn: number;
  /** Share of landings with a braking habit other than normal. */
  brakedShare: number;
  unknownLandings: number;
  unknownMix: string;
  /** Landings a year of the airplanes of the log; null where it holds no flights. */
  landingsPerYear: number | null;
}

const WHEELS = { 'left main': 0, 'right main': 1, third: 2 } as const;
const DAYS_PER_YEAR = 365.25;

/**
 * Tires of the records by set-up, with the strips that their airplanes flew on them.
 *
 * @param scenario compiled scenario.
 * @param logbook checked records.
 * @param position which wheels.
 * @param mix runway mix of landings on ground that the log does not name; the first of the scenario where left out.
 * @throws UsageError for names that the scenario does not have, and where no tire is left.
 */
export function overlayGroups(
  scenario: CompiledScenario,
  logbook: Logbook,
  position: 'main' | 'third',
  mix: string | undefined,
): { groups: OverlayGroup[]; remarks: OverlayRemarks } {
  const names = new RecordNames(scenario, mix);
  const index = indexFlights(logbook);
  const setupOf = (tire: TireRecord): number => {
    const kind = names.kind(tire);
    return kind === null ? -1 : scenario.setups.findIndex(({ name }) => name === names.kinds[kind]!.setup);
  };
  const onWheel = (tire: TireRecord): boolean => (tire.position === 'third') === (position === 'third');
  const lives = new Map(lifeRecords(logbook, { which: onWheel }).map((life) => [life.tire, life]));
  const remarks: OverlayRemarks = {
    ranges: 0,
    sound: 0,
    leftOut: 0,
    partWorn: 0,
    brakedShare: 0,
    unknownLandings: 0,
    unknownMix: names.unknownMix,
    landingsPerYear: landingsPerYear(logbook),
  };
  const bySetup = new Map<number, { airplanes: string[]; parts: PlannedPart[][]; tires: OverlayTire[] }>();
  // The order of records must not matter.
  const histories = [...tireHistories(logbook)].sort(
    (one, other) => one.tire.fittedDay - other.tire.fittedDay || (one.tire.id < other.tire.id ? -1 : 1),
  );
  for (const history of histories) {
    const { tire } = history;
    const life = lives.get(tire.id);
    if (life === undefined) continue;
    const setup = setupOf(tire);
    const ended = life.to < Infinity;
    const time = ended ? 0.5 * (life.from + life.to) : life.from;
    if (setup < 0 || !(time > life.entry)) {
      remarks.leftOut += tire.count;
      continue;
    }
    if (ended && life.from < life.to) remarks.ranges += tire.count;
    if (tire.end.kind === 'right' && tire.end.reason === 'sound') remarks.sound += tire.count;
    if (life.entry > 0) remarks.partWorn += tire.count;
    const group = bySetup.get(setup) ?? { airplanes: [], parts: [], tires: [] };
    bySetup.set(setup, group);
    let airplane = group.airplanes.indexOf(tire.airplane);
    if (airplane < 0) {
      airplane = group.airplanes.push(tire.airplane) - 1;
      group.parts.push([]);
    }
    group.parts[airplane]!.push(...partsOf(history, names));
    const flown = exposureBetween(index, tire.airplane, tire.fittedDay, logbook.lastDay).landings;
    const told = (index.get(tire.airplane) ?? []).length > 0;
    group.tires.push({
      id: tire.id,
      airplane,
      wheel: WHEELS[tire.position],
      entry: life.entry,
      time,
      ended,
      watched: !ended ? time : told ? Math.max(time, life.entry + flown) : Infinity,
      count: tire.count,
    });
  }
  const all = [...bySetup.values()].flatMap(({ parts }) => parts.flat());
  const landings = all.reduce((sum, part) => sum + part.landings, 0);
  const braked = all.reduce((sum, part) => sum + (part.braking === 1 ? 0 : part.landings), 0);
  remarks.brakedShare = landings > 0 ? braked / landings : 0;
  remarks.unknownLandings = names.unknownLandings;
  const groups = [...bySetup]
    .sort(([one], [other]) => one - other)
    .map(([setup, { airplanes, parts, tires }]): OverlayGroup => ({
      setup,
      airplanes,
      mixes: airplanes.map((name, at) => mixOf(name, parts[at]!, names)),
      tires,
    }));
  return { groups, remarks };
}

/** Landings of a tire by place; where the log states no more than their number, on ground that is not known. */
function partsOf({ tire, exposure }: TireHistory, names: RecordNames): PlannedPart[] {
  const parts = names.parts(exposure);
  if (parts.length > 0) return parts;
  const stated = (tire.landingsStated ?? 0) - tire.landingsBefore;
  return names.somewhere(Math.max(1, stated));
}

function mixOf(name: string, parts: readonly PlannedPart[], names: RecordNames): CompiledMix {
  const byStrip = new Map<number, number>();
  let total = 0;
  for (const { place, landings } of parts) {
    total += landings;
    for (const { strip, share } of names.places[place]!.strips) {
      byStrip.set(strip, (byStrip.get(strip) ?? 0) + landings * share);
    }
  }
  const strips = [...byStrip.keys()].sort((one, other) => one - other);
  let sum = 0;
  const cumulativeShares = strips.map((strip) => (sum += byStrip.get(strip)! / total));
  cumulativeShares[cumulativeShares.length - 1] = 1;
  return { name, strips, cumulativeShares };
}

function landingsPerYear({ flights, firstDay, lastDay }: Logbook): number | null {
  const airplanes = new Set(flights.map(({ airplane }) => airplane)).size;
  if (airplanes === 0 || lastDay <= firstDay) return null;
  const landings = flights.reduce((sum, flight) => sum + flight.landings, 0);
  return (landings / airplanes) * (DAYS_PER_YEAR / (lastDay - firstDay));
}
