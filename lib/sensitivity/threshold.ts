import { DEFAULT_LEVEL } from '../estimate/interval.js';
import type { PairedDifference } from '../estimate/paired.js';
import { UsageError, properShare, wholeNumber } from '../problems.js';
import { scenarioHash } from '../run.js';
import { assumptionName } from '../scenario/assumption-words.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { DrawnWorlds } from '../simulate/world.js';
import { version } from '../version.js';
import { anchorOf, type Anchor } from './common-run.js';
import { indexOfAssumption } from './doubted.js';
import { valueAtProbability } from './fitted.js';
import { flipText } from './flip-text.js';
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
 * with different winners the value is found by halving, unless the two are told apart on neither side. Its interval holds the values around it at which the lead is not
 * told from 0.
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
  const anchor = anchorOf(scenario, scope, scope.readers[0]!, options.common, trials, level);
  const search = new Search(scenario, scope, index, trials, anchor, options);
  await search.look(GRID);
  const steps = search.flippingSteps();
  const flips: ChoiceFlip[] = [];
  for (const { from, to } of steps.filter((step) => search.isTold(step)))
    flips.push(await search.findFlip(from, to));
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
        mean: anchor.mean(column),
      })),
      best: scope.setups[orderOf(columns, search.sign, anchor)[0]!]!,
    })),
    flips,
    text:
      flips.length === 0 && steps.length > 0
        ? `The lead stays near 0 at every plausible value of ${assumptionName(assumption)}: ${trials} trials tell no flip.`
        : flips.length === 0
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

/** Two neighbours with different winners. */
interface Step {
  readonly from: Point;
  readonly to: Point;
}

class Search {
  readonly sign: number;
  private readonly points = new Map<number, Point>();
  private readonly scenario: CompiledScenario;
  private readonly scope: OpenScope;
  private readonly index: number;
  private readonly trials: number;
  private readonly anchor: Anchor;
  private readonly run: StudyRun;
  private finished = 0;
  landings = 0;

  constructor(
    scenario: CompiledScenario,
    scope: OpenScope,
    index: number,
    trials: number,
    anchor: Anchor,
    run: StudyRun,
  ) {
    this.scenario = scenario;
    this.scope = scope;
    this.index = index;
    this.trials = trials;
    this.anchor = anchor;
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
        best: orderOf(own, this.sign, this.anchor)[0]!,
      });
    });
  }

  /** Neighbours with different winners. */
  flippingSteps(): Step[] {
    const points = this.sorted();
    return points.slice(1).flatMap((to, k) => {
      const from = points[k]!;
      return from.best === to.best ? [] : [{ from, to }];
    });
  }

  /**
   * True if the lead is told from 0 on one side of the step at least. Where a lead is about 0 throughout, rounding makes
   * its sign change to and fro.
   */
  isTold({ from, to }: Step): boolean {
    return this.sorted().some((point) => {
      const { lower, upper } = this.lead(point, from.best, to.best);
      return point.probability <= from.probability ? lower > 0 : upper < 0;
    });
  }

  /** Figures of a set-up, turned so that more is better. */
  private turned({ columns }: Point, setup: number): Float64Array {
    return columns[setup]!.map((value) => this.sign * value);
  }

  private lead(point: Point, below: number, above: number): PairedDifference {
    return this.anchor.difference(this.turned(point, below), this.turned(point, above));
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
    return this.describe(below, above, low, high);
  }

  /**
   * Probabilities nearest to the flip at which the lead is told from 0, to both sides: those between are in its
   * interval. Null where that never happens, or only beyond the other points.
   */
  private reachOfFlip(at: number, below: number, above: number): readonly [number | null, number | null] {
    const bounds = this.sorted().map((point) => ({
      probability: point.probability,
      lead: this.lead(point, below, above),
    }));
    const before = bounds.filter(({ probability }) => probability <= at).reverse();
    const after = bounds.filter(({ probability }) => probability >= at);
    return [
      crossing(before.map(({ probability, lead }) => [probability, lead.lower])),
      crossing(after.map(({ probability, lead }) => [probability, -lead.upper])),
    ];
  }

  private describe(below: number, above: number, low: Point, high: Point): ChoiceFlip {
    const assumption = this.scenario.assumptions[this.index]!;
    const [leadLow, leadHigh] = [this.lead(low, below, above), this.lead(high, below, above)];
    const gap = leadLow.estimate - leadHigh.estimate;
    const share = gap > 0 ? leadLow.estimate / gap : 0.5;
    const probability = low.probability + share * (high.probability - low.probability);
    const [lowerProbability, upperProbability] = this.reachOfFlip(probability, below, above);
    const valueAt = (at: number | null): number | null =>
      at === null ? null : valueAtProbability(this.scenario, this.index, at);
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
      lowerSi: valueAt(lowerProbability),
      upperSi: valueAt(upperProbability),
      probability,
      lowerProbability,
      upperProbability,
      toldApart,
    };
    return { ...flip, text: flipText(assumption.path, flip) };
  }
}

/** Where a line through the points (probability, bound) first rises above 0; null if it never does. */
function crossing(points: readonly (readonly [number, number])[]): number | null {
  const after = points.findIndex(([, bound]) => bound > 0);
  if (after < 0) return null;
  const [at, bound] = points[after]!;
  const [earlier, under] = points[after - 1] ?? [at, bound];
  return under >= 0 ? at : earlier + ((at - earlier) * -under) / (bound - under);
}
