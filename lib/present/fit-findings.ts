/** What a fit says, in sentences for text and page. */
import { capitalized } from './words.js';
import { agreeBetterText } from '../calibrate/check-fit.js';
import {
  fittedName,
  fittedRangeText,
  fittedSpanText,
  fittedValueText,
  isOfRecords,
} from '../calibrate/fit-names.js';
import type { FlownTogether } from '../calibrate/flown-together.js';
import type { AssumptionFit, FittedAssumption } from '../calibrate/posterior-types.js';
import {
  countStandings,
  errorSizesText,
  hasMoved,
  IMPLAUSIBLE_SCORE,
  standingOf,
} from '../calibrate/standing.js';
import { countedText } from './amounts.js';
import {
  calibrationIsOff,
  calibrationText,
  calibrationVerdictText,
  isHeldOut,
  isTooSure,
  offText,
} from './fit-calibration.js';
import { nextText, tellingReadings } from './fit-next.js';
import { listText } from './lists.js';

/** Of numbers that are narrowed, a move of so many standard deviations of what the scenario held is told. Convention. */
const TOLD_SCORE = 0.5;
/** Fewer readings than this are few: a verdict may then rest on two or three tires. Convention. */
const FEW_READINGS = 30;
const FEW_TIRES = 5;
const NAMED_MOVES = 6;
const NAMED_UNKNOWN = 5;

/** Conflicts that make nothing look surer than it is. */
const MILD: readonly string[] = [agreeBetterText('groove readings'), agreeBetterText('pressure readings')];

