import { oneMinusExp } from '../numeric/elementary.js';
import { centreWorkShare, shoulderWeight, wornDepthM } from '../models/bands.js';
import { brakingTorqueNm } from '../models/bead.js';
import {
  deflectionM,
  footprintWidthM,
  grossFootprintAreaM2,
  loadedRadiusM,
  rollingRadiusM,
  verticalStiffnessN,
} from '../models/contact.js';
import { gaugePressurePa, referencePressurePa, remainingExcessShare } from '../models/inflation.js';
import { impactDeflectionM, pinchChance } from '../models/pinch.js';
import {
  brakingWorkJ,
  pivotWorkJ,
  rollingResistanceRatio,
  scrubWorkJ,
  spinUpWorkJ,
  squirmWorkJ,
} from '../models/slip-work.js';
import { biteScaleM, chanceLarger, stonesMet } from '../models/stones.js';
import { CUT, LEAK, PRESSURE, PROCESSES, PUNCTURE } from './clocks.js';
import type { StripConstants, WheelConstants } from './constants.js';
import type { LandingDraws } from './landing-draws.js';

/** Spots around the tire on which pivot turns are remembered. */
export const SPOTS = 8;

const BRAKED_WHEELS = 2;

/**
 * One wheel with its tire: the state that lives from landing to landing, and the figures of the landing at hand.
 *
 * The steps below read and write this object, so that no number crosses a call boundary boxed and nothing is
 * allocated in the landing loop.
 */
export class Wheel {
  constants: WheelConstants;
  /** -1 left, +1 right, 0 nose or tail. */
  readonly side: number;

  /** Amount of gas, as absolute pressure at the reference temperature, Pa. */
  gasPa = 0;
  /** Day on which a slow leak began, or -1. */
  leakDay = -1;
  centreLostM = 0;
  innerLostM = 0;
  outerLostM = 0;
  readonly spotLostM: Float64Array = new Float64Array(SPOTS);
  deepestSpotM = 0;
  /** A cut into the carcass waits for an inspection. */
  cutPending = false;
  fittedDay = 0;
  fittedLanding = 0;

  // The landing at hand.
  gaugePa = 0;
  loadN = 0;
  stiffnessN = 0;
  deflectionM = 0;
  /** Under the light load of touchdown. */
  touchdownDeflectionM = 0;
  footprintWidthM = 0;
  footprintAreaM2 = 0;
  spinUpWornM3 = 0;
  brakingWornM3 = 0;
  pivotWornM3 = 0;
  squirmWornM3 = 0;
  scrubWornM3 = 0;
  rolloutWornM3 = 0;
  taxiWornM3 = 0;
  treadHazard = 0;
  sidewallHazard = 0;
  pinchHazard = 0;
  valveHazard = 0;
  /** Chance that the tire loses its air in this landing. */
  flatChance = 0;
  beadSlipped = false;
  /** Hazard of each process in this landing, by its number in clocks.ts. */
  readonly hazards: Float64Array = new Float64Array(PROCESSES.length);

  private decayGapDays = -1;
  private decayShare = 1;

  constructor(constants: WheelConstants, side: number) {
    this.constants = constants;
    this.side = side;
  }

  /** Fits a new tire, inflated cold. */
  fitNew(day: number, landing: number): void {
    this.centreLostM = 0;
    this.innerLostM = 0;
    this.outerLostM = 0;
    this.spotLostM.fill(0);
    this.deepestSpotM = 0;
    this.cutPending = false;
    this.leakDay = -1;
    this.fittedDay = day;
    this.fittedLanding = landing;
  }

  /** Forgets what belongs to the world before. */
  startWorld(): void {
    this.decayGapDays = -1;
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
    this.decayGapDays = -1;
  }

  /** Depth worn at the worst spot, m. */
  deepestLostM(): number {
    let lost = this.centreLostM;
    if (this.innerLostM > lost) lost = this.innerLostM;
    if (this.outerLostM > lost) lost = this.outerLostM;
    return lost + this.deepestSpotM;
  }

