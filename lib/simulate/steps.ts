/**
 * The steps of a landing for one wheel, each over a span of landings: a plain loop that reads the track of the step
 * before and writes its own. Apart from air and tread, which carry over in local variables, landings do not touch each
 * other, so the loops stay short, allocate nothing and keep their numbers in registers.
 */
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
  pivotWorkJ,
  rollingResistanceRatio,
  scrubWorkJ,
  spinUpWorkJ,
  squirmWorkJ,
} from '../models/slip-work.js';
import { biteScaleM, chanceLargerOnBands, stonesMet } from '../models/stones.js';
import { oneMinusExp } from '../numeric/elementary.js';
import { CUT, LEAK, PRESSURE, PUNCTURE } from './clocks.js';
import type { Ground } from './ground.js';
import type { LandingDraws } from './landing-draws.js';
import { BLOCK_LANDINGS, DRAW, GROUND, TRACK } from './layout.js';
import { SPOTS, type Wheel } from './wheel.js';

// Columns as constants of this module: the compiler folds these, but not what is imported.
const DRAWN_PIVOT_UNIFORM = DRAW.pivotUniform;
const DRAWN_MASS_KG = DRAW.massKg;
const DRAWN_SPEED_MPS = DRAW.speedMps;
const DRAWN_ROLL_RATIO = DRAW.rollRatio;
const DRAWN_SINK_MPS = DRAW.sinkMps;
const DRAWN_SIDE_SHIFT = DRAW.sideShift;
const DRAWN_TEMPERATURE_K = DRAW.temperatureK;
const DRAWN_DAY = DRAW.day;
const DRAWN_GAP_DAYS = DRAW.gapDays;
const GROUND_AMBIENT_PA = GROUND.ambientPa;
const GROUND_TOUCHDOWN_WEAR = GROUND.touchdownWear;
const GROUND_TAXI_WEAR = GROUND.taxiWear;
const GROUND_ROLLOUT_WEAR_M = GROUND.rolloutWearM;
const GROUND_TAXI_WEAR_M = GROUND.taxiWearM;
const GROUND_BRAKING_WORN_M3 = GROUND.brakingWornM3;
const GROUND_ROLLOUT_STONES = GROUND.rolloutStones;
const GROUND_TAXI_STONES = GROUND.taxiStones;
const GROUND_ROLLOUT_BITE_SCALE_M = GROUND.rolloutBiteScaleM;
const GROUND_TAXI_BITE_SCALE_M = GROUND.taxiBiteScaleM;
const GROUND_PATCH_EDGES = GROUND.patchEdges;
const GROUND_ROLLOUT_EDGES = GROUND.rolloutEdges;
const GROUND_TAXI_EDGES = GROUND.taxiEdges;
const GROUND_TOUCHDOWN_EDGE_SCALE_M = GROUND.touchdownEdgeScaleM;
const GROUND_ROLLOUT_EDGE_SCALE_M = GROUND.rolloutEdgeScaleM;
const GROUND_TAXI_EDGE_SCALE_M = GROUND.taxiEdgeScaleM;
const GROUND_PEAK_BRAKING = GROUND.peakBraking;
const READING = TRACK.reading;
const GAUGE_PA = TRACK.gaugePa;
const LOAD_N = TRACK.loadN;
const PER_STIFFNESS = TRACK.perStiffness;
const DEFLECTION_M = TRACK.deflectionM;
const TOUCHDOWN_DEFLECTION_M = TRACK.touchdownDeflectionM;
const FOOTPRINT_WIDTH_M = TRACK.footprintWidthM;
const FOOTPRINT_AREA_M2 = TRACK.footprintAreaM2;
const SPIN_UP_WORN_M3 = TRACK.spinUpWornM3;
const BRAKING_WORN_M3 = TRACK.brakingWornM3;
const SQUIRM_WORN_M3 = TRACK.squirmWornM3;
const SCRUB_WORN_M3 = TRACK.scrubWornM3;
const PIVOT_WORN_M3 = TRACK.pivotWornM3;
const ROLLOUT_WORN_M3 = TRACK.rolloutWornM3;
const TAXI_WORN_M3 = TRACK.taxiWornM3;
const CENTRE_LOST_M = TRACK.centreLostM;
const INNER_LOST_M = TRACK.innerLostM;
const OUTER_LOST_M = TRACK.outerLostM;
const DEEPEST_LOST_M = TRACK.deepestLostM;
const PIVOT_SPOT = TRACK.pivotSpot;
const PIVOT_DEPTH_M = TRACK.pivotDepthM;
const TREAD_HAZARD = TRACK.treadHazard;
const SIDEWALL_HAZARD = TRACK.sidewallHazard;
const CUT_HAZARD = TRACK.cutHazard;
const PINCH_HAZARD = TRACK.pinchHazard;
const VALVE_HAZARD = TRACK.valveHazard;
const BEAD_SLIPPED = TRACK.beadSlipped;
const FLAT_CHANCE = TRACK.flatChance;

