// The part of a danfojs-node DataFrame that works with the packages gravelbar installs it with, so that our declarations
// can be read where danfojs-node is not installed. What is left out is slow or wrong in danfojs-node 1.2.0: DEVELOPERS.md
// lists it.

/** A value in a data frame; a missing number is NaN. */
export type FrameValue = string | number | boolean;

/** A column of a data frame. Statistics leave missing values out. */
export interface FrameColumn {
  /** The values, not a copy. */
  readonly values: readonly FrameValue[];
  readonly index: readonly (string | number)[];
  count(): number;
  sum(): number;
  mean(): number;
  median(): number;
  /** Standard deviation, divisor n - 1. */
  std(): number;
  min(): number;
  max(): number;
  /** True where a value is missing. */
  isNa(): FrameColumn;
  unique(): FrameColumn;
  /** How often each value occurs; the values are the index. */
  valueCounts(): FrameColumn;
  eq(other: FrameValue): FrameColumn;
  ne(other: FrameValue): FrameColumn;
  lt(other: number): FrameColumn;
  le(other: number): FrameColumn;
  gt(other: number): FrameColumn;
  ge(other: number): FrameColumn;
  and(other: FrameColumn): FrameColumn;
  or(other: FrameColumn): FrameColumn;
  toString(): string;
  print(): void;
}

/**
 * Rows that are alike in some columns. Statistics do not leave missing values out: they are NaN where one is missing,
 * so drop those rows first.
 */
export interface FrameGroups {
  /** The columns to work on. */
  col(names: string[]): FrameGroups;
  count(): Frame;
  sum(): Frame;
  mean(): Frame;
  /** Standard deviation, divisor n - 1. */
  std(): Frame;
  min(): Frame;
  max(): Frame;
  /** Several statistics at once, medians too: `{ life_hours: ['mean', 'median'] }`. */
  agg(statistics: Record<string, string | string[]>): Frame;
}

/** Rows taken out of a data frame. They keep their old numbers: `resetIndex` before they are filtered again. */
export interface FilteredFrame {
  /** Rows and columns. */
  readonly shape: readonly number[];
  readonly columns: readonly string[];
  /** One per column: string, boolean, int32, or float32, which is danfojs's word for any number. */
  readonly dtypes: readonly string[];
  readonly index: readonly (string | number)[];
  /** Throws an Error for a name that does not exist. */
  column(name: string): FrameColumn;
  head(rows?: number): FilteredFrame;
  tail(rows?: number): FilteredFrame;
  /** Rows and columns by their place: `{ rows: ['0:10'], columns: [0, 3] }`. */
  iloc(places: { rows?: (string | number)[]; columns?: (string | number)[] }): FilteredFrame;
  /** Rows without a missing value. */
  dropNa(): FilteredFrame;
  /** Numbers the rows from 0. */
  resetIndex(): Frame;
  /**
   * Rows that are alike in these columns. Group by pairing_number rather than by set-up and mix: danfojs joins several
   * names by a hyphen, and names that hold one can run into each other.
   */
  groupby(columns: string[]): FrameGroups;
  /** The frame with one more column. */
  addColumn(name: string, values: FrameValue[]): FilteredFrame;
  drop(what: { columns: string[] }): FilteredFrame;
  copy(): FilteredFrame;
  toString(): string;
  print(): void;
}

/** A danfojs-node DataFrame: rows with typed columns, numbered from 0. */
export interface Frame extends FilteredFrame {
  /**
   * Rows for which a condition holds: `frame.query(frame.column('life_hours').gt(300))`. Only rows numbered from 0 can be
   * filtered: danfojs takes the number of a row for its place.
   */
  query(condition: FrameColumn): FilteredFrame;
  head(rows?: number): Frame;
  addColumn(name: string, values: FrameValue[]): Frame;
  drop(what: { columns: string[] }): Frame;
  copy(): Frame;
}
