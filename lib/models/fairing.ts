/**
 * Room between a tire and the fairing around it.
 *
 * The fairing is fixed to the axle. Under more deflection the tire comes no nearer to its crown, but its side bulges
 * out where it stands on the ground, and closes the gap at the lip of the fairing.
 */

/**
 * Side bulge of each wall per deflection, for a round section whose wall keeps its length when pressed flat: the
 * circumference pi h becomes two flats 2c and two half circles of diameter h - d, so c = pi d / 2, and the width grows
 * by c - d = (pi/2 - 1) d, half of it on each side. Our own algebra; real walls, held by the rim, may bulge more or
 * less, so the scenario states a range.
 */
export const ROUND_SECTION_BULGE: number = 0.5 * (0.5 * Math.PI - 1);

/** What the gap depends on. */
export interface FairingRoom {
  /** Least gap all round, as measured, m. */
  readonly measuredGapM: number;
  /** Deflection of the tire when it was measured, m. */
  readonly measuredDeflectionM: number;
  /** Side bulge of each wall per deflection; 0 to 1. */
  readonly bulgePerDeflection: number;
  /** Growth of the casing since the measurement (it stretches in service), as a share of its section; >= 0. */
  readonly growthShare: number;
  readonly sectionWidthM: number;
  /** Section height from bead seat to tread, m. */
  readonly sectionHeightM: number;
}

/**
 * Gap between tire and fairing at a deflection: at the side, which closes with deflection and growth, or over the
 * crown, which closes with growth alone, whichever is less.
 *
 * @param room what was measured, and how the tire closes the gap.
 * @param deflectionM deflection now, m.
 * @returns gap, m; zero or less: the tire rubs.
 */
export function fairingGapM(room: FairingRoom, deflectionM: number): number {
  const { measuredGapM, measuredDeflectionM, bulgePerDeflection, growthShare } = room;
  const bulgeM = bulgePerDeflection * (deflectionM - measuredDeflectionM);
  const sideM = measuredGapM - bulgeM - 0.5 * growthShare * room.sectionWidthM;
  const crownM = measuredGapM - growthShare * room.sectionHeightM;
  return Math.min(sideM, crownM);
}

/**
 * Room between an aft chock left in place and the rear end of the fairing as the airplane moves off and its tail
 * settles: the fairing turns about the main axle with the airplane.
 *
 * @param rearHeightM height of the rear end of the fairing above the ground at rest, as measured, m.
 * @param rearBehindM its distance behind the axle, m.
 * @param furtherDeflectionM deflection of the tire beyond that of the measurement, m.
 * @param settlingRad nose-up angle as the tail settles, rad.
 * @param chockHeightM height of the chock, m.
 * @returns room, m; zero or less: the fairing comes down on the chock.
 */
export function aftChockRoomM(
  rearHeightM: number,
  rearBehindM: number,
  furtherDeflectionM: number,
  settlingRad: number,
  chockHeightM: number,
): number {
  return rearHeightM - furtherDeflectionM - rearBehindM * settlingRad - chockHeightM;
}
