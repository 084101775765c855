import { referencePressurePa } from '../models/inflation.js';
import { PROCESSES } from './clocks.js';
import type { WheelConstants } from './constants.js';
import { makeColumns, TRACK } from './layout.js';

/** Spots around the tire on which pivot turns are remembered. */
export const SPOTS = 8;

/**
 * What happens to a wheel in each landing of a block. It is scratch space: shared by all pairings, read before the next
 * one rolls.
 */
export class WheelTrack {
  /** Columns by {@link TRACK}. */
  readonly data: Float64Array = makeColumns(TRACK);
  /** Spots as they come to be within the block. */
  readonly spotLostM: Float64Array = new Float64Array(SPOTS);
}

/** State of a wheel at the end of the span it rolled through, until the span is settled. */
class NextState {
  gasPa = 0;
  leakDay = -1;
  leakClock = 0;
  leakCount = 0;
  punctureClock = 0;
  pressureClock = 0;
  cutClock = 0;
  cutCount = 0;
  cutPending = false;
  /** Sum of pressures, chances and depths: not finite if one of them is not. */
  finiteSum = 0;
}

/** Threshold of the `count`-th event of a process on a wheel. */
export type ThresholdSource = (process: number, count: number) => number;

/** One wheel with its tire: the state that lives from block to block. */
export class Wheel {
  readonly constants: WheelConstants;
  readonly track: WheelTrack;
  readonly next: NextState = new NextState();
  /** -1 left, +1 right, 0 nose or tail. */
  readonly side: number;
  gasPa = 0;
  leakDay = -1;
  centreLostM = 0;
  innerLostM = 0;
  outerLostM = 0;
  readonly spotLostM: Float64Array = new Float64Array(SPOTS);
  deepestSpotM = 0;
  /** A cut into the carcass waits for an inspection. */
  cutPending = false;
  fittedDay = 0;
  /** Hazard added up since the last event, events so far, and the threshold of the next, by process. */
  readonly clock: Float64Array = new Float64Array(PROCESSES.length);
  readonly count: Int32Array = new Int32Array(PROCESSES.length);
  readonly threshold: Float64Array = new Float64Array(PROCESSES.length).fill(Infinity);
  private thresholds: ThresholdSource | null = null;

  constructor(constants: WheelConstants, track: WheelTrack, side: number) {
    this.constants = constants;
    this.track = track;
    this.side = side;
  }

  /** Starts the clocks of a trial. */
  startClocks(thresholds: ThresholdSource): void {
    this.thresholds = thresholds;
    for (let process = 0; process < PROCESSES.length; process++) {
      this.clock[process] = 0;
      this.setCount(process, 0);
    }
  }

  /** Takes over the clocks of another wheel, as they stand. */
  takeClocks(other: Wheel): void {
    for (let process = 0; process < PROCESSES.length; process++) {
      this.clock[process] = other.clock[process]!;
      this.setCount(process, other.count[process]!);
    }
  }

  /** Moves the clock of a process on to its `count`-th event. */
  setCount(process: number, count: number): void {
    this.count[process] = count;
    this.threshold[process] = this.thresholdAt(process, count);
  }

  /** Threshold of the `count`-th event of a process; never reached on a wheel without clocks. */
  thresholdAt(process: number, count: number): number {
    return this.thresholds === null ? Infinity : this.thresholds(process, count);
  }

  /** Fits a new tire, not inflated yet. */
  fitNew(day: number): void {
    this.centreLostM = 0;
    this.innerLostM = 0;
    this.outerLostM = 0;
    this.spotLostM.fill(0);
    this.deepestSpotM = 0;
    this.cutPending = false;
    this.leakDay = -1;
    this.fittedDay = day;
  }

  /** Sets the cold pressure in the air of the base and mends a leak. */
  setCold(temperatureK: number): void {
    this.gasPa = referencePressurePa(this.constants.coldPa, this.constants.basePa, temperatureK);
    this.leakDay = -1;
  }

  /** Takes over tread and air of another wheel of the same side. */
  copyFrom(other: Wheel): void {
    this.gasPa = other.gasPa;
    this.leakDay = -1;
    this.centreLostM = other.centreLostM;
    this.innerLostM = other.innerLostM;
    this.outerLostM = other.outerLostM;
    this.spotLostM.set(other.spotLostM);
    this.deepestSpotM = other.deepestSpotM;
  }

  /** Depth worn at the worst spot, m. */
  deepestLostM(): number {
    return Math.max(this.centreLostM, this.innerLostM, this.outerLostM) + this.deepestSpotM;
  }
}
