import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

/** Font of the pictures, by the name it has in its files. */
export const FONT_FAMILY = 'DejaVu Sans';

const REGULAR = 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf';
const BOLD = 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf';

/** From this weight on, text is drawn with the bold face. */
const BOLD_WEIGHT = 600;

/** Paths of the font files, which come with the library. */
export function fontFiles(): string[] {
  const require = createRequire(import.meta.url);
  return [REGULAR, BOLD].map((file) => require.resolve(file));
}

/** How a text is set. */
export interface TextStyle {
  readonly fontSize?: number;
  readonly fontWeight?: number | string;
}

/** Measures a text, px. */
export type TextMeasure = (style: TextStyle, text: string) => number;

let measure: Promise<TextMeasure> | null = null;

/**
 * A measure of texts in the font of the pictures, px.
 *
 * @returns the measure; characters that the font lacks count as its replacement character.
 */
export function loadTextMeasure(): Promise<TextMeasure> {
  measure ??= makeTextMeasure();
  return measure;
}

async function makeTextMeasure(): Promise<TextMeasure> {
  const { parse } = (await import('opentype.js')).default;
  const [regular, bold] = fontFiles().map((file) => {
    const bytes = readFileSync(file);
    return parse(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
  });
  return ({ fontSize = 11, fontWeight }, text) => {
    const isBold = fontWeight === 'bold' || Number(fontWeight) >= BOLD_WEIGHT;
    return (isBold ? bold : regular)!.getAdvanceWidth(text, fontSize);
  };
}
