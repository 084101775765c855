import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { ScenarioError, type Problem } from '../../lib/problems.js';
import { compileScenario } from '../../lib/scenario/compile.js';
import { defaultsFile, parseScenario, readScenario } from '../../lib/scenario/read.js';
import { inFolder, shipped } from '../support/command.js';

const RIGID = {
  mainTire: 'rigid 29 deep',
  mainPressure: '25 psi',
  thirdTire: 'nose 8.50-6',
  thirdPressure: '25 psi',
};
const BASE = {
  name: 'Base',
  setups: { rigid: RIGID },
  mixes: { paved: { 'home pavement': '100 %' } },
};

// 1 psi = 6894.757 293 168 Pa (NIST SP 811, Appendix B; from memory).
const PSI_PA = 6894.757_293_168;

/** Writes files into a folder, as JSON unless they are text. */
function write(folder: string, files: Readonly<Record<string, unknown>>): void {
  for (const [name, content] of Object.entries(files)) {
    const path = join(folder, name);
    mkdirSync(join(path, '..'), { recursive: true });
    writeFileSync(path, typeof content === 'string' ? content : JSON.stringify(content));
  }
}

function problemsOf(read: () => unknown): readonly Problem[] {
  try {
    read();
  } catch (error) {
    if (error instanceof ScenarioError) return error.problems;
    throw error;
  }
  return [];
}

const SHIPPED = ['first.json', 'mixed-season.json', 'all-paved-to-all-rock.json', 'my-tires-today.json'];

describe('shipped scenarios', () => {
  test.each(SHIPPED)('%s is valid', (name) => {
    const { scenario, files } = readScenario(shipped(name));
    const stated = JSON.parse(readFileSync(shipped(name), 'utf8')) as Record<string, object>;
    expect(Object.keys(scenario.setups)).toEqual(Object.keys(stated['setups']!));
    expect(Object.keys(scenario.mixes)).toEqual(Object.keys(stated['mixes']!));
    expect(files).toEqual(['gravelbar defaults', shipped(name)]);
    const { setups, mixes, calendar } = compileScenario(scenario);
    expect([setups.length, mixes.length]).toEqual([
      Object.keys(scenario.setups).length,
      Object.keys(scenario.mixes).length,
    ]);
    expect(calendar.landingsPerYear).toBeGreaterThan(0);
  });

  test('the first one has fewer than 30 lines, and no line is long', () => {
    const lines = readFileSync(shipped('first.json'), 'utf8').trimEnd().split('\n');
    expect(lines.length).toBeLessThan(30);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(120);
  });

  test('all say that their data is invented', () => {
    for (const name of [...SHIPPED, 'defaults.json']) {
      expect((JSON.parse(readFileSync(shipped(name), 'utf8')) as { note: string }).note).toMatch(/invented/i);
    }
  });
});

describe('the defaults', () => {
  test('lie under every scenario', () => {
    const { scenario, merged } = parseScenario(JSON.stringify(BASE));
    expect(scenario.airplane).toBe('reference four-seater');
    expect(scenario.run.seed).toBe('gravelbar');
    expect(Object.keys(scenario.tires)).toContain('soft 29');
    expect(merged.originOf(['habits', 'checkEvery']).fileName).toBe('gravelbar defaults');
    expect(merged.originOf(['setups', 'rigid', 'mainPressure']).fileName).toBe('scenario');
  });

  test('do not lend their note to a scenario that has none', () => {
    expect(parseScenario(JSON.stringify(BASE)).scenario.note).toBeUndefined();
    expect(parseScenario(JSON.stringify({ ...BASE, note: 'Mine.' })).scenario.note).toBe('Mine.');
  });

  test('are no scenario by themselves: they compare nothing', () => {
    expect(problemsOf(() => readScenario(defaultsFile)).map(({ path }) => path)).toEqual(['name']);
    const named = { name: 'Nothing', extends: 'defaults.json' };
    const folder = join(defaultsFile, '..');
    const found = problemsOf(() => parseScenario(JSON.stringify(named), 'scenario', folder));
    expect(found.map(({ path }) => path)).toEqual(['setups', 'mixes']);
  });

  test('come out in SI units', () => {
    const { scenario } = parseScenario(JSON.stringify(BASE));
    expect(scenario.setups['rigid']!.mainPressure).toBeCloseTo(25 * PSI_PA, 6);
    expect(scenario.tires['rigid 29 deep']!.outsideDiameter).toBeCloseTo(29 * 0.0254, 12);
    // A mean of 3150 lb from its p10 and p90; 1 lb = 0.453 592 37 kg exactly.
    expect(scenario.airplanes['reference four-seater']!.landingMass.a).toBeCloseTo(3150 * 0.453_592_37, 9);
    expect(scenario.mixes['paved']).toEqual({ 'home pavement': 1 });
  });
});

