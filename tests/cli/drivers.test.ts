import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import { compileScenario } from '../../dist/scenario/compile.js';
import { readScenario } from '../../dist/scenario/read.js';
import { whatMatters } from '../../dist/sensitivity/what-matters.js';
import type { WhatMatters } from '../../dist/sensitivity/what-matters-types.js';
import { driversScreen } from '../../lib/present/drivers-screen.js';
import { driversText } from '../../lib/present/drivers-text.js';
import { gravelbar, inFolder, listing, shipped } from '../support/command.js';
import { quietText } from '../support/scenarios.js';
import { twoCompounds } from '../support/two-compounds.js';

const SMALL = ['--trials', '100', '--rows', '16', '--workers', '1'];

/** A scenario file in a folder. */
function scenarioIn(folder: string): string {
  const file = join(folder, 'two-compounds.json');
  writeFileSync(file, quietText(twoCompounds));
  return file;
}

describe('gravelbar drivers', () => {
  test('prints one screen, and writes the whole text, the data and the pictures', () =>
    inFolder(async (folder) => {
      const file = scenarioIn(folder);
      const out = join(folder, 'new', 'out');
      const chart = join(folder, '{picture}.json');
      const finished = await gravelbar([
        'drivers',
        file,
        ...SMALL,
        ...['--seed', 'other', '--out', out, '--chart', chart, '--picture', 'shares'],
        ...['--picture', 'threshold:3', '--picture', 'effects'],
      ]);
      expect(finished.code).toBe(0);
      const { scenario } = readScenario(file);
      const compiled = compileScenario({ ...scenario, run: { ...scenario.run, seed: 'other' } });
      const study = await whatMatters(compiled, { trials: 100, rows: 16, workers: 1 });
      const read = (name: string): string => readFileSync(join(out, name), 'utf8');
      expect(JSON.parse(read('drivers.json'))).toEqual(JSON.parse(JSON.stringify(study)));
      expect(read('drivers.txt')).toBe(`${driversText(study)}\n`);
      expect(finished.stdout.startsWith(`${driversScreen(study)}\n`)).toBe(true);
      expect(finished.stdout).not.toContain('One at a time:');
      expect(listing(out).map((each) => each.split(' ')[0])).toEqual([
        'drivers-effects.svg',
        'drivers-shares.svg',
        ...study.thresholds.map((_, k) => `drivers-threshold-${k + 1}.svg`),
        'drivers-value.svg',
        'drivers.json',
        'drivers.txt',
      ]);
      expect(read('drivers-value.svg')).toMatch(/^<svg/);
      const drawn = (name: string): string =>
        JSON.stringify(JSON.parse(readFileSync(chart.replace('{picture}', name), 'utf8')));
      expect(drawn('shares')).toContain('wear factor of doubted rubber');
      expect(drawn('effects')).toContain('lead of');
      // Two assumptions at most are in doubt, and so there is no third threshold.
      expect(finished.stderr).toContain('nothing to draw for threshold-3: ');
      expect(listing(folder).filter((each) => each.includes('threshold-3'))).toEqual([]);
    }));

  test('looks at the mix, the criterion and the set-ups asked for, and prints data or details', () =>
    inFolder(async (folder) => {
      const file = scenarioIn(folder);
      const args = ['drivers', file, ...SMALL, '--mix', 'only', '--setup', 'other', '--setup', 'only'];
      const json = await gravelbar([...args, '--by', 'life', '--json']);
      expect([json.code, json.stderr]).toEqual([0, '']);
      const study = JSON.parse(json.stdout) as WhatMatters;
      expect([study.kind, study.mix, study.criterion, study.trials]).toEqual([
        'what matters',
        'only',
        'life',
        100,
      ]);
      expect(study.setups).toEqual(['other', 'only']);
      const details = await gravelbar([...args, '--by', 'flats', '--details']);
      expect(details.code).toBe(0);
      expect(details.stdout).toContain('Worth of knowing each assumption');
    }));

  test('says what is wrong before it runs, and leaves nothing behind', () =>
    inFolder(async (folder) => {
      const file = scenarioIn(folder);
      const before = listing(folder);
      const cases: readonly (readonly [readonly string[], string])[] = [
        [['--trials', '99'], 'trials is 99'],
        [['--rows', '3'], 'rows is 3'],
        [['--mix', 'onyl'], 'did you mean "only"'],
        [['--setup', 'only'], 'a choice needs at least two set-ups; found one: only'],
        [['--by', 'cost'], 'money cannot be compared: not priced'],
        [['--by', 'money'], 'expected one of: life, flats, cost, days; did you mean "cost"?'],
        [['--setup', 'oth', '--setup', 'only'], 'there is no set-up named "oth"; did you mean "other"?'],
        [['--picture', 'bars'], 'expected one of: value, effects, shares, threshold'],
        [['--picture', 'shares'], '--picture says what --chart draws: add --chart FILE'],
        [
          ['--chart', 'x.svg', '--picture', 'shares', '--picture', 'value'],
          'write {picture} where the name of each goes, such as --chart x-{picture}.png',
        ],
        [['--details', '--json'], 'leave one of them out'],
        [
          ['--chart', 'picture.bmp'],
          'cannot write BMP for picture.bmp: its name must end in .svg, .png, .json',
        ],
        [['--chart', 'picture'], 'cannot tell what to draw'],
      ];
      for (const [wrong, message] of cases) {
        const { code, stdout, stderr } = await gravelbar(['drivers', file, ...wrong, '--out', 'out'], {
          cwd: folder,
        });
        expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
        expect(stderr).toContain(message);
        expect(stderr.trimEnd().split('\n').length).toBeLessThanOrEqual(2);
      }
      expect(listing(folder)).toEqual(before);
    }));

  test('stopped by Ctrl-C tells what is finished, writes that whole, and exits with 130', () =>
    inFolder(async (folder) => {
      const file = scenarioIn(folder);
      const out = join(folder, 'out');
      // A common run that is soon done, and a design that is not.
      const args = ['drivers', file, '--trials', '100', '--rows', '100000', '--workers', '1', '--out', out];
      const finished = await gravelbar([...args, '--json'], {
        whileRunning: async (kill) => {
          while (!existsSync(out)) await wait(10);
          await wait(3000);
          kill('SIGINT');
        },
      });
      expect(finished.code).toBe(130);
      const study = JSON.parse(finished.stdout) as WhatMatters;
      expect(study.complete).toBe(false);
      expect(study.missing).toContain('thresholds');
      const { choice } = await whatMatters(compileScenario(readScenario(file).scenario), {
        trials: 100,
        rows: 16,
        workers: 1,
      });
      expect([study.choice.best, study.choice.lead]).toEqual([choice.best, choice.lead]);
      expect(finished.stderr).toMatch(
        /the study was stopped after \d+ of \d+ trials; the answer is that of these; pictures are left out\n$/,
      );
      expect(readFileSync(join(out, 'drivers.json'), 'utf8')).toBe(finished.stdout);
      expect(readFileSync(join(out, 'drivers.txt'), 'utf8')).toContain('STOPPED EARLY');
      expect(listing(out)).toHaveLength(2);
    }));

  test('stopped before a hundred trials leaves nothing behind', () =>
    inFolder(async (folder) => {
      const before = listing(folder);
      const out = join(folder, 'new', 'out');
      // A hundred trials of fifteen pairings, a dozen at a time, take far longer than a signal.
      const args = ['drivers', shipped('mixed-season.json'), '--trials', '100', '--workers', '1'];
      const finished = await gravelbar([...args, '--out', out], {
        whileRunning: async (kill) => {
          while (!existsSync(out)) await wait(1);
          kill('SIGTERM');
        },
      });
      expect([finished.code, finished.stdout]).toEqual([130, '']);
      expect(finished.stderr).toMatch(
        /^gravelbar: the study was stopped after \d+ of \d+ trials; there is nothing to show\n$/,
      );
      expect(listing(folder)).toEqual(before);
    }));
});
