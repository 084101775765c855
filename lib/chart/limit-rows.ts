import type { LimitCheck, SetupLimits } from '../decide/limit-types.js';
import { byUrgency, checkName, isBeyondLater, limitAmount, marginShare } from '../present/limit-words.js';
import { percentText } from '../present/words.js';
import { rounded } from './measures.js';
import { COLOURS, type ChartRow } from './spec.js';

/** How checks are told apart: by word, shape and colour. */
export type LimitGroup = 'within' | 'not all season' | 'beyond' | 'beyond, to weigh' | 'not checked';

/** Look of each group. */
export const LIMIT_LOOKS: Readonly<
  Record<LimitGroup, { readonly shape: string; readonly colour: string; readonly tint: string }>
> = {
  within: { shape: 'circle', colour: COLOURS.blue, tint: '#E6F1F8' },
  'not all season': { shape: 'triangle-down', colour: '#A0528A', tint: '#F3E1EC' },
  beyond: { shape: 'cross', colour: COLOURS.vermilion, tint: '#F7BC94' },
  'beyond, to weigh': { shape: 'diamond', colour: '#A67200', tint: '#FCEFD2' },
  'not checked': { shape: 'square', colour: '#757575', tint: '#EEEEEE' },
};

/** Groups in the order of the legend. */
export const LIMIT_GROUPS = Object.keys(LIMIT_LOOKS) as readonly LimitGroup[];

/** Margins are drawn up to the whole limit to both sides. */
const MOST_SHARE = 1;

/** What came of a check, as a group. */
export function groupOf(check: LimitCheck): LimitGroup {
  const { status, binding } = check;
  if (isBeyondLater(check)) return 'not all season';
  if (status !== 'beyond') return status;
  return binding ? 'beyond' : 'beyond, to weigh';
}

/** Names of all checks of some set-ups, the most urgent first. */
export function checkOrder(limits: readonly SetupLimits[]): string[] {
  return [...new Set(byUrgency(limits.flatMap(({ checks }) => checks)).map(checkName))];
}

/**
 * One row for each check of each set-up.
 *
 * @param limits of the set-ups.
 * @param order names of checks.
 */
export function limitRows(limits: readonly SetupLimits[], order: readonly string[]): ChartRow[] {
  return limits.flatMap(({ setup, checks }, setupPlace) =>
    checks.map((check) => ({
      setup,
      setupPlace,
      check: checkName(check),
      place: order.indexOf(checkName(check)),
      group: groupOf(check),
      ...marginFields(check),
      ...textFields(check, setup),
    })),
  );
}

function marginFields(check: LimitCheck): ChartRow {
  const share = marginShare(check);
  const shown = share === null ? 0 : Math.max(-MOST_SHARE, Math.min(MOST_SHARE, share));
  const [low, high] = worldShares(check);
  return {
    share: rounded(shown, 4),
    hasShare: share !== null,
    off: share === null || Math.abs(share) <= MOST_SHARE ? 'no' : share > 0 ? 'right' : 'left',
    worldLow: low,
    worldHigh: high,
  };
}

/** Margins of the middle eight in ten worlds, as shares of the limit; null where they are not known. */
function worldShares({ worlds, limit, bound }: LimitCheck): readonly [number | null, number | null] {
  if (worlds === null || limit === null || limit === 0) return [null, null];
  const shareOf = (value: number): number => {
    const margin = bound === 'at most' ? limit - value : value - limit;
    return rounded(Math.max(-MOST_SHARE, Math.min(MOST_SHARE, margin / Math.abs(limit))), 4);
  };
  const ends = [shareOf(worlds.p10), shareOf(worlds.p90)] as const;
  return [Math.min(...ends), Math.max(...ends)];
}

/** The farthest beyond the limit at pressures of the season, where it is within as set. */
function seasonText(check: LimitCheck): string {
  if (!isBeyondLater(check)) return '';
  const worst = check.season.reduce((a, b) => ((b.margin ?? 0) < (a.margin ?? 0) ? b : a));
  return `; ${limitAmount(Math.abs(worst.margin ?? 0), check.unit)} beyond when ${worst.state}`;
}

function textFields(check: LimitCheck, setup: string): ChartRow {
  const { value, limit, margin, unit, bound, worlds, needs, title } = check;
  const share = marginShare(check);
  const known = margin !== null && limit !== null;
  const amount = known ? limitAmount(Math.abs(margin), unit) : '';
  const left = known ? (margin < 0 ? `${amount} beyond` : `${amount} left`) : `not checked`;
  const limitText = limit === null ? 'not known' : `${bound} ${limitAmount(limit, unit)}`;
  const valueText = value === null ? 'not known' : limitAmount(value, unit);
  const lacks = check.status === 'not checked' ? `; needs ${needs.join(', ')}` : '';
  return {
    text: known ? `${left} (${limitText})${seasonText(check)}` : left,
    cell: !known
      ? 'not checked'
      : share === null
        ? left.replace(' left', '')
        : `${Math.round(100 * share)} %`,
    valueText,
    limitText,
    marginText: `${left}${lacks}${seasonText(check)}`,
    title,
    worldsText:
      worlds?.shareBeyond == null ? 'not known' : `${percentText(worlds.shareBeyond)} of worlds beyond`,
    source: check.source,
    said: `${setup}, ${checkName(check)}: ${groupOf(check)}; ${valueText}, limit ${limitText}; ${left}${lacks}${seasonText(check)}`,
  };
}
