import { Ajv2020 } from 'ajv/dist/2020.js';
import { probit } from 'simple-statistics';
import fc from 'fast-check';
import { describe, expect, expectTypeOf, test } from 'vitest';
import { z } from 'zod';
import { assumption, type Assumption } from '../../lib/scenario/quantity.js';

fc.configureGlobal({ seed: 20_260_124 });

const grip = assumption('share', { min: '0 %', max: '200 %', description: 'Grip.', example: '0.6' });
const temperature = assumption('temperature', {
  min: '-50 degC',
  max: '60 degC',
  description: 'Temperature.',
});
const source = 'assumption: for the test';

// 0.9 quantile of the standard normal distribution: 1.2815515655446004 (NIST/SEMATECH e-Handbook 1.3.6.7.1 gives
// 1.282; further digits from memory, as in R qnorm(0.9)).
const Z90 = 1.2815515655446004;

describe('the five forms are read into SI units', () => {
  const bounds = { lower: 0, upper: 2, source };
  test.each<[string, object, Partial<Assumption>]>([
    ['fixed', { value: '60 %' }, { kind: 'fixed', a: 0.6, b: 0, c: 0 }],
    ['fixed number', { value: 0.6 }, { kind: 'fixed', a: 0.6, b: 0, c: 0 }],
    [
      'uniform',
      { distribution: 'uniform', min: 0.4, max: '80 %' },
      { kind: 'uniform', a: 0.4, b: 0.8, c: 0 },
    ],
    [
      'triangular',
      { distribution: 'triangular', min: '40 %', mode: '50 %', max: '80 %' },
      { kind: 'triangular', a: 0.4, b: 0.5, c: 0.8 },
    ],
    [
      'triangular with its mode at an end',
      { distribution: 'triangular', min: '40 %', mode: '40 %', max: '80 %' },
      { kind: 'triangular', a: 0.4, b: 0.4, c: 0.8 },
    ],
  ])('%s', (_name, form, expected) => {
    expect(grip.parse({ ...form, source })).toEqual({ ...expected, ...bounds });
  });

  test('normal: mean and standard deviation put p10 and p90 at their quantiles', () => {
    const { kind, a, b, c } = grip.parse({ distribution: 'normal', p10: '0.4', p90: '0.8', source });
    expect({ kind, c }).toEqual({ kind: 'normal', c: 0 });
    expect(a).toBeCloseTo(0.6, 15);
    expect(a - Z90 * b).toBeCloseTo(0.4, 15);
    expect(a + Z90 * b).toBeCloseTo(0.8, 15);
  });

  test('lognormal: median and sigma put p10 and p90 at their quantiles', () => {
    const { kind, a, b, c } = grip.parse({ distribution: 'lognormal', p10: '0.4', p90: '0.8', source });
    expect({ kind, c }).toEqual({ kind: 'lognormal', c: 0 });
    expect(a * Math.exp(-Z90 * b)).toBeCloseTo(0.4, 14);
    expect(a * Math.exp(Z90 * b)).toBeCloseTo(0.8, 14);
  });

  test('the quantile used agrees with that of another library to its four digits', () => {
    const { b } = grip.parse({ distribution: 'normal', p10: 0, p90: 2, source });
    expect(1 / b).toBeCloseTo(probit(0.9), 3);
  });

  test('temperatures come in kelvin, whatever scale they are written in', () => {
    const read = temperature.parse({ distribution: 'uniform', min: '14 degF', max: '20 degC', source });
    expect(read).toEqual({
      kind: 'uniform',
      a: 263.15,
      b: 293.15,
      c: 0,
      lower: 223.15,
      upper: 333.15,
      source,
    });
  });

  test('a note is kept', () => {
    expect(grip.parse({ value: '0.6', source, note: 'wet' })).toMatchObject({ note: 'wet', source });
    expect(grip.parse({ value: '0.6', source })).not.toHaveProperty('note');
  });

  test('for any p10 below p90 the parameters are finite and in order', () => {
    const numbers = fc.tuple(
      fc.double({ min: 0, max: 2, noNaN: true }),
      fc.double({ min: 0, max: 2, noNaN: true }),
    );
    fc.assert(
      fc.property(numbers, fc.constantFrom('normal', 'lognormal'), ([one, two], distribution) => {
        const [p10, p90] = one < two ? [one, two] : [two, one];
        fc.pre(p10 < p90 && p10 > 0);
        const { a, b } = grip.parse({ distribution, p10, p90, source });
        expect(Number.isFinite(a) && Number.isFinite(b)).toBe(true);
        expect(a).toBeGreaterThanOrEqual(p10 * (1 - 1e-15));
        expect(a).toBeLessThanOrEqual(p90 * (1 + 1e-15));
        expect(b).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});

/** "path: found; allowed; suggestion" of each issue. */
function told(value: unknown, schema: z.ZodType = grip): string[] {
  const read = schema.safeParse(value);
  return (read.error?.issues ?? []).map((issue) => {
    if (issue.code !== 'custom') return issue.code;
    const { found, allowed, suggestion } = issue.params as Record<string, string | undefined>;
    const parts = [found, allowed, suggestion].filter((part) => part !== undefined);
    return `${issue.path.join('.')}: ${parts.join('; ')}`;
  });
}

describe('each slip gives one problem', () => {
  const expected = 'a share such as "35 %" or "0.35"';
  const texts = 'expected 1 to 500 printable characters in one line';
  const forms = 'expected an assumption such as {"value":"0.6","source":"..."}';
  const names = '"lognormal", "normal", "uniform", "triangular"';
  test.each<[string, unknown, string[]]>([
    ['missing', undefined, [`: ${forms}`]],
    ['null', null, [`: ${forms}`]],
    ['a bare quantity', '60 %', [`: ${forms}`]],
    ['a list', [], [`: ${forms}`]],
    ['no form', { source }, [': neither "value" nor "distribution"; expected one of them']],
    [
      'no form, misspelt',
      { valeu: '60 %', source },
      [': neither "value" nor "distribution"; expected one of them; did you mean "value"?'],
    ],
    [
      'no distribution named',
      { p10: '40 %', p90: '80 %', source },
      [
        ': neither "value" nor "distribution"; expected one of them; ' +
          'add a distribution, such as "distribution": "lognormal"',
      ],
    ],
    [
      'two forms',
      { value: '60 %', distribution: 'normal', p10: '40 %', p90: '80 %', source },
      ['distribution: expected either "value" or "distribution", not both'],
    ],
    [
      'unknown distribution',
      { distribution: 'log-normal', p10: '40 %', p90: '80 %', source },
      [`distribution: expected one of ${names}; did you mean "lognormal"?`],
    ],
    [
      'a distribution that is no text',
      { distribution: 3, source },
      [`distribution: expected one of ${names}`],
    ],
    [
      'unknown key',
      { value: '60 %', source, sigma: 3 },
      ['sigma: unknown key "sigma"; a fixed value takes value, source, note'],
    ],
    [
      'misspelt key, told once',
      { distribution: 'normal', p10: '40 %', p09: '80 %', source },
      ['p09: unknown key "p09"; a normal distribution takes p10, p90, source, note; did you mean "p90"?'],
    ],
    [
      'key of another form',
      { distribution: 'uniform', min: '40 %', mode: '50 %', max: '80 %', source },
      ['mode: unknown key "mode"; a uniform distribution takes min, max, source, note'],
    ],
    ['missing number', { distribution: 'normal', p10: '40 %', source }, [`p90: required: ${expected}`]],
    ['bad number', { value: 'sixty', source }, [`value: does not start with a number; expected ${expected}`]],
    ['number out of range', { value: '60', source }, ['value: expected 0 % to 200 %; did you mean "60 %"?']],
    [
      'swapped',
      { distribution: 'normal', p10: '80 %', p90: '40 %', source },
      ['p90: expected more than p10 (80 %); swap p10 and p90?'],
    ],
    [
      'equal',
      { distribution: 'uniform', min: '80 %', max: '80 %', source },
      ['max: expected more than min (80 %); use "value" for a fixed number'],
    ],
    [
      'mode outside',
      { distribution: 'triangular', min: '40 %', mode: '90 %', max: '80 %', source },
      ['max: expected more than mode (90 %); swap mode and max?'],
    ],
    [
      'triangle without width',
      { distribution: 'triangular', min: '40 %', mode: '40 %', max: '40 %', source },
      ['max: expected more than min (40 %); use "value" for a fixed number'],
    ],
    [
      'zero in a lognormal',
      { distribution: 'lognormal', p10: '0 %', p90: '40 %', source },
      ['p10: expected more than 0 in a lognormal distribution'],
    ],
    [
      'no source',
      { value: '60 %' },
      ['source: required: where the number comes from, or "assumption" with the reason'],
    ],
    ['empty source', { value: '60 %', source: '' }, [`source: ${texts}`]],
    ['source that is no text', { value: '60 %', source: 3 }, [`source: ${texts}`]],
    ['bad note', { value: '60 %', source, note: 'a\nb' }, [`note: ${texts}`]],
    [
      'several slips, one problem each',
      { distribution: 'uniform', min: 'x', max: '900 %', note: 3 },
      [
        `min: does not start with a number; expected ${expected}`,
        'max: expected 0 % to 200 %',
        'source: required: where the number comes from, or "assumption" with the reason',
        `note: ${texts}`,
      ],
    ],
    [
      'misspelt source, told once',
      { value: '60 %', sorce: source },
      ['sorce: unknown key "sorce"; a fixed value takes value, source, note; did you mean "source"?'],
    ],
  ])('%s', (_name, value, problems) => {
    expect(told(value)).toEqual(problems);
  });
});

test('any JSON value is read or refused with problems, never with an exception', () => {
  const keys = fc.constantFrom(
    'value',
    'distribution',
    'p10',
    'p90',
    'min',
    'mode',
    'max',
    'source',
    'note',
    'x',
  );
  const values = fc.oneof(
    fc.constantFrom('60 %', '10 %', '1 psi', 'normal', 'lognormal', 'uniform', 'triangular'),
    fc.jsonValue({ maxDepth: 1 }),
  );
  fc.assert(
    fc.property(fc.oneof(fc.jsonValue(), fc.dictionary(keys, values)), (value) => {
      const read = grip.safeParse(value);
      expect(read.success || told(value).length > 0).toBe(true);
      if (read.success) expect([read.data.a, read.data.b, read.data.c].every(Number.isFinite)).toBe(true);
    }),
    { numRuns: 400 },
  );
});

test('the types of input and output are those of the forms and of an assumption', () => {
  type Input = z.input<typeof grip>;
  expectTypeOf<{ distribution: 'uniform'; min: number; max: string; source: string }>().toExtend<Input>();
  expectTypeOf<{ value: string }>().not.toExtend<Input>();
  expectTypeOf<z.output<typeof grip>>().toEqualTypeOf<Assumption>();
});

describe('the published JSON Schema (draft 2020-12)', () => {
  const json = z.toJSONSchema(z.strictObject({ grip }), { io: 'input' });
  const validate = new Ajv2020({ allErrors: true }).compile(json);
  const valid = (value: unknown): boolean => validate({ grip: value });

  test('has five forms, all with a source', () => {
    const { oneOf, description } = json.properties!['grip'] as {
      oneOf: { required: string[] }[];
      description: string;
    };
    expect(description).toBe('Grip. Range: 0 % to 200 %.');
    expect(oneOf.map(({ required }) => required)).toEqual([
      ['value', 'source'],
      ['distribution', 'p10', 'p90', 'source'],
      ['distribution', 'p10', 'p90', 'source'],
      ['distribution', 'min', 'max', 'source'],
      ['distribution', 'min', 'mode', 'max', 'source'],
    ]);
  });

  test('accepts the five forms and refuses mixtures', () => {
    expect(valid({ value: '60 %', source })).toBe(true);
    expect(valid({ value: 0.6, source, note: 'wet' })).toBe(true);
    expect(valid({ distribution: 'lognormal', p10: '40 %', p90: '80 %', source })).toBe(true);
    expect(valid({ distribution: 'normal', p10: '40 %', p90: '80 %', source })).toBe(true);
    expect(valid({ distribution: 'uniform', min: '40 %', max: '80 %', source })).toBe(true);
    expect(valid({ distribution: 'triangular', min: '40 %', mode: '50 %', max: '80 %', source })).toBe(true);
    expect(valid({ value: '60 %' })).toBe(false);
    expect(valid({ value: '60 psi', source })).toBe(false);
    expect(valid({ value: '60 %', distribution: 'normal', source })).toBe(false);
    expect(valid({ distribution: 'uniform', min: '40 %', mode: '50 %', max: '80 %', source })).toBe(false);
    expect(valid('60 %')).toBe(false);
  });
});
