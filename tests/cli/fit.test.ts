import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { fitCommand } from '../../dist/cli/fit-command.js';
import { heldOutShare } from '../../dist/calibrate/held-out.js';
import { fitAssumptions } from '../../dist/calibrate/posterior.js';
import type { AssumptionFit } from '../../dist/calibrate/posterior-types.js';
import { readLogbook } from '../../dist/calibrate/read-logbook.js';
import type { SeasonShift } from '../../lib/decide/season-shift-types.js';
import type { RunResult } from '../../dist/run.js';
import { compileScenario } from '../../dist/scenario/compile.js';
import { readScenario } from '../../dist/scenario/read.js';
import { phaseLine } from '../../lib/cli/phase-line.js';
import { textWidth } from '../../lib/present/words.js';
import { gravelbar, inFolder, listing, shipped } from '../support/command.js';
import { FIT_SCENARIO, fitLogFiles, writeFitFiles } from '../support/fit-files.js';

interface Answer {
  readonly fit: AssumptionFit;
  readonly shift: SeasonShift | null;
  readonly seasonLeftOut: string | null;
  readonly use: { readonly file: string; readonly text: string; readonly command: string };
}

const FIT = ['fit', 'log.json', '--scenario', 'scenario.json', '--out', 'fitted.json'];
const TRIALS = ['--trials', '120'];

/** A fit of the small log in a folder of its own. */
function inLogFolder<Result>(
  work: (folder: string, run: typeof gravelbar) => Promise<Result>,
  files: Readonly<Record<string, string>> = {},
): Promise<Result> {
  return inFolder((folder) => {
    writeFitFiles(folder, files);
    return work(folder, (args, options) => gravelbar(args, { cwd: folder, ...options }));
  });
}

/** Names in a folder. */
function names(folder: string): string[] {
  return listing(folder).map((each) => each.replace(/ \S+$/, ''));
}

const INPUTS = [...Object.keys(fitLogFiles()), 'scenario.json'].sort();

describe('from a log to a compared season in one command', () => {
  let text = '';
  let answer: Answer;
  let wrote = '';
  let page = '';
  let fitted = '';
  let season: RunResult;
  let checked: Awaited<ReturnType<typeof gravelbar>>;

  beforeAll(() =>
    inLogFolder(async (folder, run) => {
      const told = await run([
        ...FIT,
        ...TRIALS,
        '--page',
        'page.html',
        '--hold-out',
        'LA',
        '--workers',
        '1',
      ]);
      expect(told.code).toBe(0);
      ({ stdout: text, stderr: wrote } = told);
      page = readFileSync(join(folder, 'page.html'), 'utf8');
      fitted = readFileSync(join(folder, 'fitted.json'), 'utf8');
      const asData = await run([...FIT, ...TRIALS, '--hold-out', 'LA', '--json']);
      expect(asData.code).toBe(0);
      answer = JSON.parse(asData.stdout) as Answer;
      // The advice at the end, followed to the letter.
      const [, file, line, command] =
        /make a file (\S+) that holds this line, and run it:\n {2}(.*)\n {2}(.*)\n/.exec(text)!;
      writeFileSync(join(folder, file!), line!);
      const words = command!.split(' ');
      expect(words[0]).toBe('gravelbar');
      const ran = await run([...words.slice(1), ...TRIALS, '--json']);
      expect(ran.code).toBe(0);
      season = JSON.parse(ran.stdout) as RunResult;
      checked = await run(['check', 'fitted.json']);
    }),
  );

  test('the text begins with what was learned, ends with how to use it, and keeps to 100 columns', () => {
    expect(text).toMatch(
      /^From 25 tread readings, 0 cuts, 3 pressure checks and the lives of 6 tires of "Three airplanes": /,
    );
    expect(text).toMatch(/as later files go over earlier ones\.\n$/);
    expect(text).toContain('local rules apply.');
    expect(text.split('\n').filter((line) => textWidth(line) > 100)).toEqual([]);
    expect(text).not.toMatch(/\b(NaN|Infinity|undefined)\b|\b(surfaces|assumptions|records)\.[a-z]/);
    expect(wrote).toBe('wrote fitted.json, page.html\n');
  });

  test('few records are called few, and what no record bears on is named', () => {
    const flat = text.replaceAll(/\s+/g, ' ');
    expect(flat).toContain('Few records: 25 tread readings of 5 tires.');
    expect(flat).toContain('No record bears on wear factor on turf.');
    expect(flat).toContain('not identified');
  });

  test('--json is what the library gives, whole', async () => {
    await inLogFolder(async (folder) => {
      const { scenario } = readScenario(join(folder, 'scenario.json'));
      const logbook = readLogbook(join(folder, 'log.json'), { scenario });
      const fit = await fitAssumptions(compileScenario(scenario), logbook, { heldOut: ['LA'] });
      expect(answer.fit).toEqual(JSON.parse(JSON.stringify(fit)));
      expect(answer.fit.draws.rows).toHaveLength(1000);
    });
    expect(answer.seasonLeftOut).toBeNull();
    expect(answer.fit.checks.readings.filter(({ heldOut }) => heldOut).map(({ tire }) => tire)).toEqual(
      Array.from({ length: 5 }, () => 'LA'),
    );
  });

  test('the advice at the end gives the season that was told', () => {
    const lives = (of: readonly { setup: string; mix: string; p50: number | null }[]): string[] =>
      of.map(({ setup, mix, p50 }) => `${setup} on ${mix}: ${p50}`);
    const told = answer.shift!.pairings.map(({ setup, mix, after }) => ({
      setup,
      mix,
      p50: after.lifeHours.p50,
    }));
    const ran = season.pairings.map(({ setup, mix, life }) => ({ setup, mix, p50: life.hours.p50 }));
    expect(lives(told)).toEqual(lives(ran));
    expect(
      answer.shift!.pairings.some(({ before, after }) => before.lifeHours.p50 !== after.lifeHours.p50),
    ).toBe(true);
    expect(season.pairings).toHaveLength(4);
  });

  test('the file holds draws with their source, and who decides', () => {
    const { fitted: table } = JSON.parse(fitted) as {
      fitted: { source: string; note: string; draws: number[][] };
    };
    expect(table.source).toBe('fitted to Three airplanes (34 records, 2024-05-01 to 2024-10-01)');
    expect(table.note).toMatch(/^Doubts: .*Few records: 25 .* Invented\..*licensed mechanic decide/);
    expect(table.draws).toHaveLength(1000);
  });

  test('a run of it tells what stands against the fit; the file by itself is no scenario to check', () => {
    const told = season.cautions.filter(({ code }) => code === 'fitted');
    expect(told).toHaveLength(1);
    expect(told[0]!.message).toContain('Few records: 25 tread readings of 5 tires.');
    expect(checked).toMatchObject({ code: 2, stdout: '' });
    expect(checked.stderr).toContain('fitted.json holds fitted assumptions, not a whole scenario');
    expect(checked.stderr).toContain('check the scenario that extends it');
  });

  test('the page tells how to use the fit', () => {
    expect(page).toContain('gravelbar run fitted-season.json');
  });

  test('the page is one document with all that it needs inside', () => {
    expect(page).toMatch(/^<!doctype html>/);
    expect(page.match(/<figure/g)!.length).toBeGreaterThan(3);
  });
});

