import { Buffer } from 'node:buffer';
import { withFewColours } from './few-colours.js';
import { openDisplay } from './kernel.js';
import { renderPng } from './render.js';
import type { ChartSpec } from './spec.js';

/** The newest version of the grammar that notebook programs draw; nothing in our charts is newer. */
const NOTEBOOK_SCHEMA = 'https://vega.github.io/schema/vega-lite/v5.json';

/** Pixels of the picture per pixel of the chart: sharp enough for paper, without filling the notebook. */
const PICTURE_SCALE = 1.5;

/** Where a PNG file has its width; the height follows. Source: W3C, Portable Network Graphics, 11.2.2. */
const WIDTH_BYTE = 16;

/**
 * Shows a chart below the cell of a notebook, as one output in three forms: the specification, which JupyterLab draws
 * with hover values; a PNG picture for static viewers, export and print; the description where there is only text.
 *
 * The picture is no SVG, since some versions of nbconvert leave all but the letters out of an SVG, and others need a
 * further program to print it.
 *
 * @param chart a chart.
 * @throws UsageError outside a notebook with the TypeScript kernel; Error as {@link renderPng} does.
 */
export async function show(chart: ChartSpec): Promise<void> {
  // Taken before the picture is drawn, so that the chart stays with the cell that asked for it.
  const display = openDisplay('show', 'use renderSvg or renderPng');
  const png = Buffer.from(await withFewColours(await renderPng(chart, { scale: PICTURE_SCALE })));
  display({
    data: {
      'application/vnd.vegalite.v5+json': { ...chart, $schema: NOTEBOOK_SCHEMA },
      'image/png': png.toString('base64'),
      'text/plain': chart.description,
    },
    metadata: {
      'image/png': {
        width: Math.round(png.readUInt32BE(WIDTH_BYTE) / PICTURE_SCALE),
        height: Math.round(png.readUInt32BE(WIDTH_BYTE + 4) / PICTURE_SCALE),
      },
    },
  });
}
