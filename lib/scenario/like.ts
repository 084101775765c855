import { pathText, valueText, type Problem } from '../problems.js';
import { isNull, type Located, type LocatedObject } from './located.js';
import { nearestName } from '../units.js';
import { overlay } from './overlay.js';

/** Longest chain of entries that are "like" one another. */
const MAX_LIKE_CHAIN = 16;

/** Problems that get a suggestion; with thousands of wrong names the search would take too long. */
const MAX_SUGGESTIONS = 20;

/** The "like" of an entry, if it has one. */
export function likeOf(entry: Located): Located | undefined {
  if (entry.kind !== 'object') return undefined;
  const like = entry.members.get('like');
  return like === undefined || isNull(like) ? undefined : like;
}

/** Entry names with the name each is like; links that lead nowhere are told as problems. */
function readLinks(sectionName: string, section: LocatedObject, problems: Problem[]): Map<string, string> {
  const links = new Map<string, string>();
  const names = [...section.members].filter(([, entry]) => !isNull(entry)).map(([name]) => name);
  const known = new Set(names);
  for (const [name, entry] of section.members) {
    const like = likeOf(entry);
    if (like === undefined) continue;
    const target = like.kind === 'scalar' && typeof like.value === 'string' ? like.value : undefined;
    if (target === name) {
      const suggestion =
        'leave "like" out: an entry of the same name in a lower layer is changed, not replaced';
      problems.push(likeProblem(sectionName, name, like, 'expected the name of another entry', suggestion));
    } else if (target === undefined || !known.has(target)) {
      const search = target !== undefined && problems.length < MAX_SUGGESTIONS;
      const nearest = search
        ? nearestName(
            target,
            names.filter((other) => other !== name),
          )
        : null;
      const suggestion = nearest === null ? undefined : `did you mean ${JSON.stringify(nearest)}?`;
      const allowed = `expected the name of an entry of "${sectionName}"`;
      problems.push(likeProblem(sectionName, name, like, allowed, suggestion));
    } else {
      links.set(name, target);
    }
  }
  return links;
}

function likeProblem(
  section: string,
  entry: string,
  like: Located,
  allowed: string,
  suggestion?: string,
): Problem {
  const { fileName: file, line, column } = like.file.placeOf(like.offset);
  const found = like.kind === 'scalar' ? valueText(like.value) : `a JSON ${like.kind}`;
  const problem = { file, line, column, path: pathText([section, entry, 'like']), found, allowed };
  return suggestion === undefined ? problem : { ...problem, suggestion };
}

/** Tells circles (once each) and chains that are too long. */
function checkChains(
  sectionName: string,
  section: LocatedObject,
  links: ReadonlyMap<string, string>,
  problems: Problem[],
): void {
  const told = new Set<string>();
  for (const start of links.keys()) {
    if (told.has(start)) continue;
    const trail = [start];
    let next = links.get(start);
    while (next !== undefined && trail.length <= MAX_LIKE_CHAIN && !trail.includes(next)) {
      trail.push(next);
      next = links.get(next);
    }
    if (next === undefined) continue;
    const like = likeOf(section.members.get(start)!)!;
    if (next === start) {
      for (const name of trail) told.add(name);
      const circle = [...trail, start].map((name) => JSON.stringify(name)).join(' is like ');
      problems.push(
        likeProblem(sectionName, start, like, `entries may not be like one another in a circle: ${circle}`),
      );
    } else if (trail.length > MAX_LIKE_CHAIN) {
      const allowed = `expected a chain of at most ${MAX_LIKE_CHAIN} entries that are like one another`;
      problems.push(likeProblem(sectionName, start, like, allowed));
    }
    // Else the chain runs into a circle further on, told where the circle is.
  }
}

/**
 * Follows the "like" of all entries of a section: each starts as a copy of the entry it is like, with its own keys
 * laid over it.
 *
 * @param sectionName key of the section, for messages.
 * @param section the merged section.
 * @param problems unknown names, circles and long chains are added here.
 * @returns the section without any "like"; as it was when there are problems.
 */
export function resolveLikes(
  sectionName: string,
  section: LocatedObject,
  problems: Problem[],
): LocatedObject {
  const before = problems.length;
  const links = readLinks(sectionName, section, problems);
  checkChains(sectionName, section, links, problems);
  if (problems.length > before) return section;

  const done = new Map<string, Located>();
  function resolve(name: string): Located {
    const known = done.get(name);
    if (known !== undefined) return known;
    const entry = section.members.get(name)!;
    const target = links.get(name);
    let resolved = entry;
    if (entry.kind === 'object' && target !== undefined) {
      const own = new Map(entry.members);
      own.delete('like');
      resolved = overlay(resolve(target), { ...entry, members: own });
    }
    done.set(name, resolved);
    return resolved;
  }
  const members = new Map<string, Located>();
  for (const name of section.members.keys()) members.set(name, resolve(name));
  return { ...section, members };
}
