import { figureText } from '../present/words.js';
import { UsageError } from '../problems.js';
import type { KnownAnswer } from '../yardsticks/yardstick.js';
import { LABEL_LINE_PX, mostLines, nameAxis, ROW_LABEL_PX } from './labels.js';
import { counted, rounded } from './measures.js';
import { chartData, COLOURS, makeChart, type ChartRow, type ChartSpec, type ChartWords } from './spec.js';
import { provenance } from './words.js';

/** What the chart needs of a known answer. */
export type KnownAnswerRow = Pick<
  KnownAnswer,
  'name' | 'exact' | 'estimate' | 'standardError' | 'unit' | 'trials' | 'seed'
>;

const WIDTH_PX = 340;
const ROW_PX = 26;
/** Half of the axis, standard errors, at least and at most. */
const LEAST_REACH = 5;
const MOST_REACH = 10;
const USUAL = 2;
const RARE = 4;
/** Without chance, the estimate must agree to this share. */
const EQUAL_SHARE = 1e-9;

/** Told apart by colour and shape. */
const GROUPS = [
  { name: 'within 2 standard errors, or equal', colour: COLOURS.blue, shape: 'circle' },
  { name: '2 to 4', colour: COLOURS.orange, shape: 'diamond' },
  { name: 'beyond 4', colour: COLOURS.vermilion, shape: 'square' },
] as const;

/**
 * Chart of the simulator against exact results: for each, how many standard errors the estimate is off.
 *
 * @param rows from `knownAnswers`.
 * @returns a Vega-Lite specification, the largest error above zero first.
 * @throws UsageError without rows, or for a number that is not finite.
 * @example
 * import { knownAnswersChart } from 'gravelbar';
 * const die = { name: 'a die', exact: 3.5, estimate: 3.48, standardError: 0.02, unit: 'points', trials: 7000, seed: '1' };
 * const { title } = knownAnswersChart([die]);
 * title.text.join(' ').slice(0, 35); // => 'The simulator against exact results'
 */
export function knownAnswersChart(rows: readonly KnownAnswerRow[]): ChartSpec {
  requireRows(rows);
  const sorted = rows.map((row) => ({ ...row, off: errorsOff(row) })).sort((a, b) => b.off - a.off);
  const largest = sorted.reduce((most, { off }) => Math.max(most, Math.abs(off)), 0);
  const reach = Math.min(MOST_REACH, Math.max(LEAST_REACH, Math.ceil(largest + 0.5)));
  const names = sorted.map(({ name }) => name);
  const x = {
    type: 'quantitative',
    title: 'estimate minus exact result (standard errors)',
    // Room for marks that point out at the ends.
    scale: { domain: [-1.08 * reach, 1.08 * reach], nice: false },
    axis: { grid: false, values: ticks(reach), labelFlush: false, labelOverlap: false },
  };
  const y = {
    field: 'place',
    type: 'ordinal',
    scale: { domain: names.map((_, place) => place) },
    axis: nameAxis(names),
  };
  const group = (range: readonly string[]) => ({
    field: 'group',
    type: 'nominal',
    title: null,
    scale: { domain: GROUPS.map(({ name }) => name), range },
    legend: { orient: 'bottom', symbolSize: 70, symbolOpacity: 1 },
  });
  const rowPx = Math.max(ROW_PX, LABEL_LINE_PX * mostLines(names, ROW_LABEL_PX) + 8);
  return makeChart(
    words(sorted),
    sorted.map((row, place) => chartRow(row, place, reach)),
    {
      width: WIDTH_PX,
      height: rowPx * names.length,
      layer: [
        ...[RARE, USUAL].map((errors) => ({
          data: chartData([{ from: -errors, to: errors }]),
          mark: { type: 'rect', color: '#BBBBBB', opacity: 0.3, aria: false },
          encoding: { x: { ...x, field: 'from' }, x2: { field: 'to' } },
        })),
        { mark: { type: 'rule', color: '#888888', aria: false }, encoding: { x: { ...x, datum: 0 } } },
        {
          mark: { type: 'point', filled: true, size: 75, opacity: 1 },
          encoding: {
            x: { ...x, field: 'shown' },
            y,
            color: group(GROUPS.map(({ colour }) => colour)),
            shape: group(GROUPS.map(({ shape }) => shape)),
            description: { field: 'said' },
            tooltip: [
              { field: 'name', title: 'case' },
              { field: 'exactText', title: 'exact' },
              { field: 'estimateText', title: 'simulated' },
              { field: 'offText', title: 'off' },
            ],
          },
        },
        ...(['left', 'right'] as const).map((side) => ({
          // Off the scale: a mark at the end of the axis points out.
          transform: [{ filter: `datum.beyond === '${side}'` }],
          mark: {
            type: 'point',
            filled: true,
            shape: `triangle-${side}`,
            size: 90,
            opacity: 1,
            color: COLOURS.vermilion,
            xOffset: side === 'left' ? -9 : 9,
            aria: false,
          },
          encoding: { x: { ...x, field: 'shown' }, y },
        })),
        {
          mark: { type: 'text', align: 'left', baseline: 'middle', aria: false },
          encoding: { x: { value: WIDTH_PX + 12 }, y, text: { field: 'label' } },
        },
      ],
    },
  );
}

