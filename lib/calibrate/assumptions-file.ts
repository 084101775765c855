import { UsageError } from '../problems.js';
import { assumptionField, type AssumptionField } from '../scenario/assumption-fields.js';
import { formatQuantity, splitQuantity } from '../units.js';
import type { AssumptionFit, FittedAssumption } from './posterior-types.js';
import { standingText } from './standing.js';

/** Digits of the draws and of the quantiles: far finer than what any record tells. */
const DIGITS = 6;
/** Longest note that a scenario may hold. */
const LONGEST_NOTE = 2000;
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
  const source = `${fit.source}: ${standingText(assumption)}`;
  const [p10, p90] = [text(at(0.1)), text(at(0.9))];
  if (p10 === p90) return { value: text(assumption.median), source };
  return { distribution: assumption.form, p10, p90, source };
}

/**
 * Writes a fit as a file that a scenario extends: each fitted assumption for itself, with its source, and a table of draws
 * that keeps together what the records tie together. A run takes the draws.
 *
 * @param fit from `fitAssumptions`, with at least two draws.
 * @param doubts what stands against the fit, in sentences (`fitFindings`): kept in the note, so that every run shows them.
 * @returns JSON text, ending with a line feed.
 * @throws UsageError for a fit without draws: the records told nothing.
 */
export function assumptionsFile(fit: AssumptionFit, doubts: readonly string[] = []): string {
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
  return `${head},
  "fitted": {
    "source": ${JSON.stringify(fit.source)},
    "note": ${JSON.stringify(noteOf(fit, doubts))},
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

/** What must be known with the numbers; too long a list of doubts ends with its beginning. */
function noteOf({ logbook }: AssumptionFit, doubts: readonly string[]): string {
  const ends = [logbook.note, CAUTION].filter((each) => each !== null).join(' ');
  if (doubts.length === 0) return ends.slice(0, LONGEST_NOTE);
  const told = `Doubts: ${doubts.join(' ')}`;
  const room = LONGEST_NOTE - ends.length - 1;
  const shown = told.length <= room ? told : `${told.slice(0, Math.max(0, room - 4))} ...`;
  return `${shown} ${ends}`.slice(0, LONGEST_NOTE);
}
