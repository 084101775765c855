import { Buffer } from 'node:buffer';
import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { root } from '../support/command.js';
import { changeSaved, readSaved, tool, type SavedNotebook, type SavedOutput } from './support.js';

const MINUTES = 60_000;

const folder = mkdtempSync(join(tmpdir(), 'gravelbar-test-'));
const fileOf = (name: string): string => join(folder, `${name}.ipynb`);
const good = fileOf('good');
let goodText: string;

function cellOf(notebook: SavedNotebook, id: string): SavedNotebook['cells'][number] {
  return notebook.cells.find((cell) => cell.id === id)!;
}

function outputsOf(id: string): readonly SavedOutput[] {
  return cellOf(readSaved(good), id).outputs!;
}

beforeAll(async () => {
  await tool('prepare', []);
  copyFileSync(join(root, 'tests', 'notebooks', 'tiny.ipynb'), good);
  const { code, stdout, stderr } = await tool('refresh', [good], { cwd: folder });
  expect({ code, stdout, stderr }).toEqual({ code: 0, stdout: 'good.ipynb: saved\n', stderr: '' });
  goodText = readFileSync(good, 'utf8');
}, 2 * MINUTES);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('a notebook that was run and saved', () => {
  test('holds what cells print as one text', () => {
    expect(outputsOf('run')).toEqual([
      { output_type: 'stream', name: 'stdout', text: ['16\n', 'gravelbar\n'] },
    ]);
    expect(outputsOf('import')).toEqual([]);
  });

  test('holds a table as one output, for a browser and as text', () => {
    const outputs = outputsOf('table');
    expect(outputs).toHaveLength(1);
    const { output_type: type, data } = outputs[0]!;
    expect(type).toBe('display_data');
    expect(Object.keys(data!).sort()).toEqual(['text/html', 'text/plain']);
    expect((data!['text/html'] as string[]).join('')).toMatch(/<td[^>]*>soft 9 psi<\/td>/);
    expect((data!['text/plain'] as string[]).join('')).toMatch(/^setup +median_life_hours\n-+\nsoft 9 psi /);
  });

  test('holds a chart as one output: for JupyterLab, as a picture and in words', () => {
    const outputs = outputsOf('chart');
    expect(outputs).toHaveLength(1);
    const { output_type: type, data, metadata } = outputs[0]!;
    expect(type).toBe('display_data');
    expect(data).toMatchObject({
      'application/vnd.vegalite.v5+json': {
        $schema: 'https://vega.github.io/schema/vega-lite/v5.json',
        title: { text: ['Two lives'] },
      },
      'text/plain': ['Two bars: median lives in hours.'],
    });
    expect(Object.keys(data!)).toHaveLength(3);
    const png = Buffer.from(data!['image/png'] as string, 'base64');
    // Signature and place of the width in a PNG file: W3C, Portable Network Graphics, 5.2 and 11.2.2.
    expect([...png.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
    const { width } = metadata!['image/png'] as { readonly width: number };
    expect(width).toBeGreaterThan(200);
    expect(png.readUInt32BE(16) / width).toBeCloseTo(1.5, 2);
  });

  test('holds counts of a clean kernel and nothing of the machine or the hour', () => {
    const notebook = readSaved(good);
    const counts = notebook.cells.flatMap(({ execution_count: count }) =>
      count === undefined ? [] : [count],
    );
    expect(counts).toEqual([1, 2, 3, 4]);
    expect(notebook.cells.map(({ metadata }) => metadata)).toEqual([{}, {}, {}, {}, {}]);
    expect(goodText).not.toContain(root);
    expect(goodText).not.toMatch(/"(?:version|execution|iopub\.status\.busy)"/);
  });

  test('runs, gives what is saved, and is saved again with the same bytes', async () => {
    const run = await tool('run', [good], { cwd: folder });
    expect(run).toMatchObject({ code: 0, stdout: 'good.ipynb: runs and gives what is saved\n', stderr: '' });
    const refresh = await tool('refresh', [good], { cwd: folder });
    expect(refresh).toMatchObject({ code: 0, stdout: 'good.ipynb: as saved\n', stderr: '' });
    expect(readFileSync(good, 'utf8')).toBe(goodText);
  });
});

type Spec = { readonly data: { readonly values: { median_life_hours: number }[] } };

function firstRow(notebook: SavedNotebook): { median_life_hours: number } {
  const { data } = cellOf(notebook, 'chart').outputs![0]!;
  return (data!['application/vnd.vegalite.v5+json'] as Spec).data.values[0]!;
}

/** What was changed in a saved notebook, how, and what is said about it. */
const CHANGED: Readonly<Record<string, { change: (notebook: SavedNotebook) => void; said: string[] }>> = {
  'printed-text': {
    change: (notebook) => (cellOf(notebook, 'run').outputs![0]!.text = ['16\n', 'gravel\n']),
    said: ['code cell 2 (const { scenario }', 'line 2: saved "gravel", now "gravelbar"'],
  },
  'table-text': {
    change: (notebook) =>
      (cellOf(notebook, 'table').outputs![0]!.data!['text/plain'] = ['setup\n', 'none\n']),
    said: ['code cell 3 (const rows', 'text/plain, line 1'],
  },
  'chart-data': {
    change: (notebook) => (firstRow(notebook).median_life_hours *= 1 + 1e-6),
    said: ['code cell 4 (const words', 'data.values.0.median_life_hours: saved '],
  },
  'missing-output': {
    change: (notebook) => (cellOf(notebook, 'run').outputs = []),
    said: ['code cell 2 (const { scenario }', 'saved is nothing, now comes text on stdout'],
  },
  'output-too-many': {
    change: (notebook) =>
      cellOf(notebook, 'import').outputs!.push({ output_type: 'stream', name: 'stdout', text: ['hello'] }),
    said: ['code cell 1 (import', 'saved is text on stdout, now comes nothing'],
  },
  'another-code': {
    change: (notebook) => cellOf(notebook, 'run').source.push("\nconsole.log('more');"),
    said: ['code cell 2 (const { scenario }', 'line 3: saved "", now "more"'],
  },
  'counts-of-a-used-kernel': {
    change: (notebook) => (cellOf(notebook, 'run').execution_count = 17),
    said: ['not saved as from a clean kernel'],
  },
  'foreign-metadata': {
    change: (notebook) => (cellOf(notebook, 'run').metadata = { scrolled: true }),
    said: ['not saved as from a clean kernel'],
  },
};

describe('run, given a notebook that was changed after it was saved,', () => {
  const names = Object.keys(CHANGED);
  let code: number | null;
  let said: ReadonlyMap<string, string>;

  beforeAll(async () => {
    for (const [name, { change }] of Object.entries(CHANGED)) {
      writeFileSync(fileOf(name), goodText);
      changeSaved(fileOf(name), change);
    }
    const { code: ended, stderr } = await tool('run', names.map(fileOf), { cwd: folder });
    code = ended;
    const parts = stderr.split(/^([\w-]+)\.ipynb: /m).slice(1);
    said = new Map(names.map((_, index) => [parts[2 * index]!, parts[2 * index + 1]!]));
  }, 5 * MINUTES);

  test('ends with code 1', () => {
    expect(code).toBe(1);
  });

  test.each(names)('says where and what: %s', (name) => {
    for (const words of CHANGED[name]!.said) expect(said.get(name)).toContain(words);
    expect(said.get(name)).toContain('npm run notebooks:refresh');
  });
});

test(
  'last bits of chart data, and pictures drawn from them, are no change',
  async () => {
    const file = fileOf('last-bits');
    const text = goodText.replace(
      /(?<="median_life_hours": )[\d.]+/,
      (hours) => `${Number(hours) * (1 + 1e-12)}`,
    );
    writeFileSync(file, text.replace(/("image\/png": "[^"]{100})[^"]{8}/, '$1AAAAAAAA'));
    expect(readFileSync(file, 'utf8')).not.toBe(goodText);
    const { code, stderr } = await tool('run', [file]);
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  },
  2 * MINUTES,
);
