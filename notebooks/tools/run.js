// Runs notebooks in clean kernels and compares what comes out with what is saved.
//
//   node notebooks/tools/run.js [NOTEBOOK...]
//
// Exit code 1: a cell fails, or gives something else than what is saved.
import process from 'node:process';
import { prepareKernel } from './kernel.js';
import { notebookText } from './notebook.js';
import { cellName, chosenNotebooks, runNotebooks } from './notebooks.js';
import { firstDifference } from './outputs.js';
import { runCommand } from './problem.js';
import { obtainPython, TO_RUN } from './python.js';

const REFRESH = 'npm run notebooks:refresh saves it anew';

await runCommand(async () => {
  const files = chosenNotebooks(process.argv.slice(2));
  prepareKernel();
  return runNotebooks(files, obtainPython(TO_RUN).python, compare);
});

function compare({ text, saved, now }) {
  for (const [index, cell] of now.cells.entries()) {
    if (cell.cell_type !== 'code') continue;
    const difference = firstDifference(saved.cells[index].outputs, cell.outputs);
    if (difference === null) continue;
    const words = `${cellName(now, index)} gives something else than what is saved:\n${difference}\n${REFRESH}`;
    return { ok: false, words };
  }
  if (notebookText(now) !== notebookText(withOutputs(now, saved)) || notebookText(saved) !== text) {
    return { ok: false, words: `runs, but is not saved as from a clean kernel\n${REFRESH}` };
  }
  return { ok: true, words: 'runs and gives what is saved' };
}

/** What is saved may differ from what comes out in last digits, and in nothing else. */
function withOutputs(now, saved) {
  const cells = saved.cells.map((cell, index) =>
    cell.cell_type === 'code' ? { ...cell, outputs: now.cells[index].outputs } : cell,
  );
  return { ...saved, cells };
}
