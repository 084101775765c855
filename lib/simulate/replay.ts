import { UsageError } from '../problems.js';
import { flightHoursAfter } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { REMOVAL_CAUSES, type RemovalCause, type WearCause } from './columns.js';
import { DRAW, GROUND, TRACK } from './layout.js';
import { indexOfName } from './names.js';
import type { WatchedSpan } from './pairing-run.js';
import { Simulator } from './trials.js';
import type { Wheel } from './wheel.js';
import { DrawnWorlds } from './world.js';

/** Which trial to open. */
export interface ReplayRequest {
  /** Trial number, counted from 0 as in the columns. */
  readonly trial: number;
  /** Name of the set-up. */
  readonly setup: string;
  /** Name of the runway mix. */
  readonly mix: string;
  /** Seed; default: that of the scenario. */
  readonly seed?: string | number | undefined;
  /** True for the twin of the trial: the same world with fresh landings. */
  readonly twin?: boolean | undefined;
}

/** One wheel after a landing, before any tire is changed. */
export interface WheelRecord {
  readonly position: 'left main' | 'right main' | 'third';
  /** Gauge pressure at the strip, Pa. */
  readonly gaugePa: number;
  readonly loadN: number;
  readonly deflectionM: number;
  readonly footprintWidthM: number;
  /** Rubber left above the cords, m: negative once cords are worn into. */
  readonly rubberLeftM: {
    readonly centre: number;
    readonly innerShoulder: number;
    readonly outerShoulder: number;
  };
  /** Groove left at the worst spot, m; negative below the groove. */
  readonly grooveLeftM: number;
  /** Rubber worn off in this landing by cause, m3. */
  readonly wornM3: Readonly<Record<WearCause, number>>;
  /** Chance that this landing flattened the tire. */
  readonly flatChance: number;
  /** Expected cuts into the carcass in this landing. */
  readonly cutHazard: number;
  /** A cut into the carcass waits for the next inspection. */
  readonly cutPending: boolean;
  readonly leaking: boolean;
  readonly beadSlipped: boolean;
  /** Why the tire came off after this landing; null if it stayed. */
  readonly removed: Exclude<RemovalCause, 'in service'> | null;
}

/** One landing of a replayed trial. */
export interface LandingRecord {
  /** Landing number, from 1. */
  readonly landing: number;
  /** Days since the start of the first season. */
  readonly day: number;
  /** Flight hours flown when the landing is done. */
  readonly flightHours: number;
  /** Tires were checked and set to their cold pressure just before. */
  readonly pressureChecked: boolean;
  readonly strip: string;
  readonly wet: boolean;
  readonly massKg: number;
  readonly touchdownSpeedMps: number;
  readonly sinkRateMps: number;
  readonly brakedShare: number;
  /** Hardest braking over wheel load, as far as the ground grips. */
  readonly peakBraking: number;
  readonly sideShift: number;
  readonly wearMultiplier: number;
  readonly temperatureK: number;
  /** Wheels still followed: both mains until their first life and the season are over, the third wheel likewise. */
  readonly wheels: readonly WheelRecord[];
}

/** A whole trial, landing by landing. */
export interface Story {
  readonly seed: string;
  readonly trial: number;
  readonly setup: string;
  readonly mix: string;
  /** Values of all assumptions in this world, SI units, by their place in the scenario. */
  readonly world: Readonly<Record<string, number>>;
  readonly landings: readonly LandingRecord[];
}

/**
 * Opens one trial of one pairing and tells what happened, landing by landing. The figures are those that a run with
 * the same scenario and seed adds up.
 *
 * @param scenario compiled scenario.
 * @param request which trial, set-up and mix.
 * @returns the story from the first landing to the last one needed.
 * @throws UsageError for a name or a trial number that does not exist.
 */
