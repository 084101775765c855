import type { RemovalCause } from '../simulate/columns.js';
import type { LandingRecord, Story, WheelRecord } from '../simulate/replay.js';

/** What can happen to a wheel in a story. A tire comes off for a cause of removal. */
export type StoryEventKind =
  'cut' | 'bead slip' | 'leak begins' | 'leak found' | `off: ${Exclude<RemovalCause, 'in service'>}`;

/** Something that happened to one wheel, or the same thing several times within a few landings. */
export interface StoryEvent {
  readonly kind: StoryEventKind;
  readonly wheel: WheelRecord['position'];
  readonly count: number;
  /** First and last landing in which it happened, from 1. */
  readonly firstLanding: number;
  readonly lastLanding: number;
  /** Flight hours when the first of them is done. */
  readonly flightHours: number;
  /** Strip of the first. */
  readonly strip: string;
}

/** What is remembered of a wheel from one landing to the next. */
interface Before {
  cutPending: boolean;
  leaking: boolean;
}

const NEW_TIRE: Readonly<Before> = { cutPending: false, leaking: false };

/**
 * What happened in a story, wheel by wheel: cuts into the carcass, bead slips, slow leaks that begin and are found, and
 * tires that come off. A leak that is found before its first landing is not seen.
 *
 * @param story from `replay`.
 * @param replacePairs true where both main tires are changed together.
 * @returns events in order.
 */
export function storyEvents(story: Story, replacePairs: boolean): StoryEvent[] {
  const before = new Map<WheelRecord['position'], Before>();
  return story.landings.flatMap((landing) => {
    const events = landing.wheels.flatMap((wheel) =>
      eventsOf(wheel, before.get(wheel.position) ?? NEW_TIRE).map((kind) => eventIn(landing, wheel, kind)),
    );
    for (const wheel of landing.wheels) {
      const { position, cutPending, leaking } = wheel;
      before.set(position, isReplaced(landing, wheel, replacePairs) ? NEW_TIRE : { cutPending, leaking });
    }
    return events;
  });
}

/**
 * True if a wheel gets a new tire after a landing: its own came off, or that of its mate and both are changed.
 *
 * @param landing the landing.
 * @param wheel one of its wheels.
 * @param replacePairs true where both main tires are changed together.
 */
export function isReplaced(landing: LandingRecord, wheel: WheelRecord, replacePairs: boolean): boolean {
  if (wheel.removed !== null) return true;
  return (
    replacePairs &&
    wheel.position !== 'third' &&
    landing.wheels.some(({ position, removed }) => position !== 'third' && removed !== null)
  );
}

function eventsOf(wheel: WheelRecord, before: Before): StoryEventKind[] {
  const kinds: StoryEventKind[] = [];
  if (!before.leaking && wheel.leaking) kinds.push('leak begins');
  if (before.leaking && !wheel.leaking) kinds.push('leak found');
  if (wheel.beadSlipped) kinds.push('bead slip');
  if (!before.cutPending && wheel.cutPending) kinds.push('cut');
  if (wheel.removed !== null) kinds.push(`off: ${wheel.removed}`);
  return kinds;
}

function eventIn(landing: LandingRecord, wheel: WheelRecord, kind: StoryEventKind): StoryEvent {
  return {
    kind,
    wheel: wheel.position,
    count: 1,
    firstLanding: landing.landing,
    lastLanding: landing.landing,
    flightHours: landing.flightHours,
    strip: landing.strip,
  };
}

/**
 * Joins events of the same kind on the same wheel that lie close together, until there are few enough to draw.
 *
 * @param events in order, as from `storyEvents`.
 * @param most how many at most; with fewer than one for each kind and wheel, that many remain.
 * @returns events in order of their first landing; none is lost, they are counted.
 */
export function joinEvents(events: readonly StoryEvent[], most: number): readonly StoryEvent[] {
  const last = events[events.length - 1]?.lastLanding ?? 0;
  let joined = events;
  for (let span = 2; joined.length > most && span < 2 * last; span *= 2) joined = joinWithin(events, span);
  return joined;
}

function joinWithin(events: readonly StoryEvent[], span: number): StoryEvent[] {
  const found = new Map<string, StoryEvent>();
  for (const event of events) {
    const key = `${event.kind} ${event.wheel} ${Math.floor(event.firstLanding / span)}`;
    const first = found.get(key);
    found.set(
      key,
      first === undefined
        ? event
        : { ...first, count: first.count + event.count, lastLanding: event.lastLanding },
    );
  }
  return [...found.values()];
}
