import { listText } from '../present/lists.js';
import { amountText } from '../chart/figures.js';
import type { PairingSummary } from '../estimate/summary.js';
import { percentText } from '../present/words.js';
import type { Lead } from './lead.js';
import { spreadText, ignoranceText } from './words.js';

/** From this share of lives beyond the horizon on, their spread says more of the horizon than of the tires. */
const MANY_OPEN = 0.1;

/**
 * How sure the answer for a mix is: what the simulation settles, what is luck, what is not known.
 *
 * @param lead who leads on the mix.
 * @returns sentences, each starting with the kind of doubt it is about.
 */
export function certaintyTexts(lead: Lead): string[] {
  return [...orderTexts(lead), simulationText(lead), ...doubtTexts(lead.leader)];
}

/** What a comparison on common landings says of the order. */
function orderTexts({ comparison, leader, level, next }: Lead): string[] {
  const best = comparison?.best.life;
  if (comparison === null || best?.priced !== true) return [];
  const rival = level[0] ?? next;
  const pair = comparison.differences.find(
    ({ setup, against }) => rival !== null && setup === leader.setup && against === rival.setup,
  );
  const turned = comparison.differences.find(
    ({ setup, against }) => rival !== null && against === leader.setup && setup === rival.setup,
  );
  const outlasts = pair?.lifeHours.outlasts.setup ?? turned?.lifeHours.outlasts.against;
  if (rival === null || outlasts === undefined) return [best.verdict.text];
  const often = outlasts.estimate === 1 ? 'every time' : `in ${percentText(outlasts.estimate)} of cases`;
  return [
    best.verdict.text,
    `Set against set, on the same landings: one of ${leader.setup} outlasts one of ${rival.setup} ${often}.`,
  ];
}

/** What the simulation alone can tell of the median. */
function simulationText({ ranked, leader, level, next, comparison }: Lead): string {
  const own = medianInterval(leader);
  if (own === null) return 'Simulation: too short, or too few trials, to bound the median life.';
  const known = `Simulation: the median lies ${own} flight hours (95 %)`;
  // Differences on common landings tell more of the order.
  if (ranked.length === 1 || comparison !== null) return `${known}.`;
  if (level.length > 0) {
    const others = listText(level.map(({ setup }) => setup));
    return `${known}, which overlaps ${others}: the lead is not settled, and more trials would narrow it.`;
  }
  const other = next === null ? null : medianInterval(next);
  const against = other === null ? '' : `, that of the next ${other}`;
  return `${known}${against}: the lead is settled as far as trials can settle it.`;
}

function medianInterval({ life }: PairingSummary): string | null {
  const { lower, upper } = life.hours.intervals.p50;
  if (lower === null) return null;
  if (upper === null) return `above ${amountText(lower)}`;
  return `between ${amountText(lower)} and ${amountText(upper)}`;
}

function doubtTexts({ doubts, life }: PairingSummary): string[] {
  const { luck, ignorance } = doubts.lifeHours;
  const ignorantOf = ignoranceText(doubts.lifeHours);
  if (luck === null || ignorance === null || ignorantOf === null)
    return ['Luck and ignorance: too few trials to tell them apart.'];
  if (life.beyondHorizon > MANY_OPEN) {
    const open = percentText(life.beyondHorizon);
    return [
      `Luck and ignorance: not told apart, as ${open} of the lives go on beyond the horizon of the run.`,
    ];
  }
  const remark = (mine: number, other: number): string =>
    mine > other ? ', the larger part of the doubt' : '';
  return [
    `Luck: sets in one and the same world differ by about ${spreadText(luck)} flight hours${remark(luck, ignorance)}; ` +
      'nothing but more airplanes evens it out.',
    `Ignorance: what nobody has measured moves the mean life by ${ignorantOf.startsWith('less') ? '' : 'about '}${ignorantOf} flight hours` +
      `${remark(ignorance, luck)}; gauging treads, counting landings and noting every cut shrinks it.`,
  ];
}
