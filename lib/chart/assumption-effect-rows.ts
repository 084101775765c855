import { roundedText, signedSpan, signedText } from '../present/amounts.js';
import { assumptionName, assumptionSpanText } from '../scenario/assumption-words.js';
import type { DrivenFigure } from '../sensitivity/figures.js';
import type { Criterion } from '../decide/criteria.js';
import type { AssumptionEffect, OneAssumption, RankingEffect } from '../sensitivity/one-at-a-time-types.js';
import type { FigureAxis } from './driver-rows.js';
import type { ChartRow } from './spec.js';

/** What an assumption does to a figure of a set-up, or to the lead of one over another. */
export interface EffectRow {
  readonly assumption: OneAssumption;
  readonly effect: Pick<AssumptionEffect, 'atLow' | 'atHigh' | 'change'>;
  readonly change: number;
  readonly flips: 'no' | 'perhaps' | 'yes';
  /** Best set-ups at the low and at the high value, where they differ. */
  readonly flipText: string;
}

/** What an assumption does to a figure of a set-up, and to who is best by it. */
export function effectRow(assumption: OneAssumption, setup: string, figure: DrivenFigure): EffectRow {
  const effect = assumption.effects.find((each) => each.setup === setup && each.figure === figure)!;
  const ranking = assumption.rankings.find(({ criterion }) => criterion === figure);
  return { assumption, effect, change: effect.change.estimate, ...flipOf(ranking) };
}

/** What an assumption does to the lead that is watched, and to who is best. */
export function leadRow(assumption: OneAssumption, criterion: Criterion): EffectRow {
  const ranking = assumption.rankings.find((each) => each.criterion === criterion)!;
  const { leadAtLow: atLow, leadAtHigh: atHigh, leadChange: change } = ranking;
  return { assumption, effect: { atLow, atHigh, change }, change: change.estimate, ...flipOf(ranking) };
}

function flipOf(ranking: RankingEffect | undefined): Pick<EffectRow, 'flips' | 'flipText'> {
  const flips = ranking?.choiceFlips ?? 'no';
  const [low, high] = [ranking?.orderAtLow[0] ?? '', ranking?.orderAtHigh[0] ?? ''];
  const flipText =
    flips === 'no' ? '' : `${flips === 'yes' ? '' : 'perhaps '}best changes from ${low} to ${high}`;
  return { flips, flipText };
}

/** As a row of data. */
export function effectChartRow(
  { assumption, effect, flips, flipText }: EffectRow,
  place: number,
  { unit, scale }: FigureAxis,
): ChartRow {
  const { path, lowSi, highSi, fittedWithOthers } = assumption;
  const { atLow, atHigh, change } = effect;
  const error = scale * change.standardError;
  const scaled = {
    estimate: scale * change.estimate,
    lower: scale * change.lower,
    upper: scale * change.upper,
    standardError: error,
  };
  const [low, high] = [scale * atLow.estimate, scale * atHigh.estimate];
  const none = change.estimate === 0 && error === 0;
  const text = none ? 'no change' : `${signedText(scaled.estimate, error)} (${signedSpan(scaled)})`;
  const [name, span] = [assumptionName(path), assumptionSpanText(path, lowSi, highSi)];
  const from = `${roundedText(low, error)} to ${roundedText(high, error)} ${unit}`;
  return {
    place,
    others: false,
    name,
    span,
    low,
    high,
    changeLow: low + scaled.lower,
    changeHigh: low + scaled.upper,
    isTold: change.lower > 0 || change.upper < 0,
    flips,
    text,
    figures: from,
    flipText: flipText === '' ? 'no' : flipText,
    path: fittedWithOthers ? `${path} (fitted together with others)` : path,
    said: `${name}, ${span}: ${from}, ${none ? text : `change ${text} ${unit}`}${flipText === '' ? '' : `; ${flipText}`}`,
  };
}

/** What is said of those left out. */
export function othersText(left: readonly EffectRow[], { scale }: FigureAxis): string {
  const most = left.reduce((largest, { change }) => Math.max(largest, Math.abs(change)), 0);
  const flipping = left.filter(({ flips }) => flips !== 'no').length;
  const flips = flipping === 0 ? '' : `; ${flipping} may change which is best`;
  return most === 0 ? 'no change' : `at most ${roundedText(scale * most, 0)} each${flips}`;
}
