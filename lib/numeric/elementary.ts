/**
 * Exponential, logarithm and power with the same bits on every engine.
 *
 * The language standard leaves the last bits of Math.exp, Math.log and Math.pow to the engine. These use only
 * correctly rounded operations (+ - * /), integer arithmetic and table loads. The tables are built at load with
 * BigInt fixed-point numbers, which are exact, so they are the same everywhere too.
 *
 * Method: table-driven range reduction; P. T. P. Tang, "Table-driven implementation of the exponential function
 * in IEEE floating-point arithmetic", ACM TOMS 15 (1989) 144-157, and the logarithm paper, ACM TOMS 16 (1990)
 * 378-400 (both from memory).
 */

// ---- Powers of two, e = -1023..1023, by doubling and halving (the ** operator is the engine's too). ----

const LARGEST_EXPONENT = 1023;
const POWERS_OF_TWO = new Float64Array(2 * LARGEST_EXPONENT + 1);
POWERS_OF_TWO[LARGEST_EXPONENT] = 1;
for (let e = 1; e <= LARGEST_EXPONENT; e += 1) {
  POWERS_OF_TWO[LARGEST_EXPONENT + e] = POWERS_OF_TWO[LARGEST_EXPONENT + e - 1]! * 2;
  POWERS_OF_TWO[LARGEST_EXPONENT - e] = POWERS_OF_TWO[LARGEST_EXPONENT - e + 1]! / 2;
}

/** 2^exponent, exactly, for a whole exponent from -1023 to 1023. */
export function powerOfTwo(exponent: number): number {
  return POWERS_OF_TWO[LARGEST_EXPONENT + exponent]!;
}

// ---- Fixed-point numbers. ----

/** Fractional bits of the fixed-point numbers that the tables are made from. */
const FIXED_BITS = 160n;
const FIXED_ONE = 1n << FIXED_BITS;

/** Nearest double to a fixed-point number. Number(bigint) rounds correctly; the scaling is a power of two. */
function fixedToDouble(fixed: bigint): number {
  return Number(fixed) * powerOfTwo(-Number(FIXED_BITS));
}

/** Fixed-point number rounded to a multiple of 2^-bits: short enough for exact products with whole numbers. */
function roundFixed(fixed: bigint, bits: bigint): bigint {
  const drop = FIXED_BITS - bits;
  return ((fixed + (1n << (drop - 1n))) >> drop) << drop;
}

/** Whole part of a square root, by Newton's method from above. */
function wholeSquareRoot(value: bigint): bigint {
  let root = 1n << (BigInt(value.toString(2).length + 1) >> 1n);
  for (;;) {
    const next = (root + value / root) >> 1n;
    if (next >= root) return root;
    root = next;
  }
}

/** ln((n + 1) / n) = 2 atanh(1 / (2 n + 1)) as a fixed-point number. */
function fixedLogStep(n: bigint): bigint {
  const denominator = 2n * n + 1n;
  const square = denominator * denominator;
  let term = (2n * FIXED_ONE) / denominator;
  let sum = 0n;
  for (let odd = 1n; term > 0n; odd += 2n) {
    sum += term / odd;
    term /= square;
  }
  return sum;
}

// ---- Logarithm table: for c = 1 + i / 128, i = 0..128, the numbers c, 1/c, ln c (head), ln c (tail). ----

const LOG_CELLS = 128;
/** Heads are multiples of 2^-42, so exponent * LOG_2_HEAD + head is exact. */
const LOG_HEAD_BITS = 42n;
const LOG_TABLE = new Float64Array(4 * (LOG_CELLS + 1));
let fixedLog = 0n;
for (let i = 0; i <= LOG_CELLS; i += 1) {
  const head = roundFixed(fixedLog, LOG_HEAD_BITS);
  const c = 1 + i / LOG_CELLS;
  LOG_TABLE.set([c, 1 / c, fixedToDouble(head), fixedToDouble(fixedLog - head)], 4 * i);
  if (i < LOG_CELLS) fixedLog += fixedLogStep(BigInt(LOG_CELLS + i));
}
/** ln 2: the last entry of the table. */
const FIXED_LOG_2 = fixedLog;
const LOG_2_HEAD = LOG_TABLE[4 * LOG_CELLS + 2]!;
const LOG_2_TAIL = LOG_TABLE[4 * LOG_CELLS + 3]!;

