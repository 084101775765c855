import type { OpenInterval } from '../estimate/kaplan-meier.js';
import type { CauseShare, LifeGroup, RecordLives, ShareEstimate } from '../calibrate/record-lives-types.js';
import { countedText, wholeText } from './amounts.js';
import { listText } from './lists.js';
import { figureText, percentText } from './words.js';

/** Name of a group of tires: set-up or class, and wheels. */
export function groupName({ name, wheels }: Pick<LifeGroup, 'name' | 'wheels'>): string {
  return `${name ?? 'not told'}, ${wheels === 'main' ? 'main' : 'nose or tail'}`;
}

/** A use: whole from 20 on, else to a tenth; very small ones with two figures. */
export function useText(use: number): string {
  if (use >= 20 || Number.isInteger(use)) return wholeText(use);
  return use >= 1 ? use.toFixed(1) : figureText(use);
}

/** Bounds of a use: "62 to 111", "111 on"; nothing where the log sets none. */
function boundsText({ lower, upper }: Pick<OpenInterval, 'lower' | 'upper'>): string {
  const least = lower ?? 0;
  if (upper !== null) return `${useText(least)} to ${useText(upper)}`;
  return least === 0 ? 'no bounds' : `${useText(least)} on`;
}

/** A use with its interval: "95 (62 to 111)", "143 (111 on)"; a dash where the log does not reach it. */
export function openText({ estimate, lower, upper }: OpenInterval): string {
  return `${estimate === null ? '-' : useText(estimate)} (${boundsText({ lower, upper })})`;
}

/** A share with its interval: "75 % (53 to 92)". */
export function shareText({ estimate, lower, upper }: ShareEstimate): string {
  const span = `(${percentText(lower).replace(/ %$/, '')} to ${percentText(upper).replace(/ %$/, '')})`;
  return estimate === null ? 'not seen' : `${percentText(estimate)} ${span}`;
}

/** Name of a cause. */
function causeName({ cause }: CauseShare): string {
  return cause ?? 'cause not told';
}

/** Shares of the causes by which tires ended, and the bound for those by which none did. */
export function causesText(shares: readonly CauseShare[]): string {
  if (shares.every(({ estimate }) => estimate === null)) return 'beyond the log';
  const seen = shares.filter(({ ends }) => ends > 0);
  const unseen = shares.filter(({ ends, cause }) => ends === 0 && cause !== null);
  const highest = Math.max(0, ...unseen.map(({ upper }) => upper));
  const none =
    unseen.length === 0
      ? ''
      : `none by ${listText(unseen.map(causeName))} (at most ${percentText(highest)} each)`;
  return [...seen.map((share) => `${causeName(share)} ${shareText(share)}`), none]
    .filter((text) => text !== '')
    .join(', ');
}

/** Causes with their numbers: "15 worn, 1 cut". */
function endedText({ shares }: LifeGroup): string {
  return (shares[0]?.byCause ?? [])
    .filter(({ ends }) => ends > 0)
    .map((share) => `${share.ends} ${causeName(share)}`)
    .join(', ');
}

/** How the tires of a group ended, counted. */
function countsText(group: LifeGroup): string {
  const { tires, ends, inService, takenOffSound } = group;
  const parts = [
    ends === 0 ? '' : `${ends} ended (${endedText(group)})`,
    inService === 0 ? '' : `${inService} in service`,
    takenOffSound === 0 ? '' : `${takenOffSound} taken off sound`,
  ];
  return `Of ${countedText(tires, 'tire')}: ${parts.filter((text) => text !== '').join(', ')}.`;
}

/** A share that is certainly reached is told from here on. */
const LEAST_TOLD = 0.1;

/** What may be said of tires of which too few have ended. */
function leastText({ shares }: LifeGroup, unit: string, sure: string): string {
  const told = shares.filter(({ running }) => running.lower >= LEAST_TOLD);
  if (told.length === 0) return '';
  const parts = told.map(
    ({ use, running }) => `at least ${percentText(running.lower)} run longer than ${useText(use)} ${unit}`,
  );
  return ` ${sure} sure: ${parts.join(', ')}.`;
}

/**
 * The answer for a group in plain words.
 *
 * @param group from `recordLives`.
 * @param lives the answer it is part of.
 */
export function groupAnswer(group: LifeGroup, { unit, level }: RecordLives): string {
  const { refused, percentiles, longest } = group;
  const name = groupName(group);
  const sure = percentText(level);
  if (refused !== null || percentiles === null) {
    return `${name}: ${refused ?? ''}, ${useText(longest)} ${unit} the longest. ${countsText(group)}${leastText(group, unit, sure)}`;
  }
  const { estimate, lower, upper } = percentiles.p50;
  if (estimate === null) {
    const from = lower === null || lower === 0 ? '' : `; ${sure} sure: more than ${useText(lower)}`;
    return `${name}: more than half outlast the log (longest ${useText(longest)} ${unit}${from}). ${countsText(group)}`;
  }
  return `${name}: half last longer than ${useText(estimate)} ${unit} (${sure}: ${boundsText({ lower, upper })}). ${countsText(group)}`;
}
