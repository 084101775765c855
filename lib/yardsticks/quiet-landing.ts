import { STANDARD_GRAVITY_MPS2 } from '../models/atmosphere.js';
import { centreWorkShare, shoulderWeight, wornDepthM } from '../models/bands.js';
import {
  deflectionM,
  footprintWidthM,
  grossFootprintAreaM2,
  rollingRadiusM,
  verticalStiffnessN,
} from '../models/contact.js';
import { impactDeflectionM, pinchChance } from '../models/pinch.js';
import { brakingWorkJ, rollingResistanceRatio, spinUpWorkJ, squirmWorkJ } from '../models/slip-work.js';
import { biteScaleM, chanceLarger, SCALE_OVER_MEDIAN, stonesMet } from '../models/stones.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { medianWorld } from '../simulate/world.js';

const BRAKED_WHEELS = 2;

/** What one landing of a quiet scenario does to a main tire, put together from the models without the landing loop. */
export interface QuietLanding {
  /** Depth worn off the band that wears most, m. */
  readonly wornM: number;
  /** Expected punctures through the tread, unworn. */
  readonly punctures: number;
  /** Expected pinch flats. */
  readonly pinches: number;
}

/**
 * The landing of a quiet scenario at its medians.
 *
 * @param scenario a quiet scenario: nothing varies between its landings, and tires keep the pressure they are set to.
 */
export function quietLanding(scenario: CompiledScenario): QuietLanding {
  const { main, mainPa } = scenario.setups[0]!;
  const { airplane, habits, global } = scenario;
  const world = medianWorld(scenario);
  const value = (index: number): number => world[index]!;
  const strip = scenario.strips[scenario.mixes[0]!.strips[0]!]!;
  const surface = scenario.surfaces[strip.rollout]!;
  const massKg = value(airplane.landingMass);
  const wheelMassKg = massKg * 0.5 * (1 - value(airplane.thirdWheelLoadShare));
  const loadN = wheelMassKg * STANDARD_GRAVITY_MPS2;
  const speedMps = airplane.stallSpeedMps * value(habits.touchdownSpeedRatio);
  const { sectionWidthM, outsideDiameterM, sectionHeightM } = main;
  const stiffnessN = verticalStiffnessN(mainPa, main.ratedPa, main.stiffnessAreaM2);
  const rollingM = deflectionM(loadN, stiffnessN, sectionWidthM);
  const touchdownM = deflectionM(value(global.touchdownLoadShare) * loadN, stiffnessN, sectionWidthM);

  const wearPerJ = value(global.abradability) * value(main.wearFactor) * value(surface.wearFactor);
  const radiusM = rollingRadiusM(touchdownM, outsideDiameterM);
  const spinUpM3 = wearPerJ * spinUpWorkJ(main.inertiaKgM2, speedMps, radiusM);
  const resistance = rollingResistanceRatio(
    value(main.rollingFloor),
    value(global.rollingPressureTerm),
    mainPa,
  );
  const distanceM = strip.rolloutM + strip.taxiM;
  const rollM3 =
    wearPerJ *
    (brakingWorkJ(massKg, speedMps, value(habits.brakedShare), value(global.brakingSlip), BRAKED_WHEELS) +
      squirmWorkJ(resistance, loadN, distanceM, value(main.squirmShare)));
  const centreShare = (deflection: number): number =>
    centreWorkShare(
      main.centreShare,
      shoulderWeight(deflection / sectionHeightM, value(main.evenWearDeflection), value(global.bandGain)),
    );
  const centreM3 = spinUpM3 * centreShare(touchdownM) + rollM3 * centreShare(rollingM);
  const centreM = wornDepthM(centreM3, main.rubberAreaM2 * main.centreShare);
  const shoulderM = wornDepthM(spinUpM3 + rollM3 - centreM3, main.rubberAreaM2 * (1 - main.centreShare));

  const contactPa = loadN / grossFootprintAreaM2(rollingM, main.meanSizeM);
  const biteM = biteScaleM(SCALE_OVER_MEDIAN * value(surface.biteDepth) * value(main.biteFactor), contactPa);
  const thicknessM = main.newTreadM + main.undertreadM + main.carcassM;
  const met = stonesMet(value(surface.sharpStones), footprintWidthM(rollingM, sectionWidthM), distanceM);

  const impactM = impactDeflectionM(
    value(habits.sinkRate),
    wheelMassKg,
    value(global.impactEnergyShare),
    stiffnessN,
    sectionWidthM,
  );
  const edgeM = SCALE_OVER_MEDIAN * value(surface.edgeHeight);
  const heightM = main.freeSectionHeightM;
  return {
    wornM: Math.max(centreM, shoulderM),
    punctures: met * chanceLarger(thicknessM, biteM),
    pinches:
      value(surface.rockEdges) *
      (global.touchdownPatchM * pinchChance(heightM - touchdownM - impactM, edgeM) +
        distanceM * pinchChance(heightM - rollingM, edgeM)),
  };
}
