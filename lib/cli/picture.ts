import { extname } from 'node:path';
import { renderPng, renderSvg } from '../chart/render.js';
import type { ChartSpec } from '../chart/spec.js';
import { UsageError } from '../problems.js';

/** A chart as it goes into a file. */
export type Drawing = string | Uint8Array;

/** How a chart is written, by the ending of the file. */
const FORMATS: Readonly<Record<string, (chart: ChartSpec) => Promise<Drawing>>> = {
  '.svg': renderSvg,
  '.png': renderPng,
  '.json': (chart) => Promise.resolve(`${JSON.stringify(chart, null, 2)}\n`),
};

/**
 * How to draw a chart for a file.
 *
 * @param file its name ends in .svg, .png or .json.
 * @throws UsageError for another ending.
 */
export function pictureFormat(file: string): (chart: ChartSpec) => Promise<Drawing> {
  const format = FORMATS[extname(file).toLowerCase()];
  if (format !== undefined) return format;
  const ending = extname(file).slice(1);
  const allowed = `its name must end in ${Object.keys(FORMATS).join(', ')}`;
  throw new UsageError(
    ending === ''
      ? `cannot tell what to draw for ${file}: ${allowed}`
      : `cannot write ${ending.toUpperCase()} for ${file}: ${allowed}`,
  );
}
