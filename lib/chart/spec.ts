import { UsageError } from '../problems.js';

/** A value in a row of chart data. */
export type ChartValue = string | number | boolean | null;

/** A row of chart data; names carry their units. */
export type ChartRow = Readonly<Record<string, ChartValue>>;

/** A part of a Vega-Lite specification: plain JSON. */
export type ChartPart = Readonly<Record<string, unknown>>;

/**
 * A Vega-Lite specification with its data inside: plain JSON that any Vega-Lite tool draws.
 *
 * `description` says in words what the chart shows, for those who cannot see it.
 */
export interface ChartSpec {
  readonly $schema: string;
  readonly description: string;
  readonly title: { readonly text: readonly string[]; readonly subtitle: readonly string[] };
  readonly [part: string]: unknown;
}

/** What a chart says about itself. */
export interface ChartWords {
  /** The finding, in a sentence. */
  readonly title: string;
  /** Trials, seed and cautions, in short sentences. */
  readonly subtitle: readonly string[];
  /** The chart in words, with its main figures. */
  readonly description: string;
}

/** The version of the grammar the specifications are written in. */
export const VEGA_LITE_SCHEMA = 'https://vega.github.io/schema/vega-lite/v6.json';

/** Most rows of data in a chart: charts draw aggregates, never trials, so that pages and notebooks stay light. */
export const MOST_ROWS = 2000;

/** Fonts: the first is that of the pictures, the others those of a browser. */
export const CHART_FONT = 'DejaVu Sans, Verdana, Arial, sans-serif';

/** Width of the plot area of a chart with one panel, px. */
export const PLOT_WIDTH_PX = 560;
/** Its height, px. */
export const PLOT_HEIGHT_PX = 300;

/** Text colour: 12:1 on white. */
export const INK = '#333333';
/** Colour of helping lines and secondary text: 4.6:1 on white. */
export const FAINT_INK = '#757575';
/** Vermilion dark enough for text: 6:1 on white. */
export const DARK_VERMILION = '#A34700';

/**
 * Eight colours told apart with any common colour vision.
 * Source: M. Okabe and K. Ito, Color Universal Design, 2002 (from memory).
 */
export const COLOURS = {
  blue: '#0072B2',
  orange: '#E69F00',
  green: '#009E73',
  vermilion: '#D55E00',
  purple: '#CC79A7',
  sky: '#56B4E9',
  yellow: '#F0E442',
  black: '#000000',
} as const;

/** Letters that fit in a line of a title of 16 px and of a subtitle of 12 px above a plot. */
const TITLE_LETTERS = 68;
const SUBTITLE_LETTERS = 92;

const CONFIG: ChartPart = {
  font: CHART_FONT,
  background: 'white',
  padding: 12,
  view: { stroke: null },
  title: {
    anchor: 'start',
    frame: 'group',
    fontSize: 16,
    fontWeight: 600,
    color: INK,
    subtitleFontSize: 12,
    subtitleColor: '#555555',
    subtitlePadding: 6,
    lineHeight: 20,
    subtitleLineHeight: 16,
    offset: 14,
  },
  axis: {
    labelFontSize: 12,
    titleFontSize: 12,
    titleFontWeight: 'normal',
    titleColor: INK,
    labelColor: INK,
    gridColor: '#E6E6E6',
    domainColor: '#888888',
    tickColor: '#888888',
    labelLimit: 260,
    titlePadding: 8,
  },
  legend: {
    labelFontSize: 12,
    titleFontSize: 12,
    titleFontWeight: 'normal',
    labelColor: INK,
    titleColor: INK,
    labelLimit: 320,
    symbolStrokeWidth: 2,
  },
  header: { labelFontSize: 12, titleFontSize: 12, labelColor: INK, titleColor: INK, labelLimit: 320 },
  text: { fontSize: 12, color: INK },
};

/**
 * Puts a chart together: words, data in rows, marks.
 *
 * @param words title, subtitle and description.
 * @param rows data; see {@link chartData} for what they must be.
 * @param parts the rest of the specification: `width`, `layer`, `encoding` and so on.
 * @returns the specification.
 * @throws UsageError if there are too many rows, or one holds a number that is not finite.
 */
export function makeChart(words: ChartWords, rows: readonly ChartRow[], parts: ChartPart): ChartSpec {
  return {
    $schema: VEGA_LITE_SCHEMA,
    description: words.description,
    title: {
      text: wrapWords(words.title, TITLE_LETTERS),
      subtitle: words.subtitle.flatMap((line) => wrapWords(line, SUBTITLE_LETTERS)),
    },
    data: chartData(rows),
    ...parts,
    config: { ...CONFIG, ...(parts.config as ChartPart | undefined) },
  };
}

/**
 * Data of a chart or of one of its layers.
 *
 * @param rows at most {@link MOST_ROWS}; numbers finite, or null where there is none.
 * @returns the data part of a specification.
 * @throws UsageError otherwise, with the first row and field that is wrong.
 */
export function chartData(rows: readonly ChartRow[]): { readonly values: readonly ChartRow[] } {
  if (rows.length > MOST_ROWS) {
    throw new UsageError(
      `a chart of ${rows.length} rows: at most ${MOST_ROWS} are drawn; aggregate them first`,
    );
  }
  rows.forEach((row, index) => {
    for (const [field, value] of Object.entries(row)) {
      if (typeof value !== 'number' || Number.isFinite(value)) continue;
      throw new UsageError(
        `row ${index + 1} of a chart has ${field} = ${value}: only finite numbers are drawn`,
      );
    }
  });
  return { values: rows };
}

/**
 * Breaks a text into lines between words.
 *
 * @param text one line.
 * @param letters most letters in a line; a longer word is cut.
 * @returns at least one line.
 */
export function wrapWords(text: string, letters: number): string[] {
  const lines: string[] = [];
  let line = '';
  // A per cent sign and a power of ten stay with their number.
  for (const word of text.split(/\s+(?!%|×|10⁻)/u).flatMap((part) => chunks(part, letters))) {
    if (line === '') line = word;
    else if (line.length + 1 + word.length <= letters) line += ` ${word}`;
    else {
      lines.push(line);
      line = word;
    }
  }
  return [...lines, line];
}

function chunks(word: string, letters: number): string[] {
  const found: string[] = [];
  const points = Array.from(word);
  for (let from = 0; from < points.length; from += letters) {
    found.push(points.slice(from, from + letters).join(''));
  }
  return found;
}