export function replay(scenario: CompiledScenario, request: ReplayRequest): Story {
  const { trial } = request;
  if (!Number.isSafeInteger(trial) || trial < 0) {
    throw new UsageError(`trial is ${trial}; it must be a whole number, 0 or more`);
  }
  const seeded = request.seed === undefined ? scenario : { ...scenario, seed: String(request.seed) };
  const setup = indexOfName('set-up', request.setup, seeded.setups);
  const mix = indexOfName('runway mix', request.mix, seeded.mixes);
  const landings: LandingRecord[] = [];
  const worlds = new DrawnWorlds(seeded);
  const simulator = new Simulator(seeded, [{ setup, mix }], worlds, {
    everyLanding: true,
    see: (span) => landings.push(record(seeded, span)),
  });
  simulator.runTrial(trial, request.twin === true ? 1 : 0);
  const values = new Float64Array(seeded.assumptions.length);
  worlds.fill(trial, values);
  return {
    seed: seeded.seed,
    trial,
    setup: request.setup,
    mix: request.mix,
    world: Object.fromEntries(seeded.assumptions.map(({ path }, index) => [path, values[index]!])),
    landings,
  };
}

function record(scenario: CompiledScenario, seen: WatchedSpan): LandingRecord {
  const { run, draws, ground, from: j } = seen;
  const landing = draws.firstLanding + j + 1;
  const wheels = run.wheels.flatMap((wheel, w) =>
    (w === 2 ? seen.thirdFlown : seen.mainsFlown) ? [wheelRecord(wheel, w, j, run.removed[w]!)] : [],
  );
  return {
    landing,
    day: draws.data[DRAW.day + j]!,
    flightHours: flightHoursAfter(scenario.calendar, landing),
    pressureChecked: run.wheels[seen.mainsFlown ? 0 : 2]!.track.data[TRACK.reading + j]! > 0,
    strip: scenario.strips[ground.strip[j]!]!.name,
    wet: ground.wet[j] === 1,
    massKg: draws.data[DRAW.massKg + j]!,
    touchdownSpeedMps: draws.data[DRAW.speedMps + j]!,
    sinkRateMps: draws.data[DRAW.sinkMps + j]!,
    brakedShare: draws.data[DRAW.brakedShare + j]!,
    peakBraking: ground.data[GROUND.peakBraking + j]!,
    sideShift: draws.data[DRAW.sideShift + j]!,
    wearMultiplier: draws.data[DRAW.wearScatter + j]!,
    temperatureK: draws.data[DRAW.temperatureK + j]!,
    wheels,
  };
}

const POSITIONS = ['left main', 'right main', 'third'] as const;

function wheelRecord(
  { constants, track, cutPending, leakDay }: Wheel,
  w: number,
  j: number,
  removed: number,
): WheelRecord {
  const { rubberM, newTreadM } = constants;
  const cause = REMOVAL_CAUSES[removed]!;
  return {
    position: POSITIONS[w]!,
    gaugePa: track.data[TRACK.gaugePa + j]!,
    loadN: track.data[TRACK.loadN + j]!,
    deflectionM: track.data[TRACK.deflectionM + j]!,
    footprintWidthM: track.data[TRACK.footprintWidthM + j]!,
    rubberLeftM: {
      centre: rubberM - track.data[TRACK.centreLostM + j]!,
      innerShoulder: rubberM - track.data[TRACK.innerLostM + j]!,
      outerShoulder: rubberM - track.data[TRACK.outerLostM + j]!,
    },
    grooveLeftM: newTreadM - track.data[TRACK.deepestLostM + j]!,
    wornM3: {
      'spin-up': track.data[TRACK.spinUpWornM3 + j]!,
      braking: track.data[TRACK.brakingWornM3 + j]!,
      pivots: track.data[TRACK.pivotWornM3 + j]!,
      squirm: track.data[TRACK.squirmWornM3 + j]!,
      scrub: track.data[TRACK.scrubWornM3 + j]!,
    },
    flatChance: track.data[TRACK.flatChance + j]!,
    cutHazard: track.data[TRACK.cutHazard + j]!,
    cutPending,
    leaking: leakDay >= 0,
    beadSlipped: track.data[TRACK.beadSlipped + j] === 1,
    removed: cause === 'in service' ? null : cause,
  };
}
