import { isOnlyBounded } from '../estimate/uncertainty.js';
import type { EndCause } from '../estimate/curves.js';
import type { PairingSummary } from '../estimate/summary.js';
import type { RunResult } from '../run.js';
import { grid, type GridColumn } from './grid.js';
import { figureText, percentText, printable, wrap } from './words.js';

/** Width that every table keeps to. */
export const TABLE_WIDTH = 100;

/** Causes below this share are not named. */
const LEAST_SHARE_NAMED = 0.05;

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
  { title: ['ends mostly by'], align: 'left', width: 17, wraps: true },
  { title: ['wears mostly by'], align: 'left', width: 15 },
  { title: ['hours', 'luck'], align: 'right', width: 5 },
  { title: ['of life', 'ignorance'], align: 'right', width: 9 },
  { title: ['', 'numerical'], align: 'right', width: 9 },
  { title: ['MC 95 %', 'of median'], align: 'right', width: 13 },
];

const SEASON_COLUMNS: readonly GridColumn[] = [
  { title: ['set-up'], align: 'left', width: 20, wraps: true },
  { title: ['flat in season', 'MC 95 %'], align: 'right', width: 16 },
  { title: ['seasons with', 'a flat, seen'], align: 'right', width: 14 },
  { title: ['sets used', 'a season'], align: 'right', width: 10 },
  { title: ['days lost,', 'first season'], align: 'right', width: 12 },
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

function heading({ scenario, note, airplane, season, trials, seed, version, precision }: RunResult): string {
  const lines = [
    scenario,
    note,
    `Airplane: ${airplane}. A season: ${season.landings} landings, ${figureText(season.flightHours)} flight hours.`,
    `${trials} trials, seed ${seed}, gravelbar ${version}${precisionText(precision)}`,
  ];
  return lines
    .filter((line) => line !== '')
    .map((line) => wrap(printable(line), TABLE_WIDTH))
    .join('\n');
}

function precisionText(precision: RunResult['precision']): string {
  if (precision === null) return '';
  const { asked, reached } = precision;
  const missed = reached === null || reached > asked ? ', NOT reached' : '';
  const known = reached === null ? 'not known' : `known within ${percentText(reached)}`;
  return `, median lives ${known} (asked ${percentText(asked)}${missed})`;
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

/** A spread, to the two figures that it is good for; a question mark if too few trials tell it. */
function spreadText(spread: number | null): string {
  return spread === null ? '?' : String(Number(spread.toPrecision(2)));
}

/** Two figures are enough for a rate known within a factor. */
function rateText(rate: number): string {
  return rate === 0 || rate >= 10 ? figureText(rate) : rate.toPrecision(2);
}

function doubtRow(pairing: PairingSummary): string[] {
  const { luck, ignorance, ignoranceAtMost, numerical } = pairing.doubts.lifeHours;
  const { lower, upper } = pairing.life.hours.intervals.p50;
  const ends = Object.entries(pairing.removalCauses)
    .map(([cause, { estimate }]) => [cause as EndCause, estimate] as const)
    .sort((a, b) => b[1] - a[1])
    .slice(0, 2)
    .filter(([, share]) => share >= LEAST_SHARE_NAMED);
  const wear = largest(
    Object.entries(pairing.wearShares.byCause).map(([cause, { estimate }]) => [cause, estimate]),
  );
  return [
    pairing.setup,
    ends.length === 0
      ? '-'
      : `${ends.map(([cause, share]) => `${cause} ${Math.round(100 * share)}`).join(', ')} %`,
    wear,
    spreadText(luck),
    ignorance !== null && ignoranceAtMost !== null && isOnlyBounded(ignorance, ignoranceAtMost)
      ? `< ${spreadText(ignoranceAtMost)}`
      : spreadText(ignorance),
    figureText(numerical),
    rangeText(lower, upper),
  ];
}

function seasonGrid(
  { currency, trials, season: { flightHours } }: RunResult,
  pairings: readonly PairingSummary[],
): string {
  const cost: GridColumn = { title: ['cost per hour', currency ?? ''], align: 'right', width: 15 };
  const rows = pairings.map(({ setup, life, puncture, season }) => {
    const { lower, upper, counted } = puncture.season;
    const row = [
      setup,
      `${percentText(lower)}-${percentText(upper)}`.replaceAll(' %-', '-'),
      `${counted.events} of ${trials}`,
      figureText(flightHours / life.hours.mean),
      figureText(season.daysLost.estimate),
    ];
    return currency === null ? row : [...row, figureText(season.costPerFlightHour?.estimate ?? null)];
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
    'A world: one set of guesses for everything we do not know. Luck: spread between sets of tires in one world. ' +
      'Ignorance: spread between worlds; it shrinks by measuring (gauge the tread, count landings, note every ' +
      'cut). Numerical: error of the simulation; it shrinks with trials. All in flight hours, one standard deviation.',
    'Wear: spin-up at touchdown, braking slip, pivots on a locked wheel, squirm (the tread rubs as the footprint ' +
      'flattens), scrub (side slip in turns and crosswind).',
    'MC 95 %: simulation error alone. Seen: seasons with a flat among those simulated; chance moves this count, while ' +
      'the chance beside it adds up the risk of every landing and is steadier. Sets used a season: season over mean ' +
      'life. Cost: tires by the tread they use, tubes, labour, rescue and days lost of the first season.',
  ];
  return lines.map((line) => wrap(line, TABLE_WIDTH, '  ')).join('\n');
}

function cautionText({ cautions }: RunResult): string {
  return cautions.map(({ message }) => wrap(`Caution: ${message}`, TABLE_WIDTH, '  ')).join('\n');
}
