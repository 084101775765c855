import { UsageError } from '../problems.js';
import { FIGURE_WORDS } from '../sensitivity/input-words.js';
import { shareText } from '../present/drivers-words.js';
import { listText } from '../present/lists.js';
import { capitalized, percentText, printable } from '../present/words.js';
import type { DrivenFigure } from '../sensitivity/figures.js';
import type {
  IndexVerdict,
  IndexVerdictKind,
  InputIndices,
  VarianceIndices,
} from '../sensitivity/index-types.js';
import { LANDING_LUCK, type FigureDrivers, type VarianceStudy } from '../sensitivity/variance-types.js';
import { drawnAndLeft, inputLabel, levelText, othersLabel, othersRow } from './driver-rows.js';
import { indexPlot } from './index-plot.js';
import { shortName } from './labels.js';
import { counted } from './measures.js';
import { makeChart, type ChartRow, type ChartSpec } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

/** Which figure {@link indexDotsChart} draws. */
export interface IndexDotsOptions {
  /** Name of the set-up. */
  readonly setup: string;
  readonly figure: DrivenFigure;
  /** The set-up whose lead is looked at; left out or null: the figure itself. */
  readonly versus?: string | null | undefined;
  /** Inputs drawn, 1 to 40; default 12. */
  readonly count?: number | undefined;
}

/** Inputs named in the title. */
const MOST_NAMED = 3;
/** More rows than this are no advice. */
const MOST_ROWS_ASKED = 65_536;
const USUAL_LEVEL = 0.95;
const VERDICT_ORDER: readonly IndexVerdictKind[] = ['matters', 'need more trials', 'too small to see'];

/**
 * Dots of what drives a figure: share of its variance by each input alone (first order) and with all it acts together
 * with (total), with intervals; the luck of landings is an input of its own, and marks tell what can be said of each.
 *
 * @param study from `varianceDrivers`.
 * @param options set-up, figure, and what it is compared with.
 * @returns a chart of one row of data for each input drawn: those that surely matter first, by the lower end of their total
 *   index; then those that cannot be told; then the small ones.
 * @throws UsageError if the study does not have the figure, or for a count out of range.
 */
export function indexDotsChart(study: VarianceStudy, options: IndexDotsOptions): ChartSpec {
  const drivers = driversOf(study, options);
  const { indices } = drivers;
  const paths = new Map(study.inputs.map((input) => [input.name, input.paths]));
  const ranked = [...indices.inputs].sort(bySureness);
  const { drawn, left } = drawnAndLeft(ranked, options.count);
  const names = new Map(ranked.map(({ input }) => [input, inputLabel(input, paths.get(input) ?? [])]));
  const rows = drawn.map((each, place) => indexRow(each, names.get(each.input)!, place, indices));
  const others = othersRow(drawn.length, left.length, othersText(left));
  const finding = capitalized(findingOf(drivers, names));
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        `On ${shortName(study.mix, 24)}, surest first. Knowing all would take away ${shareText(drivers.ignorance)} of the spread.`,
        `${linesText(indices)}${rows.some(({ isNoise }) => isNoise === true) ? ' Grey: above “in all” by chance.' : ''}`,
        `${study.complete ? '' : 'Stopped early: from the rows that were finished. '}${counted(indices.rows, 'row')}, ${provenance(study)} ${CHART_CAUTION}`,
      ],
      description: printable(
        `Shares of the variance of ${whatOf(drivers)} on ${study.mix} by input, in per cent. ${finding}. ` +
          [...rows, ...others].map(({ said }) => `${String(said)}.`).join(' '),
      ),
    },
    [...rows, ...others],
    indexPlot(indices, [
      ...drawn.map(({ input }) => ({ name: names.get(input)! })),
      ...othersLabel(left.length),
    ]),
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

/** Most sure to matter first: by what can be said, then by the lower end, as a few wild trials make any estimate large. */
function bySureness(one: InputIndices, other: InputIndices): number {
  const place = ({ verdict }: InputIndices): number => VERDICT_ORDER.indexOf(verdict.kind);
  return (
    place(one) - place(other) ||
    other.total.lower - one.total.lower ||
    other.total.estimate - one.total.estimate
  );
}

