import { beforeAll, describe, expect, test } from 'vitest';
import { CURVE_TABLE, curveRows } from '../../lib/present/curve-rows.js';
import { PAIRING_TABLE, pairingRows } from '../../lib/present/pairing-rows.js';
import type { Cell, TableColumn } from '../../lib/present/rows.js';
import { TRIAL_TABLE, trialRows } from '../../lib/present/trial-rows.js';
import { daysAfter, flightHoursAfter } from '../../lib/scenario/calendar.js';
import { REMOVAL_CAUSES, TRIAL_COLUMNS, type ColumnName } from '../../lib/simulate/columns.js';
import { replay } from '../../lib/simulate/replay.js';
import type { Simulation } from '../../lib/simulate/simulate.js';
import { renamed, runShipped, type ShippedRun } from '../support/results.js';

type Row = Readonly<Record<string, Cell>>;

let first: ShippedRun;
let priced: ShippedRun;

beforeAll(async () => {
  first = await runShipped('first.json', 12);
  priced = await runShipped('mixed-season.json', 4);
});

const tables: readonly (readonly [string, readonly TableColumn[], (run: ShippedRun) => readonly Row[]])[] = [
  ['pairings', PAIRING_TABLE, ({ result }) => pairingRows(result)],
  ['trials', TRIAL_TABLE, ({ scenario, simulation }) => [...trialRows(scenario, simulation)]],
  ['curve points', CURVE_TABLE, ({ result }) => curveRows(result)],
];

/** The simulation with other values in one column of the first pairing. */
function withValues(simulation: Simulation, name: ColumnName, values: readonly number[]): Simulation {
  const [pairing, ...others] = simulation.pairings;
  const changed = pairing!.columns[name].slice();
  changed.set(values);
  return {
    ...simulation,
    pairings: [{ ...pairing!, columns: { ...pairing!.columns, [name]: changed } }, ...others],
  };
}

describe.each(tables)('the table of %s', (_, columns, rowsOf) => {
  test('names its columns in plain words, each once, with a meaning', () => {
    const names = columns.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    for (const { name, meaning } of columns) {
      expect(name).toMatch(/^[a-z][a-z0-9]*(_[a-z0-9]+)*$/);
      expect(meaning, name).toMatch(/^.{4,}$/);
    }
  });

  test('holds the unit of every number in its name, and none for text and yes or no', () => {
    expect(columns.filter(({ kind }) => kind === 'number').length).toBeGreaterThan(3);
    for (const { name, kind, unit, mayBeMissing } of columns) {
      if (kind === 'text' || kind === 'yes-no') expect(unit, name).toBe('');
      else expect(`_${name}_`).toContain(`_${unit.replaceAll(' ', '_')}_`);
      if (kind === 'text') expect(mayBeMissing, name).toBe(false);
    }
  });

  test('has rows that keep to it', () => {
    for (const run of [first, priced]) {
      const rows = rowsOf(run);
      expect(rows.length).toBeGreaterThan(1);
      for (const row of rows) {
        expect(Object.keys(row)).toEqual(columns.map(({ name }) => name));
        for (const { name, kind, mayBeMissing } of columns) {
          const value = row[name] ?? null;
          if (mayBeMissing && value === null) continue;
          if (kind === 'text') expect(value, name).toBeTypeOf('string');
          else if (kind === 'yes-no') expect(value, name).toBeTypeOf('boolean');
          else
            expect(kind === 'whole' ? Number.isSafeInteger(value) : Number.isFinite(value), name).toBe(true);
        }
      }
    }
  });

  test('says which pairing a row is about, by its names and by its place in the run', () => {
    const { pairings } = priced.result;
    const rows = rowsOf(priced);
    expect(new Set(rows.map((row) => row['pairing_number']))).toEqual(new Set(pairings.keys()));
    for (const row of rows) {
      const pairing = pairings[Number(row['pairing_number'])]!;
      expect([row['setup'], row['mix']]).toEqual([pairing.setup, pairing.mix]);
    }
  });
});