/** What a fit says, a paragraph each. */
export interface FitFindings {
  /** How much was learned. */
  readonly headline: string;
  /** What moved, one assumption each, furthest first, narrowed or not. */
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
 * @param isFlown which set-ups flew on which strips in the records, for what to read next.
 */
export function fitFindings(fit: AssumptionFit, isFlown?: FlownTogether): FitFindings {
  const own = fit.assumptions.filter(({ path }) => !isOfRecords(path));
  const moved = own
    .filter(
      (each) =>
        hasMoved(each) || (each.verdict !== 'not identified' && Math.abs(each.scoreMean) >= TOLD_SCORE),
    )
    .sort((one, other) => Math.abs(other.scoreMean) - Math.abs(one.scoreMean));
  const confirmed = own
    .filter((each) => each.verdict === 'learned' && !moved.includes(each))
    .map(({ path }) => fittedName(path));
  const off = fit.checks.calibration.filter(calibrationIsOff);
  return {
    headline: headlineOf(fit),
    moved: [
      ...moved.slice(0, NAMED_MOVES).map((each) => movedText(each, fit)),
      ...furtherMoves(moved.slice(NAMED_MOVES)),
    ],
    confirmed:
      confirmed.length === 0
        ? ''
        : `Learned, and about where ${confirmed.length === 1 ? 'it was' : 'they were'} assumed: ${listText(confirmed)}.`,
    unknown: unknownText(own, fit.untouched),
    doubts: [
      ...farText(own),
      ...fit.checks.conflicts
        .filter((conflict) => !MILD.includes(conflict) && !isOfOneNumber(conflict, own))
        .map((conflict) => `Records against scenario: ${conflict}`),
      ...off.filter(isTooSure).map((each) => offText(each, fit)),
      ...fewText(fit),
    ],
    notes: [
      ...fit.checks.conflicts.filter((conflict) => MILD.includes(conflict)),
      ...off.filter((each) => !isTooSure(each)).map((each) => offText(each, fit)),
    ],
    checks: fit.checks.calibration
      .filter((each) => !off.includes(each))
      // What the fit never saw tells most.
      .sort((one, other) => Number(isHeldOut(other)) - Number(isHeldOut(one)))
      .map((each) => `Check: ${calibrationText(each)}: ${calibrationVerdictText(each)}.`),
    next:
      fit.nextReadings.length === 0
        ? []
        : tellingReadings(fit.nextReadings, isFlown).map((each) => nextText(each, isFlown)),
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

function headlineOf({ used, untouched, logbook, assumptions }: AssumptionFit): string {
  const { byStanding, assumptions: touched, ofRecords } = countStandings(assumptions);
  const all = touched + untouched.length;
  const from = `From ${usedText(used)} of "${logbook.name}"`;
  const errors = ofRecords === 0 ? '' : ` Counted apart: ${errorSizesText(ofRecords)}.`;
  if (touched === 0)
    return `${from} nothing is learned: they bear on none of the ${all} assumptions in doubt.${errors}`;
  const {
    learned,
    'barely learned': barely,
    'moved, not narrowed': pulled,
    'not identified': vague,
  } = byStanding;
  const kept = vague + untouched.length;
  return (
    `${from}: ${learned === 0 ? 'none' : learned} of the ${all} assumptions in doubt ${learned === 1 ? 'is' : 'are'} learned, ` +
    `${barely === 0 ? 'none' : barely} barely learned${pulled === 0 ? '' : `, ${pulled} moved but not narrowed`}; ` +
    `${kept} stay${kept === 1 ? 's' : ''} about as assumed ` +
    `(${vague} not identified, ${untouched.length} that no record bears on).${errors}`
  );
}

/** Numbers that the records want where the scenario held them for implausible, in one sentence. */
function farText(own: readonly FittedAssumption[]): string[] {
  const far = own.filter(isFar);
  if (far.length === 0) return [];
  const named = far.map(
    ({ path, scoreMean }) => `${fittedName(path)} (far ${scoreMean > 0 ? 'above' : 'below'})`,
  );
  return [
    `Records against scenario: the records want ${far.length === 1 ? 'a number' : `${far.length} numbers`} beyond what the scenario ` +
      `holds for plausible: ${listText(named)}. Look at the records, at what else could explain them, and at the ` +
      `${far.length === 1 ? 'range' : 'ranges'} in the scenario.`,
  ];
}

function isFar({ scoreMean }: FittedAssumption): boolean {
  return Math.abs(scoreMean) >= IMPLAUSIBLE_SCORE;
}

/** True for the conflict of one number, which {@link farText} tells with the others. */
function isOfOneNumber(conflict: string, own: readonly FittedAssumption[]): boolean {
  return own.some(
    (each) => isFar(each) && conflict.startsWith(`The records want ${fittedName(each.path)} far `),
  );
}

/** Moves that are not named, where they are large. */
function furtherMoves(rest: readonly FittedAssumption[]): string[] {
  const far = rest.filter(hasMoved).length;
  if (far === 0) return [];
  return [`${far} more by at least the spread that the scenario held: see the table`];
}

/** An assumption before and after: "abradability: 0.096 (0.093 to 0.098) mm3/J, assumed 0.1 (0.067 to 0.15) mm3/J". */
function movedText(assumption: FittedAssumption, { probabilities }: AssumptionFit): string {
  const { before, after } = rangeTexts(assumption, probabilities);
  const standing = standingOf(assumption);
  const how = {
    learned: '',
    'barely learned': '; barely learned',
    'moved, not narrowed':
      '; moved, not narrowed: the records pull it, perhaps because the model lacks something',
    'not identified': '',
  }[standing];
  const far = isFar(assumption) ? '; the scenario held that for implausible: look why before you use it' : '';
  return `${fittedName(assumption.path)}: ${after}, assumed ${before}${how}${far}`;
}

/** Something of an assumption before and after the records, from its middle and its 8-of-10 range. */
function beforeAndAfter<Told>(
  { quantiles, priorMedian, median }: FittedAssumption,
  probabilities: readonly number[],
  tell: (middle: number, low: number, high: number) => Told,
): Readonly<Record<'before' | 'after', Told>> {
  const [low, high] = [probabilities.indexOf(0.1), probabilities.indexOf(0.9)];
  const told = (middle: number, values: readonly number[]): Told => tell(middle, values[low]!, values[high]!);
  return { before: told(priorMedian, quantiles.prior), after: told(median, quantiles.posterior) };
}

/** Middle and 8-of-10 range of an assumption before and after the records. */
export function rangeTexts(
  assumption: FittedAssumption,
  probabilities: readonly number[],
): Readonly<Record<'before' | 'after', string>> {
  return beforeAndAfter(assumption, probabilities, (middle, low, high) =>
    fittedRangeText(assumption.path, middle, low, high),
  );
}

/** The same as middles and ranges apart, for tables with room for two lines. */
export function rangeParts(
  assumption: FittedAssumption,
  probabilities: readonly number[],
): Readonly<Record<'before' | 'after', { readonly middle: string; readonly range: string }>> {
  return beforeAndAfter(assumption, probabilities, (middle, low, high) => ({
    middle: fittedValueText(assumption.path, middle),
    range: fittedSpanText(assumption.path, low, high),
  }));
}

function unknownText(own: readonly FittedAssumption[], untouched: readonly string[]): string {
  const vague = own.filter((each) => standingOf(each) === 'not identified').map(({ path }) => path);
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
  return `The records cannot tell everything. ${parts.map(capitalized).join('. ')}. These are still assumptions.`;
}

function fewText({ used, checks }: AssumptionFit): string[] {
  const tires = new Set(checks.readings.flatMap(({ tire, heldOut }) => (heldOut ? [] : [tire]))).size;
  if (used.readings >= FEW_READINGS && tires >= FEW_TIRES) return [];
  return [
    `Few records: ${countedText(used.readings, 'tread reading')} of ${countedText(tires, 'tire')}. What seems learned may be the ` +
      `luck of a few tires${used.readings < FEW_READINGS ? ', and the checks of the fit can hardly fail' : ''}: take the fit as a first ` +
      'look and read more tires.',
  ];
}
