import { FONT_FAMILY, fontFiles, loadTextMeasure, type TextMeasure } from './font.js';
import type { ChartSpec } from './spec.js';

/** How {@link renderPng} draws. */
export interface PngOptions {
  /** Pixels of the picture per pixel of the specification; 0.1 to 10, default 2. */
  readonly scale?: number | undefined;
}

/**
 * Draws a chart as SVG, without a browser. The same specification gives the same text.
 *
 * @param spec a chart.
 * @returns SVG text. Marks carry their values as `aria-label`.
 * @throws Error with every complaint if Vega-Lite warns about the specification.
 */
export async function renderSvg(spec: ChartSpec): Promise<string> {
  // Vega waits for something while it loads, so that a library that imports it at the top could not be required.
  const [vega, vegaLite, measure] = await Promise.all([
    import('vega'),
    import('vega-lite'),
    loadTextMeasure(),
  ]);
  // Without a canvas Vega takes every letter to be 0.8 em wide and leaves gaps.
  (vega as unknown as { textMetrics: { width: TextMeasure } }).textMetrics.width = (style, text: unknown) =>
    measure(style, String(text));
  const complaints: string[] = [];
  const logger = makeLogger(complaints);
  const { spec: compiled } = vegaLite.compile(spec as never, { logger });
  const view = new vega.View(vega.parse(compiled), { renderer: 'none', logger });
  try {
    const svg = await view.toSVG();
    if (complaints.length > 0) throw new Error(`the chart is not sound: ${complaints.join('; ')}`);
    return svg;
  } finally {
    view.finalize();
  }
}

/**
 * Draws a chart as PNG, without a browser, with a font that comes with the library.
 *
 * @param spec a chart.
 * @param options how large.
 * @returns the bytes of the picture.
 * @throws Error as {@link renderSvg} does.
 */
export async function renderPng(spec: ChartSpec, options: PngOptions = {}): Promise<Uint8Array> {
  const svg = await renderSvg(spec);
  const { Resvg } = await import('@resvg/resvg-js');
  const drawing = new Resvg(svg, {
    fitTo: { mode: 'zoom', value: options.scale ?? 2 },
    font: {
      // Without a font file, text would be left out without a word.
      fontFiles: fontFiles(),
      loadSystemFonts: false,
      defaultFontFamily: FONT_FAMILY,
      sansSerifFamily: FONT_FAMILY,
    },
  });
  return drawing.render().asPng();
}

interface Logger {
  level(): number;
  level(_: number): this;
  warn(...args: readonly unknown[]): this;
  error(...args: readonly unknown[]): this;
  info(): this;
  debug(): this;
}

/** Collects what would otherwise be printed. */
function makeLogger(complaints: string[]): Logger {
  const keep = (args: readonly unknown[]): void => {
    complaints.push(args.map(String).join(' '));
  };
  const logger = {
    level(level?: number): unknown {
      return level === undefined ? 1 : logger;
    },
    warn(...args: readonly unknown[]) {
      keep(args);
      return logger;
    },
    error(...args: readonly unknown[]) {
      keep(args);
      return logger;
    },
    info: () => logger,
    debug: () => logger,
  };
  return logger as Logger;
}
