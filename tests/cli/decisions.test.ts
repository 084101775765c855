import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import { comparePairings } from '../../dist/decide/compare.js';
import { simulateFleetDemand } from '../../dist/decide/fleet-demand.js';
import { moneyOfPairings } from '../../dist/decide/money.js';
import { planSeason } from '../../dist/decide/plan-season.js';
import { sweepPressure } from '../../dist/decide/pressure-sweep.js';
import { remainingLife } from '../../dist/decide/remaining-life.js';
import { seasonPressures } from '../../dist/decide/season-pressures.js';
import { setupLimits } from '../../dist/decide/setup-limits.js';
import { stockSpares } from '../../dist/decide/spares.js';
import { compileScenario, type CompiledScenario } from '../../dist/scenario/compile.js';
import { readScenario } from '../../dist/scenario/read.js';
import { simulate } from '../../dist/simulate/simulate.js';
import { textWidth } from '../../lib/present/words.js';
import { gravelbar, inFolder, listing, shipped } from '../support/command.js';

type Json = Readonly<Record<string, unknown>>;

const FIRST = shipped('first.json');
const FLEET = shipped('two-gear-sets.json');
const TODAY = shipped('my-tires-today.json');

function compiled(file: string, seed = 'gravelbar'): CompiledScenario {
  const { scenario } = readScenario(file);
  return compileScenario({ ...scenario, run: { ...scenario.run, seed } });
}

/** What JSON keeps of a value. */
function asJson(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value));
}

/** The answer of a command as JSON, and nothing on standard error. */
async function answerOf(...args: readonly string[]): Promise<Json> {
  const { code, stdout, stderr } = await gravelbar([...args, '--json']);
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  expect(stdout).not.toMatch(/\b(NaN|Infinity|undefined)\b/);
  return JSON.parse(stdout) as Json;
}

