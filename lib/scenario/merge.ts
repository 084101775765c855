import { ScenarioError, type Problem } from '../problems.js';
import type { JsonSource } from './json-source.js';
import { likeOf, resolveLikes } from './like.js';
import {
  placeAt,
  plainObject,
  type JsonObject,
  type Located,
  type LocatedObject,
  type Place,
} from './located.js';
import { overlay, overlayMembers } from './overlay.js';

/** A value whose parts know which file and place they came from. */
export interface PlacedValue {
  readonly value: unknown;
  /** Place of the value at a path; of its nearest ancestor that exists where it is missing. */
  originOf(path: readonly PropertyKey[]): Place;
  /** Place of the key at a path; of its nearest ancestor that exists where it is missing. */
  keyOriginOf(path: readonly PropertyKey[]): Place;
}

/** A scenario put together from its layers. */
export interface MergedScenario extends PlacedValue {
  readonly value: JsonObject;
}

function overlaySection(below: Located, above: Located): Located {
  if (below.kind !== 'object' || above.kind !== 'object') return above;
  // "like" is a fresh start: nothing of an entry of that name in a lower layer is left.
  return overlayMembers(below, above, (low, high) =>
    likeOf(high) === undefined ? overlay(low, high) : high,
  );
}

function overlayLayer(
  below: LocatedObject,
  above: LocatedObject,
  sections: ReadonlySet<string>,
): LocatedObject {
  return overlayMembers(below, above, (low, high, key) =>
    (sections.has(key) ? overlaySection : overlay)(low, high),
  );
}

/**
 * Puts a scenario together from layers, later ones over earlier ones (defaults first).
 *
 * - Objects are merged key by key; lists, text, numbers, true and false are replaced.
 * - An object that states a `value` or a `distribution` (an assumption) replaces the one below it as a whole.
 * - `null` as the value of a key removes it, with all it holds. (Nulls inside lists stay.)
 * - In the named sections an entry may have `"like": "other entry"`: it starts as a copy of that entry of the same
 *   section, as merged from all layers, and its own keys are laid over the copy by the rules above. It does not start
 *   from an entry of its own name in a lower layer.
 *
 * @param layers files in rising order, at least one.
 * @param namedSections keys of the root whose entries have names that users choose.
 * @returns the merged value, with the file and place each part came from: copied values point to where they were
 *   written, entries and merged objects to the last layer that states them.
 * @throws ScenarioError for unknown or circular "like" names, all of them at once.
 * @throws RangeError without any layer.
 */
export function mergeLayers(layers: readonly JsonSource[], namedSections: readonly string[]): MergedScenario {
  const sections = new Set(namedSections);
  const [first, ...rest] = layers;
  if (first === undefined) throw new RangeError('mergeLayers needs at least one layer');
  const merged = rest.reduce((below, layer) => overlayLayer(below, layer.root, sections), first.root);
  const problems: Problem[] = [];
  const members = new Map(merged.members);
  for (const name of sections) {
    const section = members.get(name);
    if (section?.kind === 'object') members.set(name, resolveLikes(name, section, problems));
  }
  if (problems.length > 0) throw new ScenarioError(problems);
  const root: LocatedObject = { ...merged, members };
  return {
    value: plainObject(root, true),
    originOf: (path) => placeAt(root, path, 'value'),
    keyOriginOf: (path) => placeAt(root, path, 'key'),
  };
}