/** A span of landings of a block, and what the calendar asks for in it. */
export class Span {
  from = 0;
  /** One past the last landing. */
  to = 0;
  /** 1 where a pressure check is due before the landing. */
  readonly check: Uint8Array = new Uint8Array(BLOCK_LANDINGS);
  /** 1 where an inspection is due after the landing. */
  readonly inspect: Uint8Array = new Uint8Array(BLOCK_LANDINGS);
  /** Chance that a landing has a pivot turn. */
  pivotChance = 0;
  ageLimitDays = 0;
}

const CAPACITY = BLOCK_LANDINGS;

// A loop from a number known not to be negative to one known not to be above the capacity lets the compiler drop the
// overflow check of every index: a quarter of the time of a step.

function firstOf(span: Span): number {
  return Math.max(0, span.from);
}

function endOf(span: Span): number {
  return Math.min(CAPACITY, span.to);
}

/** Air: permeation and leakage since the landing before, leaks that begin, checks, and the walk-around. */
export function followAir(wheel: Wheel, draws: LandingDraws, ground: Ground, span: Span): void {
  const d = draws.data;
  const g = ground.data;
  const t = wheel.track.data;
  const { coldPa, noticedBelowPa, basePa, lossPerDay, leaksPerDay, leakAtStartPerDay, leakGrowthPerDay } =
    wheel.constants;
  // Above the ambient pressure of the base: what leaks away.
  let excessPa = wheel.gasPa - basePa;
  const { next } = wheel;
  next.leakDay = wheel.leakDay;
  let leaks = wheel.leakDay >= 0;
  let leakClock = wheel.clock[LEAK]!;
  let leakCount = wheel.count[LEAK]!;
  let leakThreshold = wheel.threshold[LEAK]!;
  let lastGapDays = -1;
  let kept = 1;
  for (let j = firstOf(span), end = endOf(span); j < end; j++) {
    const gap = d[DRAWN_GAP_DAYS + j]!;
    // The same gap comes back landing after landing.
    if (gap !== lastGapDays) {
      lastGapDays = gap;
      kept = remainingExcessShare(lossPerDay, gap);
    }
    excessPa *= kept;
    if (leaks) {
      const leakPerDay = leakAtStartPerDay + leakGrowthPerDay * (d[DRAWN_DAY + j]! - next.leakDay);
      excessPa *= remainingExcessShare(leakPerDay, gap);
    }
    leakClock += leaksPerDay * gap;
    if (leakClock >= leakThreshold) {
      leakClock = 0;
      leakCount++;
      leakThreshold = wheel.thresholdAt(LEAK, leakCount);
      if (!leaks) next.leakDay = d[DRAWN_DAY + j]!;
      leaks = true;
    }
    const temperatureK = d[DRAWN_TEMPERATURE_K + j]!;
    const ambientPa = g[GROUND_AMBIENT_PA + j]!;
    t[READING + j] = 0;
    if (span.check[j] === 1) {
      t[READING + j] = gaugePressurePa(basePa + excessPa, basePa, temperatureK) / coldPa;
      excessPa = referencePressurePa(coldPa, basePa, temperatureK) - basePa;
      leaks = false;
    }
    // The product tells the compiler that this is a number and not a value to be boxed.
    let gaugePa = 1 * gaugePressurePa(basePa + excessPa, ambientPa, temperatureK);
    if (gaugePa < noticedBelowPa) {
      excessPa = referencePressurePa(coldPa, basePa, temperatureK) - basePa;
      leaks = false;
      gaugePa = 1 * gaugePressurePa(basePa + excessPa, ambientPa, temperatureK);
    }
    t[GAUGE_PA + j] = gaugePa;
  }
  next.gasPa = basePa + excessPa;
  if (!leaks) next.leakDay = -1;
  next.leakClock = leakClock;
  next.leakCount = leakCount;
}

