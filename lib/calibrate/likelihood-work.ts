import { centreWorkShare, shoulderWeight, wornDepthM } from '../models/bands.js';
import { gaugePressurePa, referencePressurePa, remainingExcessShare } from '../models/inflation.js';
import { brakingWorkJ, pivotWorkJ } from '../models/slip-work.js';
import type { CompiledScenario, CompiledTire } from '../scenario/compile.js';
import { fillWheelConstants, WheelConstants, type Position } from '../simulate/constants.js';
import { Ground } from '../simulate/ground.js';
import { BLOCK_LANDINGS, DRAW, GROUND, TRACK } from '../simulate/layout.js';
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

/** What may be asked of one kind of wheel. */
export interface WorkRequest {
  readonly tire: CompiledTire;
  readonly coldPa: number;
  readonly checkEveryDays: number;
  readonly position: Position;
  /** Ambient pressure of the strip, Pa. */
  readonly ambientPa: number;
}

/**
 * What one landing does to a tire in the mean, per wear of the ground: the simulator's own steps over landings that
 * stand for all. Wear of the ground (m3/J) times these depths is the depth worn.
 */
export class WheelWork {
  /** Depth per wear of the ground, 1/(m3/J) m, at zone × bands + band; rolling per metre. Left main or third wheel. */
  readonly depth: Float64Array = new Float64Array(ZONES * BAND_COUNT);
  /** Whether the depths are kept landing by landing too: only `relativeProducts` needs them. */
  keepsLandings = true;
  /** The same landing by landing, at landing × zones × bands. */
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
  private readonly request: WorkRequest;
  private readonly scenario: CompiledScenario;
  private readonly landings: TypicalLandings;
  private readonly wheel: Wheel;
  private readonly ground: Ground;
  private readonly span = new Span();
  private readonly meanTemperatureK: number;
  private readonly worn = new Float64Array(ZONES);

  constructor(scenario: CompiledScenario, landings: TypicalLandings, request: WorkRequest) {
    this.scenario = scenario;
    this.landings = landings;
    this.request = request;
    this.constants = new WheelConstants(scenario.strips.length);
    this.wheel = new Wheel(this.constants, new WheelTrack(), request.position === 'main' ? -1 : 0);
    this.ground = new Ground(scenario, scenario.mixes[0]!);
    this.span.to = BLOCK_LANDINGS;
    const { temperatureK, landingsPerYear } = scenario.calendar;
    let sum = 0;
    for (let k = 0; k < landingsPerYear; k++) sum += temperatureK[k]!;
    this.meanTemperatureK = sum / landingsPerYear;
  }

  /** Works it out in a world, in which the typical landings are laid. */
  fill(world: Float64Array): void {
    const { tire, coldPa, position } = this.request;
    fillWheelConstants(this.scenario, world, tire, coldPa, position, this.constants);
    this.inflate();
    makeContact(this.wheel, this.landings.draws, this.span);
    this.layUnitGround();
    slip(this.wheel, this.landings.draws, this.ground, this.span);
    this.shareOverBands();
    this.meetGround();
  }

