import type { BestSetup, SetupStanding } from '../decide/best-types.js';
import type { MixComparison } from '../decide/compare.js';
import type { Criterion } from '../decide/criteria.js';
import type { PairingMoney } from '../decide/money.js';
import { amountText, quantileText, roundedSpan, roundedText } from './amounts.js';
import { askedCriteria, bestBy, byRank, compareAnswer, CRITERION_WORDS } from './compare-words.js';
import { decisionText } from './decision-text.js';
import type { CompareAnswer } from './decision-types.js';
import { grid, type GridColumn } from './grid.js';
import { TABLE_WIDTH } from './table.js';
import { figureText, percentText, printable, wrap } from './words.js';

/**
 * Set-ups against each other as text of at most 100 columns: the answer for each mix, then a table for each criterion.
 *
 * @param answer of `gravelbar compare`.
 * @returns text ending without a line end.
 */
export function compareTable(answer: CompareAnswer): string {
  const { comparisons, money } = answer;
  const criteria = askedCriteria(comparisons);
  return decisionText(answer, {
    answers: comparisons.map(compareAnswer),
    blocks: comparisons.flatMap((comparison) => [
      ...criteria.map((criterion) => criterionBlock(comparison, criterion)),
      ...(criteria.includes('costPerHour') ? moneyBlock(comparison, money) : []),
    ]),
    legend: [
      'Behind the best: paired difference on the same landings in the same worlds, with its 95 % interval (simulation error).',
      'Best: on average, the chance that its mean is the best given the trials; in worlds, the share of the worlds assumed ' +
        'in which it is best on average (ignorance); in trials, the share in which it came out best (luck too).',
      'Regret: what is lost on average by choosing it before the world is known; measuring lowers it.',
    ],
    cautions: [],
  });
}

function criterionBlock(comparison: MixComparison, criterion: Criterion): string {
  const best = bestBy(comparison, criterion);
  const { title, figure } = CRITERION_WORDS[criterion];
  const paragraph = (text: string): string => wrap(printable(text), TABLE_WIDTH, '  ');
  const heading = paragraph(`${comparison.mix}, ${title}`);
  if (best?.priced !== true)
    return `${heading}\n\n${paragraph(`Not checked: ${best?.needs ?? 'not asked for'}.`)}`;
  const columns: GridColumn[] = [
    { title: ['set-up'], align: 'left', width: 21, wraps: true },
    { title: [...figure, unitText(best)], align: 'right', width: 12 },
    { title: ['behind the best', '(95 %)'], align: 'right', width: 27, wraps: true },
    { title: ['best on', 'average'], align: 'right', width: 7 },
    { title: ['in', 'worlds'], align: 'right', width: 7 },
    { title: ['in', 'trials'], align: 'right', width: 7 },
    { title: ['regret'], align: 'right', width: 7 },
  ];
  return [heading, '', grid(columns, byRank(best).map(standingRow)), paragraph(best.verdict.text)].join('\n');
}

/** Unit of a column, where its title does not say it. */
function unitText({ unit, criterion }: BestSetup): string {
  return criterion === 'life'
    ? unit
    : criterion === 'costPerHour'
      ? unit.replace(' per flight hour', '')
      : '';
}

function standingRow(standing: SetupStanding): string[] {
  const { setup, mean, behindBest, chanceBestOnAverage, shareOfWorldsBest, shareOfTrialsBest, regret } =
    standing;
  return [
    setup,
    roundedText(mean.estimate, mean.standardError),
    behindBest === null
      ? 'best'
      : `${roundedText(behindBest.estimate, behindBest.standardError)} (${roundedSpan(behindBest)})`,
    percentText(chanceBestOnAverage),
    shareOfWorldsBest === null ? '?' : percentText(shareOfWorldsBest.estimate),
    percentText(shareOfTrialsBest.estimate),
    regret.ignorance === null ? '?' : figureText(regret.ignorance.estimate),
  ];
}

/** Money of a season as a distribution, a row for each set-up. */
function moneyBlock({ mix }: MixComparison, money: CompareAnswer['money']): string[] {
  const own = money.filter((each): each is PairingMoney => each.priced && each.mix === mix);
  if (own.length === 0) return [];
  const columns: GridColumn[] = [
    { title: [`${own[0]!.currency} a season`, 'set-up'], align: 'left', width: 22, wraps: true },
    { title: ['expected', '(95 %)'], align: 'right', width: 25 },
    { title: ['half', 'below'], align: 'right', width: 9 },
    { title: ['9 in 10', 'below'], align: 'right', width: 9 },
    { title: ['worst', 'tenth'], align: 'right', width: 9 },
    { title: ['mostly'], align: 'left', width: 14 },
  ];
  const rows = own.map(({ setup, perSeason, parts }) => {
    const { mean, p50, p90, worstTenth } = perSeason;
    const [name, part] = Object.entries(parts).reduce((a, b) =>
      b[1].share.estimate > a[1].share.estimate ? b : a,
    );
    return [
      setup,
      `${roundedText(mean.estimate, mean.standardError)} (${roundedSpan(mean)})`,
      quantileText(p50),
      quantileText(p90),
      roundedText(worstTenth.estimate, worstTenth.standardError),
      part.share.estimate === 0 ? amountText(0) : `${name} ${percentText(part.share.estimate)}`,
    ];
  });
  return [grid(columns, rows)];
}
