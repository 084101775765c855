import { sparesChart } from '../chart/spares.js';
import type { SpareStock } from '../decide/spares.js';
import type { SparesCase } from '../decide/stock-cases.js';
import { airplanesText, itemName, sparesAnswer } from '../present/spares-words.js';
import { figureText, percentText } from '../present/words.js';
import type { Scenario } from '../scenario/schema/index.js';
import type { Chapter, CollectOptions } from './chapter.js';
import { html, type Html } from './html.js';
import { stockCases } from '../decide/stock-cases.js';
import { table, type Column } from './table.js';

/**
 * The chapter on spares: what to keep so that nobody waits, for each choice of gear sets of the fleet.
 *
 * @param scenario a scenario with a fleet.
 * @param trials seasons of the fleet.
 * @param options progress and stop.
 * @throws as `stockCases`.
 */
export async function sparesChapter(
  scenario: Scenario,
  trials: number,
  { onProgress, signal }: CollectOptions,
): Promise<Chapter> {
  const { cases, remarks } = await stockCases(scenario, { worlds: trials, onProgress, signal });
  const isAsked = cases.some(({ spares }) => spares.items.length > 0);
  return {
    id: 'spares',
    title: 'Spares',
    answers: cases.map(sparesAnswer),
    cautions: [],
    tables: cases.filter(({ spares }) => spares.items.length > 0).map(caseTable),
    chart: isAsked ? () => sparesChart(cases, { trials, seed: String(scenario.run.seed) }) : null,
    notes: [
      'Stock: the smallest that gives the wanted service, counted over simulated seasons; below it what the simulation ' +
        'error leaves possible (95 %). Nobody waits in: share of the seasons in which the stock is enough. Poisson: what the ' +
        'Poisson spares formula would keep for the same mean demand, and the service that it gives in truth.',
      ...remarks,
      ...new Set(cases.flatMap(({ spares }) => spares.notes)),
    ],
  };
}

function caseTable({ airplanes, spares }: SparesCase): Html {
  const isOneOfMany = Object.keys(spares.airplanesAt).length > 1;
  const columns: Column<SpareStock>[] = [
    { title: 'Item', cell: (item) => `${itemName(item)}${isOneOfMany ? ` at ${item.base}` : ''}` },
    {
      title: 'Asked for a season',
      cell: ({ demandPerSeason }) => figureText(demandPerSeason.estimate),
      isNumeric: true,
    },
    {
      title: html`Stock <small>simulation error</small>`,
      cell: ({ stock, stockRange: { lower, upper } }) =>
        html`${stock} <small>${upper === null ? `${lower} or more` : `${lower} to ${upper}`}</small>`,
      isNumeric: true,
    },
    {
      title: 'Nobody waits in',
      cell: ({ service }) => percentText(service.estimate),
      isNumeric: true,
    },
    {
      title: 'There at once',
      cell: ({ filledAtOnce }) => (filledAtOnce === null ? '-' : percentText(filledAtOnce)),
      isNumeric: true,
    },
    {
      title: html`Poisson <small>its service</small>`,
      cell: ({ ifPoisson }) =>
        html`${ifPoisson.stock} <small>${percentText(ifPoisson.service.estimate)}</small>`,
      isNumeric: true,
    },
  ];
  return table(columns, spares.items, { caption: airplanesText(airplanes) });
}
