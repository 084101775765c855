/** What charts of sensitivity studies share: ranked rows with a name, and what is left out at the end. */
import { wholeNumber } from '../problems.js';
import type { DrivenFigure } from '../sensitivity/figures.js';
import { FIGURE_WORDS, inputWords } from '../sensitivity/input-words.js';
import { LABEL_LINE_PX, lineAxis, nameLines, ROW_LABEL_PX } from './labels.js';
import { chartData, FAINT_INK, type ChartPart, type ChartRow } from './spec.js';

/** Rows drawn unless asked otherwise, and most of them. */
const USUAL_ROWS = 12;
const MOST_ROWS_DRAWN = 40;

/** Least height of a row, and room between the lines of two names, px. */
const ROW_PX = 30;
const ROW_PADDING_PX = 8;
/** Room for a name, px. */
const NAME_PX = ROW_LABEL_PX + 20;

/** Where the mark and the text right of a plot begin, px from its end. */
export const MARK_OFFSET_PX = 18;
export const TEXT_OFFSET_PX = 32;

/** Splits ranked entries into those drawn and those left out. */
export function drawnAndLeft<Entry>(
  ranked: readonly Entry[],
  count: number = USUAL_ROWS,
): { readonly drawn: readonly Entry[]; readonly left: readonly Entry[] } {
  wholeNumber('count', count, 1, MOST_ROWS_DRAWN);
  return { drawn: ranked.slice(0, count), left: ranked.slice(count) };
}

/** Label of a row: a name, and below it what belongs to it. */
export interface RowLabel {
  readonly name: string;
  readonly under?: string | undefined;
}

/**
 * Rows by their place, with names at the left.
 *
 * @param labels from the first row to the last.
 * @returns height of the plot and of a row, px, and the encoding of y by the field `place`.
 */
export function rankedRows(labels: readonly RowLabel[]): {
  readonly rowPx: number;
  readonly height: number;
  readonly y: ChartPart;
} {
  const lines = labels.map(({ name, under }) => [
    ...nameLines(name, NAME_PX),
    ...(under === undefined ? [] : nameLines(under, NAME_PX)),
  ]);
  const most = lines.reduce((count, each) => Math.max(count, each.length), 1);
  const rowPx = Math.max(ROW_PX, LABEL_LINE_PX * most + ROW_PADDING_PX);
  return {
    rowPx,
    height: rowPx * labels.length,
    y: {
      field: 'place',
      type: 'ordinal',
      scale: { domain: labels.map((_, place) => place) },
      axis: lineAxis(lines),
    },
  };
}

/** The last row, which says what is left out; none where nothing is. */
export function othersLabel(left: number, anyDrawn = true): RowLabel[] {
  return left === 0 ? [] : [{ name: leftText(left, anyDrawn) }];
}

/** How many are left out, as the others of those drawn or as all there are. */
function leftText(left: number, anyDrawn: boolean): string {
  return anyDrawn
    ? `${left} ${left === 1 ? 'other' : 'others'}`
    : left === 1
      ? 'the only one'
      : `all ${left}`;
}

/** Layer of what is said of those left out. */
export function othersLayer(fromPx: number): ChartPart {
  return {
    transform: [{ filter: 'datum.others' }],
    mark: { type: 'text', align: 'left', color: FAINT_INK, aria: false },
    encoding: { x: { value: fromPx }, text: { field: 'text', type: 'nominal' } },
  };
}

/** The row of those left out; none where nothing is. */
export function othersRow(place: number, left: number, text: string, anyDrawn = true): ChartRow[] {
  if (left === 0) return [];
  const name = leftText(left, anyDrawn);
  return [{ place, others: true, name, text, said: `${name}: ${text}` }];
}

/** Name of an input of a study, with the number of its assumptions, or another noun for them, where it is a group. */
export function inputLabel(input: string, paths: readonly string[], noun = 'assumptions'): string {
  const words = inputWords(input, paths);
  return paths.length > 1 ? `${words} (${paths.length} ${noun})` : words;
}

/** How a figure stands on an axis. */
export interface FigureAxis {
  /** With its unit. */
  readonly axisTitle: string;
  /** Behind a number in text. */
  readonly unit: string;
  /** Factor from the unit of the study. */
  readonly scale: number;
}

/**
 * How a figure stands on an axis: chances in per cent, all else as in the study.
 *
 * @param figure which.
 * @param unit of the study.
 */
export function figureAxis(figure: DrivenFigure, unit: string): FigureAxis {
  const title = FIGURE_WORDS[figure];
  return figure === 'flatChance'
    ? { axisTitle: `${title} (%)`, unit: '%', scale: 100 }
    : { axisTitle: `${title} (${unit})`, unit, scale: 1 };
}

/** Ends of an axis around values, with a little room, whether they are near 0 or not. */
export function roomAround(values: readonly number[]): readonly [number, number] {
  const low = values.reduce((a, b) => Math.min(a, b), Infinity);
  const high = values.reduce((a, b) => Math.max(a, b), -Infinity);
  const room = high > low ? 0.06 * (high - low) : 0.1 * Math.abs(high) || 1;
  return [low - room, high + room];
}

/** A layer with the encoding of the rows. */
export function withRows(layer: ChartPart, y: ChartPart): ChartPart {
  return { ...layer, encoding: { ...(layer.encoding as ChartPart), y } };
}

/** What stands over a column of text right of a plot. */
export function columnHeading(fromPx: number, text: string): ChartPart {
  return {
    data: chartData([{ text }]),
    mark: { type: 'text', align: 'left', baseline: 'bottom', fontSize: 11, color: FAINT_INK, aria: false },
    encoding: { x: { value: fromPx }, y: { value: -4 }, text: { field: 'text', type: 'nominal' } },
  };
}

/** What stands over a line of a plot: field "label" of the data, on the side that has room. */
export function lineLabel(x: ChartPart, field: string, isRight: boolean): ChartPart {
  return {
    mark: {
      type: 'text',
      align: isRight ? 'right' : 'left',
      baseline: 'bottom',
      dx: isRight ? 4 : -4,
      fontSize: 11,
      aria: false,
    },
    encoding: { x: { ...x, field }, y: { value: -4 }, text: { field: 'label', type: 'nominal' } },
  };
}

/** A share as it was asked for: "95 %", "5 %". */
export function levelText(level: number): string {
  return `${Number((100 * level).toPrecision(4))} %`;
}
