/** What a fit says, in sentences for text and page. */
import { agreeBetterText } from '../calibrate/check-fit.js';
import {
  fittedName,
  fittedRangeText,
  fittedSpanText,
  fittedValueText,
  isOfRecords,
} from '../calibrate/fit-names.js';
import type {
  AssumptionFit,
  FittedAssumption,
  LearningVerdict,
  NextReading,
} from '../calibrate/posterior-types.js';
import { countedText } from './amounts.js';
import { calibrationIsOff, calibrationText, isHeldOut, isTooSure, offText } from './fit-calibration.js';
import { listText } from './lists.js';
import { percentText } from './words.js';

/** The middle moved by at least this many standard deviations of what the scenario held: convention. */
const MOVED_SCORE = 0.5;
/** Scores beyond this were held for implausible by the scenario: as in the conflicts of a fit. */
const IMPLAUSIBLE_SCORE = 2.5;
/** Fewer readings than this are few: a verdict may then rest on two or three tires. Convention. */
const FEW_READINGS = 30;
const FEW_TIRES = 5;
const NAMED_MOVES = 6;
const NAMED_UNKNOWN = 5;
const NEXT_TOLD = 3;
/** Further records are worth naming where they narrow a number by at least this share. Convention. */
const WORTH_NARROWING = 0.1;

/** Conflicts that make nothing look surer than it is. */
const MILD: readonly string[] = [agreeBetterText('groove readings'), agreeBetterText('pressure readings')];

/** What a fit says, a paragraph each. */
export interface FitFindings {
  /** How much was learned. */
  readonly headline: string;
  /** What moved, one assumption each, furthest first. */
  readonly moved: readonly string[];
  /** Learned without moving; empty if none was. */
  readonly confirmed: string;
  /** What the records do not tell. */
  readonly unknown: string;
  /** Why the fit is not to be trusted, or less so: conflicts, intervals that are off, few records. */
  readonly doubts: readonly string[];
  /** What makes it more cautious than it need be. */
  readonly notes: readonly string[];
  /** That the checks are passed, where they are. */
  readonly checks: readonly string[];
  /** What to read next. */
  readonly next: readonly string[];
}

/**
 * What a fit says in plain words.
 *
 * @param fit from `fitAssumptions`.
 */
export function fitFindings(fit: AssumptionFit): FitFindings {
  const own = fit.assumptions.filter(({ path }) => !isOfRecords(path));
  const moved = own
    .filter(({ verdict, scoreMean }) => verdict !== 'not identified' && Math.abs(scoreMean) >= MOVED_SCORE)
    .sort((one, other) => Math.abs(other.scoreMean) - Math.abs(one.scoreMean));
  const confirmed = own
    .filter((each) => each.verdict === 'learned' && !moved.includes(each))
    .map(({ path }) => fittedName(path));
  const off = fit.checks.calibration.filter((each) => calibrationIsOff(each, fit));
  return {
    headline: headlineOf(fit, own),
    moved: moved.slice(0, NAMED_MOVES).map((each) => movedText(each, fit)),
    confirmed:
      confirmed.length === 0
        ? ''
        : `Learned, and about where ${confirmed.length === 1 ? 'it was' : 'they were'} assumed: ${listText(confirmed)}.`,
    unknown: unknownText(own, fit.untouched),
    doubts: [
      ...fit.checks.conflicts
        .filter((conflict) => !MILD.includes(conflict))
        .map((conflict) => `Records against scenario: ${conflict}`),
      ...off.filter(isTooSure).map(offText),
      ...fewText(fit),
    ],
    notes: [
      ...fit.checks.conflicts.filter((conflict) => MILD.includes(conflict)),
      ...off.filter((each) => !isTooSure(each)).map(offText),
    ],
    checks: fit.checks.calibration
      .filter((each) => !off.includes(each))
      // What the fit never saw tells most.
      .sort((one, other) => Number(isHeldOut(other)) - Number(isHeldOut(one)))
      .map((each) => `Check: ${calibrationText(each)}.`),
    next: fit.nextReadings.length === 0 ? [] : tellingReadings(fit.nextReadings).map(nextText),
  };
}

/** Number of assumptions of the scenario by verdict. */
export function countVerdicts(own: readonly FittedAssumption[]): Readonly<Record<LearningVerdict, number>> {
  const count = (word: LearningVerdict): number => own.filter(({ verdict }) => verdict === word).length;
  return {
    learned: count('learned'),
    'barely learned': count('barely learned'),
    'not identified': count('not identified'),
  };
}

/**
 * What of the records was used: "1,000 tread readings, 36 cuts, 708 pressure checks and the lives of 63 tires".
 *
 * @param used counts of a fit.
 */
export function usedText({ readings, cuts, pressureChecks, ends }: AssumptionFit['used']): string {
  return listText([
    countedText(readings, 'tread reading'),
    countedText(cuts, 'cut'),
    countedText(pressureChecks, 'pressure check'),
    `the lives of ${countedText(ends, 'tire')}`,
  ]);
}

