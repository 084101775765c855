import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectedPhrase, parseQuantity, quantityPattern, type Dimension } from '../../lib/units.js';
import { DIMENSIONS, DIMENSION_NAMES } from '../../lib/units/dimensions.js';

/** Any UTF-16 text: controls, lone surrogates and all. */
const utf16 = fc
  .array(fc.integer({ min: 0, max: 0xffff }), { maxLength: 100 })
  .map((codes) => String.fromCharCode(...codes));

fc.configureGlobal({ seed: 20_260_117 });

const PRESSURE = 'expected a pressure such as "25 psi" or "1.7 bar"';

function reason(text: string, dimension: Dimension): string {
  const read = parseQuantity(text, dimension);
  return read.ok ? `read as ${read.si}` : read.reason;
}

test('blanks between number and unit are optional, around the quantity they are ignored', () => {
  const spellings = [
    '25psi',
    '25 psi',
    ' 25 psi ',
    '25\tpsi',
    '25\u00a0psi',
    '+25 psi',
    '2.5e1 psi',
    '25. psi',
  ];
  for (const text of spellings) {
    expect(parseQuantity(text, 'pressure'), text).toEqual(parseQuantity('25 psi', 'pressure'));
  }
  expect(parseQuantity('2 % / month', 'rate')).toEqual(parseQuantity('2%/month', 'rate'));
  expect(parseQuantity('12 kg  m2', 'inertia')).toEqual(parseQuantity('12 kg m2', 'inertia'));
  expect(parseQuantity('.5 in', 'length')).toEqual(parseQuantity('0.5 in', 'length'));
});

describe('what cannot be read is refused with the reason', () => {
  test.each<[string, Dimension, string]>([
    ['', 'pressure', `empty; ${PRESSURE}`],
    ['  ', 'pressure', `empty; ${PRESSURE}`],
    ['25 psi\n', 'pressure', `only blanks may stand around it; ${PRESSURE}`],
    ['25', 'pressure', `missing unit; ${PRESSURE}`],
    ['psi', 'pressure', `does not start with a number; ${PRESSURE}`],
    ['8 in', 'pressure', `is a length; ${PRESSURE}`],
    ['25 %', 'pressure', `is a share; ${PRESSURE}`],
    ['1275 lb', 'force', 'is a mass; expected a force such as "1275 lbf" or "5700 N"'],
    ['25 PSI', 'pressure', `unknown unit "PSI", did you mean "psi"? ${PRESSURE}`],
    ['25 pis', 'pressure', `unknown unit "pis", did you mean "psi"? ${PRESSURE}`],
    [
      '12 nm',
      'length',
      'unknown unit "nm", did you mean "NM"? expected a length such as "8/32 in" or "6.5 mm"',
    ],
    ['25 furlongs', 'pressure', `unknown unit "furlongs"; ${PRESSURE}`],
    ['25 psi extra', 'pressure', `unknown unit "psi extra"; ${PRESSURE}`],
    ['2,5 bar', 'pressure', 'comma in a number; use a point for decimals ("2.5") and no thousands mark'],
    ['1,234.5 lb', 'mass', 'comma in a number; use a point for decimals ("2.5") and no thousands mark'],
    ['0x1F psi', 'pressure', `only decimal numbers are read; ${PRESSURE}`],
    ['NaN psi', 'pressure', `not a finite number; ${PRESSURE}`],
    ['-Infinity psi', 'pressure', `not a finite number; ${PRESSURE}`],
    ['1e999 psi', 'pressure', `number too large; ${PRESSURE}`],
    ['1e307 km', 'length', 'number too large; expected a length such as "8/32 in" or "6.5 mm"'],
    ['1e-999 psi', 'pressure', `number too small; ${PRESSURE}`],
    [
      '1/0 in',
      'length',
      'fraction with a zero below the line; expected a length such as "8/32 in" or "6.5 mm"',
    ],
    ['1-1/2 in', 'length', 'write a mixed fraction with a blank, such as "1 1/2 in"'],
    ['−5 degC', 'temperature', 'write a minus sign as "-"'],
    [
      '-300 degC',
      'temperature',
      'below absolute zero; expected a temperature such as "15 degC" or "59 degF"',
    ],
    ['1.2.3 psi', 'pressure', `unknown unit ".3 psi"; ${PRESSURE}`],
    ['12 psi', 'count', 'is a pressure; expected a number such as "12"'],
    [`${'9'.repeat(101)} psi`, 'pressure', `longer than 100 characters; ${PRESSURE}`],
    ['5 \u001b[31m', 'pressure', `unknown unit "\\u001b[31m"; ${PRESSURE}`],
  ])('%j as %s', (text, dimension, expected) => {
    expect(reason(text, dimension)).toBe(expected);
  });
});

test('the examples in messages can be read', () => {
  for (const dimension of DIMENSION_NAMES) {
    const examples = [...expectedPhrase(dimension).matchAll(/"([^"]+)"/g)];
    expect(examples.length).toBeGreaterThan(0);
    for (const [, example] of examples) expect(parseQuantity(example!, dimension).ok, example).toBe(true);
  }
});

const spellings = fc.constantFrom(
  ...DIMENSION_NAMES.flatMap((name) =>
    DIMENSIONS[name].units.flatMap((unit) => [unit.name, ...unit.aliases]),
  ),
);
const numbers = fc.constantFrom(
  '1',
  '25',
  '0',
  '.5',
  '1.',
  '-2',
  '+3e2',
  '1/2',
  '1 1/2',
  '8/32',
  '1/0',
  '1e-999',
  '9e999',
);
const scraps = fc.constantFrom('.', '/', '-', '+', 'e', '%', ',', '100', '*', 'm2', 'lb');
const blanks = fc.constantFrom('', '', ' ', '\t', '\u00a0', '\u202f', '\n');
const texts = fc.oneof(
  fc.tuple(blanks, numbers, blanks, spellings, blanks).map((parts) => parts.join('')),
  fc.array(fc.oneof(numbers, blanks, scraps, spellings), { maxLength: 6 }).map((parts) => parts.join('')),
);

test('the published pattern of a dimension matches exactly the texts whose form can be read', () => {
  const badNumber = /^(?:number too|fraction with|below absolute)/;
  const patterns = DIMENSION_NAMES.map((name) => [name, new RegExp(quantityPattern(name), 'u')] as const);
  let matched = 0;
  fc.assert(
    fc.property(texts, (text) => {
      for (const [name, pattern] of patterns) {
        const read = parseQuantity(text, name);
        const readable = read.ok || badNumber.test(read.reason);
        if (readable) matched++;
        expect(pattern.test(text), `${text} as ${name}`).toBe(readable);
      }
    }),
    { numRuns: 1000 },
  );
  expect(matched).toBeGreaterThan(500);
});

test('any text gives a finite value or a reason, never an exception', () => {
  const dimensions = fc.constantFrom(...DIMENSION_NAMES);
  fc.assert(
    fc.property(fc.oneof(fc.string(), utf16), dimensions, (text, dimension) => {
      const read = parseQuantity(text, dimension);
      expect(read.ok ? Number.isFinite(read.si) : read.reason.length > 0).toBe(true);
    }),
  );
});
