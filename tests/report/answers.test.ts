import { beforeAll, describe, expect, test } from 'vitest';
import type { BestSetup } from '../../lib/decide/best-types.js';
import { comparePairings, type MixComparison } from '../../lib/decide/compare.js';
import type { Verdict } from '../../lib/decide/verdict.js';
import { estimateChance } from '../../lib/estimate/martingale.js';
import type { PairingSummary } from '../../lib/estimate/summary.js';
import { answersFor, overallText, type MixAnswer } from '../../lib/report/answers.js';
import type { RunResult } from '../../lib/run.js';
import { runShipped, type ShippedRun } from '../support/results.js';

let base: RunResult;
let soft: PairingSummary;

beforeAll(async () => {
  ({ result: base } = await runShipped('first.json', 8));
  soft = base.pairings[0]!;
});

type Quantiles = readonly [p10: number | null, p50: number | null, p90: number | null];

interface Made {
  readonly mix?: string;
  readonly lives?: Quantiles;
  /** Monte Carlo interval of the median; default: 2 % of it to either side. */
  readonly bounds?: readonly [number | null, number | null];
  readonly flat?: number;
  readonly open?: number;
  readonly cost?: number;
}

/** A pairing with the figures that matter to an answer. */
function made(
  setup: string,
  { mix = 'mixed', lives = [80, 100, 120], bounds, flat = 0.02, open = 0, cost }: Made = {},
): PairingSummary {
  const { life, puncture } = soft;
  const [p10, p50, p90] = lives;
  const [lower, upper] = bounds ?? (p50 === null ? [null, null] : [0.98 * p50, 1.02 * p50]);
  const p50Interval = { lower, upper };
  const hours = { ...life.hours, p10, p50, p90, intervals: { ...life.hours.intervals, p50: p50Interval } };
  const risk = { ...puncture.season, estimate: flat, lower: 0.9 * flat, upper: 1.1 * flat };
  const money = cost === undefined ? null : { estimate: cost, standardError: 0.05 };
  return {
    ...soft,
    setup,
    mix,
    life: { ...life, hours, beyondHorizon: open },
    puncture: {
      ...puncture,
      season: risk,
      awayFromHelp: { ...risk, estimate: flat / 2 },
      acrossWorlds: { p10: flat / 2, p50: flat, p90: 2 * flat },
    },
    doubts: {
      ...soft.doubts,
      lifeHours: { luck: 12.34, ignorance: 45.67, ignoranceAtMost: 50, numerical: 1 },
    },
    season: { ...soft.season, costPerFlightHour: money },
  };
}

function answers(
  pairings: readonly PairingSummary[],
  comparisons: readonly MixComparison[] = [],
): MixAnswer[] {
  return answersFor(
    { pairings, season: { landings: 100, flightHours: 50 }, currency: 'credits' },
    comparisons,
  );
}

function answer(...pairings: readonly PairingSummary[]): MixAnswer {
  return answers(pairings)[0]!;
}

