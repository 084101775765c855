import { describe, expect, test } from 'vitest';
import { comparePairings } from '../../dist/decide/compare.js';
import { moneyOfPairings } from '../../dist/decide/money.js';
import { planSeason } from '../../dist/decide/plan-season.js';
import { remainingLife } from '../../dist/decide/remaining-life.js';
import { seasonPressures } from '../../dist/decide/season-pressures.js';
import { setupLimits } from '../../dist/decide/setup-limits.js';
import { CancelledError, UsageError } from '../../dist/problems.js';
import { chapterOr, chapterPart, withoutAnswer, type Chapter } from '../../dist/report/chapter.js';
import { decisionParts } from '../../dist/report/decisions.js';
import { limitsChapter } from '../../dist/report/limits-chapter.js';
import { moneyChapter } from '../../dist/report/money-chapter.js';
import { planChapter } from '../../dist/report/plan-chapter.js';
import { runDriversOrWhy } from '../../dist/report/run-drivers.js';
import { pressuresOfSeason } from '../../dist/decide/season-limits.js';
import { sparesChapter } from '../../dist/report/spares-chapter.js';
import { stockCases } from '../../dist/decide/stock-cases.js';
import { todayChapter } from '../../dist/report/today-chapter.js';
import { runScenario } from '../../dist/run.js';
import { compileScenario } from '../../dist/scenario/compile.js';
import { readScenario } from '../../dist/scenario/read.js';
import { shipped } from '../support/command.js';
import { fixed, quietScenario } from '../support/scenarios.js';

const TRIALS = 30;
const { scenario } = readScenario(shipped('two-gear-sets.json'));
const compiled = compileScenario(scenario);
const run = await runScenario(compiled, { trials: TRIALS, workers: 1 });
const comparisons = comparePairings(compiled, run.simulation);

const HEADING = { id: 'made', title: 'Made' };

/** What stands in a chapter, rows of tables as lines, drawings left out. */
async function textOf(chapter: Chapter): Promise<string> {
  const { body } = await chapterPart(chapter);
  return body.markup
    .replace(/<svg.*?<\/svg>/gs, '')
    .replace(/\s+/g, ' ')
    .replace(/<\/(tr|p|li|caption|summary)>/g, '\n')
    .replace(/<[^>]*>/g, ' ')
    .replaceAll('&quot;', '"')
    .replace(/[ \u00a0]+/g, ' ')
    .replace(/ ?\n ?/g, '\n');
}

/** A number with three figures and commas between thousands. */
const shown = (value: number): string => Number(value.toPrecision(3)).toLocaleString('en-US');

describe('the chapter on limits', () => {
  test('puts set-ups beyond a limit first, and their worst check at the top of their table', async () => {
    const shippedOrder = compileScenario(readScenario(shipped('mixed-season.json')).scenario);
    const mixed = { ...shippedOrder, setups: shippedOrder.setups.toReversed() };
    const chapter = await limitsChapter(mixed, 4, {});
    const beyond = setupLimits(mixed)
      .filter(({ checks }) => checks.some(({ status, binding }) => binding && status === 'beyond'))
      .map(({ setup }) => setup);
    expect(beyond).toEqual(['soft 29 at 9 psi']);
    expect(mixed.setups[0]!.name).not.toBe(beyond[0]);
    expect(chapter.lead).toMatch(/^Beyond a limit as set: soft 29 at 9 psi;/);
    expect(chapter.answers[0]).toMatch(/^soft 29 at 9 psi: beyond 2 of 17 limits/);
    expect(chapter.answers).toHaveLength(mixed.setups.length);
    const rows = (await textOf(chapter)).split('\n');
    const from = rows.findIndex((row) => row.startsWith('Limits of soft 29 at 9 psi'));
    const says = rows.slice(from + 2, from + 2 + setupLimits(shippedOrder)[0]!.checks.length);
    expect(says[0]).toMatch(/BEYOND$/);
    expect(says[1]).toMatch(/BEYOND$/);
    expect(says.slice(2).join()).not.toContain('BEYOND');
  });

  test('names what a check that was not made needs', async () => {
    const bare = quietScenario({ airplanes: { 'reference four-seater': { geometry: null } } });
    const lacking = setupLimits(bare)[0]!.checks.filter(({ status }) => status === 'not checked');
    expect(lacking.length).toBeGreaterThan(0);
    const text = await textOf(await limitsChapter(bare, 2, {}));
    for (const { needs } of lacking) for (const need of needs) expect(text).toContain(need);
    expect(text).toContain('Checks that lack data');
  });

  test('stands without the pressures of a season where they are stopped', async () => {
    const stopped = await limitsChapter(compiled, 4, { signal: AbortSignal.abort() });
    expect(stopped.answers.join()).not.toContain('season');
    expect(stopped.notes.at(-1)).toMatch(/^Pressures met in a season: left out: the run was stopped/);
    expect((await limitsChapter(compiled, 4, {})).notes.at(-1)).toContain('of 4 seasons each');
  });

  test('takes the widest pressures over the mixes', async () => {
    const trials = 4;
    const own = await Promise.all(
      compiled.mixes.map(({ name }) =>
        seasonPressures(compiled, { setup: 'rigid 29 deep', mix: name, trials }),
      ),
    );
    const widest = await pressuresOfSeason(compiled, { trials, setups: ['rigid 29 deep'] });
    expect(Object.keys(widest)).toEqual(['rigid 29 deep']);
    const { mainLowestPa, thirdHighestPa } = widest['rigid 29 deep']!;
    expect(mainLowestPa).toBe(Math.min(...own.map((each) => each.mainLowestPa)));
    expect(thirdHighestPa).toBe(Math.max(...own.map((each) => each.thirdHighestPa)));
  });
});