describe('layers', () => {
  test('go over the defaults in the order of "extends", then the file itself', () =>
    inFolder((folder) => {
      write(folder, {
        'one.json': { ...BASE, habits: { checkEvery: '1 day', inspectEvery: '1 day', ageLimit: '1 year' } },
        'two.json': { name: 'Two', habits: { inspectEvery: '2 days', ageLimit: '2 years' } },
        'top.json': { extends: ['one.json', 'two.json'], habits: { ageLimit: '3 years' } },
      });
      const { scenario, files, merged } = readScenario(join(folder, 'top.json'));
      const { checkEvery, inspectEvery, ageLimit } = scenario.habits;
      const days = [checkEvery, inspectEvery, ageLimit].map((seconds) => seconds / 86_400);
      expect(days).toEqual([1, 2, 3 * 365.25]);
      expect(scenario.name).toBe('Two');
      expect(files).toEqual(['gravelbar defaults', 'one.json', 'two.json', join(folder, 'top.json')]);
      expect(merged.originOf(['habits', 'inspectEvery'])).toMatchObject({ fileName: 'two.json', line: 1 });
      expect('extends' in merged.value).toBe(false);
      return Promise.resolve();
    }));

  test('have paths that start from the file that names them', () =>
    inFolder((folder) => {
      write(folder, {
        'fleet/base.json': { ...BASE, extends: '../common.json' },
        'common.json': { run: { trials: 77 } },
        'season/deep/top.json': { extends: '../../fleet/base.json', name: 'Top' },
      });
      const { scenario } = readScenario(join(folder, 'season/deep/top.json'));
      expect([scenario.run.trials, scenario.name]).toEqual([77, 'Top']);
      const text = JSON.stringify({ extends: 'fleet/base.json' });
      expect(parseScenario(text, 'text', folder).scenario.run.trials).toBe(77);
      return Promise.resolve();
    }));

  test('may have changes laid over the file, which are reported with their place', () =>
    inFolder((folder) => {
      write(folder, { 'top.json': { ...BASE, run: { trials: 77, seed: 'a' } } });
      const top = join(folder, 'top.json');
      const { scenario, files } = readScenario(top, { run: { trials: 5 } });
      expect([scenario.run.trials, scenario.run.seed]).toEqual([5, 'a']);
      expect(files.at(-1)).toBe('changes');
      const problems = problemsOf(() => readScenario(top, { run: { trials: 'many' }, mixs: {} }));
      expect(problems.map(({ file, line, path }) => [file, line, path])).toEqual([
        ['changes', 3, 'run.trials'],
        ['changes', 5, 'mixs'],
      ]);
      expect(problemsOf(() => readScenario(top, { extends: 'top.json' }))[0]!.allowed).toMatch(/circle/);
      return Promise.resolve();
    }));

  test('may lie under several others', () =>
    inFolder((folder) => {
      write(folder, {
        'base.json': BASE,
        'a.json': { extends: 'base.json', run: { trials: 3 } },
        'b.json': { extends: 'base.json', run: { seed: 'b' } },
        'top.json': { extends: ['a.json', 'b.json'] },
      });
      const { scenario, files } = readScenario(join(folder, 'top.json'));
      expect([scenario.run.trials, scenario.run.seed]).toEqual([3, 'b']);
      expect(files.filter((name) => name === 'base.json')).toHaveLength(2);
      return Promise.resolve();
    }));

  test('lose what a later one sets to null', () => {
    const change = {
      tires: { 'soft 29': { price: null } },
      strips: { 'river bar': null },
      airplanes: { other: null },
    };
    const { scenario } = parseScenario(JSON.stringify({ ...BASE, ...change, costs: null }));
    expect(scenario.tires['soft 29']!.price).toBeUndefined();
    expect(Object.keys(scenario.strips)).not.toContain('river bar');
    expect(Object.keys(scenario.strips)).toContain('meadow');
    expect(scenario.costs).toBeUndefined();
    const needed = problemsOf(() => parseScenario(JSON.stringify({ ...BASE, season: null })));
    expect(needed).toMatchObject([{ path: 'season', found: 'nothing' }]);
  });

  test('may start an entry from another one with "like"', () => {
    const tires = {
      mine: { like: 'rigid 29 shaved', newTread: '5 mm', source: 'measured' },
      yours: { like: 'mine', mass: '15 kg' },
    };
    const { scenario, merged } = parseScenario(JSON.stringify({ ...BASE, tires }));
    const [shaved, mine, yours] = ['rigid 29 shaved', 'mine', 'yours'].map((name) => scenario.tires[name]!);
    expect(mine).toEqual({ ...shaved!, newTread: 0.005, source: 'measured' });
    expect(yours).toEqual({ ...mine!, mass: 15 });
    expect(merged.originOf(['tires', 'yours', 'newTread']).fileName).toBe('scenario');
    expect(merged.originOf(['tires', 'yours', 'undertread']).fileName).toBe('gravelbar defaults');
    const lost = problemsOf(() =>
      parseScenario(JSON.stringify({ ...BASE, tires: { a: { like: 'rigit 29 deep' } } })),
    );
    expect(lost).toMatchObject([{ path: 'tires.a.like', suggestion: 'did you mean "rigid 29 deep"?' }]);
  });

  test('of a copied tire follow a change of the tire that it is like', () => {
    const tires = { 'rigid 29 deep': { undertread: '2 mm' } };
    const { scenario } = parseScenario(JSON.stringify({ ...BASE, tires }));
    expect(scenario.tires['rigid 26 deep']!.undertread).toBe(0.002);
  });
});

