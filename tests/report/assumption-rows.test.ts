import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { assumptionGroups, type AssumptionRow } from '../../lib/report/assumption-rows.js';
import { compileScenario } from '../../lib/scenario/compile.js';
import { parseScenario } from '../../lib/scenario/read.js';

interface Written {
  readonly assumptions: Readonly<Record<string, Readonly<Record<string, string>>>>;
}

const defaults = JSON.parse(
  readFileSync(new URL('../../scenarios/defaults.json', import.meta.url), 'utf8'),
) as Written;

const SETUP = {
  mainTire: 'rigid 26 deep',
  mainPressure: '25 psi',
  thirdTire: 'nose 8.50-6',
  thirdPressure: '25 psi',
};

function rowsOf(changes: object): ReadonlyMap<string, readonly AssumptionRow[]> {
  const text = JSON.stringify({
    name: 'test',
    setups: { only: SETUP },
    mixes: { only: { 'home pavement': '100 %' } },
    ...changes,
  });
  const groups = assumptionGroups(compileScenario(parseScenario(text).scenario));
  return new Map(groups.map(({ title, rows }) => [title, rows]));
}

function entries(rows: readonly AssumptionRow[] | undefined): string[] {
  return [...new Set(rows?.map(({ entry }) => entry))];
}

describe('the assumptions of a run', () => {
  let plain: ReadonlyMap<string, readonly AssumptionRow[]>;
  beforeAll(() => {
    plain = rowsOf({});
  });

  test('are told with the numbers and the source that stand in the file', () => {
    const rows = plain.get('Wear, cuts, leaks and repairs')!;
    const { p10, p90, source } = defaults.assumptions['abradability']!;
    const abradability = rows.find(({ meaning }) => meaning.includes('per slip work on dry pavement'))!;
    const [low] = p10!.split(' ');
    expect(abradability).toMatchObject({
      range: `8 of 10: ${low!} to ${p90!} (lognormal)`,
      source,
      isFixed: false,
    });
    expect(rows.length).toBeGreaterThan(20);
  });

  test('leave out what no set-up and no mix uses', () => {
    expect(entries(plain.get('Surfaces'))).toEqual(['paved']);
    expect(entries(plain.get('Sidewalls'))).toEqual(['rigid']);
    expect(entries(plain.get('Rubber compounds'))).toEqual(['standard']);
    const strips = { bar: { like: 'valley gravel', taxi: 'turf' } };
    const more = rowsOf({ strips, mixes: { both: { 'home pavement': '50 %', bar: '50 %' } } });
    expect(entries(more.get('Surfaces'))).toEqual(['paved', 'gravel', 'turf']);
  });

  test('are found whatever the entry is called', () => {
    const name = 'no. 1.wearFactor';
    const strips = { bar: { like: 'valley gravel', rollout: name } };
    const surfaces = { [name]: { like: 'gravel' } };
    const more = rowsOf({ strips, surfaces, mixes: { only: { bar: '100 %' } } });
    expect(entries(more.get('Surfaces'))).toEqual(['gravel', name]);
  });

  test('of every form read well', () => {
    const assumption = (form: object): AssumptionRow => {
      const rows = rowsOf({ assumptions: { valveTearChance: { ...form, source: 'me', note: 'twice' } } });
      return rows
        .get('Wear, cuts, leaks and repairs')!
        .find(({ meaning }) => meaning.includes('tears the valve'))!;
    };
    expect(assumption({ value: '5 %' })).toMatchObject({
      middle: '5 %',
      range: 'taken as known',
      isFixed: true,
      source: 'me (twice)',
    });
    expect(assumption({ distribution: 'normal', p10: '4 %', p90: '6 %' })).toMatchObject({
      middle: '5 %',
      range: '8 of 10: 4 to 6 % (normal)',
    });
    expect(assumption({ distribution: 'lognormal', p10: '1 %', p90: '4 %' })).toMatchObject({
      middle: '2 %',
      range: '8 of 10: 1 to 4 % (lognormal)',
    });
    expect(assumption({ distribution: 'uniform', min: '3 %', max: '7 %' })).toMatchObject({
      middle: '5 %',
      range: 'anything from 3 to 7 %, equally likely',
    });
    expect(assumption({ distribution: 'triangular', min: '1 %', mode: '2 %', max: '9 %' })).toMatchObject({
      middle: '2 %',
      range: '1 to 9 %, likeliest at the middle (triangular)',
    });
    expect(assumption({ value: '0.00042 %' })).toMatchObject({ middle: '4.2 × 10⁻⁴ %' });
    expect(assumption({ value: '0 %' })).toMatchObject({ middle: '0 %' });
  });

  test('masses are in the unit of manuals', () => {
    const airplane = plain.get('Airplane')!;
    expect(airplane.find(({ meaning }) => meaning === 'Typical mass at landing.')?.middle).toBe('3150 lb');
  });
});
