import {
  accessSync,
  constants,
  existsSync,
  mkdirSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { UsageError } from '../problems.js';

/** Reason of a failed file operation, in words. */
function reasonOf(error: unknown): string {
  const code = (error as NodeJS.ErrnoException).code ?? 'unknown error';
  const words: Record<string, string> = {
    EACCES: 'no permission',
    EPERM: 'no permission',
    EROFS: 'the file system is read-only',
    ENOENT: 'a folder on the way does not exist',
    ENOTDIR: 'a part of the path is a file',
    EISDIR: 'it is a folder',
    ENOSPC: 'the disk is full',
    EEXIST: 'a file of that name is in the way',
  };
  return words[code] ?? code;
}

/** Creates a folder and those above it. (Node's own recursive mode never returns where a file system refuses.) */
function makeFolder(folder: string): void {
  if (existsSync(folder)) return;
  makeFolder(dirname(folder));
  mkdirSync(folder);
}

/**
 * Makes sure that results can be written into a folder, before a long run begins. Creates the folder if needed.
 *
 * @param folder path of the folder.
 * @throws UsageError if it cannot be written to.
 */
export function prepareFolder(folder: string): void {
  try {
    makeFolder(resolve(folder));
    accessSync(folder, constants.W_OK);
    // Permission bits do not tell all (the superuser, read-only mounts): try it.
    const probe = join(folder, `.gravelbar-${process.pid}`);
    writeFileSync(probe, '');
    rmSync(probe);
  } catch (error) {
    throw new UsageError(`cannot write into the folder ${folder}: ${reasonOf(error)}`);
  }
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
  if (existsSync(file) && statSync(file).isDirectory())
    throw new UsageError(`cannot write ${file}: it is a folder`);
  prepareFolder(folder);
}

/**
 * Writes a file whole or not at all: under a temporary name first, then renamed.
 *
 * @param file path of the file.
 * @param text its contents.
 * @throws UsageError if it cannot be written; nothing is left behind.
 */
export function writeWhole(file: string, text: string): void {
  const temporary = join(dirname(resolve(file)), `.${basename(file)}.${process.pid}.part`);
  try {
    writeFileSync(temporary, text);
    renameSync(temporary, file);
  } catch (error) {
    rmSync(temporary, { force: true });
    throw new UsageError(`cannot write ${file}: ${reasonOf(error)}`);
  }
}
