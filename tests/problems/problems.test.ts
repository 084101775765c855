import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  CancelledError,
  NonFiniteError,
  pathText,
  plainText,
  ScenarioError,
  UsageError,
  valueText,
  type Problem,
} from '../../lib/problems.js';

/** Any UTF-16 text: controls, lone surrogates and all. */
const utf16 = fc
  .array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 100 })
  .map((codes) => String.fromCharCode(...codes));

fc.configureGlobal({ seed: 20_260_120 });

const UNSAFE = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u;

test('all problems of a file stand in one readable block', () => {
  const file = 'scenarios/mine.json';
  const error = new ScenarioError([
    {
      file,
      line: 12,
      column: 18,
      path: 'setups.soft.mainPressure',
      found: '"9"',
      allowed: 'expected a pressure with its unit, such as "25 psi" or "1.7 bar"',
    },
    {
      file,
      line: 20,
      column: 7,
      path: 'mixes.rocky',
      found: '110 %',
      allowed: 'shares must add to 100 %',
      suggestion: 'lower one by 10 %',
    },
  ]);
  expect(error.message).toBe(
    [
      '2 problems in scenarios/mine.json',
      '  12:18  setups.soft.mainPressure: found "9"; expected a pressure with its unit, such as "25 psi" or "1.7 bar"',
      '  20:7   mixes.rocky: found 110 %; shares must add to 100 %; lower one by 10 %',
    ].join('\n'),
  );
  expect(error).toBeInstanceOf(Error);
  expect(error.name).toBe('ScenarioError');
  expect(error.problems).toHaveLength(2);
  expect(Object.isFrozen(error.problems)).toBe(true);
});

test('with several files each line names its own', () => {
  const problem = { line: 1, column: 2, path: 'tires', found: 'nothing', allowed: 'expected an object' };
  const error = new ScenarioError([
    { ...problem, file: 'a.json' },
    { ...problem, file: 'longer.json' },
  ]);
  expect(error.message).toBe(
    [
      '2 problems',
      '  a.json:1:2       tires: found nothing; expected an object',
      '  longer.json:1:2  tires: found nothing; expected an object',
    ].join('\n'),
  );
});

test('a problem without place or path is told without them', () => {
  const allowed = 'expected one JSON object in braces { }';
  const error = new ScenarioError([{ file: 'a.json', path: '', found: 'an empty file', allowed }]);
  expect(error.message).toBe(`1 problem in a.json\n  found an empty file; ${allowed}`);
  expect(new ScenarioError([{ path: 'x', found: '1', allowed: 'expected 2' }]).message).toBe(
    '1 problem\n  x: found 1; expected 2',
  );
});

test('at most 40 problems are listed, the rest are counted', () => {
  const problems: Problem[] = Array.from({ length: 47 }, (_, index) => ({
    path: `a[${index}]`,
    found: '1',
    allowed: 'expected 2',
  }));
  const lines = new ScenarioError(problems).message.split('\n');
  expect(lines).toHaveLength(42);
  expect(lines[40]).toBe('  a[39]: found 1; expected 2');
  expect(lines[41]).toBe('  and 7 more');
  expect(new ScenarioError(problems).problems).toHaveLength(47);
});

test('long values are cut at 60 characters and control characters are shown as codes', () => {
  const error = new ScenarioError([
    { file: 'a\n.json', path: 'p\u001b[31m', found: 'x'.repeat(100), allowed: 'one\ttwo' },
  ]);
  const cut = `${'x'.repeat(59)}…`;
  expect(error.message).toBe(`1 problem in a\\u000a.json\n  p\\u001b[31m: found ${cut}; one\\u0009two`);
});

test('texts made plain are safe, no longer than allowed, and stay as they are when done again', () => {
  const texts = fc.oneof(fc.string(), utf16);
  fc.assert(
    fc.property(texts, fc.integer({ min: 1, max: 80 }), (text, length) => {
      const plain = plainText(text, length);
      expect(plain).not.toMatch(UNSAFE);
      expect(plain.length).toBeLessThanOrEqual(length);
      expect(plainText(plain, length)).toBe(plain);
    }),
  );
});

test('short printable text is left as it is', () => {
  expect(plainText('gravel, 35 % – “sharp”', 60)).toBe('gravel, 35 % – “sharp”');
  expect(plainText('\u{e0001}', 60)).toBe('\\u{e0001}');
});

test('values are shown as JSON in one short line, a missing one as "nothing"', () => {
  expect(valueText(undefined)).toBe('nothing');
  expect(valueText('9')).toBe('"9"');
  expect(valueText(null)).toBe('null');
  expect(valueText({ value: '9 psi', list: [1, true] })).toBe('{"value": "9 psi", "list": [1, true]}');
  expect(valueText('\u0007')).toBe('"\\u0007"');
  expect(valueText(Array.from({ length: 1e6 }, () => 0))).toHaveLength(60);
  expect(valueText('y'.repeat(1e6))).toBe(`"${'y'.repeat(58)}…`);
  const circle: { inner?: unknown } = {};
  circle.inner = circle;
  expect(valueText(circle)).toHaveLength(60);
});

test('short JSON values are shown completely', () => {
  fc.assert(
    fc.property(fc.jsonValue({ maxDepth: 2 }), (value) => {
      const text = valueText(value);
      if (text.endsWith('…') || text.includes('\\u')) return;
      expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)));
    }),
  );
});

test('paths are dotted, list places in brackets, unusual names quoted', () => {
  expect(pathText(['setups', 'soft', 'mainPressure'])).toBe('setups.soft.mainPressure');
  expect(pathText(['season', 'months', 3, 'landings'])).toBe('season.months[3].landings');
  expect(pathText(['tires', 'rigid 29', 'mass'])).toBe('tires["rigid 29"].mass');
  expect(pathText(['strips', 'far-off'])).toBe('strips.far-off');
  expect(pathText([])).toBe('');
});

test('a stop on request and a mistake of usage are errors of their own', () => {
  expect(new CancelledError().message).toBe('the run was cancelled before it finished');
  expect(new CancelledError().name).toBe('CancelledError');
  const usage = new UsageError('unknown option --trails\ndid you mean --trials?');
  expect(usage.message).toBe('unknown option --trails\\u000adid you mean --trials?');
  expect(usage.name).toBe('UsageError');
});

test('a value that is not finite names the landing to replay', () => {
  const place = { seed: 'a', trial: 3, landing: 17, pairing: 'soft / rocky', quantity: 'wear', value: NaN };
  const error = new NonFiniteError(place);
  expect(error.message).toBe(
    'wear is NaN, not a finite number: seed "a", trial 3, landing 17, pairing "soft / rocky"',
  );
  expect(error.place).toEqual(place);
  expect(error.name).toBe('NonFiniteError');
});
