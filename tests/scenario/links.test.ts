import { describe, expect, test } from 'vitest';
import { ScenarioError, type Problem } from '../../lib/problems.js';
import { parseScenario } from '../../lib/scenario/read.js';

const RIGID = {
  mainTire: 'rigid 29 deep',
  mainPressure: '25 psi',
  thirdTire: 'nose 8.50-6',
  thirdPressure: '25 psi',
};

/** A good scenario, one key a line from line 2 on, with the parts under test last. */
function scenario(change: object): string {
  const base = { name: 'Good', setups: { rigid: RIGID }, mixes: { paved: { 'home pavement': '100 %' } } };
  const entries = Object.entries({ ...base, ...change });
  return `{\n${entries.map(([key, value]) => `"${key}": ${JSON.stringify(value)}`).join(',\n')}\n}`;
}

function problemsOf(change: object): readonly Problem[] {
  try {
    parseScenario(scenario(change), 'test.json');
  } catch (error) {
    if (error instanceof ScenarioError) return error.problems;
    throw error;
  }
  return [];
}

test('a scenario whose links all lead somewhere has no problems', () => {
  expect(problemsOf({})).toEqual([]);
});

describe('names', () => {
  test.each<[string, object, Partial<Problem>]>([
    [
      'airplane',
      { airplane: 'reference four-seat' },
      {
        line: 5,
        column: 13,
        found: '"reference four-seat"',
        suggestion: 'did you mean "reference four-seater"?',
      },
    ],
    [
      'setups.rigid.mainTire',
      { setups: { rigid: { ...RIGID, mainTire: 'soft 92' } } },
      { line: 3, found: '"soft 92"', suggestion: 'did you mean "soft 29"?' },
    ],
    ['setups.rigid.thirdTire', { setups: { rigid: { ...RIGID, thirdTire: 'zzz' } } }, { found: '"zzz"' }],
    ['tires["soft 29"].sidewall', { tires: { 'soft 29': { sidewall: 'sotf' } } }, { line: 5 }],
    ['tires["soft 29"].tread', { tires: { 'soft 29': { tread: 'bald' } } }, { found: '"bald"' }],
    ['tires["soft 29"].compound', { tires: { 'soft 29': { compound: 'hard' } } }, { found: '"hard"' }],
    ['strips.meadow.touchdown', { strips: { meadow: { touchdown: 'trf' } } }, { found: '"trf"' }],
    ['strips.meadow.rollout', { strips: { meadow: { rollout: 'mud' } } }, { found: '"mud"' }],
    ['strips.meadow.taxi', { strips: { meadow: { taxi: 'mud' } } }, { found: '"mud"' }],
  ])('%s must be that of an entry', (path, change, expected) => {
    const problems = problemsOf(change);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ file: 'test.json', path, ...expected });
    expect(problems[0]!.allowed).toMatch(/^expected the name of an entry of "\w+"; it has .+/);
  });

  test('of strips in a mix are told at the key', () => {
    const [problem] = problemsOf({ mixes: { m: { medow: '100 %' } } });
    expect(problem).toMatchObject({
      path: 'mixes.m.medow',
      line: 4,
      column: 16,
      found: '"medow"',
      suggestion: 'did you mean "meadow"?',
    });
  });

  test('that are taken away are missed where they are used', () => {
    const problems = problemsOf({ surfaces: { turf: null }, tires: { 'nose 8.50-6': null } });
    expect(problems.map(({ path }) => path)).toEqual([
      'setups.rigid.thirdTire',
      'strips.meadow.touchdown',
      'strips.meadow.rollout',
      'strips.meadow.taxi',
    ]);
    expect(problems[0]!.suggestion).toBe('did you mean "nose 5.00-5"?');
  });

  test('of built-in properties are no entries', () => {
    for (const name of ['valueOf', 'hasOwnProperty']) {
      expect(problemsOf({ airplane: name })).toMatchObject([{ path: 'airplane' }]);
    }
  });

  test('lists of many entries are cut', () => {
    const strip = { like: 'meadow' };
    const strips = Object.fromEntries(Array.from({ length: 50 }, (_, k) => [`strip ${k}`, strip]));
    const [problem] = problemsOf({ strips, mixes: { m: { nowhere: 1 } } });
    expect(problem!.allowed).toMatch(/, \.\.\.$/);
    expect(problem!.allowed.length).toBeLessThan(250);
  });
});

