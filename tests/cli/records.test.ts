import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { RecordLives } from '../../lib/index.js';
import { gravelbar, inFolder, listing, shipped } from '../support/command.js';

const log = shipped('logbook/logbook.json');
const fleet = shipped('logbook/fleet.json');
const own = shipped('own-columns/logbook.json');

test('schema --records prints the published JSON Schema of logs, with --page the reference page', async () => {
  const [schema, page] = await Promise.all([
    gravelbar(['schema', '--records']),
    gravelbar(['schema', '--records', '--page']),
  ]);
  expect([schema.code, schema.stderr, page.code, page.stderr]).toEqual([0, '', 0, '']);
  expect(schema.stdout).toBe(readFileSync(shipped('logbook.schema.json'), 'utf8'));
  expect(page.stdout).toBe(readFileSync(shipped('RECORDS.md'), 'utf8'));
});

describe('new --records', () => {
  test('writes a log that is valid against the scenario that new writes, and never writes over one', () =>
    inFolder(async (cwd) => {
      const made = await gravelbar(['new', '--records', 'a/log'], { cwd });
      expect(made).toMatchObject({ code: 0, stderr: '' });
      expect(made.stdout).toContain('try: gravelbar check a/log/logbook.json');
      await gravelbar(['new', 'mine.json'], { cwd });
      const args = ['check', 'a/log/logbook.json', '--scenario', 'mine.json'];
      const checked = await gravelbar(args, { cwd });
      expect(checked).toMatchObject({ code: 0, stderr: '' });
      expect(checked.stdout).toMatch(/^a\/log\/logbook\.json is valid: My log\n/);
      expect(checked.stdout).toContain('Its names are those of the scenario My\n  season.');
      const before = listing(cwd);
      const again = await gravelbar(['new', '--records', 'a/log'], { cwd });
      expect(again).toMatchObject({ code: 2, stdout: '' });
      expect(again.stderr).toContain('cuts.csv and logbook.schema.json exist in a/log');
      expect(listing(cwd)).toEqual(before);
    }));

  test('writes nothing where anything is in the way', () =>
    inFolder(async (cwd) => {
      mkdirSync(join(cwd, 'log'));
      writeFileSync(join(cwd, 'log', 'cuts.csv'), 'mine');
      const before = listing(cwd);
      const [there, file] = await Promise.all([
        gravelbar(['new', '--records', 'log'], { cwd }),
        gravelbar(['new', '--records', 'log/cuts.csv/inner'], { cwd }),
      ]);
      expect(there).toMatchObject({ code: 2, stdout: '' });
      expect(there.stderr).toBe(
        'gravelbar: cuts.csv exists in log; choose another folder or remove it first\n',
      );
      expect(file).toMatchObject({ code: 2, stdout: '' });
      expect(listing(cwd)).toEqual(before);
    }));
});

describe('check of a log', () => {
  test('says what it holds', async () => {
    const { code, stdout, stderr } = await gravelbar(['check', log, '--scenario', fleet]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toContain('is valid: Twelve airplanes, two seasons');
    for (const piece of [
      '2023-04-30 to 2024-09-30',
      '12 airplanes',
      'ended on a known day',
      'home pavement',
    ]) {
      expect(stdout).toContain(piece);
    }
    expect(stdout.split('\n').filter((line) => line.length > 100 && !line.includes('is valid'))).toEqual([]);
  });

  test('names every bad row, however many, and ends with code 1', () =>
    inFolder(async (cwd) => {
      const rows = Array.from({ length: 70 }, (_, i) => `T${i},A${i},left main,1${i}.5.2024,worm`);
      writeFileSync(join(cwd, 'tires.csv'), `tire,airplane,position,fitted,cause\n${rows.join('\n')}\n`);
      const described = {
        name: 'bad',
        firstDay: '2024-05-01',
        lastDay: '2024-08-31',
        tires: { file: 'tires.csv' },
      };
      writeFileSync(join(cwd, 'bad.json'), JSON.stringify(described));
      const { code, stdout, stderr } = await gravelbar(['check', 'bad.json'], { cwd });
      expect({ code, stdout }).toEqual({ code: 1, stdout: '' });
      expect(stderr).toMatch(/^gravelbar: 141 problems in tires\.csv\n/);
      for (const line of [2, 41, 71]) expect(stderr).toMatch(new RegExp(`\n +${line} +fitted: found`));
      expect(stderr).toContain('the same in 69 more rows: lines 3 to 71');
      expect(stderr).not.toMatch(/and \d+ more\n/);
    }));

  test('a scenario needs no other one beside it', async () => {
    const { code, stdout, stderr } = await gravelbar(['check', fleet, '--scenario', fleet]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toBe('gravelbar: --scenario goes with a log of tires, not with a scenario\n');
  });
});

describe('lives', () => {
  test('tells lives in words and tables, or as one JSON object', async () => {
    const args = ['lives', own, '--scenario', shipped('first.json'), '--unit', 'hours', '--at', '10'];
    const [text, json] = await Promise.all([gravelbar(args), gravelbar([...args, '--json'])]);
    expect([text.code, text.stderr, json.code, json.stderr]).toEqual([0, '', 0, '']);
    expect(text.stdout).toMatch(/^soft 9 psi, main: 1 end: no curve and no law/);
    expect(text.stdout).toContain('local rules apply');
    const lives = JSON.parse(json.stdout) as RecordLives;
    expect(lives).toMatchObject({ unit: 'flight hours', by: 'setup', level: 0.95 });
    expect(lives.groups.map(({ tires, ends }) => [tires, ends])).toEqual([
      [3, 1],
      [1, 0],
    ]);
    expect(lives.groups[0]!.shares[0]!.use).toBe(10);
  });

  test('mistakes in the command and in files are told', async () => {
    const [unit, use, none] = await Promise.all([
      gravelbar(['lives', own, '--unit', 'years']),
      gravelbar(['lives', own, '--at', '-3']),
      gravelbar(['lives', 'none.json']),
    ]);
    expect([unit.code, use.code, none.code]).toEqual([2, 2, 1]);
    expect(unit.stderr).toContain('expected one of: landings, hours, days.');
    expect(use.stderr).toContain('expected a number above 0');
    expect(none.stderr).toContain('no such file');
    expect(unit.stdout + use.stdout + none.stdout).toBe('');
  });
});