describe('which set-up', () => {
  test('the longest median wins, with its lead over the next', () => {
    const found = answer(
      made('b', { lives: [200, 300, 400] }),
      made('a'),
      made('c', { lives: [10, 20, 30] }),
    );
    expect(found).toMatchObject({ setup: 'b', level: [] });
    expect(found.which).toBe('b lasts longest: its median life is 3.0 times that of the next, a.');
  });

  test('a small lead is told as a percentage', () => {
    const found = answer(
      made('a', { bounds: [99, 101] }),
      made('b', { lives: [84, 105, 126], bounds: [104, 106] }),
    );
    expect(found.which).toBe('b lasts longest: its median life is 5.0 % longer than that of the next, a.');
  });

  test('overlapping intervals of the medians are a tie, and all that are level are named', () => {
    const found = answer(
      made('a'),
      made('b', { lives: [80, 101, 125] }),
      made('c', { lives: [79, 99, 118] }),
      made('d', { lives: [5, 6, 7] }),
    );
    expect(found).toMatchObject({ setup: 'b', level: ['a', 'c'] });
    expect(found.which).toBe(
      'b, a and c last about equally long: this run does not tell which lasts longer.',
    );
    expect(found.certainty[0]).toContain('overlaps a and c: the lead is not settled');
  });

  test('two equal set-ups are a tie too', () => {
    expect(answer(made('a'), made('b')).which).toMatch(/^a and b last about equally long/);
  });

  test('one set-up has nothing to be compared with, and says so', () => {
    const found = answer(made('only'));
    expect(found.which).toBe('Only only was run on this mix: there is nothing to compare it with.');
    expect(found.certainty[0]).toBe('Simulation: the median lies between 98.0 and 102 flight hours (95 %).');
  });

  test('a set-up whose median lies beyond the horizon goes first', () => {
    const found = answer(made('a'), made('b', { lives: [300, null, null], open: 0.7 }));
    expect(found).toMatchObject({ setup: 'b', level: [], which: 'b lasts longest.' });
  });

  test('of two beyond the horizon, neither is claimed to be the longer', () => {
    const found = answer(
      made('a', { lives: [250, null, null], open: 0.6 }),
      made('b', { lives: [300, null, null], open: 0.7 }),
    );
    expect(found).toMatchObject({ setup: 'b', level: ['a'] });
  });
});

describe('how long', () => {
  test.each([
    [
      [80, 100, 120],
      0,
      'Half of its sets of main tires last longer than 100 flight hours (about 2 seasons); 8 of 10 sets end between 80.0 and 120.',
    ],
    [
      [10, 20, 30],
      0,
      'Half of its sets of main tires last longer than 20.0 flight hours (0.4 of a season); 8 of 10 sets end between 10.0 and 30.0.',
    ],
    [
      [900, 1234, null],
      0.2,
      'Half of its sets of main tires last longer than 1,234 flight hours (about 25 seasons); one in ten ends before 900 flight hours, and more than one in ten outlasts the horizon of the run.',
    ],
    [
      [900, null, null],
      0.62,
      '62 % of its sets of main tires outlast the horizon of the run; one in ten ends before 900 flight hours.',
    ],
    [[null, null, null], 1, '100 % of its sets of main tires outlast the horizon of the run.'],
    [
      [40, 50, 60],
      0,
      'Half of its sets of main tires last longer than 50.0 flight hours (about 1 season); 8 of 10 sets end between 40.0 and 60.0.',
    ],
  ] as const)('lives of %j hours', (lives, open, text) => {
    expect(answer(made('a', { lives, open })).life).toBe(text);
  });
});

describe('how risky', () => {
  test('as seasons, with the range of worlds', () => {
    expect(answer(made('a', { flat: 0.025 })).risk).toBe(
      'A flat on any wheel in about 1 season in 40 (2.5 %); away from help in about 1 season in 80 (1.3 %). ' +
        'In eight of ten worlds that fit what we know it is between 1 season in 80 and 1 season in 20.',
    );
  });

  test('where no risk was met, a bound, and no range', () => {
    const none = estimateChance(new Uint8Array(400), new Float64Array(400));
    const pairing = made('a', { flat: 0 });
    const puncture = { ...pairing.puncture, season: none, awayFromHelp: none };
    expect(answer({ ...pairing, puncture }).risk).toBe(
      'A flat on any wheel in fewer than 1 season in 100: none came near in this run.',
    );
  });
});

