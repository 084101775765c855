import { version } from '../../lib/version.js';
import { describe, expect, test } from 'vitest';
import {
  docstringExamples,
  fencedBlocks,
  markdownExamples,
  markdownSessions,
  matchesSession,
  runExamples,
  runSessions,
} from '../support/examples.js';
import ts from 'typescript';

const FENCE = '```';

describe('examples', () => {
  test('are run, and every // => is compared with what comes of it', async () => {
    const code = [
      "import { version } from 'gravelbar';",
      'const list: readonly number[] = [1, 2]; // not a result',
      'list; // => [1, 2]',
      'list.length; // => 3',
      "typeof version(); // => 'string'",
      'Float64Array.of(1, 2); // => Float64Array(2) [ 1, 2 ]',
      'const half = list[0]! / 2; // => 0.5',
      'console.log(list.map(String)); // => ["1", "2"]',
      '({ a: 1, b: { c: [list] } });',
      '// => { a: 1,',
      '//      b: { c: [[1, 2]] } }',
      'await Promise.resolve(half); // => 0.5',
      'list[7]; // => 0',
    ].join('\n');
    const [outcome] = await runExamples([{ place: 'test', code }]);
    expect(outcome!.error).toBeNull();
    expect(outcome!.checks.map(({ statement, ok }) => [statement, ok])).toEqual([
      ['list', true],
      ['list.length', false],
      ['typeof version()', true],
      ['Float64Array.of(1, 2)', true],
      ['half', true],
      ['list.map(String)', true],
      ['({ a: 1, b: { c: [list] } })', true],
      ['await Promise.resolve(half)', true],
      ['list[7]', false],
    ]);
    expect(outcome!.checks[1]).toMatchObject({ expected: '3', actual: '2' });
  });

  test('that throw are told, and the next ones run', async () => {
    const outcomes = await runExamples([
      { place: 'one', code: "import { nothing } from 'gravelbar';\nnothing(); // => 1" },
      { place: 'two', code: 'null.x; // => 1' },
      { place: 'three', code: '1 + 1; // => 2' },
    ]);
    expect(outcomes.map(({ error }) => error === null)).toEqual([false, false, true]);
    expect(outcomes[0]!.error).toContain('does not provide an export named');
  });

  test('in doc comments are found with their place', () => {
    const text = [
      '/**',
      ' * Adds.',
      ' * @example',
      " * import { add } from 'gravelbar';",
      ' * add(1, 2); // => 3',
      ' *',
      ' * @see nothing',
      ' */',
      'export function add(a: number, b: number): number { return a + b; }',
      'class Box {',
      '  /** @example',
      '   * 1; // => 1 */',
      '  open(): void {}',
      '}',
    ].join('\n');
    const tree = ts.createSourceFile('x.ts', text, ts.ScriptTarget.ES2022, true);
    const examples = docstringExamples({ path: 'x.ts', text, tree, imports: [] });
    expect(examples.map(({ place }) => place)).toEqual(['lib/x.ts:3', 'lib/x.ts:11']);
    expect(examples[0]!.code.trim()).toBe("import { add } from 'gravelbar';\nadd(1, 2); // => 3");
  });

  test('in Markdown go on from the block before where they import nothing', () => {
    const text = [
      `${FENCE}ts`,
      "import { version } from 'gravelbar';",
      FENCE,
      `${FENCE}json`,
      '{}',
      FENCE,
      `${FENCE}js title`,
      'version(); // => 1',
      FENCE,
    ].join('\n');
    expect(fencedBlocks(text).map(({ language, line }) => [language, line])).toEqual([
      ['ts', 1],
      ['json', 4],
      ['js', 7],
    ]);
    expect(markdownExamples('x.md', text)).toEqual([
      { place: 'x.md:1', code: "import { version } from 'gravelbar';\n" },
      { place: 'x.md:7', code: "import { version } from 'gravelbar';\nversion(); // => 1\n" },
    ]);
  });
});

describe('console blocks', () => {
  const text = [
    'Install it:',
    `${FENCE}sh`,
    'npm install gravelbar',
    FENCE,
    `${FENCE}console`,
    '$ gravelbar --version; echo \\',
    '  done',
    version(),
    'done',
    '$ gravelbar check scenarios/first.json',
    '...',
    '$ gravelbar run gone.json',
    'gravelbar: 1 problem in gone.json',
    '  found no such file (gone.json); expected a scenario file in JSON',
    '$ gravelbar new mine.json && ls mine.json scenario.schema.json',
    '...',
    'mine.json',
    'scenario.schema.json',
    FENCE,
  ].join('\n');

  test('are taken apart into commands and what they print', () => {
    expect(markdownSessions('x.md', text).map(({ place, command }) => [place, command])).toEqual([
      ['x.md:6', 'gravelbar --version; echo \\\n  done'],
      ['x.md:10', 'gravelbar check scenarios/first.json'],
      ['x.md:12', 'gravelbar run gone.json'],
      ['x.md:15', 'gravelbar new mine.json && ls mine.json scenario.schema.json'],
    ]);
  });

  test('are run where they can change nothing, and compared line by line', async () => {
    const sessions = markdownSessions('x.md', text);
    const printed = await runSessions(sessions);
    printed.forEach((output, index) => {
      expect(matchesSession(sessions[index]!.expected, output), output).toBe(true);
    });
  });

  test('match exactly, apart from "..." lines', () => {
    expect(matchesSession('a\n...\nz\n', 'a\nb\nc\nz\n')).toBe(true);
    expect(matchesSession('a\n...\nz\n', 'a\nz\n')).toBe(true);
    expect(matchesSession('a\nb\n', 'a\nb  \n\n')).toBe(true);
    expect(matchesSession('a\nb\n', 'a\nbc\n')).toBe(false);
    expect(matchesSession('a.c\n', 'abc\n')).toBe(false);
    expect(matchesSession('a\n...\n', 'b\na\n')).toBe(false);
    expect(matchesSession('', 'a\n')).toBe(false);
  });
});
