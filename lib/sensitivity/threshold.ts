import { DEFAULT_LEVEL } from '../estimate/interval.js';
import { meanWithInterval, pairedDifference, type PairedDifference } from '../estimate/paired.js';
import { UsageError, properShare, wholeNumber } from '../problems.js';
import { scenarioHash } from '../run.js';
import { assumptionName, assumptionSpanText, assumptionValueText } from '../scenario/assumption-words.js';
import type { CompiledAssumption, CompiledScenario } from '../scenario/compile.js';
import { DrawnWorlds } from '../simulate/world.js';
import { version } from '../version.js';
import { indexOfAssumption } from './doubted.js';
import { valueAtProbability } from './fitted.js';
import { openScope, type OpenScope } from './figures.js';
import { orderOf } from './rankings.js';
import { checkedWorkers, landingsOf, runWorlds, type StudyRun } from './run-worlds.js';
import { StoppedStudyError } from './stopped.js';
import type { ChoiceFlip, ChoiceThreshold, ThresholdOptions } from './threshold-types.js';

/** Probabilities at which the assumption is held first. */
export const GRID = [0.01, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.99];
/** Halvings between two points of the grid: to within a thousandth of probability. */
export const HALVINGS = 6;
const DEFAULT_TRIALS = 200;

/**
 * Looks for the value of an assumption at which another set-up becomes the best: "the choice flips when it exceeds".
 *
 * The assumption is held at values from probability 0.01 to 0.99; all else is drawn as in a plain run, in the same
 * worlds and on the same landings for every value, so that the lead of a set-up changes smoothly. Between neighbours
 * with different winners the value is found by halving. Its interval carries the error of the lead over by the slope.
 *
 * @param scenario compiled scenario.
 * @param options assumption, criterion, set-ups, trials.
 * @returns all points and flips; the same bits for any workers.
 * @throws UsageError for names and numbers that do not exist or are out of range, or fewer than two set-ups.
 * @throws StoppedStudyError when the signal fires, without a part of the study.
 * @throws NonFiniteError when a model gives a number that is not finite.
 */
export async function choiceThreshold(
  scenario: CompiledScenario,
  options: ThresholdOptions,
): Promise<ChoiceThreshold> {
  const { criterion, trials = DEFAULT_TRIALS, level = DEFAULT_LEVEL } = options;
  const scope = openScope(scenario, { mix: options.mix, setups: options.setups, figures: [criterion] });
  if (scope.setups.length < 2) throw new UsageError('a choice needs at least two set-ups');
  const index = indexOfAssumption(scenario, options.assumption);
  wholeNumber('trials', trials, 16, 100_000);
  properShare('level', level);
  checkedWorkers(options.workers);
  const search = new Search(scenario, scope, index, trials, level, options);
  await search.look(GRID);
  const steps = search.flippingSteps();
  const flips: ChoiceFlip[] = [];
  for (const { from, to } of steps) flips.push(await search.findFlip(from, to));
  const assumption = scenario.assumptions[index]!.path;
  const best = search.sorted()[0]!.best;
  return {
    kind: 'threshold',
    version: version(),
    seed: scenario.seed,
    scenarioHash: scenarioHash(scenario),
    assumption,
    mix: scope.mix,
    criterion,
    unit: scope.readers[0]!.unit,
    better: scope.readers[0]!.better,
    trials,
    landings: search.landings,
    level,
    points: search.sorted().map(({ probability, valueSi, columns }) => ({
      probability,
      valueSi,
      means: columns.map((column, setup) => ({
        setup: scope.setups[setup]!,
        mean: meanWithInterval(column, level),
      })),
      best: scope.setups[orderOf(columns, search.sign)[0]!]!,
    })),
    flips,
    text:
      flips.length === 0
        ? `The choice does not flip: "${scope.setups[best]!}" is best at every plausible value of ${assumptionName(assumption)}.`
        : flips.map(({ text }) => text).join(' '),
  };
}

interface Point {
  readonly probability: number;
  readonly valueSi: number;
  readonly columns: readonly Float64Array[];
  /** Index of the best set-up. */
  readonly best: number;
}

class Search {
  readonly sign: number;
  private readonly points = new Map<number, Point>();
  private readonly scenario: CompiledScenario;
  private readonly scope: OpenScope;
  private readonly index: number;
  private readonly trials: number;
  private readonly level: number;
  private readonly run: StudyRun;
  private finished = 0;
  landings = 0;

  constructor(
    scenario: CompiledScenario,
    scope: OpenScope,
    index: number,
    trials: number,
    level: number,
    run: StudyRun,
  ) {
    this.scenario = scenario;
    this.scope = scope;
    this.index = index;
    this.trials = trials;
    this.level = level;
    this.run = run;
    this.sign = scope.readers[0]!.better === 'more' ? 1 : -1;
  }

  sorted(): Point[] {
    return [...this.points.values()].sort((one, other) => one.probability - other.probability);
  }

