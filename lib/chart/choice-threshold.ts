import { CRITERION_WORDS } from '../present/compare-words.js';
import { roundedSpan, roundedText } from '../present/amounts.js';
import { listText } from '../present/lists.js';
import { percentText, printable } from '../present/words.js';
import { assumptionName } from '../scenario/assumption-words.js';
import type { ChoiceFlip, ChoiceThreshold, ThresholdPoint } from '../sensitivity/threshold-types.js';
import { levelText } from './driver-rows.js';
import { shortName } from './labels.js';
import { counted } from './measures.js';
import { makeChart, type ChartRow, type ChartSpec } from './spec.js';
import { thresholdPlot } from './threshold-plot.js';
import { valueAxis, type ValueAxis } from './value-axis.js';
import { CHART_CAUTION, provenance } from './words.js';

/** Values told in the description: those of the grid, not those tried while searching. */
const TOLD_PROBABILITIES: ReadonlySet<number> = new Set([0.01, 0.1, 0.5, 0.9, 0.99]);

/**
 * Chart of where the choice flips: mean of the criterion for each set-up against the value of one assumption in the unit
 * of scenarios (log axis where it spans more than a decade), with bands, the values at which another set-up becomes the
 * best with their intervals, and the middle eight in ten of what the scenario allows. Set-ups that are nowhere near the best
 * are left out, and counted.
 *
 * @param threshold from `choiceThreshold`.
 * @returns a chart of one row of data for each set-up and value.
 */
export function choiceThresholdChart(threshold: ChoiceThreshold): ChartSpec {
  const { assumption, criterion, unit, mix, points, flips } = threshold;
  const axis = valueAxis(
    assumption,
    points.map(({ valueSi }) => valueSi),
    flips[0]?.valueSi,
  );
  const setups = nearSetups(threshold);
  const far = points[0]!.means.length - setups.length;
  const rows = points.flatMap((point) =>
    meansOf(point, setups).map(({ setup, mean }): ChartRow => {
      const value = axis.textOf(point.valueSi);
      const figure = `${roundedText(mean.estimate, mean.standardError)} (${roundedSpan(mean)}) ${unit}`;
      return {
        value: axis.valueOf(point.valueSi),
        setup: setups.indexOf(setup),
        name: setup,
        mean: mean.estimate,
        lower: mean.lower,
        upper: mean.upper,
        at: `${value}; ${percentText(point.probability)} of worlds are below`,
        figure,
        best: point.best,
        said: `${assumptionName(assumption)} ${value}, ${setup}: ${figure}`,
      };
    }),
  );
  const finding = findingOf(threshold, axis);
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        `On ${shortName(mix, 24)}, the rest as in a plain run.${far === 0 ? '' : ` ${counted(far, 'set-up')} far behind left out.`}${flips.length === 0 ? '' : ' Red: where the best changes; bar: its interval.'}`,
        `Bands: ${levelText(threshold.level)} of each mean alone; differences are surer. Grey: middle 8 in 10 of worlds.`,
        `${provenance(threshold)} ${CHART_CAUTION}`,
      ],
      description: printable(
        `Mean ${CRITERION_WORDS[criterion].title} (${unit}) of ${counted(setups.length, 'set-up')} on ${mix} against ${assumptionName(assumption)}. ${finding}. ` +
          `${flips.map((flip) => flipSentence(axis, flip)).join(' ')} ` +
          points
            .filter(({ probability }) => TOLD_PROBABILITIES.has(probability))
            .map(({ valueSi, best }) => `At ${axis.textOf(valueSi)}: ${best} is best.`)
            .join(' '),
      ),
    },
    rows,
    thresholdPlot(threshold, axis, setups),
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

/** A set-up whose mean is somewhere within this share of the best is near it. */
const NEAR_SHARE = 0.25;
/** Set-ups drawn at most, unless more are best somewhere. */
const MOST_NEAR = 4;

/** Set-ups that are best somewhere, and the nearest others, in the order of the study; at least two, if there are. */
function nearSetups({ points }: ChoiceThreshold): string[] {
  const bests = new Set(points.map(({ best }) => best));
  const gapOf = (setup: string): number =>
    points.reduce((least, point) => {
      const mean = (name: string): number => point.means.find((each) => each.setup === name)!.mean.estimate;
      const best = mean(point.best);
      const gap = Math.abs(mean(setup) - best);
      return Math.min(least, gap === 0 ? 0 : gap / Math.abs(best));
    }, Infinity);
  const setups = points[0]!.means.map(({ setup }) => setup);
  const others = setups
    .filter((setup) => !bests.has(setup))
    .map((setup) => ({ setup, gap: gapOf(setup) }))
    .sort((one, other) => one.gap - other.gap)
    .filter(({ gap }, place) => {
      const drawn = bests.size + place;
      return drawn < 2 || (drawn < MOST_NEAR && gap <= NEAR_SHARE);
    })
    .map(({ setup }) => setup);
  return setups.filter((setup) => bests.has(setup) || others.includes(setup));
}

/** Means of a point, of the set-ups drawn, in their order. */
function meansOf({ means }: ThresholdPoint, setups: readonly string[]): ThresholdPoint['means'] {
  return means.filter(({ setup }) => setups.includes(setup));
}

function findingOf({ assumption, criterion, points, flips }: ChoiceThreshold, { textOf }: ValueAxis): string {
  const name = shortName(assumptionName(assumption), 40);
  const { best } = CRITERION_WORDS[criterion];
  const [flip] = flips;
  if (flip === undefined) {
    return `${shortName(points[0]!.best)} ${best} at every plausible value of ${name}`;
  }
  if (flips.length > 1) {
    const values = flips.map(({ valueSi }) => textOf(valueSi));
    return `Which set-up ${best} changes ${flips.length} times with ${name}: at ${listText(values)}`;
  }
  const perhaps = flip.toldApart ? '' : 'Perhaps ';
  return `${perhaps}${shortName(flip.above)} ${best} with ${name} above ${textOf(flip.valueSi)}, below it ${shortName(flip.below)}`;
}

/** A flip with its interval, and how likely it is to be passed. */
function flipSentence({ textOf }: ValueAxis, flip: ChoiceFlip): string {
  const { below, above, valueSi, lowerSi, upperSi, probability, toldApart } = flip;
  const end = (si: number | null, beyond: string): string => (si === null ? beyond : textOf(si));
  return (
    `Best changes from ${below} to ${above} at ${textOf(valueSi)} ` +
    `(${end(lowerSi, 'the least plausible value')} to ${end(upperSi, 'the greatest plausible one')}); ` +
    `the scenario gives a higher value a chance of ${percentText(1 - probability)}` +
    `${toldApart ? '' : '; the trials do not tell the two apart on both sides'}.`
  );
}