describe('the chapter on money', () => {
  test('has an answer and a table for each mix, the cheapest first, and all parts', async () => {
    const money = moneyOfPairings(compiled, run.simulation);
    const chapter = moneyChapter(compiled, run.simulation, comparisons);
    const text = await textOf(chapter);
    const lines = text.split('\n');
    expect(chapter.answers).toHaveLength(compiled.mixes.length);
    for (const [index, { name: mix }] of compiled.mixes.entries()) {
      const own = money.flatMap((each) => (each.priced && each.mix === mix ? [each] : []));
      const ranked = own.sort((a, b) => a.perFlightHour.mean.estimate - b.perFlightHour.mean.estimate);
      const from = lines.indexOf(`credits per flight hour on ${mix}`);
      ranked.forEach(({ setup, perFlightHour: { mean } }, place) => {
        const row = lines[from + 2 + place]!;
        expect(row.startsWith(setup)).toBe(true);
        const figure = Number(row.slice(setup.length).trim().split(' ')[0]!.replaceAll(',', ''));
        // Rounded to what its error leaves standing.
        expect(Math.abs(figure - mean.estimate)).toBeLessThan(mean.standardError);
      });
      const best = comparisons.find((each) => each.mix === mix)!.best.costPerHour!;
      expect(chapter.answers[index]).toMatch(new RegExp(`^On ${mix}, `));
      expect(best.priced && chapter.answers[index]!.includes(best.verdict.text)).toBe(true);
    }
    for (const part of ['Tires', 'Labour', 'Tubes and patches', 'Rescue', 'Lost days', 'Longer flights']) {
      expect(text).toContain(part);
    }
    expect((await chapterPart(chapter)).body.markup).toContain('<svg');
  });

  test('says what a price needs', async () => {
    const bare = quietScenario();
    const { simulation } = await runScenario(bare, { trials: 4, workers: 1 });
    const { answers, tables } = moneyChapter(bare, simulation, []);
    expect(answers).toEqual(['Money is not priced: needs costs and tire prices.']);
    expect(tables).toEqual([]);
  });
});

