import { describe, expect, test } from 'vitest';
import {
  clopperPearsonInterval,
  kaplanMeier,
  livesTable,
  parseLogbook,
  recordLives,
  survivalQuantile,
  UsageError,
  type LifeGroup,
  type LifeRecord,
  type Logbook,
} from '../../lib/index.js';
import { textWidth } from '../../lib/present/words.js';
import { PlacedLives } from '../../lib/calibrate/placed-lives.js';
import { nextUniform53, openStream } from '../../lib/random/stream.js';
import { readSmall, SMALL } from './small-log.js';
import fits from '../reference/life-fits.json' with { type: 'json' };
import reference from '../reference/record-lives.json' with { type: 'json' };

interface TireRow {
  readonly setup?: string;
  readonly position?: string;
  readonly airplane?: string;
  readonly before?: number;
  readonly landings: number;
  /** Blank: in service. */
  readonly cause?: string;
  readonly count?: number;
}

const LAST = '2024-08-31';

/** A log without flights, whose tires state their landings. */
function stated(rows: readonly TireRow[]): Logbook {
  const lines = rows.map(
    ({ setup = 'soft', position = 'left main', airplane, before = 0, landings, cause = '', count = 1 }, i) =>
      `T${i},${airplane ?? `A${i}`},${position},${setup},2024-05-01,${cause === '' ? '' : LAST},${cause},${before},${landings},${count}`,
  );
  return parseLogbook(
    JSON.stringify({ name: 'stated', firstDay: '2024-05-01', lastDay: LAST, tires: { file: 't' } }),
    {
      t: `tire,airplane,position,setup,fitted,removed,cause,landings before,landings,count\n${lines.join('\n')}\n`,
    },
  );
}

function only(log: Logbook, at?: readonly number[]): LifeGroup {
  const { groups } = recordLives(log, { at });
  expect(groups).toHaveLength(1);
  return groups[0]!;
}

const ended = (...landings: number[]): TireRow[] =>
  landings.map((each) => ({ landings: each, cause: 'worn' }));
const running = (...landings: number[]): TireRow[] => landings.map((each) => ({ landings: each }));

describe('against R survival 3.5.3 (tests/reference/record-lives.R)', () => {
  const { entry, time, cause, quantiles, lower, upper, runningAt183, incidenceAt365 } = reference;
  const log = stated(
    time.map((landings, i) => ({ landings, before: entry[i]!, cause: ['', 'worn', 'cut'][cause[i]!]! })),
  );

  test('life curve with late entries: quantiles and log-log bands', () => {
    const { percentiles } = only(log);
    const found = [percentiles!.p10, percentiles!.p50, percentiles!.p90];
    expect(found.map(({ estimate }) => estimate)).toEqual(quantiles);
    expect(found.map((each) => each.lower)).toEqual(lower);
    expect(found.map((each) => each.upper)).toEqual(upper);
  });

  test('share still running and shares by cause at a use', () => {
    const group = only(log, [183, 365]);
    const [first, second] = group.shares;
    expect(first!.running.estimate).toBeCloseTo(runningAt183[0]!, 12);
    expect(first!.running.lower).toBeCloseTo(runningAt183[1]!, 9);
    expect(first!.running.upper).toBeCloseTo(runningAt183[2]!, 9);
    expect(first!.running.standardError).toBeCloseTo(runningAt183[3]!, 12);
    const share = (name: string): number => second!.byCause.find((each) => each.cause === name)!.estimate!;
    expect(share('worn')).toBeCloseTo(incidenceAt365[0]!, 12);
    expect(share('cut')).toBeCloseTo(incidenceAt365[1]!, 12);
    expect(group.takenUpUsed).toBe(entry.filter((at) => at > 0).length);
  });

  test('laws (tests/reference/life-fits.R)', () => {
    const { from, to, weibull, lognormal } = fits.lung;
    const group = only(
      stated(from.map((landings, i) => ({ landings, cause: to[i] === 'Infinity' ? '' : 'worn' }))),
    );
    for (const [law, wanted] of [
      ['weibull', weibull],
      ['lognormal', lognormal],
    ] as const) {
      const { parameters, logLikelihood, verdict } = group.laws!.find((each) => each.law === law)!;
      expect(verdict.kind).toBe('identified');
      expect(parameters!.scale.estimate / wanted.scale).toBeCloseTo(1, 8);
      expect(parameters!.shape.estimate / wanted.shape).toBeCloseTo(1, 8);
      expect(logLikelihood / wanted.logLikelihood).toBeCloseTo(1, 10);
    }
    // The Weibull law is ahead by more than a likelihood ratio of 7.
    expect(weibull.logLikelihood - lognormal.logLikelihood).toBeGreaterThan(2);
    expect(group.betterLaw).toBe('weibull');
  });
});

