import type { PressurePoint } from '../decide/pressure-types.js';
import { amountRange, type AxisRange } from './log-axis.js';
import { pressureText } from './measures.js';
import type { PressureReading } from './pressure-panel.js';

/** Room of an axis label, px: for ticks of log axes, which run upward here. */
const LABEL_PX = 18;
const PANEL_HEIGHT_PX = 110;

/** Expression for the labels of an axis of amounts. */
export const AMOUNT_LABELS = "format(datum.value, ',.12~g')";

/** What every reading at a pressure has. */
export type CommonReading = Pick<PressureReading, 'pressurePsi' | 'broken' | 'pressureText' | 'brokenText'>;

/** What every reading at a pressure has. */
export function readingOf({ pressurePa, pressurePsi, broken }: PressurePoint): CommonReading {
  return {
    pressurePsi,
    broken: broken.length > 0,
    pressureText: pressureText(pressurePa),
    brokenText: broken.length === 0 ? 'none' : broken.join(', '),
  };
}

/**
 * An axis of amounts in a panel.
 *
 * @param values what it has to show; null counts for nothing.
 * @param wideRatio highest over lowest from which on it is a log axis.
 */
export function upwardRange(values: readonly (number | null)[], wideRatio?: number): AxisRange {
  return amountRange(
    values.filter((value) => value !== null),
    PANEL_HEIGHT_PX,
    LABEL_PX,
    wideRatio,
  );
}
