import { beforeAll, describe, expect, it } from 'vitest';
import { remainingLife } from '../../dist/decide/remaining-life.js';
import type { RemainingLife } from '../../dist/decide/remaining-types.js';
import { runScenario, type RunResult } from '../../dist/run.js';
import type { CompiledScenario } from '../../dist/scenario/compile.js';
import { amountText } from '../../lib/chart/figures.js';
import { lifeCurveChart } from '../../lib/chart/life-curve.js';
import { NEW_TIRES, WORLDS, YOUR_TIRES } from '../../lib/chart/life-rows.js';
import { UsageError } from '../../lib/problems.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { shippedScenario } from '../support/scenarios.js';

const first = shippedScenario('first');
const soft = { setup: 'soft 9 psi', mix: 'half rough' };

async function run(scenario: CompiledScenario, trials: number): Promise<RunResult> {
  return (await runScenario(scenario, { trials, workers: 1 })).result;
}

let result: RunResult;
let today: RemainingLife;

beforeAll(async () => {
  result = await run(first, 400);
  const reading = { band: 'centre', place: 'mean', grooveM: 0.0016, errorM: 0.0004, stepM: 0.0001 } as const;
  const readings = [
    { ...reading, wheel: 'left' as const },
    { ...reading, wheel: 'right' as const },
  ];
  today = await remainingLife(
    first,
    { ...soft, trials: 2000 },
    { flightHours: 54, landings: null, readings },
  );
});

describe('the life curve of new tires', () => {
  it('is sound, and says its finding, trials, seed and caution', async () => {
    const chart = lifeCurveChart(result, soft);
    const svg = await expectSoundChart(chart);
    const { p10, p50, p90 } = result.pairings[0]!.life.hours;
    const text = shownText(svg);
    for (const [name, value] of Object.entries({ P10: p10, P50: p50, P90: p90 })) {
      expect(text).toContain(`${name} ${amountText(value)} h`);
    }
    expect(chart.title.text.join(' ')).toContain(
      `half of the sets last longer than ${amountText(p50)} flight hours`,
    );
    expect(text).toContain('400 trials, seed gravelbar');
    expect(chart.title.subtitle.join(' ')).toContain('a licensed mechanic decide');
    expect(chart.description).toContain(amountText(p50));
  });

  it('draws the estimates it was given', () => {
    const { curves, life } = result.pairings[0]!;
    const rows = chartRows(lifeCurveChart(result, soft));
    const curve = rows.filter(({ series }) => series === NEW_TIRES);
    const worlds = rows.filter(({ series }) => series === WORLDS);
    expect(curve.length).toBeGreaterThan(20);
    curve.forEach((row, k) => {
      expect(row.hours).toBeCloseTo(curves.hours[k]!, 2);
      expect(row.chance).toBeCloseTo(curves.survival[k]!, 4);
      expect(row.lower).toBeCloseTo(curves.lower[k]!, 4);
      expect(row.upper).toBeCloseTo(curves.upper[k]!, 4);
    });
    // The curves of worlds are drawn once for their band and once for each of their lines.
    expect(worlds.length).toBe(3 * curve.length);
    worlds.slice(0, curve.length).forEach((row, k) => {
      expect(row.harsh).toBeCloseTo(curves.worlds!.harsh[k]!, 4);
      expect(row.kind).toBeCloseTo(curves.worlds!.kind[k]!, 4);
    });
    const median = rows.find(({ label }) => String(label).startsWith('P50'))!;
    expect(median.hours).toBeCloseTo(life.hours.p50!, 2);
    expect(median.chance).toBe(0.5);
  });

  it('answers a pointer with hours, seasons and landings in words', async () => {
    const labels = markLabels(await expectSoundChart(lifeCurveChart(result, soft)));
    const said = labels.filter((label) => label.startsWith('After '));
    expect(said.length).toBeGreaterThan(20);
    for (const label of said) {
      expect(label).toMatch(
        /^After [\d.,]+ h, [\d.]+ seasons, [\d,]+ landings?: [<>\d.]+ % still in service, /,
      );
    }
  });

  it('shows no world where there were too few twins to tell', async () => {
    const chart = lifeCurveChart(await run(first, 60), soft);
    const svg = await expectSoundChart(chart);
    expect(chartRows(chart).filter(({ series }) => series === WORLDS)).toEqual([]);
    expect(shownText(svg)).toContain('Too few trials to tell ignorance from luck');
    expect(shownText(svg)).not.toContain(WORLDS);
  });

  it('is sound with two trials', async () => {
    await expectSoundChart(lifeCurveChart(await run(first, 2), soft));
  });

  it('is sound with lives beyond the horizon, and with none that ends', async () => {
    const short = shippedScenario('first', { run: { horizon: '14 months' } });
    const chart = lifeCurveChart(await run(short, 120), { setup: 'rigid 25 psi', mix: 'half rough' });
    expect(shownText(await expectSoundChart(chart))).not.toMatch(/P50|P90/);
    expect(chart.title.text.join(' ')).toContain('over half of the sets outlast the horizon');
    const paved = shippedScenario('first', {
      run: { horizon: '1 month' },
      mixes: { 'half rough': { 'home pavement': '100 %', 'valley gravel': null, 'ridge rock': null } },
    });
    const none = lifeCurveChart(await run(paved, 2), { setup: 'rigid 25 psi', mix: 'half rough' });
    await expectSoundChart(none);
    expect(none.title.text.join(' ')).toContain('no set came off');
  });

  it('takes any name as text', async () => {
    const name = '<script>alert("1")</script> & ${x} {{y}} WWWWWWWWWWWW';
    const named = shippedScenario('first', { setups: { [name]: { like: 'soft 9 psi' } } });
    const chart = lifeCurveChart(await run(named, 40), { ...soft, setup: name });
    expect(shownText(await expectSoundChart(chart))).toContain('&lt;script&gt;');
    expect(chart.description).toContain(name);
  });

  it('refuses a name that the result does not have', () => {
    expect(() => lifeCurveChart(result, { ...soft, setup: 'soft 9 ps' })).toThrow(UsageError);
    expect(() => lifeCurveChart(result, { ...soft, mix: 'half ruff' })).toThrow(/did you mean "half rough"/);
  });
});

