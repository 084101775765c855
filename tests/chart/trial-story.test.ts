import { describe, expect, test } from 'vitest';
import { trialStoryChart } from '../../lib/chart/trial-story.js';
import { UsageError } from '../../lib/problems.js';
import { storyCourse } from '../../dist/estimate/story-course.js';
import { storyEvents } from '../../dist/estimate/story-events.js';
import { replay } from '../../dist/simulate/replay.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { HARD_NAMES } from './made-result.js';

const PSI = 6894.757293168;
const scenario = shippedScenario('mixed-season');
const titleOf = (...asked: Parameters<typeof trialStoryChart>): string =>
  trialStoryChart(...asked).title.text.join(' ');

describe('a trial story', () => {
  // Trial 3 of this pairing: two slow leaks, then a stone.
  const story = replay(scenario, { trial: 3, setup: 'rigid 29 deep', mix: 'gravel' });
  const end = story.landings.find(({ wheels }) =>
    wheels.some((w) => w.position !== 'third' && w.removed !== null),
  )!;
  const fallen = end.wheels.find(({ removed }) => removed !== null)!;
  const spec = trialStoryChart(scenario, story);
  const rows = chartRows(spec);

  test('tells the end of the first set in its title', () => {
    const side = fallen.position.replace(' main', '');
    expect(fallen.removed).toBe('puncture');
    expect(titleOf(scenario, story)).toContain(`Trial 3: a stone goes through the ${side} tire at landing`);
    expect(titleOf(scenario, story)).toContain(`at landing ${end.landing} (`);
    expect(titleOf(scenario, story)).toContain(`at ${end.strip}`);
  });

  test('draws tread and pressure of that tire as the story has them, lows and highs kept', () => {
    const steps = storyCourse(story, fallen.position as 'left main', true);
    for (const { firstLanding, lastLanding, centreLeftM, shoulderLeftM, gaugePa } of steps) {
      const tread = rows.filter((row) => row.landings === lastLanding && 'leftMm' in row);
      expect(tread.find(({ band }) => band === 'centre')!.leftMm).toBeCloseTo(1000 * centreLeftM, 3);
      expect(tread.find(({ band }) => band === 'worst shoulder')!.leftMm).toBeCloseTo(
        1000 * shoulderLeftM,
        3,
      );
      const gauge = rows.find(
        (row) => row.landings === (firstLanding + lastLanding) / 2 && 'lowestPsi' in row,
      )!;
      expect(gauge.lowestPsi).toBeCloseTo(gaugePa.lowest / PSI, 2);
      expect(gauge.highestPsi).toBeCloseTo(gaugePa.highest / PSI, 2);
    }
    const checked = rows.filter((row) => row.checked === true).length;
    expect(checked).toBe(steps.filter((step) => step.checked).length);
    expect(checked).toBeGreaterThan(5);
  });

  test('marks every event of its wheels, and says them', async () => {
    const events = storyEvents(story, true).filter(({ firstLanding }) => firstLanding <= end.landing);
    expect(events.length).toBeGreaterThan(3);
    const marks = rows.filter((row) => 'offsetPx' in row);
    expect(marks.map(({ landings }) => landings)).toEqual(events.map(({ firstLanding }) => firstLanding));
    const svg = await expectSoundChart(spec);
    const labels = markLabels(svg).join('\n');
    expect(labels).toContain(`off: punctured: landing ${end.landing} (`);
    expect(labels).toContain('slow leak begins: landing');
    for (const shown of [
      'left main',
      'right main',
      'nose',
      'gravel',
      'paved',
      'flight hours (h)',
      'landings',
    ]) {
      expect(shownText(svg)).toContain(shown);
    }
  });

  test('names the tail wheel of an airplane that has one, and hard names of set-up, mix, strip and surface', async () => {
    for (const name of HARD_NAMES) {
      const hard = shippedScenario('mixed-season', {
        airplanes: { 'reference four-seater': { gear: 'tail' } },
        setups: {
          [name]: {
            mainTire: 'soft 29',
            mainPressure: '9 psi',
            thirdTire: 'nose 8.50-6',
            thirdPressure: '18 psi',
          },
        },
        surfaces: { [name]: { like: 'gravel', source: 'test' } },
        strips: { [name]: { like: 'valley gravel', rollout: name, source: 'test' } },
        mixes: { [name]: { [name]: '60 %', 'home pavement': '40 %' } },
      });
      const told = replay(hard, { trial: 0, setup: name, mix: name });
      const svg = await expectSoundChart(trialStoryChart(hard, told));
      expect(shownText(svg)).toContain('tail');
    }
  });

  test('is refused with a scenario that lacks its set-up', () => {
    expect(() => trialStoryChart(quietScenario(), story)).toThrow(UsageError);
  });
});