// ---- Exponential tables: 2^(j/256) and 1 - 2^(-j/256) for j = 0..255. ----

const EXP_CELLS = 256;
const EXP_TABLE = new Float64Array(EXP_CELLS);
const NEGATIVE_EXP_TABLE = new Float64Array(EXP_CELLS);
const ONE_MINUS_EXP_TABLE = new Float64Array(EXP_CELLS);
let root = 2n * FIXED_ONE;
for (let cells = 1; cells < EXP_CELLS; cells *= 2) root = wholeSquareRoot(root << FIXED_BITS);
let powerOfRoot = FIXED_ONE;
for (let j = 0; j < EXP_CELLS; j += 1) {
  const reciprocal = (FIXED_ONE << FIXED_BITS) / powerOfRoot;
  EXP_TABLE[j] = fixedToDouble(powerOfRoot);
  NEGATIVE_EXP_TABLE[j] = fixedToDouble(reciprocal);
  ONE_MINUS_EXP_TABLE[j] = fixedToDouble(FIXED_ONE - reciprocal);
  powerOfRoot = (powerOfRoot * root) >> FIXED_BITS;
}

/** 256 / ln 2, and ln 2 / 256 in two parts; the head times any cell number up to 2^18 is exact. */
const CELLS_PER_UNIT = EXP_CELLS / fixedToDouble(FIXED_LOG_2);
const FIXED_CELL = FIXED_LOG_2 / BigInt(EXP_CELLS);
const FIXED_CELL_HEAD = roundFixed(FIXED_CELL, 42n);
const CELL_HEAD = fixedToDouble(FIXED_CELL_HEAD);
const CELL_TAIL = fixedToDouble(FIXED_CELL - FIXED_CELL_HEAD);

/** Adding and taking away 1.5 * 2^52 rounds a double below 2^51 to the nearest whole number. */
const ROUNDER = 6755399441055744;

const SIXTH = 1 / 6;
const TWENTY_FOURTH = 1 / 24;
const HUNDRED_TWENTIETH = 1 / 120;

/** e^(x/2), for x outside [-708, 709]: 0 or Infinity where the square has no other value, NaN for NaN. */
function rootOfExtremeExp(x: number): number {
  if (x < -745.2) return 0;
  return x <= 709.8 ? exp(x / 2) : x * Infinity;
}

/**
 * e^x.
 *
 * @param x any number.
 * @returns e^x. Relative error at most 1.2 * 2^-52 for x in [-708, 709]. Outside that range at most 3 * 2^-52
 *   while the result is a normal number; below it the result falls gradually to 0 (x < -745.2); Infinity above
 *   709.79; NaN for NaN.
 */
export function exp(x: number): number {
  if (!(x >= -708 && x <= 709)) {
    // A product, not the bare call: so engines know that the result is a number and need not box it.
    const half = rootOfExtremeExp(x);
    return half * half;
  }
  const cell = x * CELLS_PER_UNIT + ROUNDER - ROUNDER;
  const k = cell | 0;
  const r = x - cell * CELL_HEAD - cell * CELL_TAIL;
  const base = EXP_TABLE[k & 255]!;
  const square = r * r;
  // e^r - 1 to r^4; |r| <= ln 2 / 512, so what is left out is below 4e-17.
  const growth = r + square * (0.5 + r * SIXTH + square * TWENTY_FOURTH);
  return (base + base * growth) * POWERS_OF_TWO[(k >> 8) + LARGEST_EXPONENT]!;
}

/**
 * 1 - e^-h: the chance of at least one event when h are expected. Keeps its digits for small h.
 *
 * @param h expected number of events (cumulative hazard), >= 0.
 * @returns a number in [0, 1], relative error at most 1.3 * 2^-52; 1 for Infinity, NaN for NaN. A negative h
 *   gives the negative number 1 - e^-h, without that accuracy.
 */
