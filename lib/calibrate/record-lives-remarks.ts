import type { LifeGroup } from './record-lives-types.js';

/** Fewest ends for a curve and a law: convention. */
export const LEAST_ENDS = 5;
/** Below this many ends intervals hold less often than they say (see `fitLife`). */
const FEW_ENDS = 10;
/** Share of landings that must be flown elsewhere for two groups to count as flown on different places: convention. */
const DIFFERENT_PLACES = 0.2;

/** Why a group with so many ends has neither curve nor law; null if it has. */
export function refusal(ends: number): string | null {
  if (ends >= LEAST_ENDS) return null;
  const count = ends === 0 ? 'no tire has ended' : ends === 1 ? '1 end' : `${ends} ends`;
  return `${count}: no curve and no law, only how long these tires have run`;
}

type Described = Omit<LifeGroup, 'remarks'>;

/**
 * What a reader should know of a group.
 *
 * @param group as described so far.
 * @param endsEarly true where all under watch had ended while others came later.
 */
export function groupRemarks(group: Described, endsEarly: boolean): string[] {
  const { ends, endsInRange, takenUpUsed, tires, places, airplanes, refused, laws } = group;
  const remarks: string[] = [];
  if (refused === null && ends < FEW_ENDS) {
    remarks.push(`Only ${ends} ends: the intervals hold less often than they say.`);
  }
  if (endsInRange > 0) {
    const what = endsInRange === 1 ? '1 end is' : `${endsInRange} ends are`;
    remarks.push(
      `${what} known only within a range of use: on the curve the middle of it stands, and the intervals cover both of its ends.`,
    );
  }
  if (takenUpUsed > 0) {
    remarks.push(
      `${takenUpUsed} of ${tires} tires came into the log with some use and count from there on only.`,
    );
  }
  if (endsEarly && refused === null) {
    remarks.push(
      'All tires under watch had ended at some use while others came into the log later or ran on: the curve falls to ' +
        'nothing there and says little.',
    );
  }
  if (airplanes > 1 && airplanes < LEAST_ENDS) {
    remarks.push(`From ${airplanes} airplanes: what is special to one of them weighs much.`);
  }
  if (airplanes === 1) remarks.push('From one airplane: nothing is told of others.');
  const told = places.filter(({ strip, surface }) => strip !== null || surface !== null);
  if (told.length > 1) {
    remarks.push(`Flown on ${told.length} places: the life holds for that mix of them, not for any one.`);
  }
  const open = laws?.filter(({ verdict }) => verdict.kind !== 'identified') ?? [];
  for (const { law, verdict } of open) {
    remarks.push(
      `${law === 'weibull' ? 'Weibull' : 'Lognormal'} ${verdict.kind}: ${verdict.reasons.join('; ')}.`,
    );
  }
  return remarks;
}

/** Share of landings flown on other places. */
function difference(one: LifeGroup, other: LifeGroup): number {
  const shares = ({ places }: LifeGroup): Map<string, number> => {
    const all = places.reduce((sum, { landings }) => sum + landings, 0);
    return new Map(
      places.map(({ strip, surface, landings }) => [JSON.stringify([strip, surface]), landings / all]),
    );
  };
  const [first, second] = [shares(one), shares(other)];
  let apart = 0;
  for (const key of new Set([...first.keys(), ...second.keys()])) {
    apart += Math.abs((first.get(key) ?? 0) - (second.get(key) ?? 0)) / 2;
  }
  return apart;
}

/**
 * What a reader should know of all groups.
 *
 * @param groups as described.
 */
export function livesRemarks(groups: readonly LifeGroup[]): string[] {
  const remarks = [
    'Tires of one airplane share its pilot, its places and its days: the intervals take them as independent and are rather ' +
      'too narrow.',
  ];
  const main = groups.filter(({ wheels, places }) => wheels === 'main' && places.length > 0);
  const apart = main.some((one, index) =>
    main.slice(index + 1).some((other) => difference(one, other) > DIFFERENT_PLACES),
  );
  if (apart) {
    remarks.push(
      'They were flown on different mixes of places: a longer life may be kinder ground, not a better tire. To ' +
        'compare set-ups on the same ground, fit the assumptions and run the scenario.',
    );
  }
  return remarks;
}
