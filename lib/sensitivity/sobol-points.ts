/** Points that fill the unit cube more evenly than chance: Sobol' points with a random shift. */
import { nextUniform, nextUniform53, openStream, streamKey, type Stream } from '../random/stream.js';
import { directionEntries, SOBOL_DIMENSIONS } from './sobol-directions.js';

const BITS = 32;
const STEP = 2 ** -32;
const HALF_STEP = 2 ** -33;

/** How points are spread over the unit cube. */
export type PointSpread = 'low-discrepancy' | 'random';

/** Gives points of the unit cube one after the other. */
export interface PointSource {
  /** Writes the next point: every coordinate strictly between 0 and 1. */
  next(point: Float64Array): void;
}

/**
 * Sobol' points in Gray-code order, one 32-bit word per dimension.
 *
 * @param dimensions 1 to 400.
 * Throws RangeError for a number of dimensions outside that.
 * Source: I. M. Sobol' (1967); Gray-code order, Antonov and Saleev (1979), both from memory; direction numbers of Joe
 * and Kuo (2008).
 */
export class SobolWords {
  private readonly dimensions: number;
  private readonly directions: Uint32Array;
  private readonly state: Uint32Array;
  private count = 0;

  constructor(dimensions: number) {
    if (!(Number.isInteger(dimensions) && dimensions >= 1 && dimensions <= SOBOL_DIMENSIONS)) {
      throw new RangeError(
        `dimensions must be a whole number from 1 to ${SOBOL_DIMENSIONS}; found ${dimensions}`,
      );
    }
    this.dimensions = dimensions;
    this.directions = directionWords(dimensions);
    this.state = new Uint32Array(dimensions);
  }

  /** The words of the next point, the origin first; the array is used again. */
  next(): Uint32Array {
    const { state, directions, dimensions } = this;
    if (this.count > 0) {
      // The Gray codes of two counts in a row differ in the lowest zero bit of the first.
      const bit = 31 - Math.clz32(this.count & -this.count);
      for (let d = 0; d < dimensions; d++) state[d] = state[d]! ^ directions[d * BITS + bit]!;
    }
    this.count++;
    return state;
  }
}

function directionWords(dimensions: number): Uint32Array {
  const words = new Uint32Array(dimensions * BITS);
  for (let bit = 0; bit < BITS; bit++) words[bit] = 2 ** (31 - bit);
  directionEntries()
    .slice(0, dimensions - 1)
    .forEach(({ coefficients, first }, index) => {
      const degree = first.length;
      const own = words.subarray((index + 1) * BITS, (index + 2) * BITS);
      for (let bit = 0; bit < BITS; bit++) {
        if (bit < degree) {
          own[bit] = first[bit]! * 2 ** (31 - bit);
          continue;
        }
        let word = own[bit - degree]! ^ (own[bit - degree]! >>> degree);
        for (let k = 1; k < degree; k++) {
          if (((coefficients >>> (degree - 1 - k)) & 1) === 1) word ^= own[bit - k]!;
        }
        own[bit] = word;
      }
    });
  return words;
}

/**
 * Opens a source of points.
 *
 * Low-discrepancy points are Sobol' points with a random digital shift: each point by itself is uniform, so averages
 * over them have no bias, and together they leave smaller gaps than chance does. Dimensions beyond 400 are drawn at
 * random. Numbers of points that are powers of two are the even ones.
 *
 * @param spread how to spread the points.
 * @param dimensions number of coordinates, 1 or more.
 * @param seed the same seed gives the same points.
 */
export function openPoints(spread: PointSpread, dimensions: number, seed: string): PointSource {
  const stream = openStream(streamKey(seed, `sensitivity ${spread}`, 0));
  if (spread === 'random')
    return {
      next: (point) => {
        fillRandom(stream, point, 0);
      },
    };
  const even = Math.min(dimensions, SOBOL_DIMENSIONS);
  const words = new SobolWords(even);
  const shifts = Uint32Array.from({ length: even }, () => nextUniform(stream) * 2 ** 32);
  return {
    next: (point) => {
      const state = words.next();
      for (let d = 0; d < even; d++) point[d] = ((state[d]! ^ shifts[d]!) >>> 0) * STEP + HALF_STEP;
      fillRandom(stream, point, even);
    },
  };
}

function fillRandom(stream: Stream, point: Float64Array, from: number): void {
  for (let d = from; d < point.length; d++) {
    const uniform = nextUniform53(stream);
    point[d] = uniform > 0 ? uniform : HALF_STEP;
  }
}
