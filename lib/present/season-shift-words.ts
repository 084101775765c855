import { isOnlyBounded } from '../estimate/uncertainty.js';
/** What a season under fitted assumptions says, in sentences for text and page. */
import type { VerdictKind } from '../decide/verdict.js';
import type { PairedDifference } from '../estimate/paired.js';
import type { BestShift, PairingShift, SeasonShift } from '../decide/season-shift-types.js';
import { amountText, roundedText, signedSpan, signedText } from './amounts.js';
import { CRITERION_WORDS } from './compare-words.js';
import { listText } from './lists.js';

/** From this share of lives beyond the horizon on, their spread says more of the horizon than of the tires. */
const MANY_OPEN = 0.1;
/** With more than this left, ignorance has not shrunk to speak of. */
const HARDLY_LESS = 0.9;
const NAMED_PAIRINGS = 4;
const SUMMED_UP = 4;

/**
 * What the fitted numbers change about the season.
 *
 * @param shift from `seasonShift`.
 * @returns sentences, the best set-up first.
 */
export function seasonAnswers(shift: SeasonShift): string[] {
  return [...bestAnswers(shift.best), lifeAnswer(shift), ...ignoranceAnswer(shift.pairings)];
}

function bestAnswers(best: readonly BestShift[]): string[] {
  if (best.length === 0) return [];
  const moved = best.filter(({ change }) => change !== 'same');
  if (moved.length === 0) {
    return [
      'Best set-up: the same with the fitted numbers as with the assumed ones, on every mix and by each measure.',
    ];
  }
  return moved.map(bestText);
}

/**
 * The best set-up on a mix by one criterion, before and after, in a sentence.
 *
 * @param shift of the best set-up.
 */
export function bestText({ mix, criterion, before, after, change }: BestShift): string {
  const by = `Best by ${CRITERION_WORDS[criterion].title} on ${mix}`;
  switch (change) {
    case 'same':
      return `${by}: ${after.best} with either${before.kind === after.kind ? '' : `; ${surenessText(before.kind)} before, ${surenessText(after.kind)} now`}.`;
    case 'changed':
      return `${by}: ${after.best} with the fitted numbers, ${before.best} with the assumed ones.`;
    case 'not told':
      return `${by}: ${after.best} with the fitted numbers, ${before.best} with the assumed ones, but they are too close to call it a change.`;
  }
}

function surenessText(kind: VerdictKind): string {
  switch (kind) {
    case 'settled':
      return 'settled';
    case 'practically equal':
      return 'practically equal to others';
    case 'measure':
      return 'hanging on what is not known';
    case 'run more trials':
      return 'too close to tell';
  }
}

/**
 * The best set-ups on a mix, before and after: those that stay the same in one sentence.
 *
 * @param shifts of one mix.
 */
export function bestOnMix(shifts: readonly BestShift[]): string[] {
  const plain = shifts.filter((each) => each.change === 'same' && each.before.kind === each.after.kind);
  const others = shifts.filter((each) => !plain.includes(each));
  const setups = [...new Set(plain.map(({ after }) => after.best))];
  const told = setups.map((setup) => {
    const by = plain.filter(({ after }) => after.best === setup);
    const words = by.map(
      ({ criterion, after }) =>
        `${CRITERION_WORDS[criterion].title}${after.kind === 'settled' ? '' : ` (${surenessText(after.kind)})`}`,
    );
    return `Best with either: ${setup} by ${listText(words)}.`;
  });
  return [...told, ...others.map(bestText)];
}

/**
 * A season before and after in a line for each mix, with the best set-ups and their lives, and whether the fit is in doubt.
 *
 * @param shift from `seasonShift`.
 * @param isDoubted true where something stands against the fit.
 */
export function seasonSummary({ pairings, best }: SeasonShift, isDoubted: boolean): string[] {
  const mixes = [...new Set(pairings.map(({ mix }) => mix))];
  const lines = mixes.map((mix) => {
    const own = best.filter((each) => each.mix === mix);
    const [was, is] = (['before', 'after'] as const).map((when) => [
      ...new Set(own.map((each) => each[when].best)),
    ]) as [string[], string[]];
    const told =
      own.length === 0
        ? ''
        : listText(was) === listText(is)
          ? `best ${listText(is)} with either; `
          : `best ${listText(was)} before, ${listText(is)} after; `;
    const here = pairings.filter((each) => each.mix === mix);
    const named =
      own.length === 0 ? here : here.filter(({ setup }) => was.includes(setup) || is.includes(setup));
    const lives = named
      .slice(0, SUMMED_UP)
      .map(({ setup, before, after }) => `${setup} ${hoursText(before)} → ${hoursText(after)}`);
    return `On ${mix}: ${told}half of the sets last, in flight hours, ${lives.join(', ')}.`;
  });
  return [
    ...lines,
    isDoubted ? 'Doubtful: see what stands against the fit.' : 'Nothing stands against the fit.',
  ];
}

