import type { BestSetup, SetupStanding } from '../decide/best-types.js';
import type { MixComparison } from '../decide/compare.js';
import { CRITERIA, type Criterion, type NotPriced } from '../decide/criteria.js';
import { listText } from './lists.js';

/** What a criterion asks, and what the best by it is. */
export const CRITERION_WORDS: Readonly<
  Record<Criterion, { readonly title: string; readonly best: string; readonly figure: readonly string[] }>
> = {
  life: { title: 'main tire life', best: 'lasts longest', figure: ['mean life'] },
  flats: { title: 'flats', best: 'has the fewest flats', figure: ['flats', 'a season'] },
  costPerHour: { title: 'money', best: 'is cheapest', figure: ['a flight', 'hour'] },
  daysLost: { title: 'days lost', best: 'loses the fewest days', figure: ['days lost', 'a season'] },
};

/** The best set-up by a criterion, or what is missing; null if it was not asked for. */
export function bestBy({ best }: MixComparison, criterion: Criterion): BestSetup | NotPriced | null {
  return best[criterion] ?? null;
}

/** Criteria that were asked for, in the usual order. */
export function askedCriteria(comparisons: readonly MixComparison[]): Criterion[] {
  return CRITERIA.filter((criterion) => comparisons.some((each) => bestBy(each, criterion) !== null));
}

/** Set-ups by rank, the best first. */
export function byRank({ setups }: BestSetup): SetupStanding[] {
  return [...setups].sort((a, b) => a.rank - b.rank);
}

/**
 * The answer on one mix: what leads by each criterion, and how sure that is.
 *
 * @param comparison of the set-ups on the mix.
 */
export function compareAnswer(comparison: MixComparison): string {
  const leads = new Map<string, string[]>();
  const open: string[] = [];
  for (const criterion of askedCriteria([comparison])) {
    const best = bestBy(comparison, criterion)!;
    const { best: does, title } = CRITERION_WORDS[criterion];
    if (!best.priced) {
      open.push(`${title} not checked: ${best.needs}`);
    } else if (best.verdict.kind === 'settled') {
      leads.set(best.verdict.best, [...(leads.get(best.verdict.best) ?? []), does]);
    } else {
      open.push(openWords(best, title));
    }
  }
  const settled = [...leads].map(([setup, does]) => `${setup} ${listText(does)}`);
  return `On ${comparison.mix}: ${[...settled, ...open].join('; ')}.`;
}

/** What can be said where nothing is settled. */
function openWords({ verdict: { kind, best, equal, open } }: BestSetup, title: string): string {
  switch (kind) {
    case 'practically equal':
      return `${listText([best, ...equal])} are practically equal in ${title}`;
    case 'measure':
      return `too close to call in ${title} before more is measured (${best} ahead)`;
    default:
      return `too close to tell in ${title} (${best} ahead of ${listText(open)})`;
  }
}
