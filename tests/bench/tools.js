// The compiler and the Python that the comparison needs, and how programs are run.
import { execFileSync, spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const MOST_OUTPUT_BYTES = 64 * 1024 * 1024;
const PYTHONS = ['python3', '/usr/bin/python3', '/usr/local/bin/python3'];

export const here = (name) => fileURLToPath(new URL(name, import.meta.url));

/** Runs a program that answers with one JSON object. */
export function runJson(command, words) {
  const output = execFileSync(command, words.map(String), {
    encoding: 'utf8',
    maxBuffer: MOST_OUTPUT_BYTES,
    // No byte code files beside the sources.
    env: { ...process.env, PYTHONDONTWRITEBYTECODE: '1' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  return JSON.parse(output);
}

/** First line that a program prints, or null if it cannot be run. */
function firstLine(command, words) {
  const { status, stdout } = spawnSync(command, words, { encoding: 'utf8' });
  return status === 0 ? stdout.split('\n')[0] : null;
}

/**
 * Compiles the C++ program into a folder.
 *
 * @returns path and version, or null without g++.
 */
export function compileCpp(folder) {
  const version = firstLine('g++', ['-dumpfullversion']);
  if (version === null) return null;
  const program = join(folder, 'landing_loop');
  const flags = ['-std=c++17', '-O3', '-march=native'];
  execFileSync('g++', [...flags, '-o', program, here('./cpp/landing_loop.cpp')], { stdio: 'inherit' });
  return { program, version: `g++ ${version} ${flags.join(' ')}` };
}

/** The first Python that can import NumPy, or null. */
export function findNumpy() {
  const question =
    'import numpy, platform; print(f"Python {platform.python_version()}, NumPy {numpy.__version__}")';
  for (const program of PYTHONS) {
    const version = firstLine(program, ['-c', question]);
    if (version !== null) return { program, version };
  }
  return null;
}
