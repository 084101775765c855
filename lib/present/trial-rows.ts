import { UsageError } from '../problems.js';
import { daysAfter, DAYS_PER_MONTH, flightHoursAfter } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { REMOVAL_CAUSES, TRIAL_COLUMNS, type ColumnName, type PairingTrials } from '../simulate/columns.js';
import { indexOfName } from '../simulate/names.js';
import type { Simulation } from '../simulate/simulate.js';
import {
  column,
  describeColumns,
  openColumn,
  recordsOf,
  tableOf,
  type Cell,
  type ReadableColumn,
  type Table,
  type TableColumn,
} from './rows.js';

/** Which trials and columns to take. */
export interface TrialSelection {
  /** Name of the set-up; default: all. */
  readonly setup?: string | undefined;
  /** Name of the runway mix; default: all. */
  readonly mix?: string | undefined;
  /** Names of the columns, in the order wanted, from TRIAL_TABLE; default: all. */
  readonly columns?: readonly string[] | undefined;
}

/** What a row is made from: one trial of a pairing. */
interface TrialSource {
  readonly scenario: CompiledScenario;
  readonly trials: PairingTrials;
  readonly pairingNumber: number;
  readonly firstTrial: number;
  readonly row: number;
}

type TrialColumn = ReadableColumn<TrialSource>;

const value =
  (name: ColumnName) =>
  ({ trials, row }: TrialSource): number =>
    trials.columns[name][row]!;

/** Columns whose codes stand for words. */
const CODED: Partial<Record<ColumnName, { readonly words: readonly string[]; readonly meaning: string }>> = {
  lifeCause: { words: REMOVAL_CAUSES, meaning: 'why the first main tire came off' },
  lifeWheel: { words: ['left', 'right', 'none yet'], meaning: 'which main tire came off first' },
  thirdLifeCause: { words: REMOVAL_CAUSES, meaning: 'why the first nose or tail tire came off' },
};

/** Columns of landings that are also given in flight hours and months; a negative one lies beyond the horizon. */
const CLOCKS: Partial<Record<ColumnName, { readonly open: boolean; readonly meaning: string }>> = {
  lifeLandings: { open: false, meaning: TRIAL_COLUMNS.lifeLandings.meaning },
  treadLimitLandings: {
    open: true,
    meaning: 'wear alone takes a main tire to the tread limit; missing if not within the horizon',
  },
  cordsLandings: {
    open: true,
    meaning: 'wear alone makes cords show on a main tire; missing if not within the horizon',
  },
  thirdLifeLandings: { open: false, meaning: TRIAL_COLUMNS.thirdLifeLandings.meaning },
};