describe('the life curve with the tires of today', () => {
  it('goes on from the hours flown, with the figures of what is left', async () => {
    const chart = lifeCurveChart(result, { ...soft, today });
    const svg = await expectSoundChart(chart);
    const text = shownText(svg);
    expect(text).toContain('your tires today: 54.0 h');
    expect(text).toContain(`P50 ${amountText(today.remaining.hours.p50)} h left`);
    expect(chart.title.text.join(' ')).toContain(`have ${amountText(today.remaining.hours.p50)} h left`);
    expect(chart.description).toContain('Next look at the tread within');
    const rows = chartRows(chart).filter(({ series }) => series === YOUR_TIRES);
    // Band, line and points.
    const points = rows.slice(0, rows.length / 3);
    expect(points[0]).toMatchObject({ hours: 54 });
    points.forEach((row, k) => {
      expect(row.hours).toBeCloseTo(54 + today.curves.hours[k]!, 2);
      expect(row.chance).toBeCloseTo(today.curves.survival[k]!, 4);
    });
    expect(markLabels(svg).filter((label) => label.startsWith('Your tires '))).toHaveLength(points.length);
  });

  it('is sound where no tread was read, and where the tires outlast the horizon', async () => {
    const at = (flightHours: number): Promise<RemainingLife> =>
      remainingLife(first, { ...soft, trials: 500 }, { flightHours, landings: null, readings: [] });
    const unread = await at(20);
    const chart = lifeCurveChart(result, { ...soft, today: unread });
    expect(shownText(await expectSoundChart(chart))).toContain('no tread reading');
    const open = { p10: null, p50: null, p90: null };
    const beyond = {
      ...unread,
      remaining: { ...unread.remaining, hours: { ...unread.remaining.hours, ...open } },
    };
    const far = lifeCurveChart(result, { ...soft, today: beyond });
    await expectSoundChart(far);
    expect(far.title.text.join(' ')).toContain('more than half of such sets outlast the horizon');
    // Flown for so long, one set in seven has passed its limit: that comes before what is left.
    const late = lifeCurveChart(result, { ...soft, today: await at(60) });
    await expectSoundChart(late);
    expect(late.title.text.join(' ')).toMatch(/the tread limit may be passed already \(chance 1\d %\)/);
  });
});
