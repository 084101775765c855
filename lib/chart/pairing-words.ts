import type { PairingSummary } from '../estimate/summary.js';
import { printable } from '../present/words.js';
import type { RunResult } from '../run.js';
import { seasonsText } from './figures.js';
import { shortName } from './labels.js';
import {
  fewestFlats,
  lifeWords,
  longestLasting,
  medianHours,
  medianText,
  type PairingOrder,
} from './pairing-rows.js';

/** Up to this many pairings the description tells each of them. */
const MOST_DESCRIBED = 24;

/**
 * The finding of a pairing map, in a sentence.
 *
 * A set-up leads only where its interval of the simulation error lies clear of all others.
 *
 * @param pairings of the result.
 * @param order their names.
 */
export function pairingFinding(pairings: readonly PairingSummary[], order: PairingOrder): string {
  const { setups, mixes } = order;
  const [first] = pairings;
  if (pairings.length === 1) {
    return `${shortName(first!.setup)} on ${shortName(first!.mix)}: half of the sets last ${medianText(first!)}, ${flatsText(first!)}`;
  }
  if (setups.length === 1) return oneSetupFinding(pairings);
  if (pairings.length < setups.length * mixes.length) return spanFinding(pairings);
  const lasting = leader(pairings, mixes, longestLasting);
  const safest = leader(pairings, mixes, fewestFlats);
  if (isSame(lasting, safest)) {
    return capital(
      leadText(
        lasting,
        mixes,
        'lasts longest and has the fewest flats',
        'which set-up lasts longest, and which has the fewest flats,',
      ),
      lasting,
    );
  }
  return capital(
    `${leadText(lasting, mixes, 'lasts longest', 'which set-up lasts longest')}; ` +
      leadText(safest, mixes, 'has the fewest flats', 'which has the fewest flats'),
    lasting,
  );
}

/** Names keep their letters as written. */
function capital(text: string, { kind }: Lead): string {
  return kind === 'leads' ? text : text.replace('w', 'W');
}

/** Not every set-up was run on every mix: no claim on which is best. */
function spanFinding(pairings: readonly PairingSummary[]): string {
  const byLife = [...pairings].sort((a, b) => compare(medianHours(a), medianHours(b)));
  const [short, long] = [byLife[0]!, byLife[byLife.length - 1]!];
  const words = (pairing: PairingSummary): string =>
    `${medianText(pairing)} (${shortName(pairing.setup, 20)} on ${shortName(pairing.mix, 20)})`;
  return `Half of the sets last from ${words(short)} to ${words(long)}`;
}

function oneSetupFinding(pairings: readonly PairingSummary[]): string {
  const byLife = [...pairings].sort((a, b) => compare(medianHours(a), medianHours(b)));
  const byRisk = [...pairings].sort((a, b) => chance(a) - chance(b));
  const [short, long] = [byLife[0]!, byLife[byLife.length - 1]!];
  const [safe, risky] = [byRisk[0]!, byRisk[byRisk.length - 1]!];
  return (
    `${shortName(short.setup)}: half of the sets last ${medianText(long)} on ${shortName(long.mix, 20)}, ` +
    `${medianText(short)} on ${shortName(short.mix, 20)}; ` +
    `${seasonsText(chance(safe))} to ${seasonsText(chance(risky))} has a flat`
  );
}

/** Infinity less itself is not a number. */
function compare(a: number, b: number): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function chance({ puncture }: PairingSummary): number {
  return puncture.season.estimate;
}

/** Which set-up leads alone: one of them, on all mixes or on some, several, or none. */
type Lead =
  | { readonly kind: 'leads'; readonly name: string; readonly count: number }
  | { readonly kind: 'differs' }
  | { readonly kind: 'unclear' };

function leader(
  pairings: readonly PairingSummary[],
  mixes: readonly string[],
  best: (pairings: readonly PairingSummary[]) => PairingSummary[],
): Lead {
  const alone = mixes.flatMap((name) => {
    const group = best(pairings.filter(({ mix }) => mix === name));
    return group.length === 1 ? group.map(({ setup }) => setup) : [];
  });
  const [name] = alone;
  if (name === undefined) return { kind: 'unclear' };
  return alone.every((other) => other === name)
    ? { kind: 'leads', name, count: alone.length }
    : { kind: 'differs' };
}

function isSame(one: Lead, other: Lead): boolean {
  if (one.kind !== 'leads' || other.kind !== 'leads') return one.kind === other.kind;
  return one.name === other.name && one.count === other.count;
}

function leadText(lead: Lead, mixes: readonly string[], does: string, which: string): string {
  if (lead.kind === 'unclear') return `${which} is too close to call`;
  if (lead.kind === 'differs') return `${which} depends on the mix`;
  if (lead.count === mixes.length) return `${shortName(lead.name)} ${does} ${onAll(mixes)}`;
  return `${shortName(lead.name)} ${does} on ${lead.count} of ${mixes.length} mixes (others too close to call)`;
}

function onAll(mixes: readonly string[]): string {
  return mixes.length === 1 ? `on ${shortName(mixes[0]!)}` : `on all ${mixes.length} mixes`;
}

function flatsText({ puncture: { season } }: PairingSummary): string {
  return season.estimate === 0 ? 'no risk of a flat was met' : `${seasonsText(season.estimate)} has a flat`;
}

/**
 * A pairing map in words, with its main figures.
 *
 * @param result the answer of a run.
 * @param order its names.
 * @param finding the title.
 */
export function pairingDescription(result: RunResult, order: PairingOrder, finding: string): string {
  const { pairings, season } = result;
  const count = (names: readonly string[], one: string, many: string): string =>
    `${names.length} ${names.length === 1 ? one : many}`;
  const figures =
    pairings.length <= MOST_DESCRIBED
      ? pairings.map(pairingWords)
      : order.mixes.map((name) => {
          const own = pairings.filter(({ mix }) => mix === name);
          const ends = [
            own.reduce((a, b) => (medianHours(b) > medianHours(a) ? b : a)),
            own.reduce((a, b) => (medianHours(b) < medianHours(a) ? b : a)),
          ];
          return ends.map(pairingWords).join(' ');
        });
  return printable(
    `Median life and chance of a flat in a season of ${season.landings} landings for ${count(order.setups, 'set-up', 'set-ups')} ` +
      `on ${count(order.mixes, 'runway mix', 'runway mixes')}. ${finding}. ${figures.join(' ')}`,
  );
}

function pairingWords(pairing: PairingSummary): string {
  return `${lifeWords(pairing)}; ${flatsText(pairing)}.`;
}
