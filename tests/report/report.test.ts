import { beforeAll, describe, expect, test } from 'vitest';
import { makeReport } from '../../dist/report/report.js';
import { runScenario, type Run } from '../../dist/run.js';
import { compileScenario } from '../../dist/scenario/compile.js';
import { parseScenario } from '../../dist/scenario/read.js';
import { quiet } from '../support/scenarios.js';

/** Text of a part of the page, tags left out, blanks as in a browser. */
function textOf(page: string, id: string): string {
  const from = page.indexOf(`id="${id}"`);
  const part = page.slice(page.indexOf('>', from) + 1, page.indexOf('</section>', from));
  return part
    .replace(/<svg.*?<\/svg>/gs, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/[\s\u00a0]+/g, ' ');
}

describe('the report of one set-up on one mix without stones, leaks or doubt', () => {
  const { scenario } = parseScenario(JSON.stringify({ ...quiet, run: { trials: '120', horizon: '1 year' } }));
  let run: Run;
  let page: string;

  beforeAll(async () => {
    run = await runScenario(compileScenario(scenario), { workers: 1 });
    page = await makeReport(scenario, run, { workers: 1 });
  });

  test('has nothing to compare, no flat and no end, and says so in words', () => {
    const answer = textOf(page, 'answer');
    expect(run.result.pairings[0]!.life.beyondHorizon).toBe(1);
    expect(answer).toContain('Only only was run on this mix: there is nothing to compare it with.');
    expect(answer).toContain('100 % of its sets of main tires outlast the horizon of the run.');
    // Clopper and Pearson at 0 of 120: 1 - 0.025^(1/120) = 1 / 33.0.
    expect(answer).toContain('A flat on any wheel in fewer than 1 season in 33: none came near in this run.');
    expect(answer).toContain('No set of tires ended within the horizon of the run.');
  });

  test('shows no figure that is none', () => {
    const visible = page.slice(page.indexOf('<body')).replace(/<script>.*?<\/script>/gs, '');
    expect(visible).not.toMatch(/\b(NaN|undefined|null|Infinity)\b|\[object/);
  });

  test('has its cautions at the top and all of them below', () => {
    const authority = run.result.cautions.find(({ code }) => code === 'authority')!.message;
    expect(textOf(page, 'answer')).toContain(authority);
    for (const { message } of run.result.cautions) expect(textOf(page, 'cautions')).toContain(message);
  });

  test('is one document with all that it needs inside', () => {
    expect(page).toMatch(/^<!doctype html>/);
    expect(page.match(/<script/g)).toHaveLength(1);
    expect(page).not.toMatch(/<link(?![^>]*href="data:,")|@import|url\((?!#)|\ssrc=/);
  });

  test('answers first, then the tires of today where they are known, and gear sets and spares only for a fleet', async () => {
    const order = (text: string): string[] => [...text.matchAll(/<h2 id="([^"]+)"/g)].map(([, id]) => id!);
    expect(order(page).slice(0, 5)).toEqual(['answer', 'comparison', 'limits', 'money', 'what-matters']);
    expect(textOf(page, 'what-matters')).toContain(
      'No assumption by itself is surely seen to move the figures of only',
    );
    expect(order(page)).not.toContain('plan');
    const today = { setup: 'only', mix: 'only', flightHours: '10 h', readings: [] };
    const known = parseScenario(JSON.stringify({ ...quiet, today, run: { trials: '8', horizon: '1 year' } }));
    const stopped = await makeReport(
      known.scenario,
      await runScenario(compileScenario(known.scenario), { workers: 1 }),
      { signal: AbortSignal.abort() },
    );
    expect(order(stopped).slice(0, 6)).toEqual([
      'answer',
      'today',
      'comparison',
      'limits',
      'money',
      'what-matters',
    ]);
    expect(textOf(stopped, 'what-matters')).toContain('8 trials are too few to tell what matters');
    expect(textOf(stopped, 'today')).toContain('Left out: the run was stopped');
  });

  test('is made only of a result of the same scenario and seed', async () => {
    const other = { ...scenario, run: { ...scenario.run, seed: 'another' } };
    await expect(makeReport(other, run)).rejects.toThrow('the result is of another scenario or seed');
    const empty = { ...run, result: { ...run.result, pairings: [] } };
    await expect(makeReport(scenario, empty)).rejects.toThrow('the result holds no pairing');
  });

  test('leaves out what a stop prevents, and names it', async () => {
    const stopped = await makeReport(scenario, run, { signal: AbortSignal.abort() });
    for (const id of ['tread', 'pressure', 'inflation']) {
      expect(textOf(stopped, id)).toContain(
        'Left out: the run was stopped before these trials were lived through.',
      );
    }
    expect(textOf(stopped, 'answer')).toBe(textOf(page, 'answer'));
  });
});
