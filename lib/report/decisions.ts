import type { MixComparison } from '../decide/compare.js';
import type { Run } from '../run.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { UsageError } from '../problems.js';
import { chapterOr, chapterPart, withoutAnswer, type Chapter, type CollectOptions } from './chapter.js';
import { limitsChapter } from './limits-chapter.js';
import { moneyChapter } from './money-chapter.js';
import type { PagePart } from './page.js';
import { planChapter } from './plan-chapter.js';
import type { RunDrivers } from './run-drivers.js';
import { sparesChapter } from './spares-chapter.js';
import { todayChapter } from './today-chapter.js';
import { WHAT_MATTERS, whatMattersChapter } from './what-matters-chapter.js';

/** Seasons whose pressures are held against limits: the tenth lowest of 200 is known within a few tenths of a psi. */
const SEASON_TRIALS = 200;
/** Seasons that gear sets and spares are chosen from, at most. */
const FLEET_TRIALS = 1000;

/** What a scenario and its run decide. */
export interface DecisionSources {
  readonly scenario: Scenario;
  readonly compiled: CompiledScenario;
  readonly run: Run;
  readonly comparisons: readonly MixComparison[];
  /** What drives the run, or why that cannot be told. */
  readonly drivers: RunDrivers | UsageError;
}

/**
 * The chapter on the tires on the airplane, for a scenario that knows them.
 *
 * @param sources scenario and run.
 * @param options progress and stop.
 * @returns one part, or none.
 */
export async function todayParts(
  { compiled, run }: DecisionSources,
  options: CollectOptions,
): Promise<PagePart[]> {
  const { today } = compiled;
  if (today === null) return [];
  return parts([
    await chapterOr({ id: 'today', title: 'Your tires today' }, () =>
      todayChapter(compiled, today, run.result, options),
    ),
  ]);
}

/**
 * The chapters on limits, money and what matters, and on gear sets and spares for a scenario with a fleet. None of them lives through
 * more trials than the run did.
 *
 * @param sources scenario and run.
 * @param options progress and stop; what is not ready is named.
 */
export async function decisionParts(
  { scenario, compiled, run, comparisons, drivers }: DecisionSources,
  options: CollectOptions,
): Promise<PagePart[]> {
  const { trials } = run.result;
  const chapters: Chapter[] = [
    await limitsChapter(compiled, Math.min(SEASON_TRIALS, trials), options),
    moneyChapter(compiled, run.simulation, comparisons),
    drivers instanceof UsageError
      ? withoutAnswer(WHAT_MATTERS, `There is no answer: ${drivers.message}.`)
      : whatMattersChapter(drivers),
  ];
  if (scenario.fleet !== undefined) {
    const fleetTrials = Math.min(FLEET_TRIALS, trials);
    chapters.push(
      await chapterOr({ id: 'plan', title: 'Gear sets through the season' }, () =>
        planChapter(scenario, fleetTrials, options),
      ),
      await chapterOr({ id: 'spares', title: 'Spares' }, () => sparesChapter(scenario, fleetTrials, options)),
    );
  }
  return parts(chapters);
}

async function parts(chapters: readonly Chapter[]): Promise<PagePart[]> {
  const pages: PagePart[] = [];
  for (const chapter of chapters) pages.push(await chapterPart(chapter));
  return pages;
}