describe('files to extend', () => {
  const chain = (length: number): Record<string, unknown> =>
    Object.fromEntries(
      Array.from({ length }, (_, k) => [`${k}.json`, k === length - 1 ? BASE : { extends: `${k + 1}.json` }]),
    );

  test.each<[string, Record<string, unknown>, Partial<Problem>]>([
    [
      'the file itself',
      { 'top.json': '{\n  "extends": "top.json"\n}' },
      { line: 2, column: 14, path: 'extends.0', found: '"top.json"' },
    ],
    [
      'a circle',
      {
        'top.json': { extends: 'a.json' },
        'a.json': { extends: 'b.json' },
        'b.json': { extends: './a.json' },
      },
      { file: 'b.json', found: '"./a.json"', allowed: 'a file cannot extend itself, nor in a circle' },
    ],
    [
      'a missing file',
      { 'top.json': { extends: ['gone.json'] } },
      { line: 1, column: 13, path: 'extends.0', found: 'no such file (gone.json)' },
    ],
    ['a folder', { 'top.json': { extends: 'sub' }, 'sub/x.json': {} }, { found: 'a folder (sub)' }],
    ['a number', { 'top.json': { extends: 7 } }, { path: 'extends', found: '7' }],
    ['a list with a number', { 'top.json': { extends: ['a.json', 7] } }, { found: '["a.json",7]' }],
    [
      'an impossible name',
      { 'top.json': { extends: 'a\u0000b' } },
      { found: 'a name that no file can have (a\u0000b)' },
    ],
    ['more than twenty files', chain(30), { allowed: 'expected at most 20 files in all' }],
    [
      'text that is no JSON',
      { 'top.json': { extends: 'a.json' }, 'a.json': '{' },
      { file: 'a.json', line: 1 },
    ],
  ])('that are %s are refused at their place', (_, files, expected) =>
    inFolder((folder) => {
      write(folder, files);
      const problems = problemsOf(() => readScenario(join(folder, Object.keys(files)[0]!)));
      expect(problems).toHaveLength(1);
      expect(problems[0]).toMatchObject(expected);
      return Promise.resolve();
    }),
  );

  test('may form a chain of nineteen', () =>
    inFolder((folder) => {
      write(folder, chain(19));
      expect(readScenario(join(folder, '0.json')).files).toHaveLength(20);
      return Promise.resolve();
    }));

  test('are told by the file and place where the fault lies', () =>
    inFolder((folder) => {
      write(folder, {
        'base.json': '{\n "habits": {\n  "checkEvery": "14"\n }\n}',
        'top.json': { ...BASE, extends: 'base.json' },
      });
      const problems = problemsOf(() => readScenario(join(folder, 'top.json')));
      expect(problems).toMatchObject([
        { file: 'base.json', line: 3, column: 17, path: 'habits.checkEvery', found: '"14"' },
      ]);
      return Promise.resolve();
    }));
});

describe('reading', () => {
  test('follows links and reads pipes, up to the same size as files', () =>
    inFolder((folder) => {
      write(folder, { 'real.json': BASE });
      symlinkSync('real.json', join(folder, 'link.json'));
      expect(readScenario(join(folder, 'link.json')).scenario.name).toBe('Base');
      execFileSync('mkfifo', [join(folder, 'pipe')]);
      execFileSync('sh', ['-c', 'cat real.json > pipe & echo'], { cwd: folder, stdio: 'ignore' });
      expect(readScenario(join(folder, 'pipe')).scenario.name).toBe('Base');
      return Promise.resolve();
    }));

  test('gives a new scenario each time, so that changing one does not change another', () => {
    const text = JSON.stringify(BASE);
    const [one, two] = [parseScenario(text), parseScenario(text)];
    expect(one.scenario).toEqual(two.scenario);
    expect(one.scenario.tires['soft 29']).not.toBe(two.scenario.tires['soft 29']);
  });
});
