/** Small dense symmetric matrices, row by row in one array: what the sampler needs and no more. */

/** A square matrix of `size` rows in one array, row after row. */
export type SquareMatrix = Float64Array;

/** Unit matrix. */
export function identityMatrix(size: number): SquareMatrix {
  const matrix = new Float64Array(size * size);
  for (let i = 0; i < size; i++) matrix[i * size + i] = 1;
  return matrix;
}

/** Eigenvalues, largest first, and their vectors as rows. */
export interface EigenParts {
  readonly values: Float64Array;
  /** Row k is the vector of value k, of length 1. */
  readonly vectors: SquareMatrix;
}

/** Sweeps of rotations; six to ten do for any matrix of this size. */
const MOST_SWEEPS = 60;

/**
 * Eigenvalues and vectors of a symmetric matrix.
 *
 * @param matrix symmetric, `size` rows; not changed.
 * @see the cyclic method of Jacobi (1846), as in Golub and Van Loan, Matrix Computations, section 8.5; from memory.
 */
export function eigenParts(matrix: SquareMatrix, size: number): EigenParts {
  const a = Float64Array.from(matrix);
  const v = identityMatrix(size);
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let off = 0;
    let diagonal = 0;
    for (let i = 0; i < size; i++) {
      diagonal += a[i * size + i]! * a[i * size + i]!;
      for (let j = 0; j < i; j++) off += a[i * size + j]! * a[i * size + j]!;
    }
    if (off <= 1e-30 * diagonal || off === 0) break;
    for (let p = 0; p < size; p++) for (let q = p + 1; q < size; q++) rotate(a, v, size, p, q);
  }
  const order = Array.from({ length: size }, (_, i) => i).sort((i, j) => a[j * size + j]! - a[i * size + i]!);
  const vectors = new Float64Array(size * size);
  order.forEach((from, row) => {
    for (let i = 0; i < size; i++) vectors[row * size + i] = v[i * size + from]!;
  });
  return { values: Float64Array.from(order, (i) => a[i * size + i]!), vectors };
}

/** One rotation that makes the entry p, q zero. */
function rotate(a: SquareMatrix, v: SquareMatrix, size: number, p: number, q: number): void {
  const apq = a[p * size + q]!;
  if (apq === 0) return;
  const theta = (a[q * size + q]! - a[p * size + p]!) / (2 * apq);
  const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const cosine = 1 / Math.sqrt(t * t + 1);
  const sine = t * cosine;
  for (let k = 0; k < size; k++) {
    const akp = a[k * size + p]!;
    const akq = a[k * size + q]!;
    a[k * size + p] = cosine * akp - sine * akq;
    a[k * size + q] = sine * akp + cosine * akq;
  }
  for (let k = 0; k < size; k++) {
    const apk = a[p * size + k]!;
    const aqk = a[q * size + k]!;
    a[p * size + k] = cosine * apk - sine * aqk;
    a[q * size + k] = sine * apk + cosine * aqk;
    const vkp = v[k * size + p]!;
    const vkq = v[k * size + q]!;
    v[k * size + p] = cosine * vkp - sine * vkq;
    v[k * size + q] = sine * vkp + cosine * vkq;
  }
}

/**
 * Lower triangular factor L of a positive definite matrix, L L' = matrix (Cholesky).
 *
 * @returns the factor; null where the matrix is not positive definite to working precision.
 */
export function choleskyFactor(matrix: SquareMatrix, size: number): SquareMatrix | null {
  const factor = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = matrix[i * size + j]!;
      for (let k = 0; k < j; k++) rest -= factor[i * size + k]! * factor[j * size + k]!;
      if (i === j) {
        if (!(rest > 1e-14 * matrix[i * size + i]!)) return null;
        factor[i * size + i] = Math.sqrt(rest);
      } else factor[i * size + j] = rest / factor[j * size + j]!;
    }
  }
  return factor;
}

/** Inverse of a symmetric positive definite matrix, from its eigenvalues; those below a floor are raised to it. */
export function inverseMatrix(matrix: SquareMatrix, size: number, floor = 0): SquareMatrix {
  const { values, vectors } = eigenParts(matrix, size);
  const inverse = new Float64Array(size * size);
  for (let k = 0; k < size; k++) {
    const weight = 1 / Math.max(values[k]!, floor);
    for (let i = 0; i < size; i++) {
      const scaled = weight * vectors[k * size + i]!;
      for (let j = 0; j < size; j++) inverse[i * size + j]! += scaled * vectors[k * size + j]!;
    }
  }
  return inverse;
}

/** Product of a matrix and a vector. */
export function timesVector(matrix: SquareMatrix, vector: Float64Array): Float64Array {
  const size = vector.length;
  const product = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    let sum = 0;
    for (let j = 0; j < size; j++) sum += matrix[i * size + j]! * vector[j]!;
    product[i] = sum;
  }
  return product;
}

/** Product of two square matrices. */
export function timesMatrix(one: SquareMatrix, other: SquareMatrix, size: number): SquareMatrix {
  const product = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < size; k++) {
      const weight = one[i * size + k]!;
      if (weight === 0) continue;
      for (let j = 0; j < size; j++) product[i * size + j]! += weight * other[k * size + j]!;
    }
  }
  return product;
}

/** Mean and covariance of rows. */
export interface RowMoments {
  readonly mean: Float64Array;
  readonly covariance: SquareMatrix;
}

/** Mean and covariance (divided by n - 1) of rows of equal length, at least two of them. */
export function rowMoments(rows: readonly Float64Array[], size: number): RowMoments {
  const mean = new Float64Array(size);
  for (const row of rows) for (let i = 0; i < size; i++) mean[i]! += row[i]! / rows.length;
  const covariance = new Float64Array(size * size);
  for (const row of rows) {
    for (let i = 0; i < size; i++) {
      const off = (row[i]! - mean[i]!) / (rows.length - 1);
      for (let j = 0; j <= i; j++) covariance[i * size + j]! += off * (row[j]! - mean[j]!);
    }
  }
  for (let i = 0; i < size; i++)
    for (let j = i + 1; j < size; j++) covariance[i * size + j] = covariance[j * size + i]!;
  return { mean, covariance };
}
