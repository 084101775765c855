import { amountText } from './figures.js';
import { chartData, COLOURS, FAINT_INK, type ChartPart } from './spec.js';

/** Width of the panels, px. */
export const PRESSURE_PANEL_PX = 520;

/** What all panels share: where they begin and end, and what stands behind the lines. */
export interface PressureFrame {
  readonly domainPsi: readonly [number, number];
  readonly ownPsi: number;
  readonly sensiblePsi: readonly [number, number] | null;
  /** Where limits begin to be broken. */
  readonly limitsPsi: readonly number[];
}

/** Encoding of pressure along the bottom. */
export function pressureAlong({ domainPsi }: PressureFrame, labelled: boolean): ChartPart {
  return {
    field: 'pressurePsi',
    type: 'quantitative',
    scale: { domain: domainPsi, nice: false, zero: false },
    axis: {
      description: `cold pressure of the main tires from ${domainPsi.map(amountText).join(' to ')} psi`,
      title: labelled ? 'cold pressure of the main tires (psi; 10 psi = 0.69 bar)' : null,
      labels: labelled,
      ticks: labelled,
      tickMinStep: 1,
    },
  };
}

/** The sensible range, the ends of what keeps all limits, and the set-up's own pressure, behind the lines. */
export function pressureBackdrop(frame: PressureFrame, labelled: boolean): ChartPart[] {
  const { ownPsi, sensiblePsi, limitsPsi } = frame;
  const layers: ChartPart[] = [];
  if (sensiblePsi !== null) {
    layers.push({
      data: chartData([{ lowPsi: sensiblePsi[0], highPsi: sensiblePsi[1] }]),
      mark: { type: 'rect', color: COLOURS.green, opacity: 0.13, aria: false },
      encoding: { x: { ...pressureAlong(frame, labelled), field: 'lowPsi' }, x2: { field: 'highPsi' } },
    });
  }
  if (limitsPsi.length > 0) {
    layers.push({
      data: chartData(limitsPsi.map((pressurePsi) => ({ pressurePsi }))),
      mark: { type: 'rule', color: FAINT_INK, strokeDash: [2, 3], aria: false },
      encoding: { x: pressureAlong(frame, labelled) },
    });
  }
  layers.push({
    data: chartData([{ pressurePsi: ownPsi }]),
    mark: { type: 'rule', color: COLOURS.black, strokeWidth: 1.2, aria: false },
    encoding: { x: pressureAlong(frame, labelled) },
  });
  return layers;
}
