import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, expectTypeOf, test } from 'vitest';
import { z } from 'zod';
import { nameText, quantity, sourceText } from '../../lib/scenario/quantity.js';
import { formatQuantity } from '../../lib/units.js';

fc.configureGlobal({ seed: 20_260_123 });

const pressure = quantity('pressure', { min: '3 psi', max: '120 psi', description: 'Cold pressure.' });
const share = quantity('share', { min: '0 %', max: '100 %', description: 'Share.', minInclusive: false });
const trials = quantity('count', {
  min: '2',
  max: '1000000',
  description: 'Trials.',
  whole: true,
  example: '4000',
});

interface Refusal {
  readonly allowed: string;
  readonly suggestion?: string;
}

/** The parts of the one issue a value gives. */
function refusal(schema: z.ZodType, value: unknown): Refusal {
  const read = schema.safeParse(value);
  expect(read.error?.issues).toHaveLength(1);
  const issue = read.error!.issues[0]!;
  expect(issue.code).toBe('custom');
  return issue.code === 'custom' ? (issue.params as Refusal) : { allowed: '' };
}

test('text with a unit goes in, the SI value comes out', () => {
  // 1 psi = 6894.757 Pa: NIST SP 811, Appendix B.8 (from memory).
  expect(pressure.parse('25 psi')).toBeCloseTo(25 * 6894.757, 1);
  expect(pressure.parse('1.7 bar')).toBe(170_000);
  expect(share.parse('35 %')).toBe(0.35);
  expect(share.parse('0.35')).toBe(0.35);
  expect(share.parse(0.35)).toBe(0.35);
  expect(trials.parse('4000')).toBe(4000);
  expect(trials.parse(4000)).toBe(4000);
});

test('bare numbers are part of the input type for shares, counts and money only', () => {
  expectTypeOf<z.input<typeof pressure>>().toEqualTypeOf<string>();
  expectTypeOf<z.input<typeof share>>().toEqualTypeOf<string | number>();
  expectTypeOf<z.output<typeof pressure>>().toEqualTypeOf<number>();
});

describe('a value that cannot be is told once, with what is allowed', () => {
  const expected = 'expected a pressure such as "25 psi" or "1.7 bar"';
  test.each<[unknown, Refusal]>([
    [undefined, { allowed: expected }],
    [null, { allowed: expected }],
    [{ value: '25 psi' }, { allowed: expected }],
    [['25 psi'], { allowed: expected }],
    [true, { allowed: expected }],
    ['9', { allowed: `missing unit; ${expected}`, suggestion: 'did you mean "9 psi"?' }],
    [9, { allowed: `missing unit; ${expected}`, suggestion: 'did you mean "9 psi"?' }],
    [NaN, { allowed: `not a finite number; ${expected}` }],
    ['soft', { allowed: `does not start with a number; ${expected}` }],
    ['8 in', { allowed: `is a length; ${expected}`, suggestion: 'did you mean "8 psi"?' }],
    ['25 pis', { allowed: `unknown unit "pis", did you mean "psi"? ${expected}` }],
    ['25 atm', { allowed: `unknown unit "atm"; ${expected}`, suggestion: 'did you mean "25 psi"?' }],
    ['25 bar', { allowed: 'expected 3 psi to 120 psi', suggestion: 'did you mean "25 psi"?' }],
    ['2 psi', { allowed: 'expected 3 psi to 120 psi', suggestion: 'did you mean "2 bar"?' }],
    ['-5 psi', { allowed: 'expected 3 psi to 120 psi' }],
  ])('%j as a pressure', (value, expected) => {
    expect(refusal(pressure, value)).toEqual(expected);
  });

  test('shares', () => {
    expect(refusal(share, 35)).toEqual({
      allowed: 'expected more than 0 %, at most 100 %',
      suggestion: 'did you mean "35 %"?',
    });
    expect(refusal(share, '0 %').allowed).toBe('expected more than 0 %, at most 100 %');
  });

  test('whole numbers', () => {
    expect(refusal(trials, 2.5)).toEqual({ allowed: 'expected a whole number' });
    expect(refusal(trials, '1')).toEqual({ allowed: 'expected 2 to 1000000' });
  });

  test('the message for users of the schema alone joins the parts', () => {
    const [issue] = pressure.safeParse('25 bar').error!.issues;
    expect(issue?.message).toBe('expected 3 psi to 120 psi; did you mean "25 psi"?');
  });
});

test('both ends of the range are allowed unless the lower one is excluded', () => {
  expect(pressure.safeParse('3 psi').success).toBe(true);
  expect(pressure.safeParse('120 psi').success).toBe(true);
  expect(share.safeParse('100 %').success).toBe(true);
  expect(share.safeParse('1e-9 %').success).toBe(true);
});

