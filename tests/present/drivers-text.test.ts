import { beforeAll, describe, expect, test } from 'vitest';
import { whatMatters } from '../../dist/sensitivity/what-matters.js';
import type { WhatMatters } from '../../dist/sensitivity/what-matters-types.js';
import { AUTHORITY } from '../../lib/cautions.js';
import { driversScreen } from '../../lib/present/drivers-screen.js';
import { driversText } from '../../lib/present/drivers-text.js';
import { shareText, valueText } from '../../lib/present/drivers-words.js';
import { textWidth } from '../../lib/present/words.js';
import { quietScenario } from '../support/scenarios.js';
import { twoCompounds } from '../support/two-compounds.js';

const WIDTH = 100;
const SCREEN_LINES = 28;

let study: WhatMatters;
beforeAll(async () => {
  study = await whatMatters(quietScenario(twoCompounds), {
    trials: 400,
    rows: 64,
    workers: 1,
    criterion: 'life',
  });
});

/** The text with line ends and the blanks after them as one blank. */
function flowing(text: string): string {
  return text.replace(/\s+/g, ' ');
}

/** The study with changes to the choice, on its mix too. */
function chosen(changes: Partial<WhatMatters['choice']>): WhatMatters {
  const choice = { ...study.choice, ...changes };
  return { ...study, choice, mixes: study.mixes.map((each) => (each.mix === choice.mix ? choice : each)) };
}

function expectScreen(text: string): void {
  const lines = text.split('\n');
  expect(lines.length).toBeLessThanOrEqual(SCREEN_LINES);
  expect(Math.max(...lines.map(textWidth))).toBeLessThanOrEqual(WIDTH);
  expect(text).not.toMatch(/undefined|NaN|Infinity|\b(assumptions|compounds|surfaces|sidewalls)\.\w/);
}

