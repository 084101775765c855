import type { z } from 'zod';
import { valueText } from '../problems.js';

const TYPE_WORDS: Readonly<Record<string, string>> = {
  string: 'text in double quotes',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  object: 'an object in braces { }',
  record: 'an object in braces { }',
  array: 'a list in brackets [ ]',
  tuple: 'a list in brackets [ ]',
  null: 'null',
  never: 'nothing',
  nonoptional: 'a value',
};

/** The type that an issue expects, in words. */
export function typeWords(expected: string): string {
  return TYPE_WORDS[expected] ?? expected;
}

/** "a, b or c". */
export function oneOf(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} or ${words.at(-1)!}`;
}

/** Allowed values, in words: `"single" or "pair"`. */
export function choices(values: readonly unknown[]): string {
  return oneOf(values.map(valueText));
}

function plural(count: number | bigint, one: string): string {
  return `${String(count)} ${Number(count) === 1 ? one : `${one}s`}`;
}

/** What is counted by a size limit, by kind of value. */
const COUNTED: Readonly<Record<string, string>> = { string: 'character', array: 'entry', set: 'entry' };

function amount(origin: string, limit: number | bigint): string {
  const counted = COUNTED[origin];
  if (counted === undefined) return String(limit);
  return counted === 'entry' && Number(limit) !== 1 ? `${String(limit)} entries` : plural(limit, counted);
}

/** A limit on size or value, in words: "expected at least 1 character", "expected less than 5". */
export function limitWords(issue: z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig): string {
  const small = issue.code === 'too_small';
  const quantity = amount(issue.origin, small ? issue.minimum : issue.maximum);
  if (issue.exact === true) return `expected exactly ${quantity}`;
  if (issue.inclusive === false) return `expected ${small ? 'more' : 'less'} than ${quantity}`;
  return `expected at ${small ? 'least' : 'most'} ${quantity}`;
}
