/** What matters in detail: one table for each part of the study. */
import type { IntervalEstimate } from '../estimate/interval.js';
import type { MeanEstimate } from '../estimate/paired.js';
import { assumptionName, assumptionSpanText } from '../scenario/assumption-words.js';
import { byLeadChange, rankingBy } from '../sensitivity/deciders.js';
import { inputWords } from '../sensitivity/input-words.js';
import type { DrivenFigure } from '../sensitivity/figures.js';
import type { OneAssumption } from '../sensitivity/one-at-a-time-types.js';
import type { InformationOnInput } from '../sensitivity/voi-types.js';
import type { WhatMatters } from '../sensitivity/what-matters-types.js';
import { signedText, wholeText } from './amounts.js';
import { roundedEstimate, rowsText, shareText, unitText, valueText } from './drivers-words.js';
import { grid, type GridColumn } from './grid.js';
import { TABLE_WIDTH } from './table.js';
import { percentText, printable, wrap } from './words.js';

/** Rows of a table; the rest are counted. */
const MOST_ROWS = 12;

/** Tables of a study, those of parts that were not begun left out. */
export function driversTables(study: WhatMatters): string[] {
  const blocks = [
    mixesTable(study),
    movedTable(study),
    sharesTable(study),
    informationTable(study, 'assumption', study.information.inputs),
    informationTable(study, 'group', study.groupInformation.inputs),
    workTable(study),
  ];
  return blocks.filter((block) => block !== null);
}

/** Heading, table, and how many rows were left out. */
function block(
  heading: string,
  columns: readonly GridColumn[],
  rows: readonly (readonly string[])[],
  left = 0,
): string {
  const rest = left === 0 ? [] : [`${wholeText(left)} more: less or nothing.`];
  return [wrap(printable(heading), TABLE_WIDTH, '  '), '', grid(columns, rows), ...rest].join('\n');
}

function mixesTable({ mixes, unit }: WhatMatters): string {
  const columns: GridColumn[] = [
    { title: ['mix'], align: 'left', width: 20, wraps: true },
    { title: ['best on average'], align: 'left', width: 18, wraps: true },
    { title: ['lead over the rival', '(95 %)'], align: 'right', width: 22, wraps: true },
    { title: ['another best', 'in worlds'], align: 'right', width: 12 },
    { title: ['knowing all', 'is worth'], align: 'right', width: 20, wraps: true },
  ];
  const rows = mixes.map(({ mix, best, lead, shareOfWorldsOther, perfect, kind }) => [
    mix,
    `${best}: ${kind}`,
    valueText(lead),
    shareOfWorldsOther === null ? '?' : percentText(shareOfWorldsOther.estimate),
    perfect === null ? '?' : valueText(perfect),
  ]);
  return block(`The choice on each mix, ${unitText({ unit })}`, columns, rows);
}

function movedTable(study: WhatMatters): string | null {
  const { oneAtATime, criterion, perSeason, choice, unit } = study;
  if (oneAtATime === null) return null;
  const moved = byLeadChange(oneAtATime, criterion);
  const figures = (['life', 'flats', 'costPerHour'] as const).filter((figure) =>
    oneAtATime.figures.includes(figure),
  );
  const columns: GridColumn[] = [
    { title: ['assumption,', 'low to high (P10 to P90)'], align: 'left', width: 36, wraps: true },
    { title: ['lead', 'at low'], align: 'right', width: 9 },
    { title: ['lead', 'at high'], align: 'right', width: 9 },
    { title: ['choice', 'flips'], align: 'right', width: 7 },
    ...figures.map((figure): GridColumn => ({
      title: [`${FIGURE_TITLES[figure]} of`, 'the best'],
      align: 'right',
      width: 8,
    })),
  ];
  const lead = ({ estimate, standardError }: MeanEstimate): string =>
    signedText(perSeason * estimate, perSeason * standardError);
  const rows = moved.slice(0, MOST_ROWS).map((each) => {
    const { leadAtLow, leadAtHigh, choiceFlips } = rankingBy(each, criterion)!;
    return [
      `${assumptionName(each.path)}, ${assumptionSpanText(each.path, each.lowSi, each.highSi)}${each.fittedWithOthers ? ' (fitted)' : ''}`,
      lead(leadAtLow),
      lead(leadAtHigh),
      choiceFlips,
      ...figures.map((figure) => changeText(each, choice.best, figure)),
    ];
  });
  const left = oneAtATime.assumptions.length - rows.length;
  return block(
    `One at a time: lead of ${choice.best} over ${choice.rival}, ${unitText({ unit })}; its own figures, change from low to high (${oneAtATime.trials} trials each)`,
    columns,
    rows,
    left,
  );
}

