/** What matters, in words: what the choice hangs on. */
import type { IntervalEstimate } from '../estimate/interval.js';
import type { MeanEstimate } from '../estimate/paired.js';
import { assumptionName, assumptionSpanText, assumptionValueText } from '../scenario/assumption-words.js';
import { scaled } from '../sensitivity/choice-safety.js';
import { byLeadChange, leadDrivers, rankingBy, THE_REST } from '../sensitivity/deciders.js';
import type { IndexVerdict, InputIndices } from '../sensitivity/index-types.js';
import { inputWords } from '../sensitivity/input-words.js';
import type { Decider, WhatMatters } from '../sensitivity/what-matters-types.js';
import { countedText, roundedText, signedText } from './amounts.js';
import { percentText } from './words.js';

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

/** A chance with its interval, whole per cent: "63 % (42 to 79 %)". */
function wholeShareText({ estimate, lower, upper }: IntervalEstimate): string {
  const [own, from, to] = [estimate, lower, upper].map((each) => (100 * each).toFixed(0));
  return `${own!} % (${from!} to ${to!} %)`;
}

/** Per cent, with one decimal below ten. */
export function percentOf(share: number): string {
  const percent = 100 * share;
  return String(Number(percent < 9.95 ? percent.toFixed(1) : percent.toFixed(0)));
}

/** "credits a season". */
export function unitText({ unit }: Pick<WhatMatters, 'unit'>): string {
  return unit.replace(' per season', ' a season');
}

/** True if flips were looked for in all deciders, and none has one. */
export function neverFlips({ deciders }: WhatMatters): boolean {
  return deciders.every(({ threshold }) => threshold?.flips.length === 0);
}

/** More rows than this are out of reach. */
const MOST_ROWS = 65_536;

/** How many rows would tell whether an input matters. */
export function rowsText({ rowsNeeded }: IndexVerdict): string {
  if (rowsNeeded === null || rowsNeeded > MOST_ROWS)
    return 'close to what counts as small, no rows in reach would tell';
  // Rows are best a power of two.
  return `--rows ${2 ** Math.ceil(Math.log2(rowsNeeded))} would tell`;
}

/** One thing that the lead hangs on: how far it moves it, how much of the spread it holds, and where the choice flips. */
export function deciderText(study: WhatMatters, decider: Decider): string {
  const { input, share, verdict, swing, threshold } = decider;
  const parts: string[] = [];
  if (share !== null) {
    parts.push(
      verdict?.kind === 'need more trials'
        ? `spread not told (${percentOf(share.lower)} to ${percentOf(share.upper)} %; ${rowsText(verdict)})`
        : `spread ${shareText(share)}`,
    );
  }
  if (swing !== null) parts.push(swingText(swing.atLow, swing.atHigh));
  const alone = study.fromTrials.effects.find((effect) => effect.input === input)?.firstOrder;
  if (parts.length === 0 && alone !== undefined) parts.push(`${shareText(alone)} of the spread by itself`);
  const span = swing === null ? '' : `, ${assumptionSpanText(input, swing.lowSi, swing.highSi)}`;
  const flip = threshold === null || neverFlips(study) ? '' : `; ${flipsText(study, threshold, input)}`;
  return `${deciderName(study, decider)}${span}: ${parts.join(', ')}${flip}`;
}

function swingText(atLow: MeanEstimate, atHigh: MeanEstimate): string {
  return `lead ${signedText(atLow.estimate, atLow.standardError)} to ${signedText(atHigh.estimate, atHigh.standardError)}`;
}

/** Name of an input; of several that stay together, with the one that moves the lead most by itself. */
function deciderName({ oneAtATime, criterion, perSeason }: WhatMatters, { input, paths }: Decider): string {
  const name = inputWords(input, paths);
  if (paths.length < 2) return name;
  const counted = `${name} (${countedText(paths.length, 'number')})`;
  const strongest =
    oneAtATime === null
      ? undefined
      : byLeadChange(oneAtATime, criterion).find(({ path }) => paths.includes(path));
  if (strongest === undefined) return counted;
  const { leadAtLow, leadAtHigh } = rankingBy(strongest, criterion)!;
  const moves = swingText(scaled(leadAtLow, perSeason), scaled(leadAtHigh, perSeason));
  return `${counted}, strongest by itself ${assumptionName(strongest.path)}, ${moves}`;
}

function flipsText(
  { choice }: WhatMatters,
  { assumption: path, flips }: NonNullable<Decider['threshold']>,
  input: string,
): string {
  const [flip] = flips;
  if (flip === undefined) return 'no plausible value is seen to flip the choice';
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
  const [from, to] = [flip.lowerProbability ?? 0, flip.upperProbability ?? 1];
  const chance =
    other === below
      ? { estimate: probability, lower: from, upper: to }
      : { estimate: 1 - probability, lower: 1 - to, upper: 1 - from };
  const more = flips.length > 1 ? `, and ${flips.length - 1} more` : '';
  const doubt = toldApart ? '' : '; a hint only';
  const of = path === input ? '' : `${assumptionName(path)} `;
  return `${other} better ${other === below ? 'below' : 'above'} ${of}${value(valueSi)}${span}, chance ${wholeShareText(chance)}${more}${doubt}`;
}

/** Inputs beside the deciders that are told to matter, most first. */
export function restOf({ variance, criterion, deciders }: WhatMatters): readonly InputIndices[] {
  const told = new Set(deciders.map(({ input }) => input));
  return (leadDrivers(variance, criterion)?.indices.inputs ?? [])
    .filter(({ input, verdict }) => !told.has(input) && verdict.kind === 'matters')
    .sort((one, other) => other.total.estimate - one.total.estimate);
}

/** Name of an input beside the deciders: those that have no index of their own are counted. */
export function restName({ variance }: WhatMatters, input: string): string {
  const paths = variance!.inputs.find(({ name }) => name === input)!.paths;
  return input === THE_REST ? `${countedText(paths.length, 'other')} together` : inputWords(input, paths);
}

/** What is left of the spread beside the deciders: the other inputs, and luck. Null if it is not known yet. */
export function restText(study: WhatMatters): string | null {
  const lead = leadDrivers(study.variance, study.criterion);
  if (lead === null) return null;
  const rest = restOf(study);
  const parts = rest.map(({ input, total }) => `${restName(study, input)} ${percentText(total.estimate)}`);
  const told = new Set(study.deciders.map(({ input }) => input));
  const untold = lead.indices.inputs.filter(
    ({ input, verdict }) => !told.has(input) && verdict.kind === 'need more trials',
  ).length;
  const open = untold === 0 ? '' : `; ${untold} more not told`;
  const sum = [
    ...study.deciders.map(({ share }) => share?.estimate ?? 0),
    ...rest.map(({ total }) => total.estimate),
  ];
  const overlap = sum.reduce((all, each) => all + each, 0) > 1 ? '; over 100 % as shares overlap' : '';
  return parts.length === 0
    ? `Nothing else is seen to matter${open}${overlap}.`
    : `Besides: ${parts.join(', ')}${open}${overlap}.`;
}
