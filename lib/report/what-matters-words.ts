import { roundedText, wholeText } from '../present/amounts.js';
import { CRITERION_WORDS } from '../present/compare-words.js';
import { shareText, unitText, valueText } from '../present/drivers-words.js';
import { listText } from '../present/lists.js';
import type { Criterion } from '../decide/criteria.js';
import { FIGURE_WORDS, inputWords } from '../sensitivity/input-words.js';
import type { SampleEffect } from '../sensitivity/given-data.js';
import type { TrialEffects } from '../sensitivity/trial-inputs.js';
import type { InformationOnInput } from '../sensitivity/voi-types.js';
import type { ChoiceSafety, ChoiceSafetyKind } from '../sensitivity/what-matters-types.js';
import type { MixDrivers, RunDrivers } from './run-drivers.js';

/** Assumptions named in a sentence. */
const MOST_NAMED = 2;

/** What a choice is, in the middle of a sentence. */
export const SAFETY_WORDS: Readonly<Record<ChoiceSafetyKind, string>> = {
  safe: 'safe',
  'probably safe': 'probably safe',
  'either will do': 'a matter of taste, as either will do',
  'not safe': 'not safe',
  'not told yet': 'not told yet',
};

/** What knowing more before choosing does. */
const GAINS: Readonly<Record<Criterion, string>> = {
  life: 'gain',
  flats: 'avoid',
  costPerHour: 'save',
  daysLost: 'save',
};

/** Inputs that are surely not small, the largest first. */
export function matteringIn({ effects }: TrialEffects): SampleEffect[] {
  return effects
    .filter(({ verdict }) => verdict.kind === 'matters')
    .sort((one, other) => other.firstOrder.estimate - one.firstOrder.estimate);
}

/** Name of a single assumption of a study. */
export function nameOf(input: string): string {
  return inputWords(input, [input]);
}

/**
 * What a spread hangs on, and what holds the rest of it: "abradability (25 %; luck of landings and all others 75 %)"; null
 * for none.
 */
function hangsOn(effects: TrialEffects): string | null {
  const found = matteringIn(effects).slice(0, MOST_NAMED);
  if (found.length === 0) return null;
  const rest = found.reduce((left, { firstOrder }) => left - firstOrder.estimate, 1);
  const others = `luck of landings and all others ${wholePercent(Math.max(0, rest))}`;
  const named = found.map(({ input, firstOrder }, place) => {
    const share = wholePercent(firstOrder.estimate);
    return `${nameOf(input)} (${place === found.length - 1 ? `${share}; ${others}` : share})`;
  });
  return listText(named);
}

/** Whole per cent: shares of a spread are not known better. */
function wholePercent(share: number): string {
  return `${(100 * share).toFixed(0)} %`;
}

/** Is the choice on a mix safe, and what does that mean. */
export function safetyAnswer(
  { best, rival, kind, perfect, indifference, shareOfWorldsOther, verdict, asGood }: ChoiceSafety,
  criterion: Criterion,
  unit: string,
  trials: number,
): string {
  const does = CRITERION_WORDS[criterion].best;
  // Two figures: it is a rule of thumb.
  const matters = `${roundedText(indifference, indifference / 5)} ${unitText({ unit })}`;
  const gain =
    perfect === null
      ? null
      : `knowing every assumption before choosing would ${GAINS[criterion]} ${valueText(perfect)} ${unitText({ unit })}`;
  const others =
    shareOfWorldsOther === null
      ? ''
      : `; another set-up is best in ${shareText(shareOfWorldsOther)} of the worlds assumed`;
  switch (kind) {
    case 'safe':
      return `${best} ${does} on average, and that is safe: ${gain ?? ''}, less than what matters (${matters}).`;
    case 'probably safe':
      return gain === null
        ? `${best} ${does} on average; too few trials to tell whether knowing more would change that.`
        : `${best} ${does} on average, and that is probably safe: ${gain}; up to ${matters} would not matter${others}.`;
    case 'either will do':
      return `${listText([best, ...new Set([...verdict.equal, ...asGood])])} differ by less than what matters (${matters}): either will do.`;
    case 'not safe':
      return `${best} ${does} on average, but that is not safe: ${gain ?? ''}, more than what matters (${matters})${others}.`;
    case 'not told yet': {
      const more =
        verdict.moreTrials === null
          ? 'no number of trials may tell'
          : `about ${wholeText(trials + verdict.moreTrials)} would`;
      const rivals = verdict.open.length === 0 ? [rival] : verdict.open;
      return `${wholeText(trials)} trials do not tell which of ${listText([best, ...rivals])} ${does}; ${more}${gain === null ? '' : `; ${gain}`}.`;
    }
  }
}

