import { limitsChart } from '../chart/limits.js';
import type { LimitCheck, SetupFigure, SetupLimits } from '../decide/limit-types.js';
import { setupLimits } from '../decide/setup-limits.js';
import {
  byUrgency,
  checkName,
  figureAmount,
  isBeyondLater,
  laterBeyond,
  limitAmount,
  limitsAnswerText,
  marginShare,
  sortedOut,
  statusWords,
} from '../present/limit-words.js';
import { listText } from '../present/lists.js';
import { percentText } from '../present/words.js';
import { CancelledError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { STOPPED, type Chapter, type CollectOptions } from './chapter.js';
import { html, type Html } from './html.js';
import { pressuresOfSeason } from './season-limits.js';
import { table, type Column } from './table.js';

/**
 * The chapter on limits: for each set-up what is beyond, within and not checked, those beyond a limit first.
 *
 * @param compiled the scenario.
 * @param trials seasons lived through for each set-up and mix, whose pressures are looked at too.
 * @param options progress and stop; without the pressures of a season the limits still stand.
 */
export async function limitsChapter(
  compiled: CompiledScenario,
  trials: number,
  options: CollectOptions,
): Promise<Chapter> {
  const seasons = await seasonsUnlessStopped(compiled, trials, options);
  const limits = byTrouble(setupLimits(compiled, seasons === null ? {} : { seasonPressures: seasons }));
  const mixes = compiled.mixes.map(({ name }) => name);
  return {
    id: 'limits',
    title: 'Limits',
    answers: [overallText(limits), ...(limits.length === 1 ? [] : limits.map(limitsAnswerText))],
    cautions: unique(limits.flatMap(({ cautions }) => cautions.map(({ message }) => message))),
    tables: [...lackingTable(limits), ...limits.map((each) => setupTables(each, limits.length === 1))],
    chart: () =>
      limitsChart(limits, { trials: seasons === null ? 0 : trials, seed: String(compiled.seed) }),
    notes: [
      'Values stand at the medians of all assumptions and the cold setting. Worlds beyond: share of the worlds that our ' +
        'assumptions allow in which the value is beyond its limit. To weigh (beyond *): limits of conditions that come and ' +
        'go, such as a flooded runway or soft ground. What is not known is not checked, and never within.',
      seasons === null
        ? `Pressures met in a season: ${STOPPED.charAt(0).toLowerCase()}${STOPPED.slice(1)}`
        : `Pressures met in a season: the extremes of one season in ten on ${listText(mixes)}, of ${trials} seasons each.`,
    ],
  };
}

async function seasonsUnlessStopped(
  compiled: CompiledScenario,
  trials: number,
  options: CollectOptions,
): ReturnType<typeof pressuresOfSeason> | Promise<null> {
  try {
    return await pressuresOfSeason(compiled, { trials, ...options });
  } catch (error) {
    if (error instanceof CancelledError) return null;
    throw error;
  }
}

/** Beyond a limit first, then beyond one at some pressure of the season; in the order of the file otherwise. */
function byTrouble(limits: readonly SetupLimits[]): SetupLimits[] {
  const trouble = (each: SetupLimits): number =>
    sortedOut(each).beyond.length > 0 ? 2 : laterBeyond(each).length > 0 ? 1 : 0;
  return [...limits].sort((a, b) => trouble(b) - trouble(a));
}

/** All set-ups in one sentence. */
function overallText(limits: readonly SetupLimits[]): string {
  const [only, ...others] = limits;
  if (others.length === 0) return limitsAnswerText(only!);
  const beyond = limits.filter((each) => sortedOut(each).beyond.length > 0);
  const later = limits.filter((each) => !beyond.includes(each) && laterBeyond(each).length > 0);
  const names = (some: readonly SetupLimits[]): string => listText(some.map(({ setup }) => setup));
  const first =
    beyond.length === 0
      ? `No set-up is beyond a limit that could be checked`
      : `Beyond a limit as set: ${names(beyond)}`;
  const second = later.length === 0 ? '' : `; at pressures met in the season also: ${names(later)}`;
  return `${first}${second}.`;
}

function unique(texts: readonly string[]): string[] {
  return [...new Set(texts)];
}

interface Lacking {
  readonly name: string;
  readonly needs: Set<string>;
  readonly setups: Set<string>;
}

/** Checks that were not made for lack of data, and what they need. */
function lackingTable(limits: readonly SetupLimits[]): Html[] {
  const lacking = new Map<string, Lacking>();
  for (const { setup, checks } of limits) {
    for (const check of checks.filter(({ status }) => status === 'not checked')) {
      const name = checkName(check);
      const known = lacking.get(name) ?? { name, needs: new Set(), setups: new Set() };
      for (const need of check.needs) known.needs.add(need);
      known.setups.add(setup);
      lacking.set(name, known);
    }
  }
  if (lacking.size === 0) return [];
  const columns: Column<Lacking>[] = [
    { title: 'Not checked', cell: ({ name }) => name },
    { title: 'What the scenario would have to say', cell: ({ needs }) => [...needs].join(', ') },
    {
      title: 'For',
      cell: ({ setups }) => (setups.size === limits.length ? 'all set-ups' : [...setups].join(', ')),
    },
  ];
  return [table(columns, [...lacking.values()], { caption: 'Checks that lack data' })];
}

const COLUMNS: readonly Column<LimitCheck>[] = [
  { title: 'Check', cell: (check) => html`${checkName(check)} <small>${check.source}</small>` },
  { title: 'Value', cell: ({ value, unit }) => amountOr(value, unit), isNumeric: true },
  {
    title: 'Limit',
    cell: ({ limit, bound, unit }) => (limit === null ? '-' : `${bound} ${limitAmount(limit, unit)}`),
    isNumeric: true,
  },
  {
    title: html`Margin <small>of the limit</small>`,
    cell: (check) => {
      const share = marginShare(check);
      return html`${amountOr(check.margin, check.unit)}
        <small>${share === null ? '' : `${Math.round(100 * share)} %`}</small>`;
    },
    isNumeric: true,
  },
  {
    title: 'Worlds beyond',
    cell: ({ worlds }) => (worlds?.shareBeyond == null ? '-' : percentText(worlds.shareBeyond)),
    isNumeric: true,
  },
  { title: 'Says', cell: saysCell },
];

function amountOr(value: number | null, unit: LimitCheck['unit']): string {
  return value === null ? '-' : limitAmount(value, unit);
}

function saysCell(check: LimitCheck): Html {
  const { status, needs } = check;
  const sharper =
    needs.length === 0
      ? ''
      : `${status === 'not checked' ? 'needs' : 'would be sharper with'} ${needs.join(', ')}`;
  return html`${statusWords(check)}
  ${isBeyondLater(check) ? html`<small>beyond in the season: ${statesText(check)}</small>` : ''}
  ${sharper === '' ? '' : html`<small>${sharper}</small>`}`;
}

function statesText({ season, unit }: LimitCheck): string {
  return season
    .filter(({ status }) => status === 'beyond')
    .map(
      ({ state, gaugePa, value }) =>
        `${limitAmount(value, unit)} when ${state} at ${limitAmount(gaugePa, 'Pa')}`,
    )
    .join('; ');
}

function setupTables(limits: SetupLimits, isAlone: boolean): Html {
  const { setup, mainTire, thirdTire, mainColdPa, thirdColdPa, checks, figures } = limits;
  const isTroubled = (check: LimitCheck): boolean =>
    (check.status === 'beyond' && check.binding) || isBeyondLater(check);
  const all = table(COLUMNS, byUrgency(checks), {
    caption: `Limits of ${setup}: main ${mainTire} at ${limitAmount(mainColdPa, 'Pa')}, third wheel ${thirdTire} at ${limitAmount(thirdColdPa, 'Pa')}`,
    leads: isTroubled,
  });
  const more = figures.length === 0 ? '' : figuresTable(setup, figures);
  if (isAlone) return html`${all} ${more}`;
  const { beyond, toWeigh, within, unknown } = sortedOut(limits);
  const counts = [
    `${beyond.length} beyond`,
    `${toWeigh.length} to weigh`,
    `${within.length} within`,
    `${unknown.length} not checked`,
  ];
  return html`<details>
    <summary>Every check of ${setup}: ${counts.join(', ')}</summary>
    ${all} ${more}
  </details>`;
}

function figuresTable(setup: string, figures: readonly SetupFigure[]): Html {
  const columns: Column<SetupFigure>[] = [
    { title: 'Without a limit, to compare', cell: ({ title }) => title },
    { title: 'Value', cell: figureAmount, isNumeric: true },
    { title: 'Needs', cell: ({ needs }) => (needs.length === 0 ? '-' : needs.join(', ')) },
  ];
  return table(columns, figures, { caption: `Figures of ${setup} without a limit` });
}