/** Load, deflection and footprint. */
export function makeContact(wheel: Wheel, draws: LandingDraws, span: Span): void {
  const d = draws.data;
  const t = wheel.track.data;
  const { side } = wheel;
  const { loadPerMass, ratedPa, stiffnessAreaM2, widthM, freeHeightM, touchdownLoadShare, meanSizeM } =
    wheel.constants;
  const freeShare = freeHeightM / widthM;
  for (let j = firstOf(span), end = endOf(span); j < end; j++) {
    const loadN = loadPerMass * d[DRAWN_MASS_KG + j]! * (1 + side * d[DRAWN_SIDE_SHIFT + j]!);
    const perStiffness = 1 / verticalStiffnessN(t[GAUGE_PA + j]!, ratedPa, stiffnessAreaM2);
    // Load over stiffness serves both deflections. They are worked out for a tire of width 1: no quotients then.
    const ratio = loadN * perStiffness;
    let share = deflectionM(ratio, 1, 1);
    if (share > freeShare) share = freeShare;
    const deflection = widthM * share;
    t[LOAD_N + j] = loadN;
    t[PER_STIFFNESS + j] = perStiffness;
    t[DEFLECTION_M + j] = deflection;
    t[TOUCHDOWN_DEFLECTION_M + j] = deflectionM(touchdownLoadShare * ratio, 1, widthM);
    t[FOOTPRINT_WIDTH_M + j] = widthM * footprintWidthM(share, 1);
    t[FOOTPRINT_AREA_M2 + j] = grossFootprintAreaM2(deflection, meanSizeM);
  }
}

/** Rubber worn off by cause. */
export function slip(wheel: Wheel, draws: LandingDraws, ground: Ground, span: Span): void {
  const d = draws.data;
  const g = ground.data;
  const t = wheel.track.data;
  const { inertiaKgM2, diameterM, rollingFloor, rollingTermPa, squirmShare, brakingSlip, wearFactor } =
    wheel.constants;
  const { turnScrub, crosswindScrub } = wheel.constants;
  const brakingFactor = brakingSlip * wearFactor;
  for (let j = firstOf(span), end = endOf(span); j < end; j++) {
    const loadN = t[LOAD_N + j]!;
    const radiusM = rollingRadiusM(t[TOUCHDOWN_DEFLECTION_M + j]!, diameterM);
    const spinUp =
      wearFactor * g[GROUND_TOUCHDOWN_WEAR + j]! * spinUpWorkJ(inertiaKgM2, d[DRAWN_SPEED_MPS + j]!, radiusM);
    const braking = brakingFactor * g[GROUND_BRAKING_WORN_M3 + j]!;
    const resistance = rollingResistanceRatio(rollingFloor, rollingTermPa, t[GAUGE_PA + j]!);
    // The ground gives wear times distance, so the distance of the work itself is 1.
    const rolloutWearM = wearFactor * g[GROUND_ROLLOUT_WEAR_M + j]!;
    const taxiWearM = wearFactor * g[GROUND_TAXI_WEAR_M + j]!;
    const squirm = squirmWorkJ(resistance, loadN, 1, squirmShare);
    const rolloutSquirm = rolloutWearM * squirm;
    const taxiSquirm = taxiWearM * squirm;
    const shift = d[DRAWN_SIDE_SHIFT + j]!;
    const rolloutScrub = rolloutWearM * scrubWorkJ(loadN, 1, crosswindScrub * shift * shift);
    const taxiScrub = taxiWearM * scrubWorkJ(loadN, 1, turnScrub);
    t[SPIN_UP_WORN_M3 + j] = spinUp;
    t[BRAKING_WORN_M3 + j] = braking;
    t[SQUIRM_WORN_M3 + j] = rolloutSquirm + taxiSquirm;
    t[SCRUB_WORN_M3 + j] = rolloutScrub + taxiScrub;
    t[ROLLOUT_WORN_M3 + j] = braking + rolloutSquirm + rolloutScrub;
    t[TAXI_WORN_M3 + j] = taxiSquirm + taxiScrub;
  }
}

