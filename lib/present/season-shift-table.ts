import type { PairingShift, SeasonFigures, SeasonShift } from '../decide/season-shift-types.js';
import { amountText, roundedText, signedSpan, signedText } from './amounts.js';
import { grid, type GridColumn } from './grid.js';
import { bestOnMix, ignoranceText } from './season-shift-words.js';
import { TABLE_WIDTH } from './table.js';
import { percentText, printable, wrap } from './words.js';

/**
 * The season before and after as tables of at most 100 columns: one for each mix, and the best set-ups below it.
 *
 * @param shift from `seasonShift`.
 * @returns blocks of lines.
 */
export function seasonShiftBlocks(shift: SeasonShift): string[] {
  const mixes = [...new Set(shift.pairings.map(({ mix }) => mix))];
  const paragraph = (text: string): string => wrap(printable(text), TABLE_WIDTH, '  ');
  return mixes.map((mix) => {
    const rows = shift.pairings.filter((each) => each.mix === mix).flatMap((each) => pairingRows(each));
    const best = bestOnMix(shift.best.filter((each) => each.mix === mix)).map(paragraph);
    return [
      paragraph(`Season on ${mix}, assumed and fitted`),
      '',
      grid(columnsOf(shift), rows),
      ...best,
    ].join('\n');
  });
}

function columnsOf({ currency, pairings }: SeasonShift): GridColumn[] {
  const isPriced = pairings.some(({ before }) => before.costPerFlightHour !== null);
  return [
    { title: ['set-up'], align: 'left', width: isPriced ? 17 : 24, wraps: true },
    { title: ['numbers'], align: 'left', width: 7 },
    { title: ['life, h', '(half)'], align: 'right', width: 7 },
    { title: ['8 of 10 sets'], align: 'right', width: 14 },
    { title: ['mean life changes', '(95 %)'], align: 'right', width: isPriced ? 18 : 20, wraps: true },
    { title: ['ignor-', 'ance, h'], align: 'right', width: isPriced ? 8 : 9 },
    { title: ['a flat', 'in a', 'season'], align: 'right', width: 7 },
    ...(isPriced ? [{ title: [currency ?? '', 'a flight', 'hour'], align: 'right', width: 8 } as const] : []),
  ];
}

function pairingRows({ setup, before, after, change }: PairingShift): string[][] {
  const { meanLifeHours } = change;
  const changed = `${signedText(meanLifeHours.estimate, meanLifeHours.standardError)} (${signedSpan(meanLifeHours)})`;
  return [
    [setup, 'assumed', ...cells(before, '')],
    ['', 'fitted', ...cells(after, changed)],
  ];
}

function cells(
  { lifeHours, flatChance, ignoranceHours, costPerFlightHour }: SeasonFigures,
  changed: string,
): string[] {
  const { p10, p50, p90 } = lifeHours;
  return [
    p50 === null ? 'beyond' : amountText(p50),
    p10 === null ? '-' : `${amountText(p10)}-${p90 === null ? '' : amountText(p90)}`,
    changed,
    ignoranceText(ignoranceHours),
    percentText(flatChance.estimate),
    costPerFlightHour === null
      ? '-'
      : roundedText(costPerFlightHour.estimate, costPerFlightHour.standardError),
  ];
}
