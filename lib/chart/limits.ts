import type { SetupLimits } from '../decide/limit-types.js';
import { UsageError } from '../problems.js';
import { laterBeyond, limitsAnswerText, sortedOut } from '../present/limit-words.js';
import { listText } from '../present/lists.js';
import { printable } from '../present/words.js';
import { shortName } from './labels.js';
import { limitBars } from './limit-bars.js';
import { limitGrid } from './limit-grid.js';
import { checkOrder, limitRows } from './limit-rows.js';
import { counted } from './measures.js';
import { makeChart, type ChartSpec } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

/** Set-ups named in the title. */
const MOST_NAMED = 3;

/**
 * Chart of the limits of set-ups: what is beyond a limit, what is left to it, and what could not be checked.
 *
 * One set-up is drawn as bars: margin as a share of the limit (%), the most urgent first, with its range from world to
 * world. Several are a grid, set-ups across and checks down.
 *
 * @param limits from `setupLimits`.
 * @param run trials and seed of the seasons whose pressures were looked at; trials 0 if none were.
 * @returns a chart of one row of data for each check of each set-up.
 * @throws UsageError if there is no set-up, or more checks than are drawn well.
 */
export function limitsChart(
  limits: readonly SetupLimits[],
  run: { readonly trials: number; readonly seed: string },
): ChartSpec {
  if (limits.length === 0) throw new UsageError('there are no limits of any set-up: nothing to draw');
  const order = checkOrder(limits);
  if (order.length === 0) throw new UsageError('no limit applies to the set-up: nothing to draw');
  const finding = limitsFinding(limits);
  const single = limits.length === 1;
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        single
          ? 'Margin left of each limit, at the medians of all assumptions and the cold setting; thin lines: 8 worlds in 10.'
          : 'Margin left as a share of the limit, at the medians of all assumptions and the cold setting.',
        ...(seasonsLived(limits)
          ? [
              'Not all season: within the limit as set, beyond it at pressures met between checks in one season in ten.',
            ]
          : []),
        'To weigh: limits of conditions that come and go (flooded runway, soft ground, pushing alone).',
        provenance(run),
        CHART_CAUTION,
      ],
      description: printable(
        `Limits of ${counted(limits.length, 'set-up')}, ${counted(order.length, 'check')} each. ${finding}. ${limits.map(limitsAnswerText).join(' ')}`,
      ),
    },
    limitRows(limits, order),
    single
      ? limitBars(order)
      : limitGrid(
          order,
          limits.map(({ setup }) => setup),
        ),
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

/** Whether pressures of a season were looked at. */
function seasonsLived(limits: readonly SetupLimits[]): boolean {
  return limits.some(({ seasonPressures }) => seasonPressures !== null);
}

function limitsFinding(limits: readonly SetupLimits[]): string {
  const [first] = limits;
  const unknown = limits.reduce((sum, each) => sum + sortedOut(each).unknown.length, 0);
  const lacking = unknown === 0 ? '' : `; ${counted(unknown, 'check')} for lack of data not made`;
  if (limits.length === 1) {
    const { beyond, within } = sortedOut(first!);
    const later = laterBeyond(first!).length;
    const season = later === 0 ? '' : `${beyond.length === 0 ? ' as set' : ''}; ${later} more not all season`;
    const checked = beyond.length + within.length;
    const codes = [...new Set(beyond.map(({ code }) => code))];
    return beyond.length === 0
      ? `${shortName(first!.setup)} is within all limits checked${season.replace('more not', 'of them not')}${lacking}`
      : `${shortName(first!.setup)} is beyond ${beyond.length} of ${counted(checked, 'limit')}: ${listText(codes)}${season}${lacking}`;
  }
  const clear = limits.filter((each) => sortedOut(each).beyond.length === 0);
  const asSet = limits.some((each) => laterBeyond(each).length > 0) ? ' as set' : '';
  if (clear.length === limits.length)
    return `All ${limits.length} set-ups are within their limits${asSet}${lacking}`;
  if (clear.length === 0) return `Each of the ${limits.length} set-ups is beyond a limit${lacking}`;
  const beyond = limits.filter((each) => !clear.includes(each));
  const name = (each: readonly SetupLimits[]): string =>
    each.length <= MOST_NAMED
      ? listText(each.map(({ setup }) => shortName(setup, 24)))
      : `${each.length} set-ups`;
  const is = beyond.length === 1 ? 'is' : 'are';
  return `${name(beyond)} ${is} beyond a limit, the other ${counted(clear.length, 'set-up')} within all${asSet}${lacking}`;
}