function headlineOf({ used, untouched, logbook }: AssumptionFit, own: readonly FittedAssumption[]): string {
  const counts = countVerdicts(own);
  const all = own.length + untouched.length;
  const from = `From ${usedText(used)} of "${logbook.name}"`;
  if (own.length === 0)
    return `${from} nothing is learned: they bear on none of the ${all} assumptions in doubt.`;
  const { learned, 'barely learned': barely, 'not identified': vague } = counts;
  const kept = vague + untouched.length;
  return (
    `${from}: ${learned === 0 ? 'none' : learned} of the ${all} assumptions in doubt ${learned === 1 ? 'is' : 'are'} learned, ` +
    `${barely === 0 ? 'none' : barely} barely learned; ${kept} stay${kept === 1 ? 's' : ''} about as assumed ` +
    `(${vague} not identified, ${untouched.length} that no record bears on).`
  );
}

/** An assumption before and after: "abradability: 0.096 (0.093 to 0.098) mm3/J, assumed 0.1 (0.067 to 0.15) mm3/J". */
function movedText(assumption: FittedAssumption, { probabilities }: AssumptionFit): string {
  const { path, verdict, scoreMean } = assumption;
  const { before, after } = rangeTexts(assumption, probabilities);
  const barely = verdict === 'barely learned' ? '; barely learned' : '';
  const far =
    Math.abs(scoreMean) >= IMPLAUSIBLE_SCORE
      ? '; the scenario held that for implausible: look why before you use it'
      : '';
  return `${fittedName(path)}: ${after}, assumed ${before}${barely}${far}`;
}

/** Middle and 8-of-10 range of an assumption before and after the records. */
export function rangeTexts(
  { path, quantiles, priorMedian, median }: FittedAssumption,
  probabilities: readonly number[],
): { readonly before: string; readonly after: string } {
  const [low, high] = [probabilities.indexOf(0.1), probabilities.indexOf(0.9)];
  const text = (middle: number, values: readonly number[]): string =>
    fittedRangeText(path, middle, values[low]!, values[high]!);
  return { before: text(priorMedian, quantiles.prior), after: text(median, quantiles.posterior) };
}

/** The same as middles and ranges apart, for tables with room for two lines. */
export function rangeParts(
  { path, quantiles, priorMedian, median }: FittedAssumption,
  probabilities: readonly number[],
): Readonly<Record<'before' | 'after', { readonly middle: string; readonly range: string }>> {
  const [low, high] = [probabilities.indexOf(0.1), probabilities.indexOf(0.9)];
  const parts = (middle: number, values: readonly number[]): { middle: string; range: string } => ({
    middle: fittedValueText(path, middle),
    range: fittedSpanText(path, values[low]!, values[high]!),
  });
  return { before: parts(priorMedian, quantiles.prior), after: parts(median, quantiles.posterior) };
}

function unknownText(own: readonly FittedAssumption[], untouched: readonly string[]): string {
  const vague = own.filter(({ verdict }) => verdict === 'not identified').map(({ path }) => path);
  if (vague.length + untouched.length === 0) return '';
  const named = (paths: readonly string[]): string => {
    const told = paths.slice(0, NAMED_UNKNOWN).map(fittedName);
    const more = paths.length - told.length;
    return listText(more > 0 ? [...told, `${more} more`] : told);
  };
  const parts = [
    ...(vague.length === 0 ? [] : [`not identified: ${named(vague)}`]),
    ...(untouched.length === 0 ? [] : [`no record bears on ${named(untouched)}`]),
  ];
  return `The records cannot tell everything. ${parts.map(startWithCapital).join('. ')}. These are still assumptions.`;
}

function startWithCapital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function fewText({ used, checks }: AssumptionFit): string[] {
  const tires = new Set(checks.readings.flatMap(({ tire, heldOut }) => (heldOut ? [] : [tire]))).size;
  if (used.readings >= FEW_READINGS && tires >= FEW_TIRES) return [];
  return [
    `Few records: ${countedText(used.readings, 'tread reading')} of ${countedText(tires, 'tire')}. What seems learned may be the ` +
      `luck of a few tires${used.readings < FEW_READINGS ? ', and the checks below can hardly fail' : ''}: take the fit as a first ` +
      'look and read more tires.',
  ];
}

/**
 * The most telling further records, of which each narrows an assumption that those before it do not.
 *
 * @param all further records, the most telling first.
 */
export function tellingReadings(all: readonly NextReading[]): NextReading[] {
  const named = new Set<string>();
  const telling = all.filter(({ narrows }) => {
    const fresh = narrows.filter(
      ({ path, now, then }) => !named.has(path) && then <= (1 - WORTH_NARROWING) * now,
    );
    for (const { path } of fresh) named.add(path);
    return fresh.length > 0;
  });
  return (telling.length > 0 ? telling : [...all]).slice(0, NEXT_TOLD);
}

/**
 * What to read next and what it would narrow: spreads in shares of those that the scenario held.
 *
 * @param reading one kind of further records.
 */
export function nextText({ what, narrows }: NextReading): string {
  const told = narrows
    .slice(0, 2)
    .map(({ path, now, then }) => `${fittedName(path)} from ${percentText(now)} to ${percentText(then)}`);
  return told.length === 0
    ? `${what}: narrows no single assumption by much`
    : `${what}: narrows ${listText(told)}`;
}
