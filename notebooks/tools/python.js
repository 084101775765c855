// A Python with Jupyter: one that is there, else one made for the project, else Debian's.
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import process from 'node:process';
import { notebooksFolder, pythonFolder } from './places.js';
import { ToolProblem } from './problem.js';
import { lastWords, tryProgram } from './programs.js';

/**
 * What Python must have.
 *
 * @typedef {object} Wanted
 * @property {string} purpose what for, in words.
 * @property {readonly string[]} modules modules, all of which must load.
 * @property {string} requirements file of packages for pip, in the folder of the notebooks.
 * @property {readonly string[]} debian Debian's packages.
 */

/** @type {Wanted} */
export const TO_RUN = {
  purpose: 'running notebooks',
  modules: ['nbclient', 'nbformat'],
  requirements: 'requirements.txt',
  debian: ['python3-nbclient', 'python3-nbconvert', 'python3-ipykernel', 'jupyter-client'],
};

/** @type {Wanted} */
export const TO_OPEN = {
  purpose: 'opening notebooks',
  modules: ['jupyterlab'],
  requirements: 'requirements-lab.txt',
  debian: ['jupyter-notebook'],
};

/** @type {Wanted} */
export const TO_OPEN_OLD = { ...TO_OPEN, modules: ['notebook'] };

const VENV_PYTHON =
  process.platform === 'win32'
    ? join(pythonFolder, 'Scripts', 'python.exe')
    : join(pythonFolder, 'bin', 'python');

/**
 * A Python that has what one of several lists asks for.
 *
 * @param {readonly Wanted[]} lists the first is the one that is installed if none is met.
 * @returns {{ python: string, wanted: Wanted }}
 * @throws {ToolProblem} if there is none and none can be had.
 */
export function obtainPython(...lists) {
  const found = findPython(lists);
  if (found !== null) return found;
  const [first] = lists;
  const modules = first.modules.join(' and ');
  const chosen = process.env.GRAVELBAR_PYTHON;
  if (chosen !== undefined) {
    throw new ToolProblem(
      `${first.purpose} needs ${modules}: ${chosen}, which GRAVELBAR_PYTHON names, cannot import it`,
    );
  }
  const failures = [];
  for (const install of [installWithPip, installWithApt]) {
    const failure = install(first);
    const now = failure === null ? findPython(lists) : null;
    if (now !== null) return now;
    failures.push(failure ?? 'what was installed does not load');
  }
  throw new ToolProblem(
    `${first.purpose} needs a Python with ${modules}, and there is none here (${failures.join('; ')}): ` +
      `pip install ${first.modules.join(' ')} or apt-get install ${first.debian[0]} helps, ` +
      'or GRAVELBAR_PYTHON with the path of one that has them',
  );
}

/** @param {readonly Wanted[]} lists */
function findPython(lists) {
  const pythons = candidates();
  for (const wanted of lists) {
    const python = pythons.find((name) => tryProgram(name, ['-c', `import ${wanted.modules.join(', ')}`]).ok);
    if (python !== undefined) return { python, wanted };
  }
  return null;
}

function candidates() {
  const chosen = process.env.GRAVELBAR_PYTHON;
  if (chosen !== undefined) return [chosen];
  const names = [VENV_PYTHON, pythonOfJupyter(), 'python3', 'python', '/usr/bin/python3'];
  return names.filter((name) => name !== null);
}

/** The Python that the `jupyter` command runs with, which may be one of its own. */
function pythonOfJupyter() {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    const python = /^#!\s*(?:\/usr\/bin\/env\s+)?(\S+)/.exec(textOf(join(folder, 'jupyter')))?.[1];
    if (python !== undefined) return python;
  }
  return null;
}

/** The text of a file; nothing if there is none that can be read. */
function textOf(file) {
  try {
    return readFileSync(file, 'latin1');
  } catch {
    return '';
  }
}

/**
 * Makes a Python for the project and installs into it.
 *
 * @param {Wanted} wanted
 * @returns {string | null} why it could not.
 */
function installWithPip({ requirements }) {
  console.error(`notebooks: installing Jupyter into ${pythonFolder}`);
  const isNew = !existsSync(VENV_PYTHON);
  const base = ['python3', 'python', '/usr/bin/python3'].find((name) => tryProgram(name, ['--version']).ok);
  if (base === undefined) return 'no Python on the PATH';
  const steps = [
    [base, ['-m', 'venv', pythonFolder]],
    [VENV_PYTHON, ['-m', 'pip', 'install', '--quiet', '--retries', '1', '--requirement', requirements]],
  ];
  for (const [program, words] of isNew ? steps : steps.slice(1)) {
    const { ok, output } = tryProgram(program, words, { cwd: notebooksFolder });
    if (ok) continue;
    if (isNew) rmSync(pythonFolder, { recursive: true, force: true });
    return `pip: ${lastWords(output)}`;
  }
  return null;
}

/**
 * Installs Debian's packages, for root.
 *
 * @param {Wanted} wanted
 * @returns {string | null} why it could not.
 */
function installWithApt({ debian }) {
  if (process.getuid?.() !== 0) return 'apt-get: only for root';
  console.error(`notebooks: installing Debian's ${debian.join(', ')}`);
  const options = { env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' } };
  for (const words of [
    ['update', '-qq'],
    ['install', '-qq', '--no-install-recommends', ...debian],
  ]) {
    const { ok, output } = tryProgram('apt-get', words, options);
    if (!ok) return `apt-get: ${lastWords(output)}`;
  }
  return null;
}
