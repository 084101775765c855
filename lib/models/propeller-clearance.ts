import { riseAtM } from './stance.js';

const INCH_M = 0.0254;

/**
 * Least static propeller clearance of an airplane with a nose wheel, m (7 in). 14 CFR 23.925(a)(1) before the 2017
 * revision of part 23, from memory.
 */
export const LEAST_PROPELLER_CLEARANCE_NOSE_WHEEL_M: number = 7 * INCH_M;

/** The same for a tail-wheel airplane, m (9 in). Same source. */
export const LEAST_PROPELLER_CLEARANCE_TAIL_WHEEL_M: number = 9 * INCH_M;

/** What the propeller clearance depends on. */
export interface PropellerStance {
  readonly gear: 'nose' | 'tail';
  /** Distance of the propeller ahead of the main axle, m. Not used on a tail-wheel airplane. */
  readonly propellerAheadM: number;
  /** Distance of the nose or tail axle from the main axle, m; > 0. Not used on a tail-wheel airplane. */
  readonly wheelbaseM: number;
  /** Clearance as measured, m. */
  readonly measuredM: number;
}

/**
 * Propeller clearance after the axles have risen or sunk since it was measured.
 *
 * With a nose wheel the airplane stands on three wheels and the clearance follows the lever of both axles: nose-wheel
 * height counts by propeller distance over wheelbase, main-wheel height by the rest, which is negative where the
 * propeller is ahead of the nose wheel. With a tail wheel the clearance is that of the level attitude, tail up, and
 * follows the main axle alone.
 *
 * @param stance where the propeller is and what was measured.
 * @param mainRiseM rise of the main axle since the measurement, m (mean of both sides).
 * @param thirdRiseM rise of the nose axle since then, m.
 * @returns clearance, m; negative: the blade would be in the ground.
 */
export function propellerClearanceM(
  { gear, propellerAheadM, wheelbaseM, measuredM }: PropellerStance,
  mainRiseM: number,
  thirdRiseM: number,
): number {
  if (gear === 'tail') return measuredM + mainRiseM;
  return measuredM + riseAtM(propellerAheadM, wheelbaseM, mainRiseM, thirdRiseM);
}

/**
 * Propeller clearance with the critical tire flat and its strut bottomed: the nose tire, or one main tire of a
 * tail-wheel airplane, whose drop the centre line shares by half.
 *
 * @param stance where the propeller is and what was measured.
 * @param mainRiseM rise of the main axle on its tires as they stand, m since the measurement.
 * @param thirdRiseM rise of the nose axle, m likewise.
 * @param dropM drop of the critical axle from there: onto the rim, and the travel left in the strut, m.
 * @returns clearance, m. It must stay positive: 14 CFR 23.925(a)(1) before the 2017 revision of part 23, from memory
 *   (leaf springs: the deflection at 1.5 times the load at rest in place of the bottomed strut).
 */
export function propellerClearanceOnFlatM(
  stance: PropellerStance,
  mainRiseM: number,
  thirdRiseM: number,
  dropM: number,
): number {
  return stance.gear === 'tail'
    ? propellerClearanceM(stance, mainRiseM - 0.5 * dropM, thirdRiseM)
    : propellerClearanceM(stance, mainRiseM, thirdRiseM - dropM);
}