  /** Share of the excess pressure kept over a gap without leak; the same gap comes back landing after landing. */
  keptShare(gapDays: number): number {
    if (gapDays !== this.decayGapDays) {
      this.decayGapDays = gapDays;
      this.decayShare = remainingExcessShare(this.constants.lossPerDay, gapDays);
    }
    return this.decayShare;
  }
}

/** Lets time pass since the landing before: permeation and leakage, in the air of the base. */
export function loseAir(wheel: Wheel, draws: LandingDraws, j: number): void {
  const { basePa, leaksPerDay } = wheel.constants;
  const gapDays = draws.gapDays[j]!;
  wheel.hazards[LEAK] = leaksPerDay * gapDays;
  let kept = wheel.keptShare(gapDays);
  if (wheel.leakDay >= 0) {
    const { leakAtStartPerDay, leakGrowthPerDay } = wheel.constants;
    const age = draws.day[j]! - wheel.leakDay;
    kept *= remainingExcessShare(leakAtStartPerDay + leakGrowthPerDay * age, gapDays);
  }
  wheel.gasPa = basePa + (wheel.gasPa - basePa) * kept;
}

/** Sets the cold pressure in the air of the base and mends a leak. */
export function setCold(wheel: Wheel, draws: LandingDraws, j: number): void {
  const { coldPa, basePa } = wheel.constants;
  wheel.gasPa = referencePressurePa(coldPa, basePa, draws.temperatureK[j]!);
  wheel.leakDay = -1;
}

/** Pressure, load and footprint of the landing. */
export function makeContact(wheel: Wheel, strip: StripConstants, draws: LandingDraws, j: number): void {
  const c = wheel.constants;
  const gaugePa = gaugePressurePa(wheel.gasPa, strip.ambientPa, draws.temperatureK[j]!);
  const loadN = c.loadPerMass * draws.massKg[j]! * (1 + wheel.side * draws.sideShift[j]!);
  const stiffnessN = verticalStiffnessN(gaugePa, c.ratedPa, c.stiffnessAreaM2);
  let deflection = deflectionM(loadN, stiffnessN, c.widthM);
  if (deflection > c.freeHeightM) deflection = c.freeHeightM;
  wheel.gaugePa = gaugePa;
  wheel.loadN = loadN;
  wheel.stiffnessN = stiffnessN;
  wheel.deflectionM = deflection;
  wheel.footprintWidthM = footprintWidthM(deflection, c.widthM);
  wheel.footprintAreaM2 = grossFootprintAreaM2(deflection, c.meanSizeM);
  wheel.touchdownDeflectionM = deflectionM(c.touchdownLoadShare * loadN, stiffnessN, c.widthM);
}

