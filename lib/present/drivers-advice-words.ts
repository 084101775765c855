/** What matters, in words: what to measure, and where it is worth most. */
import type { IntervalEstimate } from '../estimate/interval.js';
import { rankingBy } from '../sensitivity/deciders.js';
import { inputWords } from '../sensitivity/input-words.js';
import { worthOfMeasuring } from '../sensitivity/measuring-advice.js';
import type { InformationOnInput } from '../sensitivity/voi-types.js';
import type { ChoiceSafety, MeasuringAdvice, WhatMatters } from '../sensitivity/what-matters-types.js';
import { countedText } from './amounts.js';
import { roundedEstimate, unitText, valueText } from './drivers-words.js';

/** Ways of measuring that are told: the screen has to be read at a glance. */
const MOST_HOW = 2;

/** Advice before it is told: with what measuring it is worth. */
interface Told {
  readonly advice: MeasuringAdvice;
  readonly worth: IntervalEstimate | null;
}

/** What measuring is worth: "820 (750 to 890) credits a season". */
function worthText(value: IntervalEstimate | null, { verdict }: InformationOnInput, unit = ''): string {
  if (value === null) return 'too few trials to tell';
  return `${valueText(value)}${unit === '' ? '' : ` ${unit}`}${verdict === 'perhaps' ? ', less sure' : ''}`;
}

/** Readings with their worth; work where no reading is known. */
function howTexts({ readings, work }: MeasuringAdvice): string[] {
  if (readings.length > 0) {
    return readings.map(({ text, value }) => `How: ${text}: worth ${valueText(value.value)}.`);
  }
  return work === null ? [] : [`How: ${work}.`];
}

/** The numbers of a group differ between a stopped study and a whole one: they are counted in a whole one only. */
function nameOf(study: WhatMatters, { input, paths }: InformationOnInput): string {
  const counted = paths.length > 1 && study.oneAtATime !== null;
  return `${inputWords(input, paths)}${counted ? ` (${countedText(paths.length, 'number')})` : ''}`;
}

/** True if a worth reaches up to that of the first. */
const rivals = (worth: IntervalEstimate | null, first: IntervalEstimate | null): boolean =>
  worth !== null && first !== null && (worth.upper >= first.lower || worth.estimate >= first.estimate);

/** What to measure next, one paragraph each; or that nothing is seen to be worth it. */
export function measuringTexts(study: WhatMatters): string[] {
  const told = study.advice.map((advice): Told => ({ advice, worth: worthOfMeasuring(advice) }));
  const [first, ...others] = told;
  if (first === undefined) return [nothingText(study)];
  const soFar = study.missing.length === 0 ? '' : ', so far';
  // What seems worth more but is less sure stands beside the first too.
  const level = others.filter(({ worth }) => rivals(worth, first.worth));
  const rest = others.filter((each) => !level.includes(each));
  const { group } = first.advice;
  const grouped =
    group === null || !((group.value?.lower ?? 0) > 0)
      ? []
      : [`${nameOf(study, group)} ${worthText(group.value, group)}`];
  const more = [
    ...grouped,
    ...rest.map(({ advice, worth }) => `${nameOf(study, advice)} ${worthText(worth, advice)}`),
  ];
  const unit = unitText(study);
  const money = study.criterion === 'costPerHour' ? ', before what measuring costs' : '';
  const candidates = [first, ...level].map(
    ({ advice, worth }, place) =>
      `${nameOf(study, advice)} ${place === 0 ? 'worth ' : ''}${worthText(worth, advice, place === 0 ? `${unit}${money}` : '')}`,
  );
  return [
    level.length === 0
      ? `Measure next${soFar}: ${candidates[0]!}${flatsText(first.advice)}.`
      : `Measure next${soFar}, about level: ${candidates.join('; ')}. Start with the cheapest.`,
    ...[...new Set([first, ...level].flatMap(({ advice }) => howTexts(advice)))].slice(0, MOST_HOW),
    ...(more.length > 0 ? [`Also, worth if known: ${more.join('; ')}.`] : []),
  ];
}

/** Why nothing is to be measured; only that nothing is seen where the study leaves room for more. */
function nothingText(study: WhatMatters): string {
  const { choice, oneAtATime, criterion, variance, thresholds, missing } = study;
  const { perfect, best, kind } = choice;
  const most =
    perfect === null
      ? ''
      : ` At most ${roundedEstimate(perfect.upper, perfect)} ${unitText(study)} is to be gained (upper bound of knowing everything).`;
  const flips =
    thresholds.some((each) => each.flips.length > 0) ||
    (oneAtATime?.assumptions ?? []).some((each) => rankingBy(each, criterion)?.choiceFlips !== 'no');
  const wide = (variance?.figures ?? []).some(
    ({ figure, versus, indices }) =>
      figure === criterion &&
      versus !== null &&
      indices.inputs.some(({ verdict }) => verdict.kind === 'need more trials'),
  );
  const sure = missing.length === 0 && (kind === 'safe' || kind === 'either will do') && !flips && !wide;
  return sure
    ? `Measure nothing for this choice: nothing is seen to change it.${most} Choose ${best}.`
    : `With so few trials nothing is seen to be worth measuring.${most}`;
}

/** What the choice by it does to flats; nothing where that is not told. */
function flatsText({ avoidedFlats }: MeasuringAdvice): string {
  if (avoidedFlats === null) return '';
  const { estimate, lower, upper } = avoidedFlats;
  if (lower <= 0 && upper >= 0) return '';
  const text = Number(Math.abs(estimate).toPrecision(2));
  return estimate > 0
    ? `; choosing by it means ${text} fewer flats a season too`
    : `; choosing by it means ${text} more flats a season`;
}

/** One figure for every mix: what knowing all would be worth there. */
export function mixesText({ mixes, choice, mixChosen }: WhatMatters): string | null {
  if (mixes.length < 2) return null;
  const shown = mixChosen === 'where knowing more is worth most' ? ' (most, so shown)' : ' (shown)';
  const worths = mixes.map(({ mix, perfect }: ChoiceSafety) => ({
    mix,
    worth: perfect === null ? '?' : roundedEstimate(perfect.estimate, perfect),
  }));
  const told = worths.filter(({ mix, worth }) => mix === choice.mix || worth !== '0');
  const parts = told.map(({ mix, worth }) => `${mix} ${worth}${mix === choice.mix ? shown : ''}`);
  const rest = told.length < worths.length ? ['the other mixes 0'] : [];
  return `Knowing all is worth: ${[...parts, ...rest].join('; ')}.`;
}
