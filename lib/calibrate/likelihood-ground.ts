import {
  biteScaleM,
  chanceLarger,
  chanceLargerOnBands,
  SCALE_OVER_MEDIAN,
  stonesMet,
} from '../models/stones.js';
import { exp } from '../numeric/elementary.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { TypicalLandings } from './likelihood-landings.js';
import type { PlannedPlace, TireKind } from './likelihood-plan-types.js';
import { BAND_COUNT, depthFor, WheelKind, WheelWork, ZONES } from './likelihood-work.js';

/** Ways to brake: light, normal, hard. */
const BRAKING_WAYS = 3;
const PRODUCTS = BAND_COUNT * BAND_COUNT;

/** Stones that a wheel meets on a strip in a landing, per landing: numbers and scales of bites. */
interface StonesOnStrip {
  rollStones: number;
  taxiStones: number;
  rollScaleM: number;
  taxiScaleM: number;
  sideCuts: number;
}

/** What a wheel kind of one tire may lose its air or get cut by, in one landing. */
export interface StoneHazards {
  puncture: number;
  sidePuncture: number;
  /** Cuts that reach the carcass. */
  cut: number;
  /** Cuts that a log holds: those, and the shallower ones down to what is written down. */
  logged: number;
}

/**
 * What one landing does in the mean, for every kind of tire and every strip that the records use, in one world.
 */
export class LandingMeans {
  /** Depth worn by one landing, m: at ((kind × strips + strip) × ways + braking) × bands. */
  readonly depthM: Float64Array;
  /** Depth of one pivot turn, m, and its mean square, at kind × strips + strip. */
  readonly pivotM: Float64Array;
  readonly pivotSquareM2: Float64Array;
  /** Mean square of the gamma multiplier on the wear of a landing: 1 + square of its coefficient of variation. */
  scatterSquare = 1;
  /** Counts the worlds that it was worked out in. */
  state = 0;
  /** Chance of a pivot turn on one main wheel. */
  pivotChance = 0;
  readonly kindCount: number;
  readonly stripCount: number;
  private readonly scenario: CompiledScenario;
  private readonly landings: TypicalLandings;
  private readonly works: (WheelWork | null)[];
  private readonly wheelKinds: readonly WheelKind[];
  private readonly distinctWorks: readonly WheelWork[];
  private readonly stones: StonesOnStrip[];
  /**
   * Mean product of the depths of one landing over the product of the means, 3 × 3 by kind, other kind and strip: see
   * {@link WheelWork.relativeProducts}. As of the median world: it hardly depends on the world. Worked out when asked for.
   */
  private readonly products: Float64Array;
  private readonly hasProducts: Uint8Array;
  private readonly medians: Float64Array;
  private readonly usedStrips: readonly number[];
  private readonly weights = new Float64Array(ZONES);

  /**
   * @param kinds of tires in the records.
   * @param places of the records.
   * @param medians the median world.
   */
  constructor(
    scenario: CompiledScenario,
    kinds: readonly TireKind[],
    places: readonly PlannedPlace[],
    medians: Float64Array,
  ) {
    this.scenario = scenario;
    this.landings = new TypicalLandings(scenario);
    this.kindCount = kinds.length;
    this.stripCount = scenario.strips.length;
    const cells = this.kindCount * this.stripCount;
    this.usedStrips = [...new Set(places.flatMap(({ strips }) => strips.map(({ strip }) => strip)))].sort(
      (one, other) => one - other,
    );
    this.works = new Array<WheelWork | null>(cells).fill(null);
    this.wheelKinds = kinds.map((kind) => new WheelKind(scenario, this.landings, kind));
    const distinct: WheelWork[] = [];
    this.wheelKinds.forEach((kind, k) => {
      const byAmbient = new Map<number, WheelWork>();
      for (const s of this.usedStrips) {
        const { ambientPa } = scenario.strips[s]!;
        let work = byAmbient.get(ambientPa);
        if (work === undefined) {
          work = new WheelWork(kind, ambientPa);
          byAmbient.set(ambientPa, work);
          distinct.push(work);
        }
        this.works[k * this.stripCount + s] = work;
      }
    });
    this.distinctWorks = distinct;
    this.depthM = new Float64Array(cells * BRAKING_WAYS * BAND_COUNT);
    this.pivotM = new Float64Array(cells);
    this.pivotSquareM2 = new Float64Array(cells);
    this.stones = Array.from({ length: cells }, () => ({
      rollStones: 0,
      taxiStones: 0,
      rollScaleM: 0,
      taxiScaleM: 0,
      sideCuts: 0,
    }));
    this.products = new Float64Array(2 * this.kindCount * cells * PRODUCTS);
    this.hasProducts = new Uint8Array(2 * this.kindCount * cells);
    this.medians = medians;
    this.fill(medians);
    for (const work of this.distinctWorks) work.keepLandings();
  }

