/** How often the intervals of a fit hold what they should, in words. */
import type { AssumptionFit, FitCalibration } from '../calibrate/posterior-types.js';
import { withCommas } from './amounts.js';
import { percentText } from './words.js';

/** Shares held that are this near to the share stated are near enough, however many were counted. Convention. */
const NEAR_ENOUGH = 0.05;

/** What was counted, as the subject of a sentence. */
const COUNTED: Readonly<Record<FitCalibration['what'], string>> = {
  'readings, each from those before it': 'tread readings, each foretold from those of the tire before it',
  'readings, without any reading of the tire': 'tread readings, foretold without any reading of the tire',
  'held-out readings, without any reading of the tire':
    'held-out tread readings, of tires that the fit never saw',
  'pressures found': 'pressures found',
};

/**
 * How often the intervals held what they should: "80 % intervals held 80.3 % (77.7 to 82.6 %) of 1,000 pressures found".
 *
 * @param calibration one check.
 */
export function calibrationText({ what, stated, held, of, low, high }: FitCalibration): string {
  const tenth = (share: number): string => (100 * share).toFixed(1);
  return (
    `${percentText(stated)} intervals held ${tenth(held / of)} % (${tenth(low)} to ${tenth(high)} %) of ` +
    `${withCommas(String(of))} ${COUNTED[what]}`
  );
}

/**
 * True where intervals hold far more or less than they should. Readings of one tire that are foretold without its others go
 * wrong together: their tires are counted there.
 */
export function calibrationIsOff(calibration: FitCalibration, { checks }: AssumptionFit): boolean {
  const { what, stated, held, of, low, high } = calibration;
  if (Math.abs(held / of - stated) < NEAR_ENOUGH) return false;
  if (!what.includes('without any reading')) return low > stated || high < stated;
  const heldOut = isHeldOut(calibration);
  const tires = new Set(checks.readings.flatMap((each) => (each.heldOut === heldOut ? [each.tire] : [])))
    .size;
  // Twice the standard error of a share of so many tires.
  return Math.abs(held / of - stated) > 2 * Math.sqrt((stated * (1 - stated)) / Math.max(1, tires));
}

/** True for readings of tires that the fit never saw. */
export function isHeldOut({ what }: FitCalibration): boolean {
  return what.startsWith('held-out');
}

/** True where intervals hold less than they should. */
export function isTooSure({ stated, held, of }: FitCalibration): boolean {
  return held / of < stated;
}

/** What intervals that are off mean. */
export function offText(calibration: FitCalibration): string {
  return isTooSure(calibration)
    ? `Too sure of itself: ${calibrationText(calibration)}. Ranges below are too narrow; something matters that the model or ` +
        'the stated errors leave out.'
    : `Too cautious: ${calibrationText(calibration)}. The records agree better than their stated errors; ranges may be too wide.`;
}
