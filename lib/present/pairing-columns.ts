import type { LifeSummary } from '../estimate/life.js';
import type { RiskEstimate } from '../estimate/martingale.js';
import type { PairingSummary } from '../estimate/summary.js';
import { FLAT_KINDS } from '../simulate/columns.js';
import { column, openColumn, type ReadableColumn } from './rows.js';

/** What a row of a pairing is made from. */
export interface PairingSource {
  readonly pairing: PairingSummary;
  readonly number: number;
  readonly currency: string | null;
}

/** A column of the table of pairings. */
export type PairingColumn = ReadableColumn<PairingSource>;

/** A number that is always known. */
export function figure(
  name: string,
  unit: string,
  meaning: string,
  read: (source: PairingSource) => number,
): PairingColumn {
  return column('number', name, unit, meaning, read);
}

/** A number that may be missing. */
export function openFigure(
  name: string,
  unit: string,
  meaning: string,
  read: (source: PairingSource) => number | null,
): PairingColumn {
  return openColumn('number', name, unit, meaning, read);
}

const UNITS = ['landings', 'hours', 'months'] as const;
const QUANTILES = [
  ['p10', 'one in ten is shorter'],
  ['p50', 'half are shorter (median)'],
  ['p90', 'nine in ten are shorter'],
] as const;

/** Columns that say which pairing a row is about. */
export const PAIRING_NAME_COLUMNS: readonly ReadableColumn<Pick<PairingSource, 'pairing' | 'number'>>[] = [
  column('text', 'setup', '', 'tire set-up', ({ pairing }) => pairing.setup),
  column('text', 'mix', '', 'runway mix', ({ pairing }) => pairing.mix),
  column(
    'whole',
    'pairing_number',
    'number',
    'place of the pairing in the run, from 0',
    ({ number }) => number,
  ),
];

/** A life in landings, hours and months. */
export function lifeColumns(
  name: string,
  what: string,
  lifeOf: (pairing: PairingSummary) => LifeSummary,
): PairingColumn[] {
  const figures = UNITS.flatMap((unit): PairingColumn[] => [
    ...QUANTILES.map(([quantile, meaning]) =>
      openFigure(
        `${name}_${unit}_${quantile}`,
        unit,
        `${what}: ${meaning}; missing beyond the horizon`,
        ({ pairing }) => lifeOf(pairing)[unit][quantile],
      ),
    ),
    ...(['lower', 'upper'] as const).map((end) =>
      openFigure(
        `${name}_${unit}_p50_mc95_${end}`,
        unit,
        `${what}: ${end} end of the Monte Carlo 95 % interval of the median; missing beyond the horizon`,
        ({ pairing }) => lifeOf(pairing)[unit].intervals.p50[end],
      ),
    ),
    figure(
      `${name}_${unit}_mean`,
      unit,
      `${what}: mean; lives that reach the horizon count as that long`,
      ({ pairing }) => lifeOf(pairing)[unit].mean,
    ),
    figure(
      `${name}_${unit}_standard_error`,
      unit,
      `${what}: Monte Carlo standard error of the mean`,
      ({ pairing }) => lifeOf(pairing)[unit].standardError,
    ),
  ]);
  return [
    ...figures,
    figure(
      `${name}_beyond_horizon_share`,
      'share',
      `${what}: share of trials in which it had not ended at the horizon`,
      ({ pairing }) => lifeOf(pairing).beyondHorizon,
    ),
  ];
}

function riskColumns(
  name: string,
  unit: string,
  meaning: string,
  riskOf: (pairing: PairingSummary) => RiskEstimate,
): PairingColumn[] {
  return [
    figure(name, unit, meaning, ({ pairing }) => riskOf(pairing).estimate),
    ...(['lower', 'upper'] as const).map((end) =>
      figure(
        `${name}_mc95_${end}`,
        unit,
        `${end} end of its Monte Carlo 95 % interval`,
        ({ pairing }) => riskOf(pairing)[end],
      ),
    ),
  ];
}

/** Flats: how often, how likely, and of which kind. */
export function flatColumns(): PairingColumn[] {
  return [
    ...riskColumns(
      'flats_per_100_landings',
      'flats per 100 landings',
      'flats (sudden loss of air) on any wheel',
      ({ puncture }) => puncture.per100Landings,
    ),
    ...riskColumns(
      'flat_chance_season',
      'chance',
      'chance of at least one flat in the season',
      ({ puncture }) => puncture.season,
    ),
    ...riskColumns(
      'flat_chance_away_from_help',
      'chance',
      'chance of at least one flat in the season at a strip without help',
      ({ puncture }) => puncture.awayFromHelp,
    ),
    ...QUANTILES.map(([quantile, meaning]) =>
      figure(
        `flat_chance_season_worlds_${quantile}`,
        'chance',
        `chance of a flat in the season from world to world: ${meaning.replace('shorter', 'smaller')}`,
        ({ pairing }) => pairing.puncture.acrossWorlds[quantile],
      ),
    ),
    ...FLAT_KINDS.map((kind) =>
      figure(
        `flats_${kind}_share`,
        'share',
        `share of the expected flats: ${kind}; all 0 if no flat is possible`,
        ({ pairing }) => pairing.puncture.byKind[kind].estimate,
      ),
    ),
  ];
}
