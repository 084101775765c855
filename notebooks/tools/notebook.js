// Notebook files: reading, and the one form in which they are saved.
import { readFileSync } from 'node:fs';
import { KERNEL } from './places.js';
import { ToolProblem } from './problem.js';

/**
 * A cell of a notebook.
 *
 * @typedef {object} Cell
 * @property {'code' | 'markdown' | 'raw'} cell_type
 * @property {string} id
 * @property {Record<string, unknown>} metadata
 * @property {string} source
 * @property {Record<string, unknown>} [attachments]
 * @property {number | null} [execution_count] of a code cell.
 * @property {Output[]} [outputs] of a code cell.
 *
 * @typedef {object} Output
 * @property {'stream' | 'display_data' | 'execute_result' | 'error'} output_type
 * @property {string} [name] of a stream.
 * @property {string} [text] of a stream.
 * @property {Record<string, unknown>} [data] media types and what they hold.
 * @property {Record<string, unknown>} [metadata]
 *
 * @typedef {object} Notebook
 * @property {Cell[]} cells
 * @property {Record<string, unknown>} metadata
 */

/** What we save of the metadata; the rest changes from program to program and from run to run. */
const NOTEBOOK_METADATA = ['title'];
const CELL_METADATA = ['jupyter', 'slideshow', 'tags'];

const KERNEL_METADATA = {
  kernelspec: { display_name: 'TypeScript', language: 'typescript', name: KERNEL },
  language_info: {
    codemirror_mode: { mode: 'typescript', name: 'javascript', typescript: true },
    file_extension: '.ts',
    mimetype: 'text/typescript',
    name: 'typescript',
  },
};

/**
 * Reads a notebook.
 *
 * @param {string} file
 * @returns {{ notebook: Notebook, text: string }} in the form that is saved, and the text of the file.
 * @throws {ToolProblem} if it cannot be read.
 */
export function readNotebook(file) {
  let text;
  let found;
  try {
    text = readFileSync(file, 'utf8');
    found = JSON.parse(text);
  } catch (problem) {
    throw new ToolProblem(`${file} cannot be read: ${problem.message}`);
  }
  if (found?.nbformat !== 4 || !Array.isArray(found.cells)) {
    throw new ToolProblem(`${file} is not a notebook of format 4`);
  }
  return { notebook: normalNotebook(found), text };
}

/** An object without objects or lists in it, in what a cell gave. */
const ROW = /\{\n {8,}([^{}[\]]*?)\n +\}/g;

/**
 * The text of a notebook file: as Jupyter lays it out, without anything that changes from run to run. Rows of data take
 * one line each, as they would be most of the file otherwise.
 *
 * @param {Notebook} notebook
 */
export function notebookText(notebook) {
  const cells = notebook.cells.map((cell) => ({
    ...cell,
    source: lines(cell.source),
    ...(cell.outputs && { outputs: cell.outputs.map(savedOutput) }),
  }));
  const text = JSON.stringify(sorted({ ...notebook, cells, nbformat: 4, nbformat_minor: 5 }), null, 1);
  // In JSON a brace before or after a line end is never part of a string.
  return `${text.replaceAll(ROW, (_, fields) => `{ ${fields.replaceAll(/\n +/g, ' ')} }`)}\n`;
}

/** @returns {Notebook} */
function normalNotebook(found) {
  const taken = new Set();
  const cells = found.cells.map((cell, index) => {
    const normal = {
      cell_type: cell.cell_type,
      id: freeId(cell.id, index, taken),
      metadata: pick(cell.metadata, CELL_METADATA),
      source: joined(cell.source),
    };
    if (cell.attachments !== undefined) normal.attachments = cell.attachments;
    if (cell.cell_type !== 'code') return normal;
    return {
      ...normal,
      execution_count: cell.execution_count ?? null,
      outputs: normalOutputs(cell.outputs ?? []),
    };
  });
  return { cells, metadata: { ...pick(found.metadata, NOTEBOOK_METADATA), ...KERNEL_METADATA } };
}

/** The id of a cell, if it has a good one that no cell before it has, else one made from its place. */
function freeId(id, index, taken) {
  let free = typeof id === 'string' && /^[\w-]{1,64}$/.test(id) && !taken.has(id) ? id : `cell-${index + 1}`;
  while (taken.has(free)) free += '-again';
  taken.add(free);
  return free;
}

/**
 * Outputs as they are saved: what a cell prints in pieces is one text.
 *
 * @param {readonly object[]} outputs
 * @returns {Output[]}
 */
export function normalOutputs(outputs) {
  const normal = [];
  for (const output of outputs) {
    const last = normal.at(-1);
    if (output.output_type === 'stream') {
      const text = joined(output.text);
      if (last?.output_type === 'stream' && last.name === output.name) last.text += text;
      else normal.push({ output_type: 'stream', name: output.name, text });
    } else if (output.data !== undefined) {
      const data = Object.entries(output.data).map(([type, value]) => [
        type,
        isText(type) ? joined(value) : value,
      ]);
      normal.push({
        output_type: 'display_data',
        data: Object.fromEntries(data),
        metadata: output.metadata ?? {},
      });
    } else normal.push(output);
  }
  return normal;
}

function savedOutput(output) {
  if (output.text !== undefined) return { ...output, text: lines(output.text) };
  if (output.data === undefined) return output;
  const data = Object.entries(output.data).map(([type, value]) => [
    type,
    isText(type) ? lines(value) : value,
  ]);
  return { ...output, data: Object.fromEntries(data) };
}

/** Media that Jupyter saves as lists of lines. */
function isText(type) {
  return type.startsWith('text/') || type === 'image/svg+xml' || type === 'application/javascript';
}

function joined(text) {
  return Array.isArray(text) ? text.join('') : String(text);
}

function lines(text) {
  return text === '' ? [] : text.split(/(?<=\n)/);
}

function pick(metadata, names) {
  return Object.fromEntries(Object.entries(metadata ?? {}).filter(([name]) => names.includes(name)));
}

/** The same value with the names of every object in order. */
function sorted(value) {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  const names = Object.keys(value).sort();
  return Object.fromEntries(names.map((name) => [name, sorted(value[name])]));
}
