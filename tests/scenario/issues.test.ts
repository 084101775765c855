import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { ScenarioError, type Problem } from '../../lib/problems.js';
import { problemAt, problemsFromZod } from '../../lib/scenario/issues.js';
import { readJsonSource } from '../../lib/scenario/json-source.js';
import { mergeLayers } from '../../lib/scenario/merge.js';
import { assumption, nameText, quantity, sourceText } from '../../lib/scenario/quantity.js';
import { keysAt } from '../../lib/scenario/schema-keys.js';

fc.configureGlobal({ seed: 20_260_125 });

const setup = z.strictObject({
  mainTire: nameText,
  mainPressure: quantity('pressure', { min: '3 psi', max: '120 psi', description: 'Cold pressure.' }),
  fairings: z.boolean().default(false),
  replace: z.enum(['single', 'pair']).optional(),
  note: z.string().max(5).optional(),
});

const demo = z.strictObject({
  setups: z.record(nameText, setup),
  grip: assumption('share', { min: '0 %', max: '200 %', description: 'Grip.' }).optional(),
  season: z
    .strictObject({
      months: z
        .array(
          z.strictObject({ landings: quantity('count', { min: '0', max: '99', description: 'Landings.' }) }),
        )
        .min(1)
        .max(2),
      source: sourceText,
    })
    .optional(),
  seed: z.union([z.string().min(1), z.number().int()]).optional(),
  event: z
    .discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('worn'), depth: z.number().positive().lt(9) }),
      z.strictObject({ kind: z.literal('cut'), length: z.number().multipleOf(0.5) }),
    ])
    .optional(),
  code: z
    .string()
    .regex(/^[A-Z]+$/)
    .optional(),
  mail: z.email().optional(),
  pair: z.tuple([z.number(), z.number()]).optional(),
  even: z
    .number()
    .refine((value) => value % 2 === 0, 'expected an even number')
    .optional(),
  letters: z.string().length(3).optional(),
});

const SETUPS = '{"soft": {"mainTire": "soft 29", "mainPressure": "9 psi"}}';

function problemsOf(text: string, defaults = '{}'): readonly Problem[] {
  const layers = [readJsonSource(defaults, 'defaults.json'), readJsonSource(text, 'mine.json')];
  const merged = mergeLayers(layers, ['setups']);
  const read = demo.safeParse(merged.value);
  return read.success ? [] : problemsFromZod(read.error, merged, demo);
}

/** Lines of the message that users see, without heading. */
function told(text: string): string[] {
  const problems = problemsOf(text);
  return problems.length === 0 ? [] : new ScenarioError(problems).message.split('\n').slice(1);
}

test('a scenario without mistakes gives no problem', () => {
  expect(told(`{"setups": ${SETUPS}, "seed": 0, "event": {"kind": "cut", "length": 1.5}}`)).toEqual([]);
});

