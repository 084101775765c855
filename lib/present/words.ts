/**
 * A share as a percentage with two meaningful figures: 0.31 %, 4.7 %, 23 %.
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
  return `${percent.toFixed(0)} %`;
}

/**
 * A positive number with about three meaningful figures.
 *
 * @param value the number; null prints as a dash.
 */
export function figureText(value: number | null): string {
  if (value === null) return '-';
  const size = Math.abs(value);
  if (size >= 100 || size === 0) return value.toFixed(0);
  if (size >= 10) return value.toFixed(1);
  if (size >= 1) return value.toFixed(2);
  return value.toPrecision(2);
}

/**
 * Text with control characters and line ends taken out, so that a name from a file cannot disturb a terminal.
 *
 * @param text any text.
 */
export function printable(text: string): string {
  // eslint is right that control characters are odd in a pattern; here they are the point.
  return Array.from(text, (character) => (isControl(character) ? ' ' : character)).join('');
}

function isControl(character: string): boolean {
  const code = character.codePointAt(0) ?? 0;
  return code < 32 || (code >= 127 && code < 160);
}

/**
 * Breaks text into lines of at most a width.
 *
 * @param text text without line ends.
 * @param width characters per line.
 * @param indent put before each line after the first.
 */
export function wrap(text: string, width: number, indent = ''): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > width) {
      lines.push(line);
      line = indent + word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  lines.push(line);
  return lines.join('\n');
}