describe('how sure', () => {
  test('simulation, luck and ignorance in words, the larger doubt named', () => {
    expect(answer(made('a', { lives: [200, 300, 400] }), made('b')).certainty).toEqual([
      'Simulation: the median lies between 294 and 306 flight hours (95 %), that of the next between 98.0 and 102: the lead is settled as far as trials can settle it.',
      'Luck: sets in one and the same world differ by about 12 flight hours; nothing but more airplanes evens it out.',
      'Ignorance: what nobody has measured moves the mean life by about 46 flight hours, the larger part of the doubt; gauging treads, counting landings and noting every cut shrinks it.',
    ]);
  });

  test('too few trials, and lives beyond the horizon, are said and not glossed over', () => {
    const few = made('a', { bounds: [null, null] });
    const unsplit = {
      ...few,
      doubts: {
        ...few.doubts,
        lifeHours: { luck: null, ignorance: null, ignoranceAtMost: null, numerical: 1 },
      },
    };
    expect(answer(unsplit).certainty).toEqual([
      'Simulation: too short, or too few trials, to bound the median life.',
      'Luck and ignorance: too few trials to tell them apart.',
    ]);
    expect(answer(made('a', { lives: [900, null, null], open: 0.62 })).certainty[1]).toBe(
      'Luck and ignorance: not told apart, as 62 % of the lives go on beyond the horizon of the run.',
    );
    expect(answer(made('a', { bounds: [98, null] })).certainty[0]).toContain('lies above 98.0 flight hours');
  });
});

describe('what would change it', () => {
  test('what ends the tires and what wears them', () => {
    const pairing = made('a');
    const ends = { ...pairing.removalCauses, cut: { estimate: 0.81, lower: 0.8, upper: 0.82 } };
    const byCause = { ...pairing.wearShares.byCause, braking: { estimate: 0.9, standardError: 0 } };
    const [end, wear] = answer({
      ...pairing,
      removalCauses: ends,
      wearShares: { ...pairing.wearShares, byCause },
    }).change;
    expect(end).toMatch(/^81 % of its sets end by a cut into the carcass/);
    expect(wear).toMatch(/^90 % of the wear is braking/);
  });

  test('no end and no wear', () => {
    const pairing = made('a');
    const none = { estimate: 0, lower: 0, upper: 0, standardError: 0 };
    const zeros = <Key extends string>(record: Readonly<Record<Key, unknown>>): Record<Key, typeof none> =>
      Object.fromEntries(Object.keys(record).map((key) => [key, none])) as Record<Key, typeof none>;
    expect(
      answer({
        ...pairing,
        removalCauses: zeros(pairing.removalCauses),
        wearShares: { byCause: zeros(pairing.wearShares.byCause), bySurface: {} },
      }).change,
    ).toEqual(['No set of tires ended within the horizon of the run.']);
  });

  test('a set-up with fewer flats or lower cost is named where the run can tell, and only there', () => {
    const long = made('long', { lives: [200, 300, 400], flat: 0.05, cost: 9 });
    const { change } = answer(long, made('safe', { flat: 0.01, cost: 5 }));
    expect(change).toContain('safe has the fewest flats: one in about 1 season in 100 (1.0 %).');
    expect(change).toContain('safe costs least: 5.00 credits per flight hour, against 9.00.');
    const close = answer(long, made('near', { flat: 0.048, cost: 8.95 })).change.join(' ');
    expect(close).not.toMatch(/near/);
  });

  test('another mix with another leader', () => {
    const all = answers([
      made('a', { mix: 'm1', lives: [200, 300, 400] }),
      made('a', { mix: 'm2' }),
      made('b', { mix: 'm1' }),
      made('b', { mix: 'm2', lives: [200, 300, 400] }),
    ]);
    expect(all.map(({ mix, setup }) => [mix, setup])).toEqual([
      ['m1', 'a'],
      ['m2', 'b'],
    ]);
    expect(all[0]!.change).toContain('On m2, b comes out first.');
    expect(overallText(all)).toBe('Which set-up lasts longest depends on the runway mix.');
  });
});

describe('over all mixes', () => {
  const long: Made = { lives: [200, 300, 400] };

  test.each([
    [['m1'], [], 'a lasts longest: its median life is 3.0 times that of the next, b.'],
    [['m1', 'm2'], [], 'a lasts longest on both runway mixes.'],
    [['m1', 'm2', 'm3'], [], 'a lasts longest on all 3 runway mixes.'],
    [
      ['m1', 'm2', 'm3'],
      ['m2'],
      'a comes out first on all 3 runway mixes, but this run does not settle it on m2.',
    ],
    [['m1', 'm2'], ['m1', 'm2'], 'a comes out first on both runway mixes, but this run does not settle it.'],
  ])('mixes %j, of which %j are tied', (mixes, tied, text) => {
    const pairings = mixes.flatMap((mix) => [
      made('a', { ...long, mix }),
      made('b', tied.includes(mix) ? { ...long, mix } : { mix }),
    ]);
    expect(overallText(answers(pairings))).toBe(text);
  });

  test('nothing at all gives no sentence', () => {
    expect(overallText(answers([]))).toBe('');
  });
});

