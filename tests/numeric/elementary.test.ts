import { describe, expect, test } from 'vitest';
import { exp, highWord, log, oneMinusExp, power, powerOfTwo } from '../../lib/numeric/elementary.js';
import { fillUniforms, openStream } from '../../lib/random/stream.js';

/** Spacing of doubles relative to 1; the errors below are counted in it. */
const EPSILON = Number.EPSILON;

// ---- The true values, in fixed point with 300 fractional bits (BigInt arithmetic is exact). ----

const BITS = 300n;
const ONE = 1n << BITS;

/** A double as a fixed-point number: exact for every |x| >= 2^-240. */
function toFixed(x: number): bigint {
  let shift = 0n;
  let scaled = x;
  while (!Number.isInteger(scaled)) {
    scaled *= 2;
    shift += 1n;
  }
  return (BigInt(scaled) << BITS) >> shift;
}

/** e^x by Taylor's series at x / 2^8, squared 8 times. */
function trueExp(x: number): bigint {
  const small = toFixed(x) >> 8n;
  let term = ONE;
  let sum = ONE;
  for (let n = 1n; term !== 0n && term !== -1n; n += 1n) {
    term = ((term * small) / n) >> BITS;
    sum += term;
  }
  for (let k = 0; k < 8; k += 1) sum = (sum * sum) >> BITS;
  return sum;
}

/** Relative error of a double against a fixed-point number, in units of 2^-52. */
function errorInEpsilons(found: number, truth: bigint): number {
  return Math.abs(Number(((toFixed(found) - truth) << 120n) / truth)) * powerOfTwo(-120 + 52);
}

function uniforms(key: string, count: number): Float64Array {
  const numbers = new Float64Array(count);
  fillUniforms(openStream(key), numbers, count);
  return numbers;
}

describe('exp', () => {
  test('exp is within 1.2 * 2^-52 of the true value (BigInt Taylor series) at 3000 points of [-40, 40]', () => {
    let worst = 0;
    for (const u of uniforms('exp', 3000)) {
      const x = 80 * u - 40;
      worst = Math.max(worst, errorInEpsilons(exp(x), trueExp(x)));
    }
    expect(worst).toBeLessThan(1.2);
    expect(worst).toBeGreaterThan(0.25); // a correctly rounded function already shows more than this
  });

  test('exp agrees with Math.exp (fdlibm, below 1 ulp) within 2.3 * 2^-52 over [-708, 709]', () => {
    let worst = 0;
    for (const u of uniforms('exp-wide', 200_000)) {
      const x = 1417 * u - 708;
      worst = Math.max(worst, Math.abs(exp(x) / Math.exp(x) - 1));
    }
    expect(worst).toBeLessThan(2.3 * EPSILON);
  });

  test('exp agrees with Math.exp at every boundary between table cells', () => {
    let worst = 0;
    for (let k = -2000; k <= 2000; k += 1) {
      for (const shift of [-1e-12, 0, 1e-12]) {
        const x = ((k + 0.5) * Math.LN2) / 256 + shift;
        worst = Math.max(worst, Math.abs(exp(x) / Math.exp(x) - 1));
      }
    }
    expect(worst).toBeLessThan(2.3 * EPSILON);
  });

  // Expected values: mpmath 1.3.0 at 200 bits, rounded to the nearest double.
  test.each([
    [1, 2.718281828459045],
    [-1, 0.36787944117144233],
    [0.5, 1.6487212707001282],
    [10, 22026.465794806718],
    [-30.25, 7.287724095819692e-14],
    [100, 2.6881171418161356e43],
    [700.5, 1.6721859620674984e304],
    [-700.5, 5.980196118639791e-305],
    [1e-9, 1.000000001],
    [709, 8.218407461554972e307],
    [-708, 3.307553003638408e-308],
  ])('exp(%d) is within 1.2 * 2^-52 of %d', (x, expected) => {
    expect(Math.abs(exp(x) - expected)).toBeLessThanOrEqual(1.2 * EPSILON * expected);
  });

  test('exp runs over, falls gradually to 0 and passes on NaN', () => {
    expect(exp(0)).toBe(1);
    expect(exp(-0)).toBe(1);
    expect(exp(709.79)).toBe(Infinity);
    expect(exp(1e300)).toBe(Infinity);
    expect(exp(Infinity)).toBe(Infinity);
    expect(exp(-745.3)).toBe(0);
    expect(exp(-Infinity)).toBe(0);
    expect(exp(NaN)).toBeNaN();
    expect(Math.abs(exp(709.78) / Math.exp(709.78) - 1)).toBeLessThan(4 * EPSILON);
    expect(Math.abs(exp(-708.39) / Math.exp(-708.39) - 1)).toBeLessThan(4 * EPSILON);
    expect(Math.abs(exp(-740) - Math.exp(-740))).toBeLessThanOrEqual(5e-324);
  });

  test('exp never decreases over 1e5 neighbouring points', () => {
    let falls = 0;
    for (let k = 0; k < 100_000; k += 1) {
      const x = 0.3 + k * 1e-15;
      if (exp(x + 1e-15) < exp(x)) falls += 1;
    }
    expect(falls).toBe(0);
  });
});

