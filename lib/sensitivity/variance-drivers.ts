import { mean } from '../estimate/moments.js';
import { scenarioHash } from '../run.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { version } from '../version.js';
import { fittedDraws } from './fitted.js';
import { isCriterion, openScope, type OpenScope, type StudyScope } from './figures.js';
import { FIGURE_WORDS, inputWords } from './input-words.js';
import { checkedOptions, estimateIndices, LEAST_ROWS, type DesignColumns } from './index-estimates.js';
import type { IndexOptions, VarianceIndices } from './index-types.js';
import {
  checkedWorkers,
  landingsOf,
  runWorlds,
  type StudyRun,
  type WorldFigures,
  type WorldPlan,
} from './run-worlds.js';
import { checkedRows } from './sobol-indices.js';
import { openPoints, type PointSpread } from './sobol-points.js';
import { StoppedStudyError } from './stopped.js';
import { StudyInputs, type AssumptionGrouping, type JointDraws, type StudyUnit } from './study-inputs.js';
import { LANDING_LUCK, type FigureDrivers, type VarianceStudy } from './variance-types.js';

/** Options of {@link varianceDrivers}. */
export interface VarianceOptions extends StudyScope, StudyRun, IndexOptions {
  /** How assumptions are taken together; default each by itself. */
  readonly groups?: AssumptionGrouping | undefined;
  /**
   * Draws of assumptions that are tied to each other, instead of their distributions; default: the fitted ones of the
   * scenario, if it has any.
   */
  readonly draws?: JointDraws | undefined;
  /** Rows of the design, 16 to 1 048 576, best a power of two; default 256. A row takes (inputs + 2) trials. */
  readonly rows?: number | undefined;
  /** How worlds are spread; default low-discrepancy. */
  readonly spread?: PointSpread | undefined;
}

const DEFAULT_ROWS = 256;
/** Rows of a first look: what changes no bit of any figure in them goes into one group. */
const PILOT_ROWS = 8;
/** Sides of a row before the inputs: A, B. */
const PLAIN_SIDES = 2;

/**
 * Shares out the variance of figures among assumptions, groups of them, and the luck of landings.
 *
 * Luck is an input like any other: a row has two independent seasons of landings, as it has two independent worlds, and
 * all its trials but those that change the luck fly the same one. So luck is no noise in the indices of assumptions,
 * and what knowing them all would take away is told. Flats are taken as expected along each path, which leaves most of
 * their luck out from the start.
 *
 * Assumptions that change no bit in a first look are put into one group, "no effect seen", which is tested like the
 * others. Assumptions that come as joint draws stay together.
 *
 * @param scenario compiled scenario.
 * @param options mix, set-ups, figures, groups, rows.
 * @returns indices of each figure of each set-up, and of the lead of the best set-up over the next; the same bits for
 *   any workers.
 * @throws UsageError for names and numbers that do not exist or are out of range, or groups that tear apart what was
 *   fitted together.
 * @throws StoppedStudyError when the signal fires; it carries the study of the finished rows.
 * @throws NonFiniteError when a model gives a number that is not finite.
 * Source: see estimateIndices; groups, Sobol' (2001), from memory.
 */
