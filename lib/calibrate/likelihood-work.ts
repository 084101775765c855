import { centreWorkShare, shoulderWeight, wornDepthM } from '../models/bands.js';
import { gaugePressurePa, referencePressurePa, remainingExcessShare } from '../models/inflation.js';
import { pivotWorkJ } from '../models/slip-work.js';
import type { CompiledScenario, CompiledTire } from '../scenario/compile.js';
import { fillWheelConstants, WheelConstants, type Position } from '../simulate/constants.js';
import { BLOCK_LANDINGS, DRAW, TRACK } from '../simulate/layout.js';
import { makeContact, slip, Span } from '../simulate/steps.js';
import { Wheel, WheelTrack } from '../simulate/wheel.js';
import { mateOf, type TypicalLandings } from './likelihood-landings.js';

/** Bands of a tread in the order of this room. */
export const BANDS = ['centre', 'inner shoulder', 'outer shoulder'] as const;
export const BAND_COUNT = 3;
/** What wears: spin-up, braking, rolling over a metre of landing roll, rolling over a metre of taxi. */
export const ZONES = 4;
const SPIN_UP = 0;
const BRAKE = 1;
const ROLL = 2;
const TAXI = 3;

// Columns as constants of this module: the compiler folds these, but not what is imported.
const SIDE_SHIFT = DRAW.sideShift;
const ROLL_RATIO = DRAW.rollRatio;
const LOAD_N = TRACK.loadN;
const DEFLECTION_M = TRACK.deflectionM;
const TOUCHDOWN_DEFLECTION_M = TRACK.touchdownDeflectionM;
const FOOTPRINT_WIDTH_M = TRACK.footprintWidthM;
const FOOTPRINT_AREA_M2 = TRACK.footprintAreaM2;
const SPIN_UP_WORN_M3 = TRACK.spinUpWornM3;
const BRAKING_WORN_M3 = TRACK.brakingWornM3;
const ROLLOUT_WORN_M3 = TRACK.rolloutWornM3;
const TAXI_WORN_M3 = TRACK.taxiWornM3;

/** What may be asked of one kind of wheel. */
export interface WorkRequest {
  readonly tire: CompiledTire;
  readonly coldPa: number;
  readonly checkEveryDays: number;
  readonly position: Position;
}

/** What a kind of wheel is in one world, and its air in each landing: the same on all strips. */
export class WheelKind {
  readonly constants: WheelConstants;
  readonly position: Position;
  /** Pressure above the ambient one of the base at the reference temperature, Pa, by landing. */
  readonly excessPa: Float64Array = new Float64Array(BLOCK_LANDINGS);
  /** Temperature of the landing, K. */
  readonly temperatureK: Float64Array = new Float64Array(BLOCK_LANDINGS);
  readonly landings: TypicalLandings;
  private readonly checkTemperatureK = new Float64Array(BLOCK_LANDINGS);
  private readonly request: WorkRequest;
  private readonly scenario: CompiledScenario;

  constructor(scenario: CompiledScenario, landings: TypicalLandings, request: WorkRequest) {
    this.scenario = scenario;
    this.landings = landings;
    this.request = request;
    this.position = request.position;
    this.constants = new WheelConstants(scenario.strips.length);
    const { temperatureK, landingsPerYear } = scenario.calendar;
    let sum = 0;
    for (let k = 0; k < landingsPerYear; k++) sum += temperatureK[k]!;
    const spreadK = scenario.temperatureSpreadK;
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      this.temperatureK[j] = sum / landingsPerYear + spreadK * landings.temperatureScore[j]!;
      this.checkTemperatureK[j] = sum / landingsPerYear + spreadK * landings.checkTemperatureScore[j]!;
    }
  }

  /** Works it out in a world: the pressure is set at the last check and lost since then. */
  fill(world: Float64Array): void {
    const { tire, coldPa, position, checkEveryDays } = this.request;
    fillWheelConstants(this.scenario, world, tire, coldPa, position, this.constants);
    const { coldPa: setPa, basePa, lossPerDay } = this.constants;
    const { sinceCheck } = this.landings;
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      const excessPa = referencePressurePa(setPa, basePa, this.checkTemperatureK[j]!) - basePa;
      this.excessPa[j] = excessPa * remainingExcessShare(lossPerDay, checkEveryDays * sinceCheck[j]!);
    }
  }
}

/**
 * What one landing does to a tire in the mean, per wear of the ground: the simulator's own steps over landings that
 * stand for all. Wear of the ground (m3/J) times these depths is the depth worn.
 */
