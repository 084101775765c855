import type { StoryEvent } from '../estimate/story-events.js';
import { mainLandings, type MainPosition } from '../estimate/story-course.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { LandingRecord, Story, WheelRecord } from '../simulate/replay.js';
import { version } from '../version.js';
import { amountText } from './figures.js';
import { shortName } from './labels.js';
import { counted } from './measures.js';
import type { ChartWords } from './spec.js';
import { CHART_CAUTION } from './words.js';

/** How the first set of main tires ended: the landing, and the wheel whose tire came off first. */
export interface StoryEnd {
  readonly landing: LandingRecord;
  readonly wheel: WheelRecord & { readonly position: MainPosition };
}

/**
 * The end of the first set of main tires.
 *
 * @param story from `replay`.
 * @returns null if both tires lasted.
 */
export function storyEnd(story: Story): StoryEnd | null {
  for (const landing of story.landings) {
    // Left before right, as the columns of a run have it.
    const wheel = landing.wheels.find(({ position, removed }) => position !== 'third' && removed !== null);
    if (wheel !== undefined) return { landing, wheel: wheel as StoryEnd['wheel'] };
  }
  return null;
}

/**
 * Title, subtitle and description of a story.
 *
 * @param scenario the compiled scenario of the story.
 * @param story from `replay`.
 * @param events what happened while the main wheels were followed.
 * @param drawn number of marks that they are drawn with.
 */
export function storyWords(
  scenario: CompiledScenario,
  story: Story,
  events: readonly StoryEvent[],
  drawn: number,
): ChartWords {
  const landings = mainLandings(story);
  const last = landings[landings.length - 1]!;
  const pairing = `${shortName(story.setup)} on ${shortName(story.mix)}`;
  const joined =
    drawn < events.length
      ? ` ${counted(events.length, 'event')} are joined into ${counted(drawn, 'mark')}, by kind and wheel.`
      : '';
  const end = storyEnd(story);
  const sentence =
    end === null
      ? `both main tires last through ${counted(landings.length, 'landing')} (${amountText(last.flightHours)} h)`
      : endSentence(scenario, end);
  return {
    title: `Trial ${story.trial}: ${sentence}`,
    subtitle: [
      `${pairing}: one course of many possible, not a forecast. 1 trial, seed ${story.seed}, number ${story.trial}, gravelbar ${version()}.`,
      `Grey: surfaces of the landing roll, the darker the more landings.${joined}`,
      CHART_CAUTION,
    ],
    description:
      `Trial ${story.trial} of ${pairing}, landing by landing: ${sentence}. ` +
      `Shown to landing ${last.landing.toLocaleString('en-US')} (${amountText(last.flightHours)} h), as far as the main wheels are followed. ` +
      eventsSentence(events, scenario.airplane.gear),
  };
}

function endSentence(scenario: CompiledScenario, { landing, wheel }: StoryEnd): string {
  const side = wheel.position.replace(' main', '');
  const where = `at landing ${landing.landing.toLocaleString('en-US')} (${amountText(landing.flightHours)} h), at ${shortName(landing.strip)}`;
  switch (wheel.removed) {
    case 'puncture':
      return `a stone goes through the ${side} tire ${where}`;
    case 'pressure':
      return `${wheel.beadSlipped ? 'a pinch or a torn valve' : 'a pinch on the rim'} flattens the ${side} tire ${where}`;
    case 'cut':
      return `an inspection finds the ${side} tire cut into the carcass ${where}`;
    case 'age':
      return `the ${side} tire is too old ${where}`;
    default:
      return `the ${side} tire is worn to the ${scenario.habits.removeAtCords ? 'cords' : 'tread limit'} ${where}`;
  }
}

function eventsSentence(events: readonly StoryEvent[], third: string): string {
  if (events.length === 0) return 'Nothing else happens: no cut, no flat, no leak.';
  const counts = new Map<string, number>();
  for (const { kind, count } of events) counts.set(kind, (counts.get(kind) ?? 0) + count);
  const list = [...counts].map(([kind, count]) => `${kind} ${counted(count, 'time')}`).join(', ');
  return `Events on the main wheels and the ${third} wheel: ${list}.`;
}
