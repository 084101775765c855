import { describe, expect, test } from 'vitest';
import { mainLandings, storyCourse, storyGround } from '../../dist/estimate/story-course.js';
import { joinEvents, storyEvents, type StoryEvent } from '../../dist/estimate/story-events.js';
import { REMOVAL_CAUSES } from '../../dist/simulate/columns.js';
import { replay } from '../../dist/simulate/replay.js';
import { Simulator } from '../../dist/simulate/trials.js';
import { fixed, shippedScenario } from '../support/scenarios.js';

/** Rough ground, weak beads and leaky valves: all that can happen does. */
const scenario = shippedScenario('mixed-season', {
  surfaces: { 'sharp rock': { sharpStones: fixed('0.3 /m2'), rockEdges: fixed('0.003 /m') } },
  assumptions: { slowLeaks: fixed('8 /year'), ledgeTorque: fixed('100 N m'), beadFriction: fixed('0.1') },
  habits: { peakBraking: fixed('40 %') },
});
const pairing = { setup: 'soft 29 at 9 psi', mix: 'sharp rock' };
const TRIALS = 6;
const stories = Array.from({ length: TRIALS }, (_, trial) => replay(scenario, { trial, ...pairing }));
const [table] = new Simulator(scenario, [{ setup: 0, mix: 2 }]).runRange({
  firstTrial: 0,
  trials: TRIALS,
  step: 1,
  luck: 0,
});
const SEASON = 240;

function countOf(events: readonly StoryEvent[], ...kinds: StoryEvent['kind'][]): number {
  return events.filter(({ kind }) => kinds.includes(kind)).reduce((sum, { count }) => sum + count, 0);
}

describe('events of a story', () => {
  test('in the season are those that the run counts', () => {
    let leaks = 0;
    stories.forEach((story, trial) => {
      const events = storyEvents(story, true).filter(({ firstLanding }) => firstLanding <= SEASON);
      const { columns } = table!;
      const mains = events.filter(({ wheel }) => wheel !== 'third');
      expect(countOf(events, 'off: puncture', 'off: pressure')).toBe(columns.flats[trial]);
      expect(countOf(events, 'bead slip')).toBe(columns.beadSlips[trial]);
      expect(countOf(mains, 'off: worn')).toBe(columns.mainsWorn[trial]);
      expect(countOf(mains, 'off: cut')).toBe(columns.mainsCut[trial]);
      // A leak that begins beside another, or is found before its first landing, is not seen.
      expect(countOf(events, 'leak begins')).toBeLessThanOrEqual(columns.leaks[trial]!);
      leaks += countOf(events, 'leak found');
    });
    expect(leaks).toBeGreaterThan(0);
  });

  test('tell when and where', () => {
    const events = stories.flatMap((story) => storyEvents(story, true));
    expect(new Set(events.map(({ kind }) => kind)).size).toBeGreaterThan(5);
    const story = stories[0]!;
    for (const { firstLanding, lastLanding, flightHours, strip, kind, wheel } of storyEvents(story, true)) {
      const landing = story.landings[firstLanding - 1]!;
      expect(lastLanding).toBe(firstLanding);
      expect(landing).toMatchObject({ flightHours, strip });
      const record = landing.wheels.find(({ position }) => position === wheel)!;
      if (kind.startsWith('off: ')) expect(`off: ${record.removed ?? ''}`).toBe(kind);
      if (kind === 'cut') expect(record.cutPending).toBe(true);
      if (kind === 'leak begins') expect(record.leaking).toBe(true);
      if (kind === 'leak found') expect(record.leaking).toBe(false);
    }
    expect(REMOVAL_CAUSES).toContain('puncture');
  });

  test('are joined by kind and wheel until they are few, and none is lost', () => {
    const events = storyEvents(stories[1]!, true);
    expect(joinEvents(events, events.length)).toBe(events);
    const joined = joinEvents(events, 60);
    expect(joined.length).toBeLessThanOrEqual(60);
    for (const kind of new Set(events.map((event) => event.kind))) {
      expect(countOf(joined, kind)).toBe(countOf(events, kind));
    }
    for (const { count, firstLanding, lastLanding } of joined) {
      expect(lastLanding - firstLanding).toBeGreaterThanOrEqual(count > 1 ? 1 : 0);
    }
    const kindsAndWheels = new Set(events.map(({ kind, wheel }) => `${kind} ${wheel}`)).size;
    expect(joinEvents(events, 1).length).toBe(kindsAndWheels);
  });
});

describe('the course of a wheel', () => {
  test.each(['left main', 'right main'] as const)('loses no low, no high and no tire: %s', (position) => {
    for (const story of stories) {
      const landings = mainLandings(story);
      const steps = storyCourse(story, position, true);
      expect(steps[0]!.firstLanding).toBe(1);
      expect(steps.at(-1)!.lastLanding).toBe(landings.length);
      steps.forEach((step, index) => {
        if (index > 0) expect(step.firstLanding).toBe(steps[index - 1]!.lastLanding + 1);
        const wheels = landings
          .slice(step.firstLanding - 1, step.lastLanding)
          .map(({ wheels: all }) => all.find((wheel) => wheel.position === position)!);
        expect(step.gaugePa.lowest).toBe(Math.min(...wheels.map(({ gaugePa }) => gaugePa)));
        expect(step.gaugePa.highest).toBe(Math.max(...wheels.map(({ gaugePa }) => gaugePa)));
        expect(step.centreLeftM).toBe(Math.min(...wheels.map(({ rubberLeftM }) => rubberLeftM.centre)));
        // A tire that comes off does so at the end of a step.
        expect(wheels.slice(0, -1).every(({ removed }) => removed === null)).toBe(true);
      });
      const removals = landings.filter(({ wheels }) =>
        wheels.some((wheel) => wheel.position !== 'third' && wheel.removed !== null),
      );
      const renewed = removals.filter(({ landing }) => landing < landings.length).length;
      expect(steps.at(-1)!.tire).toBe(1 + renewed);
    }
  });

  test('follows one tire where the other is changed alone', () => {
    const single = shippedScenario('mixed-season', { habits: { replace: 'single' } });
    const story = replay(single, { trial: 0, setup: 'faired 6.00-6', mix: 'sharp rock' });
    const off = storyEvents(story, false).filter(
      ({ kind, wheel, firstLanding }) =>
        wheel === 'right main' && kind.startsWith('off') && firstLanding < mainLandings(story).length,
    );
    expect(storyCourse(story, 'right main', false).at(-1)!.tire).toBe(1 + off.length);
  });
});

test('the ground of a story has every landing once, by the surface of its roll', () => {
  const story = stories[0]!;
  const landings = mainLandings(story);
  const spans = storyGround(scenario, story, 20);
  const count = (surface: string): number =>
    spans
      .filter((span) => span.surface === surface)
      .reduce(
        (sum, { firstLanding, lastLanding, share }) => sum + share * (lastLanding - firstLanding + 1),
        0,
      );
  const at = (strip: string): number => landings.filter((landing) => landing.strip === strip).length;
  expect(count('sharp rock')).toBeCloseTo(at('ridge rock'), 9);
  expect(count('gravel')).toBeCloseTo(at('valley gravel'), 9);
  expect(count('paved')).toBeCloseTo(at('home pavement'), 9);
});
