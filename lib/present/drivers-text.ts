import { ASSUMED, FITTED } from '../cautions.js';
import type { WhatMatters } from '../sensitivity/what-matters-types.js';
import { driversScreen } from './drivers-screen.js';
import { driversTables } from './drivers-tables.js';
import { TABLE_WIDTH } from './table.js';
import { printable, wrap } from './words.js';

/**
 * What matters as text: one screen, then, below a line, a table for each part of the study.
 *
 * @param study from whatMatters, whole or stopped.
 * @returns text of at most 100 columns, ending without a line end.
 */
export function driversText(study: WhatMatters): string {
  const paragraph = (text: string): string => wrap(printable(text), TABLE_WIDTH, '  ');
  const flips = study.thresholds.map(({ text }) => paragraph(text));
  return [
    driversScreen(study),
    '='.repeat(TABLE_WIDTH),
    ...driversTables(study),
    ...(flips.length === 0 ? [] : [`Where the choice flips\n\n${flips.join('\n')}`]),
    LEGEND.map(paragraph).join('\n'),
    (study.cautions ?? [ASSUMED])
      .filter(({ code }) => code !== FITTED.code)
      .map(({ message }) => paragraph(`Caution: ${message}`))
      .join('\n'),
  ].join('\n\n');
}

const LEGEND = [
  'Worlds: what the assumptions allow; each trial lives in one. Another set-up best in worlds: there its mean, luck ' +
    'taken out, is better than that of the choice. What matters: a twentieth of the mean (common practice, no source).',
  'Knowing all is worth: what choosing world by world would gain on average over one choice for all. No measuring can ' +
    'be worth more. Worths do not add up; perhaps by chance: its own interval is above 0, but with so many tried that ' +
    'may be chance (surely at least: all tried taken into account, from trials that the choice was not fitted to).',
  'Lead at low and at high: on the same worlds and landings, with the one assumption held at the value that one world ' +
    'in ten falls below, and at the one that one in ten exceeds; each interval by itself.',
  'Share of the spread: of the variance of the lead over worlds and landings. By itself: what would go if this were ' +
    'known; never told as more than with others. With others: what would stay if all else were known; these overlap ' +
    'and can add up to more than 100 %. Need more trials: the interval holds 5 %; so many rows would tell.',
  'Set-ups that are best in fewer than a hundredth of the worlds are left out of all but the choice on each mix.',
];