describe('with the set-ups compared on common landings', () => {
  let run: ShippedRun;
  let comparison: MixComparison;

  beforeAll(async () => {
    run = await runShipped('first.json', 120);
    comparison = comparePairings(run.scenario, run.simulation)[0]!;
  });

  /** The comparison with another verdict on life, and another share of worlds for the set-up in front. */
  function judged(change: Partial<Verdict>, share = 1): MixComparison {
    const life = comparison.best.life as BestSetup;
    const setups = life.setups.map((standing) =>
      standing.setup === 'rigid 25 psi'
        ? { ...standing, shareOfWorldsBest: { estimate: share, standardError: 0 } }
        : standing,
    );
    return { ...comparison, best: { life: { ...life, setups, verdict: { ...life.verdict, ...change } } } };
  }

  test('the verdict and the share of sets that last longer come first', () => {
    const [found] = answersFor(run.result, [comparison]);
    const best = comparison.best.life as BestSetup;
    expect(best.verdict.kind).toBe('settled');
    expect(found!.certainty[0]).toBe(best.verdict.text);
    expect(found!.certainty[1]).toBe(
      'Set against set, on the same landings: one of rigid 25 psi outlasts one of soft 9 psi every time.',
    );
    expect(found!.certainty[2]).toMatch(
      /^Simulation: the median lies between [\d,]+ and [\d,]+ flight hours \(95 %\)\.$/,
    );
    expect(found!.change[0]).toMatch(/^Nothing within these assumptions/);
  });

  test('the share is that of trials in which the leader lasts longer, whichever way the pair was written', () => {
    const { lifeHours } = comparison.differences[0]!;
    expect(comparison.differences[0]).toMatchObject({ setup: 'soft 9 psi', against: 'rigid 25 psi' });
    const against = { ...lifeHours.outlasts.against, estimate: 0.876 };
    const outlasts = { ...lifeHours.outlasts, against };
    const differences = [{ ...comparison.differences[0]!, lifeHours: { ...lifeHours, outlasts } }];
    expect(answersFor(run.result, [{ ...comparison, differences }])[0]!.certainty[1]).toContain(
      'in 88 % of cases',
    );
    const turned = { ...differences[0]!, setup: 'rigid 25 psi', against: 'soft 9 psi' };
    const setup = { ...lifeHours.outlasts.setup, estimate: 0.765 };
    const other = [{ ...turned, lifeHours: { ...lifeHours, outlasts: { ...outlasts, setup } } }];
    expect(answersFor(run.result, [{ ...comparison, differences: other }])[0]!.certainty[1]).toContain(
      'in 77 % of cases',
    );
  });

  test('set-ups that it calls open or equal are level, whatever their medians', () => {
    for (const change of [{ open: ['soft 9 psi'] }, { equal: ['soft 9 psi'] }, { best: 'soft 9 psi' }]) {
      expect(answersFor(run.result, [judged(change)])[0]).toMatchObject({
        setup: 'rigid 25 psi',
        level: ['soft 9 psi'],
      });
    }
  });

  test('worlds in which another one is best are told', () => {
    expect(answersFor(run.result, [judged({}, 0.8)])[0]!.change[0]).toBe(
      'In 20 % of the worlds that these assumptions allow, another set-up lasts longest.',
    );
  });
});

test('no answer ever shows a figure that is none', () => {
  const text = JSON.stringify(answersFor(base));
  expect(text).not.toMatch(/NaN|undefined|null|Infinity/);
});
