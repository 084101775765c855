/**
 * Named streams of random numbers: seedrandom's `alea`, keyed by a string path.
 *
 * A stream is named by seed, purpose and trial, never by how work is shared out, so the same key gives the
 * same numbers whatever runs beside it. seedrandom seeds the generator; the recurrence is carried on here, bit
 * for bit, so that a loop can draw without a call and without allocation.
 *
 * Generator: J. Baagoe, "Alea" (2010), a multiply-with-carry generator with lag 3, multiplier 2091639 and base
 * 2^32, as in seedrandom 3.0.5, lib/alea.js.
 */
import seedrandom from 'seedrandom';
import { log, powerOfTwo } from '../numeric/elementary.js';

/** State of one stream: carry * 2^-32, then the last three outputs, oldest first. Changed by every draw. */
export type Stream = Float64Array;

const CARRY = 0;
const OLDEST = 1;
const MIDDLE = 2;
const NEWEST = 3;

const MULTIPLIER = 2091639;
const STEP_32 = powerOfTwo(-32);
const STEP_53 = powerOfTwo(-53);
const TWO_TO_21 = powerOfTwo(21);

/** Escapes one part of a path as in RFC 6901 (JSON Pointer), section 3: ~ becomes ~0 and / becomes ~1. */
function escapePart(part: string): string {
  return part.includes('~') || part.includes('/') ? part.replaceAll('~', '~0').replaceAll('/', '~1') : part;
}

/**
 * Name of a stream: seed, purpose and trial joined with '/'. Different parts always give different names.
 *
 * @param seed the run's seed.
 * @param purpose what the numbers are for, for example 'landing'.
 * @param trial number of the trial, a whole number from 0 up to 2^53 - 1.
 * @throws RangeError when `trial` is not such a number.
 */
export function streamKey(seed: string, purpose: string, trial: number): string {
  if (!(Number.isSafeInteger(trial) && trial >= 0)) {
    throw new RangeError(`trial must be a whole number of 0 or more; found ${trial}`);
  }
  return `${escapePart(seed)}/${escapePart(purpose)}/${trial}`;
}

/** Opens the stream with this name: seedrandom's alea seeded with the string. */
export function openStream(key: string): Stream {
  const { c, s0, s1, s2 } = seedrandom.alea(key, { state: true }).state();
  return Float64Array.of(c * STEP_32, s0, s1, s2);
}

/**
 * Next uniform number of a stream: k * 2^-32 with k = 0 .. 2^32 - 1 (0 is possible, 1 is not). The same number as
 * alea's `()` and `quick()`.
 */
export function nextUniform(stream: Stream): number {
  const product = MULTIPLIER * stream[OLDEST]!;
  let whole = Math.floor(product);
  let uniform = product - whole + stream[CARRY]!;
  // The carry (below 2^-11) seldom reaches the whole part. As a branch, that lets the next draw start without
  // waiting for this one.
  if (uniform >= 1) {
    uniform -= 1;
    whole += 1;
  }
  stream[CARRY] = whole * STEP_32;
  stream[OLDEST] = stream[MIDDLE]!;
  stream[MIDDLE] = stream[NEWEST]!;
  stream[NEWEST] = uniform;
  return uniform;
}

/**
 * Next uniform number with 53 bits: k * 2^-53 with k = 0 .. 2^53 - 1, from two draws. The same number as alea's
 * `double()`.
 */
export function nextUniform53(stream: Stream): number {
  return nextUniform(stream) + Math.floor(nextUniform(stream) * TWO_TO_21) * STEP_53;
}

/**
 * Fills target[0] .. target[count - 1] with the next `count` uniform numbers, as `nextUniform` would.
 *
 * @param count whole number from 0 to target.length.
 * @throws RangeError when `count` does not fit.
 */
export function fillUniforms(stream: Stream, target: Float64Array, count: number): void {
  if (!(count >= 0 && count <= target.length)) {
    throw new RangeError(`count must lie in [0, ${target.length}]; found ${count}`);
  }
  let carry = stream[CARRY]!;
  let oldest = stream[OLDEST]!;
  let middle = stream[MIDDLE]!;
  let newest = stream[NEWEST]!;
  for (let i = 0; i < count; i += 1) {
    const product = MULTIPLIER * oldest;
    let whole = Math.floor(product);
    let uniform = product - whole + carry;
    if (uniform >= 1) {
      uniform -= 1;
      whole += 1;
    }
    carry = whole * STEP_32;
    oldest = middle;
    middle = newest;
    newest = uniform;
    target[i] = uniform;
  }
  stream[CARRY] = carry;
  stream[OLDEST] = oldest;
  stream[MIDDLE] = middle;
  stream[NEWEST] = newest;
}

/**
 * Next standard exponential number (mean 1): -ln of a 53-bit uniform number, from two draws.
 *
 * @returns a number in [1.1e-16, 37.5]; never 0, never Infinity (a uniform number of 0 counts as half a step).
 */
export function nextExponential(stream: Stream): number {
  const uniform = nextUniform53(stream);
  return -log(uniform > 0 ? uniform : 0.5 * STEP_53);
}