describe('the screen', () => {
  test('says what decides, whether the choice is safe, and what to measure, with the numbers of the study', () => {
    const screen = driversScreen(study);
    expectScreen(screen);
    const text = flowing(screen);
    const { choice, deciders, advice } = study;
    expect(text).toMatch(
      /^On only, other lasts longest on average, .* h better than only\. By days lost: other too\./,
    );
    expect(text).toContain(`would gain ${valueText(choice.perfect!)} h`);
    expect(text).toContain(`another set-up is best in ${shareText(choice.shareOfWorldsOther!)}`);
    expect(text).toContain(
      'These two assumptions move the lead most (share of its spread; lead over only, h; surest first):',
    );
    expect(text).toContain(
      `1. wear factor of doubted rubber, 1 to 1.5: spread ${shareText(deciders[0]!.share!)}`,
    );
    expect(text).toMatch(/; only better below 1\.2 \(1\.\d+ to 1\.\d+\), chance 4\d % \(\d+ to \d+ %\)/);
    expect(text).toContain('no plausible value is seen to flip the choice');
    expect(text).toContain(
      `Measure next: wear factor of doubted rubber worth ${valueText(advice[0]!.readings[0]!.value.value)} h.`,
    );
    expect(text).toContain(
      `How: read the tread of 4 tires before and after 100 landings: worth ${valueText(advice[0]!.readings[0]!.value.value)}.`,
    );
    expect(text).toContain(AUTHORITY.message);
  });

  test.each([
    ['safe', /SAFE: even if every assumption were known, .* less than what matters/],
    ['probably safe', /PROBABLY SAFE: .* would not matter/],
    [
      'either will do',
      /EITHER WILL DO: other and only differ by less than what matters \([\d.,]+ h, 5 % of its life\)/,
    ],
    ['not safe', /NOT SAFE, NOR TOLD APART from only by 400 trials: another .* more than what matters/],
    ['not told yet', /NOT TOLD YET: 400 trials do not tell other and only apart; about 1,600 would/],
  ] as const)('puts "%s" into words', (kind, words) => {
    const verdict = { ...study.choice.verdict, equal: ['only'], open: ['only'], moreTrials: 1200 };
    const screen = driversScreen(chosen({ kind, verdict }));
    expectScreen(screen);
    expect(flowing(screen)).toMatch(words);
  });

  test('says so where nothing is worth measuring, where nothing decides, and with too few twins', () => {
    const nothing = flowing(driversScreen({ ...study, advice: [], deciders: [] }));
    expect(nothing).toContain('With so few trials nothing is seen to be worth measuring. At most');
    expect(nothing).not.toContain('Measure nothing');
    expect(nothing).toContain('No assumption is seen to move the lead');
    const unmoved = study.deciders.map((each) => ({
      ...each,
      threshold: { assumption: each.input, flips: [] },
    }));
    expect(flowing(driversScreen({ ...study, deciders: unmoved }))).toContain(
      'These two assumptions move the lead most, but no plausible value is seen to flip the choice (share of its spread; lead over',
    );
    const few = flowing(driversScreen(chosen({ perfect: null, shareOfWorldsOther: null })));
    expect(few).toContain('NOT TOLD: 400 trials are too few to tell luck from ignorance');
  });

  test('tells of a stopped study what is missing, and marks what chance may have done', () => {
    const bare = study.deciders.map((each) => ({ ...each, share: null, verdict: null, threshold: null }));
    const onlyRun: WhatMatters = {
      ...study,
      missing: ['one at a time', 'shares of doubt', 'thresholds'],
      deciders: bare.map((each) => ({ ...each, swing: null })),
      oneAtATime: null,
      variance: null,
      thresholds: [],
    };
    expect(flowing(driversScreen(onlyRun))).toMatch(
      /1\. wear factor of doubted rubber: [\d.]+ % \([\d.]+ to [\d.]+ %\) of the spread by itself/,
    );
    const stopped: WhatMatters = {
      ...study,
      complete: false,
      missing: ['shares of doubt', 'thresholds'],
      variance: null,
      thresholds: [],
      deciders: bare,
      advice: study.advice.map((each) => ({ ...each, verdict: 'perhaps' as const, readings: [] })),
    };
    const text = flowing(driversScreen(stopped));
    expect(text).toContain('STOPPED EARLY: shares of doubt, thresholds not finished.');
    expect(text).toContain('1. wear factor of doubted rubber, 1 to 1.5: lead');
    expect(text).toContain(' h, less sure.');
    expect(text).toContain(' SO FAR');
    expect(text).toContain('Measure next, so far: ');
    expect(text).toContain('How: read the tread of several tires');
    expect(driversText(stopped)).not.toContain('Shares of the spread');
  });

  test('tells that the trials do not tell two apart wherever the lead may be 0', () => {
    const lead = { estimate: 10, standardError: 10, lower: -10, upper: 30 };
    expect(flowing(driversScreen(chosen({ kind: 'not safe', lead })))).toContain(
      'NOT SAFE, NOR TOLD APART from only by 400 trials',
    );
    // Told by itself, but not among several rivals: the rule is named.
    const told = { ...lead, lower: 1 };
    const verdict = { ...study.choice.verdict, open: ['only'], moreTrials: null };
    expect(
      flowing(
        driversScreen({
          ...chosen({ kind: 'not told yet', lead: told, verdict, indifference: 25 }),
          setups: ['only', 'other', 'third'],
        }),
      ),
    ).toMatch(
      /with 2 rivals at once it takes more.* seems below what matters \(25[.0]* h, 5 % of its life\): take/,
    );
  });

  test('says "decide" only of inputs that are told to matter and turn an open choice', () => {
    const open = chosen({ kind: 'not safe' });
    const flip = open.deciders[0]!.threshold!;
    const all = open.deciders.map((each) => ({
      ...each,
      threshold: flip,
      verdict: { kind: 'matters' as const, text: '', rowsNeeded: null },
    }));
    const texts = [
      { ...open, deciders: all },
      { ...chosen({ kind: 'safe' }), deciders: all },
      { ...open, deciders: all, missing: ['thresholds' as const] },
      {
        ...open,
        deciders: all.map((each) => ({
          ...each,
          verdict: { kind: 'need more trials' as const, text: '', rowsNeeded: 300 },
        })),
      },
    ].map((each) => flowing(driversScreen(each)));
    expect(texts.map((text) => text.includes('These two assumptions decide it'))).toEqual([
      true,
      false,
      false,
      false,
    ]);
    expect(texts[3]).toContain('--rows 512 would tell');
    expect(texts[3]).toContain('64 rows are too few to share out the spread');
  });

  test('names luck and the others together where they hold more than any that is named', () => {
    const { variance } = study;
    const small = { estimate: 0.1, lower: 0.06, upper: 0.2, unclipped: 0.1 };
    const figures = variance!.figures.map((figure) => ({
      ...figure,
      indices: {
        ...figure.indices,
        inputs: figure.indices.inputs.map((input) =>
          input.input === 'landing luck'
            ? {
                ...input,
                total: { ...small, estimate: 0.98 },
                verdict: { kind: 'matters' as const, text: '', rowsNeeded: null },
              }
            : input,
        ),
      },
    }));
    const deciders = study.deciders.map((each) => ({ ...each, share: { ...small, estimate: 0.5 } }));
    const text = flowing(driversScreen({ ...study, deciders, variance: { ...variance!, figures } }));
    expect(text).toContain('No single assumption decides: more is held by landing luck. These');
    expect(text).toContain('; over 100 % as shares overlap.');
  });

  test('puts measurements about level side by side, and says which is less sure', () => {
    const [first] = study.advice;
    const other = {
      ...first!,
      input: 'assumptions.patchChance',
      paths: ['assumptions.patchChance'],
      verdict: 'perhaps' as const,
      readings: [],
      work: null,
    };
    const text = flowing(driversScreen({ ...study, advice: [first!, other] }));
    expect(text).toMatch(
      /Measure next, about level: .*; patch chance .*, less sure\. Start with the cheapest\./,
    );
    const far = { ...other, value: { estimate: 1e-3, lower: 0, upper: 2e-3 } };
    expect(flowing(driversScreen({ ...study, advice: [first!, far] }))).toContain('Also, worth if known:');
  });

  test('says "measure nothing" only where the choice is safe and no part leaves room for more', () => {
    const safe = {
      ...chosen({ kind: 'safe' }),
      advice: [],
      thresholds: [],
      variance: null,
      oneAtATime: null,
    };
    expect(flowing(driversScreen(safe))).toContain('Measure nothing for this choice');
    for (const open of [
      { ...safe, missing: ['thresholds' as const] },
      { ...safe, thresholds: study.thresholds },
      { ...safe, oneAtATime: study.oneAtATime },
      { ...safe, variance: study.variance },
    ]) {
      const text = flowing(driversScreen(open));
      expect(text).toMatch(
        /With so few trials nothing is seen to be worth measuring\. At most [\d.]+ h is to be gained/,
      );
      expect(text).not.toContain('Measure nothing');
    }
  });

  test('names the strongest of what was fitted together', () => {
    const paths = study.deciders.map(({ input }) => input);
    const tied = { ...study.deciders[0]!, input: 'fitted together', paths, swing: null };
    expect(flowing(driversScreen({ ...study, deciders: [tied] }))).toMatch(
      /1\. fitted together \(2 numbers\), strongest by itself wear factor of doubted rubber, lead -[\d.]+ to \+[\d.]+:/,
    );
  });

  test('holds one figure for every mix', () => {
    const mixes = [study.choice, { ...study.choice, mix: 'other place', perfect: null }];
    const text = flowing(driversScreen({ ...study, mixes, mixChosen: 'where knowing more is worth most' }));
    expect(text).toMatch(/Knowing all is worth: only [\d.]+ \(most, so shown\); other place \?\./);
  });
});

