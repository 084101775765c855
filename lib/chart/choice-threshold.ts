import { CRITERION_WORDS } from '../present/compare-words.js';
import { roundedSpan, roundedText } from '../present/amounts.js';
import { listText } from '../present/lists.js';
import { percentText, printable } from '../present/words.js';
import { assumptionName, assumptionValueText } from '../scenario/assumption-words.js';
import type { ChoiceFlip, ChoiceThreshold } from '../sensitivity/threshold-types.js';
import { levelText } from './driver-rows.js';
import { shortName } from './labels.js';
import { makeChart, type ChartRow, type ChartSpec } from './spec.js';
import { thresholdPlot } from './threshold-plot.js';
import { valueAxis } from './value-axis.js';
import { CHART_CAUTION, provenance } from './words.js';

/** Values told in the description: those of the grid, not those tried while searching. */
const TOLD_PROBABILITIES: ReadonlySet<number> = new Set([0.01, 0.1, 0.5, 0.9, 0.99]);

/**
 * Chart of where the choice flips: mean of the criterion for each set-up against the value of one assumption in the unit
 * of scenarios (log axis where it spans more than a decade), with bands, the values at which another set-up becomes the
 * best with their intervals, and the middle eight in ten of what the scenario allows.
 *
 * @param threshold from `choiceThreshold`.
 * @returns a chart of one row of data for each set-up and value.
 */
export function choiceThresholdChart(threshold: ChoiceThreshold): ChartSpec {
  const { assumption, criterion, unit, mix, points, flips } = threshold;
  const axis = valueAxis(
    assumption,
    points.map(({ valueSi }) => valueSi),
  );
  const setups = points[0]!.means.map(({ setup }) => setup);
  const rows = points.flatMap((point) =>
    point.means.map(({ setup, mean }): ChartRow => {
      const value = assumptionValueText(assumption, point.valueSi);
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
  const finding = findingOf(threshold);
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        `By ${CRITERION_WORDS[criterion].title} on ${shortName(mix)}, all else as in a plain run, on the same worlds and landings.`,
        `Bands: ${levelText(threshold.level)} interval of each mean by itself; differences are known better, as the set-ups share their landings.`,
        `Grey: the middle 8 in 10 of what the scenario allows.${flips.length === 0 ? '' : ' Red: where another set-up becomes the best, with its interval.'}`,
        provenance(threshold),
        CHART_CAUTION,
      ],
      description: printable(
        `Mean ${CRITERION_WORDS[criterion].title} (${unit}) of ${setups.length} set-ups on ${mix} against ${assumptionName(assumption)}. ${finding}. ` +
          `${flips.map((flip) => flipSentence(threshold, flip)).join(' ')} ` +
          points
            .filter(({ probability }) => TOLD_PROBABILITIES.has(probability))
            .map(({ valueSi, best }) => `At ${assumptionValueText(assumption, valueSi)}: ${best} is best.`)
            .join(' '),
      ),
    },
    rows,
    thresholdPlot(threshold, axis, setups),
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function findingOf({ assumption, criterion, points, flips }: ChoiceThreshold): string {
  const name = shortName(assumptionName(assumption), 40);
  const { best } = CRITERION_WORDS[criterion];
  const [flip] = flips;
  if (flip === undefined) {
    return `${shortName(points[0]!.best)} ${best} at every plausible value of ${name}`;
  }
  if (flips.length > 1) {
    const values = flips.map(({ valueSi }) => assumptionValueText(assumption, valueSi));
    return `Which set-up ${best} changes ${flips.length} times with ${name}: at ${listText(values)}`;
  }
  const perhaps = flip.toldApart ? '' : 'Perhaps ';
  return `${perhaps}${shortName(flip.above)} ${best} with ${name} above ${assumptionValueText(assumption, flip.valueSi)}, below it ${shortName(flip.below)}`;
}

/** A flip with its interval, and how likely it is to be passed. */
function flipSentence({ assumption }: ChoiceThreshold, flip: ChoiceFlip): string {
  const { below, above, valueSi, lowerSi, upperSi, probability, toldApart } = flip;
  const end = (si: number | null, beyond: string): string =>
    si === null ? beyond : assumptionValueText(assumption, si);
  return (
    `Best changes from ${below} to ${above} at ${assumptionValueText(assumption, valueSi)} ` +
    `(${end(lowerSi, 'the least plausible value')} to ${end(upperSi, 'the greatest plausible one')}); ` +
    `the scenario gives a higher value a chance of ${percentText(1 - probability)}` +
    `${toldApart ? '' : '; the trials do not tell the two apart on both sides'}.`
  );
}
