/** What matters, in words: the choice, what it hangs on, and what to measure. */
import { countedText, roundedText, signedText, wholeText } from './amounts.js';
import { listText } from './lists.js';
import { percentText } from './words.js';
import type { IntervalEstimate } from '../estimate/interval.js';
import { assumptionName, assumptionSpanText, assumptionValueText } from '../scenario/assumption-words.js';
import { THE_REST } from '../sensitivity/deciders.js';
import { inputWords } from '../sensitivity/input-words.js';
import type { InformationOnInput } from '../sensitivity/voi-types.js';
import type {
  ChoiceSafety,
  Decider,
  MeasuringAdvice,
  WhatMatters,
} from '../sensitivity/what-matters-types.js';

/** An amount, rounded to what its interval leaves standing; a rounded 0 has no decimals. */
export function roundedEstimate(value: number, { lower, upper }: IntervalEstimate): string {
  const text = roundedText(value, (upper - lower) / 4);
  return Number(text) === 0 ? '0' : text;
}

/** An amount with its interval: "820 (750 to 890)". */
export function valueText(value: IntervalEstimate): string {
  const [estimate, lower, upper] = [value.estimate, value.lower, value.upper].map((each) =>
    roundedEstimate(each, value),
  );
  return lower === upper ? estimate! : `${estimate!} (${lower!} to ${upper!})`;
}

/** A share with its interval: "34 % (16 to 54 %)". */
export function shareText({ estimate, lower, upper }: IntervalEstimate): string {
  return `${percentOf(estimate)} % (${percentOf(lower)} to ${percentOf(upper)} %)`;
}

/** Per cent, with one decimal below ten. */
function percentOf(share: number): string {
  const percent = 100 * share;
  return String(Number(percent < 9.95 ? percent.toFixed(1) : percent.toFixed(0)));
}

/** What the best set-up is, in the middle of a sentence. */
const BEST_WORDS: Readonly<Record<WhatMatters['criterion'], string>> = {
  life: 'lasts longest on average',
  flats: 'has the fewest flats on average',
  costPerHour: 'is cheapest on average',
  daysLost: 'loses the fewest days on average',
};

/** What knowing more does. */
const GAIN_WORDS: Readonly<Record<WhatMatters['criterion'], string>> = {
  life: 'gain',
  flats: 'avoid',
  costPerHour: 'save',
  daysLost: 'save',
};

/** "credits a season". */
export function unitText({ unit }: Pick<WhatMatters, 'unit'>): string {
  return unit.replace(' per season', ' a season');
}

/** Which set-up is best on average, and by how much. */
export function choiceText({ choice, criterion, unit }: WhatMatters): string {
  const { mix, best, rival, lead } = choice;
  return `On ${mix}, ${best} ${BEST_WORDS[criterion]}, ${valueText(lead)} ${unitText({ unit })} better than ${rival}.`;
}

/** Whether the choice is safe, and what that means. */
export function safetyText(study: WhatMatters): string {
  const { choice, criterion, trials } = study;
  const { kind, perfect, shareOfWorldsOther, indifference, verdict, best } = choice;
  const unit = unitText(study);
  const matters = roundedText(indifference, 0);
  const others =
    shareOfWorldsOther === null
      ? ''
      : `another set-up is best in ${shareText(shareOfWorldsOther)} of the worlds assumed`;
  if (perfect === null) {
    return `NOT TOLD: ${wholeText(trials)} trials are too few to tell luck from ignorance. Run more.`;
  }
  const gain = `would ${GAIN_WORDS[criterion]} ${valueText(perfect)} ${unit} on average`;
  switch (kind) {
    case 'safe':
      return `SAFE: even if every assumption were known, choosing by it ${gain}, less than what matters (${matters}); ${others}.`;
    case 'probably safe':
      return `PROBABLY SAFE: if every assumption were known, choosing by it ${gain}; up to ${matters} would not matter; ${others}.`;
    case 'either will do':
      return `EITHER WILL DO: ${listText([best, ...verdict.equal])} differ by less than what matters (${matters}). If every assumption were known, choosing by it ${gain}; ${others}.`;
    case 'not safe':
      return `NOT SAFE: ${others}. Knowing every assumption before choosing ${gain}, more than what matters (${matters}).`;
    case 'not told yet': {
      const more =
        verdict.moreTrials === null
          ? 'no number of trials may tell'
          : `about ${wholeText(trials + verdict.moreTrials)} would`;
      return `NOT TOLD YET: ${wholeText(trials)} trials do not tell ${listText([best, ...verdict.open])} apart; ${more}. Knowing every assumption before choosing ${gain}; ${others}.`;
    }
  }
}

/** True if flips were looked for in all deciders, and none has one. */
export function neverFlips({ deciders }: WhatMatters): boolean {
  return deciders.every(({ threshold }) => threshold?.flips.length === 0);
}

/** One thing that the lead hangs on: how far it moves it, how much of the spread it holds, and where the choice flips. */
export function deciderText(
  study: WhatMatters,
  { input, paths, share, verdict, swing, threshold }: Decider,
): string {
  const name = inputWords(input, paths);
  const parts: string[] = [];
  if (share !== null) {
    const open = verdict?.kind === 'matters' ? '' : '; more rows would tell';
    parts.push(`${shareText(share)} of the spread${open}`);
  }
  if (swing !== null) {
    const { atLow, atHigh } = swing;
    parts.push(
      `lead ${signedText(atLow.estimate, atLow.standardError)} to ${signedText(atHigh.estimate, atHigh.standardError)}`,
    );
  }
  const alone = study.fromTrials.effects.find((effect) => effect.input === input)?.firstOrder;
  if (parts.length === 0 && alone !== undefined) parts.push(`${shareText(alone)} of the spread by itself`);
  const span = swing === null ? '' : `, ${assumptionSpanText(input, swing.lowSi, swing.highSi)}`;
  const flip = threshold === null || neverFlips(study) ? '' : `; ${flipsText(study, threshold, input)}`;
  return `${name}${span}: ${parts.join(', ')}${flip}`;
}

