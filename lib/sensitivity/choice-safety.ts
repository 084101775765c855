/** How safe it is to choose the set-up that is best on average. */
import { bestSetup } from '../decide/best.js';
import type { BestSetup, SetupStanding } from '../decide/best-types.js';
import type { Criterion } from '../decide/criteria.js';
import type { Verdict } from '../decide/verdict.js';
import { normalMultiplier, type IntervalEstimate } from '../estimate/interval.js';
import type { MeanEstimate } from '../estimate/paired.js';
import type { Estimate } from '../estimate/shares.js';
import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import { perfectFromRegret } from './value-of-information.js';
import type { ValueOfInformation } from './voi-types.js';
import type { ChoiceSafety, ChoiceSafetyKind } from './what-matters-types.js';

/** A set-up best in fewer worlds than this is no contender. */
const LEAST_SHARE_OF_WORLDS = 0.01;

/**
 * Judges the choice on a mix.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @param mix name of the runway mix.
 * @param criterion what set-ups are chosen by.
 * @param perSeason factor from the unit of the criterion to that of the answer.
 * @param level two-sided level of the intervals.
 */
export function choiceSafety(
  scenario: CompiledScenario,
  simulation: Simulation,
  mix: string,
  criterion: Criterion,
  perSeason: number,
  level: number,
): ChoiceSafety {
  const found = bestSetup(scenario, simulation, mix, criterion, { level });
  if (!found.priced) throw new UsageError(found.needs);
  const best = found.setups.find(({ setup }) => setup === found.verdict.best)!;
  const rival = rivalOf(found, best);
  const perfect = perfectFromRegret(best.regret.ignorance, perSeason, level);
  const indifference = perSeason * found.indifference;
  const asGood = found.setups
    .filter((standing) => standing !== best && scaled(standing.behindBest, perSeason).upper <= indifference)
    .map(({ setup }) => setup);
  return {
    kind: kindOf(found.verdict, asGood, perfect, indifference),
    mix,
    best: best.setup,
    rival: rival.setup,
    contenders: found.setups.flatMap((standing) => {
      const share = standing.shareOfWorldsBest?.estimate ?? 1;
      return standing === best || standing === rival || share >= LEAST_SHARE_OF_WORLDS
        ? [standing.setup]
        : [];
    }),
    lead: scaled(rival.behindBest, perSeason),
    doubts: found.doubtOfLead,
    asGood,
    chanceBestOnAverage: best.chanceBestOnAverage,
    shareOfWorldsOther: best.shareOfWorldsBest === null ? null : othersShare(best.shareOfWorldsBest, level),
    perfect,
    indifference,
    verdict: found.verdict,
  };
}

/** The rival in most of the other worlds; the nearest in the mean where that does not tell. */
function rivalOf({ setups }: BestSetup, best: SetupStanding): SetupStanding {
  const behind = (standing: SetupStanding): number => standing.behindBest?.estimate ?? 0;
  return setups
    .filter((standing) => standing !== best)
    .reduce((strongest, standing) => {
      const more = (standing.shareOfWorldsBest?.estimate ?? 0) - (strongest.shareOfWorldsBest?.estimate ?? 0);
      return more > 0 || (more === 0 && behind(standing) < behind(strongest)) ? standing : strongest;
    });
}

/** The same with a better founded value of knowing all. */
export function withPerfect(safety: ChoiceSafety, perfect: ValueOfInformation['perfect']): ChoiceSafety {
  const { verdict, asGood, indifference } = safety;
  return { ...safety, perfect, kind: kindOf(verdict, asGood, perfect, indifference) };
}

function kindOf(
  { kind, open }: Verdict,
  asGood: readonly string[],
  perfect: ValueOfInformation['perfect'],
  indifference: number,
): ChoiceSafetyKind {
  switch (kind) {
    case 'run more trials':
      // A set-up that is worse by less than what matters need not be told apart.
      if (!open.every((setup) => asGood.includes(setup))) return 'not told yet';
      return perfect !== null && perfect.estimate > indifference ? 'not safe' : 'either will do';
    case 'measure':
      return 'not safe';
    case 'practically equal':
      return 'either will do';
    case 'settled':
      if (asGood.length > 0) return 'either will do';
      return perfect !== null && perfect.upper <= indifference ? 'safe' : 'probably safe';
  }
}

function othersShare({ estimate, standardError }: Estimate, level: number): IntervalEstimate {
  const reach = normalMultiplier(level) * standardError;
  const share = (value: number): number => Math.min(1, Math.max(0, value));
  return {
    estimate: share(1 - estimate),
    lower: share(1 - estimate - reach),
    upper: share(1 - estimate + reach),
  };
}

/** A mean in another unit; 0 for a copy of the best. */
export function scaled(mean: MeanEstimate | null, factor: number): MeanEstimate {
  if (mean === null) return { estimate: 0, standardError: 0, lower: 0, upper: 0 };
  const { estimate, standardError, lower, upper } = mean;
  const [one, other] = [factor * lower, factor * upper];
  return {
    estimate: factor * estimate,
    standardError: Math.abs(factor) * standardError,
    lower: Math.min(one, other),
    upper: Math.max(one, other),
  };
}