test('a range that is none is a mistake of the schema, found when it is built', () => {
  const description = 'x';
  expect(() => quantity('pressure', { min: '3 in', max: '120 psi', description })).toThrow(RangeError);
  expect(() => quantity('pressure', { min: '3 psi', max: '1 psi', description })).toThrow(RangeError);
});

test('any value of up to 15 digits comes back as it was written', () => {
  fc.assert(
    fc.property(fc.double({ min: 3, max: 119, noNaN: true }), (psi) => {
      const si = pressure.parse(`${psi.toPrecision(15)} psi`);
      expect(pressure.parse(formatQuantity(si, 'pressure', 'psi'))).toBe(si);
    }),
  );
});

test('a field may be left out only if it is optional or has a default', () => {
  const schema = z.strictObject({ a: pressure, b: pressure.optional(), c: pressure.prefault('25 psi') });
  expect(schema.parse({ a: '1 bar' })).toEqual({ a: 100_000, c: pressure.parse('25 psi') });
  expect(schema.safeParse({}).error!.issues.map((issue) => issue.path)).toEqual([['a']]);
});

describe('names', () => {
  test.each(['gravel', 'rigid 29 deep', 'Schotter – naß', '砂利', '🛞', 'x'.repeat(60)])(
    '%s is a name',
    (name) => {
      expect(nameText.safeParse(name).success).toBe(true);
    },
  );

  test.each(['', ' ', ' a', 'a ', 'a\nb', 'a\u0000', 'a\u200bb', '\u202ea', '\ud800', 'x'.repeat(61)])(
    '%j is none',
    (name) => {
      expect(refusal(nameText, name)).toEqual({
        allowed: 'expected a name of 1 to 60 printable characters, no blank at either end',
      });
    },
  );

  test('names that JavaScript objects have by themselves are reserved', () => {
    for (const name of ['toString', 'valueOf', 'hasOwnProperty', '__proto__']) {
      expect(refusal(nameText, name)).toEqual({
        allowed: 'this name is reserved in JavaScript; choose another',
      });
    }
  });

  test('serve as keys of a record', () => {
    const record = z.record(nameText, pressure);
    expect(record.parse({ soft: '1 bar' })).toEqual({ soft: 100_000 });
    expect(record.safeParse({ ' soft': '1 bar' }).error!.issues[0]!.code).toBe('invalid_key');
  });
});

test('a source is one line of 1 to 500 printable characters', () => {
  expect(sourceText.safeParse('NACA Report 381 (1931), table 2').success).toBe(true);
  expect(sourceText.safeParse('x'.repeat(500)).success).toBe(true);
  for (const text of ['', '   ', 'a\nb', 'x'.repeat(501)]) {
    expect(refusal(sourceText, text)).toEqual({
      allowed: 'expected 1 to 500 printable characters in one line',
    });
  }
});

describe('the published JSON Schema (draft 2020-12)', () => {
  const schema = z.strictObject({ pressure, share, trials, name: nameText, source: sourceText });
  const json = z.toJSONSchema(schema, { io: 'input' });
  const validate = new Ajv2020({ allErrors: true }).compile(json);
  const good = { pressure: '25 psi', share: 0.5, trials: '4000', name: 'gravel', source: 'measured' };

  test('says what a quantity is, its range and how to write it', () => {
    expect(json.properties!['pressure']).toMatchObject({
      type: 'string',
      description: 'Cold pressure. Range: 3 psi to 120 psi.',
      examples: ['3 psi'],
    });
    expect(json.properties!['trials']).toMatchObject({ examples: ['4000'] });
    expect(json.required).toEqual(['pressure', 'share', 'trials', 'name', 'source']);
  });

  test('accepts what the schema accepts', () => {
    for (const change of [
      {},
      { share: '35%' },
      { share: '0.35' },
      { trials: 2 },
      { pressure: '1 1/2 bar' },
    ]) {
      const value = { ...good, ...change };
      expect(schema.safeParse(value).success).toBe(true);
      expect(validate(value), JSON.stringify(validate.errors)).toBe(true);
    }
  });

  test('refuses wrong forms, types and bare numbers out of range', () => {
    const changes = [
      { pressure: '25' },
      { pressure: 25 },
      { pressure: '25 in' },
      { share: 1.5 },
      { share: 0 },
      { trials: 2.5 },
      { name: ' gravel' },
      { name: '' },
      { source: '' },
      { other: 1 },
    ];
    for (const change of changes) {
      const value = { ...good, ...change };
      expect(schema.safeParse(value).success, JSON.stringify(change)).toBe(false);
      expect(validate(value), JSON.stringify(change)).toBe(false);
    }
  });
});