describe('further life', () => {
  const group = only(stated([...ended(80, 95, 110, 120, 140, 150, 170), ...running(60, 100)]), [90, 160]);

  test('is that of the fitted law, given the use reached', () => {
    const { parameters, further } = group.laws!.find(({ law }) => law === 'weibull')!;
    const [scale, shape] = [parameters!.scale.estimate, parameters!.shape.estimate];
    expect(further.map(({ use }) => use)).toEqual([90, 160]);
    for (const { use, more } of further) {
      const hazard = ((use + more.p50.estimate) / scale) ** shape - (use / scale) ** shape;
      expect(hazard).toBeCloseTo(Math.LN2, 8);
      expect(more.p10.estimate).toBeLessThan(more.p50.estimate);
      expect(more.p50.lower!).toBeLessThan(more.p50.estimate);
      expect(more.p50.upper!).toBeGreaterThan(more.p50.estimate);
    }
  });

  test('says where it goes beyond what was seen', () => {
    for (const { further } of group.laws!) {
      for (const { use, more, beyondSeen } of further) {
        expect(beyondSeen).toBe(use + more.p50.estimate > 170);
      }
    }
    expect(group.laws!.flatMap(({ further }) => further.map(({ beyondSeen }) => beyondSeen))).toContain(true);
    expect(group.longest).toBe(170);
  });
});

describe('too little to say', () => {
  test('no end: neither curve nor law, and the exact bound for none of those watched from new', () => {
    const group = only(stated(running(100, 120, 140, 160, 180, 200)), [130]);
    expect(group).toMatchObject({ ends: 0, curve: null, percentiles: null, laws: null, betterLaw: null });
    expect(group.refused).toBe('no tire has ended: no curve and no law, only how long these tires have run');
    const [{ running: share, byCause }] = group.shares as [LifeGroup['shares'][number]];
    // Four were seen beyond 130 without an end: Clopper and Pearson's bound is (alpha / 2)^(1/4).
    expect(share.estimate).toBe(1);
    expect(share.lower).toBeCloseTo(0.025 ** (1 / 4), 10);
    expect(
      byCause.every(({ estimate, upper }) => estimate === 0 && Math.abs(upper - (1 - share.lower)) < 1e-12),
    ).toBe(true);
  });

  test('tires that came in used bound nothing before that', () => {
    const used = running(100, 120, 140).map((row) => ({ ...row, before: 50 }));
    const [share] = only(stated(used), [80]).shares;
    expect(share!.running).toEqual({ estimate: 1, standardError: null, lower: 0, upper: 1 });
  });

  test('four ends are refused, five are not, and say that they are few', () => {
    const few = only(stated([...ended(60, 70, 80, 90), ...running(100, 110)]));
    expect(few.refused).toBe('4 ends: no curve and no law, only how long these tires have run');
    const more = only(stated([...ended(60, 70, 80, 90, 95), ...running(100)]));
    expect(more.refused).toBeNull();
    expect(more.curve).toHaveLength(5);
    expect(more.remarks).toContain('Only 5 ends: the intervals hold less often than they say.');
  });

  test('beyond the longest life nothing is told', () => {
    const group = only(stated([...ended(60, 70, 80, 90, 95), ...running(100)]), [150]);
    expect(group.shares[0]!.running.estimate).toBeNull();
    expect(group.shares[0]!.byCause.every(({ estimate }) => estimate === null)).toBe(true);
    expect(group.percentiles!.p90.upper).toBeNull();
  });
});

