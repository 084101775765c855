import { signedSpan, signedText } from '../present/amounts.js';
import { CRITERION_WORDS } from '../present/compare-words.js';
import { roundedEstimate, valueText } from '../present/drivers-words.js';
import { percentText, printable } from '../present/words.js';
import type { IntervalEstimate } from '../estimate/interval.js';
import type { InformationOnInput, MeasuringVerdict, ValueOfInformation } from '../sensitivity/voi-types.js';
import { drawnAndLeft, inputLabel, levelText, othersLabel, othersRow } from './driver-rows.js';
import { informationPlot } from './information-plot.js';
import { shortName } from './labels.js';
import { counted } from './measures.js';
import { makeChart, type ChartRow, type ChartSpec } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

/** What {@link informationValueChart} draws. */
export interface InformationValueOptions {
  /** Inputs drawn, 1 to 40; default 12. */
  readonly count?: number | undefined;
}

const NOTHING: MeasuringVerdict = 'no value seen';
/** Rows drawn where nothing has a value. */
const LEAST_DRAWN = 3;

/**
 * Bars of what it is worth to know an assumption or group before choosing a set-up, with intervals, the value of knowing
 * everything as a line, and marks that tell what can be said of each.
 *
 * @param study from `valueOfInformation`.
 * @param options how many.
 * @returns a chart of one row of data for each input drawn, the most valuable first.
 * @throws UsageError for a count out of range.
 */
export function informationValueChart(
  study: ValueOfInformation,
  options: InformationValueOptions = {},
): ChartSpec {
  const { inputs, unit, perfect, best, mix, criterion } = study;
  const worth = inputs.filter(
    ({ value, verdict }) => value === null || value.upper > 0 || verdict !== NOTHING,
  );
  const shown = worth.length === 0 ? inputs.slice(0, LEAST_DRAWN) : worth;
  const { drawn } = drawnAndLeft(shown, options.count);
  const left = inputs.filter((input) => !drawn.includes(input));
  const rows = drawn.map((input, place) => informationRow(input, place, unit));
  const others = othersRow(drawn.length, left.length, othersText(left));
  const finding = findingOf(study);
  const all =
    perfect === null
      ? 'too few twins to tell what knowing everything is worth'
      : `knowing everything is worth ${valueText(perfect)} ${unit}`;
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        `For the choice among ${counted(study.setups.length, 'set-up')} by ${CRITERION_WORDS[criterion].title} on ${shortName(mix)}; without knowing more: ${shortName(best)}.`,
        `Lines: ${levelText(study.level)} intervals. The surest first. Values of parts do not add up; ${all}.`,
        provenance(study),
        CHART_CAUTION,
      ],
      description: printable(
        `Value of knowing assumptions before choosing a set-up by ${CRITERION_WORDS[criterion].title} on ${mix} (${unit}): ${all}. ${finding}. ` +
          [...rows, ...others].map(({ said }) => `${String(said)}.`).join(' '),
      ),
    },
    [...rows, ...others],
    informationPlot(rows, study, [
      ...rows.map(({ name }) => ({ name: String(name) })),
      ...othersLabel(left.length),
    ]),
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function informationRow(
  { input, paths, value, shareOtherChoice, avoidedFlats, verdict }: InformationOnInput,
  place: number,
  unit: string,
): ChartRow {
  const name = inputLabel(input, paths);
  // A bar beside "no value" would puzzle.
  const said = verdict === NOTHING && (value?.estimate ?? 0) > 0 ? 'not told from 0' : verdict;
  const worth = value === null ? 'not known' : `${valueText(value)} ${unit}`;
  return {
    place,
    others: false,
    name,
    value: value?.estimate ?? 0,
    lower: value?.lower ?? 0,
    upper: value?.upper ?? 0,
    verdict,
    text: value === null || value.upper === 0 ? verdict : `${valueText(value)} ${said}`,
    worth,
    otherChoice: shareOtherChoice === null ? 'not known' : `in ${percentText(shareOtherChoice)} of trials`,
    flats:
      avoidedFlats === null
        ? 'not known'
        : `${signedText(avoidedFlats.estimate, avoidedFlats.standardError)} (${signedSpan(avoidedFlats)}) per season`,
    said: `${name}: ${value === null ? verdict : `${worth}, ${said}`}`,
  };
}

function othersText(left: readonly InformationOnInput[]): string {
  const known = left.flatMap(({ value }) => (value === null ? [] : [value]));
  const most = known.reduce<IntervalEstimate | null>(
    (largest, value) => (largest === null || value.estimate > largest.estimate ? value : largest),
    null,
  );
  const few = left.length - known.length;
  const parts = [
    ...(most === null
      ? []
      : [most.estimate === 0 ? NOTHING : `at most ${roundedEstimate(most.estimate, most)} each`]),
    ...(few === 0 ? [] : [`${few} with too few trials`]),
  ];
  return parts.join('; ');
}

function findingOf({ inputs, unit, best, mix }: ValueOfInformation): string {
  const [first] = inputs;
  const where = `on ${shortName(mix, 24)}`;
  if (first === undefined || first.value === null) return `Too few trials to tell what to measure ${where}`;
  const name = shortName(inputLabel(first.input, first.paths), 40);
  const worth = `${roundedEstimate(first.value.estimate, first.value)} ${unit}`;
  if (first.verdict === 'worth measuring')
    return `Measure ${name} next: knowing it is worth ${worth} ${where}`;
  if (first.verdict === 'perhaps') {
    return `Perhaps worth measuring: ${name} (${worth} ${where}); more trials would tell`;
  }
  return `Choose ${shortName(best)} ${where}: no single measurement is seen to change the choice`;
}
