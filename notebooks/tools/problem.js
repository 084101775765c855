// Problems that a person can do something about, in one line.
import process from 'node:process';

/** A problem whose message says what to do. */
export class ToolProblem extends Error {}

/**
 * Runs a command and sets the exit code.
 *
 * @param {() => Promise<number>} work gives the exit code.
 */
export async function runCommand(work) {
  try {
    process.exitCode = await work();
  } catch (problem) {
    if (!(problem instanceof ToolProblem)) throw problem;
    console.error(`notebooks: ${problem.message}`);
    process.exitCode = 1;
  }
}
