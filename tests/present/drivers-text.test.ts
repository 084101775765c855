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
    expect(text).toMatch(/^On only, other lasts longest on average, .* h better than only\./);
    expect(text).toContain(`would gain ${valueText(choice.perfect!)} h on average`);
    expect(text).toContain(`another set-up is best in ${shareText(choice.shareOfWorldsOther!)}`);
    expect(text).toContain('These two assumptions decide it (lead of other over only, h):');
    expect(text).toContain(
      `1. wear factor of doubted rubber, 1 to 1.5: ${shareText(deciders[0]!.share!)} of the spread`,
    );
    expect(text).toMatch(/; only better below 1\.2 \(1\.\d+ to 1\.\d+\), chance 4\d %/);
    expect(text).toContain('no plausible value flips the choice');
    expect(text).toContain(
      `Measure next: wear factor of doubted rubber, worth ${valueText(advice[0]!.value!)} h.`,
    );
    expect(text).toContain(
      `How: read the tread of 4 tires before and after 100 landings: worth ${valueText(advice[0]!.readings[0]!.value.value)}.`,
    );
    expect(text).toContain(AUTHORITY.message);
  });

  test.each([
    ['safe', /SAFE: even if every assumption were known, .* less than what matters/],
    ['probably safe', /PROBABLY SAFE: .* would not matter/],
    ['either will do', /EITHER WILL DO: other and only differ by less than what matters/],
    ['not safe', /NOT SAFE: another set-up is best in .* more than what matters/],
    ['not told yet', /NOT TOLD YET: 400 trials do not tell other and only apart; about 1,600 would/],
  ] as const)('puts "%s" into words', (kind, words) => {
    const verdict = { ...study.choice.verdict, equal: ['only'], open: ['only'], moreTrials: 1200 };
    const screen = driversScreen(chosen({ kind, verdict }));
    expectScreen(screen);
    expect(flowing(screen)).toMatch(words);
  });

  test('says so where nothing is worth measuring, where nothing decides, and with too few twins', () => {
    const nothing = flowing(driversScreen({ ...study, advice: [], deciders: [] }));
    expect(nothing).toContain('Measure nothing for this choice');
    expect(nothing).toContain('No assumption is seen to move the lead');
    const unmoved = study.deciders.map((each) => ({
      ...each,
      threshold: { assumption: each.input, flips: [] },
    }));
    expect(flowing(driversScreen({ ...study, deciders: unmoved }))).toContain(
      'These two assumptions move the lead most, but no plausible value flips the choice (lead of',
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
    expect(text).toContain(' h, perhaps by chance.');
    expect(text).toContain('How: read the tread of several tires');
    expect(driversText(stopped)).not.toContain('Shares of the spread');
  });

  test('holds one figure for every mix', () => {
    const mixes = [study.choice, { ...study.choice, mix: 'other place', perfect: null }];
    const text = flowing(driversScreen({ ...study, mixes, mixChosen: 'where knowing more is worth most' }));
    expect(text).toMatch(
      /Knowing every assumption is worth: only [\d.]+ \(most, so shown\); other place \?\./,
    );
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