/** What lines are, and why they are longer than usual where they hold for all inputs at once. */
function linesText({ level, inputs }: VarianceIndices): string {
  // By Bonferroni; of a level asked for each by itself no useful one is left together.
  const together = 1 - inputs.length * (1 - level);
  return level > USUAL_LEVEL && together > 0.5
    ? `Lines: ${levelText(level)} each, so that all ${inputs.length} hold together with ${levelText(together)}.`
    : `Lines: ${levelText(level)} intervals, each by itself.`;
}

function driversOf(study: VarianceStudy, { setup, figure, versus = null }: IndexDotsOptions): FigureDrivers {
  const found = study.figures.find(
    (each) => each.setup === setup && each.figure === figure && each.versus === versus,
  );
  if (found !== undefined) return found;
  const there = study.figures.map(
    (each) => `${each.figure} of "${each.setup}"${each.versus === null ? '' : ` against "${each.versus}"`}`,
  );
  throw new UsageError(
    `the study has no ${figure} of "${setup}"${versus === null ? '' : ` against "${versus}"`}; it has: ${there.join(', ')}`,
  );
}

function whatOf({ setup, versus, figure }: FigureDrivers): string {
  const title = FIGURE_WORDS[figure];
  return versus === null
    ? `${title} with ${shortName(setup)}`
    : `the lead of ${shortName(setup)} over ${shortName(versus)} in ${title}`;
}

function indexRow(
  { input, firstOrder, total, verdict }: InputIndices,
  name: string,
  place: number,
  { variance, smallShare }: VarianceIndices,
): ChartRow {
  const text = variance > 0 ? verdictText(verdict, smallShare) : 'nothing to share out';
  // What an input does alone is a part of what it does in all.
  const isNoise = firstOrder.estimate > total.estimate;
  const [alone, whole] = [shareText(firstOrder), shareText(total)];
  return {
    place,
    others: false,
    name,
    kind: input === LANDING_LUCK ? 'luck' : 'assumption',
    first: firstOrder.estimate,
    firstLower: firstOrder.lower,
    firstUpper: firstOrder.upper,
    total: total.estimate,
    totalLower: total.lower,
    totalUpper: total.upper,
    verdict: verdict.kind,
    isNoise,
    text,
    alone: isNoise ? `${alone}, by chance above in all` : alone,
    whole,
    verdictText: verdict.text,
    said: `${name}: ${whole} in all, ${alone} alone; ${text}`,
  };
}

/** What can be said of an input, in a few words; rows are those of the design. */
function verdictText({ kind, rowsNeeded }: IndexVerdict, smallShare: number): string {
  if (kind !== 'need more trials') return kind;
  return rowsNeeded === null || rowsNeeded > MOST_ROWS_ASKED
    ? `not in reach: close to ${levelText(smallShare)}`
    : `need more trials: about ${rowsNeeded.toLocaleString('en-US')} rows`;
}

function othersText(left: readonly InputIndices[]): string {
  const most = left.reduce((largest, { total }) => Math.max(largest, total.upper), 0);
  const open = left.filter(({ verdict }) => verdict.kind === 'need more trials').length;
  return `each at most ${percentText(most)}${open === 0 ? '' : `; ${open} cannot be told yet`}`;
}

function findingOf(drivers: FigureDrivers, names: ReadonlyMap<string, string>): string {
  const { indices } = drivers;
  const matters = [...indices.inputs]
    .sort(bySureness)
    .flatMap(({ input, verdict }) => (verdict.kind === 'matters' ? [input] : []));
  const what = whatOf(drivers);
  if (indices.variance === 0) return `Nothing drives ${what}: it does not vary`;
  const open = indices.inputs.filter(({ verdict }) => verdict.kind === 'need more trials').length;
  const rest = open === 0 ? '' : `; ${open} cannot be told yet`;
  if (matters.length === 0) return `No input is seen to drive ${what}${rest}`;
  const named = matters.slice(0, MOST_NAMED).map((input) => shortName(names.get(input) ?? input, 40));
  const more = matters.length - named.length;
  const drives = matters.length === 1 ? 'drives' : 'drive';
  return `${listText(more === 0 ? named : [...named, `${more} more`])} ${drives} ${what}${rest}`;
}