/** Shares the worn rubber over the bands. */
export function wearBands(wheel: Wheel, draws: LandingDraws, span: Span): void {
  const d = draws.data;
  const t = wheel.track.data;
  const { side } = wheel;
  const { centreAreaShare, evenDeflectionM, bandGain, innerShoulderShare } = wheel.constants;
  const { centreRubberAreaM2, shoulderRubberAreaM2 } = wheel.constants;
  const perEven = 1 / evenDeflectionM;
  const centreDepthPerM3 = wornDepthM(1, centreRubberAreaM2);
  const shoulderDepthPerM3 = wornDepthM(1, shoulderRubberAreaM2);
  let centreLostM = wheel.centreLostM;
  let innerLostM = wheel.innerLostM;
  let outerLostM = wheel.outerLostM;
  for (let j = firstOf(span), end = endOf(span); j < end; j++) {
    const crownWeight = shoulderWeight(t[TOUCHDOWN_DEFLECTION_M + j]! * perEven, 1, bandGain);
    const weight = shoulderWeight(t[DEFLECTION_M + j]! * perEven, 1, bandGain);
    const spinUp = t[SPIN_UP_WORN_M3 + j]!;
    const rolling = t[ROLLOUT_WORN_M3 + j]! + t[TAXI_WORN_M3 + j]!;
    const centreWorn =
      spinUp * centreWorkShare(centreAreaShare, crownWeight) +
      rolling * centreWorkShare(centreAreaShare, weight);
    const shoulderDepthM = (spinUp + rolling - centreWorn) * shoulderDepthPerM3;
    // Load shifted onto a wheel also leans its tire outward; the lean is taken to follow the shift one to one.
    let inner = innerShoulderShare - side * d[DRAWN_SIDE_SHIFT + j]!;
    if (inner < 0) inner = 0;
    if (inner > 1) inner = 1;
    centreLostM += centreWorn * centreDepthPerM3;
    innerLostM += shoulderDepthM * inner;
    outerLostM += shoulderDepthM * (1 - inner);
    t[CENTRE_LOST_M + j] = centreLostM;
    t[INNER_LOST_M + j] = innerLostM;
    t[OUTER_LOST_M + j] = outerLostM;
    let deepestLostM = centreLostM;
    if (innerLostM > deepestLostM) deepestLostM = innerLostM;
    if (outerLostM > deepestLostM) deepestLostM = outerLostM;
    t[DEEPEST_LOST_M + j] = deepestLostM;
  }
}

/**
 * Pivot turns on this wheel, locked: each wears one spot, as large as the footprint, and may deepen the worst spot. Only
 * main wheels are braked, so only they are locked.
 */
