import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, relative, sep } from 'node:path';
import ts from 'typescript';
import { root } from './command.js';

/** One module of the library. */
export interface SourceModule {
  /** Path below lib/, with slashes. */
  readonly path: string;
  readonly text: string;
  readonly tree: ts.SourceFile;
  /** What it imports or re-exports, types included; relative ones as paths below lib/. */
  readonly imports: readonly string[];
}

const lib = join(root, 'lib');

/** All modules of the library. */
export function libraryModules(): readonly SourceModule[] {
  return readdirSync(lib, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => relative(lib, join(lib, name)).split(sep).join('/'))
    .sort()
    .map((path) => {
      const text = readFileSync(join(lib, path), 'utf8');
      const tree = ts.createSourceFile(path, text, ts.ScriptTarget.ES2022, true);
      return { path, text, tree, imports: importsOf(path, tree) };
    });
}

function importsOf(path: string, tree: ts.SourceFile): string[] {
  const found: string[] = [];
  const add = (specifier: ts.Node | undefined): void => {
    if (specifier === undefined) return;
    if (!ts.isStringLiteral(specifier)) throw new Error(`${path} imports a computed name`);
    found.push(resolved(path, specifier.text));
  };
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) add(node.moduleSpecifier);
    else if (ts.isImportTypeNode(node)) add((node.argument as ts.LiteralTypeNode).literal);
    else if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword)
      add(node.arguments[0]);
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return found;
}

function resolved(path: string, specifier: string): string {
  if (!specifier.startsWith('.')) return specifier;
  return posix.join(dirname(path), specifier).replace(/\.js$/, '.ts');
}

/** Modules that are loaded with one of them, itself included. */
export function loadedWith(entry: string, modules: readonly SourceModule[]): readonly SourceModule[] {
  const byPath = new Map(modules.map((module) => [module.path, module]));
  const reached = new Set<SourceModule>();
  const open = [entry];
  for (let path = open.pop(); path !== undefined; path = open.pop()) {
    const module = byPath.get(path);
    if (module === undefined || reached.has(module)) continue;
    reached.add(module);
    open.push(...module.imports);
  }
  return [...reached];
}