/** What to measure first for the choice on a mix; null where nothing is needed or seen. */
export function toMeasure({ choice }: MixDrivers): InformationOnInput | null {
  const first = choice?.information.inputs[0];
  if (choice === null || first?.value == null) return null;
  if (first.verdict === 'worth measuring') return first;
  const isSafe = choice.safety.kind === 'safe' || choice.safety.kind === 'either will do';
  return first.verdict === 'perhaps' && !isSafe ? first : null;
}

function measuringAnswer(drivers: MixDrivers, unit: string): string {
  const first = toMeasure(drivers);
  if (first === null) {
    return drivers.choice?.safety.kind === 'safe' || drivers.choice?.safety.kind === 'either will do'
      ? 'Nothing need be measured for this choice.'
      : 'No single measurement is seen to change it.';
  }
  const worth = `${valueText(first.value!)} ${unitText({ unit })}`;
  return first.verdict === 'worth measuring'
    ? `Measure next: ${nameOf(first.input)}; knowing it is worth ${worth}.`
    : `Perhaps worth measuring: ${nameOf(first.input)}, worth ${worth}, though with so many tried that may be chance.`;
}

/** The answer for a mix: is the choice safe, what to measure, and what its figures hang on. */
export function mixAnswerText(drivers: MixDrivers, { criterion, trials }: RunDrivers): string {
  const { mix, choice } = drivers;
  const chosen =
    choice === null
      ? []
      : [
          safetyAnswer(choice.safety, criterion, choice.information.unit, trials),
          measuringAnswer(drivers, choice.information.unit),
        ];
  return `On ${mix}, from ${wholeText(trials)} trials: ${[...chosen, spreadText(drivers)].join(' ')}`;
}

/** What the spread of each figure comes from. */
function spreadText({ setup, figures, choice }: MixDrivers): string {
  const shown = [...(choice === null ? [] : [choice.lead]), ...figures];
  const parts = shown.flatMap((effects) => {
    const on = hangsOn(effects);
    const { figure, versus } = effects;
    return on === null ? [] : [{ what: versus === null ? FIGURE_WORDS[figure] : `lead over ${versus}`, on }];
  });
  return parts.length === 0
    ? `No assumption by itself is surely seen to move the figures of ${setup}: it is luck, or many small ones.`
    : `With ${setup}, ${parts.map(({ what, on }, place) => `its ${what} ${place === 0 ? 'hangs most on' : 'on'} ${on}`).join('; ')}.`;
}

/** All mixes in a sentence or two; null for a run with nothing to choose. */
export function overallAnswer({ criterion, choices, mixes }: RunDrivers): string | null {
  if (choices.length < 2) return null;
  const kinds = [...new Set(choices.map(({ kind }) => kind))];
  const told = kinds.map((kind) => {
    const on = choices.flatMap((each) => (each.kind === kind ? [each.mix] : []));
    return `${SAFETY_WORDS[kind]} on ${mixesText(on, choices.length)}`;
  });
  const [most] = mixes
    .flatMap((each) => {
      const first = toMeasure(each);
      return first?.verdict === 'worth measuring'
        ? [{ first, mix: each.mix, unit: each.choice!.information.unit }]
        : [];
    })
    .sort((one, other) => other.first.value!.estimate - one.first.value!.estimate);
  const measure =
    most === undefined
      ? ''
      : ` Worth most to measure: ${nameOf(most.first.input)}, ${valueText(most.first.value!)} ${unitText({ unit: most.unit })} on ${most.mix}.`;
  return `The choice by ${FIGURE_WORDS[criterion]} is ${told.join('; ')}.${measure}`;
}

/** A few mixes by name; names may hold commas, so that more are counted. */
function mixesText(names: readonly string[], of: number): string {
  if (names.length === of) return 'every mix';
  return names.length > 2 ? `${names.length} of ${of} mixes` : listText(names);
}

/** What would change the choice on a mix, for the answer at the head of the report. */
export function choiceChangeTexts({ criterion, mixes }: RunDrivers, mix: string): string[] {
  const drivers = mixes.find((each) => each.mix === mix);
  if (drivers?.choice == null) return [];
  const { lead, safety, information } = drivers.choice;
  const does = CRITERION_WORDS[criterion].best;
  const first = toMeasure(drivers);
  const named = matteringIn(lead)
    .slice(0, MOST_NAMED)
    .map(({ input }) => nameOf(input));
  const hangs =
    named.length === 0
      ? ''
      : ` The lead of ${safety.best} over ${safety.rival} hangs most on ${listText(named)}.`;
  if (first === null) return [`No single assumption is seen to change which set-up ${does}.${hangs}`];
  const perhaps = first.verdict === 'worth measuring' ? '' : 'perhaps ';
  return [
    `Which set-up ${does} ${perhaps}depends on ${nameOf(first.input)}: knowing it is worth ${valueText(first.value!)} ${unitText(information)}.${hangs}`,
  ];
}