export class WheelWork {
  /** Depth per wear of the ground, 1/(m3/J) m, at zone × bands + band; rolling per metre. Left main or third wheel. */
  readonly depth: Float64Array = new Float64Array(ZONES * BAND_COUNT);
  /** The same landing by landing, at (landing × zones + zone) × bands, where `keepLandings` has put it. */
  readonly byLanding: Float64Array = new Float64Array(BLOCK_LANDINGS * ZONES * BAND_COUNT);
  /** Depth of one pivot turn per wear of the ground, and the mean of its square. */
  pivotDepth = 0;
  pivotDepthSquare = 0;
  /** Mean footprint width, plain and times the relative length of the landing roll, m. */
  widthM = 0;
  rollWidthM = 0;
  /** Mean contact pressure, Pa. */
  contactPa = 0;
  /** Mean deflection, plain and times the relative length of the landing roll, m. */
  deflectionM = 0;
  rollDeflectionM = 0;
  readonly constants: WheelConstants;
  private readonly kind: WheelKind;
  private readonly ambientPa: number;
  private readonly wheel: Wheel;
  private readonly span = new Span();

  /** @param ambientPa ambient pressure of the strip, Pa. */
  constructor(kind: WheelKind, ambientPa: number) {
    this.kind = kind;
    this.ambientPa = ambientPa;
    this.constants = kind.constants;
    this.wheel = new Wheel(kind.constants, new WheelTrack(), kind.position === 'main' ? -1 : 0);
    this.span.to = BLOCK_LANDINGS;
  }

  /** Works it out in a world, in which the typical landings are laid and the kind is filled. */
  fill(): void {
    const { draws, unitGround } = this.kind.landings;
    this.inflate();
    makeContact(this.wheel, draws, this.span);
    slip(this.wheel, draws, unitGround, this.span);
    this.shareOverBands();
    this.meetGround();
  }

