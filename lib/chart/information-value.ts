import { UsageError } from '../problems.js';
import { signedSpan, signedText } from '../present/amounts.js';
import { CRITERION_WORDS } from '../present/compare-words.js';
import { roundedEstimate, unitText, valueText } from '../present/drivers-words.js';
import { capitalized, percentText, printable } from '../present/words.js';
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
  /** The same for groups, which are then drawn among the inputs; default: none. */
  readonly groups?: ValueOfInformation | undefined;
  /** Inputs drawn, 1 to 40; default 12. */
  readonly count?: number | undefined;
}

const NOTHING: MeasuringVerdict = 'no value seen';
const ORDER: readonly MeasuringVerdict[] = ['worth measuring', 'perhaps', NOTHING, 'too few trials'];

/**
 * Bars of what it is worth to know an assumption or group before choosing a set-up, with intervals, the value of knowing
 * everything as a line, and marks that tell what can be said of each.
 *
 * @param study from `valueOfInformation`.
 * @param options groups, and how many.
 * @returns a chart of one row of data for each input drawn, the surest first, equally sure ones by their value; none where
 *   nothing has a value.
 * @throws UsageError for groups of another choice, or a count out of range.
 */
export function informationValueChart(
  study: ValueOfInformation,
  options: InformationValueOptions = {},
): ChartSpec {
  const { perfect, best, mix, criterion } = study;
  const unit = unitText(study);
  const inputs = ranked(study, options.groups);
  const worth = inputs.filter(
    ({ value, verdict }) => value === null || value.upper > 0 || verdict !== NOTHING,
  );
  const shown = worth.every(({ value }) => value === null) ? [] : worth;
  const { drawn } = drawnAndLeft(shown, options.count);
  const left = inputs.filter((input) => !drawn.includes(input));
  const rows = drawn.map((input, place) => informationRow(input, place, unit));
  const others = othersRow(drawn.length, left.length, othersText(left), drawn.length > 0);
  const finding = findingOf(study, inputs);
  const all =
    perfect === null
      ? 'too few twins to tell what knowing everything is worth'
      : `knowing everything is worth ${valueText(perfect)} ${unit}`;
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        `By ${CRITERION_WORDS[criterion].title} among ${counted(study.setups.length, 'set-up')}; knowing no more: ${shortName(best)}.${drawn.length === 0 ? '' : ' Surest first, then by worth.'}`,
        capitalized(
          `${drawn.length === 0 ? '' : `${levelText(study.level)} intervals. Worths do not add up; `}${perfect === null ? all : `knowing everything: ${valueText(perfect)} ${unit}`}.`,
        ),
        `${provenance(study)} ${CHART_CAUTION}`,
      ],
      description: printable(
        `Value of knowing assumptions before choosing a set-up by ${CRITERION_WORDS[criterion].title} on ${mix} (${unit}): ${all}. ${finding}. ` +
          [...rows, ...others].map(({ said }) => `${String(said)}.`).join(' '),
      ),
    },
    [...rows, ...others],
    informationPlot(rows, study, [
      ...rows.map(({ name }) => ({ name: String(name).replace(/(\(\d+) (numbers\))$/u, '$1\u00a0$2') })),
      ...othersLabel(left.length, drawn.length > 0),
    ]),
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

/**
 * True if knowing some assumption or group may be worth something.
 *
 * @param studies from `valueOfInformation`.
 */
export function anyValue(...studies: readonly ValueOfInformation[]): boolean {
  return studies.some(({ inputs }) =>
    inputs.some(({ verdict }) => verdict === 'worth measuring' || verdict === 'perhaps'),
  );
}

/** Inputs, and groups of more than one: the surest first, then by value. */
function ranked(study: ValueOfInformation, groups: ValueOfInformation | undefined): InformationOnInput[] {
  if (groups !== undefined && (groups.mix !== study.mix || groups.unit !== study.unit)) {
    throw new UsageError(
      `groups must be of the same choice: on ${study.mix} (${study.unit}); found: on ${groups.mix} (${groups.unit})`,
    );
  }
  const place = ({ verdict }: InformationOnInput): number => ORDER.indexOf(verdict);
  return [...study.inputs, ...(groups?.inputs.filter(({ paths }) => paths.length > 1) ?? [])].sort(
    (one, other) => place(one) - place(other) || (other.value?.estimate ?? -1) - (one.value?.estimate ?? -1),
  );
}

/** A group is told from a single assumption by what it is made of. */
function nameOf({ input, paths }: InformationOnInput): string {
  return inputLabel(input, paths, 'numbers');
}

function informationRow(information: InformationOnInput, place: number, unit: string): ChartRow {
  const { paths, value, shareOtherChoice, avoidedFlats, verdict } = information;
  const name = nameOf(information);
  // A bar beside "no value" would puzzle.
  const said = verdict === NOTHING && (value?.estimate ?? 0) > 0 ? 'not told from 0' : verdict;
  const worth = value === null ? 'not known' : `${valueText(value)} ${unit}`;
  return {
    place,
    others: false,
    name,
    kind: paths.length > 1 ? 'group' : 'single',
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

function findingOf(study: ValueOfInformation, inputs: readonly InformationOnInput[]): string {
  const { best, mix } = study;
  const unit = unitText(study);
  const where = `on ${shortName(mix, 24)}`;
  const singles = inputs.filter(({ paths }) => paths.length <= 1);
  const sure = ({ verdict }: InformationOnInput): boolean =>
    verdict === 'worth measuring' || verdict === 'perhaps';
  // A single assumption is told first: a group costs more to measure.
  const first = singles.find(sure) ?? inputs.find(sure);
  if (first?.value == null) {
    return inputs.every(({ value }) => value === null)
      ? `Too few trials to tell what to measure ${where}`
      : `Choose ${shortName(best)} ${where}: no measurement is seen to change the choice`;
  }
  const amountOf = ({ value }: InformationOnInput): string => roundedEstimate(value!.estimate, value!);
  const name = shortName(nameOf(first), 40);
  const group = inputs.find(
    (each) =>
      each.paths.length > 1 && sure(each) && (each.value?.estimate ?? 0) > (first.value?.estimate ?? 0),
  );
  const more = group === undefined ? '' : `; all of ${shortName(nameOf(group), 40)}: ${amountOf(group)}`;
  return first.verdict === 'worth measuring'
    ? `Measure ${name} next: knowing it is worth ${amountOf(first)} ${unit} ${where}${more}`
    : `Perhaps worth measuring: ${name} (${amountOf(first)} ${unit} ${where}); more trials would tell${more}`;
}
