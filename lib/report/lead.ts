import { longestLasting, medianHours } from '../chart/pairing-rows.js';
import type { MixComparison } from '../decide/compare.js';
import type { PairingSummary } from '../estimate/summary.js';

/** Who lasts longest on a mix, and whether the run can tell. */
export interface Lead {
  readonly mix: string;
  /** All pairings of the mix, the longest life first. */
  readonly ranked: readonly PairingSummary[];
  readonly leader: PairingSummary;
  /** Others that last as long as the leader, as far as the run can tell or as far as it matters. */
  readonly level: readonly PairingSummary[];
  /** The next that is told apart; null if there is none. */
  readonly next: PairingSummary | null;
  /** The set-ups compared on common landings; null if they were not. */
  readonly comparison: MixComparison | null;
}

/**
 * Ranks the set-ups of every mix by their median life.
 *
 * Without a comparison on common landings, two medians are told apart where their Monte Carlo 95 % intervals do not
 * overlap: what then counts as told apart is.
 *
 * @param pairings of a result.
 * @param comparisons of the same set-ups on common landings, as far as they were made.
 * @returns one entry per mix, in the order of the run.
 */
export function leads(
  pairings: readonly PairingSummary[],
  comparisons: readonly MixComparison[] = [],
): Lead[] {
  const mixes = [...new Set(pairings.map(({ mix }) => mix))];
  return mixes.map((mix) => {
    const ranked = pairings.filter((pairing) => pairing.mix === mix).sort(byLife);
    const [leader, ...others] = ranked as [PairingSummary, ...PairingSummary[]];
    const comparison = comparisons.find((each) => each.mix === mix) ?? null;
    const best = namesOfBest(ranked, comparison);
    return {
      mix,
      ranked,
      leader,
      level: others.filter(({ setup }) => best.has(setup)),
      next: others.find(({ setup }) => !best.has(setup)) ?? null,
      comparison,
    };
  });
}

/** Set-ups that nothing is known to outlast: by their differences on common landings where those were looked at. */
function namesOfBest(ranked: readonly PairingSummary[], comparison: MixComparison | null): Set<string> {
  const life = comparison?.best.life;
  if (life?.priced !== true) return new Set(longestLasting(ranked).map(({ setup }) => setup));
  const { best, equal, open } = life.verdict;
  return new Set([best, ...equal, ...open]);
}

/** Longest median first, one beyond the horizon before all; of two such, the one that more rarely ends early. */
function byLife(a: PairingSummary, b: PairingSummary): number {
  return (
    descending(medianHours(a), medianHours(b)) ||
    descending(a.life.hours.p10 ?? Infinity, b.life.hours.p10 ?? Infinity) ||
    descending(a.life.hours.mean, b.life.hours.mean)
  );
}

/** Infinity less itself is not a number. */
function descending(a: number, b: number): number {
  return a < b ? 1 : a > b ? -1 : 0;
}
