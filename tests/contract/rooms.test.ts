import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { libraryModules, loadedWith, type SourceModule } from '../support/sources.js';

/** Rooms in the order in which data flows; a room imports from itself and from those before it. */
const ROOMS = [
  'numeric',
  'units',
  'problems',
  'random',
  'models',
  'scenario',
  'simulate',
  'estimate',
  'run',
  'yardsticks',
  'calibrate',
  'decide',
  'sensitivity',
  'present',
  'chart',
  'report',
  'cli',
] as const;

type Room = (typeof ROOMS)[number];

/** Modules beside the rooms. */
const ROOM_OF_FILE: Readonly<Record<string, Room | 'door'>> = {
  'units.ts': 'units',
  'problems.ts': 'problems',
  'cautions.ts': 'run',
  'run.ts': 'run',
  'version.ts': 'run',
  'cli.ts': 'cli',
  'index.ts': 'door',
};

function roomOf(path: string): Room | 'door' {
  const folder = path.includes('/') ? path.slice(0, path.indexOf('/')) : null;
  const room = folder === null ? ROOM_OF_FILE[path] : ROOMS.find((name) => name === folder);
  if (room === undefined) throw new Error(`lib/${path} is in no known room: give it a place in the order`);
  return room;
}

function mayImport(from: Room | 'door', to: Room | 'door'): boolean {
  if (to === 'door') return false;
  if (from === 'door') return to !== 'cli';
  return ROOMS.indexOf(to) <= ROOMS.indexOf(from);
}

const modules = libraryModules();
const paths = new Set(modules.map(({ path }) => path));
const isOurs = (name: string): boolean => name.endsWith('.ts');

describe('imports', () => {
  test('lead to modules that exist', () => {
    const lost = modules.flatMap(({ path, imports }) =>
      imports.filter((name) => isOurs(name) && !paths.has(name)).map((name) => `${path} -> ${name}`),
    );
    expect(lost).toEqual([]);
    expect(modules.length).toBeGreaterThan(50);
  });

  test('go from a room to itself and to earlier ones only', () => {
    const wrong = modules.flatMap(({ path, imports }) =>
      imports
        .filter((name) => isOurs(name) && !mayImport(roomOf(path), roomOf(name)))
        .map((name) => `${path} -> ${name}`),
    );
    expect(wrong).toEqual([]);
  });

  test('never run in a circle', () => {
    const byPath = new Map(modules.map((module) => [module.path, module]));
    const circles: string[] = [];
    const done = new Set<string>();
    const follow = (path: string, trail: readonly string[]): void => {
      if (trail.includes(path)) circles.push([...trail.slice(trail.indexOf(path)), path].join(' -> '));
      if (trail.includes(path) || done.has(path)) return;
      for (const name of byPath.get(path)?.imports ?? []) follow(name, [...trail, path]);
      done.add(path);
    };
    for (const { path } of modules) follow(path, []);
    expect(circles).toEqual([]);
  });

  test.each(['numeric', 'problems', 'models', 'estimate'])(
    'of the room %s stay inside the library: no package, no module of Node',
    (room) => {
      const outside = modules
        .filter(({ path }) => roomOf(path) === room)
        .flatMap(({ path, imports }) =>
          imports.filter((name) => !isOurs(name)).map((name) => `${path} -> ${name}`),
        );
      expect(outside).toEqual([]);
    },
  );

  test('of packages are those that package.json installs', async () => {
    const { default: manifest } = await import('../../package.json', { with: { type: 'json' } });
    const packages = modules.flatMap(({ imports }) =>
      imports.filter((name) => !isOurs(name) && !name.startsWith('node:')),
    );
    const names = new Set(packages.map((name) => name.split('/', name.startsWith('@') ? 2 : 1).join('/')));
    const installed = Object.keys({ ...manifest.dependencies, ...manifest.peerDependencies });
    for (const name of names) expect(installed).toContain(name);
  });
});

/** Waits that happen while a module loads. `require` refuses modules that have them. */
function topLevelAwaits({ tree }: SourceModule): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isFunctionLike(node)) return;
    if (ts.isAwaitExpression(node) || (ts.isForOfStatement(node) && node.awaitModifier !== undefined)) {
      found.push(node.getText());
    }
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return found;
}

describe('loading the library', () => {
  const loaded = loadedWith('index.ts', modules);

  test('waits for nothing, so that CommonJS can require it', () => {
    expect(loaded.length).toBeGreaterThan(50);
    expect(loaded.flatMap(topLevelAwaits)).toEqual([]);
    // The check sees what it looks for: the command does wait.
    expect(topLevelAwaits(modules.find(({ path }) => path === 'cli.ts')!).length).toBeGreaterThan(0);
  });

  test('does not load the command', () => {
    expect(loaded.filter(({ path }) => roomOf(path) === 'cli')).toEqual([]);
  });
});

/**
 * ECMA-262 leaves the accuracy of these to the engine ("an implementation-approximated value"), `**` included, and the
 * clock and Math.random differ from run to run. Math.sqrt, floor, imul, min, max, abs, sign are exact.
 */
const EXACT_MATH = [
  'PI',
  'SQRT2',
  'LN2',
  'abs',
  'ceil',
  'floor',
  'imul',
  'clz32',
  'fround',
  'max',
  'min',
  'round',
];
const EXACT = new Set([...EXACT_MATH, 'sign', 'sqrt', 'trunc']);
const CLOCKS = new Set(['Date', 'performance', 'crypto']);

function inexact({ path, tree }: SourceModule): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    const tell = (): void => {
      found.push(`${path}: ${node.getText()}`);
    };
    if (ts.isPropertyAccessExpression(node) && node.expression.getText() === 'Math') {
      if (!EXACT.has(node.name.text)) tell();
    } else if (ts.isIdentifier(node) && CLOCKS.has(node.text)) tell();
    else if (ts.isIdentifier(node) && node.text === 'Math' && !ts.isPropertyAccessExpression(node.parent))
      tell();
    else if (
      node.kind === ts.SyntaxKind.AsteriskAsteriskToken ||
      node.kind === ts.SyntaxKind.AsteriskAsteriskEqualsToken
    ) {
      tell();
    }
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return found;
}

describe('what the simulator computes', () => {
  const rooms = ['numeric', 'random', 'models', 'simulate'];

  test('uses no function that may differ between engines, no clock and no other source of chance', () => {
    const watched = modules.filter(({ path }) => rooms.includes(roomOf(path)));
    expect(new Set(watched.map(({ path }) => roomOf(path))).size).toBe(rooms.length);
    expect(watched.flatMap(inexact)).toEqual([]);
  });

  test.each(['Math.random()', 'Math.exp(1)', 'Math["log"](2)', 'x ** 2', 'Date.now()', 'new Date()'])(
    'the check finds %s',
    (text) => {
      const tree = ts.createSourceFile('x.ts', text, ts.ScriptTarget.ES2022, true);
      expect(inexact({ path: 'x.ts', text, tree, imports: [] })).not.toEqual([]);
    },
  );
});
