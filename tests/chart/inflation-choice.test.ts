import { describe, expect, test } from 'vitest';
import { inflationChoiceChart } from '../../lib/chart/inflation-choice.js';
import { rangeText } from '../../lib/chart/inflation-words.js';
import type { ChartRow, ChartSpec } from '../../lib/chart/spec.js';
import type { PressurePoint, PressureSweep } from '../../lib/decide/pressure-types.js';
import { sweepPressure } from '../../lib/decide/pressure-sweep.js';
import { UsageError } from '../../lib/problems.js';
import { compileScenario } from '../../lib/scenario/compile.js';
import { readScenario } from '../../lib/scenario/read.js';
import { shipped } from '../support/command.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { HARD_NAMES } from './made-result.js';
import { madePoint, madeRange, madeSweep, pa } from './made-sweep.js';

const sweep = madeSweep();

/** The row of a line at a pressure. */
function at(spec: ChartSpec, name: string, psi: number): ChartRow | undefined {
  return chartRows(spec).find((row) => row.name === name && row.pressurePsi === psi && 'valueText' in row);
}

/** Rows carry the figures that a sweep has, in the units of the axes. */
function expectFigures(spec: ChartSpec, { points }: PressureSweep): void {
  for (const { pressurePsi, lifeHours, flatSeason, pinchSeason, push, clearances, broken } of points) {
    const life = at(spec, 'half of the sets last', pressurePsi)!;
    expect(life).toMatchObject({ value: lifeHours.p50, bandLow: lifeHours.p10, bandHigh: lifeHours.p90 });
    expect(life).toMatchObject({ lower: lifeHours.p50Interval.lower, upper: lifeHours.p50Interval.upper });
    expect(life.broken).toBe(broken.length > 0);
    expect(at(spec, 'any flat', pressurePsi)).toMatchObject({
      value: flatSeason.estimate,
      lower: flatSeason.lower,
      upper: flatSeason.upper,
    });
    expect(at(spec, 'a pinch on the rim', pressurePsi)!.value).toBe(pinchSeason.estimate);
    for (const { surface, forceN } of push) {
      if (forceN === null) expect(at(spec, surface, pressurePsi)).toBeUndefined();
      else expect(at(spec, surface, pressurePsi)!.value).toBeCloseTo(forceN, 0);
    }
    for (const kind of new Set(clearances.map((each) => each.kind))) {
      const gaps = clearances.filter((each) => each.kind === kind);
      const row = at(spec, kind, pressurePsi)!;
      expect(row.value).toBeCloseTo(1000 * gaps.find(({ state }) => state === 'cold')!.clearanceM, 2);
      expect(row.bandLow).toBeCloseTo(1000 * Math.min(...gaps.map(({ clearanceM }) => clearanceM)), 2);
    }
  }
}

test('the figures of a real sweep are in its chart', async () => {
  const compiled = compileScenario(readScenario(shipped('mixed-season.json')).scenario);
  const real = await sweepPressure(compiled, {
    setup: 'faired 6.00-6',
    mix: 'gravel',
    pressuresPa: [36, 44, 50].map(pa),
    trials: 64,
    workers: 1,
  });
  const spec = inflationChoiceChart(real);
  expectFigures(spec, real);
  expect(real.points.some(({ clearances }) => clearances.length > 0)).toBe(true);
  await expectSoundChart(spec);
});

test('hover tells pressure in psi and bar, force in N and lbf, gaps in mm and in', async () => {
  // 30 psi = 2.068 bar, 220 N = 49.5 lbf, 25.4 mm = 1 in: NIST SP 811, Appendix B (from memory).
  const points = [
    {
      ...madePoint(30, 30),
      push: [{ surface: 'paved', forceN: 220, people: 2.2, needs: [] }],
      clearances: [{ kind: 'propeller', state: 'cold', gaugePa: pa(30), clearanceM: 0.254 }] as const,
    },
  ];
  const spec = inflationChoiceChart(madeSweep({ points }));
  expect(at(spec, 'paved', 30)).toMatchObject({
    pressureText: '30.0 psi (2.07 bar)',
    valueText: '220 N (49.5 lbf)',
    moreText: '2.2',
  });
  expect(at(spec, 'propeller', 30)).toMatchObject({ valueText: '254 mm (10 in)' });
  const labels = markLabels(await expectSoundChart(spec));
  expect(labels).toContain(
    'at 30.0 psi (2.07 bar), paved: 220 N (49.5 lbf); limits broken: fairing clearance at rest',
  );
});

