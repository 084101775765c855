import { LEAST_ENDS } from '../calibrate/overlay-setup.js';
import type {
  ExpectedCount,
  OverlayCalibration,
  OverlaySetup,
  SurvivalOverlay,
} from '../calibrate/survival-overlay-types.js';
import { UsageError } from '../problems.js';
import { percentText, printable } from '../present/words.js';
import { version } from '../version.js';
import { LABEL_LINE_PX, nameLines, shortName } from './labels.js';
import { counted, rounded } from './measures.js';
import { chartData, COLOURS, makeChart, type ChartPart, type ChartRow, type ChartSpec } from './spec.js';
import { CHART_CAUTION } from './words.js';

const WIDTH_PX = 330;
const HEIGHT_PX = 200;
const ALONE = { widthPx: 560, heightPx: 280 } as const;
const COLUMNS = 2;
const MOST_PANELS = 8;
const MOST_DRAWN = 1900;
const MOST_NAMED = 4;

const BEFORE = 'expected before the records, 8 of 10 worlds';
const FITTED = 'expected after the fit, 8 of 10 worlds';
const RECORDS = 'records (Kaplan-Meier)';
const LOOKS: Readonly<Record<string, string>> = {
  [RECORDS]: COLOURS.black,
  [FITTED]: COLOURS.blue,
  [BEFORE]: COLOURS.orange,
};

/**
 * Chart of lives in records against lives that the simulator expects of the same tires: share of tires still in service (%)
 * against landings since new, a panel for each set-up with at least three ends, with the ranges that should hold the curve of
 * the records in 8 of 10 worlds, before the records and fitted to them.
 *
 * @param overlay from `survivalOverlay`.
 * @returns a chart; where no set-up has three ends, all are drawn and the title says so.
 * @throws UsageError for an overlay without a set-up.
 */
export function survivalOverlayChart(overlay: SurvivalOverlay): ChartSpec {
  const { setups, calibration } = overlay;
  if (setups.length === 0) throw new UsageError('no life is compared: nothing to draw');
  const compared = setups.filter(({ verdict }) => verdict === 'compared');
  const few = setups.filter(({ verdict }) => verdict === 'too few ends');
  const drawn = (compared.length > 0 ? compared : few).slice(0, MOST_PANELS);
  const hidden = Math.max(compared.length, compared.length > 0 ? 0 : few.length) - drawn.length;
  const finding = findingOf(overlay, compared.length > 0);
  const most = Math.floor(MOST_DRAWN / drawn.length);
  const size = drawn.length > 1 ? { widthPx: WIDTH_PX, heightPx: HEIGHT_PX } : ALONE;
  const series = [RECORDS, ...(overlay.source === null ? [] : [FITTED]), BEFORE];
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        `Black: share of ${overlay.position === 'main' ? 'single main tires' : 'nose or tail tires'} in the records still in service. Ranges: the same tires lived again by the simulator, on the strips that they flew; luck is in them, so they are wide where tires are few.`,
        ...(compared.length > 0 ? fewWords(few) : []),
        ...(hidden > 0 ? [`${counted(hidden, 'set-up')} more than can be drawn.`] : []),
        `${counted(overlay.worlds, 'world')}, seed ${overlay.seed}, gravelbar ${version()}. Records: "${shortName(overlay.logbook, 40)}".`,
        CHART_CAUTION,
      ],
      description: printable(
        `Lives of ${overlay.position === 'main' ? 'main tires' : 'nose or tail tires'} in the records against those expected. ${finding}. ` +
          `${setups.map((each) => `${each.setup}: ${endsText(each)}.`).join(' ')} ` +
          calibrationText('Before the records', calibration.before) +
          (calibration.fitted === null ? '' : ` ${calibrationText('After the fit', calibration.fitted)}`),
      ),
    },
    [],
    {
      columns: COLUMNS,
      spacing: 26,
      concat: drawn.map((each) => panel(each, most, size, series)),
    },
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function findingOf({ calibration: { before, fitted } }: SurvivalOverlay, some: boolean): string {
  if (!some) return `Fewer than ${LEAST_ENDS} tires of each set-up came off: only their number is compared`;
  const shown = fitted ?? before;
  const when = fitted === null ? 'Before any fit' : 'After the fit';
  return `${when}, recorded lives lie in the 80 % range at ${shown.endsHeld} of ${counted(shown.ends, 'end')}`;
}

function calibrationText(when: string, { endsHeld, ends, setupsHeld, setups }: OverlayCalibration): string {
  return `${when} the range holds ${endsHeld} of ${counted(ends, 'end')}, and the number of ends of ${setupsHeld} of ${counted(setups, 'set-up')}.`;
}

function spanText({ low, high }: ExpectedCount): string {
  const [from, to] = [Math.floor(low), Math.ceil(high)];
  return from === to ? String(from) : `${from} to ${to}`;
}

/** "16 of 22 tires came off (expected 12 to 16)". */
function endsText({ tires, ends, endsBefore, endsFitted }: OverlaySetup): string {
  return `${ends} of ${counted(tires, 'tire')} came off (expected ${spanText(endsFitted ?? endsBefore)})`;
}