describe('the chapters on a fleet', () => {
  test('gear sets: the best plan of each airplane stands first, and the fleet at the end', async () => {
    const plan = await planSeason(scenario, { trials: 8 });
    const text = await textOf(await planChapter(scenario, 8, {}));
    for (const { airplane, plans } of plan.airplanes) {
      const after = text.slice(text.indexOf(`Plans for each ${airplane}`)).split('\n');
      const row = after[2]!;
      expect(row).toContain(plans[0]!.legs[0]!.setup);
      expect(row).toContain(' best ');
    }
    expect(text).toContain('The fleet of 3 airplanes on the best plans');
    expect(text).toContain('a licensed mechanic decide');
    expect(text).toContain('All 32 plans simulated');
  });

  test('spares: one case for each choice of gear sets, with the stock of each item', async () => {
    const { cases, remarks } = await stockCases(scenario, { worlds: 12 });
    const text = await textOf(await sparesChapter(scenario, 12, {}));
    expect(cases.map(({ airplanes }) => airplanes.map(({ setup, count }) => `${count} ${setup}`))).toEqual([
      ['2 faired 6.00-6', '1 faired 6.00-6'],
      ['2 rigid 29 deep', '1 rigid 29 deep'],
    ]);
    for (const { spares } of cases) {
      for (const { kind, tire, stock } of spares.items.filter((item) => item.kind === 'tire')) {
        expect(kind).toBe('tire');
        expect(text).toMatch(new RegExp(`\\n${tire!.replaceAll('.', '\\.')} [\\d.,]+ ${stock} `));
      }
    }
    for (const remark of remarks) expect(text).toContain(remark);
  });

  test('airplanes of another season are stocked apart', async () => {
    const { airplanes } = scenario.fleet!;
    const short = {
      ...scenario.season,
      months: scenario.season.months.slice(0, 12).map((month) => ({ ...month })),
    };
    short.months[0] = { ...short.months[0]!, landings: short.months[0]!.landings + 1 };
    const apart = {
      ...scenario,
      fleet: {
        ...scenario.fleet!,
        airplanes: { ...airplanes, 'town runner': { ...airplanes['town runner']!, season: short } },
      },
    };
    const { cases, remarks } = await stockCases(apart, { worlds: 4 });
    expect(cases.map(({ spares }) => spares.airplanes)).toEqual([2, 2, 1, 1]);
    expect(remarks.at(-1)).toContain('are stocked apart');
  });

  test('are left out without a fleet, and named where a stop left them undone', async () => {
    const sources = {
      scenario,
      compiled,
      run,
      comparisons,
      drivers: runDriversOrWhy(compiled, run.simulation),
    };
    const stopped = await decisionParts(sources, { signal: AbortSignal.abort() });
    expect(stopped.map(({ id }) => id)).toEqual(['limits', 'money', 'what-matters', 'plan', 'spares']);
    expect(stopped[2]!.body.markup).toContain('30 trials are too few to tell what matters; run at least 100');
    for (const { body } of stopped.slice(3)) expect(body.markup).toContain('Left out: the run was stopped');
    const alone = { ...scenario, fleet: undefined };
    const parts = await decisionParts({ ...sources, scenario: alone }, { signal: AbortSignal.abort() });
    expect(parts.map(({ id }) => id)).toEqual(['limits', 'money', 'what-matters']);
    await expect(stockCases(alone, { worlds: 4 })).rejects.toThrow('the scenario has no "fleet"');
  });
});

describe('the chapter on the tires of today', () => {
  const today = { setup: 'only', mix: 'only', flightHours: '10 h', readings: [] };
  // Wear in doubt, so that lives differ.
  const doubt = {
    abradability: { distribution: 'lognormal', p10: '0.07 mm3/J', p90: '0.14 mm3/J', source: 'test' },
  };

  test('tells what is left as remaining life does, with its caution', async () => {
    const known = quietScenario({ today, assumptions: doubt, run: { horizon: '3 years' } });
    const { result } = await runScenario(known, { trials: 8, workers: 1 });
    const life = await remainingLife(known, { setup: 'only', mix: 'only' }, known.today!);
    const text = await textOf(await todayChapter(known, known.today!, result, {}));
    expect(text).toContain('An estimate is no inspection');
    const { p10, p50, p90 } = life.remaining.hours;
    const row = text.split('\n').find((line) => line.startsWith('Flight hours '))!;
    for (const value of [p10, p50, p90]) {
      if (value === null) expect(row).toContain('beyond the horizon');
      else expect(row).toContain(` ${shown(value)}`);
    }
    expect(text).toContain('No tread was read');
    expect(text).not.toContain('What the gauge said');
  });

  test('has no curve where its pairing was not run', async () => {
    const known = quietScenario({ today, assumptions: { abradability: fixed('0.1 mm3/J') } });
    const { result } = await runScenario(known, { trials: 4, workers: 1 });
    const without = { ...result, pairings: [{ ...result.pairings[0]!, setup: 'other' }] };
    expect((await todayChapter(known, known.today!, result, {})).chart).not.toBeNull();
    expect((await todayChapter(known, known.today!, without, {})).chart).toBeNull();
  });
});

describe('a chapter without an answer', () => {
  test('says that it was stopped, or why there is none; a defect is no answer', async () => {
    const failing = (error: Error): Promise<Chapter> => chapterOr(HEADING, () => Promise.reject(error));
    expect((await failing(new CancelledError('stopped'))).answers).toEqual([
      'Left out: the run was stopped before these trials were lived through.',
    ]);
    expect((await failing(new UsageError('too few <b>'))).answers).toEqual([
      'There is no answer: too few <b>.',
    ]);
    await expect(failing(new RangeError('broken'))).rejects.toThrow('broken');
  });

  test('keeps its words where the chart cannot be drawn', async () => {
    const chapter = (error: Error): Chapter => ({
      ...withoutAnswer(HEADING, 'Said.'),
      chart: () => {
        throw error;
      },
    });
    const text = await textOf(chapter(new UsageError('too many rows')));
    expect(text).toContain('Said.');
    expect(text).toContain('The chart is left out: too many rows.');
    await expect(chapterPart(chapter(new RangeError('broken')))).rejects.toThrow('broken');
  });
});
