import { UsageError } from '../problems.js';
import { nearestName } from '../units.js';

/**
 * Index of a named entry of a compiled scenario.
 *
 * @param kind what the entries are, for the message.
 * @param name the name looked for.
 * @param entries the entries.
 * @throws UsageError for a name that does not exist, with the nearest one.
 */
export function indexOfName(
  kind: string,
  name: string,
  entries: readonly { readonly name: string }[],
): number {
  const index = entries.findIndex((entry) => entry.name === name);
  if (index >= 0) return index;
  const names = entries.map((entry) => entry.name);
  const nearest = nearestName(name, names);
  throw new UsageError(
    `there is no ${kind} named "${name}"; ${nearest === null ? `there are: ${names.join(', ')}` : `did you mean "${nearest}"?`}`,
  );
}
