import { amountText, oneInText, percentSpan, spanText } from '../chart/figures.js';
import type { RiskEstimate } from '../estimate/martingale.js';
import type { PairingSummary } from '../estimate/summary.js';
import { figureText, percentText } from '../present/words.js';
import type { RunResult } from '../run.js';
import { html, type Html } from './html.js';
import type { Lead } from './lead.js';
import { table, type Column } from './table.js';
import { spreadText, ignoranceText } from './words.js';

/** Causes below this share are not named. */
const LEAST_SHARE_NAMED = 0.05;

/**
 * The comparison as tables: for each mix its figures, and folded below how sure they are.
 *
 * @param result the answer of a run.
 * @param all who leads on each mix.
 */
export function comparison(result: RunResult, all: readonly Lead[]): Html {
  return html`${all.map((lead) => mixTables(lead, result))}`;
}

function mixTables(lead: Lead, result: RunResult): Html {
  const isFirst = (pairing: PairingSummary): boolean =>
    pairing === lead.leader || lead.level.includes(pairing);
  const marked = lead.ranked.length > 1 ? { leads: isFirst } : {};
  return html`<h3>Runway mix: ${lead.mix}</h3>
    ${table(figureColumns(result), lead.ranked, { caption: `Life, flats and use on ${lead.mix}`, ...marked })}
    <details>
      <summary>How sure the figures on ${lead.mix} are</summary>
      ${table(doubtColumns(result), lead.ranked, { caption: `Doubt about life and flats on ${lead.mix}` })}
    </details> `;
}

function figureColumns({ currency, season }: RunResult): Column<PairingSummary>[] {
  const columns: Column<PairingSummary>[] = [
    { title: 'Set-up', cell: ({ setup }) => setup },
    {
      title: html`Main tires last, flight hours <small>median; 8 of 10 sets</small>`,
      cell: ({ life: { hours } }) =>
        hours.p50 === null
          ? html`beyond the horizon
              <small>${hours.p10 === null ? '' : `1 in 10 below ${amountText(hours.p10)}`}</small>`
          : html`${amountText(hours.p50)} <small>${spanText(hours.p10, hours.p90)}</small>`,
      isNumeric: true,
    },
    {
      title: html`Cords show at, hours <small>by wear alone</small>`,
      cell: ({ cords }) => amountText(cords.hours.p50),
      isNumeric: true,
    },
    {
      title: html`A flat in a season <small>8 of 10 worlds</small>`,
      cell: ({ puncture: { season: risk, acrossWorlds } }) =>
        html`${chance(risk)} <small>${percentSpan(acrossWorlds.p10, acrossWorlds.p90)}</small>`,
      isNumeric: true,
    },
    {
      title: 'Away from help',
      cell: ({ puncture }) => chance(puncture.awayFromHelp),
      isNumeric: true,
    },
    { title: 'Ends mostly by', cell: endsBy },
    { title: 'Wears mostly by', cell: wearsBy },
    {
      title: html`Sets used a season`,
      cell: ({ life }) => figureText(season.flightHours / life.hours.mean),
      isNumeric: true,
    },
    {
      title: 'Days lost, first season',
      cell: (pairing) => figureText(pairing.season.daysLost.estimate),
      isNumeric: true,
    },
  ];
  if (currency === null) return columns;
  return [
    ...columns,
    {
      title: html`Cost per flight hour <small>${currency}</small>`,
      cell: (pairing) => amountText(pairing.season.costPerFlightHour?.estimate ?? null),
      isNumeric: true,
    },
  ];
}

function chance(risk: RiskEstimate): Html {
  if (risk.estimate === 0) return html`none met <small>below ${percentText(risk.upper)}</small>`;
  return html`${oneInText(risk.estimate)} <small>${percentText(risk.estimate)}</small>`;
}

function endsBy({ removalCauses }: PairingSummary): Html {
  const ends = Object.entries(removalCauses)
    .map(([cause, { estimate }]) => [cause, estimate] as const)
    .sort((a, b) => b[1] - a[1])
    .slice(0, 2)
    .filter(([, share]) => share >= LEAST_SHARE_NAMED);
  return ends.length === 0 ? html`-` : html`${ends.map(([cause, share]) => named(cause, share))}`;
}

function wearsBy({ wearShares }: PairingSummary): Html {
  const shares = Object.entries(wearShares.byCause).map(
    ([cause, { estimate }]) => [cause, estimate] as const,
  );
  const [cause, share] = shares.reduce((a, b) => (b[1] > a[1] ? b : a));
  return share === 0 ? html`-` : named(cause, share);
}

function named(cause: string, share: number): Html {
  return html`<span class="whole">${cause} ${Math.round(100 * share)} %</span> `;
}

function doubtColumns({ trials }: RunResult): Column<PairingSummary>[] {
  const spread = (value: number | null): string => (value === null ? 'not known' : spreadText(value));
  return [
    { title: 'Set-up', cell: ({ setup }) => setup },
    {
      title: html`Median life, hours <small>simulation error, 95 %</small>`,
      cell: ({ life }) => spanText(life.hours.intervals.p50.lower, life.hours.intervals.p50.upper),
      isNumeric: true,
    },
    { title: 'Luck, hours', cell: ({ doubts }) => spread(doubts.lifeHours.luck), isNumeric: true },
    {
      title: 'Ignorance, hours',
      cell: ({ doubts }) => ignoranceText(doubts.lifeHours) ?? 'not known',
      isNumeric: true,
    },
    {
      title: html`Numerical, hours <small>of the mean</small>`,
      cell: ({ doubts }) => spread(doubts.lifeHours.numerical),
      isNumeric: true,
    },
    {
      title: html`A flat in a season <small>simulation error, 95 %</small>`,
      cell: ({ puncture: { season } }) => percentSpan(season.lower, season.upper),
      isNumeric: true,
    },
    {
      title: 'Seasons with a flat, seen',
      cell: ({ puncture: { season } }) => `${season.counted.events} of ${trials}`,
      isNumeric: true,
    },
  ];
}
