import type { AssumptionFit, FittedReading } from '../calibrate/posterior-types.js';
import { vacuousText, withoutVacuous } from '../calibrate/telling-readings.js';
import { wilsonInterval } from '../estimate/proportion.js';
import { UsageError } from '../problems.js';
import { capitalized, percentText, printable } from '../present/words.js';
import { fewGroups, groupLook, REST, type FewGroups } from './fit-groups.js';
import { thinned, thinningText } from './fit-thinning.js';
import { fitProvenance, fitWarning } from './fit-words.js';
import { percentSpan } from './figures.js';
import { counted, millimetres, rounded } from './measures.js';
import { chartData, INK, makeChart, type ChartPart, type ChartRow, type ChartSpec } from './spec.js';
import { CHART_CAUTION } from './words.js';

/** What {@link predictedReadingsChart} tells apart. */
export interface PredictedReadingsOptions {
  /** Colour and shape of the marks: surface of most landings since the reading before, or band; default surface. */
  readonly by?: 'surface' | 'band' | undefined;
}

const MOST_FITTED = 1200;
const MOST_HELD_OUT = 600;
const ALONE_PX = 420;
const BESIDE_PX = 310;
const ORDER = 'surface, band, tire and day';
const PLAIN = { fitted: 'fitted reading', heldOut: 'held-out reading' } as const;

/**
 * Chart of groove depths read against those expected without any reading of the same tire (mm), with the range that should
 * hold 8 of 10 and the line of equality. Readings held out of the fit have a panel of their own.
 *
 * @param fit from `fitAssumptions`.
 * @param options what the marks tell apart.
 * @returns a chart of one row of data for each reading; beyond 1200 fitted and 600 held-out ones every second, third, ...
 *   in order of surface, band, tire and day.
 * @throws UsageError if the records hold no groove reading.
 */
