import { STANDARD_GRAVITY_MPS2 } from '../models/atmosphere.js';
import { beadHoldingTorqueNm } from '../models/bead.js';
import { hydroplaningSpeedMps, SPIN_UP_COEFFICIENT } from '../models/hydroplaning.js';
import { chanceLarger, SCALE_OVER_MEDIAN } from '../models/stones.js';
import { log } from '../numeric/elementary.js';
import { SECONDS_PER_DAY } from '../scenario/calendar.js';
import type { CompiledScenario, CompiledTire } from '../scenario/compile.js';

/** Hazard that stands for certainty: e^-50 is nothing. */
const CERTAIN_HAZARD = 50;

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
  /** Wear and bite depth relative to the standard compound. */
  wearFactor = 0;
  biteFactor = 0;
  newTreadM = 0;
  /** Rubber above the cords when new, m. */
  rubberM = 0;
  /** Depth worn at which the tire comes off by policy, m. */
  wornAtM = 0;
  carcassM = 0;
  /** Gauge pressure that a check leaves, Pa: the cold setting plus the error of the gauge. */
  coldPa = 0;
  /** Gauge pressure below which the tire looks soft, Pa. */
  noticedBelowPa = 0;
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
  tailHitShare = 0;
  /** Hydroplaning speed at 1 Pa, m/s: scales with the square root of pressure. */
  hydroplaningAtOnePaMps = 0;
  /** Side cuts per metre of deflection by strip, in the typical landing roll and in taxi. */
  readonly rolloutSideCutsPerM: Float64Array;
  readonly taxiSideCutsPerM: Float64Array;

  constructor(stripCount: number) {
    this.rolloutSideCutsPerM = new Float64Array(stripCount);
    this.taxiSideCutsPerM = new Float64Array(stripCount);
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
  const { global, airplane, habits } = scenario;
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
  target.pivotAngleRad = habits.pivotAngleRad;
  target.wearFactor = value(tire.wearFactor);
  target.biteFactor = value(tire.biteFactor);
  target.newTreadM = tire.newTreadM;
  target.rubberM = tire.newTreadM + tire.undertreadM;
  target.wornAtM = habits.removeAtCords ? target.rubberM : tire.newTreadM - habits.treadLimitM;
  target.carcassM = tire.carcassM;
  const setPa = coldPa + value(global.gaugeBias);
  target.coldPa = setPa > 0 ? setPa : 0;
  target.noticedBelowPa = habits.noticedBelow * target.coldPa;
  target.basePa = scenario.basePa;
  target.lossPerDay = value(tire.tubed ? global.tubePermeation : global.tubelessPermeation) * SECONDS_PER_DAY;
  target.leaksPerDay = value(global.slowLeaks) * SECONDS_PER_DAY;
  target.leakAtStartPerDay = value(global.leakAtStart) * SECONDS_PER_DAY;
  target.leakGrowthPerDay = target.leakAtStartPerDay * value(global.leakGrowth) * SECONDS_PER_DAY;
  const beadFriction = value(global.beadFriction);
  target.ledgeTorqueNm = value(global.ledgeTorque);
  target.beadTorquePerPa = beadHoldingTorqueNm(1, tire.widestRadiusM, tire.beadRadiusM, beadFriction, 0);
  target.valveTearHazard = tire.tubed ? hazardOfChance(value(global.valveTearChance)) : 0;
  target.impactEnergyShare = value(global.impactEnergyShare);
  target.tailHitShare = value(tire.tailHitShare);
  target.hydroplaningAtOnePaMps = hydroplaningSpeedMps(1, SPIN_UP_COEFFICIENT);

  const sideExposure = value(tire.sideExposure) / tire.sectionHeightM;
  for (let s = 0; s < scenario.strips.length; s++) {
    const strip = scenario.strips[s]!;
    const sideCuts = (surfaceIndex: number, lengthM: number): number => {
      const surface = scenario.surfaces[surfaceIndex]!;
      const biteScaleM = SCALE_OVER_MEDIAN * value(surface.biteDepth) * target.biteFactor;
      return (
        value(surface.rockEdges) * lengthM * sideExposure * chanceLarger(tire.sidewallThicknessM, biteScaleM)
      );
    };
    target.rolloutSideCutsPerM[s] = sideCuts(strip.rollout, strip.rolloutM);
    target.taxiSideCutsPerM[s] = sideCuts(strip.taxi, strip.taxiM);
  }
}

function hazardOfChance(chance: number): number {
  return chance >= 1 ? CERTAIN_HAZARD : -log(1 - chance);
}
