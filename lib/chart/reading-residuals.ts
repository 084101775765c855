import { wilsonInterval } from '../estimate/proportion.js';
import type { AssumptionFit, FittedReading } from '../calibrate/posterior-types.js';
import { UsageError } from '../problems.js';
import { percentText, printable } from '../present/words.js';
import { fewGroups, REST } from './fit-groups.js';
import { thinned, thinningText } from './fit-thinning.js';
import { fitProvenance, fitWarning } from './fit-words.js';
import { percentSpan } from './figures.js';
import { nameLines, shortName } from './labels.js';
import { counted, rounded } from './measures.js';
import { FURTHEST, HELD_WITHIN, RESIDUAL_WIDTH_PX, residualPanels } from './residual-panels.js';
import { makeChart, type ChartRow, type ChartSpec } from './spec.js';
import { CHART_CAUTION } from './words.js';

/** What {@link readingResidualsChart} draws readings over. */
export interface ReadingResidualsOptions {
  /** Landings since the log took the tire up, or day of the reading; default landings. */
  readonly over?: 'landings' | 'date' | undefined;
}

const MOST_PANELS = 8;
const MOST_DRAWN = 1500;
/** From here on a reading has its tire named: 1 in 2000. */
const FAR_OUT = 3.5;

interface SurfacePart {
  readonly name: string;
  readonly readings: readonly FittedReading[];
  readonly held: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Chart of how far readings are from what the readings of the same tire before them let expect (standard deviations), a
 * panel for each surface, with the band that should hold 80 % and the share that it holds. Tires that do not fit are named.
 *
 * @param fit from `fitAssumptions`.
 * @param options what runs along the lower axis.
 * @returns a chart of one row of data for each reading; beyond 1500 every second, third, ... in order of surface, band,
 *   tire and day.
 * @throws UsageError if the records hold no groove reading.
 */
export function readingResidualsChart(
  fit: AssumptionFit,
  { over = 'landings' }: ReadingResidualsOptions = {},
): ChartSpec {
  const { readings, tires } = fit.checks;
  if (readings.length === 0) throw new UsageError('the records hold no groove reading: nothing to draw');
  const groups = fewGroups(
    readings.map(({ surface }) => surface),
    MOST_PANELS,
  );
  const parts = groups.names.map((name, place) =>
    partOf(
      name,
      readings.filter(({ surface }) => groups.placeOf(surface) === place),
    ),
  );
  const whole = partOf('all', readings);
  const flagged = tires.filter((each) => each.flagged).map(({ tire }) => tire);
  const { kept, every } = thinned(readings, MOST_DRAWN, ({ surface, band, tire, date }) => [
    surface,
    band,
    tire,
    date,
  ]);
  // What stands out is drawn whatever is thinned.
  const standing = readings.filter((each) => stands(each));
  const drawn = new Set([...kept, ...standing.slice(0, 400)]);
  const rows = readings.flatMap((each): ChartRow[] =>
    drawn.has(each) ? [rowOf(each, over, groups.placeOf(each.surface), flagged)] : [],
  );
  const far = standing.length;
  const finding = `80 % ranges hold ${shareText(whole)} of ${counted(readings.length, 'reading')}`;
  const chart = makeChart(
    {
      title: `Step by step, ${finding}`,
      subtitle: [
        'How far each reading is from what the readings before it on the same tire let expect; above 0: more groove than expected.',
        'Shaded: where 80 % should lie. Triangles: further out than can be drawn.',
        ...flaggedWords(flagged),
        ...thinningText(every, 'surface, band, tire and day').map((text) =>
          text.replace('Drawn:', 'Drawn: all beyond 3.5 and'),
        ),
        ...fitWarning(fit),
        fitProvenance(fit),
        CHART_CAUTION,
      ],
      description: printable(
        `Distances of ${counted(readings.length, 'reading')} from what was expected, by surface. ${finding}. ` +
          parts.map((part) => `${part.name}: ${shareText(part)} of ${part.readings.length}.`).join(' ') +
          ` ${far === 0 ? 'None' : counted(far, 'reading')} beyond ${FAR_OUT} standard deviations. ${flaggedWords(flagged).join(' ')}`,
      ),
    },
    [],
    {
      vconcat: residualPanels(
        parts.map((part) => [
          ...nameLines(part.name, RESIDUAL_WIDTH_PX).slice(0, 2),
          `${shareText(part)} of ${counted(part.readings.length, 'reading')} held`,
        ]),
        rows,
        over,
      ),
      spacing: 12,
    },
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function stands({ stepwiseOffBy }: FittedReading): boolean {
  return Math.abs(stepwiseOffBy) > FAR_OUT;
}

function partOf(name: string, readings: readonly FittedReading[]): SurfacePart {
  const held = readings.filter(({ stepwiseOffBy }) => Math.abs(stepwiseOffBy) <= HELD_WITHIN).length;
  const { lower, upper } = wilsonInterval(held, readings.length, 0.95);
  return {
    name: name === REST ? 'other surfaces' : printable(name),
    readings,
    held,
    low: lower,
    high: upper,
  };
}

function shareText({ held, readings, low, high }: SurfacePart): string {
  return `${percentText(held / readings.length)} (${percentSpan(low, high)})`;
}

function flaggedWords(tires: readonly string[]): string[] {
  if (tires.length === 0) return [];
  const told = tires.slice(0, 4).map((tire) => shortName(tire, 24));
  const more = tires.length > 4 ? ` and ${tires.length - 4} more` : '';
  return [`Readings of ${told.join(', ')}${more} do not fit the others: look at these tires (red diamonds).`];
}

function rowOf(
  { tire, date, band, landings, grooveM, stepwiseOffBy, heldOut, surface }: FittedReading,
  over: 'landings' | 'date',
  place: number,
  flagged: readonly string[],
): ChartRow {
  const off = rounded(stepwiseOffBy, 2);
  const beyond = off > FURTHEST ? 'up' : off < -FURTHEST ? 'down' : 'no';
  return {
    place,
    at: over === 'landings' ? rounded(landings, 1) : Date.parse(date),
    drawn: Math.min(FURTHEST, Math.max(-FURTHEST, off)),
    off,
    beyond,
    held: Math.abs(stepwiseOffBy) <= HELD_WITHIN,
    flagged: flagged.includes(tire),
    far: Math.abs(stepwiseOffBy) > FAR_OUT,
    tire: printable(tire),
    label: shortName(tire, 16),
    read: `${date}, ${band}${heldOut ? ', held out' : ''}`,
    groove: `${(1000 * grooveM).toFixed(1)} mm after ${counted(Math.round(landings), 'landing')}, last mostly on ${printable(surface)}`,
    offText: `${off > 0 ? '+' : ''}${off.toFixed(1)} standard deviations`,
    said: `${printable(tire)}, ${date}, ${band}: ${off.toFixed(1)} standard deviations`,
  };
}