test('from another folder, with blanks in names, with a seed, and with a share of the tires held out', () =>
  inLogFolder(async (folder, run) => {
    mkdirSync(join(folder, 'my fits'));
    const files = ['../log.json', '--scenario', '../scenario.json', '--out', 'x y.json'];
    const options = ['--no-season', '--json', '--draws', '50', '--seed', 'it is', '--hold-out', '34 %'];
    const { code, stdout } = await run(['fit', ...files, ...options], { cwd: join(folder, 'my fits') });
    expect(code).toBe(0);
    const { use, shift, seasonLeftOut, fit } = JSON.parse(stdout) as Answer;
    expect(use).toEqual({
      file: 'x y-season.json',
      text: '{ "extends": ["../scenario.json", "x y.json"] }',
      command: "gravelbar run 'x y-season.json' --seed 'it is'",
    });
    expect([shift, seasonLeftOut]).toEqual([null, 'The season was left out, as asked for.']);
    expect(fit.seed).toBe('it is');
    expect(fit.draws.rows).toHaveLength(50);

    const held = new Set(fit.checks.readings.flatMap(({ tire, heldOut }) => (heldOut ? [tire] : [])));
    expect(held.size).toBe(2);
    const { scenario } = readScenario(join(folder, 'scenario.json'));
    const logbook = readLogbook(join(folder, 'log.json'), { scenario });
    expect([...held].sort()).toEqual(heldOutShare(logbook, 0.34, 'it is'));
    const turned = { ...logbook, readings: logbook.readings.toReversed() };
    expect(heldOutShare(turned, 0.34, 'it is')).toEqual([...held].sort());
    const others = ['a', 'b', 'c', 'd'].map((seed) => heldOutShare(logbook, 0.34, seed).join());
    expect(new Set(others).size).toBeGreaterThan(1);
  }));

