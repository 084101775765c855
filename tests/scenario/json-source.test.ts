import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ScenarioError, type Problem } from '../../lib/problems.js';
import { readJsonSource } from '../../lib/scenario/json-source.js';

/** Any UTF-16 text: controls, lone surrogates and all. */
const utf16 = fc
  .array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 100 })
  .map((codes) => String.fromCharCode(...codes));

fc.configureGlobal({ seed: 20_260_121 });

function problemsOf(source: string | Uint8Array): readonly Problem[] {
  try {
    readJsonSource(source, 'mine.json');
  } catch (error) {
    if (error instanceof ScenarioError) return error.problems;
    throw error;
  }
  return [];
}

/** "line:column found; allowed" of each problem. */
function told(source: string | Uint8Array): string[] {
  return problemsOf(source).map(
    ({ line = 0, column = 0, found, allowed }) => `${line}:${column} ${found}; ${allowed}`,
  );
}

const OBJECT = 'expected one JSON object in braces { }';

test('a good file gives its value and the place of each part', () => {
  const text = '{\n  "name": "x",\n  "list": [1, {"a": true}],\r\n  "deep": { "b": null }\n}\n';
  const source = readJsonSource(text, 'mine.json');
  expect(JSON.parse(JSON.stringify(source.value))).toEqual(JSON.parse(text));
  const at = (line: number, column: number): object => ({ fileName: 'mine.json', line, column });
  expect(source.positionOf([])).toEqual(at(1, 1));
  expect(source.positionOf(['name'])).toEqual(at(2, 11));
  expect(source.positionOf(['list', 1, 'a'])).toEqual(at(3, 21));
  expect(source.positionOf(['deep', 'b'])).toEqual(at(4, 18));
});

test('lines end with LF, CR LF or CR alone, as editors count them', () => {
  const source = readJsonSource('{"a": 1,\r"b": 2,\r\n"c": 3,\n"d": 4}', 'mine.json');
  expect(['a', 'b', 'c', 'd'].map((key) => source.positionOf([key]).line)).toEqual([1, 2, 3, 4]);
  expect(source.positionOf(['c']).column).toBe(6);
});

test('the place of a missing value is that of its nearest ancestor', () => {
  const source = readJsonSource('{\n  "deep": { "b": 1 }\n}', 'mine.json');
  expect(source.positionOf(['deep', 'c', 'd'])).toEqual(source.positionOf(['deep']));
  expect(source.positionOf(['deep', 'b', 'x'])).toEqual(source.positionOf(['deep', 'b']));
  expect(source.positionOf(['nowhere', 3])).toEqual({ fileName: 'mine.json', line: 1, column: 1 });
});

test('objects have no prototype, so no name finds what was never written', () => {
  const { value } = readJsonSource('{"tires": {}}', 'mine.json');
  expect(Object.getPrototypeOf(value)).toBeNull();
  expect(Object.getPrototypeOf(value['tires'])).toBeNull();
});

test('a byte order mark is accepted, in text and in bytes', () => {
  expect(readJsonSource('\ufeff{"a": 1}', 'mine.json').positionOf(['a']).column).toBe(7);
  const bytes = Uint8Array.from([0xef, 0xbb, 0xbf, 0x7b, 0x7d]);
  expect(Object.keys(readJsonSource(bytes, 'mine.json').value)).toEqual([]);
});

