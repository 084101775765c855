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

/**
 * Draws the world of a trial: one value for each assumption. Each assumption has a stream of its own, named by its
 * place in the scenario, so adding one does not shift the others.
 *
 * @param scenario compiled scenario.
 * @param trial trial number, >= 0.
 * @param world receives the values, one per assumption.
 */
export function drawWorld(scenario: CompiledScenario, trial: number, world: Float64Array): void {
  for (let index = 0; index < scenario.assumptions.length; index++) {
    const assumption = scenario.assumptions[index]!;
    world[index] =
      assumption.kind === 'fixed'
        ? assumption.a
        : assumptionQuantile(assumption, openProbability(scenario.seed, assumption.path, trial));
  }
}

function openProbability(seed: string, path: string, trial: number): number {
  const uniform = nextUniform53(openStream(streamKey(seed, `world ${path}`, trial)));
  return uniform > 0 ? uniform : Number.MIN_VALUE;
}

/**
 * Values of all assumptions at their medians.
 *
 * @param scenario compiled scenario.
 * @returns one value per assumption, SI units.
 */
export function medianWorld(scenario: CompiledScenario): Float64Array {
  return Float64Array.from(scenario.assumptions, (assumption) => assumptionQuantile(assumption, 0.5));
}
