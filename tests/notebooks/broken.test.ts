import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { inFolder } from '../support/command.js';
import { tool, writeNotebook } from './support.js';

const MINUTES = 60_000;

/** Notebooks with one flaw each: their cells, and what is said about them. */
const BROKEN: Readonly<Record<string, { cells: string[]; tags?: string[]; said: string[] }>> = {
  'ill-typed': {
    cells: ['const good = 1;', '// A comment first\nconst bad: number = `text`;', 'console.log(good);'],
    said: ['code cell 2 (// A comment first) fails', "Type 'string' is not assignable to type 'number'"],
  },
  'ill-typed-library': {
    cells: ["import { parseScenario } from 'gravelbar';\nparseScenario(7);"],
    said: [
      'code cell 1 (import',
      "Argument of type 'number' is not assignable to parameter of type 'string'",
    ],
  },
  throws: {
    cells: ['const good = 1;', "throw new RangeError('out of tread');"],
    said: ["code cell 2 (throw new RangeError('out of tread');) fails", 'RangeError: out of tread'],
  },
  rejects: {
    cells: ["await Promise.reject(new Error('no air left'));"],
    said: ['code cell 1 (await', 'no air left'],
  },
  'library-error': {
    cells: ["import { readScenario } from 'gravelbar';", "await readScenario('../scenarios/firts.json');"],
    said: ['code cell 2 (await readScenario', 'firts.json'],
  },
  'rejects-unheard': {
    cells: [
      "void Promise.reject(new Error('nobody listens'));\nawait new Promise((done) => setTimeout(done, 50));",
    ],
    said: ['code cell 1 (void', 'nobody listens'],
  },
  complains: { cells: ["console.error('beware');"], said: ['code cell 1 (console.error', 'beware'] },
  'kernel-ends': {
    cells: ['const good = 1;', 'process.exit(3);'],
    said: ['code cell 2 (process.exit(3);) fails', 'DeadKernelError'],
  },
  'expected-error': {
    cells: ["throw new Error('tags do not help');"],
    tags: ['raises-exception', 'skip-execution'],
    said: ['code cell 1 (throw', 'tags do not help'],
  },
};

const names = Object.keys(BROKEN);
const folder = mkdtempSync(join(tmpdir(), 'gravelbar-test-'));
const fileOf = (name: string): string => join(folder, `${name}.ipynb`);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe.each(['run', 'refresh'] as const)('%s, given notebooks with a flaw,', (name) => {
  let code: number | null;
  let said: ReadonlyMap<string, string>;
  let saved: ReadonlyMap<string, string>;

  beforeAll(async () => {
    for (const [flaw, { cells, tags }] of Object.entries(BROKEN)) writeNotebook(fileOf(flaw), cells, tags);
    saved = new Map(names.map((flaw) => [flaw, readFileSync(fileOf(flaw), 'utf8')]));
    const { code: ended, stderr } = await tool(name, names.map(fileOf), { cwd: folder });
    code = ended;
    // What is said of a notebook begins with its name at the start of a line.
    const parts = stderr.split(/^([\w-]+)\.ipynb: /m).slice(1);
    said = new Map(names.map((_, index) => [parts[2 * index]!, parts[2 * index + 1]!]));
  }, 5 * MINUTES);

  test('ends with code 1', () => {
    expect(code).toBe(1);
  });

  test.each(names)('names the cell and the reason: %s', (flaw) => {
    for (const words of BROKEN[flaw]!.said) expect(said.get(flaw)).toContain(words);
  });

  test('leaves the files as they are', () => {
    for (const flaw of names) expect(readFileSync(fileOf(flaw), 'utf8')).toBe(saved.get(flaw));
  });
});

describe('problems before a notebook runs are said in one line:', () => {
  const oneLine = (words: RegExp): RegExp => new RegExp(`^notebooks: .*${words.source}.*\n$`);

  test.each([
    ['no JSON', 'what?', /cannot be read/],
    ['another format', '{"nbformat": 3, "worksheets": []}', /is not a notebook of format 4/],
  ])('%s', (_, text, words) =>
    inFolder(async (own) => {
      const file = join(own, 'odd.ipynb');
      writeFileSync(file, text);
      const { code, stdout, stderr } = await tool('run', [file]);
      expect({ code, stdout }).toEqual({ code: 1, stdout: '' });
      expect(stderr).toMatch(oneLine(words));
    }),
  );

  test('no such file', async () => {
    const { code, stderr } = await tool('run', ['nowhere.ipynb']);
    expect(code).toBe(1);
    expect(stderr).toMatch(oneLine(/there is no notebook .*nowhere\.ipynb/));
  });

  test('a Python without Jupyter', async () => {
    const { code, stderr } = await tool('prepare', [], { env: { GRAVELBAR_PYTHON: process.execPath } });
    expect(code).toBe(1);
    expect(stderr).toMatch(oneLine(/needs nbclient and nbformat: .* which GRAVELBAR_PYTHON names/));
  });
});