function flipsText(
  { choice }: WhatMatters,
  { assumption: path, flips }: NonNullable<Decider['threshold']>,
  input: string,
): string {
  const [flip] = flips;
  if (flip === undefined) return 'no plausible value flips the choice';
  const { below, above, valueSi, lowerSi, upperSi, probability, toldApart } = flip;
  const other = above === choice.best ? below : above;
  const value = (si: number): string => assumptionValueText(path, si);
  const span =
    lowerSi !== null && upperSi !== null
      ? ` (${assumptionSpanText(path, lowerSi, upperSi)})`
      : lowerSi === null && upperSi === null
        ? ' (anywhere)'
        : lowerSi === null
          ? ` (at most ${value(upperSi!)})`
          : ` (at least ${value(lowerSi)})`;
  const chance = other === below ? probability : 1 - probability;
  const more = flips.length > 1 ? `, and ${flips.length - 1} more` : '';
  const doubt = toldApart ? '' : '; a hint only';
  const of = path === input ? '' : `${assumptionName(path)} `;
  return `${other} better ${other === below ? 'below' : 'above'} ${of}${value(valueSi)}${span}, chance ${percentText(chance)}${more}${doubt}`;
}

/** What is left of the spread beside the deciders: the other inputs, and luck. Null if it is not known yet. */
export function restText({ variance, criterion, deciders }: WhatMatters): string | null {
  const lead = variance?.figures.find(({ figure, versus }) => figure === criterion && versus !== null);
  if (lead === undefined) return null;
  const told = new Set(deciders.map(({ input }) => input));
  const parts = lead.indices.inputs
    .filter(({ input, verdict }) => !told.has(input) && verdict.kind === 'matters')
    .sort((one, other) => other.total.estimate - one.total.estimate)
    .map(({ input, total }) => {
      const paths = variance!.inputs.find(({ name }) => name === input)!.paths;
      const name =
        input === THE_REST ? countedText(paths.length, 'other assumption') : inputWords(input, paths);
      return `${name} ${percentText(total.estimate)}`;
    });
  return parts.length === 0 ? 'Nothing else is seen to matter.' : `Besides: ${parts.join(', ')}.`;
}

/** What an input is worth: "820 (750 to 890) credits a season". */
function worthText({ value, verdict }: InformationOnInput, unit = ''): string {
  if (value === null) return 'too few trials to tell';
  return `${valueText(value)}${unit === '' ? '' : ` ${unit}`}${verdict === 'perhaps' ? ', perhaps by chance' : ''}`;
}

/** Readings with their worth; work where no reading is known. */
function howTexts({ readings, work }: MeasuringAdvice): string[] {
  if (readings.length > 0) {
    return readings.map(({ text, value }) => `How: ${text}: worth ${valueText(value.value)}.`);
  }
  return work === null ? [] : [`How: ${work}.`];
}

/** What to measure next, one paragraph each; or that nothing is worth it. */
export function measuringTexts(study: WhatMatters): string[] {
  const { advice, choice } = study;
  const [first, ...others] = advice;
  if (first === undefined) {
    return [
      `Measure nothing for this choice: no assumption by itself is seen to change it. Choose ${choice.best}.`,
    ];
  }
  const name = ({ input, paths }: InformationOnInput): string =>
    `${inputWords(input, paths)}${paths.length > 1 ? ` (${countedText(paths.length, 'number')})` : ''}`;
  const grouped =
    first.group === null || !((first.group.value?.lower ?? 0) > 0)
      ? []
      : [`${name(first.group)} ${worthText(first.group)}`];
  const more = [...grouped, ...others.map((each) => `${name(each)} ${worthText(each)}`)];
  return [
    `Measure next: ${name(first)}, worth ${worthText(first, unitText(study))}${flatsText(first)}.`,
    ...howTexts(first),
    ...(more.length > 0 ? [`Also worth knowing: ${more.join('; ')}.`] : []),
  ];
}

/** What the choice by it does to flats; nothing where that is not told. */
function flatsText({ avoidedFlats }: MeasuringAdvice): string {
  if (avoidedFlats === null) return '';
  const { estimate, lower, upper } = avoidedFlats;
  if (lower <= 0 && upper >= 0) return '';
  const text = Number(Math.abs(estimate).toPrecision(2));
  return estimate > 0 ? `, with ${text} flats fewer` : `, though with ${text} flats more`;
}

/** One figure for every mix: what knowing all would be worth there. */
export function mixesText({ mixes, choice, mixChosen }: WhatMatters): string | null {
  if (mixes.length < 2) return null;
  const shown = mixChosen === 'where knowing more is worth most' ? ' (most, so shown)' : ' (shown)';
  const parts = mixes.map(({ mix, perfect }: ChoiceSafety) => {
    const worth = perfect === null ? '?' : roundedEstimate(perfect.estimate, perfect);
    return `${mix} ${worth}${mix === choice.mix ? shown : ''}`;
  });
  return `Knowing every assumption is worth: ${parts.join('; ')}.`;
}
