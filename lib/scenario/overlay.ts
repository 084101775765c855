import type { Located, LocatedObject } from './located.js';

/**
 * True for an assumption object (one that states a value or a distribution). It replaces what it overrides as a whole:
 * the p10 of one distribution means nothing in another, and its source speaks of its own numbers.
 */
function statesAssumption(object: LocatedObject): boolean {
  return ['value', 'distribution'].some((key) => {
    const stated = object.members.get(key);
    // An entry that happens to be named "value" is an object, not an assumption.
    return stated !== undefined && stated.kind !== 'object';
  });
}

/** Lays the members of one object over those of another, with a rule for keys that both have. */
export function overlayMembers(
  below: LocatedObject,
  above: LocatedObject,
  merge: (low: Located, high: Located, key: string) => Located,
): LocatedObject {
  const members = new Map(below.members);
  for (const [key, high] of above.members) {
    const low = members.get(key);
    members.set(key, low === undefined ? high : merge(low, high, key));
  }
  return { ...above, members };
}

/**
 * Lays one value over another: objects key by key, anything else and assumptions as a whole. Nulls are kept, they
 * are taken out when all is laid.
 */
export function overlay(below: Located, above: Located): Located {
  if (below.kind !== 'object' || above.kind !== 'object' || statesAssumption(above)) return above;
  return overlayMembers(below, above, overlay);
}
