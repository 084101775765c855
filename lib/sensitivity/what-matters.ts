import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { simulate, StoppedRunError, type Simulation } from '../simulate/simulate.js';
import { choiceSafety } from './choice-safety.js';
import { byLeadChange, decidersOf, singleInputs, THE_REST } from './deciders.js';
import { doubtedAssumptions } from './doubted.js';
import { fittedPaths } from './fitted.js';
import { LEAST_SAMPLE } from './given-data.js';
import { oneAtATime } from './one-at-a-time.js';
import type { OneAtATimeStudy } from './one-at-a-time-types.js';
import { StageProgress } from './stage-progress.js';
import { StoppedStudyError } from './stopped.js';
import { TIED } from './study-inputs.js';
import { choiceThreshold } from './threshold.js';
import type { ChoiceThreshold } from './threshold-types.js';
import { firstOrderFromTrials, type TrialEffects } from './trial-inputs.js';
import { varianceDrivers } from './variance-drivers.js';
import type { VarianceStudy } from './variance-types.js';
import { planStudy, type StudyPlan } from './what-matters-plan.js';
import { findingsOf, resultOf, type FinishedParts } from './what-matters-result.js';
import {
  STUDY_STAGES,
  type ChoiceSafety,
  type StudyStage,
  type WhatMatters,
  type WhatMattersOptions,
} from './what-matters-types.js';

/** Resamples for intervals that are shared out among inputs: their ends lie far out. */
const RESAMPLES = 2000;

/**
 * Says which assumptions decide between set-ups, whether the choice is safe, and what to measure next.
 *
 * Four parts. A common run of all set-ups: the best on average, how safe that is, and the value of knowing each
 * assumption or group of them. One assumption at a time: how far each moves the lead of the best. Shares of doubt: how
 * much of the variance of the lead each of the strongest eight holds, all others as one, and the luck of landings; the
 * intervals hold together (Bonferroni). Thresholds: the values of the strongest three at which the choice flips.
 *
 * Assumptions that were fitted to records together stay one input wherever variance is shared out.
 *
 * @param scenario compiled scenario, at least two set-ups.
 * @param options mix, criterion, set-ups, how much to run.
 * @returns the whole; the same bits for any workers.
 * @throws UsageError for names and numbers that do not exist or are out of range, fewer than two set-ups, money without
 *   prices, or a scenario in which nothing is in doubt.
 * @throws StoppedStudyError when the signal fires; it carries what is finished, if that is at least a hundred trials of
 *   the common run.
 * @throws NonFiniteError when a model gives a number that is not finite.
 */
export async function whatMatters(
  scenario: CompiledScenario,
  options: WhatMattersOptions = {},
): Promise<WhatMatters> {
  const study = new Study(scenario, planStudy(scenario, options), options);
  const stopped = await study.run();
  if (!stopped) return study.result();
  throw new StoppedStudyError(study.resultSoFar(), study.progress.finished, study.progress.total);
}

class Study {
  readonly progress: StageProgress;
  private readonly scenario: CompiledScenario;
  private readonly plan: StudyPlan;
  private readonly options: WhatMattersOptions;
  private readonly tied: readonly string[];
  private simulation: Simulation | null = null;
  private mixes: readonly ChoiceSafety[] = [];
  private fromTrials: TrialEffects | null = null;
  private oneAtATime: OneAtATimeStudy | null = null;
  private variance: VarianceStudy | null = null;
  private readonly thresholds: ChoiceThreshold[] = [];
  private readonly finished = new Set<StudyStage>();

  constructor(scenario: CompiledScenario, plan: StudyPlan, options: WhatMattersOptions) {
    this.scenario = scenario;
    this.plan = plan;
    this.options = options;
    this.tied = fittedPaths(scenario);
    this.progress = new StageProgress(plan.planned, options.onProgress);
  }

  /** Does one part after the other. Returns true if it was stopped on the way. */
  async run(): Promise<boolean> {
    const parts = [
      () => this.runCommon(),
      () => this.moveOneAtATime(),
      () => this.shareOutDoubt(),
      () => this.findThresholds(),
    ];
    for (const [stage, part] of parts.entries()) {
      try {
        await part();
      } catch (error) {
        if (!(error instanceof StoppedRunError || error instanceof StoppedStudyError)) throw error;
        this.keep(error);
        return true;
      }
      this.finished.add(STUDY_STAGES[stage]!);
      this.progress.finish(stage);
    }
    return false;
  }

