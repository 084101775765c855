import type { LandingMeans } from './likelihood-ground.js';
import type { PlannedPart, PlannedPlace } from './likelihood-plan-types.js';
import { BAND_COUNT } from './likelihood-work.js';

/** Sides of an axle: 0 the left or only wheel, 1 the right one. */
export const SIDES = 2;
/** Depths that are followed: bands of both wheels. */
export const STATES: number = SIDES * BAND_COUNT;
/** Spots around the tire on which pivot turns are remembered, as in the simulator. */
const SPOTS = 8;
const BRAKING_WAYS = 3;

/** What one landing on a place adds to the depths worn of an axle. */
class AxleLanding {
  readonly mean = new Float64Array(STATES);
  readonly covariance = new Float64Array(STATES * STATES);
  /** By side: expected depth per pivot spot, and its variance. */
  readonly spotMean = new Float64Array(SIDES);
  readonly spotVariance = new Float64Array(SIDES);
  /** State of the means that it was worked out from. */
  state = -1;
}

/**
 * Landings of an axle with given tires, by place and way of braking: each is worked out once in a world and used for all
 * airplanes that have such an axle.
 */
export class AxleLandings {
  private readonly cells: (AxleLanding | undefined)[] = [];
  private readonly means: LandingMeans;
  private readonly places: readonly PlannedPlace[];

  constructor(means: LandingMeans, places: readonly PlannedPlace[]) {
    this.means = means;
    this.places = places;
  }

  /**
   * One landing.
   *
   * @param kinds kind of tire by side, -1 for none.
   * @param part where it lands, and how it brakes.
   */
  of(kinds: Int32Array, { place, braking }: PlannedPart): AxleLanding {
    const choices = this.means.kindCount + 1;
    const pair = (kinds[0]! + 1) * choices + kinds[1]! + 1;
    const at = (pair * this.places.length + place) * BRAKING_WAYS + braking;
    const cell = (this.cells[at] ??= new AxleLanding());
    if (cell.state !== this.means.state) this.fill(cell, kinds, place, braking);
    return cell;
  }

  private fill(cell: AxleLanding, kinds: Int32Array, place: number, braking: number): void {
    const { means } = this;
    const { mean, covariance, spotMean, spotVariance } = cell;
    cell.state = means.state;
    mean.fill(0);
    covariance.fill(0);
    spotMean.fill(0);
    spotVariance.fill(0);
    for (const { strip, share } of this.places[place]!.strips) {
      for (let side = 0; side < SIDES; side++) {
        const kind = kinds[side]!;
        if (kind < 0) continue;
        const at = means.depthAt(kind, strip, braking);
        for (let b = 0; b < BAND_COUNT; b++) mean[side * BAND_COUNT + b]! += share * means.depthM[at + b]!;
        const ground = kind * means.stripCount + strip;
        const turns = (share * means.pivotChance) / SPOTS;
        spotMean[side]! += turns * means.pivotM[ground]!;
        spotVariance[side]! += turns * means.scatterSquare * means.pivotSquareM2[ground]!;
      }
      this.addProducts(covariance, kinds, strip, braking, share * means.scatterSquare);
    }
    for (let i = 0; i < STATES; i++)
      for (let j = 0; j < STATES; j++) covariance[i * STATES + j]! -= mean[i]! * mean[j]!;
  }

  /** Adds the mean products of the depths of a landing on a strip. */
  private addProducts(
    covariance: Float64Array,
    kinds: Int32Array,
    strip: number,
    braking: number,
    weight: number,
  ): void {
    const { means } = this;
    for (let one = 0; one < SIDES; one++) {
      const kind = kinds[one]!;
      if (kind < 0) continue;
      const depths = means.depthAt(kind, strip, braking);
      for (let two = 0; two < SIDES; two++) {
        const other = kinds[two]!;
        if (other < 0) continue;
        const otherDepths = means.depthAt(other, strip, braking);
        const at = means.productsAt(one !== two, kind, other, strip);
        for (let b = 0; b < BAND_COUNT; b++) {
          for (let c = 0; c < BAND_COUNT; c++) {
            const product = means.depthM[depths + b]! * means.depthM[otherDepths + c]!;
            covariance[(one * BAND_COUNT + b) * STATES + two * BAND_COUNT + c]! +=
              weight * product * means.product(at + b * BAND_COUNT + c);
          }
        }
      }
    }
  }
}
