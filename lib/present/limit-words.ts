import type { LimitCheck, LimitUnit, SetupFigure, SetupLimits } from '../decide/limit-types.js';
import { formatQuantity, type Dimension } from '../units.js';
import { countedText, withCommas } from './amounts.js';
import { listText } from './lists.js';

/** Units that limits are read in. */
const SHOWN: Readonly<Record<LimitUnit, readonly [dimension: Dimension, unit: string]>> = {
  Pa: ['pressure', 'psi'],
  kg: ['mass', 'kg'],
  m: ['length', 'mm'],
  'm/s': ['speed', 'kt'],
  rad: ['angle', 'deg'],
  N: ['force', 'N'],
  'N m': ['torque', 'N m'],
  share: ['share', '%'],
};
const FIGURES = 3;
const GRAMS = 1000;
/** Limits told by name in a sentence. */
const MOST_NAMED = 4;

/**
 * A value of a check with three figures and a unit that people read: "4.59 psi", "1,480 kg".
 *
 * @param value in the unit of the check.
 * @param unit of the check.
 */
export function limitAmount(value: number, unit: LimitUnit): string {
  const [dimension, shown] = SHOWN[unit];
  const [number = '', ...rest] = formatQuantity(value, dimension, shown, FIGURES).split(' ');
  const [whole = '', ...decimals] = number.split('.');
  return [[withCommas(whole), ...decimals].join('.'), ...rest].join(' ');
}

/** A figure without a limit, likewise. */
export function figureAmount({ value, unit }: SetupFigure): string {
  if (value === null) return 'not known';
  if (unit === 'kg m') return `${Number((GRAMS * value).toPrecision(FIGURES))} g m`;
  return limitAmount(value, unit);
}

/** A check by its name, wheel and surface: "bead slip, main", "push by hand on gravel". */
export function checkName({ code, wheel, surface, bound }: LimitCheck): string {
  // The only check with a limit on both sides.
  if (code === 'attitude at rest') return `${code}, ${bound === 'at most' ? 'highest' : 'lowest'}`;
  return `${code}${wheel === null ? '' : `, ${wheel}`}${surface === null ? '' : ` on ${surface}`}`;
}

/** Margin over the limit: 0.1 is a tenth left; null where there is none, or the limit is 0. */
export function marginShare({ margin, limit }: LimitCheck): number | null {
  return margin === null || limit === null || limit === 0 ? null : margin / Math.abs(limit);
}

/** What came of a check, in a word or two. */
export function statusWords({ status, binding }: LimitCheck): string {
  if (status !== 'beyond') return status;
  return binding ? 'BEYOND' : 'beyond *';
}

/** Worst first: beyond binding limits, within, beyond those to weigh, and what is not checked. */
export function byUrgency(checks: readonly LimitCheck[]): LimitCheck[] {
  return [...checks].sort((a, b) => urgency(a) - urgency(b) || compareMargins(a, b));
}

function urgency({ status, binding }: LimitCheck): number {
  if (status === 'not checked') return 3;
  if (status === 'beyond') return binding ? 0 : 2;
  return 1;
}

/** Those with a limit of 0 have no share and go last. */
function compareMargins(a: LimitCheck, b: LimitCheck): number {
  const [one, other] = [marginShare(a) ?? Infinity, marginShare(b) ?? Infinity];
  return one === other ? 0 : one - other;
}

/** The checks of a set-up by what came of them. */
export function sortedOut({ checks }: SetupLimits): {
  readonly beyond: readonly LimitCheck[];
  readonly toWeigh: readonly LimitCheck[];
  readonly within: readonly LimitCheck[];
  readonly unknown: readonly LimitCheck[];
} {
  const sorted = byUrgency(checks);
  return {
    beyond: sorted.filter(({ status, binding }) => status === 'beyond' && binding),
    toWeigh: sorted.filter(({ status, binding }) => status === 'beyond' && !binding),
    within: sorted.filter(({ status }) => status === 'within'),
    unknown: sorted.filter(({ status }) => status === 'not checked'),
  };
}

