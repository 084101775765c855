import { limitsChart } from '../chart/limits.js';
import type { SetupLimits } from '../decide/limit-types.js';
import { setupLimits } from '../decide/setup-limits.js';
import { laterBeyond, limitsAnswerText, sortedOut } from '../present/limit-words.js';
import { listText } from '../present/lists.js';
import { CancelledError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { STOPPED, type Chapter, type CollectOptions } from './chapter.js';
import { foldedTables, lackingTable, setupTables, sourcesTable } from './limits-tables.js';
import { pressuresOfSeason } from '../decide/season-limits.js';

/**
 * The chapter on limits: for each set-up what is beyond, within and not checked, those beyond a limit first.
 *
 * @param compiled the scenario.
 * @param trials seasons lived through for each set-up and mix, whose pressures are looked at too.
 * @param options progress and stop; without the pressures of a season the limits still stand.
 */
export async function limitsChapter(
  compiled: CompiledScenario,
  trials: number,
  options: CollectOptions,
): Promise<Chapter> {
  const seasons = await seasonsUnlessStopped(compiled, trials, options);
  const limits = byTrouble(setupLimits(compiled, seasons === null ? {} : { seasonPressures: seasons }));
  const mixes = compiled.mixes.map(({ name }) => name);
  return {
    id: 'limits',
    title: 'Limits',
    ...(limits.length === 1 ? {} : { lead: overallText(limits) }),
    answers: limits.map(limitsAnswerText),
    cautions: unique(
      limits
        .flatMap(({ cautions }) => cautions)
        // Said in the answers already.
        .filter(({ code }) => code !== 'beyond in the season')
        .map(({ message }) => message),
    ),
    tables: [...lackingTable(limits), ...(limits.length === 1 ? limits.map(setupTables) : [])],
    folded: [...(limits.length === 1 ? [] : limits.map(foldedTables)), sourcesTable(limits)],
    chart: () => limitsChart(limits, { trials: seasons === null ? 0 : trials, seed: compiled.seed }),
    notes: [
      'Values stand at the medians of all assumptions and the cold setting. Worlds beyond: share of the worlds that our ' +
        'assumptions allow in which the value is beyond its limit. To weigh (beyond *): limits of conditions that come and ' +
        'go, such as a flooded runway or soft ground. What is not known is not checked, and never within.',
      seasons === null
        ? `Pressures met in a season: ${STOPPED.charAt(0).toLowerCase()}${STOPPED.slice(1)}`
        : `Pressures met in a season: the extremes of one season in ten on ${listText(mixes)}, of ${trials} seasons each.`,
    ],
  };
}

async function seasonsUnlessStopped(
  compiled: CompiledScenario,
  trials: number,
  options: CollectOptions,
): Promise<Awaited<ReturnType<typeof pressuresOfSeason>> | null> {
  try {
    return await pressuresOfSeason(compiled, { trials, ...options });
  } catch (error) {
    if (error instanceof CancelledError) return null;
    throw error;
  }
}

/** Beyond a limit first, then beyond one at some pressure of the season; in the order of the file otherwise. */
function byTrouble(limits: readonly SetupLimits[]): SetupLimits[] {
  const trouble = (each: SetupLimits): number =>
    sortedOut(each).beyond.length > 0 ? 2 : laterBeyond(each).length > 0 ? 1 : 0;
  return [...limits].sort((a, b) => trouble(b) - trouble(a));
}

/** All set-ups in one sentence. */
function overallText(limits: readonly SetupLimits[]): string {
  const beyond = limits.filter((each) => sortedOut(each).beyond.length > 0);
  const later = limits.filter((each) => !beyond.includes(each) && laterBeyond(each).length > 0);
  const names = (some: readonly SetupLimits[]): string => listText(some.map(({ setup }) => setup));
  if (beyond.length === 0) {
    const seasonal =
      later.length === 0
        ? ''
        : `; at pressures met in the season ${later.length === 1 ? 'one is' : 'some are'}: ${names(later)}`;
    return `No set-up is beyond a limit that could be checked as set${seasonal}.`;
  }
  const also = later.length === 0 ? '' : `; at pressures met in the season also: ${names(later)}`;
  return `Beyond a limit as set: ${names(beyond)}${also}.`;
}

function unique(texts: readonly string[]): string[] {
  return [...new Set(texts)];
}
