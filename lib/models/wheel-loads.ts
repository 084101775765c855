/**
 * How the airplane stands on its wheels at rest: two main wheels and one nose or tail wheel.
 */

/**
 * Mass carried by one main wheel at rest.
 *
 * @param massKg mass of the airplane, kg.
 * @param thirdShare share of the weight on the nose or tail wheel, 0 to 1.
 * @returns mass, kg; both main wheels carry the same.
 */
export function mainWheelMassKg(massKg: number, thirdShare: number): number {
  return 0.5 * massKg * (1 - thirdShare);
}

/**
 * Mass carried by the nose or tail wheel at rest.
 *
 * @param massKg mass of the airplane, kg.
 * @param thirdShare share of the weight on it, 0 to 1.
 * @returns mass, kg.
 */
export function thirdWheelMassKg(massKg: number, thirdShare: number): number {
  return massKg * thirdShare;
}
