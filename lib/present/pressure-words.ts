import type {
  BestPressure,
  CheckInterval,
  PressureRange,
  PressureSweep,
  RangeEnd,
} from '../decide/pressure-types.js';
import { paToPsi } from '../decide/pressure-units.js';
import { countedText, roundedText, signedSpan } from './amounts.js';
import { listText } from './lists.js';
import { percentText } from './words.js';

/** Rounding of psi in a file, in steps: a range that ends at 30 psi is not said to end at 29.9. */
const ROUNDING = 1e-3;

/** Psi as a gauge is read. */
export function psiFigure(pressurePsi: number): string {
  return String(Number(pressurePsi.toPrecision(3)));
}

/** A range of pressures: "22 to 29 psi". Its ends are rounded inward, so that what is said is inside it. */
export function rangeText({ lowPsi, highPsi }: PressureRange): string {
  const [low, high] = [lowText(lowPsi), highText(highPsi)];
  return lowPsi === highPsi ? `${low} psi` : `${low} to ${high} psi`;
}

/** Lower end of a range, rounded inward. */
export function lowText(psi: number): string {
  return psiFigure(Math.ceil(psi / stepOf(psi) - ROUNDING) * stepOf(psi));
}

/** Upper end of a range, rounded inward. */
export function highText(psi: number): string {
  return psiFigure(Math.floor(psi / stepOf(psi) + ROUNDING) * stepOf(psi));
}

/** What the last of three figures counts. */
function stepOf(psi: number): number {
  return psi >= 100 ? 1 : psi >= 10 ? 0.1 : 0.01;
}

/** What ends a range. */
export function endText(end: RangeEnd): string {
  if (end.kind === 'limit') return end.code;
  return end.kind === 'life' ? 'the tires last clearly shorter' : 'not looked at';
}

/**
 * The choice of pressure in a few sentences: the range, what is best in it, and how often to check.
 *
 * @param sweep of the pressure.
 */
export function pressureAnswers(sweep: PressureSweep): string[] {
  return [rangeAnswer(sweep), bestAnswer(sweep), ...checkAnswer(sweep)];
}

function rangeAnswer(sweep: PressureSweep): string {
  const { setup, mix, ownPressurePsi, sensibleRange, limitsRange, brokenThroughout, notChecked } = sweep;
  const own = psiFigure(ownPressurePsi);
  const subject = `${setup} on ${mix}`;
  const broken =
    brokenThroughout.length === 0
      ? ''
      : ` No pressure mends ${listText(brokenThroughout.map(({ code }) => code))}: beyond the limit throughout.`;
  const unknown =
    notChecked.length === 0
      ? ''
      : ` Not checked: ${notChecked.map(({ code, needs }) => `${code} (needs ${needs.join(', ')})`).join('; ')}.`;
  const range = sensibleRange ?? limitsRange;
  if (range === null) {
    return `${subject}: no pressure looked at keeps all limits; yours is ${own} psi.${broken}${unknown}`;
  }
  const place = ownPressurePsi < range.lowPsi ? 'below' : ownPressurePsi > range.highPsi ? 'above' : 'inside';
  const what = sensibleRange === null ? 'keeps the limits' : 'is sensible';
  return (
    `${subject}: ${rangeText(range)} ${what}; your ${own} psi lies ${place}. Below: ${endText(range.lowEnd)}; ` +
    `above: ${endText(range.highEnd)}.${broken}${unknown}`
  );
}

function bestAnswer(sweep: PressureSweep): string {
  const { bestLife, lowestCost, currency } = sweep;
  const life = `Longest mean life at ${bestText(bestLife, 'h')}`;
  if (lowestCost === null) return `${life}. Cost not checked: needs prices.`;
  return `${life}; lowest cost at ${bestText(lowestCost, `${currency ?? ''} a flight hour`)}.`;
}

/** A best pressure, and what it gains over the set-up's own; or that the trials do not tell. */
function bestText({ pressurePsi, versusOwn, notToldApartPa }: BestPressure, unit: string): string {
  const others = notToldApartPa.length - 1;
  const close = others > 0 ? `, ${countedText(others, 'other pressure')} not told apart` : '';
  const gain =
    versusOwn.standardError === 0
      ? 'your own'
      : `${roundedText(versusOwn.estimate, versusOwn.standardError)} ${unit} against yours, 95 %: ${signedSpan(versusOwn)}`;
  return `${psiFigure(pressurePsi)} psi (${gain}${close})`;
}

function checkAnswer({ checkForLimits, checkForSensible }: PressureSweep): string[] {
  const check = checkForSensible ?? checkForLimits;
  if (check === null) return [];
  return [
    `${longestText(check)} At present: every ${days(check.presentDays)}, ${percentText(check.presentShare)} below.`,
  ];
}

function longestText({ longestDays, lowPa, share, seasonDays }: CheckInterval): string {
  const low = psiFigure(paToPsi(lowPa));
  const aim = `at most ${percentText(share)} of readings below ${low} psi`;
  if (longestDays === null) return `Even checks a season (${days(seasonDays)}) apart find ${aim}.`;
  if (longestDays === 0) return `No interval between checks keeps to ${aim}: set a higher pressure.`;
  return `Check the pressure every ${days(longestDays)} or sooner to find ${aim}.`;
}

function days(count: number): string {
  return countedText(Math.round(count), 'day');
}
