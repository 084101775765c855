// Opens the notebooks in JupyterLab, or in the older Notebook where that is all there is. Words after -- go to Jupyter.
//
//   node notebooks/tools/open.js [WORD...]
import process from 'node:process';
import { jupyterEnvironment } from './execute.js';
import { prepareKernel } from './kernel.js';
import { KERNEL, root } from './places.js';
import { runCommand } from './problem.js';
import { runProgram } from './programs.js';
import { obtainPython, TO_OPEN, TO_OPEN_OLD } from './python.js';

await runCommand(async () => {
  prepareKernel();
  const { python, wanted } = obtainPython(TO_OPEN, TO_OPEN_OLD);
  const isLab = wanted === TO_OPEN;
  const words = [
    '-m',
    ...wanted.modules,
    isLab ? '--LabApp.default_url=/lab/tree/notebooks' : '--NotebookApp.default_url=/tree/notebooks',
    `--MappingKernelManager.default_kernel_name=${KERNEL}`,
    ...(process.getuid?.() === 0 ? ['--allow-root'] : []),
    ...process.argv.slice(2),
  ];
  const { code } = await runProgram(python, words, {
    cwd: root,
    env: jupyterEnvironment(),
    stdio: 'inherit',
  });
  return code ?? 1;
});
