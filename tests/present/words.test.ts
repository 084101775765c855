import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { figureText, percentText, printable, startOf, textWidth, wrap } from '../../lib/present/words.js';

fc.configureGlobal({ seed: 20_260_311 });

test.each([
  [0, '0 %'],
  [0.000_000_1, '<0.001 %'],
  [0.000_010, '0.001 %'],
  [0.000_31, '0.031 %'],
  [0.0031, '0.31 %'],
  [0.0099, '0.99 %'],
  [0.009_96, '1.0 %'],
  [0.047, '4.7 %'],
  [0.0996, '10 %'],
  [0.234, '23 %'],
  [0.994, '99 %'],
  [0.9962, '99.6 %'],
  [0.999_99, '>99.9 %'],
  [1, '100 %'],
])('the share %d is written %s', (share, text) => {
  expect(percentText(share)).toBe(text);
});

test('a written share is within 5 % of the share, apart from the very small and the nearly certain', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-4, max: 0.994, noNaN: true }), (share) => {
      const read = Number.parseFloat(percentText(share)) / 100;
      expect(Math.abs(read - share)).toBeLessThanOrEqual(0.0501 * share);
    }),
  );
});

test.each([
  [null, '-'],
  [0, '0'],
  [0.012_34, '0.012'],
  [0.996, '1.00'],
  [1.239, '1.24'],
  [12.34, '12.3'],
  [99.96, '100'],
  [123.4, '123'],
  [123_456.7, '123457'],
  [-12.34, '-12.3'],
])('the figure %j is written %s', (value, text) => {
  expect(figureText(value)).toBe(text);
});

test('a figure keeps three digits above one, two below', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (value) => {
      const error = Math.abs(Number(figureText(value)) - value);
      expect(error).toBeLessThanOrEqual((value >= 0.995 ? 0.005_01 : 0.0501) * value);
    }),
  );
});

describe('printable text', () => {
  test('has no controls, format characters, lone surrogates or line separators, and keeps the rest', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const shown = printable(text);
        expect(shown).not.toMatch(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u);
        expect(Array.from(shown)).toHaveLength(Array.from(text).length);
        expect(printable(shown)).toBe(shown);
      }),
    );
    expect(printable('a\u001b[31mb\u202ec\ud800d\u2028e é 雪 🛞')).toBe('a [31mb c d e é 雪 🛞');
  });
});

// Unicode Standard Annex 11 (East Asian Width), revision for Unicode 15.1: W and F take two columns.
test.each([
  ['', 0],
  ['abc', 3],
  ['é', 1],
  ['e\u0301', 1],
  ['雪上', 4],
  ['カタ', 4],
  ['한글', 4],
  ['ｆｕ', 4],
  ['🛞', 2],
  ['½ µ ≤', 5],
])('%s takes %d columns', (text, width) => {
  expect(textWidth(text)).toBe(width);
});

test('the start of a text is its longest piece that fits', () => {
  expect(startOf('雪上滑走', 5)).toBe('雪上');
  expect(startOf('🛞tire', 1)).toBe('');
  expect(startOf('tire', 9)).toBe('tire');
});

describe('wrapping', () => {
  test('keeps to the width and loses nothing but blanks', () => {
    const words = fc.array(fc.stringMatching(/^[a-z雪]{1,30}$/), { maxLength: 12 });
    fc.assert(
      fc.property(words, fc.integer({ min: 6, max: 40 }), (list, width) => {
        const lines = wrap(list.join(' '), width, '  ').split('\n');
        for (const line of lines) expect(textWidth(line)).toBeLessThanOrEqual(width);
        expect(lines.join('').replaceAll(' ', '')).toBe(list.join(''));
      }),
    );
  });

  test('breaks between words where it can, and inside a word where it must', () => {
    expect(wrap('one two three', 8, '  ')).toBe('one two\n  three');
    expect(wrap('abcdefghij', 4, ' ')).toBe('abcd\n efg\n hij');
  });
});