export function oneMinusExp(h: number): number {
  if (!(h >= 0 && h <= 0.69)) return 1 - exp(-h);
  // Most hazards are tiny: the series to h^5 leaves out less than 2^-60 of h.
  if (h < 0.0009765625) return h - h * h * (0.5 - h * (SIXTH - h * (TWENTY_FOURTH - h * HUNDRED_TWENTIETH)));
  const cell = h * CELLS_PER_UNIT + ROUNDER - ROUNDER;
  const j = cell | 0;
  const r = cell * CELL_HEAD - h + cell * CELL_TAIL;
  const square = r * r;
  // e^r - 1 to r^5: one term more than exp needs, because here the error counts against r itself.
  const growth = r + square * (0.5 + r * SIXTH + square * (TWENTY_FOURTH + r * HUNDRED_TWENTIETH));
  return ONE_MINUS_EXP_TABLE[j]! - NEGATIVE_EXP_TABLE[j]! * growth;
}

/** One double seen as two 32-bit words; which one is the high word depends on the byte order. */
const DOUBLE_VIEW = new Float64Array(1);
const WORD_VIEW = new Int32Array(DOUBLE_VIEW.buffer);
DOUBLE_VIEW[0] = 1;
const HIGH_WORD = WORD_VIEW[1] === 0 ? 0 : 1;

/** Sign, exponent and first 20 fraction bits of a double, as a 32-bit whole number. */
export function highWord(x: number): number {
  DOUBLE_VIEW[0] = x;
  return WORD_VIEW[HIGH_WORD]!;
}

/**
 * Coefficients of r^3 and r^5 in ln(1 + r) for |r| <= 1/256, with the term r^7/7 folded in by the Chebyshev
 * polynomial of degree 7; what that leaves is below 6e-17 of r.
 */
const LOG_CUBIC = 1 / 3 - powerOfTwo(-35);
const LOG_QUINTIC = 1 / 5 + powerOfTwo(-18);

const SMALLEST_NORMAL = powerOfTwo(-1022);
const LARGEST_DOUBLE = Number.MAX_VALUE;
const LOG_2_TO_54 = 54 * (LOG_2_HEAD + LOG_2_TAIL);

/** ln(2^54 x) for the x that the table cannot take: denormal, 0, negative, Infinity, NaN. */
function extremeScaledLog(x: number): number {
  if (x === 0) return -Infinity;
  if (x === Infinity) return Infinity;
  return x > 0 ? log(x * powerOfTwo(54)) : NaN;
}

/**
 * Natural logarithm.
 *
 * @param x any number.
 * @returns ln x. Relative error at most 1.5 * 2^-52, also next to x = 1, where the result goes to 0. -Infinity
 *   for 0, NaN for x < 0 and for NaN, Infinity for Infinity.
 */
export function log(x: number): number {
  if (!(x >= SMALLEST_NORMAL && x <= LARGEST_DOUBLE)) return extremeScaledLog(x) - LOG_2_TO_54;
  // highWord(x) written out: a call costs half a nanosecond here.
  DOUBLE_VIEW[0] = x;
  const word = WORD_VIEW[HIGH_WORD]!;
  const exponent = (word >> 20) - LARGEST_EXPONENT;
  // x = 2^exponent * mantissa, mantissa in [1, 2); the nearest table point is c = 1 + i / 128.
  const mantissa = x * POWERS_OF_TWO[LARGEST_EXPONENT - exponent]!;
  const entry = (((word & 0xfffff) + 0x1000) >> 13) << 2;
  // The difference is exact; where x is near a power of two, so is r.
  const r = (mantissa - LOG_TABLE[entry]!) * LOG_TABLE[entry + 1]!;
  const head = exponent * LOG_2_HEAD + LOG_TABLE[entry + 2]!;
  const tail = exponent * LOG_2_TAIL + LOG_TABLE[entry + 3]!;
  const square = r * r;
  const bend = square * (r * LOG_CUBIC - 0.5 + square * (r * LOG_QUINTIC - 0.25 - square * SIXTH));
  const sum = head + r;
  return sum + (head - sum + r + (tail + bend));
}

/**
 * base^exponent for a base above 0.
 *
 * @param base > 0.
 * @param exponent any finite number.
 * @returns e^(exponent ln base). Relative error at most (1.5 + 2 |exponent ln base|) * 2^-52: about 1e-14 at
 *   1e5^2, 3e-16 near 1. NaN for base < 0; 0 or Infinity for base 0.
 */
export function power(base: number, exponent: number): number {
  return exp(exponent * log(base));
}
