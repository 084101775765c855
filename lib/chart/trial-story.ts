import { storyCourse, storyGround } from '../estimate/story-course.js';
import { joinEvents, storyEvents } from '../estimate/story-events.js';
import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { LOW_READING_SHARE } from '../simulate/counts.js';
import type { Story } from '../simulate/replay.js';
import { pressureLevels, treadLevels } from './levels.js';
import { makeChart, type ChartSpec } from './spec.js';
import { eventsPanel } from './trial-story-events.js';
import { gaugePanel, groundPanel, treadPanel } from './trial-story-panels.js';
import { storyEnd, storyWords } from './trial-story-words.js';

/** So many events are drawn one by one; more are joined. */
const MOST_EVENTS = 250;
/** Spans of landings on the ground panel. */
const MOST_SPANS = 60;

/**
 * Chart of one trial: tread and pressure of a main wheel, surfaces and events of all wheels on one time line of
 * landings and flight hours. The wheel is the one whose tire comes off first, or the left one.
 *
 * @param scenario the compiled scenario of the story.
 * @param story from `replay`.
 * @returns a Vega-Lite specification of four panels over the same landings.
 * @throws UsageError if the story is not one of this scenario.
 */
export function trialStoryChart(scenario: CompiledScenario, story: Story): ChartSpec {
  const setup = scenario.setups.find(({ name }) => name === story.setup);
  if (setup === undefined) {
    throw new UsageError(`the story is of set-up "${story.setup}", which this scenario does not have`);
  }
  const { habits, airplane } = scenario;
  const wheel = storyEnd(story)?.wheel.position ?? 'left main';
  const steps = storyCourse(story, wheel, habits.replacePairs);
  const last = steps[steps.length - 1]!.lastLanding;
  const scale = { last, wheel };
  const events = storyEvents(story, habits.replacePairs).filter(({ firstLanding }) => firstLanding <= last);
  const { newTreadM, undertreadM } = setup.main;
  const rubberM = newTreadM + undertreadM;
  const levels = treadLevels(
    undertreadM + habits.treadLimitM,
    habits.removeAtCords ? 'cords' : 'tread limit',
  );
  const drawn = joinEvents(events, MOST_EVENTS);
  return makeChart(storyWords(scenario, story, events, drawn.length), [], {
    spacing: 14,
    resolve: {
      scale: {
        color: 'independent',
        shape: 'independent',
        strokeDash: 'independent',
        opacity: 'independent',
      },
      legend: { color: 'independent', shape: 'independent', strokeDash: 'independent' },
    },
    vconcat: [
      treadPanel(steps, rubberM, levels, scale),
      gaugePanel(steps, pressureLevels(setup.mainPa, LOW_READING_SHARE * setup.mainPa), scale),
      groundPanel(storyGround(scenario, story, MOST_SPANS), last),
      eventsPanel(drawn, airplane.gear, last),
    ],
  });
}