function fewWords(few: readonly OverlaySetup[]): string[] {
  if (few.length === 0) return [];
  const told = few.slice(0, MOST_NAMED).map((each) => `${shortName(each.setup)}, ${endsText(each)}`);
  const more = few.length > MOST_NAMED ? `; and ${few.length - MOST_NAMED} more` : '';
  return [`Too few ends for a curve: ${told.join('; ')}${more}.`];
}

function rowsOf(setup: OverlaySetup, most: number): ChartRow[] {
  const { landings, records, before, fitted } = setup;
  const every = Math.ceil(landings.length / most);
  const share = (values: readonly (number | null)[] | undefined, k: number): number | null => {
    const value = values?.[k] ?? null;
    return value === null ? null : rounded(value, 4);
  };
  const text = (low: number | null, high: number | null): string =>
    low === null || high === null ? 'not told' : `${percentText(low)} to ${percentText(high)}`;
  return landings.flatMap((at, k): ChartRow[] => {
    if (k % every !== 0 && k !== landings.length - 1) return [];
    const recorded = share(records.survival, k);
    const [fittedLow, fittedHigh] = [share(fitted?.low, k), share(fitted?.high, k)];
    const [beforeLow, beforeHigh] = [share(before.low, k), share(before.high, k)];
    const count = Math.round(at);
    const recordedText = recorded === null ? 'not told' : percentText(recorded);
    return [
      {
        landings: rounded(at, 1),
        recorded,
        beforeLow,
        beforeHigh,
        fittedLow,
        fittedHigh,
        after: counted(count, 'landing'),
        recordedText,
        doubtText: text(share(records.lower, k), share(records.upper, k)),
        beforeText: text(beforeLow, beforeHigh),
        fittedText: text(fittedLow, fittedHigh),
        said: `${printable(setup.setup)} after ${counted(count, 'landing')}: recorded ${recordedText}, expected ${fitted === null ? text(beforeLow, beforeHigh) : text(fittedLow, fittedHigh)}`,
      },
    ];
  });
}

function panel(
  setup: OverlaySetup,
  most: number,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
  series: readonly string[],
): ChartPart {
  const last = setup.landings.at(-1)!;
  const x = {
    field: 'landings',
    type: 'quantitative',
    title: 'landings since new',
    scale: { domain: [0, Math.max(1, last)], nice: false },
    axis: { grid: false, tickCount: 6, format: ',~r' },
  };
  const y = (field: string): ChartPart => ({
    field,
    type: 'quantitative',
    title: 'tires still in service (%)',
    scale: { domain: [0, 1] },
    axis: { format: '.0%', tickCount: 5 },
  });
  const colour = {
    field: 'series',
    type: 'nominal',
    title: null,
    scale: { domain: series, range: series.map((each) => LOOKS[each]) },
    legend: { orient: 'bottom', direction: 'horizontal', columns: 1, symbolType: 'square', symbolOpacity: 1 },
  };
  const valid = (field: string): ChartPart[] => [{ filter: `isValid(datum.${field})` }];
  const named = (name: string, field: string): ChartPart[] => [
    ...valid(field),
    { calculate: `'${name}'`, as: 'series' },
  ];
  const band = (name: string, low: string, high: string, dash: readonly number[]): ChartPart[] => [
    {
      // White below, so that two bands do not mix their colours.
      transform: valid(low),
      mark: { type: 'area', interpolate: 'step-after', color: 'white', opacity: 1, aria: false },
      encoding: { x, y: y(low), y2: { field: high } },
    },
    {
      transform: named(name, low),
      mark: { type: 'area', interpolate: 'step-after', opacity: 0.22, aria: false },
      encoding: { x, y: y(low), y2: { field: high }, color: colour },
    },
    ...[low, high].map((field) => ({
      transform: named(name, field),
      mark: { type: 'line', interpolate: 'step-after', strokeWidth: 1.2, strokeDash: dash, aria: false },
      encoding: { x, y: y(field), color: colour },
    })),
  ];
  const isFitted = setup.fitted !== null;
  return {
    data: chartData(rowsOf(setup, most)),
    width: widthPx,
    height: heightPx,
    title: {
      text: [...nameLines(setup.setup, widthPx).slice(0, 2), endsText(setup)],
      anchor: 'start',
      frame: 'group',
      fontSize: 12,
      lineHeight: LABEL_LINE_PX,
      offset: 6,
    },
    layer: [
      ...band(BEFORE, 'beforeLow', 'beforeHigh', [4, 3]),
      ...(isFitted ? band(FITTED, 'fittedLow', 'fittedHigh', [1, 0]) : []),
      {
        transform: named(RECORDS, 'recorded'),
        mark: { type: 'line', interpolate: 'step-after', strokeWidth: 2.2, aria: false },
        encoding: { x, y: y('recorded'), color: colour },
      },
      {
        transform: valid('recorded'),
        mark: { type: 'point', opacity: 0, size: 70, filled: true },
        encoding: {
          x,
          y: y('recorded'),
          description: { field: 'said' },
          tooltip: [
            { field: 'after', type: 'nominal', title: 'after' },
            { field: 'recordedText', type: 'nominal', title: 'in the records' },
            { field: 'doubtText', type: 'nominal', title: 'its 95 % interval' },
            { field: 'beforeText', type: 'nominal', title: 'expected before (8 of 10)' },
            ...(isFitted
              ? [{ field: 'fittedText', type: 'nominal', title: 'expected after the fit (8 of 10)' }]
              : []),
          ],
        },
      },
    ],
  };
}
