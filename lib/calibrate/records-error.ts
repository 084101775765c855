import { ScenarioError } from '../problems.js';

/**
 * Records that cannot be used, with everything that is wrong with them: file, line, column, what was found, what is
 * allowed. The message tells rows with the same wrong once, with their lines, lists the first 40 such and counts the
 * rest; `problems` holds all of them.
 */
export class RecordsError extends ScenarioError {
  override readonly name: string = 'RecordsError';
}
