import danfo, { DataFrame } from 'danfojs-node';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { trialsCsv } from '../../lib/present/csv.js';
import { CURVE_TABLE, curveRows } from '../../lib/present/curve-rows.js';
import type { Frame } from '../../lib/present/frame-types.js';
import { curveFrame, pairingFrame, trialFrame } from '../../lib/present/frames.js';
import { PAIRING_TABLE, pairingRows } from '../../lib/present/pairing-rows.js';
import type { Cell, TableColumn } from '../../lib/present/rows.js';
import { TRIAL_TABLE, trialRows } from '../../lib/present/trial-rows.js';
import { UsageError } from '../../lib/problems.js';
import { inFolder } from '../support/command.js';
import { renamed, runShipped, type ShippedRun } from '../support/results.js';

let run: ShippedRun;

beforeAll(async () => {
  run = await runShipped('mixed-season.json', 8);
});

type Row = Readonly<Record<string, Cell>>;

function expectRows(frame: Frame, columns: readonly TableColumn[], rows: readonly Row[]): void {
  expect(frame).toBeInstanceOf(DataFrame);
  expect(frame.shape).toEqual([rows.length, columns.length]);
  expect(frame.columns).toEqual(columns.map(({ name }) => name));
  expect(frame.index).toEqual([...rows.keys()]);
  const dtypes = columns.map(({ kind, mayBeMissing }) => {
    if (kind === 'text') return 'string';
    if (kind === 'yes-no') return 'boolean';
    return kind === 'whole' && !mayBeMissing ? 'int32' : 'float32';
  });
  expect(frame.dtypes).toEqual(dtypes);
  for (const { name } of columns) {
    // toEqual tells NaN from every number, and 0 from -0.
    expect(frame.column(name).values, name).toEqual(rows.map((row) => row[name] ?? NaN));
  }
}

describe('a data frame', () => {
  test('of pairings holds their rows, NaN where a figure is not known', async () => {
    const frame = await pairingFrame(run.result);
    expectRows(frame, PAIRING_TABLE, pairingRows(run.result));
    // Eight trials are too few to tell luck from ignorance.
    expect(frame.column('life_hours_luck_sd').values[0]).toBeNaN();
  });

  test('of trials holds their rows, all or some', async () => {
    const { scenario, simulation } = run;
    expectRows(await trialFrame(scenario, simulation), TRIAL_TABLE, [...trialRows(scenario, simulation)]);
    const { setup, mix } = simulation.pairings[7]!;
    const columns = ['life_cause', 'any_flat', 'life_hours', 'flats'];
    const selection = { setup, mix, columns };
    expectRows(
      await trialFrame(scenario, simulation, selection),
      columns.map((name) => TRIAL_TABLE.find((column) => column.name === name)!),
      [...trialRows(scenario, simulation, selection)],
    );
  });

  test('of curve points holds their rows', async () => {
    expectRows(await curveFrame(run.result), CURVE_TABLE, curveRows(run.result));
  });

  test('takes any name as it is', async () => {
    const odd = renamed(run, [
      ['a, "b"', 'two\nlines'],
      ['<script>alert(1)</script>', '=1+1'],
      ['12', 'true'],
      ['1-1', 'NaN'],
    ]);
    expectRows(await pairingFrame(odd.result), PAIRING_TABLE, pairingRows(odd.result));
    const trials = [...trialRows(odd.scenario, odd.simulation)];
    expectRows(await trialFrame(odd.scenario, odd.simulation), TRIAL_TABLE, trials);
  });

  test('may have no rows', async () => {
    const frame = await pairingFrame({ ...run.result, pairings: [] });
    expect([frame.shape, frame.columns.length]).toEqual([[0, PAIRING_TABLE.length], PAIRING_TABLE.length]);
  });

  test('has no column whose name hides a method of danfojs', () => {
    // danfojs makes every column a property of the frame.
    const frame = new DataFrame([[1]], { columns: ['x'] });
    expect('x' in frame && 'mean' in frame && '$data' in frame).toBe(true);
    for (const { name } of [...PAIRING_TABLE, ...TRIAL_TABLE, ...CURVE_TABLE]) {
      expect(name in frame && name !== 'x', name).toBe(false);
    }
  });

  test('that would fill the memory is refused before it is made', async () => {
    const { scenario, simulation } = run;
    const huge = {
      ...simulation,
      pairings: simulation.pairings.map((table) => ({ ...table, rows: 100_000 })),
    };
    const refused = await trialFrame(scenario, huge).catch((error: unknown) => error);
    expect(refused).toBeInstanceOf(UsageError);
    expect((refused as Error).message).toMatch(
      / are too many for a data frame, .* choose a set-up, a mix or columns, or write CSV$/,
    );
    expect((refused as Error).message).toContain(`1500000 rows of ${TRIAL_TABLE.length} columns`);
  });

  test('of names that do not exist is refused', async () => {
    const { scenario, simulation } = run;
    await expect(trialFrame(scenario, simulation, { columns: ['life_hour'] })).rejects.toThrow(
      'did you mean "life_hours"?',
    );
  });
});

