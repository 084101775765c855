import type { LimitCheck, SetupFigure, SetupLimits } from '../decide/limit-types.js';
import {
  byUrgency,
  checkName,
  figureAmount,
  isBeyondLater,
  laterBeyond,
  limitAmount,
  marginShare,
  sortedOut,
  statusWords,
} from '../present/limit-words.js';
import { percentText } from '../present/words.js';
import { html, type Html } from './html.js';
import { table, type Column } from './table.js';

interface Lacking {
  readonly name: string;
  readonly needs: Set<string>;
  readonly setups: Set<string>;
}

/** Checks that were not made for lack of data, and what they need. */
export function lackingTable(limits: readonly SetupLimits[]): Html[] {
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
  { title: 'Check', cell: checkName },
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
    .map(({ state, gaugePa, value, margin }) => {
      const by = margin === null ? limitAmount(value, unit) : `by ${limitAmount(Math.abs(margin), unit)}`;
      return `${by} when ${state} at ${limitAmount(gaugePa, 'Pa')}`;
    })
    .join('; ');
}

/** Beyond as set, then beyond in the season, then the others by their margin. */
function beyondFirst(checks: readonly LimitCheck[]): LimitCheck[] {
  const sorted = byUrgency(checks);
  const first = sorted.filter(isTroubled);
  return [...first, ...sorted.filter((check) => !first.includes(check))];
}

function isTroubled(check: LimitCheck): boolean {
  return (check.status === 'beyond' && check.binding) || isBeyondLater(check);
}

/** Every check of a set-up, those beyond a limit first, and its figures without a limit. */
export function setupTables({
  setup,
  mainTire,
  thirdTire,
  mainColdPa,
  thirdColdPa,
  checks,
  figures,
}: SetupLimits): Html {
  const cold = `main ${mainTire} at ${limitAmount(mainColdPa, 'Pa')}, third wheel ${thirdTire} at ${limitAmount(thirdColdPa, 'Pa')}`;
  const marked = checks.some(isTroubled) ? '; marked: beyond, as set or in the season' : '';
  return html`${table(COLUMNS, beyondFirst(checks), {
    caption: `Limits of ${setup}: ${cold}${marked}`,
    leads: isTroubled,
  })}
  ${figures.length === 0 ? '' : figuresTable(setup, figures)}`;
}

/** The same, folded under what came of the checks. */
export function foldedTables(limits: SetupLimits): Html {
  const { beyond, toWeigh, within, unknown } = sortedOut(limits);
  const later = laterBeyond(limits).length;
  const counts = [
    `${beyond.length} beyond`,
    ...(later === 0 ? [] : [`${later} beyond in the season only`]),
    `${toWeigh.length} to weigh`,
    `${within.length - later} within`,
    `${unknown.length} not checked`,
  ];
  return html`<details>
    <summary>Every check of ${limits.setup}: ${counts.join(', ')}</summary>
    ${setupTables(limits)}
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

interface Source {
  readonly source: string;
  readonly codes: Set<string>;
}

/** Where the limits come from, once for all set-ups. */
export function sourcesTable(limits: readonly SetupLimits[]): Html {
  const sources = new Map<string, Source>();
  for (const { code, source } of limits.flatMap(({ checks }) => checks)) {
    const known = sources.get(source) ?? { source, codes: new Set() };
    known.codes.add(code);
    sources.set(source, known);
  }
  const columns: Column<Source>[] = [
    { title: 'Check', cell: ({ codes }) => [...codes].join(', ') },
    { title: 'Source', cell: ({ source }) => source },
  ];
  return html`<details>
    <summary>Where the limits come from</summary>
    ${table(columns, [...sources.values()], { caption: 'Sources of the limits' })}
  </details>`;
}
