/** Sums over a span of landings: what goes into the tally of a trial. */
import type { WheelConstants } from './constants.js';
import type { Ground } from './ground.js';
import type { LandingDraws } from './landing-draws.js';
import { BLOCK_LANDINGS, DRAW, GROUND, TRACK } from './layout.js';
import { thrownStoneHits } from '../models/thrown-stones.js';
import { PLACES, type Tally } from './tally.js';
import type { Wheel, WheelTrack } from './wheel.js';

// Columns as constants of this module: the compiler folds these, but not what is imported.
const DRAWN_SPEED_MPS = DRAW.speedMps;
const GROUND_LOOSE_STONES = GROUND.looseStones;
const READING = TRACK.reading;
const GAUGE_PA = TRACK.gaugePa;
const FOOTPRINT_WIDTH_M = TRACK.footprintWidthM;
const SPIN_UP_WORN_M3 = TRACK.spinUpWornM3;
const BRAKING_WORN_M3 = TRACK.brakingWornM3;
const SQUIRM_WORN_M3 = TRACK.squirmWornM3;
const SCRUB_WORN_M3 = TRACK.scrubWornM3;
const PIVOT_WORN_M3 = TRACK.pivotWornM3;
const ROLLOUT_WORN_M3 = TRACK.rolloutWornM3;
const TAXI_WORN_M3 = TRACK.taxiWornM3;
const CENTRE_LOST_M = TRACK.centreLostM;
const TREAD_HAZARD = TRACK.treadHazard;
const SIDEWALL_HAZARD = TRACK.sidewallHazard;
const PINCH_HAZARD = TRACK.pinchHazard;
const VALVE_HAZARD = TRACK.valveHazard;
const BEAD_SLIPPED = TRACK.beadSlipped;
const FLAT_CHANCE = TRACK.flatChance;

const CAPACITY = BLOCK_LANDINGS;

/** A reading below this share of the cold setting counts as low: FAA AC 20-97B action table (from memory). */
export const LOW_READING_SHARE = 0.9;

/** Adds the hazards of one wheel over a span of the season; a flat of a tire with a tube takes a new one. */
export function countHazards(
  tally: Tally,
  track: WheelTrack,
  tubed: boolean,
  from: number,
  to: number,
): void {
  const t = track.data;
  let flats = 0;
  let tread = 0;
  let sidewall = 0;
  let pinch = 0;
  let valve = 0;
  let slips = 0;
  for (let j = Math.max(0, from), end = Math.min(CAPACITY, to); j < end; j++) {
    flats += t[FLAT_CHANCE + j]!;
    tread += t[TREAD_HAZARD + j]!;
    sidewall += t[SIDEWALL_HAZARD + j]!;
    pinch += t[PINCH_HAZARD + j]!;
    valve += t[VALVE_HAZARD + j]!;
    slips += t[BEAD_SLIPPED + j]!;
  }
  tally.flatsHazard += flats;
  if (tubed) tally.tubesHazard += flats;
  tally.treadHazard += tread;
  tally.sidewallHazard += sidewall;
  tally.pinchHazard += pinch;
  tally.valveHazard += valve;
  tally.beadSlips += slips;
}

/**
 * Adds the chances of a flat on any wheel over a span of the season, landing by landing, until there has been one, and
 * those of each wheel away from help. A flat happens after the last landing of a span, if at all, so its own landing is
 * counted too.
 */
export function countFlatChances(
  tally: Tally,
  tracks: readonly WheelTrack[],
  ground: Ground,
  from: number,
  to: number,
): void {
  const [left, right, third] = tracks.map(({ data }) => data) as [Float64Array, Float64Array, Float64Array];
  let anywhere = 0;
  let away = 0;
  let flatsAway = 0;
  for (let j = Math.max(0, from), end = Math.min(CAPACITY, to); j < end; j++) {
    const onLeft = left[FLAT_CHANCE + j]!;
    const onRight = right[FLAT_CHANCE + j]!;
    const onThird = third[FLAT_CHANCE + j]!;
    const chance = 1 - (1 - onLeft) * (1 - onRight) * (1 - onThird);
    anywhere += chance;
    if (ground.help[j] !== 0) continue;
    away += chance;
    flatsAway += onLeft + onRight + onThird;
  }
  tally.flatsAwayHazard += flatsAway;
  if (!tally.anyFlat) tally.anyFlatHazard += anywhere;
  if (!tally.anyFlatAway) tally.anyFlatAwayHazard += away;
}

