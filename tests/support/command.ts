import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Folder of the repository. */
export const root: string = fileURLToPath(new URL('../..', import.meta.url));

/** The built command. */
export const commandFile: string = join(root, 'dist', 'cli.js');

/** A shipped scenario file. */
export function shipped(name: string): string {
  return join(root, 'scenarios', name);
}

/** How a child process ended and what it wrote. */
export interface Finished {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** How to run a child process. */
export interface ChildOptions {
  readonly cwd?: string;
  /** Variables laid over those of this process. */
  readonly env?: Readonly<Record<string, string>>;
  /** Called with a function that sends a signal, once the process runs. */
  readonly whileRunning?: (kill: (signal: NodeJS.Signals) => void) => Promise<void>;
}

/** Runs a program to its end. */
export async function runProgram(
  program: string,
  args: readonly string[],
  { cwd = root, env = {}, whileRunning }: ChildOptions = {},
): Promise<Finished> {
  const child = spawn(program, args, {
    cwd,
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const stdout: Buffer[] = [];
  const stderr: Buffer[] = [];
  child.stdout.on('data', (piece: Buffer) => stdout.push(piece));
  child.stderr.on('data', (piece: Buffer) => stderr.push(piece));
  const ended = new Promise<Pick<Finished, 'code' | 'signal'>>((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code, signal) => {
      resolve({ code, signal });
    });
  });
  await whileRunning?.((signal) => child.kill(signal));
  const end = await ended;
  return { ...end, stdout: Buffer.concat(stdout).toString(), stderr: Buffer.concat(stderr).toString() };
}

/** Runs the built command. */
export function gravelbar(args: readonly string[], options: ChildOptions = {}): Promise<Finished> {
  return runProgram(process.execPath, [commandFile, ...args], options);
}

/** Everything in a folder, with sizes, in order; what a running command takes away meanwhile is left out. */
export function listing(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .flatMap((entry) => {
      const path = join(entry.parentPath, entry.name);
      if (!entry.isFile()) return [`${relative(folder, path)} folder`];
      const found = statSync(path, { throwIfNoEntry: false });
      return found === undefined ? [] : [`${relative(folder, path)} ${found.size}`];
    })
    .sort();
}

/** Runs a piece of work in a folder of its own, which is removed afterwards. */
export async function inFolder<Result>(work: (folder: string) => Promise<Result>): Promise<Result> {
  const folder = mkdtempSync(join(tmpdir(), 'gravelbar-test-'));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The same inside the repository, for work that has to find the packages installed there. */
export async function inRepositoryFolder<Result>(work: (folder: string) => Promise<Result>): Promise<Result> {
  const parent = join(root, '.tmp');
  mkdirSync(parent, { recursive: true });
  const folder = mkdtempSync(join(parent, 'test-'));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
