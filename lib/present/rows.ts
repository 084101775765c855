/** A value of a table: text, a number, yes or no, or nothing where a figure is not known. */
export type Cell = string | number | boolean | null;

/** What the values of a column are; "whole" is a whole number. */
export type CellKind = 'text' | 'number' | 'whole' | 'yes-no';

/** What a column of a table holds. */
export interface TableColumn {
  /** Lower-case words joined by underscores, the unit among them. */
  readonly name: string;
  readonly kind: CellKind;
  /** Unit of a number, as it stands in the name; empty for text and for yes or no. */
  readonly unit: string;
  readonly meaning: string;
  /** True if a value may be missing: null in rows, empty in CSV, NaN in a data frame. Text is never missing. */
  readonly mayBeMissing: boolean;
}

/** A column and how to read its value off what a row is made from. */
export interface ReadableColumn<Source> extends TableColumn {
  readonly read: (source: Source) => Cell;
}

/** Rows with typed columns, made one by one as they are read; they can be read again. */
export interface Table {
  readonly columns: readonly TableColumn[];
  readonly rowCount: number;
  /** Values in the order of the columns. */
  readonly rows: Iterable<readonly Cell[]>;
}

interface ValueOfKind {
  readonly text: string;
  readonly number: number;
  readonly whole: number;
  readonly 'yes-no': boolean;
}

/** A column whose value is always known. */
export function column<Source, Kind extends CellKind>(
  kind: Kind,
  name: string,
  unit: string,
  meaning: string,
  read: (source: Source) => ValueOfKind[Kind],
): ReadableColumn<Source> {
  return { name, kind, unit, meaning, mayBeMissing: false, read };
}

/** A column whose value may be missing. */
export function openColumn<Source, Kind extends Exclude<CellKind, 'text'>>(
  kind: Kind,
  name: string,
  unit: string,
  meaning: string,
  read: (source: Source) => ValueOfKind[Kind] | null,
): ReadableColumn<Source> {
  return { name, kind, unit, meaning, mayBeMissing: true, read };
}

/** The columns without the way to read them, for users. */
export function describeColumns(columns: readonly TableColumn[]): readonly TableColumn[] {
  return columns.map(({ name, kind, unit, meaning, mayBeMissing }) => ({
    name,
    kind,
    unit,
    meaning,
    mayBeMissing,
  }));
}

/** A table with one row per source. `sources` is called for every reading. */
export function tableOf<Source>(
  columns: readonly ReadableColumn<Source>[],
  rowCount: number,
  sources: () => Iterable<Source>,
): Table {
  return {
    columns,
    rowCount,
    rows: {
      *[Symbol.iterator](): Generator<readonly Cell[]> {
        for (const source of sources()) yield columns.map(({ read }) => read(source));
      },
    },
  };
}

/** The rows as records by column name. */
export function* recordsOf({ columns, rows }: Table): Generator<Record<string, Cell>> {
  for (const row of rows) {
    yield Object.fromEntries(columns.map(({ name }, index) => [name, row[index]!]));
  }
}
