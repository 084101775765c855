// The TypeScript kernel: its packages, the way from them to the library, and its registration inside the project.
import { createHash } from 'node:crypto';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join, relative } from 'node:path';
import process from 'node:process';
import { jupyterFolder, KERNEL, notebooksFolder, packagesFolder, root } from './places.js';
import { ToolProblem } from './problem.js';
import { lastWords, tryProgram } from './programs.js';

/** Makes the kernel ready; quick when it is. */
export function prepareKernel() {
  if (process.features.require_module !== true) {
    throw new ToolProblem(
      `Node ${process.versions.node} cannot load the library in a notebook: use Node 20.19 or newer`,
    );
  }
  if (!existsSync(join(root, 'dist', 'index.js'))) {
    throw new ToolProblem('the library is not built: npm run build');
  }
  if (!isInstalled()) install();
  registerKernel();
}

/** Says for which lock file the packages were installed. */
const MARK = '.installed';

function wantedMark() {
  const lock = readFileSync(join(notebooksFolder, 'package-lock.json'));
  return createHash('sha256').update(lock).digest('hex');
}

function isInstalled() {
  const mark = join(packagesFolder, MARK);
  return existsSync(mark) && readFileSync(mark, 'utf8') === wantedMark();
}

/** Installs the packages aside and then moves them, so that they are there as a whole or not at all. */
function install() {
  console.error('notebooks: installing the TypeScript kernel');
  mkdirSync(jupyterFolder, { recursive: true });
  const folder = mkdtempSync(join(jupyterFolder, 'install-'));
  try {
    for (const name of ['package.json', 'package-lock.json']) {
      copyFileSync(join(notebooksFolder, name), join(folder, name));
    }
    const npm = runNpm(['ci', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'], folder);
    if (!npm.ok) throw new ToolProblem(`the kernel is not installed: npm ci says: ${lastWords(npm.output)}`);
    const trial = tryProgram(process.execPath, ['-e', 'require("zeromq")'], { cwd: folder });
    if (!trial.ok) {
      throw new ToolProblem(
        `the kernel cannot talk on this kind of machine: zeromq does not load: ${lastWords(trial.output)}`,
      );
    }
    const packages = join(folder, 'node_modules');
    // Cells import the library by its name, as if it were installed beside the kernel.
    const target = process.platform === 'win32' ? root : relative(packagesFolder, root);
    symlinkSync(target, join(packages, 'gravelbar'), 'junction');
    writeFileSync(join(packages, MARK), wantedMark());
    rmSync(packagesFolder, { recursive: true, force: true });
    renameSync(packages, packagesFolder);
  } catch (problem) {
    // Another process that installed at the same time was faster.
    if (problem instanceof ToolProblem || !isInstalled()) throw problem;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function runNpm(words, cwd) {
  const npm = process.env.npm_execpath;
  if (npm !== undefined && /npm-cli\.c?js$/.test(npm)) {
    return tryProgram(process.execPath, [npm, ...words], { cwd });
  }
  return tryProgram('npm', words, { cwd, shell: process.platform === 'win32' });
}

function registerKernel() {
  const folder = join(jupyterFolder, 'kernels', KERNEL);
  mkdirSync(folder, { recursive: true });
  const program = join(packagesFolder, 'tslab', 'bin', 'tslab');
  const registration = {
    argv: [process.execPath, program, 'kernel', '--config-path', '{connection_file}'],
    display_name: 'TypeScript',
    language: 'typescript',
  };
  const file = join(folder, 'kernel.json');
  const text = `${JSON.stringify(registration, null, 2)}\n`;
  if (existsSync(file) && readFileSync(file, 'utf8') === text) return;
  // Moved into place, since another process may read it now.
  const draft = `${file}.${process.pid}`;
  writeFileSync(draft, text);
  renameSync(draft, file);
}
