// Sums up what many fits of invented logbooks held, as plain data.
import { CELLS } from './fit-one.js';
import { SHAPES } from './shapes.js';

/** Full figures of the first logs of a shape, so that a test can make them anew. */
const SHOWN_IN_FULL = 2;
/** First and last cell inside the 80 % and the 95 % interval. */
const INSIDE = { held80: ['e', 'p'], held95: ['c', 'r'] };

/** Cells of a log as one text, a letter per path; a dot where the fit does not hold the path. */
function cellsOf(fit, paths) {
  return paths.map((path) => fit.assumptions[path]?.cell ?? '.').join('');
}

/** Standard deviation of each number's score, in tenths of the prior's, rounded down: a digit per path, 9 for more. */
function tenthsOf(fit, paths) {
  const tenth = ({ scoreDeviation }) => Math.min(9, Math.floor(10 * scoreDeviation));
  return paths.map((path) => (path in fit.assumptions ? tenth(fit.assumptions[path]) : '.')).join('');
}

function inFull({ n, assumptions }) {
  const rounded = (value) => Number(value.toPrecision(5));
  const figures = ({ scoreMean, scoreDeviation, effectiveSize }) => [
    rounded(scoreMean),
    rounded(scoreDeviation),
    Math.round(effectiveSize),
  ];
  return {
    n,
    assumptions: Object.fromEntries(Object.entries(assumptions).map(([path, each]) => [path, figures(each)])),
  };
}

function countsOf(fits, path) {
  const cells = fits.flatMap(({ assumptions }) => (path in assumptions ? [assumptions[path].cell] : []));
  const within = ([first, last]) => cells.filter((cell) => cell >= first && cell <= last).length;
  return { logs: cells.length, held80: within(INSIDE.held80), held95: within(INSIDE.held95) };
}

/** What the fit says of its own intervals of readings and pressures, added up. */
function checkedOf(fits) {
  const sums = {};
  for (const { checked } of fits) {
    for (const [what, [held, of]] of Object.entries(checked)) {
      const sum = (sums[what] ??= { held: 0, of: 0 });
      sum.held += held;
      sum.of += of;
    }
  }
  return sums;
}

/**
 * Sums up the logs of a shape.
 *
 * @param shape its name.
 * @param logs what `coverOne` gave, in the order of the logs.
 */
export function summaryOf(shape, logs) {
  const fits = logs.filter(({ refused }) => refused === undefined);
  const paths = [...new Set(fits.flatMap(({ assumptions }) => Object.keys(assumptions)))].sort();
  return {
    words: SHAPES[shape].words,
    seeds: `coverage ${shape} 0 to coverage ${shape} ${logs.length - 1}`,
    logs: logs.length,
    refused: logs.flatMap(({ n, refused, why }) => (refused === undefined ? [] : [{ n, refused, why }])),
    counts: Object.fromEntries(paths.map((path) => [path, countsOf(fits, path)])),
    readingIntervals: checkedOf(fits),
    fits: fits.map((fit) => ({
      n: fit.n,
      digest: fit.digest,
      records: [fit.used.readings, fit.used.ends, fit.used.cuts, fit.used.pressureChecks],
      joint: fit.joint,
      cells: cellsOf(fit, paths),
      tenths: tenthsOf(fit, paths),
    })),
    inFull: fits.slice(0, SHOWN_IN_FULL).map(inFull),
  };
}

/** What the letters and numbers mean. */
export const LEGEND = {
  cells: `by path of "counts": where the truth lies among the quantiles of the posterior, from ${CELLS[0]} (below the 1 % quantile) to ${CELLS.at(-1)} (above the 99 % one); a dot where the fit does not hold the path`,
  tenths: 'by path: standard deviation of the score in tenths of the prior, rounded down',
  joint:
    'cell of the squared distance of the truth from the mean of the draws, each score weighed by what was learned',
  records: 'readings, ends, cuts, pressure checks used',
  inFull: 'mean, standard deviation and effective size of the score, by path',
};

/** A line of text for a shape: shares held over all fitted numbers together, and over those that were learned. */
export function lineOf(shape, { logs, refused, fits, counts }) {
  const inside = (cell, [first, last]) => cell >= first && cell <= last;
  const share = (range, learned) => {
    let held = 0;
    let of = 0;
    for (const { cells, tenths } of fits) {
      [...cells].forEach((cell, k) => {
        if (cell === '.' || (learned && tenths[k] >= '5')) return;
        of++;
        if (inside(cell, range)) held++;
      });
    }
    return `${((100 * held) / of).toFixed(1)} % of ${of}`;
  };
  return [
    `${shape}: ${fits.length} of ${logs} logs fitted, ${refused.length} refused; ${Object.keys(counts).length} numbers`,
    `  all: 80 % intervals held ${share(INSIDE.held80, false)}, 95 % ones ${share(INSIDE.held95, false)}`,
    `  learned: 80 % intervals held ${share(INSIDE.held80, true)}, 95 % ones ${share(INSIDE.held95, true)}`,
  ].join('\n');
}
