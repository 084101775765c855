// Makes ready what notebooks need: the kernel and Jupyter.
//
//   node notebooks/tools/prepare.js
import { prepareKernel } from './kernel.js';
import { runCommand } from './problem.js';
import { obtainPython, TO_RUN } from './python.js';

await runCommand(async () => {
  prepareKernel();
  obtainPython(TO_RUN);
  return 0;
});
