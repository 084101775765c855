/** Inputs of a study of a scenario: assumptions, groups of them, and draws that belong together. */
import { UsageError } from '../problems.js';
import { sampleCovariance } from '../estimate/moments.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { assumptionQuantile } from '../simulate/world.js';
import { doubtedAssumptions } from './doubted.js';
import { groupInputs, type InputGroup } from './sobol-indices.js';

/** Draws of assumptions that are tied to each other, for example of a fit: one row per draw, SI units. */
export interface JointDraws {
  readonly paths: readonly string[];
  readonly rows: readonly (readonly number[])[];
}

/**
 * How assumptions are taken together: each by itself, all of an entry of the scenario ("surfaces.gravel"), or as
 * stated; assumptions in no stated group stand for themselves.
 */
export type AssumptionGrouping = 'each' | 'by entry' | readonly InputGroup[];

/** A group or single assumption of a study. */
export interface StudyUnit {
  readonly name: string;
  readonly paths: readonly string[];
  /** Its coordinates. */
  readonly members: readonly number[];
}

/** With fewer draws the same worlds come again and again. */
const LEAST_DRAWS = 20;
/** Name of the draws that belong together, where no group is stated for them. */
export const TIED = 'fitted together';

/** Turns points of the unit cube into worlds: one coordinate per assumption in doubt, and one for all tied draws. */
export class StudyInputs {
  /** Coordinates by name: paths, and {@link TIED}. */
  readonly coordinates: readonly string[];
  /** Index of the assumption of each coordinate; null for the tied draws. */
  private readonly indices: readonly (number | null)[];
  private readonly scenario: CompiledScenario;
  private readonly draws: JointDraws | null;
  private readonly drawnIndices: readonly number[];

  constructor(scenario: CompiledScenario, draws: JointDraws | null) {
    this.scenario = scenario;
    this.draws = draws;
    this.drawnIndices = draws === null ? [] : checkedDraws(scenario, draws);
    const single = scenario.assumptions.some(
      ({ kind }, index) => kind !== 'fixed' && !this.drawnIndices.includes(index),
    )
      ? doubtedAssumptions(scenario).filter((index) => !this.drawnIndices.includes(index))
      : [];
    this.indices = draws === null ? single : [null, ...single];
    this.coordinates = this.indices.map((index) =>
      index === null ? TIED : scenario.assumptions[index]!.path,
    );
    if (this.indices.length === 0) doubtedAssumptions(scenario);
  }

  /** World of a point. */
  fill(point: ArrayLike<number>, world: Float64Array): void {
    const { assumptions } = this.scenario;
    for (let index = 0; index < assumptions.length; index++) world[index] = assumptions[index]!.a;
    this.indices.forEach((index, at) => {
      const probability = point[at]!;
      if (index !== null) {
        world[index] = assumptionQuantile(assumptions[index]!, probability);
        return;
      }
      const { rows } = this.draws!;
      const row = rows[Math.floor(probability * rows.length)]!;
      this.drawnIndices.forEach((drawn, column) => {
        const { lower, upper } = assumptions[drawn]!;
        world[drawn] = Math.min(upper, Math.max(lower, row[column]!));
      });
    });
  }

  /**
   * Groups by coordinate.
   *
   * @throws UsageError for groups that tear apart what belongs together, with the reason.
   */
  units(grouping: AssumptionGrouping): StudyUnit[] {
    const { coordinates } = this;
    const stated =
      grouping === 'each' ? [] : grouping === 'by entry' ? this.entries() : this.keepTied(grouping);
    return groupInputs(coordinates, stated).map(({ name, members }) => ({
      name,
      members,
      paths: members.flatMap((at) => (this.indices[at] === null ? this.draws!.paths : [coordinates[at]!])),
    }));
  }

  private entries(): InputGroup[] {
    const groups = new Map<string, string[]>();
    for (const path of this.coordinates) {
      if (path === TIED) continue;
      const entry = path.slice(0, path.lastIndexOf('.'));
      groups.set(entry, [...(groups.get(entry) ?? []), path]);
    }
    return [...groups].map(([name, inputs]) => ({ name, inputs }));
  }

  /** Stated groups with the tied draws in the place of their assumptions. */
  private keepTied(groups: readonly InputGroup[]): readonly InputGroup[] {
    const { draws } = this;
    if (draws === null) return groups;
    return groups.map(({ name, inputs }) => {
      const inside = draws.paths.filter((path) => inputs.includes(path));
      if (inside.length === 0) return { name, inputs };
      const outside = draws.paths.filter((path) => !inputs.includes(path));
      if (outside.length > 0) throw new UsageError(tornText(draws, name, inside, outside));
      return { name, inputs: [TIED, ...inputs.filter((path) => !draws.paths.includes(path))] };
    });
  }
}

function checkedDraws({ assumptions }: CompiledScenario, { paths, rows }: JointDraws): number[] {
  if (paths.length === 0 || new Set(paths).size < paths.length || rows.length < LEAST_DRAWS) {
    throw new UsageError(
      `joint draws need paths, no two alike, and at least ${LEAST_DRAWS} rows; found ${paths.length} paths and ${rows.length} rows`,
    );
  }
  const bad = rows.findIndex((row) => row.length !== paths.length || !row.every(Number.isFinite));
  if (bad >= 0)
    throw new UsageError(`row ${bad} of the joint draws must hold ${paths.length} finite numbers`);
  return paths.map((path) => {
    const index = assumptions.findIndex((assumption) => assumption.path === path);
    if (index < 0) throw new UsageError(`joint draws name "${path}", which is no assumption of the scenario`);
    return index;
  });
}

/** Why a group is refused, with the pair that is tied most across its border. */
function tornText(
  draws: JointDraws,
  name: string,
  inside: readonly string[],
  outside: readonly string[],
): string {
  const column = (path: string): number[] => draws.rows.map((row) => row[draws.paths.indexOf(path)]!);
  const pairs = inside.flatMap((one) =>
    outside.map((other) => ({ one, other, correlation: correlationOf(column(one), column(other)) })),
  );
  const most = pairs.reduce((first, pair) =>
    Math.abs(pair.correlation) > Math.abs(first.correlation) ? pair : first,
  );
  return (
    `the group "${name}" tears apart assumptions that were fitted together ("${most.one}" and "${most.other}", ` +
    `correlation ${most.correlation.toFixed(2)}): variance cannot be shared out between tied inputs. Put all of them ` +
    `in one group, or ask for first-order effects from trials`
  );
}

function correlationOf(one: readonly number[], other: readonly number[]): number {
  const scale = Math.sqrt(sampleCovariance(one, one) * sampleCovariance(other, other));
  return scale > 0 ? sampleCovariance(one, other) / scale : 0;
}