export async function varianceDrivers(
  scenario: CompiledScenario,
  options: VarianceOptions = {},
): Promise<VarianceStudy> {
  checkedOptions(options);
  checkedWorkers(options.workers);
  const rows = checkedRows(options.rows ?? DEFAULT_ROWS);
  const scope = openScope(scenario, options);
  const inputs = new StudyInputs(scenario, options.draws ?? fittedDraws(scenario));
  const stated = inputs.units(options.groups ?? 'each');
  const design = new Design(scenario, inputs, options.spread ?? 'low-discrepancy');
  const asked = rows * (PLAIN_SIDES + 1 + stated.length);

  const pilotJobs = design.plan(stated, PILOT_ROWS);
  const pilot = await runWorlds(scenario, scope, pilotJobs, {
    ...options,
    onProgress: ({ finishedTrials }) => options.onProgress?.({ finishedTrials, totalTrials: asked }),
  });
  const sight = pilot.finished === pilotJobs.jobs;
  const units = sight ? withUnseenTogether(stated, pilot) : stated;
  const plan = design.plan(units, rows);
  const found = await runWorlds(scenario, scope, sight ? plan : { ...plan, jobs: 0 }, {
    ...options,
    onProgress: ({ finishedTrials, totalTrials }) =>
      options.onProgress?.({
        finishedTrials: pilot.finished + finishedTrials,
        totalTrials: pilot.finished + totalTrials,
      }),
  });
  const sides = PLAIN_SIDES + 1 + units.length;
  const finishedRows = Math.floor(found.finished / sides);
  const trials = pilot.finished + found.finished;
  const told = [{ name: LANDING_LUCK, paths: [] }, ...units.map(({ name, paths }) => ({ name, paths }))];
  const study = (): VarianceStudy => ({
    kind: 'variance',
    version: version(),
    seed: scenario.seed,
    scenarioHash: scenarioHash(scenario),
    mix: scope.mix,
    setups: scope.setups,
    notPriced: scope.notPriced,
    rows: finishedRows,
    trials,
    landings: landingsOf(pilot, pilot.finished) + landingsOf(found, found.finished),
    complete: finishedRows === rows,
    inputs: told,
    figures: driversOf(scope, splitDesign(found, sides, finishedRows), told, scenario.seed, options),
  });
  if (finishedRows === rows) return study();
  throw new StoppedStudyError(finishedRows < LEAST_ROWS ? null : study(), trials, pilot.finished + plan.jobs);
}

/** Lays out the trials of a design. */
class Design {
  private readonly scenario: CompiledScenario;
  private readonly inputs: StudyInputs;
  private readonly spread: PointSpread;

  constructor(scenario: CompiledScenario, inputs: StudyInputs, spread: PointSpread) {
    this.scenario = scenario;
    this.inputs = inputs;
    this.spread = spread;
  }

  /** Row after row: A, B, A with the luck of B, A with each unit from B. */
  plan(units: readonly StudyUnit[], rows: number): WorldPlan {
    const { inputs } = this;
    const count = inputs.coordinates.length;
    const points = openPoints(this.spread, 2 * count, this.scenario.seed);
    const both = new Float64Array(2 * count);
    const [a, b] = [both.subarray(0, count), both.subarray(count)];
    const mixed = new Float64Array(count);
    const sides = PLAIN_SIDES + 1 + units.length;
    return {
      jobs: rows * sides,
      fill: (job, world) => {
        const side = job % sides;
        const trial = Math.floor(job / sides);
        if (side === 0) points.next(both);
        if (side <= PLAIN_SIDES) {
          inputs.fill(side === 1 ? b : a, world);
          return { trial, luck: side === 0 ? 0 : 1 };
        }
        mixed.set(a);
        for (const at of units[side - PLAIN_SIDES - 1]!.members) mixed[at] = b[at]!;
        inputs.fill(mixed, world);
        return { trial, luck: 0 };
      },
    };
  }
}

/** Puts units that changed no bit of any figure into one. */
function withUnseenTogether(units: readonly StudyUnit[], pilot: WorldFigures): StudyUnit[] {
  const sides = PLAIN_SIDES + 1 + units.length;
  const unseen = units.filter((_, at) =>
    pilot.columns.every((figures) =>
      figures.every((column) =>
        Array.from({ length: pilot.finished / sides }, (__, row) => row * sides).every(
          (start) => column[start] === column[start + PLAIN_SIDES + 1 + at],
        ),
      ),
    ),
  );
  if (unseen.length < 2) return [...units];
  return [
    ...units.filter((unit) => !unseen.includes(unit)),
    {
      name: 'no effect seen',
      paths: unseen.flatMap(({ paths }) => paths),
      members: unseen.flatMap(({ members }) => members),
    },
  ];
}

