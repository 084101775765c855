import type { AssumptionFit } from '../calibrate/posterior-types.js';
import { clopperPearsonInterval } from '../estimate/proportion.js';
import { UsageError } from '../problems.js';
import { percentText, printable } from '../present/words.js';
import { fitProvenance, fitWarning } from './fit-words.js';
import { percentSpan } from './figures.js';
import { counted, rounded } from './measures.js';
import { chartData, COLOURS, INK, makeChart, type ChartRow, type ChartSpec } from './spec.js';
import { CHART_CAUTION } from './words.js';

const BINS = 10;
/** A check a bar on average: with fewer every bar is luck. */
const LEAST_CHECKS = 10;
const WIDTH_PX = 520;
const HEIGHT_PX = 220;
const LEVEL = 0.95;

/**
 * Chart of pressures found at checks against those expected: share of checks (%) by the chance that the fit gave to a lower
 * pressure, in tenths. Where the fit holds every tenth has a tenth of the checks; a heap at the left are tires that lost more
 * air than expected, heaps at both ends pressures that scatter more than their stated error.
 *
 * @param fit from `fitAssumptions`.
 * @returns a chart of ten rows of data.
 * @throws UsageError if the records hold fewer than ten pressure checks that could be expected.
 */
export function pressuresFoundChart(fit: AssumptionFit): ChartSpec {
  const { pressures, calibration } = fit.checks;
  const total = pressures.length;
  if (total < LEAST_CHECKS) {
    throw new UsageError(
      total === 0
        ? 'the records hold no pressure to expect: nothing to draw'
        : `the records hold only ${counted(total, 'pressure')} to expect; fewer than ${LEAST_CHECKS} make no histogram`,
    );
  }
  const counts = new Array<number>(BINS).fill(0);
  for (const { chanceBelow } of pressures) counts[Math.min(BINS - 1, Math.floor(BINS * chanceBelow))]!++;
  const rows = counts.map((count, bin): ChartRow => {
    const { lower, upper } = clopperPearsonInterval(count, total, LEVEL);
    const span = `${10 * bin} to ${10 * (bin + 1)} %`;
    return {
      from: bin / BINS,
      to: (bin + 1) / BINS,
      middle: rounded((bin + 0.5) / BINS, 3),
      share: rounded(count / total, 4),
      lower: rounded(lower, 4),
      upper: rounded(upper, 4),
      span,
      count: counted(count, 'check'),
      shareText: `${percentText(count / total)} (${percentSpan(lower, upper)})`,
      said: `chance of less ${span}: ${percentText(count / total)} of checks`,
    };
  });
  const held = calibration.find(({ what }) => what === 'pressures found');
  const finding =
    held === undefined
      ? `${counted(total, 'pressure')} found against those expected`
      : `80 % ranges hold ${percentText(held.held / held.of)} (${percentSpan(held.low, held.high)}) of ${counted(held.of, 'pressure')} found`;
  return makeChart(
    {
      title: finding,
      subtitle: [
        'Where the fit holds, each tenth has a tenth of the checks (line). High at the left: more air lost than expected; at both ends: more scatter than stated.',
        'Upright bars: 95 % interval of each share (Clopper-Pearson).',
        ...fitWarning(fit),
        fitProvenance(fit),
        CHART_CAUTION,
      ],
      description: printable(
        `Pressures found at ${counted(total, 'check')} by the chance of a lower one. ${finding}. ${rows.map(({ said }) => `${String(said)}.`).join(' ')}`,
      ),
    },
    rows,
    {
      width: WIDTH_PX,
      height: HEIGHT_PX,
      layer: [
        {
          mark: { type: 'bar', color: COLOURS.sky, stroke: 'white' },
          encoding: {
            x: {
              field: 'from',
              type: 'quantitative',
              bin: { binned: true, step: 1 / BINS },
              title: 'chance that the fit gave to a lower pressure (%)',
              axis: { format: '.0%', grid: false, values: [0, 0.2, 0.4, 0.6, 0.8, 1] },
            },
            x2: { field: 'to' },
            y: {
              field: 'share',
              type: 'quantitative',
              title: 'checks (% of all)',
              axis: { format: '.0%', tickCount: 5 },
            },
            description: { field: 'said' },
            tooltip: [
              { field: 'span', type: 'nominal', title: 'chance of less' },
              { field: 'count', type: 'nominal', title: 'found' },
              { field: 'shareText', type: 'nominal', title: 'share (95 %)' },
            ],
          },
        },
        {
          mark: { type: 'rule', color: INK, strokeWidth: 1.3, aria: false },
          encoding: {
            x: { field: 'middle', type: 'quantitative' },
            y: { field: 'lower', type: 'quantitative' },
            y2: { field: 'upper' },
          },
        },
        {
          data: chartData([{ share: 1 / BINS }]),
          mark: { type: 'rule', color: COLOURS.vermilion, strokeDash: [5, 3], strokeWidth: 1.5, aria: false },
          encoding: { y: { field: 'share', type: 'quantitative' } },
        },
      ],
    },
  );
}
