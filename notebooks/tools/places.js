// Where things are.
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Folder of the repository. */
export const root = fileURLToPath(new URL('../..', import.meta.url));

/** Folder of the notebooks, in which their kernels run. */
export const notebooksFolder = join(root, 'notebooks');

/** What notebooks need of npm. */
export const packagesFolder = join(notebooksFolder, 'node_modules');

/** A folder of Jupyter's data in the project, so that nothing is registered outside it. */
export const jupyterFolder = join(notebooksFolder, '.jupyter');

/** A Python with Jupyter, where the machine has none. */
export const pythonFolder = join(notebooksFolder, '.venv');

/** Name of the kernel: the one under which other Jupyters know it, should they have it. */
export const KERNEL = 'tslab';
