// Fits one invented logbook and tells where the truth lies in what comes out.
import { fitAssumptions } from '../../dist/index.js';
import { livedLog } from './lived-log.js';
import { FIT_OPTIONS } from './shapes.js';

/** Cells between the 19 quantiles of a fit, as letters: a below the 1 % quantile, t above the 99 % one. */
export const CELLS = 'abcdefghijklmnopqrst';

const cellOf = (quantiles, value) => CELLS[quantiles.filter((quantile) => quantile < value).length];

/** Quantiles of ascending numbers, linear between them. */
function quantilesOf(sorted, probabilities) {
  return probabilities.map((probability) => {
    const at = probability * (sorted.length - 1);
    const low = Math.floor(at);
    return sorted[low] + (at - low) * ((sorted[low + 1] ?? sorted[low]) - sorted[low]);
  });
}

/** Standard normal score of a value; null where the distribution of its assumption is not a normal or lognormal one. */
function scoreOf({ kind, a, b }, value) {
  if (kind === 'normal') return (value - a) / b;
  if (kind === 'lognormal') return Math.log(value / a) / b;
  return null;
}

/**
 * The cell in which the truth as a whole lies among the draws: by the squared length of the scores, each weighed by how
 * far the records narrowed it, about the mean of the draws. Any function of truth and records must rank uniformly.
 */
function jointCell(fit, { assumptions }, { scores }) {
  const columns = fit.draws.paths.flatMap((path, column) => {
    const assumption = assumptions.find((each) => each.path === path);
    if (scoreOf(assumption, 1) === null) return [];
    const drawn = fit.draws.rows.map((row) => scoreOf(assumption, row[column]));
    const mean = drawn.reduce((sum, each) => sum + each, 0) / drawn.length;
    const variance = drawn.reduce((sum, each) => sum + (each - mean) ** 2, 0) / drawn.length;
    // Numbers that the records leave alone would only add noise.
    const weight = Math.max(0, 1 / variance - 1);
    return [{ drawn, mean, weight, truth: scores.get(path) }];
  });
  const distance = (at) =>
    columns.reduce((sum, column) => sum + column.weight * (at(column) - column.mean) ** 2, 0);
  const drawn = fit.draws.rows.map((_, row) => distance((column) => column.drawn[row])).sort((a, b) => a - b);
  return cellOf(
    quantilesOf(drawn, fit.probabilities),
    distance((column) => column.truth),
  );
}

/**
 * Makes, reads and fits a logbook.
 *
 * @returns `digest` of the log; `refused` with the reason where the reader or the fit refuses it, else what was `used`,
 *   and for every fitted assumption the cell of the truth, and mean and standard deviation of its score.
 */
export async function coverOne(shape, n) {
  const { seed, compiled, truth, digest, read } = livedLog(shape, n);
  let fit;
  try {
    fit = await fitAssumptions(compiled, read(), { ...FIT_OPTIONS, seed });
  } catch (error) {
    if (error.name !== 'NotConvergedError' && error.name !== 'RecordsError') throw error;
    return { n, digest, refused: error.name, why: error.message };
  }
  const assumptions = Object.fromEntries(
    fit.assumptions.map(({ path, quantiles, scoreMean, scoreDeviation, effectiveSize }) => [
      path,
      { cell: cellOf(quantiles.posterior, truth.values.get(path)), scoreMean, scoreDeviation, effectiveSize },
    ]),
  );
  const checked = Object.fromEntries(fit.checks.calibration.map(({ what, held, of }) => [what, [held, of]]));
  const { largestRHat, smallestEffectiveSize } = fit.convergence;
  return {
    n,
    digest,
    used: fit.used,
    joint: jointCell(fit, compiled, truth),
    largestRHat,
    smallestEffectiveSize,
    checked,
    assumptions,
  };
}
