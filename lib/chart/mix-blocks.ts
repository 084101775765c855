import { LABEL_LINE_PX, linesByPlace, mostLines, nameAxis, ROW_LABEL_PX } from './labels.js';
import type { PairingOrder } from './pairing-rows.js';
import { INK, type ChartPart } from './spec.js';

/** Room for a mix in a line above its rows, px. */
const MIX_LABEL_PX = 250;
/** Least height of a row, px. */
const ROW_PX = 26;
/** Between the lines of a name and the next row, px. */
const ROW_PADDING_PX = 6;

/** Rows are set-ups: what is drawn in one mix. */
export interface MixPanel {
  readonly title: string;
  /** Layers over an encoding of y by `setupPlace`. */
  readonly spec: ChartPart;
}

/**
 * A panel once for each mix, one below the other, a row for each set-up. Data need the fields `setupPlace` and
 * `mixPlace`: places in the order.
 *
 * @param panel what is drawn.
 * @param order of the names.
 * @param named false where a panel at the left shows the names of the same rows.
 */
export function mixBlocks(
  { title, spec }: MixPanel,
  { setups, mixes }: PairingOrder,
  named: boolean,
): ChartPart {
  const lines = linesByPlace(mixes, MIX_LABEL_PX);
  const header = {
    title: null,
    labelOrient: 'top',
    labelAnchor: 'start',
    labelAlign: 'left',
    labelAngle: 0,
    labelLimit: 0,
    labelPadding: 0,
    labelFontWeight: 600,
    labelColor: INK,
    // Where the names are not repeated, blank lines keep the rows level.
    labelExpr: named ? lines : `slice([' ', ' ', ' ', ' '], 0, length(${lines}))`,
  };
  const y = {
    field: 'setupPlace',
    type: 'ordinal',
    scale: { domain: setups.map((_, place) => place) },
    axis: named ? nameAxis(setups) : null,
  };
  const height = {
    step: Math.max(ROW_PX, LABEL_LINE_PX * mostLines(setups, ROW_LABEL_PX) + ROW_PADDING_PX),
  };
  return {
    title: { text: title, anchor: 'start', fontSize: 13, fontWeight: 600, offset: 8 },
    spacing: 6,
    facet: { row: { field: 'mixPlace', type: 'ordinal', header } },
    spec: { ...spec, height, encoding: { y } },
  };
}