test('made figures are drawn as they are', async () => {
  const spec = inflationChoiceChart(sweep);
  expectFigures(spec, sweep);
  const shown = shownText(await expectSoundChart(spec));
  for (const text of ['own 30 psi', '33 to 38 psi', '33 to 40 psi', 'touching', 'limit 300 N (67.4 lbf)']) {
    expect(shown).toContain(text);
  }
});

test('dots that break a limit are hollow, the others filled', async () => {
  const svg = await expectSoundChart(inflationChoiceChart(sweep));
  const dots = [...svg.matchAll(/<g class="mark-symbol role-mark[^>/]*>(.*?)<\/g>/g)].flatMap(
    ([, content]) => [...content!.matchAll(/<path [^>]*translate\([^>]*fill="([^"]+)"[^>]*stroke="#[^>]*>/g)],
  );
  // Below 33 and above 40 psi, on two lines of chances, two of forces, one of lives and two of gaps.
  const broken = sweep.points.filter((point) => point.broken.length > 0).length;
  expect(broken).toBe(8);
  expect(dots.filter(([, fill]) => fill === 'white').length).toBe(7 * broken);
  expect(dots.filter(([, fill]) => fill !== 'white').length).toBe(7 * (sweep.points.length - broken));
});

test('the sensible range is shaded in every panel; one that goes on beyond the sweep to the edge', () => {
  const shades = (changes: Partial<PressureSweep>): ChartRow[] =>
    chartRows(inflationChoiceChart(madeSweep(changes))).filter(
      (row) => Object.keys(row).join() === 'lowPsi,highPsi',
    );
  // The strip and the panels of life, chance, force, fairing and propeller.
  expect(shades({})).toEqual(Array(6).fill({ lowPsi: 33, highPsi: 38 }));
  const open = shades({ sensibleRange: madeRange(20, 44, { highEnd: { kind: 'end of the sweep' } }) });
  expect(open[0]!.lowPsi).toBe(20);
  expect(open[0]!.highPsi).toBeGreaterThan(44);
  expect(shades({ sensibleRange: null })).toEqual([]);
});

describe('the words', () => {
  const told = (changes: Partial<PressureSweep> = {}): { title: string; subtitle: string } => {
    const { title } = inflationChoiceChart(madeSweep(changes));
    return { title: title.text.join(' '), subtitle: title.subtitle.join(' ') };
  };

  test('tell the sensible range, where the own pressure lies and what bounds the range', () => {
    const { title, subtitle } = told();
    expect(title).toBe('faired six on half rough: 33 to 38 psi is sensible; its own 30 psi lies below');
    expect(subtitle).toContain(
      'All limits kept from 33 psi (below: fairing clearance at rest) to 40 psi (above: rated pressure).',
    );
    expect(subtitle).toContain('Sensible: of these, 90 % or more of the best mean life.');
    expect(told({ ownPressurePsi: 35 }).title).toMatch(/its own 35 psi lies inside$/);
    expect(told({ ownPressurePsi: 39 }).title).toMatch(/its own 39 psi lies above$/);
  });

  test('call nothing sensible where no pressure keeps the limits', async () => {
    const changes = { limitsRange: null, sensibleRange: null };
    expect(told(changes).title).toBe(
      'faired six on half rough: no pressure looked at keeps all limits; its own is 30 psi',
    );
    expect(told(changes).subtitle).toContain(
      'Limits broken along the sweep: fairing clearance at rest, rated pressure.',
    );
    const shown = shownText(await expectSoundChart(inflationChoiceChart(madeSweep(changes))));
    expect(shown.match(/at no pressure looked at/g)?.length).toBe(2);
  });

  test('put a limit that is broken at every pressure before all else', async () => {
    const changes = { brokenThroughout: [{ code: 'rated load', title: 'load' }] } as const;
    const { title, subtitle } = told(changes);
    expect(title).toContain('beyond its limit at every pressure (rated load); apart from that, 33 to 38 psi');
    expect(subtitle).toContain('Other limits kept from 33 psi');
    expect(subtitle).toContain('Broken at every pressure: rated load.');
    const shown = shownText(await expectSoundChart(inflationChoiceChart(madeSweep(changes))));
    expect(shown).toContain('other limits kept');
    expect(shown).not.toContain('all limits kept');
  });

  test('do not say that limits are kept which were not checked', () => {
    const { subtitle } = told({
      notChecked: [{ code: 'propeller clearance', needs: ['airplanes.a.geometry'] }],
    });
    expect(subtitle).toContain('All checked limits kept from');
    expect(subtitle).toContain('Not checked for lack of data: propeller clearance.');
  });

  test('say where a range ends because nothing was looked at beyond', () => {
    const { subtitle } = told({ limitsRange: madeRange(12, 40, { lowEnd: { kind: 'end of the sweep' } }) });
    expect(subtitle).toContain('from 12 psi (lowest looked at) to 40 psi (above: rated pressure)');
  });
});

test('ends of a range are rounded to the inside', () => {
  expect(rangeText(madeRange(21.1323, 29.99))).toBe('21.2 to 29.9 psi');
  expect(rangeText(madeRange(10.8694, 12))).toBe('10.9 to 12 psi');
  expect(rangeText(madeRange(25.0000001, 30))).toBe('25 to 30 psi');
  expect(rangeText(madeRange(6.234, 9.876))).toBe('6.24 to 9.87 psi');
});

/** Every point changed. */
function changed(change: (point: PressurePoint, index: number) => Partial<PressurePoint>): PressureSweep {
  return madeSweep({ points: sweep.points.map((point, index) => ({ ...point, ...change(point, index) })) });
}

const HARD: readonly (readonly [string, PressureSweep])[] = [
  ['one pressure', madeSweep({ points: [sweep.points[5]!] })],
  ['hard names', madeSweep({ setup: HARD_NAMES[1]!, mix: HARD_NAMES[2]!, currency: '<b>' })],
  ['no prices', madeSweep({ lowestCost: null, currency: null })],
  ['nothing known of push and clearance', changed(() => ({ push: [], clearances: [] }))],
  [
    'no flats',
    changed(() => ({
      flatSeason: { estimate: 0, standardError: 0, lower: 0, upper: 0.006 },
      pinchSeason: { estimate: 0, standardError: 0 },
    })),
  ],
  [
    'lives beyond the horizon',
    changed(({ lifeHours }, index) => ({
      lifeHours: {
        ...lifeHours,
        p10: index > 7 ? null : lifeHours.p10,
        p50: index > 5 ? null : lifeHours.p50,
        p90: null,
        p50Interval: { lower: index > 5 ? null : lifeHours.p50Interval.lower, upper: null },
      },
    })),
  ],
  [
    '5 h and 20,000 h',
    changed(({ lifeHours }, index) => ({
      lifeHours: {
        ...lifeHours,
        p10: index < 5 ? 4 : 15_000,
        p50: index < 5 ? 5 : 20_000,
        p90: index < 5 ? 6 : 25_000,
        p50Interval: { lower: index < 5 ? 4.9 : 19_000, upper: index < 5 ? 5.1 : 21_000 },
      },
    })),
  ],
  [
    'many surfaces with hard names',
    changed(() => ({
      push: HARD_NAMES.map((surface, index) => ({ surface, forceN: 200 + index, people: 2, needs: [] })),
    })),
  ],
];

test.each(HARD)('is sound: %s', async (_, hard) => {
  const spec = inflationChoiceChart(hard);
  const svg = await expectSoundChart(spec);
  // Where there is no median, the chart says so and the other panels stay.
  for (const { pressurePsi, lifeHours } of hard.points) {
    const row = at(spec, 'half of the sets last', pressurePsi)!;
    if (lifeHours.p50 === null) expect(row.valueText).toBe('median beyond the horizon');
    else expect(row.value).toBe(lifeHours.p50);
  }
  expect(shownText(svg)).toContain('Chance of a flat in a season');
  expect(spec.title.subtitle.join(' ').includes('triangles: on beyond the horizon')).toBe(
    hard.points.some(({ lifeHours }) => lifeHours.p90 === null),
  );
});

test('a sweep without pressures is refused', () => {
  expect(() => inflationChoiceChart(madeSweep({ points: [] }))).toThrow(UsageError);
});