  /** Keeps what a stopped part has finished. */
  private keep({ partial }: StoppedRunError | StoppedStudyError): void {
    if (partial === null) return;
    if (!('kind' in partial)) {
      if (partial.trials >= LEAST_SAMPLE) this.take(partial);
    } else if (partial.kind === 'one at a time') this.oneAtATime = partial;
    else if (partial.kind === 'variance') this.variance = partial;
  }

  private following(stage: number, piece = 0, pieces = 1) {
    const { workers, signal } = this.options;
    return { workers, signal, onProgress: this.progress.listen(stage, piece, pieces) };
  }

  private take(simulation: Simulation): void {
    const { scenario, plan } = this;
    this.simulation = simulation;
    this.mixes = plan.mixes.map((mix) =>
      choiceSafety(scenario, simulation, mix, plan.criterion, plan.perSeason, plan.level),
    );
  }

  private async runCommon(): Promise<void> {
    const { trials, pairings } = this.plan;
    this.take(await simulate(this.scenario, { trials, pairings, ...this.following(0) }));
  }

  private async moveOneAtATime(): Promise<void> {
    const { sideTrials, level } = this.plan;
    const { mix, best, rival, contenders } = this.choice();
    this.oneAtATime = await oneAtATime(this.scenario, {
      mix,
      setups: contenders,
      lead: [best, rival],
      trials: sideTrials,
      level,
      common: this.ran(),
      ...this.following(1),
    });
  }

  private async shareOutDoubt(): Promise<void> {
    const { scenario, plan, tied } = this;
    const { mix, best, rival } = this.choice();
    const single = singleInputs(this.oneAtATime!, plan.criterion, tied);
    const rest = doubtedAssumptions(scenario)
      .map((index) => scenario.assumptions[index]!.path)
      .filter((path) => !single.includes(path) && !tied.includes(path));
    // Landing luck, the single ones, the rest, and what was fitted.
    const inputs = 1 + single.length + (rest.length > 0 ? 1 : 0) + (tied.length > 0 ? 1 : 0);
    this.variance = await varianceDrivers(scenario, {
      mix,
      setups: [best, rival],
      groups: rest.length > 0 ? [{ name: THE_REST, inputs: rest }] : [],
      rows: plan.rows,
      level: 1 - (1 - plan.level) / inputs,
      resamples: RESAMPLES,
      ...this.following(2),
    });
  }

  private async findThresholds(): Promise<void> {
    const { criterion, thresholdTrials, level } = this.plan;
    const { mix, contenders } = this.choice();
    const assumptions = this.assumptionsToFlip();
    for (const [piece, assumption] of assumptions.entries()) {
      this.thresholds.push(
        await choiceThreshold(this.scenario, {
          assumption,
          criterion,
          mix,
          setups: contenders,
          trials: thresholdTrials,
          level,
          common: this.ran(),
          ...this.following(3, piece, assumptions.length),
        }),
      );
    }
  }

  /** The deciders; the strongest of those fitted together stands for them. */
  private assumptionsToFlip(): string[] {
    const strongest = byLeadChange(this.oneAtATime!, this.plan.criterion).map(({ path }) => path);
    const paths = decidersOf(findingsOf(this.plan, this.parts())).flatMap(({ input, paths: own }) =>
      input === TIED ? strongest.filter((path) => own.includes(path)).slice(0, 1) : own,
    );
    return paths.filter((path) => strongest.includes(path));
  }

  /** The choice on the mix that was asked for, else on that where knowing more is worth most. */
  private choice(): ChoiceSafety {
    const worth = ({ perfect }: ChoiceSafety): number => perfect?.estimate ?? 0;
    return this.mixes.reduce((most, each) => (worth(each) > worth(most) ? each : most));
  }

  private ran(): Simulation {
    if (this.simulation === null) throw new UsageError('nothing was run');
    return this.simulation;
  }

  private parts(): FinishedParts {
    const { oneAtATime: screened, variance, thresholds, mixes, finished } = this;
    return {
      simulation: this.ran(),
      mixes,
      choice: this.choice(),
      oneAtATime: screened,
      variance,
      thresholds,
      fromTrials: this.effectsOnLead(),
      finished,
    };
  }

  /** Worked out when it is first asked for: the common run is over then. */
  private effectsOnLead(): TrialEffects {
    const { criterion, level } = this.plan;
    const { mix, best, rival } = this.choice();
    this.fromTrials ??= firstOrderFromTrials(this.scenario, this.ran(), {
      setup: best,
      versus: rival,
      mix,
      figure: criterion,
      level,
    });
    return this.fromTrials;
  }

  resultSoFar(): WhatMatters | null {
    return this.simulation === null ? null : this.result();
  }

  result(): WhatMatters {
    return resultOf(this.scenario, this.plan, this.parts());
  }
}
