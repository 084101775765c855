/** Where a choice flips, in a sentence. */
import { assumptionName, assumptionSpanText, assumptionValueText } from '../scenario/assumption-words.js';
import type { ChoiceFlip } from './threshold-types.js';

/** "the choice flips from A to B when sharp stones on gravel exceed 0.003 /m2 (0.001 to 0.008 /m2)". */
export function flipText(path: string, flip: Omit<ChoiceFlip, 'text'>): string {
  const { below, above, valueSi, lowerSi, upperSi, probability, toldApart } = flip;
  const value = (si: number): string => assumptionValueText(path, si);
  const span =
    lowerSi !== null && upperSi !== null
      ? assumptionSpanText(path, lowerSi, upperSi)
      : `${lowerSi === null ? 'the least plausible value' : value(lowerSi)} to ${upperSi === null ? 'the greatest plausible one' : value(upperSi)}`;
  const doubt = toldApart ? '' : ' The trials do not tell the two apart on both sides: take it as a hint.';
  return (
    `The choice flips from "${below}" to "${above}" when the number for ${assumptionName(path)} exceeds ` +
    `${value(valueSi)} (${span}), which the scenario gives a chance of ` +
    `${Math.round(100 * (1 - probability))} %.${doubt}`
  );
}
