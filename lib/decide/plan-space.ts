/** Which plans there are: a gear set for each stretch of the season between months that allow a change. */
import type { FlownMonth } from '../scenario/compile-fleet.js';
import type { GearPlan, PlanLeg } from '../simulate/plan-run.js';

/** Months of the season, by index, that always have the same gear set; the year repeats. */
export type Stretch = readonly number[];

/**
 * Stretches of the season between months that allow a change.
 *
 * @param months months flown, in order.
 * @returns at least one stretch; months before the first change belong to the last stretch, as the year repeats.
 */
export function stretchesOf(months: readonly FlownMonth[]): Stretch[] {
  const starts = months.flatMap(({ mayChange }, index) => (mayChange ? [index] : []));
  if (starts.length === 0) return [months.map((_, index) => index)];
  const stretches = starts.map((start, index) => {
    const end = starts[index + 1] ?? months.length;
    return Array.from({ length: end - start }, (_, k) => start + k);
  });
  const before = Array.from({ length: starts[0]! }, (_, index) => index);
  stretches[stretches.length - 1]!.unshift(...before);
  return stretches;
}

/** A gear set for each stretch: index into the gear sets of the airplane. */
export type Choice = readonly number[];

/**
 * Changes of the gear set in a year that repeats: a set that comes off must go on again.
 *
 * @param choice a gear set for each stretch.
 */
export function changesOf(choice: Choice): number {
  return choice.reduce(
    (changes, set, index) => changes + (set === choice[(index + choice.length - 1) % choice.length] ? 0 : 1),
    0,
  );
}

/**
 * Number of choices, whatever their changes.
 *
 * @param sets number of gear sets.
 * @param stretches number of stretches.
 */
export function countChoices(sets: number, stretches: number): number {
  return Math.pow(sets, stretches);
}

/**
 * All choices with at most so many changes, in the order of counting.
 *
 * @param sets number of gear sets, at least 1.
 * @param stretches number of stretches, at least 1.
 * @param mostChanges most changes in a year.
 */
export function allChoices(sets: number, stretches: number, mostChanges: number): number[][] {
  const found: number[][] = [];
  const choice = new Array<number>(stretches).fill(0);
  const fill = (index: number): void => {
    if (index === stretches) {
      if (changesOf(choice) <= mostChanges) found.push([...choice]);
      return;
    }
    for (let set = 0; set < sets; set++) {
      choice[index] = set;
      fill(index + 1);
    }
  };
  fill(0);
  return found;
}

/**
 * The cheapest choices when money adds up stretch by stretch: the exact best of all of them, by dynamic programming
 * that keeps the best few ways to reach each state (first set, set now, changes so far).
 *
 * @param price money of each gear set in each stretch: `price[set][stretch]`.
 * @param changePrice money of one change.
 * @param mostChanges most changes in a year.
 * @param wanted how many choices.
 * @returns the cheapest choices, cheapest first; fewer if there are fewer.
 * Source: dynamic programming over stages with lists of the K best (Lawler's generalisation of Bellman's recursion,
 * from memory); checked against all choices.
 */
export function cheapestChoices(
  price: readonly (readonly number[])[],
  changePrice: number,
  mostChanges: number,
  wanted: number,
): { readonly choice: Choice; readonly price: number }[] {
  const sets = price.length;
  const stretches = price[0]?.length ?? 0;
  const done: Way[] = [];
  for (let first = 0; first < sets; first++) {
    let states = new Map<string, Way[]>();
    keep(states, { choice: [first], price: price[first]![0]!, changes: 0 }, wanted);
    for (let stretch = 1; stretch < stretches; stretch++) {
      const next = new Map<string, Way[]>();
      for (const ways of states.values()) {
        for (const way of ways) {
          for (let set = 0; set < sets; set++) {
            const changed = set === way.choice[stretch - 1] ? 0 : 1;
            const changes = way.changes + changed;
            if (changes > mostChanges) continue;
            const sum = way.price + price[set]![stretch]! + changed * changePrice;
            keep(next, { choice: [...way.choice, set], price: sum, changes }, wanted);
          }
        }
      }
      states = next;
    }
    for (const ways of states.values()) {
      for (const way of ways) {
        const back = way.choice[stretches - 1] === first ? 0 : 1;
        if (way.changes + back > mostChanges) continue;
        done.push({ ...way, price: way.price + back * changePrice, changes: way.changes + back });
      }
    }
  }
  return done
    .sort(cheaper)
    .slice(0, wanted)
    .map(({ choice, price: sum }) => ({ choice, price: sum }));
}

interface Way {
  readonly choice: readonly number[];
  readonly price: number;
  readonly changes: number;
}

/** Ties go by the order of counting, so that the answer does not depend on how the search went. */
function cheaper(a: Way, b: Way): number {
  if (a.price !== b.price) return a.price - b.price;
  const at = a.choice.findIndex((set, index) => set !== b.choice[index]);
  return at < 0 ? 0 : a.choice[at]! - b.choice[at]!;
}

function keep(states: Map<string, Way[]>, way: Way, wanted: number): void {
  const key = `${way.choice[way.choice.length - 1]!} ${way.changes}`;
  const ways = states.get(key) ?? [];
  ways.push(way);
  ways.sort(cheaper);
  if (ways.length > wanted) ways.pop();
  states.set(key, ways);
}

/**
 * The legs of a choice.
 *
 * @param choice a gear set for each stretch.
 * @param stretches from {@link stretchesOf}.
 * @param months months flown.
 * @param setups index of the set-up of each gear set.
 */
export function legsOf(
  choice: Choice,
  stretches: readonly Stretch[],
  months: readonly FlownMonth[],
  setups: readonly number[],
): GearPlan {
  const setOfMonth = setsByMonth(choice, stretches, months.length);
  const legs: PlanLeg[] = [];
  months.forEach(({ firstLanding }, index) => {
    const setup = setups[setOfMonth[index]!]!;
    if (legs.length === 0 || legs[legs.length - 1]!.setup !== setup) legs.push({ setup, firstLanding });
  });
  return legs;
}

/** Gear set of each month of a choice. */
export function setsByMonth(choice: Choice, stretches: readonly Stretch[], months: number): number[] {
  const sets = new Array<number>(months).fill(0);
  stretches.forEach((stretch, index) => {
    for (const month of stretch) sets[month] = choice[index]!;
  });
  return sets;
}
