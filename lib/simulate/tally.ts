import {
  CUT_PAST_LIMITS,
  AGED,
  IN_SERVICE,
  PRESSURE_RELATED,
  PUNCTURED,
  WORN,
  type PairingTrials,
} from './columns.js';
import type { CompiledScenario, CompiledStrip } from '../scenario/compile.js';

/** Touchdown, rollout and taxi of a strip, in this order. */
export const PLACES = 3;

/** The figures of one trial of a pairing, as they add up; one for each column of columns.ts. */
export class Tally {
  lifeLandings = 0;
  lifeCause: number = IN_SERVICE;
  lifeWheel = 2;
  treadLimitLandings = -1;
  cordsLandings = -1;
  followedLandings = 0;
  thirdLifeLandings = 0;
  thirdLifeCause: number = IN_SERVICE;
  centreLostM = 0;
  innerLostM = 0;
  outerLostM = 0;
  flats = 0;
  flatsHazard = 0;
  anyFlat = false;
  anyFlatHazard = 0;
  anyFlatAway = false;
  anyFlatAwayHazard = 0;
  /** Chances of a flat away from help, added up wheel by wheel. */
  flatsAwayHazard = 0;
  flatsPatched = 0;
  flatsPatchedHazard = 0;
  flatsRescued = 0;
  flatsRescuedHazard = 0;
  tubes = 0;
  tubesHazard = 0;
  treadHazard = 0;
  sidewallHazard = 0;
  pinchHazard = 0;
  valveHazard = 0;
  /** Main tires removed in the season, by cause. */
  readonly mainRemovals: Int32Array = new Int32Array(6);
  mainsFitted = 0;
  thirdFitted = 0;
  beadSlips = 0;
  leaks = 0;
  checks = 0;
  checksLow = 0;
  wetPavedLandings = 0;
  hydroplaningLandings = 0;
  tailHits = 0;
  downDays = 0;
  flatDays = 0;
  flatDaysHazard = 0;
  cost = 0;
  cruiseCost = 0;
  spinUpWornM3 = 0;
  brakingWornM3 = 0;
  pivotWornM3 = 0;
  squirmWornM3 = 0;
  scrubWornM3 = 0;
  simulatedLandings = 0;
  /** Rubber worn off main tires by strip and place, m3. */
  readonly placeWornM3: Float64Array;
  private readonly strips: readonly CompiledStrip[];

  constructor({ strips }: CompiledScenario) {
    this.strips = strips;
    this.placeWornM3 = new Float64Array(PLACES * strips.length);
  }

  /** Starts a trial that is followed for a number of landings at most. */
  clear(horizonLandings: number): void {
    this.lifeLandings = this.thirdLifeLandings = this.followedLandings = horizonLandings;
    this.lifeCause = this.thirdLifeCause = IN_SERVICE;
    this.lifeWheel = 2;
    this.treadLimitLandings = this.cordsLandings = -1;
    this.centreLostM = this.innerLostM = this.outerLostM = 0;
    this.flats = this.flatsPatched = this.flatsRescued = this.mainsFitted = this.thirdFitted = 0;
    this.flatsAwayHazard = this.flatsPatchedHazard = this.flatsRescuedHazard = 0;
    this.anyFlat = this.anyFlatAway = false;
    this.flatsHazard = this.anyFlatHazard = this.anyFlatAwayHazard = 0;
    this.tubes = this.tubesHazard = 0;
    this.treadHazard = this.sidewallHazard = this.pinchHazard = this.valveHazard = 0;
    this.mainRemovals.fill(0);
    this.beadSlips = this.leaks = this.checks = this.checksLow = 0;
    this.wetPavedLandings = this.hydroplaningLandings = 0;
    this.tailHits = this.downDays = this.flatDays = this.flatDaysHazard = this.cost = this.cruiseCost = 0;
    this.spinUpWornM3 = this.brakingWornM3 = this.pivotWornM3 = this.squirmWornM3 = this.scrubWornM3 = 0;
    this.simulatedLandings = 0;
    this.placeWornM3.fill(0);
  }