/** `treadLimitLandings` as `tread_limit_landings`; a unit that the name does not hold is put behind it. */
function tableName(name: string, unit = ''): string {
  const words = name.replaceAll(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
  return unit === '' || `_${words}_`.includes(`_${unit}_`) ? words : `${words}_${unit}`;
}

/** A meaning with the columns it names called as they are in the table. */
function tableMeaning(meaning: string): string {
  return meaning.replaceAll(/\b[a-z]+[A-Z]\w*/g, (name) => tableName(name));
}

function clockColumns(name: ColumnName, open: boolean, meaning: string): TrialColumn[] {
  const landings = tableName(name, 'landings');
  const read = value(name);
  const variants = [
    ['whole', 'landings', (_: TrialSource, count: number): number => count],
    [
      'number',
      'hours',
      ({ scenario }: TrialSource, count: number) => flightHoursAfter(scenario.calendar, count),
    ],
    [
      'number',
      'months',
      ({ scenario }: TrialSource, count: number) => daysAfter(scenario.calendar, count) / DAYS_PER_MONTH,
    ],
  ] as const;
  return variants.map(([kind, unit, clock]): TrialColumn => {
    const unitName = landings.replace('landings', unit);
    const text = unit === 'landings' ? meaning : `the same in ${unit === 'hours' ? 'flight hours' : unit}`;
    if (!open) return column(kind, unitName, unit, text, (source) => clock(source, read(source)));
    return openColumn(kind, unitName, unit, text, (source) => {
      const count = read(source);
      return count < 0 ? null : clock(source, count);
    });
  });
}

/** The columns of a table of trials that come from one column of the simulator. */
function columnsOf(name: ColumnName): TrialColumn[] {
  const { kind, unit, meaning } = TRIAL_COLUMNS[name];
  const read = value(name);
  const coded = CODED[name];
  if (coded !== undefined) {
    return [column('text', tableName(name), '', coded.meaning, (source) => coded.words[read(source)]!)];
  }
  const clock = CLOCKS[name];
  if (clock !== undefined) return clockColumns(name, clock.open, clock.meaning);
  if (unit === '0 or 1') {
    return [column('yes-no', tableName(name), '', tableMeaning(meaning), (source) => read(source) === 1)];
  }
  if (unit === 'money') {
    const text = meaning.replace('0 without prices', 'missing without prices');
    return [
      openColumn('number', tableName(name, unit), unit, text, (source) =>
        source.scenario.costs === null ? null : read(source),
      ),
    ];
  }
  const isWhole = kind === 'Int32' || kind === 'Uint8';
  return [column(isWhole ? 'whole' : 'number', tableName(name, unit), unit, tableMeaning(meaning), read)];
}

const COLUMNS: readonly TrialColumn[] = [
  column('text', 'setup', '', 'tire set-up', ({ trials }) => trials.setup),
  column('text', 'mix', '', 'runway mix', ({ trials }) => trials.mix),
  column(
    'whole',
    'pairing_number',
    'number',
    'place of the pairing in the run, from 0',
    (source) => source.pairingNumber,
  ),
  column(
    'whole',
    'trial_number',
    'number',
    'number of the trial, from 0, as replay takes it',
    (source) => source.firstTrial + source.row,
  ),
  ...(Object.keys(TRIAL_COLUMNS) as ColumnName[]).flatMap(columnsOf),
];

/** Columns of the table of trials: names, kinds, units and meanings. */
export const TRIAL_TABLE: readonly TableColumn[] = describeColumns(COLUMNS);

function selectColumns(names: readonly string[] | undefined): readonly TrialColumn[] {
  if (names === undefined) return COLUMNS;
  if (names.length === 0) throw new UsageError('there is no column to show: give at least one');
  const twice = names.find((name, index) => names.indexOf(name) < index);
  if (twice !== undefined) throw new UsageError(`the column "${twice}" is asked for twice`);
  return names.map((name) => COLUMNS[indexOfName('column', name, COLUMNS)]!);
}

type Numbered = readonly [pairingNumber: number, trials: PairingTrials];

function selectPairings({ pairings }: Simulation, { setup, mix }: TrialSelection): readonly Numbered[] {
  const named = (key: 'setup' | 'mix'): { readonly name: string }[] =>
    [...new Set(pairings.map((pairing) => pairing[key]))].map((name) => ({ name }));
  if (setup !== undefined) indexOfName('set-up', setup, named('setup'));
  if (mix !== undefined) indexOfName('runway mix', mix, named('mix'));
  const selected = [...pairings.entries()].filter(
    ([, pairing]) => (setup ?? pairing.setup) === pairing.setup && (mix ?? pairing.mix) === pairing.mix,
  );
  // A run may hold some of the pairings only, so that both names exist but not together.
  if (selected.length === 0 && setup !== undefined && mix !== undefined) {
    throw new UsageError(`the set-up "${setup}" was not run on the runway mix "${mix}"`);
  }
  return selected;
}

/**
 * The table of trials of a simulation.
 *
 * @throws UsageError for a set-up, mix or column that does not exist.
 */
export function trialTable(
  scenario: CompiledScenario,
  simulation: Simulation,
  selection: TrialSelection,
): Table {
  const { firstTrial } = simulation;
  const columns = selectColumns(selection.columns);
  const pairings = selectPairings(simulation, selection);
  const count = pairings.reduce((sum, [, { rows }]) => sum + rows, 0);
  return tableOf(columns, count, function* (): Generator<TrialSource> {
    for (const [pairingNumber, trials] of pairings) {
      for (let row = 0; row < trials.rows; row++) {
        yield { scenario, trials, pairingNumber, firstTrial, row };
      }
    }
  });
}

/**
 * The trials as rows: lives in landings, flight hours and months, codes as words; {@link TRIAL_TABLE} describes the
 * columns. Twins are left out, so that means over the rows are the means of the result.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @param selection set-up, mix and columns; default: all.
 * @returns one record per pairing and trial, made one by one as they are read. null stands where a value is missing.
 * @throws UsageError for a set-up, mix or column that does not exist.
 */
export function trialRows(
  scenario: CompiledScenario,
  simulation: Simulation,
  selection: TrialSelection = {},
): Iterable<Record<string, Cell>> {
  const table = trialTable(scenario, simulation, selection);
  return { [Symbol.iterator]: () => recordsOf(table) };
}
