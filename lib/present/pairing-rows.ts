import { END_CAUSES } from '../estimate/curves.js';
import type { RunResult } from '../run.js';
import { WEAR_CAUSES } from '../simulate/columns.js';
import {
  figure,
  flatColumns,
  lifeColumns,
  openFigure,
  PAIRING_NAME_COLUMNS,
  type PairingColumn,
} from './pairing-columns.js';
import { column, describeColumns, recordsOf, tableOf, type Table, type TableColumn } from './rows.js';

function causeColumns(): PairingColumn[] {
  return [
    ...END_CAUSES.map((cause) =>
      figure(
        `removed_${cause}_share`,
        'share',
        `share of first main tires ended by: ${cause}`,
        ({ pairing }) => pairing.removalCauses[cause].estimate,
      ),
    ),
    ...WEAR_CAUSES.map((cause) =>
      figure(
        `wear_${cause.replace('-', '_')}_share`,
        'share',
        `share of the rubber worn off main tires: ${cause}`,
        ({ pairing }) => pairing.wearShares.byCause[cause].estimate,
      ),
    ),
    ...(['centre', 'innerShoulder', 'outerShoulder'] as const).map((band) => {
      const words = band.replace('Shoulder', ' shoulder');
      return figure(
        `worn_${words.replace(' ', '_')}_mm`,
        'mm',
        `mean depth worn off when the first main tire comes off: ${words}`,
        ({ pairing }) => pairing.bandWearMm[band].estimate,
      );
    }),
  ];
}

function doubtColumns(): PairingColumn[] {
  const doubts = [
    ['life_hours', 'hours', 'life of the main tires', 'lifeHours'],
    ['flat_chance_season', 'chance', 'chance of a flat in the season', 'punctureSeason'],
  ] as const;
  return doubts.flatMap(([name, unit, what, key]): PairingColumn[] => [
    openFigure(
      `${name}_luck_sd`,
      unit,
      `${what}: luck, the standard deviation within a world; missing if too few trials tell`,
      ({ pairing }) => pairing.doubts[key].luck,
    ),
    openFigure(
      `${name}_ignorance_sd`,
      unit,
      `${what}: ignorance, the standard deviation between worlds; missing if too few trials tell`,
      ({ pairing }) => pairing.doubts[key].ignorance,
    ),
    figure(
      `${name}_numerical_se`,
      unit,
      `${what}: numerical doubt, the standard error of the simulation`,
      ({ pairing }) => pairing.doubts[key].numerical,
    ),
  ]);
}

function seasonColumns(): PairingColumn[] {
  const figures = [
    [
      'main_tires_fitted_first_season',
      'tires',
      'new main tires fitted, after the first two',
      'mainTiresFitted',
    ],
    [
      'third_tires_fitted_first_season',
      'tires',
      'new nose or tail tires, after the first',
      'thirdTiresFitted',
    ],
    ['days_lost_first_season', 'days', 'days lost', 'daysLost'],
    ['bead_slips_first_season', 'slips', 'bead slips', 'beadSlips'],
    ['slow_leaks_first_season', 'leaks', 'slow leaks that began', 'slowLeaks'],
    ['low_readings_share', 'share', 'pressure readings below 90 % of the cold setting', 'lowReadings'],
    [
      'hydroplaning_share',
      'share',
      'wet paved landings above the hydroplaning speed, were the runway flooded',
      'hydroplaning',
    ],
    ['tail_hits_per_landing', 'hits per landing', 'expected stones thrown at the tail', 'tailHitsPerLanding'],
  ] as const;
  const costs = [
    ['cost_money_first_season', 'money', 'cost of the season; missing without prices', 'cost'],
    [
      'cost_money_per_flight_hour',
      'money per flight hour',
      'the same; missing without prices',
      'costPerFlightHour',
    ],
  ] as const;
  return [
    ...figures.map(([name, unit, meaning, key]) =>
      figure(name, unit, meaning, ({ pairing }) => pairing.season[key].estimate),
    ),
    ...costs.map(([name, unit, meaning, key]) =>
      openFigure(name, unit, meaning, ({ pairing }) => pairing.season[key]?.estimate ?? null),
    ),
    column(
      'text',
      'currency',
      '',
      'label of the money; empty without prices',
      ({ currency }) => currency ?? '',
    ),
  ];
}

const COLUMNS: readonly PairingColumn[] = [
  ...PAIRING_NAME_COLUMNS,
  ...lifeColumns('life', 'life of the main tires, to any end', ({ life }) => life),
  ...lifeColumns('tread_limit', 'wear alone, to the tread limit', ({ treadLimit }) => treadLimit),
  ...lifeColumns('cords', 'wear alone, until cords show', ({ cords }) => cords),
  column(
    'text',
    'third_wheel',
    '',
    'where the third wheel is: nose or tail',
    ({ pairing }) => pairing.thirdWheel.position,
  ),
  ...lifeColumns('third_life', 'life of the nose or tail tire', ({ thirdWheel }) => thirdWheel.life),
  ...flatColumns(),
  ...causeColumns(),
  ...doubtColumns(),
  ...seasonColumns(),
];

/** Columns of the table of pairings: names, kinds, units and meanings. */
export const PAIRING_TABLE: readonly TableColumn[] = describeColumns(COLUMNS);

/** The table of pairings of a result. */
export function pairingTable({ pairings, currency }: RunResult): Table {
  return tableOf(COLUMNS, pairings.length, () =>
    pairings.map((pairing, number) => ({ pairing, number, currency })),
  );
}

/**
 * The pairings as rows with flat columns, units in their names; {@link PAIRING_TABLE} describes them.
 *
 * @param result the answer of a run.
 * @returns one record per pairing; all records have the same keys. null stands where a figure is not known.
 */
export function pairingRows(result: RunResult): Record<string, string | number | null>[] {
  return Array.from(recordsOf(pairingTable(result))) as Record<string, string | number | null>[];
}