export function pivot(wheel: Wheel, draws: LandingDraws, ground: Ground, span: Span): void {
  const d = draws.data;
  const g = ground.data;
  const t = wheel.track.data;
  const { side } = wheel;
  const { slidingFriction, pivotAngleRad, landRatio, wearFactor } = wheel.constants;
  if (side === 0) return;
  const chance = span.pivotChance;
  const spots = wheel.track.spotLostM;
  spots.set(wheel.spotLostM);
  let deepestSpotM = wheel.deepestSpotM;
  for (let j = firstOf(span), end = endOf(span); j < end; j++) {
    t[PIVOT_SPOT + j] = -1;
    t[PIVOT_WORN_M3 + j] = 0;
    const uniform = d[DRAWN_PIVOT_UNIFORM + j]!;
    // The uniform that decides on the turn also tells its side and, by what is left, its spot.
    const turns = uniform < chance;
    const right = uniform + uniform >= chance;
    if (turns && right === side > 0) {
      const footprintRadiusM = Math.sqrt(t[FOOTPRINT_AREA_M2 + j]! / Math.PI);
      const work = pivotWorkJ(t[LOAD_N + j]!, slidingFriction, footprintRadiusM, pivotAngleRad);
      const worn = wearFactor * g[GROUND_TAXI_WEAR + j]! * work;
      const spot = Math.min(SPOTS - 1, Math.floor(((2 * uniform) / chance - (right ? 1 : 0)) * SPOTS));
      const depthM = wornDepthM(worn, t[FOOTPRINT_AREA_M2 + j]! * landRatio);
      const lost = spots[spot]! + depthM;
      spots[spot] = lost;
      if (lost > deepestSpotM) deepestSpotM = lost;
      t[PIVOT_SPOT + j] = spot;
      t[PIVOT_DEPTH_M + j] = depthM;
      t[PIVOT_WORN_M3 + j] = worn;
      t[TAXI_WORN_M3 + j]! += worn;
    }
    t[DEEPEST_LOST_M + j]! += deepestSpotM;
  }
}

/** Hazards of cuts and punctures by stones, on the tread as it is before the wear of the landing. */
export function meetStones(wheel: Wheel, draws: LandingDraws, ground: Ground, span: Span): void {
  const d = draws.data;
  const g = ground.data;
  const t = wheel.track.data;
  const { centreAreaShare, rubberM, carcassM, biteFactor, rolloutSideCutsPerM, taxiSideCutsPerM } =
    wheel.constants;
  let centreM = left(rubberM - wheel.centreLostM);
  let innerM = left(rubberM - wheel.innerLostM);
  let outerM = left(rubberM - wheel.outerLostM);
  for (let j = firstOf(span), end = endOf(span); j < end; j++) {
    const contactPa = t[LOAD_N + j]! / t[FOOTPRINT_AREA_M2 + j]!;
    const widthM = t[FOOTPRINT_WIDTH_M + j]!;
    const met = stonesMet(g[GROUND_ROLLOUT_STONES + j]!, widthM, 1);
    const scaleM = biteScaleM(biteFactor * g[GROUND_ROLLOUT_BITE_SCALE_M + j]!, contactPa);
    let reach = met * chanceLargerOnBands(centreAreaShare, centreM, innerM, outerM, scaleM);
    let through =
      met *
      chanceLargerOnBands(centreAreaShare, centreM + carcassM, innerM + carcassM, outerM + carcassM, scaleM);
    if (g[GROUND_TAXI_STONES + j]! > 0) {
      const taxiMet = stonesMet(g[GROUND_TAXI_STONES + j]!, widthM, 1);
      const taxiScaleM = biteScaleM(biteFactor * g[GROUND_TAXI_BITE_SCALE_M + j]!, contactPa);
      reach += taxiMet * chanceLargerOnBands(centreAreaShare, centreM, innerM, outerM, taxiScaleM);
      through +=
        taxiMet *
        chanceLargerOnBands(
          centreAreaShare,
          centreM + carcassM,
          innerM + carcassM,
          outerM + carcassM,
          taxiScaleM,
        );
    }
    const strip = ground.strip[j]!;
    t[TREAD_HAZARD + j] = through;
    t[CUT_HAZARD + j] = reach - through;
    t[SIDEWALL_HAZARD + j] =
      t[DEFLECTION_M + j]! *
      (rolloutSideCutsPerM[strip]! * d[DRAWN_ROLL_RATIO + j]! + taxiSideCutsPerM[strip]!);
    centreM = left(rubberM - t[CENTRE_LOST_M + j]!);
    innerM = left(rubberM - t[INNER_LOST_M + j]!);
    outerM = left(rubberM - t[OUTER_LOST_M + j]!);
  }
}

