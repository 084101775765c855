import { parseQuantity, type Dimension } from '../units.js';
import { assumptionField } from './assumption-fields.js';
import type { Scenario } from './schema/index.js';

/** Assumptions fitted to records together, SI units. */
export interface CompiledFitted {
  /** Where they come from: "fitted to FILE (n records, first to last day)". */
  readonly source: string;
  /** What must be known with them, such as what stands against the fit; left out where nothing is said. */
  readonly note?: string;
  /** Indices of the assumptions, by column. */
  readonly indices: readonly number[];
  /** Draws, equally likely: row after row, at row × columns + column. */
  readonly draws: readonly number[];
  readonly rows: number;
  /** Median of each column. */
  readonly medians: readonly number[];
}

/** SI value of a number in a unit: units are straight lines, so that two values tell all. */
export function siScale(dimension: Dimension, unit: string): ((value: number) => number) | null {
  const [zero, one] = ['0', '1'].map((number) =>
    parseQuantity(unit === '' ? number : `${number} ${unit}`, dimension),
  );
  if (zero?.ok !== true || one?.ok !== true) return null;
  const [offset, slope] = [zero.si, one.si - zero.si];
  return (value) => offset + slope * value;
}

/**
 * Draws of fitted assumptions in SI units.
 *
 * @param fitted as checked: places and units exist, all rows have all columns.
 * @param paths places of the assumptions of the scenario, in order.
 */
export function compileFitted(
  fitted: NonNullable<Scenario['fitted']>,
  paths: readonly string[],
): CompiledFitted {
  const { source, note, columns, draws } = fitted;
  const scales = columns.map(({ assumption, unit }) => {
    const field = assumptionField(assumption);
    const scale = field === null ? null : siScale(field.field.dimension, unit);
    if (scale === null) throw new RangeError(`no assumption ${assumption} in ${unit}`);
    return scale;
  });
  const values = columns.map((_, column) => draws.map((row) => scales[column]!(row[column]!)));
  return {
    source,
    ...(note === undefined ? {} : { note }),
    indices: columns.map(({ assumption }) => {
      const index = paths.indexOf(assumption);
      if (index < 0) throw new RangeError(`no assumption at ${assumption}`);
      return index;
    }),
    draws: draws.flatMap((_, row) => values.map((column) => column[row]!)),
    rows: draws.length,
    medians: values.map(medianOf),
  };
}

function medianOf(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  return 0.5 * (sorted[Math.floor((sorted.length - 1) / 2)]! + sorted[Math.ceil((sorted.length - 1) / 2)]!);
}