describe('a row of a pairing', () => {
  test('holds the figures of the result', () => {
    for (const { result } of [first, priced]) {
      const rows = pairingRows(result);
      expect(rows).toHaveLength(result.pairings.length);
      result.pairings.forEach((pairing, index) => {
        const { life, treadLimit, cords, thirdWheel, puncture, doubts, season } = pairing;
        expect(rows[index]).toMatchObject({
          life_hours_p10: life.hours.p10,
          life_landings_p50: life.landings.p50,
          life_months_p90: life.months.p90,
          life_hours_p50_mc95_lower: life.hours.intervals.p50.lower,
          life_hours_p50_mc95_upper: life.hours.intervals.p50.upper,
          life_hours_mean: life.hours.mean,
          life_hours_standard_error: life.hours.standardError,
          life_beyond_horizon_share: life.beyondHorizon,
          tread_limit_hours_p50: treadLimit.hours.p50,
          cords_months_mean: cords.months.mean,
          third_wheel: thirdWheel.position,
          third_life_landings_p50: thirdWheel.life.landings.p50,
          flats_per_100_landings: puncture.per100Landings.estimate,
          flat_chance_season_mc95_upper: puncture.season.upper,
          flat_chance_away_from_help: puncture.awayFromHelp.estimate,
          flat_chance_season_worlds_p90: puncture.acrossWorlds.p90,
          flats_sidewall_share: puncture.byKind.sidewall.estimate,
          removed_cut_share: pairing.removalCauses.cut.estimate,
          wear_spin_up_share: pairing.wearShares.byCause['spin-up'].estimate,
          worn_outer_shoulder_mm: pairing.bandWearMm.outerShoulder.estimate,
          life_hours_luck_sd: doubts.lifeHours.luck,
          flat_chance_season_ignorance_sd: doubts.punctureSeason.ignorance,
          life_hours_numerical_se: doubts.lifeHours.numerical,
          main_tires_fitted_first_season: season.mainTiresFitted.estimate,
          low_readings_share: season.lowReadings.estimate,
          cost_money_first_season: season.cost?.estimate ?? null,
          cost_money_per_flight_hour: season.costPerFlightHour?.estimate ?? null,
          currency: result.currency ?? '',
        });
      });
    }
    expect(first.result.currency).toBeNull();
    expect(priced.result.currency).not.toBeNull();
    expect(pairingRows(priced.result)[0]!['cost_money_first_season']).toBeGreaterThan(0);
  });

  test('splits flats, ends and wear into shares that add up', () => {
    const sum = (row: Row, pattern: RegExp): number =>
      Object.entries(row).reduce((all, [name, value]) => all + (pattern.test(name) ? Number(value) : 0), 0);
    pairingRows(priced.result).forEach((row) => {
      expect(sum(row, /^flats_[a-z]+_share$/)).toBeCloseTo(1, 12);
      expect(sum(row, /^wear_.*_share$/)).toBeCloseTo(1, 12);
      expect(sum(row, /^removed_.*_share$/)).toBeCloseTo(1 - Number(row['life_beyond_horizon_share']), 12);
    });
  });
});

