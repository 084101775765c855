/**
 * Work done by slip between tread and ground in one landing, one wheel. Wear is this work times abradability.
 */

/**
 * Slip work of bringing the wheel up to speed at touchdown.
 *
 * The airplane loses I w^2; half of it becomes spin, half of it slip, whatever the friction and the load.
 *
 * @param inertiaKgM2 moment of inertia of wheel, tire and tube about the axle, kg m2.
 * @param speedMps ground speed at touchdown, m/s.
 * @param rollingRadius effective rolling radius at touchdown, m.
 * @returns work, J.
 * @see E = I w^2 / 2 with w = V/r, standard mechanics (constant ground speed during spin-up).
 * @example
 * import { spinUpWorkJ } from 'gravelbar';
 * Math.round(spinUpWorkJ(0.2, 50 * 0.514444, 0.205)); // => 1574
 */
export function spinUpWorkJ(inertiaKgM2: number, speedMps: number, rollingRadius: number): number {
  const spinRadps = speedMps / rollingRadius;
  return 0.5 * inertiaKgM2 * spinRadps * spinRadps;
}

/**
 * Slip work of braking: braking work times slip ratio.
 *
 * @param massKg landing mass, kg.
 * @param speedMps touchdown ground speed, m/s.
 * @param brakedShare share of the kinetic energy that the brakes take, 0 to 1 (drag and rolling take the rest).
 * @param slipRatio slip ratio of the braked wheels, 0 to 1.
 * @param brakedWheels number of braked wheels.
 * @returns work at one braked wheel, J.
 * @see E = F_x s L, with F_x L the braking work of the wheel.
 */
export function brakingWorkJ(
  massKg: number,
  speedMps: number,
  brakedShare: number,
  slipRatio: number,
  brakedWheels: number,
): number {
  return (0.5 * massKg * speedMps * speedMps * brakedShare * slipRatio) / brakedWheels;
}

/**
 * Slip work of a pivot turn on a locked wheel: a disc of uniform pressure turned on the spot.
 *
 * @param loadN wheel load, N.
 * @param friction coefficient of sliding friction.
 * @param footprintRadiusM radius of a disc as large as the footprint, m.
 * @param angleRad angle turned, rad.
 * @returns work, J, all of it on one spot of the tread.
 * @see friction moment of a uniformly loaded disc, M = 2/3 mu W R; standard mechanics.
 */
export function pivotWorkJ(
  loadN: number,
  friction: number,
  footprintRadiusM: number,
  angleRad: number,
): number {
  return (2 / 3) * friction * loadN * footprintRadiusM * angleRad;
}

/**
 * Rolling resistance coefficient of the tire itself.
 *
 * @param floorRatio part that does not depend on pressure.
 * @param pressureTermPa coefficient of 1/pressure, Pa.
 * @param gaugePa inflation pressure, Pa gauge.
 * @returns resistance over load.
 * @see C = a + b/p: linear in load and in 1/p (Tire Science and Technology 6(3):163, abstract). The pressure is
 *   kept from falling below a tenth of an atmosphere, where the law ends: a flat tire is another matter.
 */
export function rollingResistanceRatio(floorRatio: number, pressureTermPa: number, gaugePa: number): number {
  return floorRatio + pressureTermPa / (gaugePa > 10_000 ? gaugePa : 10_000);
}

/**
 * Slip work of free rolling: the part of the rolling-resistance work that slides in the footprint (squirm).
 *
 * @param resistanceRatio from {@link rollingResistanceRatio}.
 * @param loadN wheel load, N.
 * @param distanceM distance rolled, m.
 * @param squirmShare share of the rolling-resistance work that is sliding, 0 to 1.
 * @returns work, J.
 */
export function squirmWorkJ(
  resistanceRatio: number,
  loadN: number,
  distanceM: number,
  squirmShare: number,
): number {
  return resistanceRatio * loadN * distanceM * squirmShare;
}

/**
 * Slip work of side force: steady scrub of toe and turns, and drift in a crosswind, which grows with the square
 * of the slip angle.
 *
 * @param loadN wheel load, N.
 * @param distanceM distance rolled, m.
 * @param scrubRatio side slip work over load and distance, of turns or of drift (dimensionless).
 * @returns work, J.
 * @see Schallamach and Turner 1960 for the square of the slip angle in small angles (from memory).
 */
export function scrubWorkJ(loadN: number, distanceM: number, scrubRatio: number): number {
  return loadN * distanceM * scrubRatio;
}

/**
 * Moment of inertia of a wheel with its tire.
 *
 * @param hubInertiaKgM2 wheel, brake disc and tube, kg m2.
 * @param tireMassKg tire mass, kg.
 * @param outsideDiameterM tire outside diameter, m.
 * @param gyrationShare radius of gyration over outside radius.
 * @returns moment of inertia, kg m2.
 */
export function wheelInertiaKgM2(
  hubInertiaKgM2: number,
  tireMassKg: number,
  outsideDiameterM: number,
  gyrationShare: number,
): number {
  const gyrationM = 0.5 * outsideDiameterM * gyrationShare;
  return hubInertiaKgM2 + tireMassKg * gyrationM * gyrationM;
}