describe('a mistake is refused with a reason, and leaves nothing behind', () => {
  test.each([
    [['fit', 'log.json', '--out', 'x.json'], 2, "required option '--scenario <file>' not specified"],
    [['fit', 'none.json', '--scenario', 'scenario.json', '--out', 'x.json'], 1, 'no such file'],
    [['fit', 'log.json', '--scenario', 'none.json', '--out', 'x.json'], 1, 'no such file'],
    [['fit', 'scenario.json', '--scenario', 'log.json', '--out', 'x.json'], 2, 'is a scenario, not a log'],
    [['fit', 'log.json', '--scenario', 'scenario.json', '--out', 'no/x.json'], 2, 'cannot write no/x.json'],
    [
      ['fit', 'log.json', '--scenario', 'scenario.json', '--out', './scenario.json'],
      2,
      'it is the file of the scenario',
    ],
    [
      ['fit', 'log.json', '--scenario', 'scenario.json', '--out', 'log.json'],
      2,
      'it is the file of the records',
    ],
    [[...FIT, '--page', 'fitted.json'], 2, 'it is the file of the fitted assumptions'],
    [[...FIT, '--hold-out', 'LA', 'LB2'], 2, 'the log has no tire "LB2"; did you mean "LB"?'],
    [[...FIT, '--hold-out', '100 %'], 2, 'it must lie between 0 and 1'],
    [[...FIT, '--hold-out', '99 %'], 2, 'none is left to fit if 6 are held out'],
    [[...FIT, '--mix', 'pavd'], 2, 'did you mean "paved"?'],
    [[...FIT, '--trials', '1'], 2, 'trials is 1; it must be a whole number from 2'],
    [
      [
        'fit',
        shipped('logbook/logbook.json'),
        '--scenario',
        shipped('logbook/fleet.json'),
        '--out',
        'x.json',
        '--draws',
        '20000',
      ],
      2,
      'fit into a file that can be read',
    ],
    [[...FIT, '--draws', '1'], 2, 'draws is 1; it must be a number from 2'],
  ])('%j', (args, exitCode, reason) =>
    inLogFolder(async (folder, run) => {
      const before = listing(folder);
      const { code, stdout, stderr } = await run(args);
      expect({ code, stdout }).toEqual({ code: exitCode, stdout: '' });
      expect(stderr).toContain(reason);
      expect(stderr.match(/gravelbar: /g)).toHaveLength(1);
      expect(stderr).not.toMatch(/^\s+at /m);
      expect(listing(folder)).toEqual(before);
    }),
  );

  test('every bad row is named, however many there are', () =>
    inLogFolder(
      async (folder, run) => {
        const before = listing(folder);
        const { code, stdout, stderr } = await run(FIT);
        expect({ code, stdout }).toEqual({ code: 1, stdout: '' });
        for (let line = 2; line <= 61; line++) expect(stderr).toMatch(new RegExp(`\\b${line}\\b`));
        expect(stderr).not.toMatch(/and \d+ more/);
        expect(listing(folder)).toEqual(before);
      },
      {
        'readings.csv': `tire,date,band,groove [mm]\n${Array.from({ length: 60 }, (_, k) => `LA,2024-05-10,centre,${k} inches`).join('\n')}\n`,
      },
    ));

  test('a fit that has not converged is refused, and nothing is written', () =>
    inLogFolder(async (folder, run) => {
      const before = listing(folder);
      const { code, stdout, stderr } = await run([...FIT, '--most-draws', '100']);
      expect({ code, stdout }).toEqual({ code: 1, stdout: '' });
      expect(stderr).toMatch(/^gravelbar: the fit did not converge, and nothing is written: after 400 draws/);
      expect(stderr).toContain('--most-draws');
      expect(listing(folder)).toEqual(before);
    }));

  test('records that bear on nothing are refused', () =>
    inLogFolder(
      async (folder, run) => {
        const before = listing(folder);
        const { code, stdout, stderr } = await run(FIT);
        expect({ code, stdout }).toEqual({ code: 1, stdout: '' });
        expect(stderr).toContain('bear on no assumption');
        expect(listing(folder)).toEqual(before);
      },
      {
        'tires.csv':
          'tire,airplane,position,setup,fitted,removed,cause\nLA,A,left main,at 25 psi,2024-05-01,,\n',
        'flights.csv': 'airplane,date,strip,landings\n',
        'readings.csv': 'tire,date,band,groove [mm]\n',
        'pressure.csv': 'tire,date,found [psi],set [psi],temperature [degC]\n',
      },
    ));

  test('a scenario that is fitted already is refused', () =>
    inLogFolder(
      async (folder, run) => {
        const before = listing(folder);
        const { code, stderr } = await run(FIT);
        expect(code).toBe(2);
        expect(stderr).toContain('fitted already');
        expect(listing(folder)).toEqual(before);
      },
      {
        'scenario.json': JSON.stringify({
          ...FIT_SCENARIO,
          fitted: {
            source: 'test',
            columns: [{ assumption: 'assumptions.abradability', unit: 'mm3/J' }],
            draws: [[0.1], [0.11]],
          },
        }),
      },
    ));
});

