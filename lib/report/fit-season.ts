import type { PairingShift, SeasonFigures, SeasonShift } from '../decide/season-shift-types.js';
import { amountText, roundedText, signedSpan, signedText } from '../present/amounts.js';
import { SEASON_LEGEND } from '../present/fit-text.js';
import { bestOnMix, ignoranceText, seasonAnswers, withinError } from '../present/season-shift-words.js';
import { percentText } from '../present/words.js';
import { html, type Html, type HtmlPart } from './html.js';
import { table, type Column } from './table.js';

/**
 * The season with assumed and with fitted numbers: what changes, and a table for each mix.
 *
 * @param shift from `seasonShift`.
 */
export function seasonPart(shift: SeasonShift): Html {
  const mixes = [...new Set(shift.pairings.map(({ mix }) => mix))];
  return html`<ul class="finding">
      ${seasonAnswers(shift).map((answer) => html`<li>${answer}</li>`)}
    </ul>
    ${mixes.map((mix) => mixPart(mix, shift))}
    <p class="soft">${SEASON_LEGEND}</p>`;
}

function mixPart(mix: string, shift: SeasonShift): Html {
  const rows = shift.pairings.filter((each) => each.mix === mix);
  const best = bestOnMix(shift.best.filter((each) => each.mix === mix));
  return html`<h3>Runway mix: ${mix}</h3>
    ${table(columnsOf(shift), rows, { caption: `Season on ${mix}, assumed and fitted` })}
    ${best.map((text) => html`<p>${text}</p>`)}`;
}

/** Assumed above, fitted below, in one cell. */
function both({ before, after }: PairingShift, cell: (figures: SeasonFigures) => HtmlPart): HtmlPart {
  return html`<span class="whole">${cell(before)}</span> <b class="whole">${cell(after)}</b>`;
}

function columnsOf({ currency, pairings }: SeasonShift): Column<PairingShift>[] {
  const isPriced = pairings.some(({ before }) => before.costPerFlightHour !== null);
  const columns: Column<PairingShift>[] = [
    { title: 'Set-up', cell: ({ setup }) => setup },
    {
      title: 'Numbers',
      cell: () => html`<span class="whole">assumed</span> <b class="whole">fitted</b>`,
    },
    {
      title: html`Main tires last, flight hours <small>median (8 of 10 sets)</small>`,
      cell: (each) => both(each, lifeText),
      isNumeric: true,
    },
    {
      title: html`Mean life changes, h <small>95 %</small>`,
      cell: ({ change: { meanLifeHours } }) =>
        html`${signedText(meanLifeHours.estimate, meanLifeHours.standardError)}
          <small
            >${signedSpan(meanLifeHours)}${withinError(meanLifeHours) ? ': within its error' : ''}</small
          >`,
      isNumeric: true,
    },
    {
      title: 'Ignorance, h',
      cell: (each) => both(each, ({ ignoranceHours }) => ignoranceText(ignoranceHours)),
      isNumeric: true,
    },
    {
      title: 'A flat in a season',
      cell: (each) => both(each, ({ flatChance }) => percentText(flatChance.estimate)),
      isNumeric: true,
    },
  ];
  if (!isPriced) return columns;
  return [
    ...columns,
    { title: `${currency ?? ''} a flight hour`, cell: (each) => both(each, costText), isNumeric: true },
  ];
}

function lifeText({ lifeHours: { p10, p50, p90 } }: SeasonFigures): string {
  if (p50 === null) return 'beyond the horizon';
  const low = p10 === null ? '-' : amountText(p10);
  return `${amountText(p50)} (${low} to ${p90 === null ? 'beyond' : amountText(p90)})`;
}

function costText({ costPerFlightHour }: SeasonFigures): string {
  return costPerFlightHour === null
    ? '-'
    : roundedText(costPerFlightHour.estimate, costPerFlightHour.standardError);
}
