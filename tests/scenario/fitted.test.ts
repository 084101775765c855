import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ScenarioError } from '../../lib/problems.js';
import { assumptionField } from '../../lib/scenario/assumption-fields.js';
import { compileScenario } from '../../lib/scenario/compile.js';
import { parseScenario, readScenario } from '../../lib/scenario/read.js';

const BASE = {
  name: 'fitted',
  setups: {
    soft: { mainTire: 'soft 29', mainPressure: '9 psi', thirdTire: 'nose 8.50-6', thirdPressure: '20 psi' },
  },
  mixes: { all: { 'home pavement': '50 %', 'valley gravel': '50 %' } },
};
const SOURCE = 'fitted to log.json (12 records, 2024-05-01 to 2024-09-30)';
const margin = { distribution: 'lognormal', p10: '0.09 mm3/J', p90: '0.12 mm3/J', source: SOURCE };
const FITTED = {
  assumptions: { abradability: margin },
  fitted: {
    source: SOURCE,
    columns: [
      { assumption: 'assumptions.abradability', unit: 'mm3/J' },
      { assumption: 'surfaces.gravel.wearFactor', unit: '' },
      { assumption: 'assumptions.gaugeBias', unit: 'psi' },
    ],
    draws: [
      [0.1, 2, -0.2],
      [0.11, 1.8, 0.1],
      [0.09, 2.2, 0.3],
    ],
  },
};

test('draws come out in SI units, row by row, with their medians', () => {
  const { fitted, assumptions } = compileScenario(
    parseScenario(JSON.stringify({ ...BASE, ...FITTED })).scenario,
  );
  expect(fitted!.indices.map((index) => assumptions[index]!.path)).toEqual(
    FITTED.fitted.columns.map(({ assumption }) => assumption),
  );
  expect(fitted!.rows).toBe(3);
  expect(fitted!.source).toBe(SOURCE);
  expect(fitted!.draws[0]).toBeCloseTo(1e-10, 20);
  expect(fitted!.draws[3]).toBeCloseTo(1.1e-10, 20);
  // 1 psi = 6894.757293168 Pa.
  expect(fitted!.draws[2]).toBeCloseTo(-0.2 * 6894.757293168, 6);
  expect(fitted!.medians[1]).toBe(2);
});

test('a scenario without fitted assumptions compiles to what it was', () => {
  expect(compileScenario(parseScenario(JSON.stringify(BASE)).scenario)).not.toHaveProperty('fitted');
});

test('all that is wrong is told at once, with its place and the nearest name', () => {
  const bad = {
    ...BASE,
    fitted: {
      source: SOURCE,
      columns: [
        { assumption: 'assumptions.abradabilty', unit: 'mm3/J' },
        { assumption: 'surfaces.gravel.wearFactor', unit: 'psi' },
        { assumption: 'assumptions.bandGain', unit: '' },
        { assumption: 'assumptions.bandGain', unit: '' },
      ],
      draws: [
        [1, 2, 300, 1],
        [1, 2],
      ],
    },
  };
  const told = (): readonly string[] => {
    try {
      parseScenario(JSON.stringify(bad));
    } catch (error) {
      if (error instanceof ScenarioError) {
        return error.problems.map(
          ({ path, suggestion }) => `${path}${suggestion === undefined ? '' : ` ${suggestion}`}`,
        );
      }
      throw error;
    }
    return [];
  };
  expect(told()).toEqual([
    'fitted.columns[0].assumption did you mean "assumptions.abradability"?',
    'fitted.columns[1].unit',
    'fitted.draws[0][2]',
    'fitted.columns[3].assumption',
    'fitted.draws[1]',
  ]);
});

test('what a later file states goes before the fit; what an earlier one states does not', () => {
  const folder = mkdtempSync(join(tmpdir(), 'fitted-'));
  const write = (name: string, value: object): string => {
    const file = join(folder, name);
    writeFileSync(file, JSON.stringify(value));
    return file;
  };
  write('fit.json', FITTED);
  write('base.json', { ...BASE, surfaces: { gravel: { wearFactor: { value: '1.5', source: 'before' } } } });
  const mine = write('mine.json', {
    extends: ['base.json', 'fit.json'],
    assumptions: { abradability: { value: '0.2 mm3/J', source: 'mine' } },
  });
  const { fitted, assumptions } = compileScenario(readScenario(mine).scenario);
  expect(fitted!.indices.map((index) => assumptions[index]!.path)).toEqual([
    'surfaces.gravel.wearFactor',
    'assumptions.gaugeBias',
  ]);
  expect(fitted!.draws.length).toBe(6);
  const changes = {
    assumptions: { gaugeBias: { value: '0 psi', source: 'what if' } },
    surfaces: { gravel: { wearFactor: { value: '3', source: 'what if' } } },
  };
  expect(compileScenario(readScenario(mine, changes).scenario)).not.toHaveProperty('fitted');
});

test('every assumption of a compiled scenario is found by its place, names with points too', () => {
  const { scenario } = parseScenario(
    JSON.stringify({ ...BASE, surfaces: { 'no. 1.5': { like: 'gravel' } } }),
  );
  for (const { path, lower, upper } of compileScenario(scenario).assumptions) {
    const found = assumptionField(path)!;
    expect(found.steps.join('.')).toBe(path);
    expect(found.field.minSi).toBe(lower);
    expect(found.field.maxSi).toBe(upper);
  }
  expect(assumptionField('surfaces.no. 1.5.wearFactor')!.steps).toEqual([
    'surfaces',
    'no. 1.5',
    'wearFactor',
  ]);
  expect(assumptionField('tires.soft 29.mass')).toBeNull();
});
