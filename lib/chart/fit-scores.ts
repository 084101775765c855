import { standardNormalQuantile } from '../numeric/normal.js';
import type { FittedAssumption } from '../calibrate/posterior-types.js';

/** Scores are not told further out: the prior says nothing of its tails there. */
const FURTHEST = 8;

/**
 * Where a value stands in what the scenario held for plausible: its standard normal score, 0 at the median of the prior,
 * -1.28 and 1.28 at the ends of the range that holds 8 of 10.
 *
 * @param assumption with quantiles of its prior.
 * @param probabilities of those quantiles, ascending.
 * @param si value, SI units.
 * @returns a score from -8 to 8; between quantiles and beyond them along a straight line (of the logarithm, if the prior is
 *   lognormal).
 */
export function priorScore(
  { form, quantiles: { prior } }: FittedAssumption,
  probabilities: readonly number[],
  si: number,
): number {
  const isLog = form === 'lognormal' && prior[0]! > 0 && si > 0;
  const place = (value: number): number => (isLog ? Math.log(value) : value);
  const rungs = distinctRungs(
    prior.map((value, at) => ({ at: place(value), score: standardNormalQuantile(probabilities[at]!) })),
  );
  const sought = place(si);
  const last = rungs.length - 1;
  if (last === 0) return sought === rungs[0]!.at ? 0 : sought > rungs[0]!.at ? FURTHEST : -FURTHEST;
  let above = rungs.findIndex(({ at }) => at >= sought);
  above = above < 0 ? last : Math.max(1, above);
  const [low, high] = [rungs[above - 1]!, rungs[above]!];
  const score = low.score + ((high.score - low.score) * (sought - low.at)) / (high.at - low.at);
  return Math.min(FURTHEST, Math.max(-FURTHEST, score));
}

interface Rung {
  readonly at: number;
  readonly score: number;
}

/** Where several quantiles are one value (the end of what is plausible), the one nearest to the median stands for them. */
function distinctRungs(rungs: readonly Rung[]): Rung[] {
  const distinct: Rung[] = [];
  for (const rung of rungs) {
    const before = distinct.at(-1);
    if (before === undefined || rung.at > before.at) distinct.push(rung);
    else if (Math.abs(rung.score) < Math.abs(before.score)) distinct[distinct.length - 1] = rung;
  }
  return distinct;
}
