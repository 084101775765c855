import { UsageError } from '../problems.js';
import { roundedText } from '../present/amounts.js';
import { printable } from '../present/words.js';
import { assumptionName, assumptionSpanText } from '../scenario/assumption-words.js';
import type { DrivenFigure } from '../sensitivity/figures.js';
import type { OneAtATimeStudy } from '../sensitivity/one-at-a-time-types.js';
import { drawnAndLeft, levelText, othersLabel, othersRow } from './driver-rows.js';
import { effectChartRow, othersText, type EffectRow } from './assumption-effect-rows.js';
import { effectPlot } from './assumption-effect-plot.js';
import { leadSubject, setupSubject, type EffectSubject } from './assumption-effect-subject.js';
import { shortName } from './labels.js';
import { makeChart, type ChartSpec } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

/** What {@link assumptionEffectsChart} draws. */
export interface AssumptionEffectsOptions {
  readonly figure: DrivenFigure;
  /** The figure of one set-up, or the lead of one over another; default: the figure. */
  readonly of?: 'figure' | 'lead' | undefined;
  /** Name of the set-up; default: the one with the best mean of the figure. Not with a lead: the study chose its two. */
  readonly setup?: string | undefined;
  /** Flight hours per season, above 0: money is then that of a season; default: that of a flight hour. */
  readonly hoursPerSeason?: number | undefined;
  /** Assumptions drawn, 1 to 40; default 12. */
  readonly count?: number | undefined;
}

/**
 * Ranked bars of what assumptions do one at a time: mean of a figure of a set-up, or of the lead of one set-up over
 * another, with each at its low and at its high value, about the mean of a plain run, on common worlds and landings; those
 * that change which set-up is best are marked.
 *
 * @param study from `oneAtATime`.
 * @param options figure, of what, how many.
 * @returns a chart of one row of data for each assumption drawn, the largest change first.
 * @throws UsageError for a figure, set-up or lead that the study does not have, or a number out of range.
 */
export function assumptionEffectsChart(study: OneAtATimeStudy, options: AssumptionEffectsOptions): ChartSpec {
  const { figure } = options;
  if (!study.figures.includes(figure)) {
    throw new UsageError(
      `the study has no "${figure}"${study.notPriced === null ? '' : ` (${study.notPriced})`}; it has: ${study.figures.join(', ')}`,
    );
  }
  const subject = options.of === 'lead' ? leadSubject(study, options) : setupSubject(study, options);
  const { base, axis, belowZero } = subject;
  const ranked = study.assumptions
    .map(subject.row)
    .sort((one, other) => Math.abs(other.change) - Math.abs(one.change));
  const { drawn, left } = drawnAndLeft(ranked, options.count);
  const interval = levelText(study.level);
  const rows = drawn.map((row, place) => effectChartRow(row, place, axis));
  const finding = findingOf(ranked, subject, study, figure);
  const others = othersRow(drawn.length, left.length, othersText(left, axis));
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        `On ${shortName(study.mix, 24)}; one assumption moved at a time, the rest as in a plain run.`,
        `Thin line at the high end: ${interval} interval of the change (simulation error).`,
        `${study.complete ? '' : 'Stopped early: from the trials that were finished. '}${provenance(study)} ${CHART_CAUTION}`,
      ],
      description: printable(
        `What assumptions do one at a time to ${subject.whole} on ${study.mix}; in a plain run ${roundedText(axis.scale * base, 0)} ${axis.unit}. ` +
          `${finding}. ${[...rows, ...others].map(({ said }) => `${String(said)}.`).join(' ')}`,
      ),
    },
    [...rows, ...others],
    effectPlot(
      rows,
      axis,
      axis.scale * base,
      interval,
      [
        ...drawn.map(({ assumption: { path, lowSi, highSi } }) => ({
          name: assumptionName(path),
          under: assumptionSpanText(path, lowSi, highSi),
        })),
        ...othersLabel(left.length),
      ],
      belowZero,
    ),
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function findingOf(
  ranked: readonly EffectRow[],
  { largest, nothing, axis: { unit, scale } }: EffectSubject,
  study: OneAtATimeStudy,
  figure: DrivenFigure,
): string {
  const first = ranked[0]!;
  const { path } = first.assumption;
  const { atLow, atHigh, change } = first.effect;
  const [low, high] = [atLow, atHigh].map(({ estimate }) =>
    roundedText(scale * estimate, scale * change.standardError),
  );
  const most =
    first.change === 0
      ? nothing
      : `${largest(shortName(assumptionName(path), 40))} (${low!} to ${high!} ${unit})`;
  if (!study.assumptions.some(({ rankings }) => rankings.some(({ criterion }) => criterion === figure))) {
    return most;
  }
  const flipping = (kind: 'yes' | 'perhaps'): number => ranked.filter(({ flips }) => flips === kind).length;
  const [sure, perhaps] = [flipping('yes'), flipping('perhaps')];
  if (sure + perhaps === 0) return `${most}; none changes which set-up is best`;
  const does = `${sure} ${sure === 1 ? 'changes' : 'change'} which set-up is best`;
  if (perhaps === 0) return `${most}; ${does}`;
  return `${most}; ${sure === 0 ? `${perhaps} may change which set-up is best` : `${does}, ${perhaps} more may`}`;
}