/** Rubber worn off in the landing, by cause. */
export function slip(
  wheel: Wheel,
  strip: StripConstants,
  draws: LandingDraws,
  j: number,
  wet: boolean,
): void {
  const c = wheel.constants;
  const scatter = draws.wearScatter[j]!;
  const touchdownWear = scatter * (wet ? strip.touchdownWearWet : strip.touchdownWear);
  const rolloutWear = scatter * (wet ? strip.rolloutWearWet : strip.rolloutWear);
  const taxiWear = scatter * (wet ? strip.taxiWearWet : strip.taxiWear);
  const speedMps = draws.speedMps[j]!;
  const rolloutM = strip.rolloutM * draws.rollRatio[j]!;
  const loadN = wheel.loadN;
  const touchdownDeflectionM = wheel.touchdownDeflectionM;
  const spinUp =
    touchdownWear * spinUpWorkJ(c.inertiaKgM2, speedMps, rollingRadiusM(touchdownDeflectionM, c.diameterM));
  const braking =
    rolloutWear *
    brakingWorkJ(draws.massKg[j]!, speedMps, draws.brakedShare[j]!, c.brakingSlip, BRAKED_WHEELS);
  const resistance = rollingResistanceRatio(c.rollingFloor, c.rollingTermPa, wheel.gaugePa);
  const rolloutSquirm = rolloutWear * squirmWorkJ(resistance, loadN, rolloutM, c.squirmShare);
  const taxiSquirm = taxiWear * squirmWorkJ(resistance, loadN, strip.taxiM, c.squirmShare);
  const shift = draws.sideShift[j]!;
  const rolloutScrub = rolloutWear * scrubWorkJ(loadN, rolloutM, c.crosswindScrub * shift * shift);
  const taxiScrub = taxiWear * scrubWorkJ(loadN, strip.taxiM, c.turnScrub);
  wheel.spinUpWornM3 = spinUp;
  wheel.brakingWornM3 = braking;
  wheel.squirmWornM3 = rolloutSquirm + taxiSquirm;
  wheel.scrubWornM3 = rolloutScrub + taxiScrub;
  wheel.pivotWornM3 = 0;
  wheel.rolloutWornM3 = braking + rolloutSquirm + rolloutScrub;
  wheel.taxiWornM3 = taxiSquirm + taxiScrub;

  const crown = centreWorkShare(
    c.centreAreaShare,
    shoulderWeight(touchdownDeflectionM, c.evenDeflectionM, c.bandGain),
  );
  const centre = centreWorkShare(
    c.centreAreaShare,
    shoulderWeight(wheel.deflectionM, c.evenDeflectionM, c.bandGain),
  );
  const rolling = wheel.rolloutWornM3 + wheel.taxiWornM3;
  const centreWorn = spinUp * crown + rolling * centre;
  const shoulderWorn = spinUp + rolling - centreWorn;
  // Load shifted onto a wheel also leans its tire outward; the lean is taken to follow the shift one to one.
  let inner = c.innerShoulderShare - wheel.side * shift;
  if (inner < 0) inner = 0;
  if (inner > 1) inner = 1;
  wheel.centreLostM += wornDepthM(centreWorn, c.centreRubberAreaM2);
  wheel.innerLostM += wornDepthM(shoulderWorn * inner, c.shoulderRubberAreaM2);
  wheel.outerLostM += wornDepthM(shoulderWorn * (1 - inner), c.shoulderRubberAreaM2);
}

/** A pivot turn on this wheel, locked: wears one spot of the tread, as large as the footprint. */
export function pivot(
  wheel: Wheel,
  strip: StripConstants,
  draws: LandingDraws,
  j: number,
  wet: boolean,
  spot: number,
): void {
  const c = wheel.constants;
  const footprintRadiusM = Math.sqrt(wheel.footprintAreaM2 / Math.PI);
  const worn =
    draws.wearScatter[j]! *
    (wet ? strip.taxiWearWet : strip.taxiWear) *
    pivotWorkJ(wheel.loadN, c.slidingFriction, footprintRadiusM, c.pivotAngleRad);
  wheel.pivotWornM3 = worn;
  wheel.taxiWornM3 += worn;
  const lost = wheel.spotLostM[spot]! + wornDepthM(worn, wheel.footprintAreaM2 * c.landRatio);
  wheel.spotLostM[spot] = lost;
  if (lost > wheel.deepestSpotM) wheel.deepestSpotM = lost;
}

