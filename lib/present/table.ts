import type { EndCause } from '../estimate/curves.js';
import type { PairingSummary } from '../estimate/summary.js';
import type { RunResult } from '../run.js';
import { grid, type GridColumn } from './grid.js';
import { figureText, percentText, printable, wrap } from './words.js';

/** Width that every table keeps to. */
export const TABLE_WIDTH = 100;

const LIFE_COLUMNS: readonly GridColumn[] = [
  { title: ['set-up'], align: 'left', width: 20, wraps: true },
  { title: ['main tires last', 'flight hours', 'median (8 of 10)'], align: 'right', width: 22 },
  { title: ['cords', 'show at,', 'hours'], align: 'right', width: 8 },
  { title: ['flats', 'per 100', 'landings'], align: 'right', width: 8 },
  { title: ['chance of a flat', 'in the season', '(8 of 10 worlds)'], align: 'right', width: 22 },
  { title: ['away', 'from', 'help'], align: 'right', width: 8 },
];

const DOUBT_COLUMNS: readonly GridColumn[] = [
  { title: ['set-up'], align: 'left', width: 20, wraps: true },
  { title: ['ends mostly by'], align: 'left', width: 16 },
  { title: ['wears mostly by'], align: 'left', width: 15 },
  { title: ['life, hours', 'luck'], align: 'right', width: 11 },
  { title: ['', 'ignor.'], align: 'right', width: 6 },
  { title: ['', 'numer.'], align: 'right', width: 6 },
  { title: ['MC 95 %', 'of median'], align: 'right', width: 14 },
];

const SEASON_COLUMNS: readonly GridColumn[] = [
  { title: ['set-up'], align: 'left', width: 20, wraps: true },
  { title: ['flat in season', 'MC 95 %'], align: 'right', width: 16 },
  { title: ['seasons with', 'a flat, seen'], align: 'right', width: 14 },
  { title: ['main tires', 'a season'], align: 'right', width: 10 },
  { title: ['days lost', 'a season'], align: 'right', width: 9 },
];

/**
 * The comparison as text of at most 100 columns: one block per runway mix, best median life first.
 *
 * @param result the answer of a run.
 * @returns text ending without a line end.
 */
export function comparisonTable(result: RunResult): string {
  const mixes = [...new Set(result.pairings.map(({ mix }) => mix))];
  const blocks = mixes.map((mix) => {
    const pairings = result.pairings.filter((pairing) => pairing.mix === mix).sort(byMedianLife);
    return [
      wrap(`Runway mix: ${printable(mix)}`, TABLE_WIDTH, '  '),
      '',
      grid(LIFE_COLUMNS, pairings.map(lifeRow)),
      '',
      grid(DOUBT_COLUMNS, pairings.map(doubtRow)),
      '',
      seasonGrid(result, pairings),
    ].join('\n');
  });
  return [heading(result), ...blocks, legend(), cautionText(result)].join('\n\n');
}

function byMedianLife(a: PairingSummary, b: PairingSummary): number {
  return (b.life.hours.p50 ?? Infinity) - (a.life.hours.p50 ?? Infinity);
}

function heading({ scenario, trials, seed, version, precision }: RunResult): string {
  const reached =
    precision?.reached === null || precision === null
      ? ''
      : `, median life within ${percentText(precision.reached)} (asked ${percentText(precision.asked)})`;
  const run = `${trials} trials, seed ${printable(seed)}, gravelbar ${version}${reached}`;
  return `${wrap(printable(scenario), TABLE_WIDTH)}\n${wrap(run, TABLE_WIDTH)}`;
}

function lifeRow(pairing: PairingSummary): string[] {
  const { life, cords, puncture } = pairing;
  const { p10, p50, p90 } = life.hours;
  const { p10: low, p90: high } = puncture.acrossWorlds;
  return [
    pairing.setup,
    `${figureText(p50)} (${rangeText(p10, p90)})`,
    figureText(cords.hours.p50),
    rateText(puncture.per100Landings.estimate),
    `${percentText(puncture.season.estimate)} (${percentText(low)}-${percentText(high)})`.replaceAll(
      ' %-',
      '-',
    ),
    percentText(puncture.awayFromHelp.estimate),
  ];
}

/** Two figures are enough for a rate known within a factor. */
function rateText(rate: number): string {
  return rate === 0 || rate >= 10 ? figureText(rate) : rate.toPrecision(2);
}

function doubtRow(pairing: PairingSummary): string[] {
  const { luck, ignorance, numerical } = pairing.doubts.lifeHours;
  const { lower, upper } = pairing.life.hours.intervals.p50;
  const end = largest(
    Object.entries(pairing.removalCauses).map(([cause, { estimate }]) => [cause as EndCause, estimate]),
  );
  const wear = largest(
    Object.entries(pairing.wearShares.byCause).map(([cause, { estimate }]) => [cause, estimate]),
  );
  return [
    pairing.setup,
    end,
    wear,
    figureText(luck),
    figureText(ignorance),
    figureText(numerical),
    rangeText(lower, upper),
  ];
}

function seasonGrid({ currency, trials }: RunResult, pairings: readonly PairingSummary[]): string {
  const cost: GridColumn = { title: ['cost per hour', currency ?? ''], align: 'right', width: 15 };
  const rows = pairings.map(({ setup, puncture, season }) => {
    const { lower, upper, counted } = puncture.season;
    const row = [
      setup,
      `${percentText(lower)}-${percentText(upper)}`.replaceAll(' %-', '-'),
      `${counted.events} of ${trials}`,
      figureText(season.mainTiresFitted.estimate),
      figureText(season.daysLost.estimate),
    ];
    return season.costPerFlightHour === null ? row : [...row, figureText(season.costPerFlightHour.estimate)];
  });
  return grid(currency === null ? SEASON_COLUMNS : [...SEASON_COLUMNS, cost], rows);
}

/** An interval; open above where its upper end lies beyond the horizon. */
function rangeText(lower: number | null, upper: number | null): string {
  if (lower === null) return '-';
  return upper === null ? `over ${figureText(lower)}` : `${figureText(lower)}-${figureText(upper)}`;
}

function largest(shares: readonly (readonly [string, number])[]): string {
  const [name, share] = shares.reduce((a, b) => (b[1] > a[1] ? b : a));
  return share === 0 ? '-' : `${name} ${percentText(share)}`;
}

function legend(): string {
  const lines = [
    'Main tires last: until the first of the two must come off, for any reason. "8 of 10" leaves out the shortest ' +
      'and the longest tenth. A dash means beyond the horizon of the run.',
    'Cords show at: by wear alone, if nobody changed the tires at the tread limit (median).',
    'Flat: any sudden loss of air on any wheel. The range in brackets is that of eight worlds in ten: we do not ' +
      'know the strips and the rubber better than that.',
    'Luck: spread between seasons in one world. Ignorance: spread between worlds; it shrinks by measuring. ' +
      'Numerical: error of the simulation; it shrinks with trials. All in flight hours, one standard deviation.',
    'MC 95 %: Monte Carlo interval, the numerical error alone. Main tires a season: new ones fitted, means. Cost: ' +
      'tires by the tread they use, tubes, labour, rescue and days lost, where the scenario has prices.',
  ];
  return lines.map((line) => wrap(line, TABLE_WIDTH, '  ')).join('\n');
}

function cautionText({ cautions }: RunResult): string {
  return cautions.map(({ message }) => wrap(`Caution: ${message}`, TABLE_WIDTH, '  ')).join('\n');
}
