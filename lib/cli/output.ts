import {
  existsSync,
  mkdirSync,
  realpathSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { UsageError } from '../problems.js';

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'no permission',
  EPERM: 'no permission',
  EROFS: 'the file system is read-only',
  ENOENT: 'a folder on the way does not exist',
  ENOTDIR: 'a part of the path is a file',
  EISDIR: 'it is a folder',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota is used up',
  EEXIST: 'a file of that name is in the way',
  ENAMETOOLONG: 'the name is too long',
  ELOOP: 'links on the way lead in a circle',
};

/** Reason of a failed file operation, in words. */
function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code ?? 'unknown error';
  return REASONS[code] ?? code;
}

/** Creates a folder and those above it. (Node's own recursive mode never returns where a file system refuses.) */
function makeFolder(folder: string, made: string[]): void {
  if (existsSync(folder)) return;
  makeFolder(dirname(folder), made);
  mkdirSync(folder);
  made.push(folder);
}

/** Removes folders that are still empty, the deepest first. */
function removeEmpty(made: readonly string[]): void {
  for (const folder of made.toReversed()) {
    try {
      rmdirSync(folder);
    } catch {
      // Something was written into it: it stays, and so do those above it.
      return;
    }
  }
}

/**
 * Makes sure that results can be written into a folder, before a long run begins. Creates the folder if needed.
 *
 * @param folder path of the folder.
 * @returns removes the folders it created, as far as they are still empty.
 * @throws UsageError if it cannot be written to; nothing is left behind.
 */
export function prepareFolder(folder: string): () => void {
  const made: string[] = [];
  try {
    makeFolder(resolve(folder), made);
    // Permission bits do not tell all (the superuser, read-only mounts): try it.
    const probe = join(folder, `.gravelbar-${process.pid}`);
    writeFileSync(probe, '');
    rmSync(probe);
  } catch (error) {
    removeEmpty(made);
    throw new UsageError(`cannot write into the folder ${folder}: ${reasonOf(error)}`);
  }
  return () => {
    removeEmpty(made);
  };
}

type Found = 'nothing' | 'file' | 'folder' | 'special';

/** What is at a path. A terminal, a pipe or a device is special: written to as it is, never replaced. */
function foundAt(file: string): Found {
  const found = statSync(file, { throwIfNoEntry: false });
  if (found === undefined) return 'nothing';
  if (found.isFile()) return 'file';
  return found.isDirectory() ? 'folder' : 'special';
}

/**
 * Makes sure that a file can be written, before a long run begins.
 *
 * @param file path of the file.
 * @throws UsageError if its folder does not exist or cannot be written to, or if it is a folder.
 */
export function prepareFile(file: string): void {
  const folder = dirname(resolve(file));
  if (!existsSync(folder)) throw new UsageError(`cannot write ${file}: the folder ${folder} does not exist`);
  let found: Found;
  try {
    found = foundAt(file);
  } catch (error) {
    throw new UsageError(`cannot write ${file}: ${reasonOf(error)}`);
  }
  if (found === 'special') return;
  if (found === 'folder' || /[/\\]$/.test(file)) throw new UsageError(`cannot write ${file}: it is a folder`);
  prepareFolder(folder);
}

/**
 * Writes a file whole or not at all: under a temporary name first, then renamed.
 *
 * @param file path of the file.
 * @param contents text or bytes.
 * @throws UsageError if it cannot be written; nothing is left behind.
 */
export function writeWhole(file: string, contents: string | Uint8Array): void {
  try {
    const found = foundAt(file);
    if (found === 'special') writeFileSync(file, contents);
    else replaceFile(found === 'file' ? realpathSync(file) : resolve(file), contents);
  } catch (error) {
    throw new UsageError(`cannot write ${file}: ${reasonOf(error)}`);
  }
}

function replaceFile(file: string, contents: string | Uint8Array): void {
  const temporary = join(dirname(file), `.${basename(file)}.${process.pid}.part`);
  try {
    writeFileSync(temporary, contents);
    renameSync(temporary, file);
  } catch (error) {
    rmSync(temporary, { force: true });
    throw error;
  }
}
