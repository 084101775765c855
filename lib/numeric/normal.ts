/** Standard normal quantile: one accurate version, one fast table version for the simulation loop. */
import { log, powerOfTwo } from './elementary.js';

/** Rational approximation of degree 7 over 7 by Horner's rule; `coefficients` holds numerator, denominator. */
function rational(coefficients: Float64Array, r: number): number {
  let numerator = coefficients[7]!;
  let denominator = coefficients[15]!;
  for (let k = 6; k >= 0; k -= 1) {
    numerator = numerator * r + coefficients[k]!;
    denominator = denominator * r + coefficients[8 + k]!;
  }
  return numerator / denominator;
}

// Coefficients of PPND16, as doubles; each denominator starts with 1.
const CENTRAL = new Float64Array([
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987,
  67265.7709270087, 33430.57558358813, 2509.0809287301227, 1, 42.31333070160091, 687.1870074920579,
  5394.196021424751, 21213.794301586597, 39307.89580009271, 28729.085735721943, 5226.495278852854,
]);
const TAIL = new Float64Array([
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684,
  0.2417807251774506, 0.022723844989269184, 0.0007745450142783414, 1, 2.053191626637759, 1.6763848301838038,
  0.6897673349851, 0.14810397642748008, 0.015198666563616457, 0.0005475938084995345, 1.0507500716444169e-9,
]);
const FAR_TAIL = new Float64Array([
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487, 0.026532189526576124,
  0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7, 1, 0.599832206555888,
  0.1369298809227358, 0.014875361290850615, 0.0007868691311456133, 1.8463183175100548e-5,
  1.421511758316446e-7, 2.0442631033899397e-15,
]);

/**
 * Quantile of the standard normal distribution: the z with P(Z <= z) = probability.
 *
 * @param probability in [0, 1]; 0 gives -Infinity and 1 gives Infinity.
 * @returns z, relative error below 1e-15 (as far as `probability` itself can be written: near 1 work with the
 *   small upper tail and change the sign).
 * @throws RangeError when `probability` is outside [0, 1] or NaN.
 * @see M. J. Wichura, "Algorithm AS 241: The percentage points of the normal distribution", Applied Statistics
 *   37 (1988) 477-484, routine PPND16.
 */
export function standardNormalQuantile(probability: number): number {
  if (!(probability >= 0 && probability <= 1)) {
    throw new RangeError(`probability must lie in [0, 1]; found ${probability}`);
  }
  const q = probability - 0.5;
  if (Math.abs(q) <= 0.425) return q * rational(CENTRAL, 0.180625 - q * q);
  const tail = q < 0 ? probability : 1 - probability;
  if (tail === 0) return q < 0 ? -Infinity : Infinity;
  const r = Math.sqrt(-log(tail));
  const z = r <= 5 ? rational(TAIL, r - 1.6) : rational(FAR_TAIL, r - 5);
  return q < 0 ? -z : z;
}

// ---- Table for the loop. z = v * g(p), v = probability - 1/2, p = 1/2 - |v| the smaller tail. g is even in v
// and smooth; each octave [2^-k, 2^-(k-1)) of p is cut into 64 equal cells with a cubic in p for each. The cell
// number is then the leading bits of p. One array per coefficient: a single bounds check serves all four. ----

/** A uniform number from the stream is k * 2^-32; half a step more is the middle of its cell, never 0 or 1. */
const HALF_STEP = powerOfTwo(-33);
const CELLS_PER_OCTAVE = 64;
const OCTAVES = 32;
const LOG_2_CELLS_PER_OCTAVE = 6;
const TWO_TO_32 = powerOfTwo(32);
const CELLS = OCTAVES * CELLS_PER_OCTAVE;
const CONSTANT = new Float64Array(CELLS);
const LINEAR = new Float64Array(CELLS);
const SQUARE = new Float64Array(CELLS);
const CUBIC = new Float64Array(CELLS);

/** z / (probability - 1/2) at lower tail p; sqrt(2 pi) in the limit p = 1/2. */
function normalScoreRatio(p: number): number {
  return p === 0.5 ? 2.5066282746310002 : standardNormalQuantile(p) / (p - 0.5);
}

let startRatio = normalScoreRatio(HALF_STEP);
for (let cell = 0; cell < CELLS; cell += 1) {
  const octaveStart = powerOfTwo(Math.floor(cell / CELLS_PER_OCTAVE) - 33);
  const width = octaveStart / CELLS_PER_OCTAVE;
  // Cubic through the ends (so neighbours meet) and through the quarter points (near the least error).
  const p0 = octaveStart + (cell % CELLS_PER_OCTAVE) * width;
  const p1 = p0 + 0.25 * width;
  const p2 = p0 + 0.75 * width;
  const p3 = p0 + width;
  const y0 = startRatio;
  const y1 = normalScoreRatio(p1);
  const y2 = normalScoreRatio(p2);
  const y3 = normalScoreRatio(p3);
  // Newton's divided differences, multiplied out to powers of p.
  const d01 = (y1 - y0) / (p1 - p0);
  const d12 = (y2 - y1) / (p2 - p1);
  const d23 = (y3 - y2) / (p3 - p2);
  const d012 = (d12 - d01) / (p2 - p0);
  const d123 = (d23 - d12) / (p3 - p1);
  const d0123 = (d123 - d012) / (p3 - p0);
  CONSTANT[cell] = y0 - p0 * (d01 - p1 * (d012 - p2 * d0123));
  LINEAR[cell] = d01 - d012 * (p0 + p1) + d0123 * (p0 * p1 + p0 * p2 + p1 * p2);
  SQUARE[cell] = d012 - d0123 * (p0 + p1 + p2);
  CUBIC[cell] = d0123;
  startRatio = y3;
}

/**
 * Standard normal number from one uniform number: the quantile at the middle of the uniform number's cell.
 *
 * @param uniform k * 2^-32 with k = 0 .. 2^32 - 1, as `nextUniform` and `fillUniforms` give. Not for uniform
 *   numbers with more bits.
 * @returns z in [-6.34, 6.34]; within 1e-10 of the exact quantile at uniform + 2^-33; strictly increasing in
 *   `uniform`; exactly antisymmetric (k and 2^32 - 1 - k give opposite numbers).
 */
export function normalFromUniform(uniform: number): number {
  const v = uniform + HALF_STEP - 0.5;
  const p = 0.5 - Math.abs(v);
  // p * 2^33 is a whole odd number of 32 bits: its length tells the octave, the six bits after the first the cell.
  const k = (uniform * TWO_TO_32) | 0;
  const tail = ((k ^ (k >> 31)) << 1) | 1;
  const zeros = Math.clz32(tail);
  const cell =
    ((31 - zeros) << LOG_2_CELLS_PER_OCTAVE) | (((tail << zeros) << 1) >>> (32 - LOG_2_CELLS_PER_OCTAVE));
  return v * (CONSTANT[cell]! + p * (LINEAR[cell]! + p * (SQUARE[cell]! + p * CUBIC[cell]!)));
}
