import fc from 'fast-check';
import { expect, test } from 'vitest';
import { nearestName } from '../../lib/units.js';

test('a slip of the pen finds the name that was meant', () => {
  const keys = ['mainTire', 'mainPressure', 'thirdTire', 'thirdPressure', 'fairings'];
  expect(nearestName('mainPresure', keys)).toBe('mainPressure');
  expect(nearestName('mainpressure', keys)).toBe('mainPressure');
  expect(nearestName('firings', keys)).toBe('fairings');
});

test('two letters swapped count as one slip', () => {
  expect(nearestName('tier', ['tire', 'tube'])).toBe('tire');
  expect(nearestName('pis', ['bar', 'psi'])).toBe('psi');
  expect(nearestName('abcd', ['cdab'])).toBeNull();
});

test('a name of the same letters in another case wins over one that is merely close', () => {
  expect(nearestName('nm', ['mm', 'NM'])).toBe('NM');
});

test('nothing is guessed when nothing is close', () => {
  expect(nearestName('colour', ['mainTire', 'fairings'])).toBeNull();
  expect(nearestName('x', ['m', 'K'])).toBeNull();
  expect(nearestName('anything', [])).toBeNull();
});

test('of equally close names the first is taken', () => {
  expect(nearestName('gravel 3', ['gravel 1', 'gravel 2'])).toBe('gravel 1');
});

test('a name that is allowed is nearest to itself', () => {
  fc.assert(
    fc.property(
      fc.uniqueArray(fc.string(), { minLength: 1, selector: (name) => name.toLowerCase() }),
      (names) => {
        for (const name of names) expect(nearestName(name, names)).toBe(name);
      },
    ),
    { seed: 20_260_119 },
  );
});

test('a name of megabytes is answered at once', () => {
  expect(nearestName('x'.repeat(4_000_000), ['mainTire', 'fairings'])).toBeNull();
});