describe('ends within a range', () => {
  const exact = (at: number): LifeRecord => ({
    tire: '',
    from: at,
    to: at,
    entry: 0,
    count: 1,
    cause: 'worn',
  });
  const within = (from: number, to: number): LifeRecord => ({ ...exact(to), from });
  const lives = [
    exact(50),
    exact(70),
    within(40, 90),
    within(60, 120),
    exact(110),
    exact(130),
    within(0, 60),
  ];
  const at = (part: number): ReturnType<typeof kaplanMeier> =>
    kaplanMeier(
      Float64Array.from(lives, ({ from, to }) => from + Math.max(part, 1e-6) * (to - from)),
      new Uint8Array(lives.length).fill(1),
    );

  test('stand in its middle, and the interval covers both of its ends', () => {
    const placed = new PlacedLives(lives, 0.95);
    const three = [0.5, 0, 1].map((part) => survivalQuantile(at(part), 0.5));
    const found = placed.quantile(0.5);
    expect(found.estimate).toBe(three[0]!.estimate);
    expect(found.lower).toBe(Math.min(...three.map(({ lower }) => lower!)));
    expect(found.upper).toBe(Math.max(...three.map(({ upper }) => upper!)));
    expect(new Set(three.map(({ estimate }) => estimate)).size).toBe(3);
    for (const { running: share, lower, upper } of placed.curve()) {
      expect(lower).toBeLessThanOrEqual(share);
      expect(upper).toBeGreaterThanOrEqual(share);
    }
  });

  // False-alarm rate 1 in 10 000: the exact lower bound for the share of misses.
  test('the interval of the median holds the truth at least as often as it says', () => {
    const LOGS = 400;
    const stream = openStream('median of lives in ranges');
    const truth = 100 * Math.LN2 ** (1 / 2);
    let misses = 0;
    for (let log = 0; log < LOGS; log++) {
      const some = Array.from({ length: 20 }, () => {
        const life = 100 * (-Math.log1p(-nextUniform53(stream))) ** (1 / 2);
        // Looked at every 30; what is still running at 150 goes on.
        const seen = 30 * Math.floor(life / 30);
        return life > 150 ? { ...exact(150), to: Infinity, cause: null } : within(seen, seen + 30);
      });
      const { lower, upper } = new PlacedLives(some, 0.95).quantile(0.5);
      if (truth < (lower ?? 0) || truth > (upper ?? Infinity)) misses += 1;
    }
    expect(clopperPearsonInterval(misses, LOGS, 1 - 2e-4).lower).toBeLessThan(0.05);
  });

  test('are counted, and taken as ranges by the laws', () => {
    const text = `tire,airplane,position,setup,fitted,removed after,removed by,cause\n${[3, 4, 5, 6, 7, 8]
      .map(
        (month, i) =>
          `T${i},A${i},left main,soft,2024-01-01,2024-0${month}-01,2024-0${month}-20,${i === 0 ? '' : 'cut'}`,
      )
      .join('\n')}\n`;
    const flights = Array.from({ length: 6 }, (_, i) =>
      Array.from({ length: 8 }, (__, month) => `A${i},2024-0${month + 1}-10,10,meadow`).join('\n'),
    ).join('\n');
    const log = parseLogbook(
      JSON.stringify({
        name: 'ranges',
        firstDay: '2024-01-01',
        lastDay: LAST,
        tires: { file: 't' },
        flights: { file: 'f' },
      }),
      { t: text, f: `airplane,date,landings,strip\n${flights}\n` },
    );
    const group = only(log, [75]);
    expect(group).toMatchObject({ ends: 6, endsInRange: 6 });
    expect(group.lives[0]).toMatchObject({ from: 20, to: 30, cause: null });
    const causes = group.shares[0]!.byCause;
    expect(causes.find(({ cause }) => cause === null)!.ends).toBe(1);
    expect(causes.find(({ cause }) => cause === 'cut')!.ends).toBe(5);
    const all = causes.reduce((sum, { estimate }) => sum + estimate!, group.shares[0]!.running.estimate!);
    expect(all).toBeCloseTo(1, 12);
    expect(group.laws!.every(({ parameters }) => parameters !== null)).toBe(true);
    expect(group.remarks.join(' ')).toContain('6 ends are known only within a range of use');
    expect(group.remarks.join(' ')).not.toContain('places');
  });
});

