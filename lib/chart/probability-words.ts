import { fittedQuantile } from '../estimate/life-forecast.js';
import type { LifeFit } from '../estimate/life-fit.js';
import { withCommas } from '../present/amounts.js';
import { counted } from './measures.js';

/** Laws by name. */
export const LAW_NAMES = { weibull: 'Weibull', lognormal: 'lognormal' } as const;

/** A unit as it stands behind a number. */
export function unitText(unit: string): string {
  return unit === 'flight hours' ? 'h' : unit;
}

/** The median life with its interval, or that there is none. */
export function lifeFinding(fit: LifeFit, unit: string): string {
  if (fit.parameters === null) return `The lives do not tell a ${LAW_NAMES[fit.law]} law`;
  const { estimate, lower, upper } = fittedQuantile(fit, 0.5);
  const interval =
    lower === null || upper === null
      ? `${lower === null ? 'no bound below' : `at least ${twoFigures(lower)}`}${upper === null ? ', no bound above' : ` to ${twoFigures(upper)}`}`
      : `${twoFigures(lower)} to ${twoFigures(upper)}`;
  return `Half last longer than ${twoFigures(estimate)} (${interval}) ${unitText(unit)}`;
}

/** A time with two figures: few lives tell no more, and the ends of a lopsided interval need as many as its middle. */
function twoFigures(time: number): string {
  const value = Number(time.toPrecision(2));
  return value < 10 ? String(value) : withCommas(value.toFixed(0));
}

/**
 * What the lives tell and do not tell, in sentences.
 *
 * @param fit the law.
 * @param points of the plot.
 * @param inside how many of them lie in its band; null without parameters.
 */
export function lifeVerdict(fit: LifeFit, points: number, inside: number | null): string[] {
  const { verdict, parameters, law } = fit;
  const reasons = verdict.reasons.join('; ');
  const sentences = [
    verdict.kind === 'identified'
      ? 'The lives tell both the typical life and the spread.'
      : `${verdict.kind === 'not identified' ? 'Not identified' : 'Barely identified'}: ${reasons}.`,
  ];
  if (parameters === null) return sentences;
  if (law === 'weibull') sentences.push(`${shapeWords(parameters.shape)}.`);
  sentences.push(`${inside!} of ${counted(points, 'point')} lie within the band.`);
  return sentences;
}

/** What the shape of a Weibull law says, no more than its interval allows. */
function shapeWords({
  estimate,
  lower,
  upper,
}: {
  estimate: number;
  lower: number | null;
  upper: number | null;
}): string {
  const shape = `shape ${estimate.toFixed(2)}${lower === null || upper === null ? '' : ` (${lower.toFixed(2)} to ${upper.toFixed(2)})`}`;
  if (lower !== null && lower > 1)
    return `They wear out: the longer in service, the likelier to end (${shape})`;
  if (upper !== null && upper < 1)
    return `Early failures: the longer in service, the less likely to end (${shape})`;
  return `Whether they wear out or fail by chance alone is open (${shape})`;
}
