/** Puts together what the finished parts of a study tell. */
import { basisCautions } from '../cautions.js';
import { scenarioHash } from '../run.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import { version } from '../version.js';
import { withPerfect } from './choice-safety.js';
import { decidersOf, type Findings } from './deciders.js';
import { doubtedAssumptions } from './doubted.js';
import { fittedPaths } from './fitted.js';
import { measuringAdvice } from './measuring-advice.js';
import { naturalGroups } from './natural-groups.js';
import type { OneAtATimeStudy } from './one-at-a-time-types.js';
import { otherAims } from './other-aims.js';
import type { InputGroup } from './sobol-indices.js';
import { TIED } from './study-inputs.js';
import type { ChoiceThreshold } from './threshold-types.js';
import type { TrialEffects } from './trial-inputs.js';
import { valueOfInformation } from './value-of-information.js';
import type { VarianceStudy } from './variance-types.js';
import type { ValueOfInformation } from './voi-types.js';
import type { StudyPlan } from './what-matters-plan.js';
import { stageWork } from './what-matters-work.js';
import { STUDY_STAGES, type ChoiceSafety, type StudyStage, type WhatMatters } from './what-matters-types.js';

/** Parts of a study, as far as they are finished. */
export interface FinishedParts {
  readonly simulation: Simulation;
  readonly mixes: readonly ChoiceSafety[];
  /** The choice on the mix that is looked at. */
  readonly choice: ChoiceSafety;
  readonly oneAtATime: OneAtATimeStudy | null;
  readonly variance: VarianceStudy | null;
  readonly thresholds: readonly ChoiceThreshold[];
  /** First-order effects on the lead, from the common run. */
  readonly fromTrials: TrialEffects;
  readonly finished: ReadonlySet<StudyStage>;
}

/** What is known of the lead. */
export function findingsOf(
  { criterion, perSeason }: StudyPlan,
  { fromTrials, oneAtATime, variance, thresholds }: FinishedParts,
): Findings {
  return { criterion, perSeason, fromTrials, oneAtATime, variance, thresholds };
}

/** The study, with the parts that are not finished named in it. */
export function resultOf(scenario: CompiledScenario, plan: StudyPlan, parts: FinishedParts): WhatMatters {
  const { simulation, mixes, oneAtATime, variance, thresholds, finished } = parts;
  const [information, groupInformation] = informationOn(scenario, plan, parts);
  const choice = withPerfect(parts.choice, information.perfect);
  return {
    kind: 'what matters',
    scenario: scenario.name,
    version: version(),
    seed: scenario.seed,
    scenarioHash: scenarioHash(scenario),
    mix: choice.mix,
    mixChosen: mixChosen(plan, parts.choice),
    criterion: plan.criterion,
    unit: information.unit,
    better: plan.criterion === 'life' ? 'more' : 'less',
    perSeason: plan.perSeason,
    setups: plan.setups,
    level: plan.level,
    trials: simulation.trials,
    complete: finished.size === STUDY_STAGES.length,
    missing: STUDY_STAGES.filter((stage) => !finished.has(stage)),
    work: stageWork(simulation, oneAtATime, variance, thresholds),
    choice,
    mixes: mixes.map((each) => (each.mix === choice.mix ? choice : each)),
    otherAims: otherAims(scenario, simulation, choice.mix, plan.criterion, plan.level),
    deciders: decidersOf(findingsOf(plan, parts)),
    advice: measuringAdvice(scenario, simulation, information, groupInformation),
    information,
    groupInformation,
    fromTrials: parts.fromTrials,
    oneAtATime,
    variance,
    thresholds,
    ...(scenario.fitted === undefined ? {} : { cautions: basisCautions(scenario) }),
  };
}

function mixChosen({ mix, mixes }: StudyPlan, { perfect }: ChoiceSafety): WhatMatters['mixChosen'] {
  if (mix !== null) return 'asked for';
  if (mixes.length === 1) return 'the only one';
  return (perfect?.estimate ?? 0) > 0 ? 'where knowing more is worth most' : 'the first one';
}

/** Values of knowing each assumption, and natural groups; those that were seen to change nothing are left out. */
function informationOn(
  scenario: CompiledScenario,
  { criterion, level }: StudyPlan,
  { simulation, choice, oneAtATime }: FinishedParts,
): readonly [ValueOfInformation, ValueOfInformation] {
  const tied = fittedPaths(scenario);
  const seen =
    oneAtATime?.assumptions.filter((each) => each.seen).map(({ path }) => path) ??
    doubtedAssumptions(scenario).map((index) => scenario.assumptions[index]!.path);
  const inTied = seen.filter((path) => tied.includes(path));
  const groups: InputGroup[] = [
    ...naturalGroups(seen.filter((path) => !tied.includes(path))),
    ...(inTied.length > 1 ? [{ name: TIED, inputs: inTied }] : []),
  ];
  const options = { mix: choice.mix, criterion, level };
  return [
    valueOfInformation(scenario, simulation, { ...options, assumptions: seen }),
    valueOfInformation(scenario, simulation, {
      ...options,
      groups,
      assumptions: groups.flatMap(({ inputs }) => inputs),
    }),
  ];
}
