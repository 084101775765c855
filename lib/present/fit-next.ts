/** What to read next, in sentences for text and page. */
import type { FlownTogether } from '../calibrate/flown-together.js';
import { fittedName } from '../calibrate/fit-names.js';
import type { NextReading } from '../calibrate/posterior-types.js';
import { listText } from './lists.js';
import { percentText } from './words.js';

const NEXT_TOLD = 3;
/** Further records are worth naming where they narrow a number by at least this share. Convention. */
const WORTH_NARROWING = 0.1;

/** How further records are ranked, and what that does not tell. */
export const NEXT_RANKING =
  'Ranked by what narrows the assumptions, not by what decides a choice: `gravelbar drivers` on the fitted season tells that.';

/**
 * Spread left of a number over that assumed: "63 %". Above all of it is the noise of the draws.
 *
 * @param share of the spread.
 */
export function leftText(share: number): string {
  return percentText(Math.min(1, share));
}

/**
 * The most telling further records, of which each narrows an assumption that those before it do not. Set-ups on strips that
 * the records never had together are left out, unless nothing else is told.
 *
 * @param all further records, the most telling first.
 * @param isFlown which set-ups flew on which strips.
 */
export function tellingReadings(
  all: readonly NextReading[],
  isFlown: FlownTogether = () => true,
): NextReading[] {
  const flown = all.filter(isFlown);
  const named = new Set<string>();
  const telling = (flown.length > 0 ? flown : all).filter(({ narrows }) => {
    const fresh = narrows.filter(
      ({ path, now, then }) => !named.has(path) && then <= (1 - WORTH_NARROWING) * Math.min(1, now),
    );
    for (const { path } of fresh) named.add(path);
    return fresh.length > 0;
  });
  return (telling.length > 0 ? telling : flown.length > 0 ? flown : [...all]).slice(0, NEXT_TOLD);
}

/**
 * What to read, and that the records never had that set-up there.
 *
 * @param reading one kind of further records.
 * @param isFlown which set-ups flew on which strips.
 */
export function whatText(reading: NextReading, isFlown: FlownTogether): string {
  return isFlown(reading) ? reading.what : `${reading.what} (not flown in the records)`;
}

/**
 * What to read next and what it would narrow: spreads in shares of those that the scenario held.
 *
 * @param reading one kind of further records.
 * @param isFlown which set-ups flew on which strips.
 */
export function nextText(reading: NextReading, isFlown: FlownTogether = () => true): string {
  const told = reading.narrows
    .slice(0, 2)
    .map(({ path, now, then }) => `${fittedName(path)} from ${leftText(now)} to ${leftText(then)}`);
  const what = whatText(reading, isFlown);
  return told.length === 0
    ? `${what}: narrows no single assumption by much`
    : `${what}: narrows ${listText(told)}`;
}