/** Hazards of losing air by a pinch on a rock edge or a bead slip that tears the valve. */
export function strainAir(wheel: Wheel, draws: LandingDraws, ground: Ground, span: Span): void {
  const d = draws.data;
  const g = ground.data;
  const t = wheel.track.data;
  const { massShare, impactEnergyShare, widthM, freeHeightM, diameterM } = wheel.constants;
  const { brakingSlip, beadTorquePerPa, ledgeTorqueNm, valveTearHazard } = wheel.constants;
  const braked = brakingSlip > 0;
  for (let j = firstOf(span), end = endOf(span); j < end; j++) {
    const deflection = t[DEFLECTION_M + j]!;
    const heightLeftM = freeHeightM - deflection;
    // Mass over stiffness, so the stiffness itself is 1.
    const massPerStiffness = massShare * d[DRAWN_MASS_KG + j]! * t[PER_STIFFNESS + j]!;
    const impactM = impactDeflectionM(d[DRAWN_SINK_MPS + j]!, massPerStiffness, impactEnergyShare, 1, widthM);
    const touchdownLeftM = freeHeightM - t[TOUCHDOWN_DEFLECTION_M + j]! - impactM;
    let pinch =
      g[GROUND_PATCH_EDGES + j]! * pinchChance(touchdownLeftM, g[GROUND_TOUCHDOWN_EDGE_SCALE_M + j]!) +
      g[GROUND_ROLLOUT_EDGES + j]! * pinchChance(heightLeftM, g[GROUND_ROLLOUT_EDGE_SCALE_M + j]!);
    const taxiEdges = g[GROUND_TAXI_EDGES + j]!;
    if (taxiEdges > 0) pinch += taxiEdges * pinchChance(heightLeftM, g[GROUND_TAXI_EDGE_SCALE_M + j]!);
    const slipped =
      braked &&
      brakingTorqueNm(g[GROUND_PEAK_BRAKING + j]!, t[LOAD_N + j]!, loadedRadiusM(deflection, diameterM)) >
        beadTorquePerPa * t[GAUGE_PA + j]! + ledgeTorqueNm;
    const valve = slipped ? valveTearHazard : 0;
    t[PINCH_HAZARD + j] = pinch;
    t[VALVE_HAZARD + j] = valve;
    t[BEAD_SLIPPED + j] = slipped ? 1 : 0;
  }
}

/** Chance that the tire loses its air, by whatever cause. */
export function chanceFlats(wheel: Wheel, span: Span): void {
  const t = wheel.track.data;
  for (let j = firstOf(span), end = endOf(span); j < end; j++) {
    t[FLAT_CHANCE + j] = oneMinusExp(
      t[TREAD_HAZARD + j]! + t[SIDEWALL_HAZARD + j]! + t[PINCH_HAZARD + j]! + t[VALVE_HAZARD + j]!,
    );
  }
}

/**
 * Lets the clocks of a wheel run until its tire must come off.
 *
 * @returns one past the landing after which the tire comes off, or the end of the span.
 */
