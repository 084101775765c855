import { printable } from '../present/words.js';
import type { ChartPart } from './spec.js';

/** Room for a name beside a row, px. */
export const ROW_LABEL_PX = 170;

/** Size of labels, px, and height of a line of them as Vega sets it. */
const LABEL_FONT_PX = 12;
export const LABEL_LINE_PX = 14;

/** Widths of letters in parts of the font size, rounded up from DejaVu Sans; before a word is told from the next. */
const WIDTHS: readonly (readonly [RegExp, number])[] = [
  [/\p{M}/u, 0],
  [/[\u2e80-\u9fff\uac00-\ud7af\uff00-\uff60\u{1f000}-\u{1faff}]/u, 1],
  [/[MWmw@%]/u, 1],
  [/[ijlI.,:;|!']/u, 0.36],
  [/[ftr()[\]{}/\\ "-]/u, 0.46],
  [/[\p{Lu}<>=+&#~]/u, 0.8],
];
const USUAL_WIDTH = 0.64;

/** Width of a text, px, rounded up. */
export function widthPx(text: string, fontPx: number): number {
  let width = 0;
  for (const letter of text) {
    width += WIDTHS.find(([letters]) => letters.test(letter))?.[1] ?? USUAL_WIDTH;
  }
  return width * fontPx;
}

/**
 * A name from a scenario in lines, whole: broken between words, and within a word that is longer than a line.
 *
 * @param name any text.
 * @param roomPx length of a line.
 * @param fontPx size of the letters.
 */
export function nameLines(name: string, roomPx: number, fontPx: number = LABEL_FONT_PX): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of printable(name).split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (widthPx(longer, fontPx) <= roomPx) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    line = '';
    for (const letter of word) {
      if (line !== '' && widthPx(line + letter, fontPx) > roomPx) {
        lines.push(line);
        line = '';
      }
      line += letter;
    }
  }
  return [...lines, line];
}

/**
 * A name for a title or a sentence: its start, if it is long.
 *
 * @param name any text.
 * @param letters most letters.
 */
export function shortName(name: string, letters = 32): string {
  const points = Array.from(printable(name));
  if (points.length <= letters) return points.join('');
  const start = points.slice(0, letters - 1).join('');
  return `${start.trimEnd()}…`;
}

/**
 * A Vega expression that gives the lines of a label for the place of a name: names go into axes by their place, so that
 * they break into lines and no two can be taken for the same.
 *
 * @param names one after the other.
 * @param roomPx length of a line.
 */
export function linesByPlace(names: readonly string[], roomPx: number): string {
  return `${JSON.stringify(names.map((name) => nameLines(name, roomPx)))}[datum.value]`;
}

/** Most lines that one of these names takes. */
export function mostLines(names: readonly string[], roomPx: number): number {
  return names.reduce((most, name) => Math.max(most, nameLines(name, roomPx).length), 1);
}

/** An axis of names by their place, without lines or ticks, its labels centred on their rows. */
export function nameAxis(names: readonly string[]): ChartPart {
  return lineAxis(names.map((name) => nameLines(name, ROW_LABEL_PX)));
}

/** As {@link nameAxis}, of labels that are broken into lines already. */
export function lineAxis(labels: readonly (readonly string[])[]): ChartPart {
  const lines = `${JSON.stringify(labels)}[datum.value]`;
  return {
    // Read aloud it would be a row of places; the marks say the names.
    aria: false,
    title: null,
    domain: false,
    ticks: false,
    labelLimit: 0,
    labelPadding: 8,
    labelExpr: lines,
    // Vega sets the first line on the middle of the row.
    labelOffset: { expr: `-${LABEL_LINE_PX / 2} * (length(${lines}) - 1)` },
  };
}
