import { beforeAll, describe, expect, test } from 'vitest';
import { pairingMapChart } from '../../lib/chart/pairing-map.js';
import type { ChartRow } from '../../lib/chart/spec.js';
import { UsageError } from '../../lib/problems.js';
import type { RunResult } from '../../lib/run.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { runShipped } from '../support/results.js';
import { HARD_NAMES, madeGrid, madeResult, numbered, type MadePairing } from './made-result.js';

/** Rows of pairings; the key has rows of its own. */
function pairingRowsOf(result: RunResult): ChartRow[] {
  return chartRows(pairingMapChart(result)).filter((row) => 'lifeText' in row);
}

function titleOf(pairings: readonly MadePairing[]): string {
  return pairingMapChart(madeResult(pairings)).title.text.join(' ');
}

describe('a pairing map of a run', () => {
  let result: RunResult;
  beforeAll(async () => {
    ({ result } = await runShipped('mixed-season.json', 48));
  });

  test('has the estimates of every pairing in its rows', () => {
    const rows = pairingRowsOf(result);
    expect(rows.length).toBe(15);
    for (const { setup, mix, life, puncture } of result.pairings) {
      const { hours } = life;
      const row = rows.find((each) => each.setup === setup && each.mix === mix);
      expect(row).toMatchObject({
        lifeP10Hours: hours.p10,
        lifeP50Hours: hours.p50,
        lifeP90Hours: hours.p90,
        lifeP50LowerHours: hours.intervals.p50.lower,
        lifeP50UpperHours: hours.intervals.p50.upper,
        flatChance: puncture.season.estimate,
        flatLowerChance: puncture.season.lower,
        flatUpperChance: puncture.season.upper,
        flatP10Chance: puncture.acrossWorlds.p10,
        flatP90Chance: puncture.acrossWorlds.p90,
        flatsSeen: `${puncture.season.counted.events} of 48 seasons`,
      });
    }
  });

  test('is sound, names every pairing, and says life and chance of each to a screen reader', async () => {
    const svg = await expectSoundChart(pairingMapChart(result));
    const labels = markLabels(svg).join('\n');
    for (const { setup, mix } of result.pairings) {
      expect(labels).toContain(`${setup} on ${mix}: half of the sets last `);
      expect(labels).toMatch(new RegExp(`${setup} on ${mix}: about .* ha(s|ve) a flat`));
      expect(shownText(svg)).toContain(setup);
      expect(shownText(svg)).toContain(mix);
    }
  });
});

