import { COLOURS, type ChartPart } from './spec.js';

/** The bands of the tread as charts name them. */
export const TREAD_BANDS = ['centre', 'worst shoulder'] as const;

const LEGEND: ChartPart = {
  orient: 'bottom',
  symbolType: 'stroke',
  symbolSize: 500,
  symbolStrokeWidth: 2.5,
  symbolOpacity: 1,
};

function byBand(range: readonly unknown[]): ChartPart {
  return {
    field: 'band',
    type: 'nominal',
    title: null,
    scale: { domain: TREAD_BANDS, range },
    legend: LEGEND,
  };
}

/** Encodings that tell the bands apart, by colour and by dash. */
export const COLOUR_BY_BAND: ChartPart = byBand([COLOURS.blue, COLOURS.vermilion]);
export const DASH_BY_BAND: ChartPart = byBand([
  [1, 0],
  [6, 3],
]);