export function runClocks(wheel: Wheel, draws: LandingDraws, span: Span): number {
  const d = draws.data;
  const t = wheel.track.data;
  const { next } = wheel;
  const punctureThreshold = wheel.threshold[PUNCTURE]!;
  const pressureThreshold = wheel.threshold[PRESSURE]!;
  let punctureClock = wheel.clock[PUNCTURE]!;
  let pressureClock = wheel.clock[PRESSURE]!;
  let cutClock = wheel.clock[CUT]!;
  let cutCount = wheel.count[CUT]!;
  let cutThreshold = wheel.threshold[CUT]!;
  let cutPending = wheel.cutPending;
  // Adds up whatever must be finite: one look at the sum tells.
  let sum = 0;
  let j = firstOf(span);
  for (let off = false, end = Math.min(CAPACITY, endOfTread(wheel, d, span)); j < end && !off; j++) {
    sum += t[GAUGE_PA + j]! + t[DEEPEST_LOST_M + j]!;
    punctureClock += t[TREAD_HAZARD + j]! + t[SIDEWALL_HAZARD + j]!;
    pressureClock += t[PINCH_HAZARD + j]! + t[VALVE_HAZARD + j]!;
    cutClock += t[CUT_HAZARD + j]!;
    if (cutClock >= cutThreshold) {
      cutClock = 0;
      cutCount++;
      cutThreshold = wheel.thresholdAt(CUT, cutCount);
      cutPending = true;
    }
    off =
      punctureClock >= punctureThreshold ||
      pressureClock >= pressureThreshold ||
      (cutPending && span.inspect[j] === 1);
  }
  next.punctureClock = punctureClock;
  next.pressureClock = pressureClock;
  next.cutClock = cutClock;
  next.cutCount = cutCount;
  next.cutPending = cutPending;
  next.finiteSum = sum + punctureClock + pressureClock + cutClock;
  return j;
}

/** One past the landing after which the tire is worn or too old, or the end of the span. */
function endOfTread(wheel: Wheel, d: Float64Array, span: Span): number {
  const t = wheel.track.data;
  const { wornAtM } = wheel.constants;
  const ageAtDay = wheel.fittedDay + span.ageLimitDays;
  const end = endOf(span);
  // Wear and age only grow: one look at the last landing tells that there is nothing to look for.
  if (t[DEEPEST_LOST_M + end - 1]! < wornAtM && d[DRAWN_DAY + end - 1]! < ageAtDay) return end;
  let j = firstOf(span);
  while (j < end - 1 && t[DEEPEST_LOST_M + j]! < wornAtM && d[DRAWN_DAY + j]! < ageAtDay) j++;
  return j + 1;
}

/** Makes the state at the end of the span the state of the wheel: its air and tread. */
export function settleTire(wheel: Wheel, span: Span): void {
  const t = wheel.track.data;
  const last = span.to - 1;
  wheel.gasPa = wheel.next.gasPa;
  wheel.leakDay = wheel.next.leakDay;
  wheel.centreLostM = t[CENTRE_LOST_M + last]!;
  wheel.innerLostM = t[INNER_LOST_M + last]!;
  wheel.outerLostM = t[OUTER_LOST_M + last]!;
  if (wheel.side === 0) return;
  for (let j = firstOf(span), end = endOf(span); j < end; j++) {
    const spot = t[PIVOT_SPOT + j]!;
    if (spot < 0) continue;
    const lost = wheel.spotLostM[spot]! + t[PIVOT_DEPTH_M + j]!;
    wheel.spotLostM[spot] = lost;
    if (lost > wheel.deepestSpotM) wheel.deepestSpotM = lost;
  }
}

/** The same for its clocks. */
export function settleClocks(wheel: Wheel): void {
  const { next } = wheel;
  wheel.clock[PUNCTURE] = next.punctureClock;
  wheel.clock[PRESSURE] = next.pressureClock;
  wheel.clock[CUT] = next.cutClock;
  wheel.clock[LEAK] = next.leakClock;
  if (next.cutCount !== wheel.count[CUT]!) wheel.setCount(CUT, next.cutCount);
  if (next.leakCount !== wheel.count[LEAK]!) wheel.setCount(LEAK, next.leakCount);
  wheel.cutPending = next.cutPending;
}

function left(depthM: number): number {
  return depthM > 0 ? depthM : 0;
}
