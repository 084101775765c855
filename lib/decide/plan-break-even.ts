/** From how many landings a change of gear sets pays. */
import { pairedDifference } from '../estimate/paired.js';
import { criterionColumn, takenByChanges, type SimulatedPlan } from './plan-figures.js';
import type { BreakEven, PlanCriterion, PlanFigures } from './plan-types.js';

/**
 * Break-even of the best plan with changes against every gear set on all season.
 *
 * What the changes save grows with the landings on the other gear sets, and what they cost does not. With S saved in a
 * season before changes that take C are paid, on n such landings, the changes pay from n C / S landings on: more or
 * fewer landings of that kind, and the others as they are.
 *
 * @param sorted plans, best first.
 * @param figures of the same plans.
 * @param criterion what they were chosen by.
 */
export function breakEvensOf(
  sorted: readonly SimulatedPlan[],
  figures: readonly PlanFigures[],
  criterion: PlanCriterion,
): BreakEven[] {
  const changing = figures.findIndex(({ changes }) => changes > 0);
  if (changing < 0) return [];
  const column = (index: number): Float64Array => criterionColumn(sorted[index]!.columns, criterion);
  const paid = takenByChanges(sorted[changing]!.extras, criterion);
  return figures.flatMap(({ changes, legs }, index) => {
    if (changes > 0) return [];
    const staying = legs[0]!.setup;
    const saving = pairedDifference(column(index), column(changing));
    const otherLandings = figures[changing]!.legs.filter(({ setup }) => setup !== staying).reduce(
      (sum, { landings }) => sum + landings,
      0,
    );
    const from = (before: number): number => (otherLandings * paid) / before;
    const told = saving.lower + paid > 0;
    return [
      {
        withChanges: figures[changing]!.name,
        staying,
        saving,
        otherLandings,
        // The more is saved, the sooner the changes pay: the bounds change places.
        payFrom: told
          ? {
              estimate: from(saving.estimate + paid),
              lower: from(saving.upper + paid),
              upper: from(saving.lower + paid),
            }
          : null,
      },
    ];
  });
}