describe('--json prints what the library gives', () => {
  test('limits', async () => {
    const answer = await answerOf(
      'limits',
      FIRST,
      '--trials',
      '4',
      '--setup',
      'rigid 25 psi',
      '--seed',
      'other',
    );
    const scenario = compiled(FIRST, 'other');
    const [{ name: mix }] = scenario.mixes as unknown as [{ readonly name: string }];
    const pressures = await seasonPressures(scenario, { setup: 'rigid 25 psi', mix, trials: 4 });
    const limits = setupLimits(scenario, { seasonPressures: { 'rigid 25 psi': pressures } });
    expect(answer).toMatchObject({ seed: 'other', trials: 4, mixes: [mix] });
    expect(answer.setups).toEqual(asJson(limits.filter(({ setup }) => setup === 'rigid 25 psi')));
  });

  test('limits: pressures of the season are the extremes over the mixes', async () => {
    const file = shipped('all-paved-to-all-rock.json');
    const { setups } = (await answerOf('limits', file, '--trials', '4')) as {
      readonly setups: readonly {
        readonly setup: string;
        readonly seasonPressures: Readonly<Record<string, number>>;
      }[];
    };
    const scenario = compiled(file);
    const { setup, seasonPressures: widest } = setups[0]!;
    const each = await Promise.all(
      scenario.mixes.map(({ name: mix }) => seasonPressures(scenario, { setup, mix, trials: 4 })),
    );
    expect(each.length).toBeGreaterThan(1);
    expect(widest.mainLowestPa).toBe(Math.min(...each.map(({ mainLowestPa }) => mainLowestPa)));
    expect(widest.mainHighestPa).toBe(Math.max(...each.map(({ mainHighestPa }) => mainHighestPa)));
    expect(widest.thirdLowestPa).toBe(Math.min(...each.map(({ thirdLowestPa }) => thirdLowestPa)));
  });

  test('pressure', async () => {
    const answer = await answerOf(
      'pressure',
      FIRST,
      '--setup',
      'rigid 25 psi',
      '--trials',
      '4',
      '--workers',
      '1',
    );
    const sweep = await sweepPressure(compiled(FIRST), { setup: 'rigid 25 psi', trials: 4, workers: 1 });
    expect(answer).toEqual(asJson(sweep));
  });

  test('compare, on all mixes and by all criteria, or as asked for', async () => {
    const scenario = compiled(FIRST);
    const simulation = await simulate(scenario, { trials: 8, workers: 1 });
    const all = await answerOf('compare', FIRST, '--trials', '8', '--workers', '2');
    expect(all.comparisons).toEqual(asJson(comparePairings(scenario, simulation)));
    expect(all.money).toEqual(asJson(moneyOfPairings(scenario, simulation)));
    const one = await answerOf('compare', FIRST, '--trials', '8', '--by', 'days', '--mix', 'half rough');
    expect(one.comparisons).toEqual(
      asJson(comparePairings(scenario, simulation, { criteria: ['daysLost'] })),
    );
  });

  test('plan', async () => {
    const { scenario } = readScenario(FLEET);
    const plan = await planSeason(scenario, { trials: 3, criterion: 'daysLost', mostPlans: 8 });
    expect(await answerOf('plan', FLEET, '--trials', '3', '--by', 'days', '--plans', '8')).toEqual(
      asJson(plan),
    );
  });

  test('remaining, with what to reach', async () => {
    const scenario = compiled(TODAY);
    const { setup, mix } = scenario.today!;
    const request = { setup, mix, trials: 1000, reachHours: [50, 100], reachDays: [60] };
    const life = await remainingLife(scenario, request, scenario.today!);
    const args = ['--trials', '1000', '--reach', '50 h', '--reach', '60 days', '--reach', '100h'];
    expect(await answerOf('remaining', TODAY, ...args)).toEqual(asJson(life));
  });

  test('spares of a fleet, each gear set in turn, with its counts and mixes by month', async () => {
    const answer = await answerOf(
      'spares',
      FLEET,
      '--trials',
      '6',
      '--service',
      '80 %',
      '--lead-time',
      '14 days',
    );
    const scenario = compileScenario({ ...readScenario(FLEET).scenario, today: undefined });
    const setups = ['faired 6.00-6', 'rigid 29 deep'];
    const cases = answer.cases as readonly Json[];
    expect(cases).toHaveLength(setups.length);
    for (const [index, setup] of setups.entries()) {
      const fleet = [
        { setup, mix: 'paved winter, rough summer', airplanes: 2 },
        { setup, mix: 'paved but for July', airplanes: 1 },
      ];
      const demand = await simulateFleetDemand(scenario, { fleet, worlds: 6 });
      expect(cases[index]!.spares).toEqual(
        asJson(stockSpares(demand, { serviceLevel: 0.8, leadTimeDays: 14 })),
      );
      expect(cases[index]!.airplanes).toMatchObject([
        { airplane: 'bush runner', count: 2, setup },
        { airplane: 'town runner', count: 1, setup },
      ]);
    }
  });

  test('spares of one airplane, each set-up in turn or the one asked for', async () => {
    const scenario = compiled(FIRST);
    const mix = scenario.mixes[0]!.name;
    const stockOf = async (setup: string): Promise<unknown> =>
      asJson(stockSpares(await simulateFleetDemand(scenario, { fleet: [{ setup, mix }], worlds: 6 })));
    const spares = async (...more: readonly string[]): Promise<unknown[]> => {
      const { cases } = await answerOf('spares', FIRST, '--trials', '6', ...more);
      return (cases as readonly Json[]).map((each) => each.spares);
    };
    expect(await spares()).toEqual(await Promise.all(scenario.setups.map(({ name }) => stockOf(name))));
    expect(await spares('--setup', 'soft 9 psi')).toEqual([await stockOf('soft 9 psi')]);
  });

  test('spares of airplanes that differ in season are stocked apart, and it is said', () =>
    inFolder(async (folder) => {
      const stated = JSON.parse(readFileSync(FLEET, 'utf8')) as {
        season: object;
        fleet: { airplanes: Record<string, object> };
      };
      const season = {
        months: [{ month: 'July', landings: '40', flightHours: '20 h', temperature: '15 degC' }],
        temperatureSpread: '5 degC',
        baseElevation: '0 ft',
        source: 'test',
      };
      const town = { ...stated.fleet.airplanes['town runner'], mix: 'gravel', season };
      const change = { extends: FLEET, name: 'own season', fleet: { airplanes: { 'town runner': town } } };
      writeFileSync(join(folder, 'own.json'), JSON.stringify(change));
      const { cases, remarks } = await answerOf('spares', join(folder, 'own.json'), '--trials', '4');
      const airplanes = (cases as readonly { readonly airplanes: readonly Json[] }[]).map((each) =>
        each.airplanes.map(({ airplane }) => airplane),
      );
      expect(airplanes).toEqual([['bush runner'], ['bush runner'], ['town runner'], ['town runner']]);
      expect(remarks).toContainEqual(expect.stringContaining('stocked apart'));
    }));
});