  /** Pressure of each landing, changed by temperature and elevation. */
  private inflate(): void {
    const { excessPa, temperatureK } = this.kind;
    const { basePa } = this.constants;
    const { data } = this.wheel.track;
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      data[TRACK.gaugePa + j] = gaugePressurePa(basePa + excessPa[j]!, this.ambientPa, temperatureK[j]!);
    }
  }

  /** As the simulator shares wear over the bands, but for each zone apart. */
  private shareOverBands(): void {
    this.depth.fill(0);
    for (let j = 0; j < BLOCK_LANDINGS; j++) this.shareLanding(j, this.depth, 0);
    for (let at = 0; at < ZONES * BAND_COUNT; at++) this.depth[at]! /= BLOCK_LANDINGS;
  }

  /** Keeps the depths of the last world landing by landing. */
  keepLandings(): void {
    this.byLanding.fill(0);
    for (let j = 0; j < BLOCK_LANDINGS; j++) this.shareLanding(j, this.byLanding, j * ZONES * BAND_COUNT);
  }

  /** Adds the depths of one landing to those from `at` on. */
  private shareLanding(j: number, target: Float64Array, at: number): void {
    const { centreAreaShare, evenDeflectionM, bandGain, innerShoulderShare } = this.constants;
    const { centreRubberAreaM2, shoulderRubberAreaM2 } = this.constants;
    const t = this.wheel.track.data;
    const centreDepth = wornDepthM(1, centreRubberAreaM2);
    const shoulderDepth = wornDepthM(1, shoulderRubberAreaM2);
    const crown = shoulderWeight(t[TOUCHDOWN_DEFLECTION_M + j]!, evenDeflectionM, bandGain);
    const weight = shoulderWeight(t[DEFLECTION_M + j]!, evenDeflectionM, bandGain);
    const rollingShare = centreWorkShare(centreAreaShare, weight);
    const crownShare = centreWorkShare(centreAreaShare, crown);
    const lean = innerShoulderShare - this.wheel.side * this.kind.landings.draws.data[SIDE_SHIFT + j]!;
    const inner = lean < 0 ? 0 : lean > 1 ? 1 : lean;
    const spinUp = t[SPIN_UP_WORN_M3 + j]!;
    const braking = t[BRAKING_WORN_M3 + j]!;
    const rolling = t[ROLLOUT_WORN_M3 + j]! - braking;
    const taxi = t[TAXI_WORN_M3 + j]!;
    const centre = rollingShare * centreDepth;
    const shoulders = (1 - rollingShare) * shoulderDepth;
    const innerDepth = shoulders * inner;
    const outerDepth = shoulders - innerDepth;
    const crownShoulders = (1 - crownShare) * shoulderDepth;
    target[at]! += spinUp * crownShare * centreDepth;
    target[at + 1]! += spinUp * crownShoulders * inner;
    target[at + 2]! += spinUp * crownShoulders * (1 - inner);
    target[at + 3]! += braking * centre;
    target[at + 4]! += braking * innerDepth;
    target[at + 5]! += braking * outerDepth;
    target[at + 6]! += rolling * centre;
    target[at + 7]! += rolling * innerDepth;
    target[at + 8]! += rolling * outerDepth;
    target[at + 9]! += taxi * centre;
    target[at + 10]! += taxi * innerDepth;
    target[at + 11]! += taxi * outerDepth;
  }

  /** What decides on pivots and stones. */
  private meetGround(): void {
    const { slidingFriction, pivotAngleRad, landRatio, wearFactor } = this.constants;
    const t = this.wheel.track.data;
    const d = this.kind.landings.draws.data;
    const turns = this.wheel.side !== 0;
    let [pivot, pivotSquare, width, rollWidth, contact, deflection, rollDeflection] = [0, 0, 0, 0, 0, 0, 0];
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      const areaM2 = t[FOOTPRINT_AREA_M2 + j]!;
      const loadN = t[LOAD_N + j]!;
      const ratio = d[ROLL_RATIO + j]!;
      const widthM = t[FOOTPRINT_WIDTH_M + j]!;
      const deflectionM = t[DEFLECTION_M + j]!;
      if (turns) {
        const work = pivotWorkJ(loadN, slidingFriction, Math.sqrt(areaM2 / Math.PI), pivotAngleRad);
        const depth = wornDepthM(wearFactor * work, areaM2 * landRatio);
        pivot += depth;
        pivotSquare += depth * depth;
      }
      width += widthM;
      rollWidth += ratio * widthM;
      contact += loadN / areaM2;
      deflection += deflectionM;
      rollDeflection += ratio * deflectionM;
    }
    this.pivotDepth = pivot / BLOCK_LANDINGS;
    this.pivotDepthSquare = pivotSquare / BLOCK_LANDINGS;
    this.widthM = width / BLOCK_LANDINGS;
    this.rollWidthM = rollWidth / BLOCK_LANDINGS;
    this.contactPa = contact / BLOCK_LANDINGS;
    this.deflectionM = deflection / BLOCK_LANDINGS;
    this.rollDeflectionM = rollDeflection / BLOCK_LANDINGS;
  }

  /**
   * Mean over landings of the product of the depths that one landing wears, over the product of the means, for given
   * weights of the zones: how much more than steady wear varies with mass, speed, braking and side load.
   *
   * Both wheels must have kept their landings.
   *
   * @param weights wear of the ground by zone, rolling times its length.
   * @param other the wheel whose bands are the columns; itself, or the wheel on the other side.
   * @param mirrored true where the other wheel is on the other side.
   * @returns 3 × 3, rows the bands of this wheel.
   */
  relativeProducts(weights: Float64Array, other: WheelWork, mirrored: boolean): Float64Array {
    const products = new Float64Array(BAND_COUNT * BAND_COUNT);
    const own = new Float64Array(BAND_COUNT);
    const others = new Float64Array(BAND_COUNT);
    const sums = new Float64Array(2 * BAND_COUNT);
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      this.weigh(weights, j, own);
      other.weigh(weights, mirrored ? mateOf(j) : j, others);
      for (let b = 0; b < BAND_COUNT; b++) {
        sums[b]! += own[b]!;
        sums[BAND_COUNT + b]! += others[b]!;
        for (let c = 0; c < BAND_COUNT; c++) products[b * BAND_COUNT + c]! += own[b]! * others[c]!;
      }
    }
    return products.map((sum, at) => {
      const scale = sums[Math.floor(at / BAND_COUNT)]! * sums[BAND_COUNT + (at % BAND_COUNT)]!;
      return scale > 0 ? (sum * BLOCK_LANDINGS) / scale : 1;
    });
  }

  private weigh(weights: Float64Array, landing: number, target: Float64Array): void {
    target.fill(0);
    for (let zone = 0; zone < ZONES; zone++) {
      for (let b = 0; b < BAND_COUNT; b++) {
        target[b]! += weights[zone]! * this.byLanding[(landing * ZONES + zone) * BAND_COUNT + b]!;
      }
    }
  }
}

/** Depth worn by band for given weights of the zones, m. */
export function depthFor(work: WheelWork, weights: Float64Array, target: Float64Array, at: number): void {
  for (let b = 0; b < BAND_COUNT; b++) {
    target[at + b] =
      weights[SPIN_UP]! * work.depth[SPIN_UP * BAND_COUNT + b]! +
      weights[BRAKE]! * work.depth[BRAKE * BAND_COUNT + b]! +
      weights[ROLL]! * work.depth[ROLL * BAND_COUNT + b]! +
      weights[TAXI]! * work.depth[TAXI * BAND_COUNT + b]!;
  }
}