/** True where the simulation cannot tell the change from none. */
export function withinError({ lower, upper }: PairedDifference): boolean {
  return lower <= 0 && upper >= 0;
}

function lifeAnswer({ pairings, trials }: SeasonShift): string {
  const changed = pairings.filter(({ change }) => !withinError(change.meanLifeHours));
  const untold = pairings.length - changed.length;
  const share = ({ before, change }: PairingShift): number =>
    Math.abs(change.meanLifeHours.estimate) / Math.max(1e-9, before.lifeHours.p50 ?? Infinity);
  const largest = [...changed].sort((one, other) => share(other) - share(one))[0];
  const within =
    `In ${untold === pairings.length ? 'all' : untold} of ${pairings.length} pairings the change of life is within the error of the ` +
    `simulation (${trials} trials): take it for none, or run more trials.`;
  if (largest === undefined) return within;
  const { setup, mix, before, after, change } = largest;
  const told =
    `Life changes most, by share, for ${setup} on ${mix}: half of the sets last ${hoursText(after)} instead of ${hoursText(before)} flight hours ` +
    `(mean ${signedText(change.meanLifeHours.estimate, change.meanLifeHours.standardError)} h, 95 %: ${signedSpan(change.meanLifeHours)}).`;
  return untold === 0 ? told : `${told} ${within}`;
}

function hoursText({ lifeHours: { p50 } }: PairingShift['before']): string {
  return p50 === null ? 'beyond the horizon' : amountText(p50);
}

/**
 * Ignorance of the life after over before, at most; null where twins or horizon do not let it be told.
 *
 * @param pairing before and after.
 */
export function ignoranceLeft({ before, after }: PairingShift): number | null {
  const [was, is] = [before.ignoranceHours, after.ignoranceHours];
  if (was === null || is === null || !(was.estimate > 0)) return null;
  if (before.beyondHorizon > MANY_OPEN || after.beyondHorizon > MANY_OPEN) return null;
  return is.upper / was.estimate;
}

function ignoranceAnswer(pairings: readonly PairingShift[]): string[] {
  const told = pairings
    .flatMap((pairing) => {
      const left = ignoranceLeft(pairing);
      return left === null ? [] : [{ pairing, left }];
    })
    .sort((one, other) => other.left - one.left);
  if (told.length === 0) {
    return [
      'Whether ignorance of the life shrinks is not told: too few trials, or tires that outlast the horizon.',
    ];
  }
  const shrunk = told.filter(({ left }) => left <= HARDLY_LESS).length;
  const head =
    shrunk === 0
      ? 'hardly shrinks, as far as these trials tell'
      : shrunk === told.length
        ? `shrinks${told.length === 1 ? '' : ` in ${shrunk === pairings.length ? 'all' : String(shrunk)} pairings`}`
        : `shrinks in ${shrunk} of ${pairings.length} pairings, as far as these trials tell`;
  const isOneMix = new Set(pairings.map(({ mix }) => mix)).size === 1;
  const named = told.slice(0, NAMED_PAIRINGS).map(({ pairing: { setup, mix, before, after } }) => {
    const to = ignoranceText(after.ignoranceHours).replace('< ', 'below ');
    return `${setup}${isOneMix ? '' : ` on ${mix}`} ${ignoranceText(before.ignoranceHours)} to ${to} h`;
  });
  const more = told.length - named.length;
  const others = more > 0 ? ` and ${more} more, in the table` : '';
  const rest = pairings.length - told.length;
  const unsaid = rest === 0 ? '' : `; not told for ${rest} whose tires outlast the horizon`;
  const order = told.length === 1 ? '' : ' (least shrunk first)';
  return [
    `Ignorance of the life ${head}: ${named.join(', ')}${others}${order}${unsaid}.${shrunk === 0 ? '' : ' Luck stays.'}`,
  ];
}

/**
 * Ignorance of the life: "49", or "< 11" where the twins tell no more.
 *
 * @param ignorance h; null with too few twins.
 */
export function ignoranceText(ignorance: PairingShift['before']['ignoranceHours']): string {
  if (ignorance === null) return '-';
  const { estimate, upper } = ignorance;
  return isOnlyBounded(estimate, upper)
    ? `< ${roundedText(upper, upper / 4)}`
    : roundedText(estimate, upper - estimate);
}