/** Adds pressure readings of a main wheel over a span of the season. */
export function countReadings(tally: Tally, track: WheelTrack, from: number, to: number): void {
  const t = track.data;
  for (let j = Math.max(0, from), end = Math.min(CAPACITY, to); j < end; j++) {
    const reading = t[READING + j]!;
    if (reading === 0) continue;
    tally.checks++;
    if (reading < LOW_READING_SHARE) tally.checksLow++;
  }
}

/** Adds landings on wet pavement, and those above the hydroplaning speed of a main tire. */
export function countHydroplaning(
  tally: Tally,
  mains: readonly WheelTrack[],
  constants: WheelConstants,
  draws: LandingDraws,
  ground: Ground,
  from: number,
  to: number,
): void {
  const d = draws.data;
  const [left, right] = mains.map(({ data }) => data) as [Float64Array, Float64Array];
  for (let j = Math.max(0, from), end = Math.min(CAPACITY, to); j < end; j++) {
    if (ground.wetPaved[j] === 0) continue;
    tally.wetPavedLandings++;
    const lowestPa = Math.min(left[GAUGE_PA + j]!, right[GAUGE_PA + j]!);
    if (d[DRAWN_SPEED_MPS + j]! > constants.hydroplaningAtOnePaMps * Math.sqrt(lowestPa))
      tally.hydroplaningLandings++;
  }
}

/** Adds the stones that a main wheel throws at the tail. */
export function countTailHits(tally: Tally, wheel: Wheel, ground: Ground, from: number, to: number): void {
  const g = ground.data;
  const t = wheel.track.data;
  const { newTreadM, tailHitShare } = wheel.constants;
  let hits = 0;
  for (let j = Math.max(0, from), end = Math.min(CAPACITY, to); j < end; j++) {
    const grooveM = newTreadM - t[CENTRE_LOST_M + j]!;
    // The ground gives stones per width for its own distance, so the distance here is 1.
    if (grooveM > 0)
      hits += thrownStoneHits(
        g[GROUND_LOOSE_STONES + j]!,
        t[FOOTPRINT_WIDTH_M + j]!,
        1,
        tailHitShare,
        grooveM,
      );
  }
  tally.tailHits += hits;
}

/** Adds the rubber worn off both main wheels, by cause and by place. */
export function countWear(
  tally: Tally,
  mains: readonly WheelTrack[],
  ground: Ground,
  from: number,
  to: number,
): void {
  const left = mains[0]!.data;
  const right = mains[1]!.data;
  const placeWorn = tally.placeWornM3;
  const { strip } = ground;
  let spinUp = 0;
  let braking = 0;
  let pivots = 0;
  let squirm = 0;
  let scrub = 0;
  for (let j = Math.max(0, from), end = Math.min(CAPACITY, to); j < end; j++) {
    const touchdown = left[SPIN_UP_WORN_M3 + j]! + right[SPIN_UP_WORN_M3 + j]!;
    spinUp += touchdown;
    braking += left[BRAKING_WORN_M3 + j]! + right[BRAKING_WORN_M3 + j]!;
    pivots += left[PIVOT_WORN_M3 + j]! + right[PIVOT_WORN_M3 + j]!;
    squirm += left[SQUIRM_WORN_M3 + j]! + right[SQUIRM_WORN_M3 + j]!;
    scrub += left[SCRUB_WORN_M3 + j]! + right[SCRUB_WORN_M3 + j]!;
    const place = PLACES * strip[j]!;
    placeWorn[place]! += touchdown;
    placeWorn[place + 1]! += left[ROLLOUT_WORN_M3 + j]! + right[ROLLOUT_WORN_M3 + j]!;
    placeWorn[place + 2]! += left[TAXI_WORN_M3 + j]! + right[TAXI_WORN_M3 + j]!;
  }
  tally.spinUpWornM3 += spinUp;
  tally.brakingWornM3 += braking;
  tally.pivotWornM3 += pivots;
  tally.squirmWornM3 += squirm;
  tally.scrubWornM3 += scrub;
}