describe('tires', () => {
  const tire = (change: object): readonly Problem[] => problemsOf({ tires: { 'soft 29': change } });

  test.each<[string, object, Partial<Problem>]>([
    [
      'rimDiameter',
      { rimDiameter: '20 in', outsideDiameter: '21 in' },
      { found: '"20 in"', allowed: 'rim and flanges must be smaller than the outside diameter of 21.0 in' },
    ],
    [
      'treadWidth',
      { treadWidth: '12 in' },
      { found: '"12 in"', allowed: 'the tread cannot be wider than the section width of 11.0 in' },
    ],
  ])('whose %s does not fit the rest are refused', (key, change, expected) => {
    expect(tire(change)).toMatchObject([{ path: `tires["soft 29"].${key}`, line: 5, ...expected }]);
  });

  test('must have more groove than the tread limit where a set-up fits them, and only there', () => {
    const limit = { habits: { treadLimit: '3 mm' } };
    expect(problemsOf(limit)).toEqual([]);
    expect(problemsOf({ ...limit, setups: { soft: { ...RIGID, mainTire: 'soft 29' } } })).toMatchObject([
      {
        path: 'habits.treadLimit',
        found: '"3 mm"',
        allowed: 'expected less than the new groove of every tire fitted; soft 29 has 3 mm',
      },
    ]);
  });

  test('must have rubber above the cords', () => {
    const bare = { 'soft 29': { newTread: '0 mm', undertread: '0 mm' } };
    expect(problemsOf({ tires: bare, habits: { removeAt: 'cords' } })).toMatchObject([
      {
        path: 'tires["soft 29"].undertread',
        allowed: 'newTread and undertread together must be more than 0 mm',
      },
    ]);
  });

  test('without groove are fine where tires run to the cords', () => {
    expect(problemsOf({ tires: { 'soft 29': { newTread: '0 mm' } }, habits: { removeAt: 'cords' } })).toEqual(
      [],
    );
  });

  test('that just fit are accepted', () => {
    expect(tire({ treadWidth: '11 in', sectionWidth: '11 in' })).toEqual([]);
    expect(tire({ rimDiameter: '20 in', outsideDiameter: '21.41 in' })).toEqual([]);
    expect(tire({ rimDiameter: '20 in', outsideDiameter: '21.4 in' })).toHaveLength(1);
  });
});

describe('shares of a mix', () => {
  const mix = (shares: object): readonly Problem[] => problemsOf({ mixes: { m: shares } });

  test.each<[string, object, string, string]>([
    ['too little', { meadow: '90 %' }, '90 %', 'raise them by 10 %'],
    ['too much', { meadow: '90 %', 'ridge rock': '15 %' }, '105 %', 'lower them by 5 %'],
    ['a slip of the per cent sign', { meadow: 1, 'ridge rock': '1 %' }, '101 %', 'lower them by 1 %'],
    ['none', {}, '0 %', 'raise them by 100 %'],
  ])('that add to %s are refused with the sum', (_, shares, sum, suggestion) => {
    expect(mix(shares)).toMatchObject([
      {
        path: 'mixes.m',
        line: 4,
        found: `shares that add to ${sum}`,
        allowed: 'shares must add to 100 %',
        suggestion,
      },
    ]);
  });

  test('may be rounded: thirds in per cent with one decimal', () => {
    expect(mix({ meadow: '33.3 %', 'ridge rock': '33.3 %', 'river bar': '33.4 %' })).toEqual([]);
    expect(mix({ meadow: '33.33 %', 'ridge rock': '33.33 %', 'river bar': '33.33 %' })).toEqual([]);
    expect(mix({ meadow: '33 %', 'ridge rock': '33 %', 'river bar': '33 %' })).toHaveLength(1);
  });
});

