import { log } from '../numeric/elementary.js';
import { beadHoldingTorqueNm } from '../models/bead.js';
import { chanceLarger, SCALE_OVER_MEDIAN } from '../models/stones.js';
import { STANDARD_GRAVITY_MPS2 } from '../models/atmosphere.js';
import { SPIN_UP_COEFFICIENT, hydroplaningSpeedMps } from '../models/hydroplaning.js';
import { REFERENCE_GROOVE_DEPTH_M } from '../models/thrown-stones.js';
import type { CompiledScenario, CompiledStrip, CompiledSurface, CompiledTire } from '../scenario/compile.js';

const DAY_S = 86_400;

/** What a wheel meets on one strip in one world; computed once per trial, read every landing. */
export class StripConstants {
  ambientPa = 0;
  /** Wear per slip work of this tire, m3/J, dry. */
  touchdownWear = 0;
  rolloutWear = 0;
  taxiWear = 0;
  /** The same when wet. */
  touchdownWearWet = 0;
  rolloutWearWet = 0;
  taxiWearWet = 0;
  rolloutM = 0;
  taxiM = 0;
  /** Sharp stones per metre of footprint width in the landing roll and in taxi; taxi counts apart only where its surface differs. */
  rolloutStonesPerM = 0;
  taxiStonesPerM = 0;
  sameSurface = true;
  rolloutBiteScaleM = 0;
  taxiBiteScaleM = 0;
  /** Rock edges met. */
  patchEdges = 0;
  rolloutEdges = 0;
  taxiEdges = 0;
  touchdownEdgeScaleM = 0;
  rolloutEdgeScaleM = 0;
  taxiEdgeScaleM = 0;
  /** Side cuts per metre of deflection. */
  rolloutSideCutsPerM = 0;
  taxiSideCutsPerM = 0;
  /** Tail hits per metre of footprint width and metre of groove. */
  tailHits = 0;
  dryGrip = 0;
  wetGrip = 0;
  wetShare = 0;
  paved = false;
  help = false;
}

/** What a wheel position of a set-up is in one world; computed once per trial. */
export class WheelConstants {
  /** Weight on the wheel per mass of the airplane, m/s2. */
  loadPerMass = 0;
  /** Mass on the wheel over mass of the airplane. */
  massShare = 0;
  diameterM = 0;
  widthM = 0;
  meanSizeM = 0;
  stiffnessAreaM2 = 0;
  /** Carcass stiffness as pressure, Pa. */
  ratedPa = 0;
  evenDeflectionM = 0;
  freeHeightM = 0;
  bandGain = 0;
  centreAreaShare = 0;
  centreRubberAreaM2 = 0;
  shoulderRubberAreaM2 = 0;
  landRatio = 0;
  innerShoulderShare = 0;
  touchdownLoadShare = 0;
  inertiaKgM2 = 0;
  rollingFloor = 0;
  rollingTermPa = 0;
  squirmShare = 0;
  turnScrub = 0;
  crosswindScrub = 0;
  /** Slip ratio under braking; 0 on an unbraked wheel. */
  brakingSlip = 0;
  slidingFriction = 0;
  pivotAngleRad = 0;
  newTreadM = 0;
  /** Rubber above the cords when new, m. */
  rubberM = 0;
  carcassM = 0;
  /** Gauge pressure that a check leaves, Pa: the cold setting plus the error of the gauge. */
  coldPa = 0;
  /** Ambient pressure where tires are set, Pa. */
  basePa = 0;
  lossPerDay = 0;
  leaksPerDay = 0;
  leakAtStartPerDay = 0;
  leakGrowthPerDay = 0;
  /** Bead holding torque per gauge pressure, N m/Pa, and with no air, N m. */
  beadTorquePerPa = 0;
  ledgeTorqueNm = 0;
  /** Hazard of losing air in a bead slip: -ln(1 - chance of tearing the valve). */
  valveTearHazard = 0;
  impactEnergyShare = 0;
  /** Hydroplaning speed at 1 Pa, m/s: scales with the square root of pressure. */
  hydroplaningAtOnePaMps = 0;
  readonly strips: StripConstants[];

  constructor(stripCount: number) {
    this.strips = Array.from({ length: stripCount }, () => new StripConstants());
  }
}

/** Wheel positions of an airplane. */
export type Position = 'main' | 'third';

/**
 * Works out the constants of a wheel position in a world.
 *
 * @param scenario compiled scenario.
 * @param world values of the assumptions, SI units.
 * @param tire the tire fitted.
 * @param coldPa cold inflation pressure, Pa gauge.
 * @param position main wheel (braked, two of them) or nose or tail wheel.
 * @param target receives the constants.
 */
