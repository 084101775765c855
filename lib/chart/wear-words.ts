import type { PairingSummary } from '../estimate/summary.js';
import { capitalized, percentText, printable } from '../present/words.js';
import { shortName } from './labels.js';
import { OTHER_SURFACES, type ShareParts } from './wear-rows.js';

/** Up to this many pairings the description tells each of them. */
const MOST_DESCRIBED = 24;

interface Largest {
  readonly name: string;
  readonly share: number;
}

/** The largest part; null if there is no wear. */
function largestPart(pairing: PairingSummary, { names, sharesOf }: ShareParts): Largest | null {
  let largest: Largest | null = null;
  sharesOf(pairing).forEach(({ estimate }, place) => {
    if (estimate > (largest?.share ?? 0)) largest = { name: names[place]!, share: estimate };
  });
  return largest;
}

/**
 * The finding of a chart of wear shares, in a sentence.
 *
 * @param pairings those drawn.
 * @param causes parts by cause.
 * @param surfaces parts by surface.
 */
export function wearFinding(
  pairings: readonly PairingSummary[],
  causes: ShareParts,
  surfaces: ShareParts,
): string {
  const byCause = countLargest(pairings, causes);
  const [first, second] = byCause;
  if (first === undefined) return 'Nothing wears the main tires in these runs';
  const [surface, ...others] = countLargest(pairings, surfaces);
  const where =
    others.length === 0 && surface !== undefined && surface.name !== OTHER_SURFACES
      ? `, mostly on ${shortName(surface.name)}`
      : '';
  if (pairings.length === 1) {
    const { setup, mix } = pairings[0]!;
    const share = largestPart(pairings[0]!, causes)?.share ?? 0;
    return `${shortName(setup)} on ${shortName(mix)}: ${first.name} wears most (${percentText(share)})${where}`;
  }
  if (second === undefined) return `${capitalized(first.name)} wears the main tires most everywhere${where}`;
  const rest = byCause.slice(1).map(({ name, count }) => `${name} in ${count}`);
  return `${capitalized(first.name)} wears the main tires most in ${first.count} of ${pairings.length} pairings, ${rest.join(', ')}`;
}

/** In how many pairings each part is the largest, most first. */
function countLargest(
  pairings: readonly PairingSummary[],
  parts: ShareParts,
): { readonly name: string; readonly count: number }[] {
  const counts = new Map<string, number>();
  for (const pairing of pairings) {
    const largest = largestPart(pairing, parts);
    if (largest !== null) counts.set(largest.name, (counts.get(largest.name) ?? 0) + 1);
  }
  return [...counts].map(([name, count]) => ({ name, count })).sort((a, b) => b.count - a.count);
}

/**
 * The chart in words.
 *
 * @param pairings those drawn.
 * @param causes parts by cause.
 * @param surfaces parts by surface.
 * @param finding its title.
 */
export function wearDescription(
  pairings: readonly PairingSummary[],
  causes: ShareParts,
  surfaces: ShareParts,
  finding: string,
): string {
  const told = pairings.slice(0, MOST_DESCRIBED).map((pairing) => {
    const { setup, mix } = pairing;
    return `${setup} on ${mix}: ${partWords(pairing, causes)}; by surface ${partWords(pairing, surfaces)}.`;
  });
  const untold = pairings.length - told.length;
  const more = untold === 0 ? '' : ` And ${untold} more.`;
  return printable(`Shares of the rubber worn off the main tires. ${finding}. ${told.join(' ')}${more}`);
}

/** The largest parts first, those of less than 5 % left out. */
function partWords(pairing: PairingSummary, { names, sharesOf }: ShareParts): string {
  const parts = sharesOf(pairing)
    .map(({ estimate }, place) => ({ name: names[place]!, share: estimate }))
    .filter(({ share }) => share >= 0.05)
    .sort((a, b) => b.share - a.share)
    .map(({ name, share }) => `${name} ${percentText(share)}`);
  return parts.length === 0 ? 'no wear' : parts.join(', ');
}
