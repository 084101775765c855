/**
 * How the airplane stands when its axles go up or down: a stiff beam on two supports. Positions are horizontal
 * distances from the main axle, forward positive: the nose wheel stands at plus the wheelbase, the tail wheel at minus
 * the wheelbase. Angles are small: a slope is taken for its angle, 0.4 % off at 6 degrees.
 */

/**
 * Rise of a point of the airplane when its axles rise.
 *
 * @param positionM position of the point, m forward of the main axle.
 * @param thirdPositionM position of the nose (positive) or tail (negative) axle, m.
 * @param mainRiseM rise of the main axle, m.
 * @param thirdRiseM rise of the nose or tail axle, m.
 * @returns rise of the point, m.
 * @see lever: z = z_m (1 - x/x_t) + z_t x/x_t.
 */
export function riseAtM(
  positionM: number,
  thirdPositionM: number,
  mainRiseM: number,
  thirdRiseM: number,
): number {
  return mainRiseM + (thirdRiseM - mainRiseM) * (positionM / thirdPositionM);
}

/**
 * Change of the pitch attitude, nose up positive.
 *
 * @param thirdPositionM position of the nose (positive) or tail (negative) axle, m.
 * @param mainRiseM rise of the main axle, m.
 * @param thirdRiseM rise of the nose or tail axle, m.
 * @returns angle, rad.
 */
export function pitchChangeRad(thirdPositionM: number, mainRiseM: number, thirdRiseM: number): number {
  return (thirdRiseM - mainRiseM) / thirdPositionM;
}

/**
 * Angle by which the airplane can rotate nose up about its main wheels until the tail touches.
 *
 * @param tailHeightM height of the lowest point of the tail, m; negative gives a negative angle.
 * @param tailBehindM its distance behind the main axle, m; > 0.
 * @returns angle, rad; not above the true one, and within 0.003 % of it up to 14 degrees.
 * @see arctan x > 3x / (1 + 2 sqrt(1 + x^2)) for x > 0 (Shafer's inequality, from memory; the difference is about x^5/180).
 */
export function tailAngleRad(tailHeightM: number, tailBehindM: number): number {
  const slope = tailHeightM / tailBehindM;
  return (3 * slope) / (1 + 2 * Math.sqrt(1 + slope * slope));
}
