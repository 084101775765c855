// Running a notebook by Jupyter.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import process from 'node:process';
import { fileURLToPath } from 'node:url';
import { normalOutputs, notebookText } from './notebook.js';
import { jupyterFolder, KERNEL, notebooksFolder } from './places.js';
import { ToolProblem } from './problem.js';
import { lastWords, runProgram } from './programs.js';

const SCRIPT = fileURLToPath(new URL('execute.py', import.meta.url));
const CELL_SECONDS = 600;

/**
 * The environment in which Jupyter finds the kernel of the project, before others of its name.
 *
 * @returns {NodeJS.ProcessEnv}
 */
export function jupyterEnvironment() {
  const others = process.env.JUPYTER_PATH ? [process.env.JUPYTER_PATH] : [];
  return { ...process.env, JUPYTER_PATH: [jupyterFolder, ...others].join(delimiter) };
}

/**
 * Runs a notebook in a clean kernel, to its end or to the first cell that fails.
 *
 * @param {import('./notebook.js').Notebook} notebook
 * @param {string} python a Python that can run notebooks.
 * @returns {Promise<{ notebook: import('./notebook.js').Notebook, failure: null | { cell: number | null, message: string } }>}
 *   the notebook with what came out, and what failed: the index of the cell and a message, which says what the kernel
 *   wrote about it.
 */
export async function executeNotebook(notebook, python) {
  const folder = mkdtempSync(join(tmpdir(), 'gravelbar-notebook-'));
  try {
    const [source, result] = [join(folder, 'notebook.ipynb'), join(folder, 'result.json')];
    writeFileSync(source, notebookText(withoutOutputs(notebook)));
    const runtime = join(jupyterFolder, 'runtime');
    mkdirSync(runtime, { recursive: true });
    const { code, stderr, stopped } = await runProgram(
      python,
      [SCRIPT, source, result, notebooksFolder, KERNEL, String(CELL_SECONDS)],
      { env: { ...jupyterEnvironment(), JUPYTER_RUNTIME_DIR: runtime } },
    );
    if (stopped) throw new ToolProblem('stopped');
    if (code !== 0) throw new ToolProblem(`Jupyter stopped: ${lastWords(stderr)}`);
    const { cells, failure } = JSON.parse(readFileSync(result, 'utf8'));
    const done = notebook.cells.map((cell, index) =>
      cell.cell_type === 'code'
        ? {
            ...cell,
            execution_count: cells[index].execution_count,
            outputs: normalOutputs(cells[index].outputs),
          }
        : cell,
    );
    return { notebook: { ...notebook, cells: done }, failure: whatFailed(done, failure, stderr) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function withoutOutputs(notebook) {
  const cells = notebook.cells.map((cell) =>
    cell.cell_type === 'code' ? { ...cell, execution_count: null, outputs: [] } : cell,
  );
  return { ...notebook, cells };
}

/**
 * The kernel says nothing when a cell fails, but writes why to the standard error of the cell. What is written there by
 * a cell that did not fail tells of trouble all the same: a promise that nobody waited for was rejected, or a warning.
 */
function whatFailed(cells, failure, stderr) {
  if (failure === null) {
    const cell = cells.findIndex((candidate) => errorText(candidate) !== '');
    return cell < 0 ? null : { cell, message: errorText(cells[cell]) };
  }
  const said = failure.cell === null ? '' : errorText(cells[failure.cell]);
  const parts = [said, failure.message, failure.message === '' ? '' : stderr];
  return {
    cell: failure.cell,
    message: parts
      .map((part) => part.trim())
      .filter(Boolean)
      .join('\n'),
  };
}

function errorText(cell) {
  const outputs = cell.outputs ?? [];
  return outputs
    .filter(({ output_type: type, name }) => type === 'stream' && name === 'stderr')
    .map(({ text }) => text)
    .join('');
}