describe('what is not a scenario at all is refused', () => {
  const encoder = new TextEncoder();
  test.each<[string, string | Uint8Array, string]>([
    ['empty', '', `0:0 an empty file; ${OBJECT}`],
    ['blank', ' \n\t\n', `0:0 an empty file; ${OBJECT}`],
    ['only a byte order mark', Uint8Array.from([0xef, 0xbb, 0xbf]), `0:0 an empty file; ${OBJECT}`],
    ['too large', `{"a": "${'x'.repeat(4_000_000)}"}`, '0:0 4000009 bytes; expected at most 4000000 bytes'],
    [
      'too large in bytes',
      `{"a": "${'é'.repeat(2_000_000)}"}`,
      '0:0 4000009 bytes; expected at most 4000000 bytes',
    ],
    ['too large, bytes', new Uint8Array(4_000_001), '0:0 4000001 bytes; expected at most 4000000 bytes'],
    ['NUL', '{"a":\n "\0"}', '2:3 a NUL character; expected text, not binary data'],
    ['NUL bytes', encoder.encode('{}\0'), '1:3 a NUL character; expected text, not binary data'],
    [
      'not UTF-8',
      Uint8Array.from([0x7b, 0x0a, 0x20, 0xff, 0x7d]),
      '2:2 bytes that are not text; expected text in UTF-8',
    ],
    ['cut UTF-8', Uint8Array.from([0x7b, 0xe2, 0x82]), '1:2 bytes that are not text; expected text in UTF-8'],
    ['UTF-16', Uint8Array.from([0xff, 0xfe, 0x7b, 0x00]), '0:0 text in UTF-16; expected text in UTF-8'],
    ['list', ' [1]', `1:2 a list; ${OBJECT}`],
    ['text', '"scenario"', `1:1 "\\"scenario\\""; ${OBJECT}`],
    ['null', 'null', `1:1 "null"; ${OBJECT}`],
    ['number too large', '{"a": [1e999]}', '1:8 "1e999"; number too large'],
    [
      'prose',
      'hello',
      '1:1 "hello"; expected text in double quotes, a number, true, false, null, an object or a list',
    ],
  ])('%s', (_name, source, expected) => {
    expect(told(source)).toEqual([expected]);
  });
});

describe('syntax errors are told in plain words with their place', () => {
  test.each<[string, string]>([
    ['{"a": 1,}', '1:8 "," before "}"; expected no comma after the last entry'],
    ['{"a": [1, ]}', '1:9 "," before "]"; expected no comma after the last entry'],
    ['// note\n{}', '1:1 "// note"; comments are not part of JSON; use a "note"'],
    ['{"a": 1 "b": 2}', '1:9 "\\"b\\""; expected a comma before it'],
    ['{"a" 1}', '1:6 "1"; expected a colon after the key'],
    ['{"a": }', '1:7 "}"; expected a value'],
    ['{"a": 1', '1:8 the end of the file; expected a closing brace }'],
    ['{"a": [1', '1:9 the end of the file; expected a closing bracket ]'],
    ['{} {}', '1:4 "{"; expected nothing after the object'],
    ['{"a": "x', '1:7 "\\"x"; expected a closing double quote on the same line'],
    ['{"a": 1.}', '1:7 "1."; expected a digit at the end of the number'],
    ['{"a": "\\u12"}', '1:7 "\\"\\\\u12\\""; expected four hexadecimal digits after \\u'],
    [
      '{"a": "\\x"}',
      '1:7 "\\"\\\\x\\""; expected one of \\" \\\\ \\/ \\b \\f \\n \\r \\t \\u after the backslash',
    ],
    [
      '{"a": "\t"}',
      '1:7 "\\"\\t\\""; control characters in text are written as \\n, \\t or \\u with four digits',
    ],
    ['{1: 2}', '1:2 "1"; expected a key in double quotes'],
    [
      "{'a': 1}",
      '1:2 "\'a\'"; expected text in double quotes, a number, true, false, null, an object or a list',
    ],
    ['{"a": -}', '1:7 "-"; expected text in double quotes, a number, true, false, null, an object or a list'],
  ])('%s', (text, expected) => {
    expect(told(text)).toEqual([expected]);
  });

  test('the first three lines with errors are told', () => {
    expect(told('{\n"a": x,\n"b": y,\n"c": z,\n"d": w\n}').map((line) => line.slice(0, 3))).toEqual([
      '2:6',
      '3:6',
      '4:6',
    ]);
  });
});

test('a key twice in one object is told where it stands again', () => {
  const problems = problemsOf('{\n "tires": {\n  "rigid": 1,\n  "rigid": 2 },\n "tires": 3 }');
  expect(problems).toEqual([
    {
      file: 'mine.json',
      line: 4,
      column: 3,
      path: 'tires.rigid',
      found: 'the key again, first on line 3',
      allowed: 'expected each key once in an object',
    },
    {
      file: 'mine.json',
      line: 5,
      column: 2,
      path: 'tires',
      found: 'the key again, first on line 2',
      allowed: 'expected each key once in an object',
    },
  ]);
});