describe('a row of a trial', () => {
  test('holds every column of the simulator, codes as words', () => {
    const { scenario, simulation } = priced;
    const rows = [...trialRows(scenario, simulation)];
    expect(rows).toHaveLength(simulation.trials * simulation.pairings.length);
    // Lives in hours and months stand behind those in landings; four columns say which trial it is.
    const plain = TRIAL_TABLE.slice(4).filter(({ name }) => !/_(hours|months)$/.test(name));
    const names = Object.keys(TRIAL_COLUMNS) as ColumnName[];
    expect(plain).toHaveLength(names.length);
    const words: Partial<Record<ColumnName, readonly Cell[]>> = {
      lifeCause: REMOVAL_CAUSES,
      thirdLifeCause: REMOVAL_CAUSES,
      lifeWheel: ['left', 'right', 'none yet'],
      anyFlat: [false, true],
      anyFlatAway: [false, true],
    };
    names.forEach((name, index) => {
      const column = plain[index]!.name;
      expect(column.replaceAll('_', '')).toMatch(new RegExp(`^${name.toLowerCase()}`));
      const expected = simulation.pairings.flatMap(({ columns }) => Array.from(columns[name]));
      const known = words[name];
      expect(rows.map((row) => row[column])).toEqual(
        known === undefined ? expected : expected.map((code) => known[code]),
      );
    });
  });

  test('gives lives in flight hours and months of the season flown', () => {
    const { scenario, simulation } = first;
    for (const row of trialRows(scenario, simulation)) {
      for (const name of ['life', 'tread_limit', 'cords', 'third_life']) {
        const landings = Number(row[`${name}_landings`]);
        expect(row[`${name}_hours`]).toBe(flightHoursAfter(scenario.calendar, landings));
        expect(row[`${name}_months`]).toBe(daysAfter(scenario.calendar, landings) / (365 / 12));
      }
    }
  });

  test('leaves out what was not reached, and money where there are no prices', () => {
    const { scenario, simulation } = first;
    const unreached = withValues(
      withValues(simulation, 'treadLimitLandings', [-1]),
      'cordsLandings',
      [-1, 0],
    );
    const [one, two] = trialRows(scenario, unreached);
    for (const unit of ['landings', 'hours', 'months']) {
      expect([one![`tread_limit_${unit}`], one![`cords_${unit}`]]).toEqual([null, null]);
      expect(two![`cords_${unit}`]).toBe(0);
    }
    expect(two!['tread_limit_landings']).toBeGreaterThan(0);
    expect(one!['cost_money']).toBeNull();
    expect([...trialRows(priced.scenario, priced.simulation)][0]!['cost_money']).toBeGreaterThan(0);
  });

  test('names the wheel and the cause that a replay shows', () => {
    const { scenario, simulation } = priced;
    const rows = [...trialRows(scenario, simulation)].filter((row) => row['life_cause'] !== 'in service');
    const seen = new Set(rows.map((row) => row['life_wheel']));
    expect(seen).toEqual(new Set(['left', 'right']));
    for (const wheel of seen) {
      const row = rows.find((each) => each['life_wheel'] === wheel)!;
      const { setup, mix, trial_number: trial } = row as Record<string, string> & { trial_number: number };
      const { landings } = replay(scenario, { setup: setup!, mix: mix!, trial });
      const last = landings[Number(row['life_landings']) - 1]!;
      const removed = last.wheels.find(({ position }) => position === `${String(wheel)} main`)!.removed;
      expect(removed).toBe(row['life_cause']);
    }
  });

  test('counts trials as the run does', async () => {
    const { scenario, simulation } = await runShipped('first.json', 2, 8);
    const numbers = [...trialRows(scenario, simulation)].map((row) => row['trial_number']);
    expect(numbers).toEqual([8, 9, 8, 9]);
  });

  test('can be chosen by set-up, mix and column, and read again', () => {
    const { scenario, simulation } = priced;
    const { setup, mix } = simulation.pairings[4]!;
    const of = (selection: Parameters<typeof trialRows>[2]): Row[] => [
      ...trialRows(scenario, simulation, selection),
    ];
    const all = of({});
    expect(of({ setup })).toEqual(all.filter((row) => row['setup'] === setup));
    expect(of({ mix })).toEqual(all.filter((row) => row['mix'] === mix));
    expect(of({ setup, mix })).toHaveLength(simulation.trials);
    const columns = ['life_hours', 'setup'];
    const rows = trialRows(scenario, simulation, { mix, columns });
    expect([...rows].map(Object.keys)).toEqual(of({ mix }).map(() => columns));
    expect([...rows]).toEqual([...rows]);
  });

  test('that does not exist is refused with the nearest name', () => {
    const { scenario, simulation } = first;
    const { setup, mix } = simulation.pairings[0]!;
    const of = (selection: Parameters<typeof trialRows>[2]): (() => unknown) => {
      return () => trialRows(scenario, simulation, selection);
    };
    expect(of({ setup: setup.replace('p', 'b') })).toThrow(`did you mean "${setup}"?`);
    expect(of({ mix: 'x' })).toThrow(`there is no runway mix named "x"; there are: ${mix}`);
    expect(of({ columns: ['life_hour'] })).toThrow('did you mean "life_hours"?');
    expect(of({ columns: ['setup', 'setup'] })).toThrow('the column "setup" is asked for twice');
    expect(of({ columns: [] })).toThrow('at least one');
    const apart = renamed(first, [
      ['a', 'b'],
      ['c', 'd'],
    ]);
    expect(() => trialRows(apart.scenario, apart.simulation, { setup: 'a', mix: 'd' })).toThrow(
      'the set-up "a" was not run on the runway mix "d"',
    );
  });
});

describe('a row of a curve point', () => {
  test('holds the curves of the result', () => {
    const rows = curveRows(priced.result);
    const expected = priced.result.pairings.flatMap(({ setup, mix, curves }, number) =>
      curves.landings.map((landings, point) => ({
        setup,
        mix,
        pairing_number: number,
        landings,
        flight_hours: curves.hours[point],
        in_service_chance: curves.survival[point],
        in_service_chance_mc95_lower: curves.lower[point],
        in_service_chance_mc95_upper: curves.upper[point],
        ended_worn_chance: curves.incidence.worn[point],
        ended_cut_chance: curves.incidence.cut[point],
        ended_puncture_chance: curves.incidence.puncture[point],
        ended_pressure_chance: curves.incidence.pressure[point],
        ended_age_chance: curves.incidence.age[point],
      })),
    );
    expect(rows).toEqual(expected);
    for (const row of rows) {
      const ended = Object.entries(row).reduce(
        (sum, [name, value]) => sum + (name.startsWith('ended_') ? Number(value) : 0),
        0,
      );
      expect(ended + Number(row['in_service_chance'])).toBeCloseTo(1, 12);
    }
  });
});