const QUESTIONS: readonly (readonly [name: string, args: readonly string[], first: RegExp])[] = [
  ['limits', [FIRST, '--trials', '4'], /^soft 9 psi: (beyond|within) /],
  ['pressure', [FIRST, '--setup', 'rigid 25 psi', '--trials', '4'], /^rigid 25 psi on half rough: /],
  ['compare', [FIRST, '--trials', '8'], /^On half rough: /],
  ['plan', [FLEET, '--trials', '4'], /^bush runner \(2 airplanes\): (Change|Stay|Too close to tell)/],
  ['spares', [FLEET, '--trials', '4'], /^3 airplanes on faired 6\.00-6 all season: keep /],
  ['remaining', [TODAY, '--trials', '800'], /^rigid 26 at 25 psi on my strips, 340 h flown, 10 July: about /],
];

describe.each(QUESTIONS)('%s', (name, args, first) => {
  test('begins with the answer, ends with who decides, and keeps to 100 columns', async () => {
    const { code, stdout, stderr } = await gravelbar([name, ...args]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(stdout).toMatch(first);
    expect(stdout).toMatch(
      /licensed mechanic decide[^\n]*\n[^\n]*local rules apply\.\n$|local rules apply\.\n$/,
    );
    expect(stdout.split('\n').filter((line) => textWidth(line) > 100)).toEqual([]);
    expect(stdout).toMatch(/\d+ trials, seed gravelbar,\s+gravelbar \d/);
  });

  test('--out and --chart write the same answer, and its picture', () =>
    inFolder(async (folder) => {
      const files = ['--json', '--out', 'new/deep', '--chart', 'one.json'];
      const { code, stdout, stderr } = await gravelbar([name, ...args, ...files], { cwd: folder });
      expect({ code, stderr }).toEqual({
        code: 0,
        stderr: `wrote new/deep/${name}.json, new/deep/${name}.txt, one.json, new/deep/${name}.svg\n`,
      });
      const read = (file: string): string => readFileSync(join(folder, file), 'utf8');
      expect(read(`new/deep/${name}.json`)).toBe(stdout);
      expect(read(`new/deep/${name}.txt`)).toMatch(first);
      expect(read(`new/deep/${name}.svg`)).toMatch(/^<svg .*<\/svg>\s*$/s);
      expect((JSON.parse(read('one.json')) as { $schema: string }).$schema).toContain('vega-lite');
      expect(listing(join(folder, 'new', 'deep'))).toHaveLength(3);
    }));
});

describe('a mistake is refused with a reason, and leaves nothing behind', () => {
  test.each([
    [['limits', FIRST, '--setup', 'soft'], 2, 'there is no set-up named "soft"'],
    [['limits', FIRST, '--mix', 'smooth'], 2, 'there is no runway mix named "smooth"'],
    [['limits', FIRST, '--trials', '1'], 2, 'trials is 1; it must be a whole number from 2'],
    [['limits', FIRST, '--chart', 'x.pdf'], 2, 'cannot write PDF for x.pdf: its name must end in'],
    [['limits', FIRST, '--chart', 'no/where.svg'], 2, 'cannot write no/where.svg: the folder'],
    [['pressure', FIRST], 2, "required option '--setup <name>' not specified"],
    [['pressure', FIRST, '--setup', 'rigid 52 psi'], 2, 'did you mean "rigid 25 psi"?'],
    [
      ['compare', FIRST, '--by', 'money'],
      2,
      'expected one of: life, flats, cost, days; did you mean "cost"?',
    ],
    [
      ['compare', TODAY],
      2,
      'a comparison needs at least two set-ups; the scenario has one: rigid 26 at 25 psi',
    ],
    [['plan', FIRST], 2, 'the scenario has no "fleet"'],
    [['plan', FLEET, '--by', 'life'], 2, 'expected one of: cost, days, flats.'],
    [['plan', FLEET, '--plans', '1'], 2, 'mostPlans is 1; it must be a whole number from 2'],
    [['spares', FIRST, '--service', '100 %'], 2, 'service is 1; it must be a share between 0 and 1'],
    [['spares', FIRST, '--lead-time', '14'], 2, 'expected a time such as "14 days".'],
    [['spares', FLEET, '--mix', 'gravel'], 2, 'the fleet says which mix each airplane flies'],
    [['spares', FLEET, '--trials', '2'], 2, 'worlds is 2; it must be at least the number of airplanes, 3'],
    [['remaining', FIRST], 2, 'the scenario has no "today"'],
    [
      ['remaining', TODAY, '--reach', 'July'],
      2,
      'expected flight hours such as "60 h" or days such as "45 days".',
    ],
    [['remaining', 'none.json'], 1, 'no such file'],
  ])('%j', (args, exitCode, reason) =>
    inFolder(async (folder) => {
      const { code, stdout, stderr } = await gravelbar([...args, '--out', 'out'], { cwd: folder });
      expect({ code, stdout }).toEqual({ code: exitCode, stdout: '' });
      expect(stderr).toContain(reason);
      expect(stderr.match(/gravelbar: /g)).toHaveLength(1);
      expect(stderr).not.toMatch(/^\s+at /m);
      expect(listing(folder)).toEqual([]);
    }),
  );

  test('without prices money cannot be asked for, and is told as not checked', () =>
    inFolder(async (folder) => {
      writeFileSync(join(folder, 'free.json'), JSON.stringify({ extends: FIRST, name: 'free', costs: null }));
      const asked = await gravelbar(['compare', 'free.json', '--by', 'cost', '--trials', '4'], {
        cwd: folder,
      });
      expect(asked).toMatchObject({ code: 2, stdout: '' });
      expect(asked.stderr).toMatch(/^gravelbar: money cannot be compared: .*needs costs and tire prices/);
      const plain = await gravelbar(['compare', 'free.json', '--trials', '8', '--chart', 'x.svg'], {
        cwd: folder,
      });
      expect(plain.code).toBe(0);
      expect(plain.stdout.replaceAll(/\s+/g, ' ')).toMatch(
        /money not checked: .*needs costs and tire prices/,
      );
    }));
});

test.each([
  ['plan', FLEET],
  ['spares', FLEET],
  ['compare', shipped('mixed-season.json')],
  ['limits', shipped('mixed-season.json')],
] as const)('%s stopped by Ctrl-C says so, leaves nothing behind and exits with 130', (name, file) =>
  inFolder(async (folder) => {
    const { code, stdout, stderr } = await gravelbar([name, file, '--trials', '90000', '--out', 'out'], {
      cwd: folder,
      whileRunning: async (kill) => {
        while (listing(folder).length === 0) await wait(10);
        await wait(300);
        kill('SIGINT');
      },
    });
    expect({ code, stdout }).toEqual({ code: 130, stdout: '' });
    expect(stderr).toMatch(/^gravelbar: .*(stopped|cancelled).*; there is nothing to show\n$/);
    expect(listing(folder)).toEqual([]);
  }),
);

test('strange names keep text in shape in every command', () =>
  inFolder(async (folder) => {
    const names = ['<script>alert(1)</script>', 'e\u0301t\u00e9 "&\'', '雪'.repeat(40), 'x'.repeat(60)];
    const rigid = {
      mainTire: 'rigid 29 deep',
      mainPressure: '25 psi',
      thirdTire: 'nose 8.50-6',
      thirdPressure: '25 psi',
    };
    const mix = '=1+1 🛞';
    const scenario = {
      name: `title \u001b]0;x\u0007${'y'.repeat(60)}`,
      setups: Object.fromEntries(names.map((setup) => [setup, rigid])),
      mixes: { [mix]: { 'home pavement': '100 %' } },
      fleet: {
        airplanes: { ['雪'.repeat(40)]: { count: '2', mix, gearSets: names } },
        swap: { price: '10', daysLost: '0.5 days', months: ['May', 'August'] },
        source: 'test',
      },
      today: { setup: names[0], mix, landings: '20', month: 'July', dayOfMonth: '1', readings: [] },
    };
    writeFileSync(join(folder, 'scenario.json'), JSON.stringify(scenario));
    const runs: readonly (readonly string[])[] = [
      ['limits', '--trials', '2'],
      ['pressure', '--setup', names[0]!, '--trials', '2'],
      ['compare', '--trials', '4'],
      ['plan', '--trials', '2', '--plans', '6'],
      ['spares', '--trials', '4'],
      ['remaining', '--trials', '500'],
    ];
    for (const [name, ...options] of runs) {
      const args = [name!, 'scenario.json', ...options, '--chart', 'x.svg'];
      const { code, stdout, stderr } = await gravelbar(args, { cwd: folder });
      expect({ code, stderr }).toEqual({ code: 0, stderr: 'wrote x.svg\n' });
      expect(stdout).not.toMatch(/[^\P{Cc}\n]|\p{Cf}/u);
      expect(stdout.split('\n').filter((line) => textWidth(line) > 100)).toEqual([]);
    }
  }));
