// Doing something with several notebooks, some at a time.
import { existsSync, readdirSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join, relative, resolve } from 'node:path';
import process from 'node:process';
import { executeNotebook } from './execute.js';
import { readNotebook } from './notebook.js';
import { notebooksFolder } from './places.js';
import { ToolProblem } from './problem.js';

/** Kernels that run at a time: each takes a core and some 300 MB. */
const AT_A_TIME = Math.min(2, availableParallelism());

/**
 * The notebooks that a command is about.
 *
 * @param {readonly string[]} named files; none stands for all of the project.
 * @returns {string[]} paths.
 */
export function chosenNotebooks(named) {
  const files =
    named.length > 0
      ? named.map((file) => resolve(file))
      : readdirSync(notebooksFolder)
          .filter((name) => name.endsWith('.ipynb'))
          .sort()
          .map((name) => join(notebooksFolder, name));
  const missing = files.find((file) => !existsSync(file));
  if (missing !== undefined) throw new ToolProblem(`there is no notebook ${missing}`);
  if (files.length === 0) throw new ToolProblem(`there are no notebooks in ${notebooksFolder}`);
  return files;
}

/**
 * Runs notebooks and does something with each that ran; prints a line or a problem for each.
 *
 * @param {readonly string[]} files
 * @param {string} python a Python that can run notebooks.
 * @param {(ran: { file: string, text: string, saved: Notebook, now: Notebook }) => { ok: boolean, words: string }} finish
 * @returns {Promise<number>} the exit code: 1 if there was a problem.
 * @typedef {import('./notebook.js').Notebook} Notebook
 */
export async function runNotebooks(files, python, finish) {
  const open = [...files];
  let problems = 0;
  const work = async () => {
    for (let file = open.shift(); file !== undefined; file = open.shift()) {
      const name = relative(process.cwd(), file);
      const { ok, words } = await runOne(file, python, finish);
      if (ok) console.log(`${name}: ${words}`);
      else {
        problems++;
        console.error(`${name}: ${words.split('\n').join('\n    ')}`);
      }
    }
  };
  await Promise.all(Array.from({ length: AT_A_TIME }, work));
  return problems > 0 ? 1 : 0;
}

async function runOne(file, python, finish) {
  const { notebook: saved, text } = readNotebook(file);
  const { notebook: now, failure } = await executeNotebook(saved, python);
  if (failure === null) return finish({ file, text, saved, now });
  const place = failure.cell === null ? 'the kernel does not start' : `${cellName(now, failure.cell)} fails`;
  return { ok: false, words: `${place}:\n${failure.message}` };
}

/**
 * How people find a cell: code cells are counted from 1, as the kernel does.
 *
 * @param {Notebook} notebook
 * @param {number} index
 */
export function cellName({ cells }, index) {
  const number = cells.slice(0, index + 1).filter(({ cell_type: type }) => type === 'code').length;
  const firstLine = cells[index].source.trim().split('\n')[0];
  return `code cell ${number} (${firstLine})`;
}