describe('stopped', () => {
  afterEach(() => {
    vi.restoreAllMocks();
  });

  test('by Ctrl-C before the fit is done: says so, leaves nothing behind and exits with 130', () =>
    inFolder(async (folder) => {
      const log = shipped('logbook/logbook.json');
      const args = ['fit', log, '--scenario', shipped('logbook/fleet.json'), '--out', 'fitted.json'];
      const { code, stdout, stderr } = await gravelbar(args, {
        cwd: folder,
        whileRunning: async (kill) => {
          await wait(1500);
          kill('SIGINT');
        },
      });
      expect({ code, stdout }).toEqual({ code: 130, stdout: '' });
      expect(stderr).toMatch(/^gravelbar: stopped before .*\n$/);
      expect(listing(folder)).toEqual([]);
    }));

  test('during the season: the fit is finished work and is written; both phases show how far they are', () =>
    inLogFolder(async (folder) => {
      const stop = new AbortController();
      const drawn: string[] = [];
      let printed = '';
      vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
        printed += String(text);
        return true;
      });
      vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
        drawn.push(String(text));
        if (String(text).includes(' trials, about ')) stop.abort();
        return true;
      });
      const isTTY = Object.getOwnPropertyDescriptor(process.stderr, 'isTTY');
      Object.defineProperty(process.stderr, 'isTTY', { value: true, configurable: true });
      try {
        const code = await fitCommand(
          join(folder, 'log.json'),
          {
            scenario: join(folder, 'scenario.json'),
            out: join(folder, 'fitted.json'),
            page: join(folder, 'page.html'),
            season: true,
            trials: 5000,
            workers: 1,
          },
          stop.signal,
        );
        expect(code).toBe(130);
      } finally {
        if (isTTY === undefined) Reflect.deleteProperty(process.stderr, 'isTTY');
        else Object.defineProperty(process.stderr, 'isTTY', isTTY);
      }
      expect(drawn.some((text) => /fitting: \d+ %/.test(text))).toBe(true);
      expect(printed.replaceAll(/\s+/g, ' ')).toContain(
        'The season was left out: it was stopped. The fit is whole.',
      );
      expect(drawn.at(-1)).toBe('gravelbar: stopped; the fit is finished and written\n');
      expect(names(folder)).toEqual([...INPUTS, 'fitted.json', 'page.html'].sort());
      expect(readFileSync(join(folder, 'page.html'), 'utf8')).toContain('it was stopped');
    }));
});

test('strange names keep the text in shape', () => {
  const setup = `<b>${'雪'.repeat(30)}`;
  const mix = '<script>alert(1)</script>';
  const { setups, mixes, ...rest } = FIT_SCENARIO;
  const scenario = {
    ...rest,
    name: `t\u001b]0;x\u0007${'y'.repeat(60)}`,
    setups: { [setup]: setups['at 25 psi'] },
    mixes: { [mix]: mixes.paved },
  };
  const tires = fitLogFiles()['tires.csv']!.replaceAll('at 25 psi', setup);
  return inLogFolder(
    async (_, run) => {
      const { code, stdout } = await run([...FIT, '--trials', '20']);
      expect(code).toBe(0);
      expect(stdout).not.toMatch(/[^\P{Cc}\n]|\p{Cf}/u);
      expect(stdout.split('\n').filter((line) => textWidth(line) > 100)).toEqual([]);
    },
    { 'scenario.json': JSON.stringify(scenario), 'tires.csv': tires },
  );
});

test('the line of a phase tells how far it is and how long it may take, and claims nothing beyond the least work', () => {
  const written: string[] = [];
  const stream = {
    isTTY: true,
    write: (text: string) => written.push(text),
  } as unknown as NodeJS.WriteStream;
  let now = 0;
  const line = phaseLine(stream, 'fitting', 'until the chains agree', () => now);
  for (const [time, share] of [
    [1000, 0],
    [2000, 0.25],
    [2050, 0.3],
    [9000, 1],
  ] as const) {
    now = time;
    line.update(share);
  }
  line.clear();
  expect(written).toEqual([
    '\r\u001b[Kfitting: 0 %  (Ctrl-C stops)',
    '\r\u001b[Kfitting: 25 %  about 6 s left (Ctrl-C stops)',
    '\r\u001b[Kfitting: 100 %  until the chains agree (Ctrl-C stops)',
    '\r\u001b[K',
  ]);
});