describe('each kind of mistake is told in plain words at its place', () => {
  test.each<[string, string, string]>([
    ['wrong type', '"season": 3', '1:12  season: found 3; expected an object in braces { }'],
    ['list for an object', '"season": []', '1:12  season: found []; expected an object in braces { }'],
    [
      'object for a list',
      '"season": {"months": {}, "source": "s"}',
      '1:23  season.months: found {}; expected a list in brackets [ ]',
    ],
    [
      'too few',
      '"season": {"months": [], "source": "s"}',
      '1:23  season.months: found []; expected at least 1 entry',
    ],
    [
      'too many',
      '"season": {"months": [{"landings": 1}, {"landings": 1}, {"landings": 1}], "source": "s"}',
      '1:23  season.months: found [{"landings": 1}, {"landings": 1}, {"landings": 1}]; expected at most 2 entries',
    ],
    [
      'in a list',
      '"season": {"months": [{"landings": "many"}], "source": "s"}',
      '1:37  season.months[0].landings: found "many"; does not start with a number; expected a number such as "12"',
    ],
    ['fits no form', '"seed": true', '1:10  seed: found true; expected text in double quotes or a number'],
    [
      'fits no form, half a number',
      '"seed": 1.5',
      '1:10  seed: found 1.5; expected text in double quotes or a whole number',
    ],
    ['fits one form but for its size', '"seed": ""', '1:10  seed: found ""; expected at least 1 character'],
    [
      'unknown kind',
      '"event": {"kind": "wron"}',
      '1:20  event.kind: found "wron"; expected "worn" or "cut"; did you mean "worn"?',
    ],
    ['kind that is no text', '"event": {"kind": 1}', '1:20  event.kind: found 1; expected "worn" or "cut"'],
    [
      'limit excluded',
      '"event": {"kind": "worn", "depth": 0}',
      '1:37  event.depth: found 0; expected more than 0',
    ],
    [
      'upper limit excluded',
      '"event": {"kind": "worn", "depth": 9}',
      '1:37  event.depth: found 9; expected less than 9',
    ],
    [
      'not a multiple',
      '"event": {"kind": "cut", "length": 0.7}',
      '1:37  event.length: found 0.7; expected a multiple of 0.5',
    ],
    ['pattern', '"code": "ab"', '1:10  code: found "ab"; expected text matching /^[A-Z]+$/'],
    ['format', '"mail": "ab"', '1:10  mail: found "ab"; expected text that is a valid email'],
    ['too long a list', '"pair": [1, 2, 3]', '1:10  pair: found [1, 2, 3]; expected at most 2 entries'],
    ['rule of a field', '"even": 3', '1:10  even: found 3; expected an even number'],
    ['exact length', '"letters": "ab"', '1:13  letters: found "ab"; expected exactly 3 characters'],
    [
      'assumption',
      '"grip": {"value": "60", "source": "s"}',
      '1:20  grip.value: found "60"; expected 0 % to 200 %; did you mean "60 %"?',
    ],
    [
      'assumption without form',
      '"grip": {"source": "s"}',
      '1:10  grip: found neither "value" nor "distribution"; expected one of them',
    ],
    [
      'unknown key of an assumption',
      '"grip": {"value": "60 %", "source": "s", "sigma": 3}',
      '1:52  grip.sigma: found unknown key "sigma"; a fixed value takes value, source, note',
    ],
  ])('%s', (_name, member, expected) => {
    const [line, ...others] = told(`{${member},\n"setups": ${SETUPS}}`);
    expect(line).toContain(expected);
    expect(others).toEqual([]);
  });

  test.each<[string, string, string]>([
    [
      'unit',
      '"mainPressure": "9"',
      'found "9"; missing unit; expected a pressure such as "25 psi" or "1.7 bar"; did you mean "9 psi"?',
    ],
    [
      'true or false',
      '"mainPressure": "9 psi", "fairings": "yes"',
      'fairings: found "yes"; expected true or false',
    ],
    [
      'choice',
      '"mainPressure": "9 psi", "replace": "pairs"',
      'replace: found "pairs"; expected "single" or "pair"; did you mean "pair"?',
    ],
    [
      'length',
      '"mainPressure": "9 psi", "note": "too long"',
      'note: found "too long"; expected at most 5 characters',
    ],
    [
      'missing',
      '"fairings": true',
      'mainPressure: found nothing; expected a pressure such as "25 psi" or "1.7 bar"',
    ],
  ])('in an entry with a name: %s', (_name, members, expected) => {
    const [line, ...others] = told(`{"setups": {"soft 29": {"mainTire": "t", ${members}}}}`);
    expect(line).toContain('setups["soft 29"].');
    expect(line).toContain(expected);
    expect(others).toEqual([]);
  });
});

test('a value that may be anything but has to be there is told as missing', () => {
  const schema = z.strictObject({ anything: z.any() });
  const merged = mergeLayers([readJsonSource('{}', 'a.json')], []);
  const [problem] = problemsFromZod(schema.safeParse(merged.value).error!, merged, schema);
  expect(problem).toMatchObject({ path: 'anything', found: 'nothing', allowed: 'expected a value' });
});

test('a missing section and a missing text are told as found nothing, at the last file', () => {
  expect(problemsOf('{\n}')).toEqual([
    {
      file: 'mine.json',
      line: 1,
      column: 1,
      path: 'setups',
      found: 'nothing',
      allowed: 'expected an object in braces { }',
    },
  ]);
  expect(told('{"setups": {"soft": {"mainPressure": "9 psi"}}}')).toEqual([
    '  1:21  setups.soft.mainTire: found nothing; expected text in double quotes',
  ]);
});

describe('unknown keys', () => {
  test('are told one by one at the key, with the nearest key that is not used yet', () => {
    const text = `{"setups": ${SETUPS},\n "sesson": 1, "zzz": 2, "grip": {"value": 1, "source": "s"}, "gripp": 1}`;
    const known = 'expected setups, grip, season, seed, event, code, mail, pair, even or letters';
    expect(told(text)).toEqual([
      `  2:2   sesson: found unknown key "sesson"; ${known}; did you mean "season"?`,
      `  2:15  zzz: found unknown key "zzz"; ${known}`,
      `  2:62  gripp: found unknown key "gripp"; ${known}`,
    ]);
  });

  test('that stand for a missing one are told once', () => {
    expect(told('{"setups": {"soft": {"mainTire": "t", "mainPresure": "9 psi"}}}')).toEqual([
      '  1:39  setups.soft.mainPresure: found unknown key "mainPresure"; ' +
        'expected mainTire, mainPressure, fairings, replace or note; did you mean "mainPressure"?',
    ]);
  });

  test('with long lists of allowed keys show the first twelve', () => {
    const schema = z.strictObject(
      Object.fromEntries(Array.from({ length: 20 }, (_, index) => [`key${index}`, z.number().optional()])),
    );
    const merged = mergeLayers([readJsonSource('{"other": 1}', 'a.json')], []);
    const [problem] = problemsFromZod(schema.safeParse(merged.value).error!, merged, schema);
    expect(problem?.allowed).toMatch(/^expected key0, .*, key11, \.\.\.$/);
  });
});

