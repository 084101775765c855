import { fittedName } from './fit-names.js';
import type { LearningVerdict } from './posterior-types.js';

/** Spread of the score, over that before the records, up to which a number counts as learned, and as barely learned. */
const LEARNED = 0.5;
const BARELY = 0.9;
/** Correlations from here on are named as the reason. */
const TIED = 0.25;
const MOST_PARTNERS = 3;

/** What decides on the verdict of one number. */
export interface VerdictInput {
  readonly path: string;
  /** Standard deviation of its score, and what it would be if all others were known. */
  readonly deviation: number;
  readonly deviationAlone: number;
  /** Correlations with the others. */
  readonly ties: readonly { readonly path: string; readonly correlation: number }[];
}

/** Above all of it is the noise of the draws. */
function percent(share: number): string {
  return `${Math.min(100, Math.max(0, Math.round(100 * share)))} %`;
}

/**
 * What the records tell about a number, in a word and a sentence.
 *
 * @returns "learned" where its spread is at most half of what it was, "barely learned" up to nine tenths.
 */
export function verdictOf({ deviation, deviationAlone, ties }: VerdictInput): {
  readonly verdict: LearningVerdict;
  readonly reason: string;
} {
  const verdict: LearningVerdict =
    deviation <= LEARNED ? 'learned' : deviation <= BARELY ? 'barely learned' : 'not identified';
  const narrowed = `its spread is ${percent(deviation)} of what the scenario held`;
  if (verdict === 'learned') return { verdict, reason: `${narrowed}.` };
  const partners = [...ties]
    .filter(({ correlation }) => Math.abs(correlation) >= TIED)
    .sort((one, other) => Math.abs(other.correlation) - Math.abs(one.correlation))
    .slice(0, MOST_PARTNERS)
    .map(({ path }) => fittedName(path));
  if (deviationAlone <= LEARNED && deviationAlone < 0.7 * deviation) {
    const others = partners.length > 0 ? partners.join(', ') : 'several others';
    return {
      verdict,
      reason: `the records fix it only together with ${others}: ${narrowed}, and would be ${percent(deviationAlone)} if the others were known.`,
    };
  }
  if (deviationAlone <= BARELY) {
    return { verdict, reason: `the records that bear on it are few or coarse: ${narrowed}.` };
  }
  return { verdict, reason: `the records hardly depend on it: ${narrowed}.` };
}