/** Places of the marks of one shape along the panel, px, as they are drawn. */
function drawn(svg: string, mark: 'symbol' | 'rule'): number[][] {
  const groups = [...svg.matchAll(new RegExp(`<g class="mark-${mark} role-mark[^>/]*>(.*?)</g>`, 'g'))];
  return groups.map(([, content]) =>
    [...content!.matchAll(/translate\((-?[\d.]+),(?:-?[\d.]+)\)(?:" x2="(-?[\d.]+)")?/g)].flatMap(
      ([, x, wide]) => (wide === undefined ? [Number(x)] : [Number(x), Number(x) + Number(wide)]),
    ),
  );
}

test('dots and bars stand at their figures on the axes', async () => {
  const svg = await expectSoundChart(
    pairingMapChart(
      madeResult([{ hours: 500, hoursError: 0.1, range: [200, 800], chance: 0.02, chanceError: 1.5 }]),
    ),
  );
  const [range, error, chanceRange, chanceError] = drawn(svg, 'rule').filter((places) => places.length === 2);
  // A linear axis from 0 to 5 % above the longest life, 260 px long.
  const px = (hours: number): number => (260 * hours) / (1.05 * 800);
  expect(range!.map(Math.round)).toEqual([200, 800].map(px).map(Math.round));
  expect(error!.map(Math.round)).toEqual([450, 550].map(px).map(Math.round));
  expect(Math.round(drawn(svg, 'symbol')[0]![0]!)).toBe(Math.round(px(500)));
  // Worlds from 1 to 4 %: a log axis a quarter longer at both ends.
  const log = (chance: number): number =>
    (260 * Math.log(chance / (0.01 / 1.25))) / Math.log((0.04 * 1.25) / (0.01 / 1.25));
  expect(chanceRange!.map(Math.round)).toEqual([0.01, 0.04].map(log).map(Math.round));
  expect(chanceError!.map(Math.round)).toEqual([0.02 / 1.5, 0.03].map(log).map(Math.round));
  expect(Math.round(drawn(svg, 'symbol')[1]![0]!)).toBe(Math.round(log(0.02)));
});

describe('the finding', () => {
  const long = { setup: 'long', hours: 900, chance: 0.02 };
  const short = { setup: 'short', hours: 400, chance: 0.1 };

  test('names a set-up that leads in life and in risk', () => {
    expect(titleOf([short, long])).toBe('long lasts longest and has the fewest flats on gravel');
    expect(titleOf([short, long, { ...short, mix: 'rock' }, { ...long, mix: 'rock' }])).toBe(
      'long lasts longest and has the fewest flats on all 2 mixes',
    );
  });

  test('names two where one lasts and the other stays whole', () => {
    expect(titleOf([{ ...short, chance: 0.001 }, long])).toBe(
      'long lasts longest on gravel; short has the fewest flats on gravel',
    );
  });

  test('names nobody where the intervals of the simulation overlap', () => {
    expect(titleOf([{ ...short, hours: 899 }, long])).toBe(
      'Which set-up lasts longest is too close to call; long has the fewest flats on gravel',
    );
    expect(titleOf([{ ...long, setup: 'other' }, long])).toBe(
      'Which set-up lasts longest, and which has the fewest flats, is too close to call',
    );
    expect(titleOf([short, long, { ...long, setup: 'short', mix: 'rock' }, { ...long, mix: 'rock' }])).toBe(
      'long lasts longest and has the fewest flats on 1 of 2 mixes (others too close to call)',
    );
  });

  test('says where it depends on the mix', () => {
    const turned = [
      { ...long, setup: 'short', mix: 'rock' },
      { ...short, setup: 'long', mix: 'rock' },
    ];
    expect(titleOf([short, long, ...turned])).toBe(
      'Which set-up lasts longest, and which has the fewest flats, depends on the mix',
    );
  });

  test('compares nothing where not every set-up was run on every mix', () => {
    expect(titleOf([short, long, { ...long, hours: 600, mix: 'rock' }])).toBe(
      'Half of the sets last from 400 h (short on gravel) to 900 h (long on gravel)',
    );
  });

  test('tells the figures of a single set-up', () => {
    expect(titleOf([long])).toBe('long on gravel: half of the sets last 900 h, 1 season in 50 has a flat');
    expect(titleOf([long, { ...short, setup: 'long', mix: 'rock' }])).toBe(
      'long: half of the sets last 900 h on gravel, 400 h on rock; 1 season in 50 to 1 season in 10 has a flat',
    );
  });
});

test('a pairing without risk shows the most that the trials allow, and no dot', async () => {
  const result = madeResult([{ setup: 'safe', chance: 0 }, { chance: 0.03 }]);
  // Clopper and Pearson's bound for none in 600: 1 - 0.025^(1/600) = 0.613 %.
  expect(result.pairings[0]!.puncture.season.upper).toBeCloseTo(1 - 0.025 ** (1 / 600), 12);
  const svg = await expectSoundChart(pairingMapChart(result));
  expect(shownText(svg)).toContain('none; under 0.61 %');
  expect(shownText(svg)).toContain('No dot:');
  expect(markLabels(svg).join('\n')).toContain('no trial met a risk of a flat, so under 0.61 % a season');
  const dots = drawn(svg, 'symbol').map((places) => places.length);
  // Two medians, one chance, one triangle that points to nothing, and the dot of the key.
  expect(dots.reduce((sum, count) => sum + count, 0)).toBe(5);
});

test('a life beyond the horizon is shown as longer than what was followed', async () => {
  const svg = await expectSoundChart(
    pairingMapChart(
      madeResult([
        { setup: 'a', hours: null },
        { setup: 'b', hours: null, range: [null, null] },
        { setup: 'c', hours: 1500, range: [700, null] },
      ]),
    ),
  );
  expect(shownText(svg).match(/over 2,400 h/g)?.length).toBe(2);
  expect(shownText(svg)).toContain('Triangle at the right');
  expect(markLabels(svg).join('\n')).toContain(
    'c on gravel: half of the sets last 1,500 h, 8 in 10 700 to beyond the horizon',
  );
});

/** All letters shown, without blanks: names are broken into lines anywhere. */
function letters(svg: string): string {
  const texts = [...svg.matchAll(/<text[^>]*>(.*?)<\/text>/g)].map(([, text]) =>
    text!.replaceAll(/<[^>]*>/g, ''),
  );
  return unbroken(texts.join('').replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&'));
}

const unbroken = (text: string): string => text.replaceAll(/\s/g, '');

const HARD: readonly (readonly [string, RunResult])[] = [
  ['one pairing', madeGrid(['a'], ['b'])],
  ['5 x 3', madeGrid(['a', 'b', 'c', 'd', 'e'], ['f', 'g', 'h'])],
  ['hard names', madeGrid(HARD_NAMES, HARD_NAMES.slice(0, 3))],
  ['hard names, many', madeGrid(HARD_NAMES, HARD_NAMES)],
  ['no risk anywhere', madeGrid(['a', 'b'], ['c'], () => ({ chance: 0 }))],
  ['no risk anywhere, many', madeGrid(numbered(9, 's'), ['x', 'y', 'z'], () => ({ chance: 0 }))],
  ['all beyond the horizon', madeGrid(['a', 'b'], ['c'], () => ({ hours: null, range: [null, null] }))],
  [
    'all beyond the horizon, many',
    madeGrid(numbered(9, 's'), ['x', 'y', 'z'], () => ({ hours: null, range: [null, null] })),
  ],
  ['5 h and 20,000 h', madeGrid(['a', 'b'], ['c'], (setup) => ({ hours: setup === 0 ? 5 : 20_000 }))],
  [
    'lives that end at once',
    madeGrid(['a', 'b'], ['c'], (setup) => ({ hours: 500 * setup, range: [0, 900] })),
  ],
  [
    'chances of 1 and 1 in a billion',
    madeGrid(['a', 'b'], ['c'], (setup) => ({ chance: setup === 0 ? 1 : 1e-9 })),
  ],
];

test.each(HARD)('is sound and shows all names: %s', async (_, result) => {
  const svg = await expectSoundChart(pairingMapChart(result));
  const shown = letters(svg);
  for (const { setup, mix } of result.pairings) {
    expect(shown).toContain(unbroken(setup));
    expect(shown).toContain(unbroken(mix));
  }
});

test('lives far apart stand on a log axis, lives close together on one from 0', () => {
  const spec = (hours: readonly number[]): string =>
    JSON.stringify(pairingMapChart(madeGrid(['a', 'b'], ['c'], (setup) => ({ hours: hours[setup]! }))));
  expect(spec([5, 20_000])).toContain('flight hours (h), log scale');
  expect(spec([400, 600])).not.toContain('flight hours (h), log scale');
});

test('30 x 10 pairings are grids with a figure in each cell', async () => {
  const result = madeGrid(numbered(30, 'set-up'), numbered(10, 'mix'));
  const svg = await expectSoundChart(pairingMapChart(result));
  expect(markLabels(svg).filter((label) => label.includes('half of the sets last')).length).toBe(300);
  expect(markLabels(svg).filter((label) => /about .* flat/.test(label)).length).toBe(300);
  const cells = shownText(svg).split('\n');
  for (const { lifeShortText, flatShortRange } of pairingRowsOf(result)) {
    expect(cells).toContain(lifeShortText);
    expect(cells).toContain(flatShortRange);
  }
  expect(cells).toContain('1,200');
});

test('the figures of what leads its mix, or is not told apart from it, are bold', () => {
  const result = madeGrid(['a', 'b', 'c'], ['m'], (setup) => ({
    hours: [900, 890, 300][setup]!,
    // Intervals reach a tenth to both sides: 0.0118 / 1.1 < 0.01 * 1.1.
    chance: [0.1, 0.01, 0.0118][setup]!,
  }));
  expect(pairingRowsOf(result).map(({ setup, longest, fewest }) => [setup, longest, fewest])).toEqual([
    ['a', true, false],
    ['b', true, true],
    ['c', false, true],
  ]);
});

test('a result without pairings, or with too many, is refused', () => {
  expect(() => pairingMapChart(madeResult([]))).toThrow(UsageError);
  const many = Array.from({ length: 2001 }, (_, index) => ({ setup: `s${index}` }));
  expect(() => pairingMapChart(madeResult(many))).toThrow(/2001 rows/);
});
