import type { CompiledScenario } from '../scenario/compile.js';

/** Why a tire came off. The index is the code in the columns; 0 means still in service when last seen. */
export const REMOVAL_CAUSES = ['in service', 'worn', 'cut', 'puncture', 'pressure', 'age'] as const;
/** A cause of removal, or "in service". */
export type RemovalCause = (typeof REMOVAL_CAUSES)[number];

export const IN_SERVICE = 0;
export const WORN = 1;
export const CUT_PAST_LIMITS = 2;
export const PUNCTURED = 3;
export const PRESSURE_RELATED = 4;
export const AGED = 5;

/** What wears a main tire. */
export const WEAR_CAUSES = ['spin-up', 'braking', 'pivots', 'squirm', 'scrub'] as const;
/** A cause of wear. */
export type WearCause = (typeof WEAR_CAUSES)[number];

/** How a tire loses its air at once. */
export const FLAT_KINDS = ['tread', 'sidewall', 'pinch', 'valve'] as const;

type ColumnKind = 'Int32' | 'Uint8' | 'Float32' | 'Float64';

interface ColumnDescription<Kind extends ColumnKind> {
  readonly kind: Kind;
  readonly unit: string;
  readonly meaning: string;
}

const column = <Kind extends ColumnKind>(
  kind: Kind,
  unit: string,
  meaning: string,
): ColumnDescription<Kind> => ({
  kind,
  unit,
  meaning,
});

/**
 * The columns of a pairing's results, one row per trial. "Season" is the first year flown; "life" is that of the
 * main tires fitted new at its start and ends when the first of the two must come off.
 */
export const TRIAL_COLUMNS = {
  lifeLandings: column(
    'Int32',
    'landings',
    'life of the first main tires; if in service, the landings followed',
  ),
  lifeCause: column(
    'Uint8',
    'code',
    'why the first main tire came off (index into REMOVAL_CAUSES; 0 in service)',
  ),
  lifeWheel: column('Uint8', 'code', 'which main tire came off first: 0 left, 1 right, 2 none yet'),
  treadLimitLandings: column(
    'Int32',
    'landings',
    'wear alone takes a main tire to the tread limit; -1 not within the horizon',
  ),
  cordsLandings: column(
    'Int32',
    'landings',
    'wear alone makes cords show on a main tire; -1 not within the horizon',
  ),
  followedLandings: column(
    'Int32',
    'landings',
    'landings within the horizon that were or could have been followed',
  ),
  thirdLifeLandings: column(
    'Int32',
    'landings',
    'life of the first nose or tail tire; if in service, the landings followed',
  ),
  thirdLifeCause: column('Uint8', 'code', 'why the first nose or tail tire came off'),
  centreLostM: column(
    'Float32',
    'm',
    'mean depth worn off the centre of the first main tires at the end of their life',
  ),
  innerLostM: column('Float32', 'm', 'the same, inner shoulder'),
  outerLostM: column('Float32', 'm', 'the same, outer shoulder'),
  flats: column('Int32', 'flats', 'flats in the season, all wheels'),
  flatsHazard: column(
    'Float64',
    'flats',
    'compensator of flats: chance of a flat, added up wheel by wheel and landing by landing',
  ),
  anyFlat: column('Uint8', '0 or 1', 'at least one flat in the season'),
  anyFlatHazard: column(
    'Float64',
    'chance',
    'compensator of anyFlat: chances added up to and including the first flat',
  ),
  anyFlatAway: column('Uint8', '0 or 1', 'at least one flat away from help in the season'),
  anyFlatAwayHazard: column('Float64', 'chance', 'compensator of anyFlatAway'),
  flatsPatched: column(
    'Int32',
    'flats',
    'flats away from help in the season, mended on the spot with a patch kit',
  ),
  flatsPatchedHazard: column('Float64', 'flats', 'compensator of flatsPatched'),
  flatsRescued: column('Int32', 'flats', 'flats away from help in the season that took a rescue'),
  flatsRescuedHazard: column('Float64', 'flats', 'compensator of flatsRescued'),
  tubes: column('Int32', 'tubes', 'flats of tires with a tube in the season: each takes a new one'),
  tubesHazard: column('Float64', 'tubes', 'compensator of tubes'),
  treadHazard: column('Float32', 'flats', 'expected punctures through the tread in the season'),
  sidewallHazard: column('Float32', 'flats', 'expected punctures through the side in the season'),
  pinchHazard: column('Float32', 'flats', 'expected pinch flats in the season'),
  valveHazard: column('Float32', 'flats', 'expected valves torn by bead slip in the season'),
  mainsWorn: column('Int32', 'tires', 'main tires removed in the season: worn'),
  mainsCut: column('Int32', 'tires', 'the same, cut past limits'),
  mainsPunctured: column('Int32', 'tires', 'the same, punctured'),
  mainsPressure: column('Int32', 'tires', 'the same, pressure-related (pinch or torn valve)'),
  mainsAged: column('Int32', 'tires', 'the same, age'),
  mainsFitted: column('Int32', 'tires', 'new main tires fitted in the season, after the first two'),
  thirdFitted: column('Int32', 'tires', 'new nose or tail tires fitted in the season, after the first'),
  beadSlips: column('Int32', 'slips', 'bead slips in the season'),
  leaks: column('Int32', 'leaks', 'slow leaks that began in the season'),
  checks: column('Int32', 'readings', 'pressure readings of main tires at scheduled checks in the season'),
  checksLow: column('Int32', 'readings', 'those that read below 90 % of the cold setting'),
  wetPavedLandings: column('Int32', 'landings', 'landings of the season on wet pavement'),
  hydroplaningLandings: column(
    'Int32',
    'landings',
    'those above the hydroplaning speed of a main tire, were the runway flooded',
  ),
  tailHits: column('Float32', 'hits', 'expected stones thrown at the tail in the season'),
  downDays: column('Float32', 'days', 'days lost in the season'),
  flatDays: column('Float64', 'days', 'those lost to flats'),
  flatDaysHazard: column('Float64', 'days', 'compensator of flatDays'),
  cost: column(
    'Float64',
    'money',
    'tires used up, tubes, labour, rescue, lost days and longer flights in the season (tires still on count by tread used); 0 without prices',
  ),
  cruiseCost: column(
    'Float64',
    'money',
    'part of cost: longer flights on gear that takes cruise speed; 0 where none is stated',
  ),
  spinUpWornM3: column('Float32', 'm3', 'rubber worn off main tires by spin-up, all landings followed'),
  brakingWornM3: column('Float32', 'm3', 'the same, braking'),
  pivotWornM3: column('Float32', 'm3', 'the same, pivots'),
  squirmWornM3: column('Float32', 'm3', 'the same, rolling squirm'),
  scrubWornM3: column('Float32', 'm3', 'the same, side scrub'),
  simulatedLandings: column('Int32', 'landings', 'landings computed for this pairing in this trial'),
} as const;

