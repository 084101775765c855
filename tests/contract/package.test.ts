import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { root, runProgram, shipped } from '../support/command.js';
import { libraryModules } from '../support/sources.js';

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly main: string;
  readonly types: string;
  readonly exports: { readonly '.': { readonly types: string; readonly default: string } };
  readonly bin: { readonly gravelbar: string };
  readonly engines: { readonly node: string };
  readonly files: readonly string[];
  readonly type: string;
}

const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as Manifest;

describe('package.json', () => {
  test('says how to load the library, by its door alone, for old and new ways of resolving', () => {
    expect(manifest).toMatchObject({
      name: 'gravelbar',
      type: 'module',
      main: './dist/index.js',
      types: './dist/index.d.ts',
      bin: { gravelbar: 'dist/cli.js' },
      engines: { node: '>=20' },
    });
    const { '.': door, ...others } = manifest.exports;
    expect(door).toEqual({ types: manifest.types, default: manifest.main });
    // The order counts: a resolver takes the first condition that it knows.
    expect(Object.keys(door)[0]).toBe('types');
    expect(others).toEqual({ './package.json': './package.json' });
  });

  test('names files that exist after a build', () => {
    for (const file of [manifest.main, manifest.types, manifest.bin.gravelbar]) {
      expect(existsSync(join(root, file)), file).toBe(true);
    }
    expect(readFileSync(join(root, manifest.bin.gravelbar), 'utf8')).toMatch(/^#!\/usr\/bin\/env node\n/);
  });
});

describe('the packed package', () => {
  let packed: readonly string[];

  beforeAll(async () => {
    const { code, stdout, stderr } = await runProgram('npm', [
      'pack',
      '--dry-run',
      '--json',
      '--ignore-scripts',
    ]);
    expect(code, stderr).toBe(0);
    const [report] = JSON.parse(stdout) as [{ readonly files: readonly { readonly path: string }[] }];
    packed = report.files.map(({ path }) => path);
  });

  test('holds the build, the scenarios with their schema and reference page, and the papers', () => {
    for (const file of ['dist/index.js', 'dist/index.d.ts', 'dist/cli.js', 'dist/simulate/worker.js']) {
      expect(packed).toContain(file);
    }
    const papersOfFiles = ['scenario.schema.json', 'REFERENCE.md', 'logbook.schema.json', 'RECORDS.md'];
    for (const file of ['defaults.json', 'first.json', 'own-columns/logbook.json', ...papersOfFiles]) {
      expect(packed).toContain(`scenarios/${file}`);
    }
    expect(packed).toContain('package.json');
    for (const paper of ['README.md', 'LICENSE', 'CHANGELOG.md', 'DEVELOPERS.md']) {
      expect(packed.includes(paper), paper).toBe(existsSync(join(root, paper)));
    }
    expect(packed).toContain('LICENSE');
  });

  test('holds nothing else: no tests, no sources, no notebooks', () => {
    const papers = ['package.json', 'README.md', 'LICENSE', 'CHANGELOG.md', 'DEVELOPERS.md'];
    const others = packed.filter((path) => !/^(dist|scenarios)\//.test(path) && !papers.includes(path));
    expect(others).toEqual([]);
  });

  test('holds no build of a source that is gone (empty dist before the build)', () => {
    const sources = new Set(libraryModules().map(({ path }) => path.replace(/\.ts$/, '')));
    const builds = packed.filter((path) => path.startsWith('dist/'));
    const orphans = builds.filter(
      (path) => !sources.has(path.slice('dist/'.length).replace(/\.(d\.ts|js)$/, '')),
    );
    expect(orphans).toEqual([]);
    expect(builds).toHaveLength(2 * sources.size);
  });
});

test('a CommonJS program can require the library and run a scenario on two workers', async () => {
  const fixture = join(root, 'tests/fixtures/require.cjs');
  const finished = await runProgram(process.execPath, [fixture, shipped('first.json')]);
  expect(finished).toEqual({
    code: 0,
    signal: null,
    stdout: JSON.stringify([8, 2, manifest.version]),
    stderr: '',
  });
});

test('inner modules cannot be loaded by their path', async () => {
  const program = "import('gravelbar/dist/run.js').catch((error) => console.log(error.code))";
  const { stdout } = await runProgram(process.execPath, ['-e', program]);
  expect(stdout).toBe('ERR_PACKAGE_PATH_NOT_EXPORTED\n');
});
