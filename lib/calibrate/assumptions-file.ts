import { UsageError } from '../problems.js';
import { assumptionField, type AssumptionField } from '../scenario/assumption-fields.js';
import { formatQuantity, splitQuantity } from '../units.js';
import type { AssumptionFit, FittedAssumption } from './posterior-types.js';

/** Digits of the draws and of the quantiles: far finer than what any record tells. */
const DIGITS = 6;
const CAUTION =
  'For comparison only: approved data, the maintenance manual and a licensed mechanic decide when a tire comes off.';

type Json = string | number | Json[] | { [key: string]: Json };

function fieldOf(path: string): AssumptionField {
  const field = assumptionField(path);
  if (field === null) throw new UsageError(`the fit names ${path}, which is no assumption of a scenario`);
  return field;
}

/** Number of a quantity in the unit of its field, rounded. */
function numberIn({ field, unit }: AssumptionField, si: number): number {
  const text = formatQuantity(si, field.dimension, unit, DIGITS);
  return Number(splitQuantity(text, field.dimension)!.number);
}

/** One assumption for itself: its tenth and ninetieth percentile in the form of the prior. */
function margin(assumption: FittedAssumption, fit: AssumptionFit, { field, unit }: AssumptionField): Json {
  const { probabilities } = fit;
  const at = (p: number): number => assumption.quantiles.posterior[probabilities.indexOf(p)]!;
  const text = (si: number): string => formatQuantity(si, field.dimension, unit, DIGITS);
  const source = `${fit.source}: ${assumption.verdict}`;
  const [p10, p90] = [text(at(0.1)), text(at(0.9))];
  if (p10 === p90) return { value: text(assumption.median), source };
  return { distribution: assumption.form, p10, p90, source };
}

/**
 * Writes a fit as a file that a scenario extends: each fitted assumption for itself, with its source, and a table of draws
 * that keeps together what the records tie together. A run takes the draws.
 *
 * @param fit from `fitAssumptions`, with at least two draws.
 * @returns JSON text, ending with a line feed.
 * @throws UsageError for a fit without draws: the records told nothing.
 */
export function assumptionsFile(fit: AssumptionFit): string {
  const { paths, rows } = fit.draws;
  if (paths.length === 0 || rows.length < 2) {
    throw new UsageError('there is nothing to write: the records bear on no assumption of the scenario');
  }
  const fields = paths.map(fieldOf);
  const layer: { [key: string]: Json } = {};
  const byPath = new Map(fit.assumptions.map((each) => [each.path, each]));
  paths.forEach((path, column) => {
    const { steps } = fields[column]!;
    let at = layer;
    for (const step of steps.slice(0, -1)) at = (at[step] ??= {}) as { [key: string]: Json };
    at[steps.at(-1)!] = margin(byPath.get(path)!, fit, fields[column]!);
  });
  const head = JSON.stringify(layer, null, 2).slice(0, -2);
  const columns = paths.map((assumption, column) =>
    JSON.stringify({ assumption, unit: fields[column]!.unit }),
  );
  // A row of numbers a line: a file that can be looked at and compared.
  const draws = rows.map((row) =>
    JSON.stringify(row.map((value, column) => numberIn(fields[column]!, value))),
  );
  const note = [fit.logbook.note, CAUTION].filter((each) => each !== null).join(' ');
  return `${head},
  "fitted": {
    "source": ${JSON.stringify(fit.source)},
    "note": ${JSON.stringify(note)},
    "columns": [
      ${columns.join(',\n      ')}
    ],
    "draws": [
      ${draws.join(',\n      ')}
    ]
  }
}
`;
}
