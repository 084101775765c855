import type { SpareStock } from '../decide/spares.js';
import { decisionText } from './decision-text.js';
import type { SparesCase } from '../decide/stock-cases.js';
import type { SparesAnswer } from './decision-types.js';
import { grid, type GridColumn } from './grid.js';
import { airplanesText, itemName, sparesAnswer } from './spares-words.js';
import { TABLE_WIDTH } from './table.js';
import { figureText, percentText, printable, wrap } from './words.js';

const COLUMNS: readonly GridColumn[] = [
  { title: ['item'], align: 'left', width: 28, wraps: true },
  { title: ['asked for', 'a season'], align: 'right', width: 9 },
  { title: ['stock'], align: 'right', width: 6 },
  { title: ['MC', '95 %'], align: 'right', width: 7 },
  { title: ['nobody', 'waits in'], align: 'right', width: 9 },
  { title: ['there at', 'once'], align: 'right', width: 9 },
  { title: ['by Poisson', '(its service)'], align: 'right', width: 13 },
];

/**
 * Spares to keep as text of at most 100 columns.
 *
 * @param answer of `gravelbar spares`.
 * @returns text ending without a line end.
 */
export function sparesTable(answer: SparesAnswer): string {
  const { cases, remarks } = answer;
  const notes = [...new Set(cases.flatMap(({ spares }) => spares.notes))];
  return decisionText(answer, {
    answers: cases.map(sparesAnswer),
    blocks: cases.map(caseBlock),
    legend: [
      ...remarks,
      'Stock: the smallest that gives the wanted service, counted over simulated seasons; MC 95 %: what the simulation error ' +
        'leaves possible. Nobody waits in: share of seasons in which the stock is enough. By Poisson: the stock of the ' +
        'Poisson spares formula for the same mean demand, and the service it gives in truth.',
      ...notes,
    ],
    cautions: [],
  });
}

function caseBlock({ airplanes, spares }: SparesCase): string {
  const several = Object.keys(spares.airplanesAt).length > 1;
  return [
    wrap(printable(airplanesText(airplanes)), TABLE_WIDTH, '  '),
    '',
    grid(
      COLUMNS,
      spares.items.map((item) => row(item, several)),
    ),
  ].join('\n');
}

function row(item: SpareStock, several: boolean): string[] {
  const { demandPerSeason, stock, stockRange, service, filledAtOnce, ifPoisson, base } = item;
  return [
    `${itemName(item)}${several ? ` at ${base}` : ''}`,
    figureText(demandPerSeason.estimate),
    String(stock),
    `${stockRange.lower}-${stockRange.upper ?? '?'}`,
    percentText(service.estimate),
    filledAtOnce === null ? '-' : percentText(filledAtOnce),
    `${ifPoisson.stock} (${percentText(ifPoisson.service.estimate)})`,
  ];
}