  /** Pressure of each landing: set at the last check, lost since then, changed by temperature and elevation. */
  private inflate(): void {
    const { coldPa, basePa, lossPerDay } = this.constants;
    const { ambientPa, checkEveryDays } = this.request;
    const { temperatureScore, checkTemperatureScore, sinceCheck } = this.landings;
    const spreadK = this.scenario.temperatureSpreadK;
    const { data } = this.wheel.track;
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      const atCheckK = this.meanTemperatureK + spreadK * checkTemperatureScore[j]!;
      const nowK = this.meanTemperatureK + spreadK * temperatureScore[j]!;
      const excessPa = referencePressurePa(coldPa, basePa, atCheckK) - basePa;
      const leftPa = excessPa * remainingExcessShare(lossPerDay, checkEveryDays * sinceCheck[j]!);
      data[TRACK.gaugePa + j] = gaugePressurePa(basePa + leftPa, ambientPa, nowK);
    }
  }

  /** Ground on which every J of slip wears 1 m3, and every roll is 1 m long where it has its typical length. */
  private layUnitGround(): void {
    const g = this.ground.data;
    const d = this.landings.draws.data;
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      g[GROUND.touchdownWear + j] = 1;
      g[GROUND.rolloutWearM + j] = d[DRAW.rollRatio + j]!;
      g[GROUND.taxiWearM + j] = 1;
      const [massKg, speedMps, share] = [
        d[DRAW.massKg + j]!,
        d[DRAW.speedMps + j]!,
        d[DRAW.brakedShare + j]!,
      ];
      g[GROUND.brakingWornM3 + j] = brakingWorkJ(massKg, speedMps, share, 1, 2);
    }
  }

  /** As the simulator shares wear over the bands, but for each zone apart. */
  private shareOverBands(): void {
    const { centreAreaShare, evenDeflectionM, bandGain, innerShoulderShare } = this.constants;
    const { centreRubberAreaM2, shoulderRubberAreaM2 } = this.constants;
    const t = this.wheel.track.data;
    const d = this.landings.draws.data;
    const { side } = this.wheel;
    const centreDepth = wornDepthM(1, centreRubberAreaM2);
    const shoulderDepth = wornDepthM(1, shoulderRubberAreaM2);
    this.depth.fill(0);
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      const crown = shoulderWeight(t[TRACK.touchdownDeflectionM + j]!, evenDeflectionM, bandGain);
      const weight = shoulderWeight(t[TRACK.deflectionM + j]!, evenDeflectionM, bandGain);
      const rollingShare = centreWorkShare(centreAreaShare, weight);
      const crownShare = centreWorkShare(centreAreaShare, crown);
      const lean = innerShoulderShare - side * d[DRAW.sideShift + j]!;
      const inner = lean < 0 ? 0 : lean > 1 ? 1 : lean;
      const braking = t[TRACK.brakingWornM3 + j]!;
      this.worn[SPIN_UP] = t[TRACK.spinUpWornM3 + j]!;
      this.worn[BRAKE] = braking;
      this.worn[ROLL] = t[TRACK.rolloutWornM3 + j]! - braking;
      this.worn[TAXI] = t[TRACK.taxiWornM3 + j]!;
      for (let zone = 0; zone < ZONES; zone++) {
        const worn = this.worn[zone]!;
        const centre = worn * (zone === SPIN_UP ? crownShare : rollingShare);
        const shoulders = (worn - centre) * shoulderDepth;
        const at = zone * BAND_COUNT;
        const [one, two, three] = [centre * centreDepth, shoulders * inner, shoulders * (1 - inner)];
        this.depth[at]! += one / BLOCK_LANDINGS;
        this.depth[at + 1]! += two / BLOCK_LANDINGS;
        this.depth[at + 2]! += three / BLOCK_LANDINGS;
        if (!this.keepsLandings) continue;
        this.byLanding.set([one, two, three], j * ZONES * BAND_COUNT + at);
      }
    }
  }

  /** What decides on pivots and stones. */
  private meetGround(): void {
    const { slidingFriction, pivotAngleRad, landRatio, wearFactor } = this.constants;
    const t = this.wheel.track.data;
    const d = this.landings.draws.data;
    this.pivotDepth = this.pivotDepthSquare = this.widthM = this.rollWidthM = 0;
    this.contactPa = this.deflectionM = this.rollDeflectionM = 0;
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      const areaM2 = t[TRACK.footprintAreaM2 + j]!;
      const loadN = t[TRACK.loadN + j]!;
      const ratio = d[DRAW.rollRatio + j]!;
      if (this.wheel.side !== 0) {
        const work = pivotWorkJ(loadN, slidingFriction, Math.sqrt(areaM2 / Math.PI), pivotAngleRad);
        const depth = wornDepthM(wearFactor * work, areaM2 * landRatio);
        this.pivotDepth += depth / BLOCK_LANDINGS;
        this.pivotDepthSquare += (depth * depth) / BLOCK_LANDINGS;
      }
      this.widthM += t[TRACK.footprintWidthM + j]! / BLOCK_LANDINGS;
      this.rollWidthM += (ratio * t[TRACK.footprintWidthM + j]!) / BLOCK_LANDINGS;
      this.contactPa += loadN / areaM2 / BLOCK_LANDINGS;
      this.deflectionM += t[TRACK.deflectionM + j]! / BLOCK_LANDINGS;
      this.rollDeflectionM += (ratio * t[TRACK.deflectionM + j]!) / BLOCK_LANDINGS;
    }
  }

  /**
   * Mean over landings of the product of the depths that one landing wears, over the product of the means, for given
   * weights of the zones: how much more than steady wear varies with mass, speed, braking and side load.
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