describe('log', () => {
  test('log is within 1.5 * 2^-52 of the true value (from the BigInt exponential) at 3000 points', () => {
    // ln x - y = ln(x / e^y), which is (x - e^y) / e^y when y is right to many digits.
    let worst = 0;
    for (const [index, u] of uniforms('log', 3000).entries()) {
      const x = [100 * u, 0.99 + 0.02 * u, 1.003 + 0.01 * u][index % 3]!;
      const y = log(x);
      worst = Math.max(worst, errorInEpsilons(x, trueExp(y)) / Math.abs(y));
    }
    expect(worst).toBeLessThan(1.5);
    expect(worst).toBeGreaterThan(0.25);
  });

  test('log agrees with Math.log (fdlibm, below 1 ulp) within 2.6 * 2^-52 over all exponents', () => {
    let worst = 0;
    for (const u of uniforms('log-wide', 100_000)) {
      const x = exp(1416 * u - 707);
      worst = Math.max(worst, Math.abs(log(x) / Math.log(x) - 1));
    }
    for (const u of uniforms('log-near-1', 100_000)) {
      const x = 1 + (u - 0.5) * 1e-3;
      worst = Math.max(worst, Math.abs(log(x) / Math.log(x) - 1));
    }
    expect(worst).toBeLessThan(2.6 * EPSILON);
  });

  // Expected values: mpmath 1.3.0 at 200 bits, rounded to the nearest double.
  test.each([
    [2, 0.6931471805599453],
    [10, 2.302585092994046],
    [0.5, -0.6931471805599453],
    [3, 1.0986122886681098],
    [1e-300, -690.7755278982137],
    [1.7e308, 709.7268368932282],
    [1.0000001, 9.999999505838704e-8],
    [0.9999999, -1.0000000494736474e-7],
    [1.00390625, 0.003898640415657323],
    [0.99, -0.01005033585350145],
    [123456.789, 11.723646487185881],
    [1e-10, -23.025850929940457],
  ])('log(%d) is within 1.5 * 2^-52 of %d', (x, expected) => {
    expect(Math.abs(log(x) - expected)).toBeLessThanOrEqual(1.5 * EPSILON * Math.abs(expected));
  });

  test('log handles the ends: 0, negative, denormal, Infinity and NaN', () => {
    expect(log(1)).toBe(0);
    expect(log(0)).toBe(-Infinity);
    expect(log(-0)).toBe(-Infinity);
    expect(log(-1)).toBeNaN();
    expect(log(-1e-310)).toBeNaN();
    expect(log(-Infinity)).toBeNaN();
    expect(log(NaN)).toBeNaN();
    expect(log(Infinity)).toBe(Infinity);
    expect(log(Number.MAX_VALUE)).toBe(Math.log(Number.MAX_VALUE));
    for (const x of [5e-324, 1e-310, 2.2250738585072014e-308]) {
      expect(Math.abs(log(x) / Math.log(x) - 1)).toBeLessThan(2.6 * EPSILON);
    }
  });
});