test('keys with a meaning of their own in JavaScript are refused, also when escaped', () => {
  const text = '{"__proto__": 1, "tires": {"constructor": 2, "\\u0070rototype": 3}}';
  expect(told(text)).toEqual([
    '1:2 the key "__proto__"; this name is not allowed as a key',
    '1:28 the key "constructor"; this name is not allowed as a key',
    '1:46 the key "prototype"; this name is not allowed as a key',
  ]);
  expect(problemsOf(text)[2]?.path).toBe('tires.prototype');
});

describe('deep nesting is found before parsing', () => {
  test.each<[string, string]>([
    ['100 000 open brackets', '['.repeat(100_000)],
    ['100 000 open braces', '{"a":'.repeat(100_000)],
    ['behind a quote in a comment', `/* " */${'['.repeat(100_000)}`],
    ['closed by the wrong kind', '[}'.repeat(100_000)],
    ['closed by the wrong kind, objects', '{"a":]'.repeat(100_000)],
  ])('%s', (_name, text) => {
    const [line] = told(text);
    expect(line).toContain('deeper nesting; expected at most 64 levels');
  });

  test('64 levels are read, 65 are not', () => {
    const nested = (levels: number): string => `{"a":${'['.repeat(levels - 1)}${']'.repeat(levels - 1)}}`;
    expect(told(nested(64))).toEqual([]);
    expect(told(nested(65))).toEqual(['1:69 deeper nesting; expected at most 64 levels']);
  });

  test('brackets in text do not count', () => {
    expect(told(JSON.stringify({ a: '['.repeat(1000), b: '\\"[' }))).toEqual([]);
  });
});

test('any JSON value is read as JSON.parse reads it, or refused with a ScenarioError', () => {
  fc.assert(
    fc.property(fc.jsonValue({ maxDepth: 5 }), fc.constantFrom(0, 1, 2), (value, indent) => {
      const text = JSON.stringify(value, null, indent);
      if (problemsOf(text).length > 0) return;
      expect(JSON.parse(JSON.stringify(readJsonSource(text, 'mine.json').value))).toEqual(JSON.parse(text));
    }),
  );
});

test('a text is accepted only if JSON.parse accepts it, and refused only for a stated rule beyond that', () => {
  const scraps = fc.constantFrom(
    ...['{', '}', '[', ']', ',', ':', '"a"', '"b"', '"\\u00e9"', '1', '-0.5e3', '01', '1.', '.5', '-', '+1'],
    ...['true', 'nul', 'NaN', ' ', '\n', '\t', '\f', '\u00a0', '//', '/*', '*/', '"', '\\', "'", '\u2028'],
  );
  const texts = fc.oneof(
    fc.array(scraps, { maxLength: 12 }).map((parts) => `{"k":${parts.join('')}}`),
    fc.jsonValue().map((value) => `{"k":${JSON.stringify(value)}}`),
  );
  let accepted = 0;
  fc.assert(
    fc.property(texts, (text) => {
      const problems = problemsOf(text);
      let parses = true;
      try {
        JSON.parse(text);
      } catch {
        parses = false;
      }
      if (problems.length === 0) accepted++;
      const beyondJson = problems.some(({ allowed }) =>
        /^(?:expected each key once|this name is not allowed|number too large)/.test(allowed),
      );
      expect(problems.length === 0 || beyondJson, text).toBe(parses);
    }),
    { numRuns: 1500 },
  );
  expect(accepted).toBeGreaterThan(200);
});

test('any bytes and any text give a source or a ScenarioError, nothing else', () => {
  const texts = fc.oneof(utf16, fc.string(), fc.json());
  const sources = fc.oneof(fc.uint8Array({ maxLength: 300 }), texts);
  fc.assert(
    fc.property(sources, (source) => {
      expect(problemsOf(source).every(({ found, allowed }) => found !== '' && allowed !== '')).toBe(true);
    }),
    { numRuns: 300 },
  );
});

test('any soup of brackets, however deep, gives a ScenarioError', () => {
  const brackets = fc.array(fc.constantFrom('[', ']', '{', '}', '"a":', ',', '[[[[', '"'), {
    maxLength: 200,
  });
  fc.assert(
    fc.property(brackets, fc.integer({ min: 1, max: 3000 }), (parts, times) => {
      expect(() => problemsOf(parts.join('').repeat(times))).not.toThrow();
    }),
    { numRuns: 60 },
  );
});
