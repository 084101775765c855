import { fittedName } from '../calibrate/fit-names.js';
import type { FlownTogether } from '../calibrate/flown-together.js';
import type { AssumptionFit, FittedAssumption } from '../calibrate/posterior-types.js';
import { standingText } from '../calibrate/standing.js';
import { vacuousText, withoutVacuous } from '../calibrate/telling-readings.js';
import { countedText, withCommas } from './amounts.js';
import { calibrationText, calibrationVerdictText } from './fit-calibration.js';
import { rangeTexts } from './fit-findings.js';
import { fitGlossary } from './fit-glossary.js';
import { leftText, NEXT_RANKING, nextText } from './fit-next.js';
import { grid, type GridColumn } from './grid.js';
import { listText } from './lists.js';
import { TABLE_WIDTH } from './table.js';
import { percentText, printable, wrap } from './words.js';

const COLUMNS: readonly GridColumn[] = [
  { title: ['assumption'], align: 'left', width: 25, wraps: true },
  { title: ['assumed', '(8 of 10)'], align: 'left', width: 22, wraps: true },
  { title: ['fitted', '(8 of 10)'], align: 'left', width: 22, wraps: true },
  { title: ['spread', 'left'], align: 'right', width: 6 },
  { title: ['verdict'], align: 'left', width: 15, wraps: true },
];

const TIRES_TOLD = 5;
const NEXT_TOLD = 6;

const paragraph = (text: string): string => wrap(printable(text), TABLE_WIDTH, '  ');

/** Assumptions before and after the records, and why some were not learned. */
export function assumptionBlocks({ assumptions, untouched, probabilities }: AssumptionFit): string[] {
  if (assumptions.length === 0) return untouchedBlock(untouched);
  const rows = assumptions.map((each) => {
    const { before, after } = rangeTexts(each, probabilities);
    return [fittedName(each.path), before, after, leftText(each.scoreDeviation), standingText(each)];
  });
  const reasons = reasonTexts(assumptions).map((each) => paragraph(`- ${each}`));
  return [
    grid(COLUMNS, rows),
    ...glossaryBlock(assumptions),
    ...(reasons.length === 0 ? [] : [['Not learned, or barely, and why', '', ...reasons].join('\n')]),
    ...untouchedBlock(untouched),
  ];
}

/** What the numbers are that were narrowed or moved. */
function glossaryBlock(assumptions: readonly FittedAssumption[]): string[] {
  const entries = fitGlossary(assumptions);
  if (entries.length === 0) return [];
  const lines = entries.map(({ name, meaning }) => paragraph(`- ${name}: ${meaning}`));
  return [['What the numbers narrowed or moved are', '', ...lines].join('\n')];
}

/** Why numbers are not learned, those with the same reason together; how far each is narrowed stands in the table. */
export function reasonTexts(assumptions: readonly FittedAssumption[]): string[] {
  const byReason = new Map<string, string[]>();
  for (const { path, verdict, reason } of assumptions) {
    if (verdict === 'learned') continue;
    const at = reason.lastIndexOf(': its spread');
    const why = at < 0 ? reason.replace(/\.$/, '') : reason.slice(0, at);
    byReason.set(why, [...(byReason.get(why) ?? []), fittedName(path)]);
  }
  return [...byReason].map(
    ([why, names]) => `${listText(names)}${names.length > 1 ? ', each' : ''}: ${why}.`,
  );
}

function untouchedBlock(untouched: readonly string[]): string[] {
  if (untouched.length === 0) return [];
  return [
    paragraph(
      `Not touched: no record bears on ${listText(untouched.map(fittedName))}. ` +
        `${untouched.length === 1 ? 'It stays' : 'They stay'} as assumed.`,
    ),
  ];
}

/** Checks of the fit against the records. */
export function checkBlock(fit: AssumptionFit): string {
  const { calibration, tires, stones, readings } = fit.checks;
  const left = vacuousText(withoutVacuous(readings).left);
  const lines = calibration.map((each) => `${calibrationText(each)}: ${calibrationVerdictText(each)}.`);
  const flagged = tires.filter((tire) => tire.flagged);
  const odd = flagged
    .slice(0, TIRES_TOLD)
    .map(
      ({ tire, readings, squaredDistance }) =>
        `${tire} does not fit: squared distance ${squaredDistance.toFixed(0)} over ${countedText(readings, 'reading')}.`,
    );
  const more = flagged.length - odd.length;
  return [
    'Checks against the records',
    '',
    ...[
      ...lines,
      ...left.map((text) => `Without any reading of the tire: ${text}`),
      ...(tires.length === 0
        ? []
        : flagged.length === 0
          ? [`None of ${countedText(tires.length, 'tire')} read stands out.`]
          : [...odd, ...(more > 0 ? [`${countedText(more, 'more tire')} likewise.`] : [])]),
      `Punctures counted ${stones.punctures}, expected ${stones.expectedPunctures.toFixed(1)}; cuts counted ${stones.cuts}, ` +
        `expected ${stones.expectedCuts.toFixed(1)}.`,
    ].map(paragraph),
  ].join('\n');
}

/** What to read next, the most telling first. */
export function nextBlock({ nextReadings }: AssumptionFit, isFlown?: FlownTogether): string[] {
  if (nextReadings.length === 0) return [];
  const lines = nextReadings
    .slice(0, NEXT_TOLD)
    .map((each, at) => paragraph(`${at + 1}. ${nextText(each, isFlown)}`));
  return [
    [
      'Further records, the most telling first (spread left of that assumed, now and then)',
      '',
      ...lines,
      paragraph(NEXT_RANKING),
    ].join('\n'),
  ];
}

/** How well the draws stand for what is known. */
export function convergenceText({ convergence }: AssumptionFit): string {
  const { largestRHat, smallestEffectiveSize, draws, chains, acceptedShare, evaluations } = convergence;
  if (chains === 0) return 'No draws were needed: the records bear on nothing in doubt.';
  return (
    `Convergence: ${countedText(chains, 'chain')}, ${withCommas(String(draws))} draws, worth at least ` +
    `${withCommas(String(Math.round(smallestEffectiveSize)))} independent ones for every number (their effective size: draws ` +
    `follow each other, so each tells less than a fresh one); R-hat, how far the chains still differ from each other (1: not at all), ` +
    `up to ${largestRHat.toFixed(3)} (1.02 is allowed); ${percentText(acceptedShare)} of the moves taken; likelihood worked out ` +
    `${withCommas(String(evaluations))} times.`
  );
}
