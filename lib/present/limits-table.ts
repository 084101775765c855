import type { LimitCheck, SetupLimits } from '../decide/limit-types.js';
import { decisionText } from './decision-text.js';
import { limitSources } from './limit-sources.js';
import type { LimitsAnswer } from './decision-types.js';
import { grid, type GridColumn } from './grid.js';
import {
  byUrgency,
  checkName,
  figureAmount,
  laterBeyond,
  limitAmount,
  limitsAnswers,
  marginShare,
  statusWords,
} from './limit-words.js';
import { TABLE_WIDTH } from './table.js';
import { percentText, printable, wrap } from './words.js';

const COLUMNS: readonly GridColumn[] = [
  { title: ['check'], align: 'left', width: 29, wraps: true },
  { title: ['value'], align: 'right', width: 9 },
  { title: ['limit'], align: 'right', width: 17 },
  { title: ['margin'], align: 'right', width: 10 },
  { title: ['of', 'limit'], align: 'right', width: 6 },
  { title: ['worlds', 'beyond'], align: 'right', width: 7 },
  { title: ['says'], align: 'left', width: 10 },
];

const FIGURES: readonly GridColumn[] = [
  { title: ['without a limit, to compare'], align: 'left', width: 74, wraps: true },
  { title: ['value'], align: 'right', width: 12 },
];

/** What low pressure does, one thing after the other: they begin at pressures of their own. */
const LOW_PRESSURE =
  'Low pressure shows in three limits, each with a pressure of its own: load at pressure (what the tire may carry at it), ' +
  'deflection at rest (how near it sinks to its rim), bead slip (full braking turns it on its rim). Two more have none here: a ' +
  'pinch on the rim by a rock edge is a chance at any pressure, and a tire that looks low before flight is a matter of habits.';

/**
 * The limits of set-ups as text of at most 100 columns: the answer for each, then every check, the most urgent first.
 *
 * @param answer of `gravelbar limits`.
 * @returns text ending without a line end.
 */
export function limitsTable(answer: LimitsAnswer): string {
  const { setups } = answer;
  return decisionText(answer, {
    answers: setups.flatMap((limits) =>
      limitsAnswers(limits).map((sentence, index) => (index === 0 ? sentence : `- ${sentence}`)),
    ),
    blocks: setups.map(setupBlock),
    legend: [
      'Values at the medians of all assumptions and the cold setting. Of limit: margin as a share of it. Worlds beyond: ' +
        'share of worlds in which the value is beyond its limit, as we do not know the airplane and the ground better.',
      LOW_PRESSURE,
      'Beyond *: a limit of conditions that come and go (flooded runway, soft ground, pushing alone); weigh it. What is not ' +
        'known is not checked, and never within.',
      `Pressures of the season: the extremes of one season in ten, of those on ${answer.mixes.join(', ')}.`,
      'Sources:',
      ...limitSources(setups),
    ],
    cautions: unique(setups.flatMap(({ cautions }) => cautions)).filter(
      // Said in the answer of each set-up already.
      ({ code }) => code !== 'beyond in the season',
    ),
  });
}

function unique<Item extends { readonly message: string }>(items: readonly Item[]): Item[] {
  return items.filter((item, index) => items.findIndex(({ message }) => message === item.message) === index);
}

function setupBlock(limits: SetupLimits): string {
  const { setup, mainTire, thirdTire, mainColdPa, thirdColdPa, checks, figures } = limits;
  const cold = `main ${mainTire} at ${limitAmount(mainColdPa, 'Pa')}, third wheel ${thirdTire} at ${limitAmount(thirdColdPa, 'Pa')}`;
  return [
    wrap(printable(`${setup}: ${cold}`), TABLE_WIDTH, '  '),
    '',
    grid(COLUMNS, byUrgency(checks).map(checkRow)),
    ...laterBeyond(limits).map(laterText),
    ...checks.filter(({ needs }) => needs.length > 0).map(needsText),
    ...(figures.length === 0
      ? []
      : [
          '',
          grid(
            FIGURES,
            figures.map((figure) => [figure.title, figureAmount(figure)]),
          ),
        ]),
  ].join('\n');
}

function checkRow(check: LimitCheck): string[] {
  const { value, limit, bound, unit, margin, worlds } = check;
  const share = marginShare(check);
  return [
    checkName(check),
    value === null ? '-' : limitAmount(value, unit),
    limit === null ? '-' : `${bound} ${limitAmount(limit, unit)}`,
    margin === null ? '-' : limitAmount(margin, unit),
    share === null ? '-' : `${Math.round(100 * share)} %`,
    worlds?.shareBeyond == null ? '-' : percentText(worlds.shareBeyond),
    statusWords(check).replace('not checked', 'not known'),
  ];
}

function laterText(check: LimitCheck): string {
  const states = check.season
    .filter(({ status }) => status === 'beyond')
    .map(
      ({ state, gaugePa, value }) =>
        `${limitAmount(value, check.unit)} when ${state} at ${limitAmount(gaugePa, 'Pa')}`,
    );
  return wrap(
    printable(`Beyond in the season: ${checkName(check)}: ${states.join('; ')}`),
    TABLE_WIDTH,
    '  ',
  );
}

function needsText(check: LimitCheck): string {
  const what = check.status === 'not checked' ? 'not checked: needs' : 'would be sharper with';
  return wrap(printable(`${checkName(check)}: ${what} ${check.needs.join(', ')}`), TABLE_WIDTH, '  ');
}
