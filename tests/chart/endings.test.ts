import { beforeAll, describe, expect, it } from 'vitest';
import { runScenario, type RunResult } from '../../dist/run.js';
import type { CompiledScenario } from '../../dist/scenario/compile.js';
import { endingsChart } from '../../lib/chart/endings.js';
import { CAUSE_NAMES, ENDING_PARTS, STILL_IN_SERVICE } from '../../lib/chart/endings-rows.js';
import { END_CAUSES } from '../../lib/estimate/curves.js';
import { percentText } from '../../lib/present/words.js';
import { UsageError } from '../../lib/problems.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { shippedScenario } from '../support/scenarios.js';

const soft = { setup: 'soft 9 psi', mix: 'half rough' };

async function run(scenario: CompiledScenario, trials: number): Promise<RunResult> {
  return (await runScenario(scenario, { trials, workers: 1 })).result;
}

let result: RunResult;

beforeAll(async () => {
  result = await run(shippedScenario('first'), 200);
});

describe('how the tires of a pairing end', () => {
  it('is sound and says its finding; the shares stand beside it with their intervals', async () => {
    const chart = endingsChart(result, soft);
    const text = shownText(await expectSoundChart(chart));
    const { removalCauses } = result.pairings[0]!;
    for (const cause of END_CAUSES) {
      const { estimate } = removalCauses[cause];
      if (estimate === 0) continue;
      expect(text).toMatch(new RegExp(`${CAUSE_NAMES[cause]} ${percentText(estimate)} \\(.* to .* %\\)`));
      expect(chart.description).toContain(`${CAUSE_NAMES[cause]} ${percentText(estimate)}`);
    }
    expect(chart.title.text.join(' ')).toContain(
      `${percentText(removalCauses.worn.estimate)} of the sets wear out`,
    );
    expect(text).toContain(STILL_IN_SERVICE);
  });

  it('draws the estimates it was given, which add to all sets at every time', () => {
    const { curves } = result.pairings[0]!;
    const rows = chartRows(endingsChart(result, soft)).filter(({ part }) => part !== undefined);
    const times = [...new Set(rows.map(({ hours }) => hours))];
    expect(times.length).toBeGreaterThan(20);
    times.forEach((hours, k) => {
      const here = rows.filter((row) => row.hours === hours);
      expect(here.map(({ part }) => part)).toEqual(ENDING_PARTS);
      END_CAUSES.forEach((cause, order) => {
        expect(here[order]!.share).toBeCloseTo(curves.incidence[cause][k]!, 5);
      });
      expect(here[END_CAUSES.length]!.share).toBeCloseTo(curves.survival[k]!, 5);
      expect(here[END_CAUSES.length]!.top).toBeCloseTo(1, 4);
    });
  });

  it('answers a pointer in words', async () => {
    const said = markLabels(await expectSoundChart(endingsChart(result, soft)));
    const points = said.filter((label) => label.startsWith('soft 9 psi on half rough, after '));
    expect(points.length).toBeGreaterThan(100);
    for (const label of points) expect(label).toMatch(/: [<>\d.]+ % (worn|cut|punctured|pinch|age|still)/);
  });

  it('is sound with two trials, with none that ends, and with an age limit', async () => {
    await expectSoundChart(endingsChart(await run(shippedScenario('first'), 2), soft));
    const paved = shippedScenario('first', {
      run: { horizon: '1 month' },
      mixes: { 'half rough': { 'home pavement': '100 %', 'valley gravel': null, 'ridge rock': null } },
    });
    const rigid = { setup: 'rigid 25 psi', mix: 'half rough' };
    const none = endingsChart(await run(paved, 2), rigid);
    expect(shownText(await expectSoundChart(none))).toContain('still in service 100 %');
    expect(none.title.text.join(' ')).toContain('no set came off');
    const aged = endingsChart(
      await run(shippedScenario('first', { habits: { ageLimit: '1 year' } }), 60),
      rigid,
    );
    await expectSoundChart(aged);
    expect(aged.title.text.join(' ')).toMatch(/\d % of the sets reach their age limit/);
  });

  it('takes any name as text', async () => {
    const name = '<script>alert("1")</script> & ${x} {{y}} WWWWWWWWWWWW';
    const named = shippedScenario('first', { setups: { [name]: { like: 'soft 9 psi' } } });
    const both = await run(named, 40);
    expect(shownText(await expectSoundChart(endingsChart(both, { ...soft, setup: name })))).toContain(
      '&lt;script&gt;',
    );
    expect(shownText(await expectSoundChart(endingsChart(both)))).toContain('&lt;script&gt;');
  });
});

describe('how the tires of several pairings end', () => {
  /** A result with many pairings, all alike but for their names. */
  const many = (count: number): RunResult => ({
    ...result,
    pairings: Array.from({ length: count }, (_, k) => ({ ...result.pairings[k % 2]!, setup: `set-up ${k}` })),
  });

  it('is sound for both of the run, each named above its panel', async () => {
    const text = shownText(await expectSoundChart(endingsChart(result)));
    for (const { setup, mix } of result.pairings) expect(text).toContain(`${setup} on ${mix}`);
    expect(text).toContain('worn');
  });

  it.each([1, 3, 15, 37])('is sound for %i pairings', async (count) => {
    await expectSoundChart(endingsChart(many(count)));
  });

  it('takes one mix or one set-up', () => {
    expect(endingsChart(result, { mix: 'half rough' }).description).toContain('2 pairings');
    // One pairing is left: it is drawn large.
    expect(endingsChart(result, { setup: 'soft 9 psi' })).toEqual(endingsChart(result, soft));
  });

  it('refuses more pairings than can be drawn, none, and names that do not exist', () => {
    expect(() => endingsChart(many(38))).toThrow(/38 pairings are too many .* 37 at most/);
    expect(() => endingsChart({ ...result, pairings: [] })).toThrow(UsageError);
    expect(() => endingsChart(result, { mix: 'half ruff' })).toThrow(/did you mean "half rough"/);
    expect(() => endingsChart(result, { ...soft, setup: 'sft 9 psi' })).toThrow(/did you mean "soft 9 psi"/);
  });
});