  /** Works everything out in a world. */
  fill(world: Float64Array): void {
    const { global, habits } = this.scenario;
    this.state++;
    this.landings.lay(world);
    for (const kind of this.wheelKinds) kind.fill(world);
    for (const work of this.distinctWorks) work.fill();
    const spread = world[global.landingWearSpread]!;
    this.scatterSquare = 1 + spread * spread;
    this.pivotChance = 0.5 * world[habits.pivotChance]!;
    const { weights } = this;
    for (let k = 0; k < this.kindCount; k++) {
      for (const s of this.usedStrips) {
        const cell = k * this.stripCount + s;
        const work = this.works[cell]!;
        for (let way = 0; way < BRAKING_WAYS; way++) {
          this.fillWeights(world, s, way, weights);
          depthFor(work, weights, this.depthM, (cell * BRAKING_WAYS + way) * BAND_COUNT);
        }
        const strip = this.scenario.strips[s]!;
        const taxiWear = this.wearOf(world, strip.taxi, strip.wetShare);
        this.pivotM[cell] = taxiWear * work.pivotDepth;
        this.pivotSquareM2[cell] = taxiWear * taxiWear * work.pivotDepthSquare;
        this.fillStones(world, k, s);
      }
    }
  }

  /** Wear of a surface, m3/J, over dry and wet landings. */
  private wearOf(world: Float64Array, surface: number, wetShare: number): number {
    const { wearFactor, wetFactor } = this.scenario.surfaces[surface]!;
    const dry = world[this.scenario.global.abradability]! * world[wearFactor]!;
    return dry * (1 - wetShare + wetShare * world[wetFactor]!);
  }

  /** Wear of the ground by zone; rolling times its length. A habit is one spread of braking below or above normal. */
  private fillWeights(world: Float64Array, s: number, way: number, weights: Float64Array): void {
    const strip = this.scenario.strips[s]!;
    const rollout = this.wearOf(world, strip.rollout, strip.wetShare);
    const harder = way === 1 ? 1 : exp((way - 1) * world[this.scenario.habits.brakingSpread]!);
    weights[0] = this.wearOf(world, strip.touchdown, strip.wetShare);
    weights[1] = rollout * harder;
    weights[2] = rollout * strip.rolloutM;
    weights[3] = this.wearOf(world, strip.taxi, strip.wetShare) * strip.taxiM;
  }

  private fillProducts(mirrored: boolean, kind: number, other: number, s: number, at: number): void {
    const weights = new Float64Array(ZONES);
    this.fillWeights(this.medians, s, 1, weights);
    const wet = this.wetSquare(this.medians, s);
    const mate = this.works[other * this.stripCount + s]!;
    const products = this.works[kind * this.stripCount + s]!.relativeProducts(weights, mate, mirrored);
    for (let k = 0; k < PRODUCTS; k++) this.products[at + k] = products[k]! * wet;
  }

  /** Mean square of the wetness factor over its squared mean: wet landings wear less, and that is luck too. */
  private wetSquare(world: Float64Array, s: number): number {
    const { rollout, wetShare } = this.scenario.strips[s]!;
    const factor = world[this.scenario.surfaces[rollout]!.wetFactor]!;
    const mean = 1 - wetShare + wetShare * factor;
    return mean > 0 ? (1 - wetShare + wetShare * factor * factor) / (mean * mean) : 1;
  }

  /** Place of the 3 × 3 products of two kinds on a strip. */
  productsAt(mirrored: boolean, kind: number, other: number, strip: number): number {
    const pair = ((mirrored ? this.kindCount : 0) + kind) * this.kindCount + other;
    const cell = pair * this.stripCount + strip;
    if (this.hasProducts[cell] === 0) {
      this.hasProducts[cell] = 1;
      this.fillProducts(mirrored, kind, other, strip, cell * PRODUCTS);
    }
    return cell * PRODUCTS;
  }