export function fillWheelConstants(
  scenario: CompiledScenario,
  world: Float64Array,
  tire: CompiledTire,
  coldPa: number,
  position: Position,
  target: WheelConstants,
): void {
  const { global, airplane } = scenario;
  const value = (index: number): number => world[index]!;
  const main = position === 'main';
  const thirdShare = value(airplane.thirdWheelLoadShare);
  target.massShare = main ? 0.5 * (1 - thirdShare) : thirdShare;
  target.loadPerMass = target.massShare * STANDARD_GRAVITY_MPS2;
  target.diameterM = tire.outsideDiameterM;
  target.widthM = tire.sectionWidthM;
  target.meanSizeM = tire.meanSizeM;
  target.stiffnessAreaM2 = tire.stiffnessAreaM2;
  target.ratedPa = tire.ratedPa;
  target.evenDeflectionM = value(tire.evenWearDeflection) * tire.sectionHeightM;
  target.freeHeightM = tire.freeSectionHeightM;
  target.bandGain = value(global.bandGain);
  target.centreAreaShare = tire.centreShare;
  target.centreRubberAreaM2 = tire.rubberAreaM2 * tire.centreShare;
  target.shoulderRubberAreaM2 = 0.5 * tire.rubberAreaM2 * (1 - tire.centreShare);
  target.landRatio = tire.landRatio;
  target.innerShoulderShare = main ? value(global.innerShoulderShare) : 0.5;
  target.touchdownLoadShare = value(global.touchdownLoadShare);
  target.inertiaKgM2 = tire.inertiaKgM2;
  target.rollingFloor = value(tire.rollingFloor);
  target.rollingTermPa = value(global.rollingPressureTerm);
  target.squirmShare = value(tire.squirmShare);
  target.turnScrub = value(global.turnScrub);
  target.crosswindScrub = value(global.crosswindScrub);
  target.brakingSlip = main ? value(global.brakingSlip) : 0;
  target.slidingFriction = value(global.slidingFriction);
  target.pivotAngleRad = scenario.habits.pivotAngleRad;
  target.newTreadM = tire.newTreadM;
  target.rubberM = tire.newTreadM + tire.undertreadM;
  target.carcassM = tire.carcassM;
  const setPa = coldPa + value(global.gaugeBias);
  target.coldPa = setPa > 0 ? setPa : 0;
  target.basePa = scenario.basePa;
  target.lossPerDay = value(tire.tubed ? global.tubePermeation : global.tubelessPermeation) * DAY_S;
  target.leaksPerDay = value(global.slowLeaks) * DAY_S;
  target.leakAtStartPerDay = value(global.leakAtStart) * DAY_S;
  target.leakGrowthPerDay = target.leakAtStartPerDay * value(global.leakGrowth) * DAY_S;
  const beadFriction = value(global.beadFriction);
  target.ledgeTorqueNm = value(global.ledgeTorque);
  target.beadTorquePerPa = beadHoldingTorqueNm(1, tire.widestRadiusM, tire.beadRadiusM, beadFriction, 0);
  target.valveTearHazard = tire.tubed ? hazardOfChance(value(global.valveTearChance)) : 0;
  target.impactEnergyShare = value(global.impactEnergyShare);
  target.hydroplaningAtOnePaMps = hydroplaningSpeedMps(1, SPIN_UP_COEFFICIENT);

  const wear = value(global.abradability) * value(tire.wearFactor);
  const biteFactor = value(tire.biteFactor);
  for (let s = 0; s < scenario.strips.length; s++) {
    fillStripConstants(scenario, value, tire, wear, biteFactor, scenario.strips[s]!, target.strips[s]!);
  }
}

function fillStripConstants(
  scenario: CompiledScenario,
  value: (index: number) => number,
  tire: CompiledTire,
  wear: number,
  biteFactor: number,
  strip: CompiledStrip,
  target: StripConstants,
): void {
  const touchdown = scenario.surfaces[strip.touchdown]!;
  const rollout = scenario.surfaces[strip.rollout]!;
  const taxi = scenario.surfaces[strip.taxi]!;
  const dryWear = (surface: CompiledSurface): number => wear * value(surface.wearFactor);
  const wetWear = (surface: CompiledSurface): number => dryWear(surface) * value(surface.wetFactor);
  target.ambientPa = strip.ambientPa;
  target.touchdownWear = dryWear(touchdown);
  target.rolloutWear = dryWear(rollout);
  target.taxiWear = dryWear(taxi);
  target.touchdownWearWet = wetWear(touchdown);
  target.rolloutWearWet = wetWear(rollout);
  target.taxiWearWet = wetWear(taxi);
  target.rolloutM = strip.rolloutM;
  target.taxiM = strip.taxiM;
  target.rolloutStonesPerM =
    value(rollout.sharpStones) * strip.rolloutM * value(scenario.global.rolloutStoneFactor);
  target.taxiStonesPerM = value(taxi.sharpStones) * strip.taxiM;
  target.sameSurface = strip.rollout === strip.taxi;
  target.rolloutBiteScaleM = SCALE_OVER_MEDIAN * value(rollout.biteDepth) * biteFactor;
  target.taxiBiteScaleM = SCALE_OVER_MEDIAN * value(taxi.biteDepth) * biteFactor;
  target.patchEdges = value(touchdown.rockEdges) * scenario.global.touchdownPatchM;
  target.rolloutEdges = value(rollout.rockEdges) * strip.rolloutM;
  target.taxiEdges = value(taxi.rockEdges) * strip.taxiM;
  target.touchdownEdgeScaleM = SCALE_OVER_MEDIAN * value(touchdown.edgeHeight);
  target.rolloutEdgeScaleM = SCALE_OVER_MEDIAN * value(rollout.edgeHeight);
  target.taxiEdgeScaleM = SCALE_OVER_MEDIAN * value(taxi.edgeHeight);
  const sideExposure = value(tire.sideExposure) / tire.sectionHeightM;
  target.rolloutSideCutsPerM =
    target.rolloutEdges * sideExposure * chanceLarger(tire.sidewallThicknessM, target.rolloutBiteScaleM);
  target.taxiSideCutsPerM =
    target.taxiEdges * sideExposure * chanceLarger(tire.sidewallThicknessM, target.taxiBiteScaleM);
  target.tailHits =
    (value(rollout.looseStones) * strip.rolloutM * value(tire.tailHitShare)) / REFERENCE_GROOVE_DEPTH_M;
  target.dryGrip = value(rollout.dryGrip);
  target.wetGrip = value(rollout.wetGrip);
  target.wetShare = strip.wetShare;
  target.paved = rollout.paved;
  target.help = strip.help;
}

function hazardOfChance(chance: number): number {
  return chance >= 1 ? 50 : -log(1 - chance);
}
