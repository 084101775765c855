import { listText } from '../present/lists.js';
import { amountText, seasonsText } from '../chart/figures.js';
import type { MixComparison } from '../decide/compare.js';
import type { PairingSummary } from '../estimate/summary.js';
import { percentText } from '../present/words.js';
import type { RunResult } from '../run.js';
import { certaintyTexts } from './certainty.js';
import { changeTexts } from './change.js';
import { leads, type Lead } from './lead.js';
import { riskText } from './words.js';

/** The answer for one runway mix, in sentences. */
export interface MixAnswer {
  readonly mix: string;
  /** Set-up that lasts longest, or the first of those that cannot be told apart. */
  readonly setup: string;
  /** Others that the run cannot tell from it. */
  readonly level: readonly string[];
  /** Which set-up. */
  readonly which: string;
  /** How long its main tires last. */
  readonly life: string;
  /** How risky it is. */
  readonly risk: string;
  /** How sure all this is: simulation, luck, ignorance. */
  readonly certainty: readonly string[];
  /** What would change the answer. */
  readonly change: readonly string[];
}

/**
 * The answer of a run in plain words: which set-up, how long, how risky, how sure, and what would change it.
 *
 * @param result the answer of a run.
 * @param comparisons of its set-ups on common landings, which tell more of how sure the order is.
 * @returns one answer per mix, in the order of the run.
 */
export function answersFor(
  result: Pick<RunResult, 'pairings' | 'season' | 'currency'>,
  comparisons: readonly MixComparison[] = [],
): MixAnswer[] {
  const all = leads(result.pairings, comparisons);
  return all.map((lead) => ({
    mix: lead.mix,
    setup: lead.leader.setup,
    level: lead.level.map(({ setup }) => setup),
    which: whichText(lead),
    life: lifeText(lead.leader, result.season.flightHours),
    risk: flatText(lead.leader),
    certainty: certaintyTexts(lead),
    change: changeTexts(lead, all, result.currency),
  }));
}

/**
 * The answer over all mixes, in one sentence.
 *
 * @param answers from {@link answersFor}.
 */
export function overallText(answers: readonly MixAnswer[]): string {
  const [first] = answers;
  if (first === undefined) return '';
  if (answers.length === 1) return first.which;
  if (answers.some(({ setup }) => setup !== first.setup)) {
    return 'Which set-up lasts longest depends on the runway mix.';
  }
  const where = answers.length === 2 ? 'both runway mixes' : `all ${answers.length} runway mixes`;
  const open = answers.filter(({ level }) => level.length > 0).map(({ mix }) => mix);
  if (open.length === 0) return `${first.setup} lasts longest on ${where}.`;
  const unsettled = open.length === answers.length ? '' : ` on ${listText(open)}`;
  return `${first.setup} comes out first on ${where}, but this run does not settle it${unsettled}.`;
}

function whichText({ ranked, leader, level, next }: Lead): string {
  if (ranked.length === 1)
    return `Only ${leader.setup} was run on this mix: there is nothing to compare it with.`;
  if (level.length > 0) {
    const names = listText([leader, ...level].map(({ setup }) => setup));
    return `${names} last about equally long: this run does not tell which lasts longer.`;
  }
  const [mine, others] = [leader.life.hours.p50, next?.life.hours.p50 ?? null];
  if (next === null || mine === null || others === null) return `${leader.setup} lasts longest.`;
  return `${leader.setup} lasts longest: its median life is ${ratioText(mine / others)} that of the next, ${next.setup}.`;
}

function ratioText(ratio: number): string {
  if (ratio < 1.15) return `${percentText(ratio - 1)} longer than`;
  return `${ratio < 9.95 ? ratio.toFixed(1) : Math.round(ratio).toLocaleString('en-US')} times`;
}

function lifeText({ life }: PairingSummary, seasonHours: number): string {
  const { p10, p50, p90 } = life.hours;
  const early = p10 === null ? '' : `; one in ten ends before ${amountText(p10)} flight hours`;
  if (p50 === null) {
    return `${percentText(life.beyondHorizon)} of its sets of main tires outlast the horizon of the run${early}.`;
  }
  const seasons = seasonCount(p50 / seasonHours);
  const median = `Half of its sets of main tires last longer than ${amountText(p50)} flight hours (${seasons})`;
  if (p90 === null) return `${median}${early}, and more than one in ten outlasts the horizon of the run.`;
  return `${median}; 8 of 10 sets end between ${amountText(p10)} and ${amountText(p90)}.`;
}

function seasonCount(seasons: number): string {
  if (seasons < 0.95) return `${seasons.toPrecision(1)} of a season`;
  const count =
    seasons < 9.95 ? seasons.toFixed(1).replace(/\.0$/, '') : Math.round(seasons).toLocaleString('en-US');
  return `about ${count} ${count === '1' ? 'season' : 'seasons'}`;
}

function flatText({ puncture }: PairingSummary): string {
  const { season, awayFromHelp, acrossWorlds } = puncture;
  const flats = `A flat on any wheel in ${riskText(season)}`;
  if (season.estimate === 0) return `${flats}: none came near in this run.`;
  const away =
    awayFromHelp.estimate === season.estimate
      ? ', always away from help'
      : `; away from help in ${riskText(awayFromHelp)}`;
  const [rare, often] = [seasonsText(acrossWorlds.p10), seasonsText(acrossWorlds.p90)];
  const range =
    rare === often ? '' : ` In eight of ten worlds that fit what we know it is between ${rare} and ${often}.`;
  return `${flats}${away}.${range}`;
}