export function predictedReadingsChart(
  fit: AssumptionFit,
  { by = 'surface' }: PredictedReadingsOptions = {},
): ChartSpec {
  const { readings, left } = withoutVacuous(fit.checks.readings);
  const groups = fewGroups(readings.map((each) => each[by]));
  const kinds = (['fitted', 'heldOut'] as const).flatMap((kind) => {
    const own = readings.filter(({ heldOut }) => heldOut === (kind === 'heldOut'));
    return own.length === 0 ? [] : [{ kind, own, held: shareHeld(own) }];
  });
  if (kinds.length === 0) throw new UsageError('the records hold no groove reading: nothing to draw');
  const sizePx = kinds.length > 1 ? BESIDE_PX : ALONE_PX;
  const drawn = kinds.map(({ kind, own, held }) => ({
    kind,
    held,
    ...thinned(own, kind === 'fitted' ? MOST_FITTED : MOST_HELD_OUT, ({ surface, band, tire, date }) => [
      surface,
      band,
      tire,
      date,
    ]),
  }));
  const end = greatestDepth(drawn.flatMap(({ kept }) => kept));
  const shares = drawn.map(({ kind, held }) => `${heldText(held)} of ${counted(held.of, PLAIN[kind])}`);
  const chart = makeChart(
    {
      title: `80 % ranges hold ${shares.at(-1)!}`,
      subtitle: [
        'Each bar: range expected to hold the reading in 8 of 10 cases, from the fitted assumptions and no reading of that tire.',
        'On the line: read as expected. Bars that miss the line do not hold their reading.',
        'Readings of one tire are alike: the 95 % intervals of the shares are too narrow where tires are few.',
        ...vacuousText(left),
        ...thinningText(Math.max(...drawn.map(({ every }) => every)), ORDER),
        ...fitWarning(fit),
        fitProvenance(fit),
        CHART_CAUTION,
      ],
      description: printable(
        `Groove depths read against those expected. ${shares.map((share) => `80 % ranges hold ${share}.`).join(' ')} ` +
          `Depths go up to ${end} mm.`,
      ),
    },
    [],
    {
      hconcat: drawn.map(({ kind, held, kept }) => ({
        ...panel(
          kept.map((each) => rowOf(each, by, groups)),
          end,
          sizePx,
          groups,
          by,
        ),
        title: {
          text: `${capitalized(PLAIN[kind])}s: ${heldText(held)} of ${held.of.toLocaleString('en-US')} held`,
          anchor: 'start',
          fontSize: 12.5,
          fontWeight: 600,
          offset: 6,
        },
      })),
      spacing: 24,
    },
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

/** End of the axes, mm: a round number above all that is drawn. */
function greatestDepth(readings: readonly FittedReading[]): number {
  const most = readings.reduce(
    (depth, { grooveM, lowM, highM }) => Math.max(depth, grooveM, lowM, highM),
    0.001,
  );
  return rounded(Math.ceil(10_000 * most) / 10, 1);
}

/** How many readings their ranges hold, with the 95 % interval of that share (Wilson). */
interface ShareHeld {
  readonly held: number;
  readonly of: number;
  readonly low: number;
  readonly high: number;
}

function isHeld({ grooveM, lowM, highM }: FittedReading): boolean {
  return grooveM >= lowM && grooveM <= highM;
}

function shareHeld(readings: readonly FittedReading[]): ShareHeld {
  const held = readings.filter(isHeld).length;
  const { lower, upper } = wilsonInterval(held, readings.length, 0.95);
  return { held, of: readings.length, low: lower, high: upper };
}

/** "79 % (76 to 82 %)". */
function heldText({ held, of, low, high }: ShareHeld): string {
  return `${percentText(held / of)} (${percentSpan(low, high)})`;
}

function rowOf(reading: FittedReading, by: 'surface' | 'band', groups: FewGroups): ChartRow {
  const { tire, date, band, landings, surface, grooveM, expectedM, lowM, highM } = reading;
  const [measured, expected] = [millimetres(grooveM), millimetres(expectedM)];
  const [low, high] = [millimetres(Math.min(lowM, highM)), millimetres(Math.max(lowM, highM))];
  const inside = isHeld(reading);
  return {
    group: groups.placeOf(reading[by]),
    measured,
    expected,
    low,
    high,
    tire: printable(tire),
    read: `${date}, ${band}`,
    after: `${counted(Math.round(landings), 'landing')}, last mostly on ${printable(surface)}`,
    measuredText: `${measured.toFixed(1)} mm`,
    expectedText: `${expected.toFixed(1)} mm (${low.toFixed(1)} to ${high.toFixed(1)})`,
    inside,
    said: `${printable(tire)}, ${date}, ${band}: read ${measured.toFixed(1)} mm, expected ${expected.toFixed(1)} mm (${low.toFixed(1)} to ${high.toFixed(1)})${inside ? '' : ', not held'}`,
  };
}

function panel(
  rows: readonly ChartRow[],
  end: number,
  sizePx: number,
  groups: FewGroups,
  by: 'surface' | 'band',
): ChartPart {
  const axis = (field: string, title: string): ChartPart => ({
    field,
    type: 'quantitative',
    title,
    scale: { domain: [0, end], nice: false },
    axis: { tickCount: 6, format: '~r' },
  });
  const x = axis('measured', 'groove read (mm)');
  const y = axis('expected', 'groove expected (mm)');
  const legend = by === 'surface' ? 'surface of most landings since the reading before' : 'band';
  const colour = groupLook(
    groups,
    'colour',
    groups.names.includes(REST) ? `${legend} (most frequent)` : legend,
  );
  const shape = groupLook(
    groups,
    'shape',
    groups.names.includes(REST) ? `${legend} (most frequent)` : legend,
  );
  return {
    width: sizePx,
    height: sizePx,
    data: chartData(rows),
    layer: [
      {
        data: chartData([
          { measured: 0, expected: 0 },
          { measured: end, expected: end },
        ]),
        mark: { type: 'line', color: INK, strokeWidth: 1.2, aria: false },
        encoding: { x, y },
      },
      {
        mark: { type: 'rule', strokeWidth: 1.2, opacity: 0.28, aria: false },
        encoding: { x, y: { ...y, field: 'low' }, y2: { field: 'high' }, color: colour },
      },
      {
        mark: { type: 'point', filled: true, size: 26, opacity: 0.85, stroke: 'white', strokeWidth: 0.4 },
        encoding: {
          x,
          y,
          color: colour,
          shape,
          description: { field: 'said' },
          tooltip: [
            { field: 'tire', title: 'tire' },
            { field: 'read', title: 'reading' },
            { field: 'after', title: 'after' },
            { field: 'measuredText', title: 'read' },
            { field: 'expectedText', title: 'expected (8 of 10)' },
          ],
        },
      },
    ],
  };
}