  /** Mean product of the depths worn by one landing, relative to the product of the means. */
  product(at: number): number {
    return this.products[at]!;
  }

  private fillStones(world: Float64Array, k: number, s: number): void {
    const cell = k * this.stripCount + s;
    const strip = this.scenario.strips[s]!;
    const work = this.works[cell]!;
    const target = this.stones[cell]!;
    const [rollout, taxi] = [this.scenario.surfaces[strip.rollout]!, this.scenario.surfaces[strip.taxi]!];
    const { constants, widthM, rollWidthM, contactPa, deflectionM, rollDeflectionM } = work;
    const factor = world[this.scenario.global.rolloutStoneFactor]!;
    target.rollStones = stonesMet(world[rollout.sharpStones]! * factor, rollWidthM, strip.rolloutM);
    target.taxiStones = stonesMet(world[taxi.sharpStones]!, widthM, strip.taxiM);
    const scale = (depth: number): number =>
      biteScaleM(constants.biteFactor * SCALE_OVER_MEDIAN * world[depth]!, contactPa);
    target.rollScaleM = scale(rollout.biteDepth);
    target.taxiScaleM = scale(taxi.biteDepth);
    target.sideCuts =
      constants.rolloutSideCutsPerM[s]! * rollDeflectionM + constants.taxiSideCutsPerM[s]! * deflectionM;
  }

  /**
   * Expected punctures and cuts of one landing.
   *
   * @param worn depth worn off centre, inner and outer shoulder, m, from `at` on.
   * @param leastCutM depth from which on cuts are written down, m; Infinity where only those to the carcass count.
   * @param target receives them.
   */
  hazards(
    kind: number,
    strip: number,
    worn: Float64Array,
    at: number,
    leastCutM: number,
    target: StoneHazards,
  ): void {
    const cell = kind * this.stripCount + strip;
    const { centreAreaShare, rubberM, carcassM } = this.works[cell]!.constants;
    const { rollStones, taxiStones, rollScaleM, taxiScaleM, sideCuts } = this.stones[cell]!;
    const left = (band: number): number => Math.max(0, rubberM - worn[at + band]!);
    const [c, i, o] = [left(0), left(1), left(2)];
    const reach =
      rollStones * chanceLargerOnBands(centreAreaShare, c, i, o, rollScaleM) +
      taxiStones * chanceLargerOnBands(centreAreaShare, c, i, o, taxiScaleM);
    const [c2, i2, o2] = [c + carcassM, i + carcassM, o + carcassM];
    target.puncture =
      rollStones * chanceLargerOnBands(centreAreaShare, c2, i2, o2, rollScaleM) +
      taxiStones * chanceLargerOnBands(centreAreaShare, c2, i2, o2, taxiScaleM);
    target.cut = reach - target.puncture;
    target.logged = target.cut;
    target.sidePuncture = sideCuts;
    if (leastCutM === Infinity) return;
    const [c1, i1, o1] = [Math.min(c, leastCutM), Math.min(i, leastCutM), Math.min(o, leastCutM)];
    target.logged =
      rollStones * chanceLargerOnBands(centreAreaShare, c1, i1, o1, rollScaleM) +
      taxiStones * chanceLargerOnBands(centreAreaShare, c1, i1, o1, taxiScaleM) -
      target.puncture;
  }

  /** Bites of one landing per depth at a depth, 1/m: the density of the law of bites times their number. */
  bitesPerDepth(kind: number, strip: number, depthM: number): number {
    const { rollStones, taxiStones, rollScaleM, taxiScaleM } = this.stones[kind * this.stripCount + strip]!;
    return (
      (rollStones * 3 * chanceLarger(depthM, rollScaleM)) / (rollScaleM + depthM) +
      (taxiStones * 3 * chanceLarger(depthM, taxiScaleM)) / (taxiScaleM + depthM)
    );
  }

  /** Depth worn at which a tire of a kind comes off, m. */
  wornAtM(kind: number): number {
    return this.works[kind * this.stripCount + this.usedStrips[0]!]!.constants.wornAtM;
  }

  /** Place of the depths of one landing. */
  depthAt(kind: number, strip: number, braking: number): number {
    return ((kind * this.stripCount + strip) * BRAKING_WAYS + braking) * BAND_COUNT;
  }
}
