import type { BestSetup } from '../decide/best-types.js';
import type { MixComparison } from '../decide/compare.js';
import type { Criterion } from '../decide/criteria.js';
import { UsageError } from '../problems.js';
import { roundedSpan, roundedText, signedText } from '../present/amounts.js';
import { bestBy, byRank, compareAnswer, CRITERION_WORDS } from '../present/compare-words.js';
import { percentText, printable } from '../present/words.js';
import { differenceAxis, rowFigures, rowHover, ZERO_GRID } from './difference-axis.js';
import { shortName } from './labels.js';
import { counted } from './measures.js';
import { mixBlocks } from './mix-blocks.js';
import type { PairingOrder } from './pairing-rows.js';
import { COLOURS, makeChart, type ChartPart, type ChartRow, type ChartSpec } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

/** What {@link comparisonChart} draws. */
export interface ComparisonChartOptions {
  /** What set-ups are compared by. */
  readonly criterion: Criterion;
  /** Of the run. */
  readonly seed: string;
}

const WIDTH_PX = 400;

/**
 * Chart of how far each set-up is behind the best one on its mix, by one criterion (h, flats, money or days): paired
 * difference on the same landings with its 95 % interval, a row for each set-up in a block for each mix.
 *
 * @param comparisons from `comparePairings`, one or more mixes.
 * @param options criterion and seed.
 * @returns a chart of one row of data for each set-up and mix.
 * @throws UsageError if there is no mix, or the criterion was not asked for or has no prices.
 */
export function comparisonChart(
  comparisons: readonly MixComparison[],
  { criterion, seed }: ComparisonChartOptions,
): ChartSpec {
  if (comparisons.length === 0) throw new UsageError('there is no comparison: nothing to draw');
  const bests = comparisons.map((comparison) => requireBest(comparison, criterion));
  const order = orderOf(bests);
  const finding = findingOf(bests, criterion);
  const { unit, trials } = bests[0]!;
  const rows = bests.flatMap((best) => rowsOf(best, order));
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        'Dots: mean difference to the best set-up on the same landings; bars: its 95 % interval (simulation error).',
        'Shaded: differences that do not matter. Hollow: the trials do not tell it from the best.',
        provenance({ trials, seed }),
        CHART_CAUTION,
      ],
      description: printable(
        `How far ${counted(order.setups.length, 'set-up')} are behind the best on ${counted(order.mixes.length, 'runway mix').replace('mixs', 'mixes')} by ${CRITERION_WORDS[criterion].title}. ${finding}. ` +
          `${comparisons.map(compareAnswer).join(' ')} ${rows.map(({ said }) => `${String(said)}.`).join(' ')}`,
      ),
    },
    rows,
    {
      vconcat: [
        mixBlocks(
          { title: `Behind the best by ${CRITERION_WORDS[criterion].title}`, spec: panel(rows, unit) },
          order,
          true,
        ),
      ],
    },
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function requireBest(comparison: MixComparison, criterion: Criterion): BestSetup {
  const best = bestBy(comparison, criterion);
  if (best === null) throw new UsageError(`set-ups were not compared by "${criterion}": ask for it first`);
  if (!best.priced) throw new UsageError(`money cannot be drawn: ${best.needs}`);
  return best;
}

/** Set-ups by their mean rank over the mixes, so that each stands at the same place everywhere. */
function orderOf(bests: readonly BestSetup[]): PairingOrder {
  const names = [...new Set(bests.flatMap(({ setups }) => setups.map(({ setup }) => setup)))];
  const meanRank = (name: string): number => {
    const ranks = bests.flatMap(({ setups }) =>
      setups.filter(({ setup }) => setup === name).map(({ rank }) => rank),
    );
    return ranks.reduce((sum, rank) => sum + rank, 0) / ranks.length;
  };
  const ranked = names.map((name) => ({ name, rank: meanRank(name) })).sort((a, b) => a.rank - b.rank);
  return { setups: ranked.map(({ name }) => name), mixes: bests.map(({ mix }) => mix) };
}