describe('oneMinusExp', () => {
  test('oneMinusExp is within 1.3 * 2^-52 of the true value (BigInt) from 1e-12 to 40', () => {
    let worst = 0;
    for (const u of uniforms('one-minus-exp', 2000)) {
      const h = exp(31.3 * u - 27.6);
      worst = Math.max(worst, errorInEpsilons(oneMinusExp(h), ONE - trueExp(-h)));
    }
    for (const u of uniforms('one-minus-exp-2', 2000)) {
      worst = Math.max(worst, errorInEpsilons(oneMinusExp(u), ONE - trueExp(-u)));
    }
    expect(worst).toBeLessThan(1.3);
    expect(worst).toBeGreaterThan(0.25);
  });

  // Expected values: mpmath 1.3.0 (expm1) at 200 bits, rounded to the nearest double.
  test.each([
    [1e-300, 1e-300],
    [1e-9, 9.999999995e-10],
    [0.001, 0.0009995001666250085],
    [0.1, 0.09516258196404043],
    [0.5, 0.3934693402873666],
    [0.69, 0.49842393093394444],
    [0.7, 0.5034146962085905],
    [2, 0.8646647167633873],
    [30, 0.9999999999999064],
  ])('oneMinusExp(%d) is within 1.3 * 2^-52 of %d', (h, expected) => {
    expect(Math.abs(oneMinusExp(h) - expected)).toBeLessThanOrEqual(1.3 * EPSILON * expected);
  });

  test('oneMinusExp is 0 at 0, 1 far out, negative below 0 and NaN for NaN', () => {
    expect(oneMinusExp(0)).toBe(0);
    expect(oneMinusExp(5e-324)).toBe(5e-324);
    expect(oneMinusExp(800)).toBe(1);
    expect(oneMinusExp(Infinity)).toBe(1);
    expect(oneMinusExp(-1)).toBeCloseTo(1 - Math.E, 14);
    expect(oneMinusExp(NaN)).toBeNaN();
  });
});

describe('power', () => {
  test('power agrees with Math.pow within its stated error', () => {
    let worst = 0;
    const bases = uniforms('base', 20_000);
    const exponents = uniforms('exponent', 20_000);
    for (let i = 0; i < bases.length; i += 1) {
      const base = exp(40 * bases[i]! - 20);
      const exponent = 10 * exponents[i]! - 5;
      const allowed = (1.5 + 2 * Math.abs(exponent * Math.log(base)) + 1) * EPSILON; // 1 for Math.pow itself
      worst = Math.max(worst, Math.abs(power(base, exponent) / Math.pow(base, exponent) - 1) / allowed);
    }
    expect(worst).toBeLessThan(1);
  });

  test('power of base 1 or exponent 0 is exactly 1, and base 0 gives 0', () => {
    expect(power(1, 3.7)).toBe(1);
    expect(power(7.3, 0)).toBe(1);
    expect(power(0, 2.5)).toBe(0);
    expect(power(-1, 2)).toBeNaN();
  });
});

describe('bits', () => {
  test('powerOfTwo is exact over the whole range', () => {
    expect(powerOfTwo(0)).toBe(1);
    expect(powerOfTwo(1023)).toBe(8.98846567431158e307);
    expect(powerOfTwo(-1022)).toBe(2.2250738585072014e-308);
    expect(powerOfTwo(-52)).toBe(Number.EPSILON);
  });

  test('highWord holds sign, exponent and leading fraction bits (IEEE 754 binary64)', () => {
    expect(highWord(1)).toBe(0x3ff00000);
    expect(highWord(-2)).toBe(0xc0000000 | 0);
    expect(highWord(Math.PI)).toBe(0x400921fb);
  });

  // Not an outside value: pinned from our own run, the same on Node 20, 22 and 24. A change means that results
  // of stored runs can no longer be repeated.
  test('exp, log and oneMinusExp keep every bit of 150000 results', () => {
    const results = new Float64Array(150_000);
    for (const [i, u] of uniforms('bits', 50_000).entries()) {
      results[3 * i] = exp(1400 * u - 700);
      results[3 * i + 1] = log(u + 1e-10);
      results[3 * i + 2] = oneMinusExp(2 * u);
    }
    let hash = 0x811c9dc5; // FNV-1a over 32-bit words
    const view = new DataView(results.buffer);
    results.forEach((result, i) => {
      view.setFloat64(8 * i, result); // most significant byte first on every machine
    });
    for (let byte = 0; byte < view.byteLength; byte += 4) {
      hash = Math.imul(hash ^ view.getUint32(byte), 0x01000193) >>> 0;
    }
    expect(hash.toString(16)).toBe('7e768da1');
  });
});
