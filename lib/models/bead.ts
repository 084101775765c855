/**
 * Slip of the tire on its rim under braking.
 *
 * The holding torque has two parts: the flange, pressed by inflation, and the ledge, by interference fit. That
 * there are two parts: Tire Science and Technology 34(1):38, 2006 (abstract). The membrane balance of the first
 * part is our own algebra; the second is an assumption.
 */

/**
 * Torque that both beads can hold.
 *
 * @param gaugePa inflation pressure, Pa gauge.
 * @param widestRadiusM radius at the widest point of the section, m.
 * @param beadRadiusM radius of the bead seat, m.
 * @param beadFriction coefficient of friction of bead on rim.
 * @param ledgeTorqueNm torque held by the interference fit, N m.
 * @returns torque, N m.
 * @see T = 2 mu p pi (R_m^2 - R_b^2) R_b + T_ledge (axial force per bead by membrane equilibrium of the sidewall).
 */
export function beadHoldingTorqueNm(
  gaugePa: number,
  widestRadiusM: number,
  beadRadiusM: number,
  beadFriction: number,
  ledgeTorqueNm: number,
): number {
  const axialForceN = gaugePa * Math.PI * (widestRadiusM * widestRadiusM - beadRadiusM * beadRadiusM);
  return 2 * beadFriction * axialForceN * beadRadiusM + ledgeTorqueNm;
}

/**
 * Torque that braking puts on the beads.
 *
 * @param brakingRatio braking force over wheel load at the hardest moment.
 * @param loadN wheel load, N.
 * @param loadedRadius axle height, m.
 * @returns torque, N m.
 */
export function brakingTorqueNm(brakingRatio: number, loadN: number, loadedRadius: number): number {
  return brakingRatio * loadN * loadedRadius;
}
