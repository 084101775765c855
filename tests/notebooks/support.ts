import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { root, runProgram, type ChildOptions, type Finished } from '../support/command.js';

/** An output of a cell, as notebook files hold it. */
export interface SavedOutput {
  readonly output_type: string;
  readonly name?: string;
  text?: string[];
  readonly data?: Record<string, unknown>;
  readonly metadata?: Record<string, unknown>;
}

/** A cell of a notebook file. */
export interface SavedCell {
  readonly cell_type: string;
  readonly id?: string;
  metadata: Record<string, unknown>;
  execution_count?: number | null;
  outputs?: SavedOutput[];
  source: string[];
}

/** A notebook file. */
export interface SavedNotebook {
  readonly cells: SavedCell[];
  metadata: Record<string, unknown>;
}

/** A tool of the notebooks, run as npm runs it. */
export function tool(
  name: 'open' | 'prepare' | 'refresh' | 'run',
  words: readonly string[],
  options: ChildOptions = {},
): Promise<Finished> {
  return runProgram(process.execPath, [join(root, 'notebooks', 'tools', `${name}.js`), ...words], options);
}

export function readSaved(file: string): SavedNotebook {
  return JSON.parse(readFileSync(file, 'utf8')) as SavedNotebook;
}

/** Changes a notebook file in place. */
export function changeSaved(file: string, change: (notebook: SavedNotebook) => void): void {
  const text = readFileSync(file, 'utf8');
  const notebook = JSON.parse(text) as SavedNotebook;
  change(notebook);
  writeFileSync(file, JSON.stringify(notebook));
}

/** Writes a notebook of code cells that was never run. */
export function writeNotebook(file: string, sources: readonly string[], tags: readonly string[] = []): void {
  const cells = sources.map((source, index) => ({
    cell_type: 'code',
    execution_count: null,
    id: `code-${index + 1}`,
    metadata: tags.length > 0 ? { tags } : {},
    outputs: [],
    source,
  }));
  writeFileSync(file, JSON.stringify({ cells, metadata: {}, nbformat: 4, nbformat_minor: 5 }));
}