describe('danfojs', () => {
  test('finds the means that the result has', async () => {
    const { scenario, simulation, result } = run;
    const frame = await trialFrame(scenario, simulation);
    const figures = ['life_hours', 'third_life_landings', 'mains_fitted_tires', 'third_fitted_tires'];
    const means = frame.groupby(['pairing_number']).col(figures).mean();
    expect(means.column('pairing_number').values).toEqual([...result.pairings.keys()]);
    // Summing n doubles of one sign one after the other is wrong by n roundings at most, (n - 1) 2^-53 of the sum
    // (Higham, Accuracy and Stability of Numerical Algorithms, 2nd edition, section 4.2; from memory); ours by about two.
    const tolerance = (simulation.trials + 2) * 2 ** -53;
    result.pairings.forEach(({ life, thirdWheel, season }, index) => {
      const expected = [
        life.hours.mean,
        thirdWheel.life.landings.mean,
        season.mainTiresFitted.estimate,
        season.thirdTiresFitted.estimate,
      ];
      figures.forEach((figure, place) => {
        const mean = Number(means.column(`${figure}_mean`).values[index]);
        expect(Math.abs(mean - expected[place]!)).toBeLessThanOrEqual(tolerance * expected[place]!);
      });
    });
  });

  test('finds the shares of ends and of trials with a flat', async () => {
    const { scenario, simulation, result } = run;
    const [pairing] = result.pairings;
    const { setup, mix } = pairing!;
    const frame = await trialFrame(scenario, simulation, { setup, mix });
    const causes = frame.column('life_cause').valueCounts();
    causes.index.forEach((cause, row) => {
      const share = Number(causes.values[row]) / simulation.trials;
      expect(pairing!.removalCauses[cause as 'worn'].estimate).toBeCloseTo(share, 12);
    });
    expect(frame.column('any_flat').sum()).toBe(pairing!.puncture.season.counted.events);
  });

  test('does with a frame what its type lists', async () => {
    const { scenario, simulation } = run;
    const columns = ['pairing_number', 'mix', 'trial_number', 'life_hours'];
    const frame = await trialFrame(scenario, simulation, { columns });
    const rows = [...trialRows(scenario, simulation, { columns })];
    const hours = rows.map((row) => Number(row['life_hours']));
    const life = frame.column('life_hours');
    const sorted = hours.toSorted((a, b) => a - b);
    expect([life.count(), life.min(), life.max()]).toEqual([120, sorted[0], sorted[119]]);
    expect(life.median()).toBeCloseTo((sorted[59]! + sorted[60]!) / 2, 9);
    const mean = hours.reduce((sum, each) => sum + each, 0) / 120;
    const squares = hours.reduce((sum, each) => sum + (each - mean) ** 2, 0);
    expect([life.sum() / 120, life.mean()]).toEqual([mean, mean]);
    expect(life.std()).toBeCloseTo(Math.sqrt(squares / 119), 9);
    expect(frame.column('mix').unique().values).toEqual([...new Set(rows.map((row) => row['mix']))]);

    // Filtered twice: the rows have to be numbered anew in between.
    const half = sorted[60]!;
    const [oneMix] = frame.column('mix').values;
    const long = frame.query(life.ge(half));
    const longRows = rows.filter((_, row) => hours[row]! >= half);
    expect(long.index).toEqual([...rows.keys()].filter((row) => hours[row]! >= half));
    const again = long.resetIndex();
    expect(again.dtypes).toEqual(frame.dtypes);
    const both = again.query(again.column('mix').eq(oneMix!));
    const bothRows = longRows.filter((row) => row['mix'] === oneMix);
    expect(both.column('life_hours').values).toEqual(bothRows.map((row) => row['life_hours']));
    const atOnce = frame.query(life.ge(half).and(frame.column('mix').eq(oneMix!)));
    expect(atOnce.column('trial_number').values).toEqual(both.column('trial_number').values);
    expect(frame.query(life.lt(half).or(life.gt(half))).shape[0]).toBe(
      hours.filter((h) => h !== half).length,
    );
    expect(frame.query(life.ne(half)).shape).toEqual(frame.query(life.lt(half).or(life.gt(half))).shape);
    expect(frame.query(life.le(-1)).shape).toEqual([0, 4]);

    expect(frame.head(3).column('life_hours').values).toEqual(hours.slice(0, 3));
    expect(frame.tail(2).column('life_hours').values).toEqual(hours.slice(-2));
    const corner = frame.iloc({ rows: ['10:12'], columns: [2, 3] });
    expect([corner.columns, corner.column('life_hours').values]).toEqual([
      ['trial_number', 'life_hours'],
      hours.slice(10, 12),
    ]);
    const days = frame.addColumn(
      'life_days',
      hours.map((each) => each / 24),
    );
    expect(days.column('life_days').values[5]).toBe(hours[5]! / 24);
    expect(days.drop({ columns: ['life_hours'] }).columns).toEqual([...columns.slice(0, 3), 'life_days']);
    expect(frame.columns).toEqual(columns);
    expect(frame.copy().column('life_hours').values).toEqual(hours);
    expect(frame.toString()).toContain('life_hours');

    const groups = frame.groupby(['pairing_number']).col(['life_hours']);
    const firstHours = hours.slice(0, 8);
    for (const statistics of [groups.min(), groups.max(), groups.count(), groups.sum()]) {
      expect(statistics.shape).toEqual([15, 2]);
    }
    expect(groups.min().column('life_hours_min').values[0]).toBe(Math.min(...firstHours));
    expect(groups.count().column('life_hours_count').values[0]).toBe(8);
    const several = frame.groupby(['pairing_number']).agg({ life_hours: ['max', 'std', 'median'] });
    expect(several.columns).toEqual([
      'pairing_number',
      'life_hours_max',
      'life_hours_std',
      'life_hours_median',
    ]);
    expect(several.column('life_hours_std').values).toEqual(groups.std().column('life_hours_std').values);
    const [, , , low, high] = firstHours.toSorted((a, b) => a - b);
    expect(several.column('life_hours_median').values[0]).toBeCloseTo((low! + high!) / 2, 9);
  });

  test('leaves missing values out of the statistics of a column, and never counts them as 0', async () => {
    const { scenario, simulation } = run;
    const [pairing] = simulation.pairings;
    const treadLimitLandings = pairing!.columns.treadLimitLandings.slice();
    treadLimitLandings[2] = -1;
    const open = { ...pairing!, columns: { ...pairing!.columns, treadLimitLandings } };
    const frame = await trialFrame(
      scenario,
      { ...simulation, pairings: [open] },
      { columns: ['pairing_number', 'tread_limit_landings'] },
    );
    const known = Array.from(treadLimitLandings).filter((landings) => landings >= 0);
    const mean = known.reduce((sum, landings) => sum + landings, 0) / 7;
    const column = frame.column('tread_limit_landings');
    expect([column.count(), column.mean(), column.isNa().sum()]).toEqual([7, mean, 1]);
    const meanOf = (rows: Pick<Frame, 'groupby'>): unknown =>
      rows
        .groupby(['pairing_number'])
        .col(['tread_limit_landings'])
        .mean()
        .column('tread_limit_landings_mean').values[0];
    expect(meanOf(frame)).toBeNaN();
    expect(frame.dropNa().shape).toEqual([7, 2]);
    expect(meanOf(frame.dropNa())).toBe(mean);
  });

  test('reads back the CSV that was written', () =>
    inFolder(async (folder) => {
      const { scenario, simulation } = run;
      const file = join(folder, 'trials.csv');
      writeFileSync(file, [...trialsCsv(scenario, simulation)].join(''));
      const read = await danfo.readCSV(file);
      const frame = await trialFrame(scenario, simulation);
      expect(read.columns).toEqual(frame.columns);
      for (const name of frame.columns) {
        expect(read.column(name).values, name).toEqual(frame.column(name).values);
      }
    }));
});