test('a bad name of an entry is told at the name', () => {
  const soft = '{"mainTire": "t", "mainPressure": "9 psi"}';
  expect(told(`{"setups": {" soft": ${soft}, "toString": ${soft}}}`)).toEqual([
    '  1:13  setups[" soft"]: found key " soft"; expected a name of 1 to 60 printable characters, no blank at either end',
    '  1:66  setups.toString: found key "toString"; this name is reserved in JavaScript; choose another',
  ]);
});

test('each problem points to the file its value came from, in the order of file and place', () => {
  const defaults =
    '{\n"seed": 1.5,\n"code": "a",\n"setups": {"hard": {"mainTire": "t", "mainPressure": "9"}}}';
  const text = '{"code": "b", "setups": {"soft": {"like": "hard", "fairings": 1}}}';
  const places = problemsOf(text, defaults).map(
    ({ file, line, column, path }) => `${file!}:${line!}:${column!} ${path}`,
  );
  expect(places).toEqual([
    'defaults.json:2:9 seed',
    'defaults.json:4:54 setups.hard.mainPressure',
    'defaults.json:4:54 setups.soft.mainPressure',
    'mine.json:1:10 code',
    'mine.json:1:63 setups.soft.fairings',
  ]);
});

test('a problem found elsewhere gets its place the same way', () => {
  const merged = mergeLayers([readJsonSource('{"mixes": {"rocky": {"a": 0.6}}}', 'mine.json')], []);
  expect(
    problemAt(merged, ['mixes', 'rocky'], { allowed: 'shares must add to 100 %', suggestion: 'raise one' }),
  ).toEqual({
    file: 'mine.json',
    line: 1,
    column: 21,
    path: 'mixes.rocky',
    found: '{"a": 0.6}',
    allowed: 'shares must add to 100 %',
    suggestion: 'raise one',
  });
  expect(problemAt(merged, ['mixes', 'rocky', 'a'], { found: 'x', allowed: 'y' }, 'key')).toEqual({
    file: 'mine.json',
    line: 1,
    column: 22,
    path: 'mixes.rocky.a',
    found: 'x',
    allowed: 'y',
  });
});

test('the keys of a schema are found through all wrappers', () => {
  const inner = z.strictObject({ a: z.number(), b: z.number() });
  const other = z.strictObject({ c: z.number() });
  const wrapped = z.strictObject({
    optional: inner.optional(),
    nullable: inner.nullable(),
    defaulted: inner.default({ a: 1, b: 2 }),
    prefaulted: inner.prefault({ a: 1, b: 2 }),
    caught: inner.catch({ a: 1, b: 2 }),
    readonly: inner.readonly(),
    piped: inner.transform((value) => value.a),
    lazy: z.lazy(() => inner),
    record: z.record(z.string(), inner),
    list: z.array(inner),
    tuple: z.tuple([inner], other),
    union: z.union([inner, other]),
    both: z.intersection(inner, other),
  });
  const single = ['optional', 'nullable', 'defaulted', 'prefaulted', 'caught', 'readonly', 'piped', 'lazy'];
  for (const key of single) expect(keysAt(wrapped, [key]), key).toEqual(['a', 'b']);
  expect(keysAt(wrapped, ['record', 'any name'])).toEqual(['a', 'b']);
  expect(keysAt(wrapped, ['list', 7])).toEqual(['a', 'b']);
  expect(keysAt(wrapped, ['tuple', 0])).toEqual(['a', 'b']);
  expect(keysAt(wrapped, ['tuple', 5])).toEqual(['c']);
  expect(keysAt(wrapped, ['union'])).toEqual(['a', 'b', 'c']);
  expect(keysAt(wrapped, ['both'])).toEqual(['a', 'b', 'c']);
  expect(keysAt(wrapped, ['record'])).toEqual([]);
  expect(keysAt(wrapped, ['nowhere', 'at all'])).toEqual([]);
});

test('any JSON object gives problems with places in the file and safe one-line texts', () => {
  const keys = fc.constantFrom('setups', 'grip', 'season', 'seed', 'event', 'code', 'pair', 'even', 'x\n');
  const values = fc.oneof(
    fc.jsonValue(),
    fc.constantFrom({ kind: 'worn' }, { soft: { mainTire: 3 } }, { months: [{}] }),
  );
  fc.assert(
    fc.property(fc.dictionary(keys, values), (value) => {
      let problems: readonly Problem[];
      try {
        problems = problemsOf(JSON.stringify(value));
      } catch (error) {
        // Keys such as "__proto__" and wrong "like" names are refused before the schema is asked.
        expect(error).toBeInstanceOf(ScenarioError);
        return;
      }
      for (const problem of problems) {
        expect(problem.file).toBe('mine.json');
        expect(problem.line).toBe(1);
        expect(problem.found).not.toBe('');
        expect(problem.allowed).toMatch(/expected|required|takes|name|number|unit/);
      }
      if (problems.length > 0) {
        const lines = new ScenarioError(problems).message.split('\n');
        expect(lines).toHaveLength(1 + Math.min(problems.length, 40) + (problems.length > 40 ? 1 : 0));
      }
    }),
    { numRuns: 200 },
  );
});
