import type { PressurePoint, PressureSweep, RangeEnd } from '../decide/pressure-types.js';
import { endText, highText, lowText, psiFigure, rangeText } from '../present/pressure-words.js';
import { capitalized, percentText, printable } from '../present/words.js';
import { amountText, seasonsText, spanText } from './figures.js';
import { shortName } from './labels.js';
import { counted, pressureText } from './measures.js';

export { endText, psiFigure, rangeText };

/** The limits that a range keeps, as far as they are known. */
export function keptLimits({ brokenThroughout, notChecked }: PressureSweep): string {
  const which = brokenThroughout.length === 0 ? 'all' : 'other';
  return `${which}${notChecked.length === 0 ? '' : ' checked'} limits`;
}

/**
 * The finding of an inflation chart, in a sentence.
 *
 * @param sweep of the pressure.
 */
export function inflationFinding(sweep: PressureSweep): string {
  const name = `${shortName(sweep.setup)} on ${shortName(sweep.mix, 24)}`;
  const own = psiFigure(sweep.ownPressurePsi);
  const { sensibleRange, limitsRange, brokenThroughout } = sweep;
  const beyond = brokenThroughout.map(({ code }) => code).join(', ');
  const throughout = beyond === '' ? '' : `beyond its limit at every pressure (${beyond})`;
  const range = sensibleRange ?? limitsRange;
  if (range === null) {
    const none = 'no pressure looked at keeps all limits';
    return `${name}: ${throughout === '' ? none : throughout}; its own is ${own} psi`;
  }
  const apart = throughout === '' ? '' : `${throughout}; apart from that, `;
  const side =
    sweep.ownPressurePsi < range.lowPsi ? 'below' : sweep.ownPressurePsi > range.highPsi ? 'above' : 'inside';
  const what = sensibleRange === null ? 'keeps the limits' : 'is sensible';
  return `${name}: ${apart}${rangeText(range)} ${what}; its own ${own} psi lies ${side}`;
}

function boundText(side: 'below' | 'above', end: RangeEnd): string {
  if (end.kind === 'end of the sweep') return `${side === 'below' ? 'lowest' : 'highest'} looked at`;
  return `${side}: ${endText(end)}`;
}

/** What bounds the ranges, and what is broken or not known, in short sentences. */
export function inflationRemarks(sweep: PressureSweep): string[] {
  const { sensibleRange, limitsRange, brokenThroughout, notChecked, sensibleLifeShare } = sweep;
  const remarks: string[] = [];
  if (limitsRange === null) {
    const codes = [...new Set(sweep.points.flatMap(({ broken }) => broken))];
    if (codes.length > 0) remarks.push(`Limits broken along the sweep: ${codes.join(', ')}.`);
  } else {
    const { lowPsi, highPsi, lowEnd, highEnd } = limitsRange;
    remarks.push(
      `${capitalized(keptLimits(sweep))} kept from ${lowText(lowPsi)} psi (${boundText('below', lowEnd)}) ` +
        `to ${highText(highPsi)} psi (${boundText('above', highEnd)}).`,
    );
  }
  if (sensibleRange !== null) {
    remarks.push(`Sensible: of these, ${percentText(sensibleLifeShare)} or more of the best mean life.`);
  }
  if (brokenThroughout.length > 0) {
    remarks.push(`Broken at every pressure: ${brokenThroughout.map(({ code }) => code).join(', ')}.`);
  }
  if (notChecked.length > 0) {
    const codes = [...new Set(notChecked.map(({ code }) => code))];
    remarks.push(`Not checked for lack of data: ${codes.join(', ')}.`);
  }
  return remarks.map(printable);
}

/**
 * The chart in words, with its main figures.
 *
 * @param sweep of the pressure.
 * @param finding its title.
 */
export function inflationDescription(sweep: PressureSweep, finding: string): string {
  const { points, bestLife, lowestCost } = sweep;
  const [low, high] = [points[0]!, points[points.length - 1]!];
  const own = points.find((point) => point.own);
  const told = [
    low,
    ...(own === undefined || own === low || own === high ? [] : [own]),
    ...(high === low ? [] : [high]),
  ];
  const best = `Longest mean life at ${pressureText(bestLife.pressurePa)}`;
  const cheapest = lowestCost === null ? '' : `, lowest cost at ${pressureText(lowestCost.pressurePa)}`;
  return printable(
    `Life, chance of a flat, push force and clearance at ${counted(points.length, 'cold pressure')} of the main tires. ` +
      `${finding}. ${inflationRemarks(sweep).join(' ')} ${told.map(pointWords).join(' ')} ${best}${cheapest}.`,
  );
}

function pointWords({ pressurePa, lifeHours: { p10, p50, p90 }, flatSeason }: PressurePoint): string {
  const half =
    p50 === null ? 'half of the sets last beyond the horizon' : `half of the sets last ${amountText(p50)} h`;
  return `At ${pressureText(pressurePa)}: ${half} (8 in 10: ${spanText(p10, p90)}), ${seasonsText(flatSeason.estimate)} has a flat.`;
}
