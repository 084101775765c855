import { comparisonChart } from '../chart/comparison.js';
import type { MixComparison } from '../decide/compare.js';
import { moneyOfPairings, type PairingMoney } from '../decide/money.js';
import { COST_PARTS } from '../estimate/season-figures.js';
import { amountText, quantileText, roundedSpan, roundedText } from '../present/amounts.js';
import { bestBy } from '../present/compare-words.js';
import { listText } from '../present/lists.js';
import { capitalized, percentText } from '../present/words.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import { withoutAnswer, type Chapter } from './chapter.js';
import { html, type Html } from './html.js';
import { table, type Column } from './table.js';

const HEADING = { id: 'money', title: 'Money' } as const;
/** Parts below this share of the money are not named in the answer. */
const LEAST_SHARE_NAMED = 0.1;

/**
 * The chapter on money: what a flight hour costs with each set-up, how bad a season may be, and what it is made of.
 *
 * @param compiled the scenario.
 * @param simulation its run.
 * @param comparisons of its set-ups on common landings.
 */
export function moneyChapter(
  compiled: CompiledScenario,
  simulation: Simulation,
  comparisons: readonly MixComparison[],
): Chapter {
  const money = moneyOfPairings(compiled, simulation);
  const priced = money.filter((each): each is PairingMoney => each.priced);
  if (priced.length === 0) {
    const needs = money.flatMap((each) => (each.priced ? [] : [each.needs]));
    return withoutAnswer(HEADING, `Money is ${[...new Set(needs)].join('; ')}.`);
  }
  const mixes = [...new Set(priced.map(({ mix }) => mix))];
  const ofMix = (mix: string): PairingMoney[] => byMean(priced.filter((each) => each.mix === mix));
  const on = (mix: string): string => (compiled.mixes.length > 1 ? ` on ${mix}` : '');
  const isDrawn = comparisons.length > 0 && comparisons.every(isPriced);
  return {
    ...HEADING,
    answers: mixes.map((mix) => answerText(mix, priced, comparisons)),
    cautions: [],
    tables: mixes.map((mix) => spreadTable(ofMix(mix), on(mix))),
    folded: [
      html`<details>
        <summary>What the money goes for</summary>
        ${mixes.map((mix) => partsTable(ofMix(mix), on(mix)))}
      </details>`,
    ],
    chart: isDrawn
      ? () => comparisonChart(comparisons, { criterion: 'costPerHour', seed: simulation.seed })
      : null,
    notes: [
      'A season is the first year flown, begun on new tires: a tire is paid in full when it comes off, and by the share of ' +
        'its tread used at the end of the season. Expected: the mean, with its 95 % simulation error. Nine seasons in ten ' +
        'cost less than the second figure; the third is the mean of the worst tenth of seasons, luck included.',
      ...money.flatMap((each) => (each.priced ? [] : [`${each.setup} on ${each.mix} is ${each.needs}.`])),
    ],
  };
}

function isPriced(comparison: MixComparison): boolean {
  return bestBy(comparison, 'costPerHour')?.priced === true;
}

function byMean(money: readonly PairingMoney[]): PairingMoney[] {
  return [...money].sort((a, b) => a.perFlightHour.mean.estimate - b.perFlightHour.mean.estimate);
}

/** Which is cheapest as far as the run can tell, what it costs, and what for. */
function answerText(
  mix: string,
  priced: readonly PairingMoney[],
  comparisons: readonly MixComparison[],
): string {
  const comparison = comparisons.find((each) => each.mix === mix);
  const best = comparison === undefined ? null : bestBy(comparison, 'costPerHour');
  const ranked = byMean(priced.filter((each) => each.mix === mix));
  const told = best?.priced === true ? best.verdict : null;
  const first = ranked.find(({ setup }) => setup === told?.best) ?? ranked[0]!;
  const { mean, worstTenth } = first.perFlightHour;
  const figures =
    `${roundedText(mean.estimate, mean.standardError)} ${first.currency} a flight hour as expected, ` +
    `${roundedText(worstTenth.estimate, worstTenth.standardError)} in the worst tenth of seasons`;
  const verdict = told === null ? '' : ` ${told.text}`;
  return `On ${mix}, ${first.setup}: ${figures}${mostlyText(first)}.${verdict}`;
}

function mostlyText({ parts }: PairingMoney): string {
  const named = COST_PARTS.map((name) => [name, parts[name].share.estimate] as const)
    .sort((a, b) => b[1] - a[1])
    .slice(0, 2)
    .filter(([, share]) => share >= LEAST_SHARE_NAMED)
    .map(([name, share]) => `${percentText(share)} ${name}`);
  return named.length === 0 ? '' : `; ${listText(named)}`;
}

function spreadTable(money: readonly PairingMoney[], on: string): Html {
  const columns: Column<PairingMoney>[] = [
    { title: 'Set-up', cell: ({ setup }) => setup },
    {
      title: html`Expected <small>95 %</small>`,
      cell: ({ perFlightHour: { mean } }) =>
        html`${roundedText(mean.estimate, mean.standardError)} <small>${roundedSpan(mean)}</small>`,
      isNumeric: true,
    },
    {
      title: '9 seasons in 10 below',
      cell: ({ perFlightHour: { p90 } }) => quantileText(p90),
      isNumeric: true,
    },
    {
      title: 'Worst tenth, mean',
      cell: ({ perFlightHour: { worstTenth } }) => roundedText(worstTenth.estimate, worstTenth.standardError),
      isNumeric: true,
    },
    {
      title: 'A whole season, expected',
      cell: ({ perSeason: { mean } }) => roundedText(mean.estimate, mean.standardError),
      isNumeric: true,
    },
  ];
  return table(columns, money, { caption: `${money[0]!.currency} per flight hour${on}` });
}

function partsTable(money: readonly PairingMoney[], on: string): Html {
  const columns: Column<PairingMoney>[] = [
    { title: 'Set-up', cell: ({ setup }) => setup },
    ...COST_PARTS.map((name): Column<PairingMoney> => ({
      title: capitalized(name),
      cell: ({ parts: { [name]: part } }) =>
        html`${amountText(part.perFlightHour.estimate)}
          <small>${part.share.estimate === 0 ? '' : percentText(part.share.estimate)}</small>`,
      isNumeric: true,
    })),
  ];
  return table(columns, money, {
    caption: `Parts of the expected ${money[0]!.currency} per flight hour${on}`,
  });
}