const FIGURE_TITLES: Readonly<Record<'life' | 'flats' | 'costPerHour', string>> = {
  life: 'life',
  flats: 'flats',
  costPerHour: 'cost',
};

function changeText({ effects }: OneAssumption, setup: string, figure: DrivenFigure): string {
  const effect = effects.find((each) => each.setup === setup && each.figure === figure);
  if (effect === undefined || effect.changeShare === null) return '-';
  const percent = 100 * effect.changeShare;
  const text = Math.abs(percent) < 10 ? percent.toFixed(1) : percent.toFixed(0);
  return Number(text) === 0 ? '0 %' : `${percent > 0 ? '+' : ''}${text} %`;
}

function sharesTable({ variance, criterion, choice }: WhatMatters): string | null {
  const lead = variance?.figures.find(({ figure, versus }) => figure === criterion && versus !== null);
  if (variance === null || lead === undefined) return null;
  const columns: GridColumn[] = [
    { title: ['input'], align: 'left', width: 29, wraps: true },
    { title: ['by itself', 'first order'], align: 'right', width: 19 },
    { title: ['with others', 'total'], align: 'right', width: 20 },
    { title: ['verdict'], align: 'left', width: 26, wraps: true },
  ];
  const rows = [...lead.indices.inputs]
    .sort((one, other) => other.total.lower - one.total.lower || other.total.estimate - one.total.estimate)
    .map(({ input, firstOrder, total, verdict }) => {
      const paths = variance.inputs.find(({ name }) => name === input)!.paths;
      const needed = verdict.kind === 'need more trials' ? `: ${rowsText(verdict)}` : '';
      return [
        `${inputWords(input, paths)}${paths.length > 1 ? ` (${paths.length})` : ''}`,
        shareText(within(firstOrder, total)),
        shareText(total),
        `${verdict.kind}${needed}`,
      ];
    });
  return block(
    `Shares of the spread of the lead of ${choice.best} over ${choice.rival} (${variance.rows} rows; intervals hold together)`,
    columns,
    rows,
  );
}

/** No input tells more by itself than with others: by chance the first estimate may be the larger one. */
function within(first: IntervalEstimate, total: IntervalEstimate): IntervalEstimate {
  const clipped = (of: 'estimate' | 'lower' | 'upper'): number => Math.min(first[of], total[of]);
  return { estimate: clipped('estimate'), lower: clipped('lower'), upper: clipped('upper') };
}

function informationTable(
  study: WhatMatters,
  what: 'assumption' | 'group',
  inputs: readonly InformationOnInput[],
): string | null {
  if (inputs.length === 0) return null;
  const columns: GridColumn[] = [
    { title: ['worth of knowing', what], align: 'left', width: 33, wraps: true },
    { title: [unitText(study), '(95 %)'], align: 'right', width: 20 },
    { title: ['surely', 'at least'], align: 'right', width: 8 },
    { title: ['other', 'choice'], align: 'right', width: 7 },
    { title: ['flats', 'avoided'], align: 'right', width: 9 },
    { title: ['verdict'], align: 'left', width: 13, wraps: true },
  ];
  const rows = inputs.slice(0, MOST_ROWS).map((each) => {
    const { input, paths, value, atLeast, shareOtherChoice, avoidedFlats, verdict } = each;
    return [
      `${inputWords(input, paths)}${paths.length > 1 ? ` (${paths.length})` : ''}`,
      value === null ? '?' : valueText(value),
      atLeast === null ? '?' : roundedEstimate(Math.max(0, atLeast.lower), atLeast),
      shareOtherChoice === null ? '?' : percentText(shareOtherChoice),
      avoidedFlats === null ? '?' : signedText(avoidedFlats.estimate, avoidedFlats.standardError),
      verdict,
    ];
  });
  return block(
    `Worth of knowing each ${what} before choosing (${study.trials} trials)`,
    columns,
    rows,
    inputs.length - rows.length,
  );
}

function workTable({ work }: WhatMatters): string {
  const columns: GridColumn[] = [
    { title: ['part of the study'], align: 'left', width: 20 },
    { title: ['trials of a set-up'], align: 'right', width: 18 },
    { title: ['landings'], align: 'right', width: 14 },
  ];
  const rows = work.map(({ stage, trials, landings }) => [stage, wholeText(trials), wholeText(landings)]);
  return block('What it took', columns, rows);
}
