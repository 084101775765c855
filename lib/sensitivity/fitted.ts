/** Assumptions that were fitted to records together: their draws stand in place of their distributions. */
import { quantileSorted } from '../estimate/moments.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { assumptionQuantile } from '../simulate/world.js';
import type { JointDraws } from './study-inputs.js';

/** Fitted draws of a scenario, one row per draw, SI units; null if it has none. */
export function fittedDraws({ fitted, assumptions }: CompiledScenario): JointDraws | null {
  if (fitted === undefined) return null;
  const columns = fitted.indices.length;
  return {
    paths: fitted.indices.map((index) => assumptions[index]!.path),
    rows: Array.from({ length: fitted.rows }, (_, row) =>
      fitted.draws.slice(row * columns, (row + 1) * columns),
    ),
  };
}

/** Places of the assumptions that were fitted to records together; none where there are none. */
export function fittedPaths({ fitted, assumptions }: CompiledScenario): string[] {
  return (fitted?.indices ?? []).map((index) => assumptions[index]!.path);
}

/** Fitted draws of one assumption, rising; null if it was not fitted. */
export function sortedDraws({ fitted }: CompiledScenario, index: number): Float64Array | null {
  const column = fitted?.indices.indexOf(index) ?? -1;
  if (fitted === undefined || column < 0) return null;
  const columns = fitted.indices.length;
  return Float64Array.from({ length: fitted.rows }, (_, row) => fitted.draws[row * columns + column]!).sort();
}

/**
 * Value of an assumption at a probability, SI units: of its draws where it was fitted, else of its distribution.
 *
 * @param scenario compiled scenario.
 * @param index place of the assumption.
 * @param probability between 0 and 1.
 */
export function valueAtProbability(scenario: CompiledScenario, index: number, probability: number): number {
  const draws = sortedDraws(scenario, index);
  const assumption = scenario.assumptions[index]!;
  if (draws === null) return assumptionQuantile(assumption, probability);
  return Math.min(assumption.upper, Math.max(assumption.lower, quantileSorted(draws, probability)));
}