  /** Writes the figures into a row. */
  write(target: PairingTrials, row: number): void {
    const { columns: c } = target;
    c.lifeLandings[row] = this.lifeLandings;
    c.lifeCause[row] = this.lifeCause;
    c.lifeWheel[row] = this.lifeWheel;
    c.treadLimitLandings[row] = this.treadLimitLandings;
    c.cordsLandings[row] = this.cordsLandings;
    c.followedLandings[row] = this.followedLandings;
    c.thirdLifeLandings[row] = this.thirdLifeLandings;
    c.thirdLifeCause[row] = this.thirdLifeCause;
    c.centreLostM[row] = this.centreLostM;
    c.innerLostM[row] = this.innerLostM;
    c.outerLostM[row] = this.outerLostM;
    c.flats[row] = this.flats;
    c.flatsHazard[row] = this.flatsHazard;
    c.anyFlat[row] = this.anyFlat ? 1 : 0;
    c.anyFlatHazard[row] = this.anyFlatHazard;
    c.anyFlatAway[row] = this.anyFlatAway ? 1 : 0;
    c.anyFlatAwayHazard[row] = this.anyFlatAwayHazard;
    c.flatsPatched[row] = this.flatsPatched;
    c.flatsPatchedHazard[row] = this.flatsPatchedHazard;
    c.flatsRescued[row] = this.flatsRescued;
    c.flatsRescuedHazard[row] = this.flatsRescuedHazard;
    c.tubes[row] = this.tubes;
    c.tubesHazard[row] = this.tubesHazard;
    c.treadHazard[row] = this.treadHazard;
    c.sidewallHazard[row] = this.sidewallHazard;
    c.pinchHazard[row] = this.pinchHazard;
    c.valveHazard[row] = this.valveHazard;
    c.mainsWorn[row] = this.mainRemovals[WORN]!;
    c.mainsCut[row] = this.mainRemovals[CUT_PAST_LIMITS]!;
    c.mainsPunctured[row] = this.mainRemovals[PUNCTURED]!;
    c.mainsPressure[row] = this.mainRemovals[PRESSURE_RELATED]!;
    c.mainsAged[row] = this.mainRemovals[AGED]!;
    c.mainsFitted[row] = this.mainsFitted;
    c.thirdFitted[row] = this.thirdFitted;
    c.beadSlips[row] = this.beadSlips;
    c.leaks[row] = this.leaks;
    c.checks[row] = this.checks;
    c.checksLow[row] = this.checksLow;
    c.wetPavedLandings[row] = this.wetPavedLandings;
    c.hydroplaningLandings[row] = this.hydroplaningLandings;
    c.tailHits[row] = this.tailHits;
    c.downDays[row] = this.downDays;
    c.flatDays[row] = this.flatDays;
    c.flatDaysHazard[row] = this.flatDaysHazard;
    c.cost[row] = this.cost;
    c.cruiseCost[row] = this.cruiseCost;
    c.spinUpWornM3[row] = this.spinUpWornM3;
    c.brakingWornM3[row] = this.brakingWornM3;
    c.pivotWornM3[row] = this.pivotWornM3;
    c.squirmWornM3[row] = this.squirmWornM3;
    c.scrubWornM3[row] = this.scrubWornM3;
    c.simulatedLandings[row] = this.simulatedLandings;
    // Summed before it is stored: the columns have single precision.
    const worn = new Float64Array(target.surfaceWornM3.length);
    this.strips.forEach(({ touchdown, rollout, taxi }, index) => {
      [touchdown, rollout, taxi].forEach((surface, place) => {
        worn[surface]! += this.placeWornM3[PLACES * index + place]!;
      });
    });
    worn.forEach((wornM3, surface) => {
      target.surfaceWornM3[surface]![row] = wornM3;
    });
  }
}
