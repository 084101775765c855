import type { SetupLimits } from '../decide/limit-types.js';
import { ratingSource } from '../decide/rating-rules.js';
import { listText } from './lists.js';

/**
 * Where limits and their formulas come from: a line for each source, led by the checks that rest on it, and one line for
 * the ratings of all tires.
 *
 * @param setups limits of set-ups; what several of them share is told once.
 */
export function limitSources(setups: readonly SetupLimits[]): string[] {
  const tires = [...new Set(setups.flatMap(({ mainTire, thirdTire }) => [mainTire, thirdTire]))];
  const checksOf = new Map<string, Set<string>>();
  const rated = new Set<string>();
  for (const { code, source } of setups.flatMap(({ checks }) => checks)) {
    const tire = tires.find(
      (name) => source === ratingSource(name) || source.startsWith(`${ratingSource(name)}; `),
    );
    if (tire !== undefined) rated.add(tire);
    const rest = tire === undefined ? source : source.slice(`${ratingSource(tire)}; `.length);
    if (rest !== '') checksOf.set(rest, (checksOf.get(rest) ?? new Set()).add(code));
  }
  const ratings = rated.size === 0 ? [] : [`- ratings of ${listText([...rated])}: from the scenario`];
  return [...ratings, ...[...checksOf].map(([source, codes]) => `- ${[...codes].join('; ')}: ${source}`)];
}
