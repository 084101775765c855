import type { CompiledScenario } from '../scenario/compile.js';
import type { LandingRecord, Story, WheelRecord } from '../simulate/replay.js';
import { landingGroups } from './landing-groups.js';
import { isReplaced } from './story-events.js';

/** A main wheel. */
export type MainPosition = Exclude<WheelRecord['position'], 'third'>;

/** A few landings of one wheel that follow each other. */
export interface CourseStep {
  /** First and last landing, from 1. */
  readonly firstLanding: number;
  readonly lastLanding: number;
  /** Flight hours when the last is done. */
  readonly flightHours: number;
  /** Which tire is on the wheel, from 1; steps of more than one tire bear the number of the first. */
  readonly tire: number;
  /** Least rubber left above the cords in these landings, m: on the centre, and on the worse shoulder. */
  readonly centreLeftM: number;
  readonly shoulderLeftM: number;
  /** Gauge pressure at the strips in these landings, Pa. */
  readonly gaugePa: { readonly lowest: number; readonly mean: number; readonly highest: number };
  /** Tires were checked and set before one of these landings. */
  readonly checked: boolean;
}

/** Landings of a story on one kind of ground. */
export interface GroundSpan {
  readonly firstLanding: number;
  readonly lastLanding: number;
  /** Surface of the landing roll. */
  readonly surface: string;
  /** Share of the landings of the span on this surface. */
  readonly share: number;
}

const MOST_STEPS = 120;
/** With more tires than this, steps do not begin anew at each. */
const MOST_TIRES = 60;

/**
 * The landings of a story in which the main wheels are followed: to the end of the first season and of the first set.
 *
 * @param story from `replay`.
 */
export function mainLandings({ landings }: Story): readonly LandingRecord[] {
  const end = landings.findIndex(({ wheels }) => wheels.every(({ position }) => position === 'third'));
  return end < 0 ? landings : landings.slice(0, end);
}

/**
 * Tread and pressure of one main wheel through a story, landing by landing where there are few, else thinned so that no
 * low or high is lost.
 *
 * @param story from `replay`.
 * @param position which wheel.
 * @param replacePairs true where both main tires are changed together.
 * @returns steps in order.
 */
export function storyCourse(story: Story, position: MainPosition, replacePairs: boolean): CourseStep[] {
  const landings = mainLandings(story);
  const wheels = landings.map((landing) => landing.wheels.find((wheel) => wheel.position === position)!);
  const starts = landings.flatMap((landing, index) =>
    isReplaced(landing, wheels[index]!, replacePairs) ? [index + 1] : [],
  );
  const groups = landingGroups(landings.length, MOST_STEPS, starts.length > MOST_TIRES ? [] : starts);
  return groups.map(({ from, to }) => {
    const some = wheels.slice(from, to);
    const least = (value: (wheel: WheelRecord) => number): number =>
      some.reduce((low, wheel) => Math.min(low, value(wheel)), Infinity);
    return {
      firstLanding: landings[from]!.landing,
      lastLanding: landings[to - 1]!.landing,
      flightHours: landings[to - 1]!.flightHours,
      tire: 1 + starts.filter((start) => start <= from).length,
      centreLeftM: least(({ rubberLeftM }) => rubberLeftM.centre),
      shoulderLeftM: least(({ rubberLeftM }) =>
        Math.min(rubberLeftM.innerShoulder, rubberLeftM.outerShoulder),
      ),
      gaugePa: {
        lowest: least(({ gaugePa }) => gaugePa),
        mean: some.reduce((sum, { gaugePa }) => sum + gaugePa, 0) / some.length,
        highest: -least(({ gaugePa }) => -gaugePa),
      },
      checked: landings.slice(from, to).some(({ pressureChecked }) => pressureChecked),
    };
  });
}

/**
 * The surfaces of the landing roll through a story.
 *
 * @param scenario the compiled scenario of the story.
 * @param story from `replay`.
 * @param most spans of landings at most; each has an entry for every surface met in it.
 */
export function storyGround(scenario: CompiledScenario, story: Story, most: number): GroundSpan[] {
  const landings = mainLandings(story);
  const surfaceOf = new Map(
    scenario.strips.map(({ name, rollout }) => [name, scenario.surfaces[rollout]!.name]),
  );
  return landingGroups(landings.length, most).flatMap(({ from, to }) => {
    const counts = new Map<string, number>();
    for (const { strip } of landings.slice(from, to)) {
      const surface = surfaceOf.get(strip)!;
      counts.set(surface, (counts.get(surface) ?? 0) + 1);
    }
    return [...counts].map(([surface, count]) => ({
      firstLanding: landings[from]!.landing,
      lastLanding: landings[to - 1]!.landing,
      surface,
      share: count / (to - from),
    }));
  });
}
