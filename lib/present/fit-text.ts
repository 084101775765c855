import type { FlownTogether } from '../calibrate/flown-together.js';
import type { AssumptionFit } from '../calibrate/posterior-types.js';
import { AUTHORITY, FITTED } from '../cautions.js';
import type { SeasonShift } from '../decide/season-shift-types.js';
import { version } from '../version.js';
import { fitFindings } from './fit-findings.js';
import { assumptionBlocks, checkBlock, convergenceText, nextBlock } from './fit-table.js';
import { seasonShiftBlocks } from './season-shift-table.js';
import { seasonAnswers } from './season-shift-words.js';
import { TABLE_WIDTH } from './table.js';
import { printable, wrap } from './words.js';

/** Said before the season of a fit that is in doubt. */
export const DOUBTED_SEASON =
  'With these doubts, take what follows on the season as a question, not as an answer.';

/** How to read a fit. */
export const FIT_LEGEND: readonly string[] = [
  'Assumed: what the scenario held; fitted: after the records. Middle, and in brackets the range that holds it in 8 of 10 cases.',
  'Spread left: spread of the fitted number over that assumed. Learned: at most half is left; barely learned: at most nine ' +
    'tenths; not identified: more. More than 100 % would be noise of the draws and is shown as 100 %.',
  'Moved: the middle shifted by at least the standard deviation that the scenario held. Moved, not narrowed: no longer what was ' +
    'assumed, and no better known; the records pull it, perhaps because the model lacks something.',
  'Counted: as cuts, those through the rubber or from the stated depth on, and ends by a cut that the table of cuts does not ' +
    'hold; as pressure checks, those that follow an earlier check of the same tire that states what it was set to, as only they ' +
    'tell of a loss; as lives, tires that came off or are still on.',
];

/** How to read a season before and after. */
export const SEASON_LEGEND =
  'Season: the same landings with assumed and with fitted numbers. Life: flight hours until the first main tire comes off. ' +
  'Ignorance: spread of the mean life that is due to the assumptions. Mean life counts up to the horizon; its interval is the error of the simulation.';

/**
 * A season under assumed and fitted numbers as text of at most 100 columns: what changes, then a table for each mix.
 *
 * @param shift from `seasonShift`.
 * @returns text ending without a line end.
 */
export function seasonShiftText(shift: SeasonShift): string {
  const paragraph = (text: string): string => wrap(printable(text), TABLE_WIDTH, '  ');
  return [
    seasonAnswers(shift).map(paragraph).join('\n'),
    ...seasonShiftBlocks(shift),
    paragraph(SEASON_LEGEND),
    paragraph(`Caution: ${AUTHORITY.message}`),
  ].join('\n\n');
}

/**
 * A fit as text of at most 100 columns: the answer in plain words, then the assumptions before and after, the season
 * before and after, the checks, and what to read next.
 *
 * @param fit from `fitAssumptions`.
 * @param shift from `seasonShift`; null if the season was left out.
 * @param seasonLeftOut why, in a sentence.
 * @param isFlown which set-ups flew on which strips, from `flownTogether`: what was never flown is not proposed at the top
 *   and marked below.
 * @returns text ending without a line end.
 */
export function fitText(
  fit: AssumptionFit,
  shift: SeasonShift | null,
  seasonLeftOut = 'The season was left out.',
  isFlown?: FlownTogether,
): string {
  const paragraph = (text: string): string => wrap(printable(text), TABLE_WIDTH, '  ');
  const { headline, moved, confirmed, unknown, doubts, notes, checks, next } = fitFindings(fit, isFlown);
  const season = shift === null ? [seasonLeftOut] : seasonAnswers(shift);
  const listed = (lead: string, items: readonly string[]): string[] =>
    items.length === 0 ? [] : [lead, ...items.map((item) => `- ${item}`)];
  const answers = [
    headline,
    ...doubts,
    ...listed('Moved furthest from what was assumed:', moved),
    confirmed,
    unknown,
    // All checks stand below; here only the most telling one.
    ...checks.slice(0, 1),
    ...notes,
    ...(doubts.length > 0 && shift !== null ? [DOUBTED_SEASON] : []),
    ...season,
    ...listed(
      'Read next, by what narrows the assumptions most (spread left of that assumed, now and then):',
      next,
    ),
  ].filter((text) => text !== '');
  const origin = `${fit.scenario}; ${fit.source}; seed ${fit.seed}, ${
    shift === null ? '' : `season of ${shift.trials} trials, `
  }gravelbar ${version()}`;
  return [
    answers.map(paragraph).join('\n'),
    paragraph(origin),
    ...assumptionBlocks(fit),
    ...(shift === null ? [] : seasonShiftBlocks(shift)),
    checkBlock(fit),
    ...nextBlock(fit, isFlown),
    paragraph(convergenceText(fit)),
    ...(fit.remarks.length === 0
      ? []
      : [fit.remarks.map((text) => paragraph(`Remark: ${text}.`)).join('\n')]),
    [...FIT_LEGEND, ...(shift === null ? [] : [SEASON_LEGEND])].map(paragraph).join('\n'),
    [FITTED, AUTHORITY].map(({ message }) => paragraph(`Caution: ${message}`)).join('\n'),
  ].join('\n\n');
}
