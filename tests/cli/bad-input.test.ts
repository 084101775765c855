import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { gravelbar, inFolder, listing, shipped, type Finished } from '../support/command.js';

const FIRST = shipped('first.json');

/** The first shipped scenario with some parts replaced, as text. */
const GOOD = {
  name: 'Good',
  setups: {
    rigid: {
      mainTire: 'rigid 29 deep',
      mainPressure: '25 psi',
      thirdTire: 'nose 8.50-6',
      thirdPressure: '25 psi',
    },
  },
  mixes: { paved: { 'home pavement': '100 %' } },
};

function scenarioWith(change: object): string {
  return JSON.stringify({ ...GOOD, ...change });
}

function setupWith(change: object): string {
  return scenarioWith({ setups: { rigid: { ...GOOD.setups.rigid, ...change } } });
}

/** Non-zero exit, one clear message, no stack trace, nothing on standard output. */
function expectRefusal({ code, stdout, stderr }: Finished, expectedCode: number, message: RegExp): void {
  expect(stderr).toMatch(message);
  expect(code).toBe(expectedCode);
  expect(stdout).toBe('');
  expect(stderr).toMatch(/^gravelbar: .+\n/);
  expect(stderr.match(/gravelbar: /g)).toHaveLength(1);
  expect(stderr).not.toMatch(/^\s+at /m);
  expect(stderr).not.toMatch(/Error|node:|undefined|\[object/);
  expect(stderr.length).toBeLessThan(20_000);
  for (const line of stderr.split('\n')) expect(line.length).toBeLessThan(1000);
}

async function expectNothingLeft(folder: string, work: () => Promise<void>): Promise<void> {
  const before = listing(folder);
  await work();
  expect(listing(folder)).toEqual(before);
}

const FILES: readonly (readonly [what: string, content: string | Uint8Array, message: RegExp])[] = [
  ['an empty file', '', /found an empty file; expected one JSON object/],
  ['more than 4 MB', ' '.repeat(4_000_001), /a file of more than 4000000 bytes; expected .* at most 4000000/],
  ['binary data', Uint8Array.from({ length: 3000 }, (_, k) => (k * 89) % 256), /expected text/],
  ['lists 100 000 deep', '['.repeat(100_000) + ']'.repeat(100_000), /1:65 +found deeper nesting/],
  ['objects 100 000 deep', '{"a":'.repeat(100_000) + '1' + '}'.repeat(100_000), /found deeper nesting/],
  ['words', 'hello: world\n', /1:1 +found "hello"; expected text in double quotes/],
  ['a list', '[1, 2]', /1:1 +found a list; expected one JSON object/],
  ['an unknown key', scenarioWith({ habbits: {} }), /unknown key "habbits"; .*did you mean "habits"\?/],
  ['a wrong kind of unit', setupWith({ mainPressure: '25 in' }), /mainPressure: found "25 in"; is a length/],
  ['a missing unit', setupWith({ mainPressure: '25' }), /missing unit; .*did you mean "25 psi"\?/],
  ['a bare number', setupWith({ mainPressure: 25 }), /mainPressure: found 25; missing unit/],
  ['a slip of the unit', setupWith({ mainPressure: '25 bar' }), /expected 3 psi to 150 psi; did you mean/],
  [
    'shares that do not add up',
    scenarioWith({ mixes: { half: { 'home pavement': '60 %', meadow: '30 %' } } }),
    /mixes\.half: found shares that add to 90 %; shares must add to 100 %; raise them by 10 %/,
  ],
  ['an unknown tire', setupWith({ mainTire: 'rigid 29 dep' }), /did you mean "rigid 29 deep"\?/],
  ['an unknown strip', scenarioWith({ mixes: { m: { medow: 1 } } }), /did you mean "meadow"\?/],
  ['not a number', setupWith({ mainPressure: 'NaN psi' }), /found "NaN psi"; not a finite number/],
  [
    'a negative size',
    scenarioWith({ tires: { 'rigid 29 deep': { outsideDiameter: '-29 in' } } }),
    /found "-29 in"; expected 6 in to 45 in/,
  ],
  ['a number too large', scenarioWith({ run: { trials: 1e308 } }).replace('1e+308', '1e999'), /too large/],
  ['no set-up', scenarioWith({ setups: {} }), /setups: found no entry; expected at least one tire set-up/],
  ['a set-up named __proto__', `{"setups": {"__proto__": {}}}`, /"__proto__"; this name is not allowed/],
  ['a set-up named toString', scenarioWith({ setups: { toString: GOOD.setups.rigid } }), /reserved/],
  [
    'a name with an escape sequence',
    scenarioWith({ setups: { 'red \u001b[31m tire': GOOD.setups.rigid } }),
    /red \\u001b\[31m tire.*expected a name of 1 to 60 printable characters/,
  ],
  ['a name of 100 000 characters', scenarioWith({ setups: { ['x'.repeat(100_000)]: {} } }), /1 to 60 print/],
  ['a file that extends itself', '{"extends": "scenario.json"}', /a file cannot extend itself/],
  ['a missing file below', '{"extends": "gone.json"}', /extends\.0: found no such file \(gone\.json\)/],
];

describe('a scenario file with', () => {
  test.concurrent.each(FILES)(
    '%s is refused with its place and leaves nothing behind',
    (what, content, message) =>
      inFolder(async (folder) => {
        writeFileSync(join(folder, 'scenario.json'), content);
        await expectNothingLeft(folder, async () => {
          const out = ['--out', 'results', '--csv', 'pairings.csv'];
          const finished = await gravelbar(['run', 'scenario.json', ...out], { cwd: folder });
          expectRefusal(finished, 1, message);
          expect(finished.stderr, what).toContain('scenario.json');
        });
      }),
  );

  test('many problems has all of them listed at once', () =>
    inFolder(async (folder) => {
      const change = { mainPressure: '25', thirdPressure: '-3 psi', mainTire: 3, colour: 'red' };
      writeFileSync(join(folder, 'scenario.json'), setupWith(change));
      const finished = await gravelbar(['check', 'scenario.json'], { cwd: folder });
      expectRefusal(finished, 1, /^gravelbar: 4 problems in scenario\.json\n/);
      expect(finished.stderr.trimEnd().split('\n')).toHaveLength(5);
    }));
});

describe('a scenario path that is', () => {
  test.concurrent.each([
    ['missing', 'gone.json', /no such file \(gone\.json\)/],
    ['a folder', 'folder', /found a folder \(folder\)/],
    ['below a file', 'file/x.json', /no such file/],
    ['too long', 'x'.repeat(5000), /a name that is too long/],
    ['an endless device', '/dev/zero', /a file of more than 4000000 bytes/],
  ])('%s is refused', (_, path, message) =>
    inFolder(async (folder) => {
      mkdirSync(join(folder, 'folder'));
      writeFileSync(join(folder, 'file'), '');
      expectRefusal(await gravelbar(['run', path], { cwd: folder }), 1, message);
    }),
  );
});

const USAGE: readonly (readonly [args: readonly string[], message: RegExp])[] = [
  [['run'], /missing required argument 'file'/],
  [['run', FIRST, 'more'], /too many arguments/],
  [['run', FIRST, '--trial', '9'], /unknown option '--trial'\n\(Did you mean --trials\?\)/],
  [['rum', FIRST], /unknown command 'rum'\n\(Did you mean run\?\)/],
  [['\u001b[31mrun'], /unknown command '\\u001b\[31mrun'/],
  [['schema', 'more'], /too many arguments/],
  [['run', FIRST, '--trials'], /option '--trials <number>' argument missing/],
  [['run', FIRST, '--trials', '1'], /trials is 1; it must be a whole number from 2 to 10000000/],
  [
    ['run', FIRST, '--trials', '10000001'],
    /trials is 10000001; it must be a whole number from 2 to 10000000/,
  ],
  [['run', FIRST, '--trials', '1e12'], /'1e12' is invalid. expected a whole number such as 2000/],
  [['run', FIRST, '--trials', '0'], /trials is 0; it must be a whole number/],
  [['run', FIRST, '--trials', '-5'], /'-5' is invalid/],
  [['run', FIRST, '--trials', 'abc'], /'abc' is invalid/],
  [['run', FIRST, '--precision', '0'], /precision is 0; it must be a share from 0.001 to 0.5/],
  [['run', FIRST, '--precision', '200 %'], /precision is 2; it must be a share from 0.001 to 0.5/],
  [['run', FIRST, '--precision', 'fine'], /'fine' is invalid. expected a share such as "2 %" or 0.02/],
  [['run', FIRST, '--workers', '0'], /workers is 0; it must be a whole number from 1 to 64/],
  [['run', FIRST, '--seed', ''], /expected 1 to 100 characters/],
  [['run', FIRST, '--seed', 'x'.repeat(101)], /expected 1 to 100 characters/],
  [['new', 'gone/x.json'], /cannot write gone\/x\.json: the folder .*gone does not exist/],
  [['new', 'folder/'], /folder\/ exists/],
  [['new', 'other/'], /cannot write other\/: it is a folder/],
];

describe('the command line', () => {
  test.concurrent.each(USAGE)('%j is refused and leaves nothing behind', (args, message) =>
    inFolder(async (folder) => {
      mkdirSync(join(folder, 'folder'));
      const out = args[0] === 'run' && args.length === 4 ? ['--out', 'a/b', '--csv', 'c.csv'] : [];
      await expectNothingLeft(folder, async () => {
        expectRefusal(await gravelbar([...args, ...out], { cwd: folder }), 2, message);
      });
    }),
  );

  test('without a command shows how to use it and fails', async () => {
    const { code, stdout, stderr } = await gravelbar([]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/^Usage: gravelbar /);
  });
});

describe('output that cannot be written is refused before the run:', () => {
  test.concurrent.each([
    [['--out', '/proc/x'], /cannot write into the folder \/proc\/x: /],
    [['--out', 'file'], /cannot write into the folder file: a part of the path is a file/],
    [['--out', `new/${'x'.repeat(300)}`], /cannot write into the folder new\/x+.*/],
    [['--out', 'taken'], /cannot write taken\/result\.json: it is a folder/],
    [['--csv', 'gone/x.csv'], /cannot write gone\/x\.csv: the folder .*gone does not exist/],
    [['--csv', 'folder'], /cannot write folder: it is a folder/],
    [
      ['--csv', 'file/x.csv'],
      /cannot write (file\/x\.csv|into the folder .*file): a part of the path is a file/,
    ],
    [['--out', 'new', '--csv', 'gone/x.csv'], /cannot write gone\/x\.csv/],
  ])('%j', (options, message) =>
    inFolder(async (folder) => {
      mkdirSync(join(folder, 'folder'));
      mkdirSync(join(folder, 'taken/result.json'), { recursive: true });
      writeFileSync(join(folder, 'file'), 'kept');
      await expectNothingLeft(folder, async () => {
        const started = performance.now();
        // So many trials that a run would take hours.
        const args = ['run', FIRST, '--trials', '9999999', ...options];
        expectRefusal(await gravelbar(args, { cwd: folder }), 2, message);
        expect(performance.now() - started).toBeLessThan(60_000);
      });
    }),
  );
});
