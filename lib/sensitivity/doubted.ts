import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { nearestName } from '../units.js';

/**
 * Places in the scenario's list of the assumptions that are in doubt.
 *
 * @param paths which; default all that are not fixed.
 * @throws UsageError for one that does not exist, is fixed or comes twice, or if none is left.
 */
export function doubtedAssumptions(scenario: CompiledScenario, paths?: readonly string[]): number[] {
  const { assumptions, fitted } = scenario;
  const doubted = assumptions.flatMap(({ kind }, index) =>
    kind === 'fixed' && !(fitted?.indices.includes(index) ?? false) ? [] : [index],
  );
  if (paths === undefined) {
    if (doubted.length > 0) return doubted;
    throw new UsageError('no assumption of the scenario is in doubt: all have a fixed value');
  }
  if (paths.length === 0 || new Set(paths).size < paths.length) {
    throw new UsageError(
      `assumptions must be a list of at least one, no two alike; found: ${paths.join(', ')}`,
    );
  }
  return paths.map((path) => indexOfAssumption(scenario, path));
}

/**
 * Place of an assumption in doubt.
 *
 * @throws UsageError for one that does not exist, with the nearest one, or that is fixed.
 */
export function indexOfAssumption({ assumptions, fitted }: CompiledScenario, path: string): number {
  const index = assumptions.findIndex((assumption) => assumption.path === path);
  if (index < 0) {
    const nearest = nearestName(
      path,
      assumptions.map((assumption) => assumption.path),
    );
    throw new UsageError(
      `there is no assumption "${path}"${nearest === null ? '' : `; did you mean "${nearest}"?`}`,
    );
  }
  if (assumptions[index]!.kind === 'fixed' && !(fitted?.indices.includes(index) ?? false)) {
    throw new UsageError(`"${path}" is fixed: give it a distribution to put it in doubt`);
  }
  return index;
}