describe('the whole text', () => {
  test('has a table for each part, a legend and the cautions, within the width', () => {
    const text = driversText(study);
    expect(Math.max(...text.split('\n').map(textWidth))).toBeLessThanOrEqual(WIDTH);
    expect(text.startsWith(driversScreen(study))).toBe(true);
    for (const heading of [
      'The choice on each mix',
      'One at a time',
      'Shares of the spread',
      'Worth of knowing each assumption',
      'What it took',
      'Where the choice flips',
    ]) {
      expect(text).toContain(heading);
    }
    // One row for each input of the design, none with a place of the scenario.
    const lead = study.variance!.figures.find(({ figure, versus }) => figure === 'life' && versus !== null)!;
    expect(lead.indices.inputs.length).toBeGreaterThan(2);
    for (const { total } of lead.indices.inputs) expect(text).toContain(shareText(total));
    expect(text).not.toMatch(/\b(assumptions|compounds|surfaces|sidewalls)\.\w/);
    expect(text).toContain('unmeasured');
  });

  test('keeps names from files in their lines', () => {
    const hostile =
      '\u001b[31mred\u0007\nnext line 砂利の滑走路 砂利の滑走路 砂利の滑走路 砂利の滑走路 砂利の滑走路';
    const text = driversText({
      ...chosen({ best: hostile, rival: 'x'.repeat(150), mix: hostile }),
      unit: `${hostile} per season`,
      scenario: hostile,
    });
    expect(text.replaceAll('\n', '')).not.toMatch(/\p{Cc}/u);
    expect(Math.max(...text.split('\n').map(textWidth))).toBeLessThanOrEqual(WIDTH);
  });
});