describe('the ends of a story', () => {
  const month = { month: 'July', landings: '40', flightHours: '20 h', temperature: '15 degC' };
  const only = { trial: 0, setup: 'only', mix: 'only' };
  const thin = { tires: { plain: { newTread: '0.1 mm' } }, season: { months: [month] } };
  const still = { assumptions: { abradability: fixed('0 mm3/J') }, season: { months: [month] } };

  test.each([
    ['worn to the tread limit', thin],
    ['worn to the cords', { ...thin, habits: { removeAt: 'cords' } }],
    ['a stone goes through', { ...still, surfaces: { plain: { sharpStones: fixed('20 /m2') } } }],
    ['a pinch on the rim flattens', { ...still, surfaces: { plain: { rockEdges: fixed('1 /m') } } }],
    [
      'an inspection finds',
      {
        ...still,
        tires: { plain: { carcass: '20 mm' } },
        surfaces: { plain: { sharpStones: fixed('20 /m2') } },
        habits: { inspectEvery: '1 day' },
      },
    ],
    ['is too old', { ...still, habits: { ageLimit: '1 year' }, run: { horizon: '3 years' } }],
    ['both main tires last through', { ...still, run: { horizon: '1 year' } }],
  ])('are told: %s', async (words, changes) => {
    const made = quietScenario(changes);
    const story = replay(made, only);
    expect(titleOf(made, story)).toContain(words);
    await expectSoundChart(trialStoryChart(made, story));
  });

  test('with no event at all, say so', async () => {
    const made = quietScenario({ ...still, run: { horizon: '1 year' } });
    const spec = trialStoryChart(made, replay(made, only));
    expect(shownText(await expectSoundChart(spec))).toContain('no event');
    expect(spec.description).toContain('no cut, no flat, no leak');
  });

  test('of thousands of landings and events stay few enough to draw, none of them lost', async () => {
    const wild = shippedScenario('mixed-season', {
      surfaces: { 'sharp rock': { sharpStones: fixed('1 /m2'), rockEdges: fixed('0.02 /m') } },
      assumptions: {
        slowLeaks: fixed('20 /year'),
        ledgeTorque: fixed('100 N m'),
        beadFriction: fixed('0.1'),
      },
      habits: { peakBraking: fixed('40 %'), replace: 'single' },
      season: { months: [{ ...month, landings: '2500' }] },
    });
    const story = replay(wild, { trial: 0, setup: 'soft 29 at 9 psi', mix: 'sharp rock' });
    const spec = trialStoryChart(wild, story);
    await expectSoundChart(spec);
    const events = storyEvents(story, false).filter(({ firstLanding }) => firstLanding <= 2500);
    expect(events.length).toBeGreaterThan(1000);
    expect(spec.title.subtitle.join(' ')).toContain(
      `${events.length.toLocaleString('en-US')} events are joined into`,
    );
    const marks = chartRows(spec).filter((row) => 'offsetPx' in row);
    const counts = marks.map(({ when }) => Number(/^(\d+) times/.exec(String(when))?.[1] ?? 1));
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(events.length);
  });
});
