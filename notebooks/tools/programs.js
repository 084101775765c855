// Running other programs.
import { spawn, spawnSync } from 'node:child_process';
import process from 'node:process';

/**
 * Runs a program to its end and keeps what it prints.
 *
 * @param {string} program
 * @param {readonly string[]} words
 * @param {import('node:child_process').SpawnSyncOptions} [options]
 * @returns {{ ok: boolean, output: string }} whether it ended well, and what it wrote to both outputs.
 */
export function tryProgram(program, words, options = {}) {
  const { status, stdout, stderr, error } = spawnSync(program, words, {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
    ...options,
  });
  const output = error === undefined ? `${stdout}${stderr}` : error.message;
  return { ok: status === 0, output };
}

/**
 * The last line of a text that says something, for a message.
 *
 * @param {string} output
 */
export function lastWords(output) {
  return output.trim().split('\n').at(-1)?.trim() || 'no reason given';
}

/** Programs that run now. They are stopped when this one is, and say themselves when they have ended. */
const running = new Set();
let stopped = false;
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
  process.on(signal, () => {
    stopped = true;
    for (const child of running) child.kill(signal);
    if (running.size === 0) process.exit(1);
  });
}

/**
 * Runs a program to its end while others run.
 *
 * @param {string} program
 * @param {readonly string[]} words
 * @param {import('node:child_process').SpawnOptions} [options] without `stdio` the standard error is kept.
 * @returns {Promise<{ code: number | null, stderr: string, stopped: boolean }>} `stopped`: on request.
 */
export function runProgram(program, words, options = {}) {
  return new Promise((resolve, reject) => {
    const child = spawn(program, words, { stdio: ['ignore', 'ignore', 'pipe'], ...options });
    running.add(child);
    let stderr = '';
    child.stderr?.setEncoding('utf8').on('data', (piece) => (stderr += piece));
    child.on('error', (error) => {
      running.delete(child);
      reject(error);
    });
    child.on('close', (code) => {
      running.delete(child);
      resolve({ code, stderr, stopped });
    });
  });
}