  /** Runs the trials at some probabilities. */
  async look(probabilities: readonly number[]): Promise<void> {
    const { scenario, scope, index, trials, run } = this;
    const drawn = new DrawnWorlds(scenario);
    const values = probabilities.map((probability) => valueAtProbability(scenario, index, probability));
    const jobs = trials * probabilities.length;
    const before = this.finished;
    const figures = await runWorlds(
      scenario,
      scope,
      {
        jobs,
        fill: (job, world) => {
          const trial = Math.floor(job / probabilities.length);
          drawn.fill(trial, world);
          world[index] = values[job % probabilities.length]!;
          return { trial, luck: 0 };
        },
      },
      {
        ...run,
        onProgress: ({ finishedTrials }) =>
          run.onProgress?.({ finishedTrials: before + finishedTrials, totalTrials: before + jobs }),
      },
    );
    const { columns, finished } = figures;
    this.finished += finished;
    this.landings += landingsOf(figures, finished);
    if (finished < jobs) throw new StoppedStudyError(null, this.finished, before + jobs);
    probabilities.forEach((probability, at) => {
      const own = columns.map(([column]) =>
        Float64Array.from({ length: trials }, (_, row) => column![row * probabilities.length + at]!),
      );
      this.points.set(probability, {
        probability,
        valueSi: valueAtProbability(scenario, index, probability),
        columns: own,
        best: orderOf(own, this.sign)[0]!,
      });
    });
  }

  /** Neighbours with different winners. */
  flippingSteps(): { readonly from: Point; readonly to: Point }[] {
    const points = this.sorted();
    return points.slice(1).flatMap((to, k) => {
      const from = points[k]!;
      return from.best === to.best ? [] : [{ from, to }];
    });
  }

  private lead({ columns }: Point, below: number, above: number): PairedDifference {
    const turned = (column: Float64Array): Float64Array => column.map((value) => this.sign * value);
    return pairedDifference(turned(columns[below]!), turned(columns[above]!), this.level);
  }

  async findFlip(from: Point, to: Point): Promise<ChoiceFlip> {
    const { best: below } = from;
    const { best: above } = to;
    let [low, high] = [from, to];
    for (let step = 0; step < HALVINGS; step++) {
      const middle = (low.probability + high.probability) / 2;
      await this.look([middle]);
      const point = this.points.get(middle)!;
      if (this.lead(point, below, above).estimate > 0) low = point;
      else high = point;
    }
    return this.describe(from, to, low, high);
  }

  private describe(from: Point, to: Point, low: Point, high: Point): ChoiceFlip {
    const { best: below } = from;
    const { best: above } = to;
    const assumption = this.scenario.assumptions[this.index]!;
    const [leadLow, leadHigh] = [this.lead(low, below, above), this.lead(high, below, above)];
    const gap = leadLow.estimate - leadHigh.estimate;
    const share = gap > 0 ? leadLow.estimate / gap : 0.5;
    const probability = low.probability + share * (high.probability - low.probability);
    // The slope over the whole step of the grid: between the last two points it is mostly rounding of landings.
    const slope =
      (this.lead(from, below, above).estimate - this.lead(to, below, above).estimate) /
      (to.probability - from.probability);
    const reach = (leadLow.upper - leadLow.lower) / 2 / slope;
    const within = (at: number): number | null =>
      at > GRID[0]! && at < GRID[GRID.length - 1]! ? valueAtProbability(this.scenario, this.index, at) : null;
    const points = this.sorted();
    const toldApart =
      points.some(
        (point) => point.probability <= low.probability && this.lead(point, below, above).lower > 0,
      ) &&
      points.some(
        (point) => point.probability >= high.probability && this.lead(point, below, above).upper < 0,
      );
    const flip = {
      below: this.scope.setups[below]!,
      above: this.scope.setups[above]!,
      valueSi: valueAtProbability(this.scenario, this.index, probability),
      lowerSi: within(probability - reach),
      upperSi: within(probability + reach),
      probability,
      toldApart,
    };
    return { ...flip, text: flipText(assumption, flip) };
  }
}

/** "the choice flips from A to B when sharp stones on gravel exceed 0.003 /m2 (0.001 to 0.008 /m2)". */
function flipText({ path }: CompiledAssumption, flip: Omit<ChoiceFlip, 'text'>): string {
  const { below, above, valueSi, lowerSi, upperSi, probability, toldApart } = flip;
  const value = (si: number): string => assumptionValueText(path, si);
  const span =
    lowerSi !== null && upperSi !== null
      ? assumptionSpanText(path, lowerSi, upperSi)
      : `${lowerSi === null ? 'the least plausible value' : value(lowerSi)} to ${upperSi === null ? 'the greatest plausible one' : value(upperSi)}`;
  const doubt = toldApart ? '' : ' The trials do not tell the two apart on both sides: take it as a hint.';
  return (
    `The choice flips from "${below}" to "${above}" when the number for ${assumptionName(path)} exceeds ` +
    `${value(valueSi)} (${span}), which the scenario gives a chance of ` +
    `${Math.round(100 * (1 - probability))} %.${doubt}`
  );
}
