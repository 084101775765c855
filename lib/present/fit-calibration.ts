/** How often the intervals of a fit hold what they should, in words. */
import type { AssumptionFit, FitCalibration } from '../calibrate/posterior-types.js';
import { withoutVacuous } from '../calibrate/telling-readings.js';
import { countedText, withCommas } from './amounts.js';
import { percentText } from './words.js';

/** Shares held that are this near to the share stated do little harm, however sure it is that they differ. Convention. */
const NEAR_ENOUGH = 0.05;
/** With fewer records intervals far too narrow would pass: convention. */
const FEW_CHECKS = 20;
/** Readings of fewer tires, foretold without their others, may go wrong together by chance. Convention. */
const FEW_TIRES = 10;

/**
 * - `holds`: the interval of the share held includes the share stated.
 * - `too few to tell`: it does too, but so few records were counted that little else could come out.
 * - `off by little`: it does not, but the share is within 5 points of that stated.
 * - `too sure`, `too cautious`: it does not hold.
 */
export type CalibrationVerdict = 'holds' | 'too few to tell' | 'off by little' | 'too sure' | 'too cautious';

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
 * Whether intervals hold what they should.
 *
 * @param calibration one check.
 */
export function calibrationVerdict({ stated, held, of, low, high }: FitCalibration): CalibrationVerdict {
  if (low <= stated && high >= stated) return of < FEW_CHECKS ? 'too few to tell' : 'holds';
  if (Math.abs(held / of - stated) < NEAR_ENOUGH) return 'off by little';
  return held / of < stated ? 'too sure' : 'too cautious';
}

/**
 * The verdict for a reader: "does not hold: too sure of itself".
 *
 * @param calibration one check.
 */
export function calibrationVerdictText(calibration: FitCalibration): string {
  const { stated } = calibration;
  switch (calibrationVerdict(calibration)) {
    case 'holds':
      return 'holds';
    case 'too few to tell':
      return 'too few to tell';
    case 'off by little':
      return `does not quite hold: off by less than 5 points from ${percentText(stated)}`;
    case 'too sure':
      return 'does not hold: too sure of itself';
    case 'too cautious':
      return 'does not hold: too cautious';
  }
}

/** True where intervals hold far more or less than they should. */
export function calibrationIsOff(calibration: FitCalibration): boolean {
  return isTooSure(calibration) || calibrationVerdict(calibration) === 'too cautious';
}

/** True for readings of tires that the fit never saw. */
export function isHeldOut({ what }: FitCalibration): boolean {
  return what.startsWith('held-out');
}

/** True where intervals hold far less than they should. */
export function isTooSure(calibration: FitCalibration): boolean {
  return calibrationVerdict(calibration) === 'too sure';
}

/** What intervals that are off mean. */
export function offText(calibration: FitCalibration, fit: AssumptionFit): string {
  const told = `${calibrationText(calibration)}${fewTiresText(calibration, fit)}`;
  return isTooSure(calibration)
    ? `Does not hold, too sure of itself: ${told}. The ranges of the fit are too narrow; something matters that the model or ` +
        'the stated errors leave out.'
    : `Does not hold, too cautious: ${told}. The records agree better than their stated errors; ranges may be too wide.`;
}

/** Readings of one tire that are foretold without its others go wrong together: few tires are few records. */
function fewTiresText(calibration: FitCalibration, { checks }: AssumptionFit): string {
  if (!calibration.what.includes('without any reading')) return '';
  const heldOut = isHeldOut(calibration);
  const counted = withoutVacuous(checks.readings).readings;
  const tires = new Set(counted.flatMap((each) => (each.heldOut === heldOut ? [each.tire] : [])));
  return tires.size < FEW_TIRES
    ? `, all of ${countedText(tires.size, 'tire')} (readings of one tire go wrong together)`
    : '';
}