describe('the season', () => {
  const month = (name: string, landings: string, flightHours: string): object => ({
    month: name,
    landings,
    flightHours,
    temperature: '10 degC',
  });
  const season = (...months: object[]): readonly Problem[] => problemsOf({ season: { months } });

  test('may run over the turn of the year, and through all months', () => {
    expect(season(month('November', '5', '5 h'), month('January', '5', '5 h'))).toEqual([]);
    const names = ['October', 'November', 'December', 'January', 'February', 'March', 'April', 'May', 'June'];
    const all = [...names, 'July', 'August', 'September'].map((name) => month(name, '5', '5 h'));
    expect(season(...all)).toEqual([]);
  });

  test.each<[string, object[], Partial<Problem>]>([
    [
      'months out of order',
      [month('May', '5', '5 h'), month('July', '5', '5 h'), month('June', '5', '5 h')],
      {
        path: 'season.months[2].month',
        found: '"June"',
        allowed: 'months must follow each other within one year',
      },
    ],
    [
      'a month twice',
      [month('May', '5', '5 h'), month('May', '5', '5 h')],
      { path: 'season.months[1].month' },
    ],
    [
      'no landing',
      [month('May', '0', '0 h'), month('June', '0', '0 h')],
      { path: 'season.months', found: 'no landings' },
    ],
    ['no flight hours', [month('May', '4', '0 h')], { path: 'season.months', found: 'no flight hours' }],
    [
      'hours without landings',
      [month('May', '0', '5 h'), month('June', '5', '5 h')],
      { path: 'season.months[0].landings', allowed: 'a month with flight hours needs at least one landing' },
    ],
    [
      'too many landings',
      ['May', 'June', 'July'].map((name) => month(name, '100000', '5 h')),
      {
        path: 'season.months',
        found: '300000 landings',
        allowed: 'expected at most 200000 landings in the year',
      },
    ],
  ])('with %s is refused', (_, months, expected) => {
    expect(season(...months)[0]).toMatchObject({ file: 'test.json', line: 5, ...expected });
  });

  test('may have a month without flying in between', () => {
    expect(season(month('May', '5', '5 h'), month('June', '0', '0 h'), month('July', '5', '5 h'))).toEqual(
      [],
    );
  });
});

test('all problems of links are told at once', () => {
  const problems = problemsOf({
    airplane: 'none',
    setups: {},
    mixes: { m: { nowhere: '50 %' } },
    season: { months: [] },
  });
  // An empty list of months is a fault of the value; names are looked at all the same, sums and other links are not.
  expect(problems.map(({ path }) => path)).toEqual(['season.months', 'airplane', 'mixes.m.nowhere']);
  const links = problemsOf({ airplane: 'none', setups: {}, mixes: { m: { nowhere: '50 %' } } });
  expect(links.map(({ path }) => path)).toEqual(['airplane', 'mixes.m.nowhere', 'setups', 'mixes.m']);
});

describe('names beside faults of form', () => {
  test('are told in the same round, with the nearest one', () => {
    const problems = problemsOf({
      setups: { rigid: { ...RIGID, mainTire: 'soft 92', mainPressure: '25 furlongs' } },
      mixes: { paved: { 'home pavment': 'all' } },
    });
    const [pressure, share, ...names] = problems;
    expect([pressure!.path, share!.path]).toEqual([
      'setups.rigid.mainPressure',
      'mixes.paved["home pavment"]',
    ]);
    expect(names.map(({ path, suggestion }) => [path, suggestion])).toEqual([
      ['setups.rigid.mainTire', 'did you mean "soft 29"?'],
      ['mixes.paved["home pavment"]', 'did you mean "home pavement"?'],
    ]);
  });

  test('names that cannot be shown are not', () => {
    const problems = problemsOf({
      setups: { rigid: RIGID, 'red \u001b[31m': RIGID },
      today: { setup: 'rigd', mix: 'paved' },
    });
    const link = problems.find(({ path }) => path === 'today.setup')!;
    expect(link).toMatchObject({ found: '"rigd"', suggestion: 'did you mean "rigid"?' });
    expect(link.allowed).toBe('expected the name of an entry of "setups"; it has rigid');
  });

  test.each([
    [{ setups: [] }, ['setups']],
    [{ setups: { rigid: 'x' } }, ['setups.rigid']],
    [{ setups: { rigid: { ...RIGID, mainTire: 5 } } }, ['setups.rigid.mainTire']],
    [{ mixes: { paved: ['home pavement'] } }, ['mixes.paved']],
    [{ tires: 'none' }, ['tires']],
    [{ today: 7 }, ['today']],
    [{ airplane: 'red \u001b[31m' }, ['airplane']],
    [{ airplane: 'x'.repeat(1_000_000) }, ['airplane']],
    [{ fleet: { airplanes: { one: { gearSets: 'rigid', mix: ['paved'] } } } }, null],
  ])('of what is not there or is no name are passed over, %#', (change, expected) => {
    const paths = problemsOf(change).map(({ path }) => path);
    if (expected !== null) expect(paths).toEqual(expected);
    expect(new Set(paths).size).toBe(paths.length);
  });
});
