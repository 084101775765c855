/**
 * A share as a percentage with two meaningful figures: 0.31 %, 4.7 %, 23 %. What is not quite all is not shown as all.
 *
 * @param share 0 to 1.
 */
export function percentText(share: number): string {
  const percent = 100 * share;
  if (percent === 0) return '0 %';
  if (percent < 0.00095) return '<0.001 %';
  if (percent < 0.0995) return `${percent.toFixed(3)} %`;
  if (percent < 0.995) return `${percent.toFixed(2)} %`;
  if (percent < 9.95) return `${percent.toFixed(1)} %`;
  if (percent < 99.5 || percent >= 100) return `${percent.toFixed(0)} %`;
  return percent < 99.95 ? `${percent.toFixed(1)} %` : '>99.9 %';
}

/**
 * A number with about three meaningful figures.
 *
 * @param value the number; null prints as a dash.
 */
export function figureText(value: number | null): string {
  if (value === null) return '-';
  const size = Math.abs(value);
  if (size >= 99.95 || size === 0) return value.toFixed(0);
  if (size >= 9.995) return value.toFixed(1);
  if (size >= 0.995) return value.toFixed(2);
  return value.toPrecision(2);
}

// Controls, marks of direction and other format characters, lone surrogates, line and paragraph separators.
const UNPRINTABLE = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u;
/** Characters that take two columns of a terminal. */
const WIDE =
  /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{Emoji_Presentation}\u3000-\u303f\uff01-\uff60\uffe0-\uffe6]/u;
const COMBINING = /\p{M}/u;

/**
 * Text with control characters and line ends turned into blanks, so that a name from a file cannot disturb a terminal.
 *
 * @param text any text.
 */
export function printable(text: string): string {
  return Array.from(text, (character) => (UNPRINTABLE.test(character) ? ' ' : character)).join('');
}

/**
 * Columns that a text takes in a terminal.
 *
 * @param text printable text.
 */
export function textWidth(text: string): number {
  let width = 0;
  for (const character of text) width += characterWidth(character);
  return width;
}

function characterWidth(character: string): number {
  if (COMBINING.test(character)) return 0;
  return WIDE.test(character) ? 2 : 1;
}

/**
 * Start of a text that fits into a number of columns; characters stay whole.
 *
 * @param text printable text.
 * @param width columns.
 */
export function startOf(text: string, width: number): string {
  let start = '';
  let used = 0;
  for (const character of text) {
    used += characterWidth(character);
    if (used > width) break;
    start += character;
  }
  return start;
}

/**
 * Breaks text into lines of at most a width, between words where it can.
 *
 * @param text text without line ends.
 * @param width columns per line.
 * @param indent put before each line after the first.
 */
export function wrap(text: string, width: number, indent = ''): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && textWidth(line) + 1 + textWidth(word) > width) {
      lines.push(line);
      line = indent + word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
    while (textWidth(line) > width) {
      const start = startOf(line, width);
      lines.push(start);
      line = indent + line.slice(start.length);
    }
  }
  lines.push(line);
  return lines.join('\n');
}

/** A text with a capital at its start. */
export function capitalized(text: string): string {
  const [first = '', ...rest] = Array.from(text);
  return first.toUpperCase() + rest.join('');
}