describe('tires put together', () => {
  const rows: TireRow[] = [
    ...ended(60, 75, 80, 95, 120),
    ...running(50),
    ...ended(100, 130).map((row) => ({ ...row, setup: 'hard' })),
    ...ended(300).map((row) => ({ ...row, position: 'third' })),
  ];

  test('by set-up, main and third wheels apart, main ones first', () => {
    const { groups } = recordLives(stated(rows));
    expect(groups.map(({ name, wheels, tires, ends }) => [name, wheels, tires, ends])).toEqual([
      ['soft', 'main', 6, 5],
      ['hard', 'main', 2, 2],
      ['soft', 'third', 1, 1],
    ]);
    expect(() => recordLives(stated(rows), { by: 'tire class' })).toThrow(/tells no class of any tire/);
    expect(recordLives(readSmall(), { by: 'tire class' }).groups.map(({ name }) => name)).toEqual([
      'soft 29',
      'nose 8.50-6',
    ]);
    const bare = SMALL['tires.csv']!.replace('setup', 'class').replaceAll(',soft,', ',soft 29,');
    const byClass = recordLives(readSmall({ 'tires.csv': bare }, {}, null));
    expect(byClass).toMatchObject({ by: 'tire class', groups: [{ name: 'soft 29' }, { name: 'soft 29' }] });
  });

  test('the order of rows does not matter, and a row of three counts as three rows', () => {
    const figures = (list: readonly TireRow[]): unknown => {
      const group = recordLives(stated(list)).groups.find(
        ({ name, wheels }) => name === 'soft' && wheels === 'main',
      )!;
      const apart = ['lives', 'airplanes', 'remarks'];
      return Object.fromEntries(Object.entries(group).filter(([key]) => !apart.includes(key)));
    };
    expect(figures([...rows].reverse())).toEqual(figures(rows));
    const three = [...rows, ...ended(85, 85, 85)];
    expect(figures([...rows, { landings: 85, cause: 'worn', count: 3 }])).toEqual(figures(three));
  });

  test('those that cannot be counted, or were not used, are told', () => {
    const log = stated([...rows, { landings: 40, before: 40 }, { landings: 90, before: 30, cause: 'cut' }]);
    expect(recordLives(log).leftOut).toEqual({ notCounted: [], notUsed: ['T9'] });
    expect(recordLives(log, { unit: 'days' }).leftOut.notCounted).toEqual(['T9', 'T10']);
    expect(() => recordLives(log, { unit: 'flight hours' })).toThrow(UsageError);
    expect(() => recordLives(log, { unit: 'flight hours' })).toThrow(
      /does not tell the flight hours of any tire/,
    );
  });

  test('options out of range are refused', () => {
    expect(() => recordLives(stated(rows), { at: [0] })).toThrow(/a use must be a number above 0; found 0/);
    expect(() => recordLives(stated(rows), { level: 1 })).toThrow(/level/);
  });
});

describe('places', () => {
  const log = (place: string): Logbook =>
    parseLogbook(
      JSON.stringify({
        name: 'p',
        firstDay: '2024-05-01',
        lastDay: LAST,
        tires: { file: 't' },
        flights: { file: 'f' },
      }),
      {
        t: `tire,airplane,position,setup,fitted\n1,A,left main,soft,2024-05-01\n2,B,left main,hard,2024-05-01\n`,
        f: `airplane,date,strip,landings\nA,2024-05-02,meadow,10\nA,2024-05-02,ridge rock,10\nB,2024-05-02,${place},20\nB,2024-05-03,meadow,20\n`,
      },
    );
  const warning = /different mixes of places/;

  test('a set-up flown on several is told to hold for their mix', () => {
    const [group] = recordLives(log('ridge rock')).groups;
    expect(group!.places).toEqual([
      { strip: 'meadow', surface: null, landings: 10 },
      { strip: 'ridge rock', surface: null, landings: 10 },
    ]);
    expect(group!.remarks).toContain(
      'Flown on 2 places: the life holds for that mix of them, not for any one.',
    );
  });

  test('set-ups flown on different ones are not to be compared', () => {
    expect(recordLives(log('ridge rock')).remarks.join(' ')).not.toMatch(warning);
    expect(recordLives(log('river bar')).remarks.join(' ')).toMatch(warning);
  });
});

describe('the text', () => {
  test('keeps to 100 columns with long and hostile names, refuses in words and ends with who decides', () => {
    const names = ['長い名前のタイヤ'.repeat(5), 'x'.repeat(90), 'red\u001b[31m'];
    const log = stated(
      names.flatMap((setup, i) => [
        ...ended(...[60, 75, 80, 95, 120].slice(0, 5 - i)).map((row) => ({ ...row, setup })),
        ...running(50).map((row) => ({ ...row, setup })),
      ]),
    );
    const text = livesTable(recordLives(log, { at: [55, 90] }));
    expect(text.split('\n').filter((line) => textWidth(line) > 100)).toEqual([]);
    expect(text).not.toContain('\u001b');
    expect(text).toMatch(/3 ends: no curve and no law/);
    expect(text).toMatch(/half last\s+longer than 80 landings \(95 %: no bounds\)/);
    expect(text).toContain('a\n  licensed mechanic decide');
  });
});
