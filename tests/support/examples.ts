import { symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import ts from 'typescript';
import { inRepositoryFolder, root, runProgram } from './command.js';
import type { SourceModule } from './sources.js';

/** A piece of program from the documentation. */
export interface Example {
  /** Where it stands, for the test title: file and line. */
  readonly place: string;
  readonly code: string;
}

/** One `// =>` of an example and what came of it. */
export interface Check {
  readonly statement: string;
  readonly expected: string;
  /** What it gave, as `util.inspect` shows it. */
  readonly actual: string;
  readonly ok: boolean;
}

/** What an example gave: its checks, and the error that ended it, if any. */
export interface Outcome {
  readonly checks: readonly Check[];
  readonly error: string | null;
}

/** A fenced block of a Markdown text. */
export interface Block {
  readonly language: string;
  /** Line of the opening fence, from 1. */
  readonly line: number;
  readonly text: string;
}

/** The examples in the doc comments of a module. */
export function docstringExamples({ path, text, tree }: SourceModule): readonly Example[] {
  const comments = new Set<number>();
  const examples: Example[] = [];
  const visit = (node: ts.Node): void => {
    for (const { pos, end } of ts.getLeadingCommentRanges(text, node.getFullStart()) ?? []) {
      const comment = text.slice(pos, end);
      if (comments.has(pos) || !comment.startsWith('/**')) continue;
      comments.add(pos);
      for (const { index } of comment.matchAll(/@example/g)) {
        const lines = comment.slice(index).split('\n').slice(1);
        const rest = lines.map((line) => line.replace(/^\s*\*(?: |\/$|$)/, ''));
        const stop = rest.findIndex((line) => line.startsWith('@'));
        const code = (stop < 0 ? rest : rest.slice(0, stop)).join('\n');
        const line = tree.getLineAndCharacterOfPosition(pos + index).line + 1;
        examples.push({ place: `lib/${path}:${line}`, code });
      }
    }
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return examples;
}

/** The fenced blocks of a Markdown text. */
export function fencedBlocks(text: string): readonly Block[] {
  return Array.from(text.matchAll(/^```(\w*)[^\n]*\n(.*?)^```[ \t]*$/gms), (match) => ({
    language: match[1]!,
    line: text.slice(0, match.index).split('\n').length,
    text: match[2]!,
  }));
}

/** The programs of a Markdown text. A block without an import goes on from the block before. */
export function markdownExamples(name: string, text: string): readonly Example[] {
  let before = '';
  return fencedBlocks(text)
    .filter(({ language }) => ['ts', 'js', 'typescript', 'javascript'].includes(language))
    .map(({ line, text: own }) => {
      const code = /^import /m.test(own) ? own : before + own;
      before = code;
      return { place: `${name}:${line}`, code };
    });
}

/** Text after `// =>` behind a statement, on its line or on those that follow; null when there is none. */
function expectation(code: string, end: number): string | null {
  const match = /^;?[ \t]*(?:\n[ \t]*)?\/\/ =>([^\n]*(?:\n[ \t]*\/\/ {2,}[^\n]*)*)/.exec(code.slice(end));
  return match === null ? null : match[1]!.replaceAll(/\n[ \t]*\/\/ */g, '\n').trim();
}

/** What a statement with an expectation is about: an expression, what it prints, or the variable it defines. */
function subject(statement: ts.Statement): string {
  if (ts.isVariableStatement(statement)) return statement.declarationList.declarations[0]!.name.getText();
  if (!ts.isExpressionStatement(statement)) throw new Error(`no value to compare: ${statement.getText()}`);
  const { expression } = statement;
  const prints = ts.isCallExpression(expression) && expression.expression.getText() === 'console.log';
  return prints ? expression.arguments[0]!.getText() : expression.getText();
}

/** Rewrites an example as a module that reports each `// =>`. */
function instrument({ code, place }: Example): string {
  const tree = ts.createSourceFile(place, code, ts.ScriptTarget.ES2022, true);
  let rewritten = '';
  let done = 0;
  for (const statement of tree.statements) {
    const expected = expectation(code, statement.getEnd());
    if (expected === null) continue;
    const what = subject(statement);
    rewritten += code.slice(
      done,
      ts.isVariableStatement(statement) ? statement.getEnd() : statement.getStart(),
    );
    rewritten += `;__check(${JSON.stringify(what)}, ${JSON.stringify(expected)}, (${what}));\n`;
    done = statement.getEnd();
  }
  const whole = rewritten + code.slice(done);
  const options = {
    target: ts.ScriptTarget.ES2022,
    module: ts.ModuleKind.ESNext,
    verbatimModuleSyntax: false,
  };
  return ts.transpileModule(whole, { compilerOptions: options }).outputText;
}

// A result may be written as a literal, or as it is shown.
const RUNNER = `
import { isDeepStrictEqual, inspect } from 'node:util';
const outcomes = [];
let checks;
globalThis.__check = (statement, expected, value) => {
  const actual = inspect(value, { depth: null, compact: true, breakLength: Infinity });
  let ok = actual === expected || String(value) === expected;
  if (!ok) {
    try { ok = isDeepStrictEqual(value, new Function('return (' + expected + ')')()); } catch { ok = false; }
  }
  checks.push({ statement, expected, actual, ok });
};
console.log = () => undefined;
for (const file of JSON.parse(process.argv[2])) {
  checks = [];
  let error = null;
  try { await import(file); } catch (thrown) { error = String(thrown); }
  outcomes.push({ checks, error });
}
process.stdout.write(JSON.stringify(outcomes));
`;

/** Runs examples, one after the other, in the folder of the repository. */
export function runExamples(examples: readonly Example[]): Promise<readonly Outcome[]> {
  return inRepositoryFolder(async (folder) => {
    const files = examples.map((example, index) => {
      const file = join(folder, `example-${index}.mjs`);
      writeFileSync(file, instrument(example));
      return pathToFileURL(file).href;
    });
    const runner = join(folder, 'runner.mjs');
    writeFileSync(runner, RUNNER);
    const { stdout, stderr } = await runProgram(process.execPath, [runner, JSON.stringify(files)]);
    if (stdout === '') throw new Error(stderr);
    return JSON.parse(stdout) as Outcome[];
  });
}

/** A command of a console block and what it should print. */
export interface Session {
  readonly place: string;
  readonly command: string;
  readonly expected: string;
}

/** The commands of a Markdown text: lines that start with "$ " in console and sh blocks, and what follows them. */
export function markdownSessions(name: string, text: string): readonly Session[] {
  return fencedBlocks(text)
    .filter(({ language }) => language === 'console' || language === 'sh')
    .flatMap(({ line, text: block }) => {
      const pieces = Array.from(block.matchAll(/^\$ ((?:[^\n]*\\\n)*[^\n]*)\n((?:(?!\$ )[^\n]*\n)*)/gm));
      return pieces.map((match) => ({
        place: `${name}:${line + block.slice(0, match.index).split('\n').length}`,
        command: match[1]!,
        expected: match[2]!,
      }));
    });
}

/** Runs the commands of a text one after the other in a folder that looks like the repository; gives what they print. */
export function runSessions(sessions: readonly Session[]): Promise<readonly string[]> {
  return inRepositoryFolder(async (folder) => {
    for (const name of ['dist', 'scenarios', 'package.json', 'README.md', 'tests']) {
      symlinkSync(join(root, name), join(folder, name));
    }
    const shim = join(folder, 'gravelbar');
    writeFileSync(shim, `#!/bin/sh\nexec "${process.execPath}" "${join(root, 'dist/cli.js')}" "$@"\n`, {
      mode: 0o755,
    });
    const printed: string[] = [];
    for (const { command } of sessions) {
      const script = `PATH="${folder}:$PATH"\n{ ${command}\n} 2>&1`;
      printed.push((await runProgram('sh', ['-c', script], { cwd: folder })).stdout);
    }
    return printed;
  });
}

/** True when a text is as expected; a line "..." stands for any lines, blanks at line ends do not count. */
export function matchesSession(expected: string, printed: string): boolean {
  const lines = expected.trimEnd().split('\n');
  const pattern = lines.map((line) =>
    line.trim() === '...' ? '(?:.*\n)*?' : `${escaped(line.trimEnd())} *\n`,
  );
  return new RegExp(`^${pattern.join('')}$`).test(`${printed.trimEnd()}\n`);
}

function escaped(text: string): string {
  return text.replaceAll(/[.*+?^${}()|[\]\\/]/g, '\\$&');
}
