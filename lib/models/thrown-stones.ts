/**
 * Stones thrown at the tail by the main tires.
 *
 * Deep grooves pick up and throw more than worn or shaved ones; that it is seldom a worry is common practice, no
 * source. The form and the numbers are assumptions.
 *
 * @param looseStonesPerM2 loose stones small enough to be picked up, 1/m2.
 * @param sweptWidthM footprint width, m.
 * @param distanceM distance rolled at speed, m.
 * @param tailHitShare share of the picked-up stones that hit the tail, for a tread as deep as the reference.
 * @param grooveDepthM groove depth now, m; >= 0.
 * @returns expected hits in the landing.
 */
export function thrownStoneHits(
  looseStonesPerM2: number,
  sweptWidthM: number,
  distanceM: number,
  tailHitShare: number,
  grooveDepthM: number,
): number {
  return (
    looseStonesPerM2 * sweptWidthM * distanceM * tailHitShare * (grooveDepthM / REFERENCE_GROOVE_DEPTH_M)
  );
}

/** Groove depth at which the share of hits is stated, m. A convention, not a finding. */
export const REFERENCE_GROOVE_DEPTH_M = 0.009;