/** Hazards of cuts and punctures in the landing, on the tread as it is before the wear of the landing. */
export function meetStones(wheel: Wheel, strip: StripConstants, draws: LandingDraws, j: number): void {
  const c = wheel.constants;
  const roll = draws.rollRatio[j]!;
  const contactPa = wheel.loadN / wheel.footprintAreaM2;
  const centreM = thickness(c.rubberM - wheel.centreLostM);
  const innerM = thickness(c.rubberM - wheel.innerLostM);
  const outerM = thickness(c.rubberM - wheel.outerLostM);
  const shoulderShare = 0.5 * (1 - c.centreAreaShare);

  let stones = strip.rolloutStonesPerM * roll;
  if (strip.sameSurface) stones += strip.taxiStonesPerM;
  const rolloutScaleM = biteScaleM(strip.rolloutBiteScaleM, contactPa);
  const met = stonesMet(stones, wheel.footprintWidthM, 1);
  let reach =
    met *
    (c.centreAreaShare * chanceLarger(centreM, rolloutScaleM) +
      shoulderShare * (chanceLarger(innerM, rolloutScaleM) + chanceLarger(outerM, rolloutScaleM)));
  let through =
    met *
    (c.centreAreaShare * chanceLarger(centreM + c.carcassM, rolloutScaleM) +
      shoulderShare *
        (chanceLarger(innerM + c.carcassM, rolloutScaleM) +
          chanceLarger(outerM + c.carcassM, rolloutScaleM)));
  if (!strip.sameSurface) {
    const taxiScaleM = biteScaleM(strip.taxiBiteScaleM, contactPa);
    const taxiMet = stonesMet(strip.taxiStonesPerM, wheel.footprintWidthM, 1);
    reach +=
      taxiMet *
      (c.centreAreaShare * chanceLarger(centreM, taxiScaleM) +
        shoulderShare * (chanceLarger(innerM, taxiScaleM) + chanceLarger(outerM, taxiScaleM)));
    through +=
      taxiMet *
      (c.centreAreaShare * chanceLarger(centreM + c.carcassM, taxiScaleM) +
        shoulderShare *
          (chanceLarger(innerM + c.carcassM, taxiScaleM) + chanceLarger(outerM + c.carcassM, taxiScaleM)));
  }
  wheel.treadHazard = through;
  wheel.sidewallHazard = wheel.deflectionM * (strip.rolloutSideCutsPerM * roll + strip.taxiSideCutsPerM);
  wheel.hazards[PUNCTURE] = through + wheel.sidewallHazard;
  wheel.hazards[CUT] = reach - through;
}

/**
 * Hazards of losing air by a pinch on a rock edge or by a bead slip that tears the valve, and the chance of a flat by
 * these and by the stones met.
 */
export function strainAir(
  wheel: Wheel,
  strip: StripConstants,
  draws: LandingDraws,
  j: number,
  wet: boolean,
): void {
  const c = wheel.constants;
  const heightLeftM = c.freeHeightM - wheel.deflectionM;
  const massKg = c.massShare * draws.massKg[j]!;
  const impactM = impactDeflectionM(
    draws.sinkMps[j]!,
    massKg,
    c.impactEnergyShare,
    wheel.stiffnessN,
    c.widthM,
  );
  const touchdownM = wheel.touchdownDeflectionM + impactM;
  wheel.pinchHazard =
    strip.patchEdges * pinchChance(c.freeHeightM - touchdownM, strip.touchdownEdgeScaleM) +
    strip.rolloutEdges * draws.rollRatio[j]! * pinchChance(heightLeftM, strip.rolloutEdgeScaleM) +
    strip.taxiEdges * pinchChance(heightLeftM, strip.taxiEdgeScaleM);

  wheel.beadSlipped = false;
  wheel.valveHazard = 0;
  if (c.brakingSlip > 0) {
    const grip = wet ? strip.wetGrip : strip.dryGrip;
    const demand = draws.peakBraking[j]!;
    const torqueNm = brakingTorqueNm(
      demand < grip ? demand : grip,
      wheel.loadN,
      loadedRadiusM(wheel.deflectionM, c.diameterM),
    );
    if (torqueNm > c.beadTorquePerPa * wheel.gaugePa + c.ledgeTorqueNm) {
      wheel.beadSlipped = true;
      wheel.valveHazard = c.valveTearHazard;
    }
  }
  const pressureHazard = wheel.pinchHazard + wheel.valveHazard;
  wheel.hazards[PRESSURE] = pressureHazard;
  wheel.flatChance = oneMinusExp(wheel.hazards[PUNCTURE]! + pressureHazard);
}

function thickness(depthM: number): number {
  return depthM > 0 ? depthM : 0;
}