/** Name of a column. */
export type ColumnName = keyof typeof TRIAL_COLUMNS;

interface ArrayOfKind {
  Int32: Int32Array;
  Uint8: Uint8Array;
  Float32: Float32Array;
  Float64: Float64Array;
}

/** The columns of one pairing. */
export type TrialColumns = {
  readonly [Name in ColumnName]: ArrayOfKind[(typeof TRIAL_COLUMNS)[Name]['kind']];
};

/** Results of one pairing: one row per trial, in order of trial number. */
export interface PairingTrials {
  readonly setup: string;
  readonly mix: string;
  readonly rows: number;
  readonly columns: TrialColumns;
  /** Rubber worn off main tires on each surface, m3, one array per surface of the scenario. */
  readonly surfaceWornM3: readonly Float32Array[];
}

const MAKERS: { readonly [Kind in ColumnKind]: (rows: number) => ArrayOfKind[Kind] } = {
  Int32: (rows) => new Int32Array(rows),
  Uint8: (rows) => new Uint8Array(rows),
  Float32: (rows) => new Float32Array(rows),
  Float64: (rows) => new Float64Array(rows),
};

/**
 * Empty results of a pairing.
 *
 * @param scenario compiled scenario, for the number of surfaces.
 * @param setup name of the set-up.
 * @param mix name of the runway mix.
 * @param rows number of trials.
 * @returns columns of zeros.
 */
export function emptyTrials(
  scenario: CompiledScenario,
  setup: string,
  mix: string,
  rows: number,
): PairingTrials {
  const columns = Object.fromEntries(
    Object.entries(TRIAL_COLUMNS).map(([name, { kind }]) => [name, MAKERS[kind](rows)]),
  ) as unknown as TrialColumns;
  return { setup, mix, rows, columns, surfaceWornM3: scenario.surfaces.map(() => new Float32Array(rows)) };
}

/**
 * Copies the rows of one block of trials into the results of a run.
 *
 * @param target results of the run.
 * @param block results of consecutive trials.
 * @param firstRow row of the first of them.
 */
export function placeRows(target: PairingTrials, block: PairingTrials, firstRow: number): void {
  for (const name of Object.keys(TRIAL_COLUMNS) as ColumnName[])
    target.columns[name].set(block.columns[name], firstRow);
  block.surfaceWornM3.forEach((worn, surface) => {
    target.surfaceWornM3[surface]!.set(worn, firstRow);
  });
}

/**
 * The first rows of a pairing's results, without copying.
 *
 * @param trials results of a pairing.
 * @param rows number of rows to keep.
 * @returns results that share memory with the input.
 */
export function firstRows(trials: PairingTrials, rows: number): PairingTrials {
  const columns = Object.fromEntries(
    Object.entries(trials.columns).map(([name, values]) => [name, values.subarray(0, rows)]),
  ) as unknown as TrialColumns;
  return {
    ...trials,
    rows,
    columns,
    surfaceWornM3: trials.surfaceWornM3.map((worn) => worn.subarray(0, rows)),
  };
}
