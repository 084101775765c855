// Runs notebooks in clean kernels and saves them with what comes out, without anything that changes from run to run.
//
//   node notebooks/tools/refresh.js [NOTEBOOK...]
//
// A notebook with a cell that fails stays as it is. Exit code 1: there was one.
import { writeFileSync } from 'node:fs';
import process from 'node:process';
import { prepareKernel } from './kernel.js';
import { notebookText } from './notebook.js';
import { chosenNotebooks, runNotebooks } from './notebooks.js';
import { runCommand } from './problem.js';
import { obtainPython, TO_RUN } from './python.js';

await runCommand(async () => {
  const files = chosenNotebooks(process.argv.slice(2));
  prepareKernel();
  return runNotebooks(files, obtainPython(TO_RUN).python, save);
});

function save({ file, text, now }) {
  const fresh = notebookText(now);
  if (fresh === text) return { ok: true, words: 'as saved' };
  writeFileSync(file, fresh);
  return { ok: true, words: 'saved' };
}
