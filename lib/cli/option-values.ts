import { InvalidArgumentError } from 'commander';
import { nearestName, parseQuantity } from '../units.js';
import type { ReachText } from './remaining-command.js';

const LONGEST_SEED = 100;
const SECONDS_PER_DAY = 86_400;

/** A seed. Throws InvalidArgumentError for an empty or long one. */
export function seedText(text: string): string {
  if (text === '' || text.length > LONGEST_SEED)
    throw new InvalidArgumentError(`expected 1 to ${LONGEST_SEED} characters.`);
  return text;
}

/** A whole number, 0 or more. Throws InvalidArgumentError otherwise. */
export function wholeNumber(text: string): number {
  if (!/^\d{1,15}$/.test(text)) throw new InvalidArgumentError('expected a whole number such as 2000.');
  return Number(text);
}

/** A share as a number or in per cent. Throws InvalidArgumentError otherwise. */
export function shareOf(text: string): number {
  const match = /^(\d+(?:\.\d+)?)\s*(%?)$/.exec(text);
  if (match === null) throw new InvalidArgumentError('expected a share such as "2 %" or 0.02.');
  return Number(match[1]) / (match[2] === '%' ? 100 : 1);
}

/** A time, days. Throws InvalidArgumentError otherwise. */
export function daysOf(text: string): number {
  const read = parseQuantity(text, 'duration');
  if (!read.ok) throw new InvalidArgumentError('expected a time such as "14 days".');
  return read.si / SECONDS_PER_DAY;
}

/** Flight hours or days from now, added to those before. Throws InvalidArgumentError otherwise. */
export function reachOf(text: string, before: readonly ReachText[] = []): readonly ReachText[] {
  const match = /^(\d{1,6}(?:\.\d{1,6})?)\s*(h|days?)$/.exec(text);
  if (match === null) {
    throw new InvalidArgumentError('expected flight hours such as "60 h" or days such as "45 days".');
  }
  const value = Number(match[1]);
  return [...before, match[2] === 'h' ? { hours: value } : { days: value }];
}

/** A text added to those before, of an option that may be given again. */
export function listed(text: string, before: readonly string[] = []): readonly string[] {
  return [...before, text];
}

/**
 * A word out of a list, as what it stands for.
 *
 * @param words what each stands for.
 * @param meant words that may be tried instead, and the one of the list that is then meant.
 * @returns a reader that throws InvalidArgumentError for another word, with the nearest one.
 */
export function oneOf<Value>(
  words: Readonly<Record<string, Value>>,
  meant: Readonly<Record<string, string>> = {},
): (text: string) => Value {
  return (text) => {
    if (Object.hasOwn(words, text)) return words[text]!;
    const known = Object.keys(words);
    const nearest = Object.hasOwn(meant, text) ? meant[text]! : nearestName(text, known);
    const hint = nearest === null ? '' : `; did you mean "${nearest}"?`;
    throw new InvalidArgumentError(`expected one of: ${known.join(', ')}${hint === '' ? '.' : hint}`);
  };
}

/** The same, added to those before, of an option that may be given again. */
export function severalOf<Value>(
  words: Readonly<Record<string, Value>>,
): (text: string, before?: readonly Value[]) => readonly Value[] {
  const read = oneOf(words);
  return (text, before = []) => [...before, read(text)];
}
