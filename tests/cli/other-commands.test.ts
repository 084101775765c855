import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { gravelbar, inFolder, listing, root, shipped } from '../support/command.js';

const packageVersion = (JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string })
  .version;

test('check says what a scenario holds', async () => {
  const { code, stdout, stderr } = await gravelbar(['check', shipped('mixed-season.json')]);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  expect(stdout).toContain('is valid: Mixed season: five set-ups on three mixes');
  expect(stdout).toContain(
    'airplane reference four-seater; set-ups 5 x mixes 3 = pairings 15; 240 landings and 216 flight hours a year',
  );
});

test('schema prints the published JSON Schema, schema --page the reference page', async () => {
  const [schema, page] = await Promise.all([gravelbar(['schema']), gravelbar(['schema', '--page'])]);
  expect([schema.code, schema.stderr, page.code, page.stderr]).toEqual([0, '', 0, '']);
  expect(schema.stdout).toBe(readFileSync(shipped('scenario.schema.json'), 'utf8'));
  expect(page.stdout).toBe(readFileSync(shipped('REFERENCE.md'), 'utf8'));
});

describe('new', () => {
  test('writes a scenario that is valid and runs, and the schema beside it', () =>
    inFolder(async (folder) => {
      const made = await gravelbar(['new', 'mine.json'], { cwd: folder });
      expect(made).toMatchObject({ code: 0, stderr: '' });
      expect(made.stdout).toBe('wrote mine.json and scenario.schema.json; try: gravelbar run mine.json\n');
      expect(readFileSync(join(folder, 'scenario.schema.json'), 'utf8')).toBe(
        readFileSync(shipped('scenario.schema.json'), 'utf8'),
      );
      const run = await gravelbar(['run', 'mine.json', '--trials', '4'], { cwd: folder });
      expect(run).toMatchObject({ code: 0, stderr: '' });
      expect(run.stdout).toContain('My season');
    }));

  test('leaves a schema that is there as it is, and never writes over a scenario', () =>
    inFolder(async (folder) => {
      await gravelbar(['new', 'one.json'], { cwd: folder });
      const before = listing(folder);
      const second = await gravelbar(['new', 'two.json'], { cwd: folder });
      expect(second.stdout).toBe('wrote two.json; try: gravelbar run two.json\n');
      const again = await gravelbar(['new', 'one.json'], { cwd: folder });
      expect(again).toMatchObject({ code: 2, stdout: '' });
      expect(again.stderr).toBe('gravelbar: one.json exists; choose another name or remove it first\n');
      expect(listing(folder).filter((line) => !line.startsWith('two.json'))).toEqual(before);
    }));
});

test.each([[['--help']], [['help']], [['run', '--help']], [['help', 'new']]])(
  'gravelbar %j prints help on standard output and succeeds',
  async (args) => {
    const { code, stdout, stderr } = await gravelbar(args);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toMatch(/^Usage: gravelbar /);
    expect(stdout.split('\n').filter((line) => line.length > 100)).toEqual([]);
  },
);

test('--version prints the version of the package', async () => {
  expect(await gravelbar(['--version'])).toMatchObject({
    code: 0,
    stdout: `${packageVersion}\n`,
    stderr: '',
  });
});