function rowsOf(best: BestSetup, order: PairingOrder): ChartRow[] {
  const { mix, unit, indifference, verdict, better } = best;
  return byRank(best).map(({ setup, mean, behindBest, shareOfWorldsBest }) => {
    const isBest = behindBest === null;
    const close = [...verdict.open, ...verdict.equal];
    const open = isBest ? close.length > 0 : close.includes(setup);
    const figure = `${roundedText(mean.estimate, mean.standardError)} ${unit}`;
    const behind = isBest
      ? 'the best'
      : `${roundedText(behindBest.estimate, behindBest.standardError)} (${roundedSpan(behindBest)}) ${unit} behind`;
    return {
      setup,
      mix,
      setupPlace: order.setups.indexOf(setup),
      mixPlace: order.mixes.indexOf(mix),
      behind: behindBest?.estimate ?? 0,
      lower: behindBest?.lower ?? 0,
      upper: behindBest?.upper ?? 0,
      indifference,
      open,
      isBest,
      text: isBest
        ? `${roundedText(mean.estimate, mean.standardError)} (best)`
        : `${roundedText(mean.estimate, mean.standardError)} (${signedText(better === 'more' ? -behindBest.estimate : behindBest.estimate, behindBest.standardError)})`,
      figure,
      behindText: behind,
      worldsText: shareOfWorldsBest === null ? 'not told' : percentText(shareOfWorldsBest.estimate),
      said: `${setup} on ${mix}: ${figure}, ${behind}`,
    };
  });
}

function panel(rows: readonly ChartRow[], unit: string): ChartPart {
  const { remark, scale, ticks } = differenceAxis(
    rows.flatMap(
      ({ behind, lower, upper, indifference }) => [behind, lower, upper, indifference] as number[],
    ),
    rows.reduce((least, { indifference }) => Math.min(least, indifference as number), Infinity),
  );
  const x = {
    type: 'quantitative',
    title: `behind the best (${unit})${remark}`,
    scale,
    axis: { ...ZERO_GRID, values: ticks, format: ',~r', labelFlush: false },
  };
  const dot = (open: boolean): ChartPart => ({
    transform: [{ filter: `datum.open === ${open}` }],
    mark: {
      type: 'point',
      filled: true,
      fill: open ? 'white' : COLOURS.blue,
      stroke: COLOURS.blue,
      strokeWidth: 1.5,
      size: 55,
      opacity: 1,
      aria: false,
    },
    encoding: { x: { ...x, field: 'behind' } },
  });
  return {
    width: WIDTH_PX,
    layer: [
      {
        transform: [{ calculate: '0', as: 'zero' }],
        mark: { type: 'bar', color: '#BBBBBB', opacity: 0.35, height: { band: 1 }, aria: false },
        encoding: { x: { ...x, field: 'zero' }, x2: { field: 'indifference' } },
      },
      {
        mark: { type: 'rule', color: COLOURS.blue, strokeWidth: 2, aria: false },
        encoding: { x: { ...x, field: 'lower' }, x2: { field: 'upper' } },
      },
      dot(false),
      dot(true),
      rowFigures(WIDTH_PX + 12, 'datum.open || datum.isBest'),
      rowHover(WIDTH_PX, [
        { field: 'setup', type: 'nominal', title: 'set-up' },
        { field: 'mix', type: 'nominal', title: 'runway mix' },
        { field: 'figure', type: 'nominal', title: 'mean' },
        { field: 'behindText', type: 'nominal', title: 'against the best (95 %)' },
        { field: 'worldsText', type: 'nominal', title: 'best in so many worlds' },
      ]),
    ],
  };
}

/** Who leads, where that is settled. */
function findingOf(bests: readonly BestSetup[], criterion: Criterion): string {
  const { best: leads, title } = CRITERION_WORDS[criterion];
  const where = bests.length === 1 ? `on ${shortName(bests[0]!.mix, 24)}` : `on all ${bests.length} mixes`;
  const settled = bests.filter(({ verdict }) => verdict.kind === 'settled');
  const names = [...new Set(settled.map(({ verdict }) => verdict.best))];
  if (settled.length === 0) {
    const kinds = new Set(bests.map(({ verdict }) => verdict.kind));
    if (kinds.size === 1 && kinds.has('practically equal'))
      return `The best set-ups are practically equal in ${title} ${where}`;
    if (kinds.size === 1 && kinds.has('measure'))
      return `Which set-up ${leads} ${where} depends on what is not measured yet`;
    return `Which set-up ${leads} ${where} is too close to tell`;
  }
  if (names.length > 1) return `Which set-up ${leads} depends on the mix`;
  if (settled.length === bests.length) return `${shortName(names[0]!)} ${leads} ${where}`;
  return `${shortName(names[0]!)} ${leads} on ${settled.length} of ${bests.length} mixes (others not settled)`;
}