function requireRows(rows: readonly KnownAnswerRow[]): void {
  if (rows.length === 0) throw new UsageError('a chart of known answers needs at least one');
  for (const { name, exact, estimate, standardError } of rows) {
    if ([exact, estimate, standardError].every(Number.isFinite) && standardError >= 0) continue;
    throw new UsageError(
      `${name}: exact, estimate and standard error must be finite numbers, the last 0 or more; found ${exact}, ${estimate}, ${standardError}`,
    );
  }
}

/** Standard errors from the exact result; without chance 0 where both are equal, else infinite. */
function errorsOff({ exact, estimate, standardError }: KnownAnswerRow): number {
  const difference = estimate - exact;
  if (standardError > 0) return difference / standardError;
  return Math.abs(difference) <= EQUAL_SHARE * Math.abs(exact) ? 0 : difference * Infinity;
}

interface OffRow extends KnownAnswerRow {
  readonly off: number;
}

function groupOf(off: number): string {
  const size = Math.abs(off);
  return GROUPS[size <= USUAL ? 0 : size <= RARE ? 1 : 2].name;
}

function chartRow(row: OffRow, place: number, reach: number): ChartRow {
  const { name, exact, estimate, standardError, unit, off } = row;
  const digits = digitsFor(exact, standardError);
  const exactText = numberText(exact, digits);
  const error = standardError === 0 ? '' : ` ± ${numberText(standardError, digits)}`;
  const simulated = `${numberText(estimate, digits)}${error} ${unit}`;
  const offText = offWords(off, standardError);
  return {
    name,
    place,
    beyond: off > reach ? 'right' : off < -reach ? 'left' : 'no',
    shown: rounded(Math.min(reach, Math.max(-reach, off)), 3),
    group: groupOf(off),
    label: `exact ${exactText}, simulated ${simulated}`,
    exactText: `${exactText} ${unit}`,
    estimateText: simulated,
    offText,
    said: `${name}: exact ${exactText}, simulated ${simulated}; ${offText}`,
  };
}

function offWords(off: number, standardError: number): string {
  if (standardError === 0) return off === 0 ? 'equal, without chance' : 'not equal, though without chance';
  return `${rounded(off, 2).toFixed(2)} standard errors`;
}

/** The place of the last digit to show, as a power of ten: two figures of the error, or four of an exact result. */
function digitsFor(exact: number, standardError: number): number {
  const [size, figures] = standardError > 0 ? [standardError, 2] : [Math.abs(exact), 4];
  return size === 0 ? 0 : Math.floor(Math.log10(size)) - figures + 1;
}

/** A number down to a power of ten; with an exponent where it would be mostly zeros. */
function numberText(value: number, digits: number): string {
  if (digits < -6 && value !== 0) {
    const figures = Math.min(20, Math.max(0, Math.floor(Math.log10(Math.abs(value))) - digits));
    return value.toExponential(figures);
  }
  const decimals = Math.min(6, Math.max(0, -digits));
  return value.toLocaleString('en-US', { minimumFractionDigits: decimals, maximumFractionDigits: decimals });
}

/** Whole standard errors, every one or every second. */
function ticks(reach: number): number[] {
  const step = reach > LEAST_REACH ? 2 : 1;
  const steps = Math.floor(reach / step);
  return Array.from({ length: 2 * steps + 1 }, (_, index) => (index - steps) * step);
}

function words(rows: readonly OffRow[]): ChartWords {
  const within = rows.filter(({ off }) => Math.abs(off) <= USUAL).length;
  const beyond = rows.filter(({ off }) => Math.abs(off) > RARE);
  const worst = rows.reduce((a, b) => (Math.abs(b.off) > Math.abs(a.off) ? b : a));
  const trials = rows.reduce((most, row) => Math.max(most, row.trials), 0);
  const agreement =
    within === rows.length && within > 1
      ? `all ${counted(rows.length, 'known answer')} within 2 standard errors`
      : `${within} of ${counted(rows.length, 'known answer')} within 2 standard errors`;
  const verdict =
    beyond.length === 0
      ? 'none beyond 4'
      : `${beyond.length} beyond 4: look into ${beyond.length === 1 ? 'it' : 'them'}`;
  return {
    title: `The simulator against exact results: ${agreement}, ${verdict}`,
    subtitle: [
      `Shaded: 2 and 4 standard errors; by chance about 1 in 20 falls outside the inner band. Each case: ${provenance({ trials, seed: rows[0]!.seed })}`,
      'It shows that the sums are right, not that the assumptions are: most wear and cut rates are unmeasured.',
    ],
    description:
      `Estimates of the simulator minus exact results, in standard errors: ${agreement}, ${verdict}. ` +
      `Largest difference: ${worst.name}, exact ${figureText(worst.exact)}, simulated ${figureText(worst.estimate)} ${worst.unit}, ${offWords(worst.off, worst.standardError)}.`,
  };
}
