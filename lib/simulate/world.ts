import { exp } from '../numeric/elementary.js';
import { standardNormalQuantile } from '../numeric/normal.js';
import { nextUniform53, openStream, streamKey } from '../random/stream.js';
import type { CompiledAssumption, CompiledScenario } from '../scenario/compile.js';

/**
 * Value of an assumption at a probability: the one door through which ignorance enters, so that plain random,
 * stratified or low-discrepancy points and fitted posteriors can all feed worlds.
 *
 * @param assumption the assumption.
 * @param probability in (0, 1); ignored for a fixed value.
 * @returns the value in SI units, kept inside the plausible range of the field.
 */
export function assumptionQuantile(assumption: CompiledAssumption, probability: number): number {
  return clamp(rawQuantile(assumption, probability), assumption.lower, assumption.upper);
}

function rawQuantile({ kind, a, b, c }: CompiledAssumption, probability: number): number {
  switch (kind) {
    case 'fixed':
      return a;
    case 'normal':
      return a + b * standardNormalQuantile(probability);
    case 'lognormal':
      return a * exp(b * standardNormalQuantile(probability));
    case 'uniform':
      return a + (b - a) * probability;
    case 'triangular': {
      const split = (b - a) / (c - a);
      return probability < split
        ? a + Math.sqrt(probability * (c - a) * (b - a))
        : c - Math.sqrt((1 - probability) * (c - a) * (c - b));
    }
  }
}

function clamp(value: number, lower: number, upper: number): number {
  return value < lower ? lower : value > upper ? upper : value;
}

/** Trials whose worlds are drawn together: opening a stream costs as much as a hundred draws. */
const WORLDS_PER_STREAM = 64;

/** Supplies the values of all assumptions for a trial. */
export interface WorldSource {
  /** Writes the values, SI units, one per assumption of the scenario. */
  fill(trial: number, world: Float64Array): void;
}

/**
 * Draws worlds: one value for each assumption and trial. Each assumption has streams of its own, named by its place in
 * the scenario, so adding one does not shift the others. Those fitted to records together come as one row of the fitted
 * draws, picked by a stream of its own.
 */
export class DrawnWorlds implements WorldSource {
  private readonly scenario: CompiledScenario;
  private readonly uncertain: readonly number[];
  private readonly probabilities: Float64Array;
  /** Row of the fitted draws by trial of the block. */
  private readonly fittedRows: Int32Array;
  private block = -1;

  constructor(scenario: CompiledScenario) {
    this.scenario = scenario;
    this.fittedRows = new Int32Array(scenario.fitted === undefined ? 0 : WORLDS_PER_STREAM);
    this.uncertain = scenario.assumptions.flatMap(({ kind }, index) => (kind === 'fixed' ? [] : [index]));
    this.probabilities = new Float64Array(this.uncertain.length * WORLDS_PER_STREAM);
  }

  fill(trial: number, world: Float64Array): void {
    const { assumptions } = this.scenario;
    const block = Math.floor(trial / WORLDS_PER_STREAM);
    if (block !== this.block) this.draw(block);
    for (let index = 0; index < assumptions.length; index++) world[index] = assumptions[index]!.a;
    for (let k = 0; k < this.uncertain.length; k++) {
      const index = this.uncertain[k]!;
      const probability = this.probabilities[k * WORLDS_PER_STREAM + trial - block * WORLDS_PER_STREAM]!;
      world[index] = assumptionQuantile(assumptions[index]!, probability);
    }
    this.takeFitted(this.fittedRows[trial - block * WORLDS_PER_STREAM]!, world);
  }

  /** Puts one fitted draw, whole, over what was drawn for each assumption by itself. */
  private takeFitted(row: number, world: Float64Array): void {
    const { fitted, assumptions } = this.scenario;
    if (fitted === undefined) return;
    const columns = fitted.indices.length;
    for (let column = 0; column < columns; column++) {
      const index = fitted.indices[column]!;
      const { lower, upper } = assumptions[index]!;
      world[index] = clamp(fitted.draws[row * columns + column]!, lower, upper);
    }
  }

  private draw(block: number): void {
    this.block = block;
    if (this.scenario.fitted !== undefined) {
      const stream = openStream(streamKey(this.scenario.seed, 'world fitted', block));
      for (let trial = 0; trial < WORLDS_PER_STREAM; trial++) {
        this.fittedRows[trial] = Math.floor(nextUniform53(stream) * this.scenario.fitted.rows);
      }
    }
    for (let k = 0; k < this.uncertain.length; k++) {
      const { path } = this.scenario.assumptions[this.uncertain[k]!]!;
      const stream = openStream(streamKey(this.scenario.seed, `world ${path}`, block));
      for (let row = 0; row < WORLDS_PER_STREAM; row++) {
        const uniform = nextUniform53(stream);
        this.probabilities[k * WORLDS_PER_STREAM + row] = uniform > 0 ? uniform : Number.MIN_VALUE;
      }
    }
  }
}

/**
 * Values of all assumptions at their medians, those of fitted ones at the medians of their draws.
 *
 * @param scenario compiled scenario.
 * @returns one value per assumption, SI units.
 */
export function medianWorld(scenario: CompiledScenario): Float64Array {
  const world = Float64Array.from(scenario.assumptions, (assumption) => assumptionQuantile(assumption, 0.5));
  scenario.fitted?.indices.forEach((index, column) => {
    const { lower, upper } = scenario.assumptions[index]!;
    world[index] = clamp(scenario.fitted!.medians[column]!, lower, upper);
  });
  return world;
}