/**
 * The answer for a set-up, a sentence each: what is beyond or closest; then, as far as there are any, what is beyond in
 * the season, what to weigh, and what could not be checked.
 */
export function limitsAnswers(limits: SetupLimits): string[] {
  const { beyond, toWeigh, within, unknown } = sortedOut(limits);
  const checked = limits.checks.filter(({ binding, status }) => binding && status !== 'not checked').length;
  const rest: readonly (readonly [head: string, checks: readonly LimitCheck[]])[] = [
    ['Beyond at pressures met in the season', laterBeyond(limits)],
    ['To weigh', toWeigh],
    ['Not checked', unknown],
  ];
  return [
    beyond.length > 0
      ? `${limits.setup}: beyond ${beyond.length} of ${countedText(checked, 'limit')}: ${listed(beyond.map(overText))}.`
      : `${limits.setup}: within ${checked === 1 ? 'the one limit' : `all ${checked} limits`} checked${closestText(within)}.`,
    ...rest.flatMap(([head, checks]) =>
      checks.length === 0 ? [] : [`${head}: ${listed(groupedNames(checks))}.`],
    ),
  ];
}

/** The answer for a set-up, in a few sentences. */
export function limitsAnswerText(limits: SetupLimits): string {
  return limitsAnswers(limits).join(' ');
}

/** Checks within their limit as set, but beyond it at some pressure of the season. */
export function laterBeyond({ checks }: SetupLimits): LimitCheck[] {
  return byUrgency(checks).filter(isBeyondLater);
}

/** True for a check within its limit as set, but beyond it at some pressure of the season. */
export function isBeyondLater({ status, binding, season }: LimitCheck): boolean {
  return binding && status === 'within' && season.some((state) => state.status === 'beyond');
}

/** Names of checks, those that differ by wheel or surface alone together: "push by hand on sand, turf and gravel". */
function groupedNames(checks: readonly LimitCheck[]): string[] {
  const groups = new Map<string, LimitCheck[]>();
  for (const check of checks) {
    const alike = check.surface === null ? { ...check, wheel: null } : { ...check, surface: null };
    const key = `${checkName(alike)} ${check.surface === null ? '' : 'on'}`;
    groups.set(key, [...(groups.get(key) ?? []), check]);
  }
  return [...groups.values()].map((group) => {
    const first = group[0]!;
    if (first.surface !== null) {
      return `${checkName({ ...first, surface: null })} on ${surfacesText(unique(group.map(({ surface }) => surface!)))}`;
    }
    const wheels = unique(group.flatMap(({ wheel }) => (wheel === null ? [] : [wheel])));
    return [checkName({ ...first, wheel: null }), ...(wheels.length === 0 ? [] : [listText(wheels)])].join(
      ', ',
    );
  });
}

function surfacesText(names: readonly string[]): string {
  const more = names.length - MOST_NAMED;
  return more > 1 ? `${names.slice(0, MOST_NAMED).join(', ')} and ${more} more surfaces` : listText(names);
}

/** Items in a row, kept apart by semicolons, as names hold commas themselves. */
function listed(items: readonly string[]): string {
  const names = unique(items);
  const more = names.length - MOST_NAMED;
  return more > 1 ? `${names.slice(0, MOST_NAMED).join('; ')}; and ${more} more` : names.join('; ');
}

function unique<Item>(items: readonly Item[]): Item[] {
  return [...new Set(items)];
}

function overText(check: LimitCheck): string {
  const { margin, bound, unit } = check;
  if (margin === null) return checkName(check);
  const by = limitAmount(Math.abs(margin), unit);
  return `${checkName(check)} (${by} too ${bound === 'at most' ? 'much' : 'little'})`;
}

/** The limit that is nearest, by its share. */
function closestText(within: readonly LimitCheck[]): string {
  const closest = within.find((check) => check.binding && marginShare(check) !== null);
  if (closest === undefined) return '';
  const left = closest.margin === 0 ? 'just at it' : `${limitAmount(closest.margin!, closest.unit)} left`;
  return `; closest: ${checkName(closest)} (${left})`;
}