/** Columns by set-up and figure. */
function splitDesign({ columns }: WorldFigures, sides: number, rows: number): DesignColumns[][] {
  return columns.map((figures) =>
    figures.map((column) => {
      const side = (at: number): Float64Array =>
        Float64Array.from({ length: rows }, (_, row) => column[row * sides + at]!);
      return {
        a: side(0),
        b: side(1),
        mixed: Array.from({ length: sides - PLAIN_SIDES }, (_, at) => side(PLAIN_SIDES + at)),
      };
    }),
  );
}

function driversOf(
  { setups, readers }: OpenScope,
  designs: readonly (readonly DesignColumns[])[],
  inputs: VarianceStudy['inputs'],
  seed: string,
  options: IndexOptions,
): FigureDrivers[] {
  const names = inputs.map(({ name }) => name);
  const drivers = (
    about: Pick<FigureDrivers, 'setup' | 'versus' | 'figure' | 'unit'>,
    columns: DesignColumns,
  ): FigureDrivers => describe(about, estimateIndices(columns, names, seed, options), inputs);
  const own = readers.flatMap(({ figure, unit }, at) =>
    setups.map((setup, index) => drivers({ setup, versus: null, figure, unit }, designs[index]![at]!)),
  );
  const leads = readers.flatMap(({ figure, unit, better }, at) => {
    if (setups.length < 2 || !isCriterion(figure)) return [];
    const sign = better === 'more' ? 1 : -1;
    const means = designs.map((figures) => sign * (mean(figures[at]!.a) + mean(figures[at]!.b)));
    const [best, next] = means.map((_, index) => index).sort((one, other) => means[other]! - means[one]!) as [
      number,
      number,
    ];
    const [ahead, behind] = [designs[best]![at]!, designs[next]![at]!];
    const less = (column: Float64Array, other: Float64Array): Float64Array =>
      column.map((value, row) => value - other[row]!);
    return [
      drivers(
        { setup: setups[best]!, versus: setups[next]!, figure, unit },
        {
          a: less(ahead.a, behind.a),
          b: less(ahead.b, behind.b),
          mixed: ahead.mixed.map((column, input) => less(column, behind.mixed[input]!)),
        },
      ),
    ];
  });
  return [...own, ...leads];
}

function describe(
  about: Pick<FigureDrivers, 'setup' | 'versus' | 'figure' | 'unit'>,
  indices: VarianceIndices,
  inputs: VarianceStudy['inputs'],
): FigureDrivers {
  const luck = indices.inputs[0]!.total;
  const varies = indices.variance > 0;
  const ignorance = varies
    ? {
        estimate: 1 - luck.estimate,
        lower: 1 - luck.upper,
        upper: 1 - luck.lower,
        unclipped: 1 - luck.unclipped,
      }
    : { estimate: 0, lower: 0, upper: 0, unclipped: 0 };
  const matters = indices.inputs
    .filter(({ verdict }) => verdict.kind === 'matters')
    .sort((one, other) => other.total.estimate - one.total.estimate)
    .map(({ input }) => input);
  const open = indices.inputs.filter(({ verdict }) => verdict.kind === 'need more trials').length;
  const { setup, versus, figure } = about;
  const what =
    versus === null
      ? `${FIGURE_WORDS[figure]} of "${setup}"`
      : `the lead of "${setup}" over "${versus}" in ${FIGURE_WORDS[figure]}`;
  const named = matters.map((input) =>
    inputWords(input, inputs.find(({ name }) => name === input)?.paths ?? []),
  );
  const found =
    matters.length === 0
      ? 'no input is seen to matter'
      : `${named.join(', ')} matter${named.length === 1 ? 's' : ''}`;
  const rest = open === 0 ? '' : `; ${open} cannot be told yet`;
  const text = varies ? `For ${what}, ${found}${rest}.` : `For ${what}, nothing matters: it does not vary.`;
  return { ...about, indices, ignorance, matters, text };
}
