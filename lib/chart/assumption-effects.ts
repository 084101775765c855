import { UsageError } from '../problems.js';
import { roundedText } from '../present/amounts.js';
import { FIGURE_WORDS } from '../sensitivity/input-words.js';
import { listText } from '../present/lists.js';
import { printable } from '../present/words.js';
import { assumptionName, assumptionSpanText } from '../scenario/assumption-words.js';
import type { DrivenFigure } from '../sensitivity/figures.js';
import type { OneAtATimeStudy } from '../sensitivity/one-at-a-time-types.js';
import { indexOfName } from '../simulate/names.js';
import {
  drawnAndLeft,
  figureAxis,
  levelText,
  othersLabel,
  othersRow,
  type FigureAxis,
} from './driver-rows.js';
import { effectChartRow, effectRow, othersText, type EffectRow } from './assumption-effect-rows.js';
import { effectPlot } from './assumption-effect-plot.js';
import { shortName } from './labels.js';
import { counted } from './measures.js';
import { makeChart, type ChartSpec } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

/** What {@link assumptionEffectsChart} draws. */
export interface AssumptionEffectsOptions {
  readonly figure: DrivenFigure;
  /** Name of the set-up; default: the one with the best mean of the figure. */
  readonly setup?: string | undefined;
  /** Assumptions drawn, 1 to 40; default 12. */
  readonly count?: number | undefined;
}

/**
 * Ranked bars of what assumptions do one at a time: mean of a figure of a set-up with each at its low and at its high
 * value, about the mean of a plain run, on common worlds and landings; those that change which set-up is best are marked.
 *
 * @param study from `oneAtATime`.
 * @param options figure, set-up, how many.
 * @returns a chart of one row of data for each assumption drawn, the largest change first.
 * @throws UsageError for a figure or set-up that the study does not have, or a count out of range.
 */
export function assumptionEffectsChart(study: OneAtATimeStudy, options: AssumptionEffectsOptions): ChartSpec {
  const { figure } = options;
  if (!study.figures.includes(figure)) {
    throw new UsageError(
      `the study has no "${figure}"${study.notPriced === null ? '' : ` (${study.notPriced})`}; it has: ${study.figures.join(', ')}`,
    );
  }
  const setup = setupOf(study, options);
  const base = study.base.find((each) => each.setup === setup && each.figure === figure)!.mean.estimate;
  const ranked = study.assumptions
    .map((assumption) => effectRow(assumption, setup, figure))
    .sort((one, other) => Math.abs(other.change) - Math.abs(one.change));
  const { drawn, left } = drawnAndLeft(ranked, options.count);
  const interval = levelText(study.level);
  const axis = figureAxis(figure, ranked[0]!.effect.unit);
  const rows = drawn.map((row, place) => effectChartRow(row, place, axis));
  const finding = findingOf(ranked, setup, study, figure, axis);
  const others = othersRow(drawn.length, left.length, othersText(left, axis));
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        `Mean ${FIGURE_WORDS[figure]} with ${shortName(setup)} on ${shortName(study.mix)}, all else as in a plain run, on the same worlds and landings.`,
        `Thin line: ${interval} interval of the change from low to high (simulation error), drawn at the high end.`,
        ...(study.complete ? [] : ['Stopped early: from the trials that were finished.']),
        provenance(study),
        CHART_CAUTION,
      ],
      description: printable(
        `What assumptions do one at a time to ${FIGURE_WORDS[figure]} with ${setup} on ${study.mix}; in a plain run ${roundedText(axis.scale * base, 0)} ${axis.unit}. ` +
          `${finding}. ${[...rows, ...others].map(({ said }) => `${String(said)}.`).join(' ')}`,
      ),
    },
    [...rows, ...others],
    effectPlot(rows, axis, axis.scale * base, interval, [
      ...drawn.map(({ assumption: { path, lowSi, highSi } }) => ({
        name: assumptionName(path),
        under: assumptionSpanText(path, lowSi, highSi),
      })),
      ...othersLabel(left.length),
    ]),
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function setupOf(study: OneAtATimeStudy, { setup, figure }: AssumptionEffectsOptions): string {
  if (setup !== undefined) {
    indexOfName(
      'set-up in the study',
      setup,
      study.setups.map((name) => ({ name })),
    );
    return setup;
  }
  const sign = figure === 'life' ? -1 : 1;
  const means = study.base.filter((each) => each.figure === figure);
  return means.reduce((best, each) => (sign * (each.mean.estimate - best.mean.estimate) < 0 ? each : best))
    .setup;
}

function findingOf(
  ranked: readonly EffectRow[],
  setup: string,
  study: OneAtATimeStudy,
  figure: DrivenFigure,
  { unit, scale }: FigureAxis,
): string {
  const first = ranked[0]!;
  const what = `${FIGURE_WORDS[figure]} with ${shortName(setup)}`;
  const { path } = first.assumption;
  const { atLow, atHigh, change } = first.effect;
  const error = scale * change.standardError;
  const largest =
    first.change === 0
      ? `No assumption changes ${what}`
      : `Largest effect on ${what}: ${shortName(assumptionName(path), 40)} (${roundedText(scale * atLow.estimate, error)} to ${roundedText(scale * atHigh.estimate, error)} ${unit})`;
  if (!study.assumptions.some(({ rankings }) => rankings.some(({ criterion }) => criterion === figure))) {
    return largest;
  }
  const flipping = (kind: 'yes' | 'perhaps'): number => ranked.filter(({ flips }) => flips === kind).length;
  const [sure, perhaps] = [flipping('yes'), flipping('perhaps')];
  if (sure + perhaps === 0) return `${largest}; none changes which set-up is best`;
  const parts = [...(sure > 0 ? [`${sure}`] : []), ...(perhaps > 0 ? [`perhaps ${perhaps}`] : [])];
  const verb = sure + perhaps === 1 ? 'changes' : 'change';
  return `${largest}; ${listText(parts)} of ${counted(ranked.length, 'assumption')} ${verb} which set-up is best`;
}
