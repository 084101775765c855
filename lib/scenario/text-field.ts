import { z } from 'zod';

// Control and format characters, line and paragraph separators, lone surrogates: nothing that can be seen or typed.
const UNPRINTABLE =
  '\\u0000-\\u001f\\u007f-\\u009f\\u00ad\\u061c\\u200b-\\u200f\\u2028-\\u202e\\u2060-\\u206f\\ufeff\\ud800-\\udfff';

/** Pattern of a name: printable characters, no blank at either end. */
const NAME_PATTERN = `^(?! )[^${UNPRINTABLE}]+(?<! )$`;
const NAME_LENGTH = 60;

/** Pattern of a remark or source: printable characters, at least one not blank. */
const TEXT_PATTERN = `^(?=.*[^ ])[^${UNPRINTABLE}]+$`;

/** Longest source or note, characters. */
export const SOURCE_LENGTH = 500;

const nameRegExp = new RegExp(NAME_PATTERN, 'u');
const textRegExp = new RegExp(TEXT_PATTERN, 'u');

/** JSON Schema of a source or note. */
export const SOURCE_JSON_SCHEMA = {
  type: 'string',
  minLength: 1,
  maxLength: SOURCE_LENGTH,
  pattern: TEXT_PATTERN,
} as const;

/** JSON Schema of a name. */
export const NAME_JSON_SCHEMA = {
  type: 'string',
  minLength: 1,
  maxLength: NAME_LENGTH,
  pattern: NAME_PATTERN,
} as const;

/** What is wrong with a text that has to be one line of printable characters; null when nothing is. */
export function textProblem(text: unknown): string | null {
  const fits =
    typeof text === 'string' && Array.from(text.slice(0, 2 * SOURCE_LENGTH + 1)).length <= SOURCE_LENGTH;
  return fits && textRegExp.test(text)
    ? null
    : `expected 1 to ${SOURCE_LENGTH} printable characters in one line`;
}

function nameProblem(text: string): string | null {
  if (Array.from(text.slice(0, 2 * NAME_LENGTH + 1)).length > NAME_LENGTH || !nameRegExp.test(text)) {
    return `expected a name of 1 to ${NAME_LENGTH} printable characters, no blank at either end`;
  }
  // Looking such a name up in a plain JavaScript object would find something that was never written.
  return Object.hasOwn(Object.prototype, text) ? 'this name is reserved in JavaScript; choose another' : null;
}

/** Name of an entry, as a key or as a reference: 1 to 60 printable characters, no blank at either end. */
export const nameText: z.ZodString = z
  .string()
  .check((context) => {
    const allowed = nameProblem(context.value);
    if (allowed === null) return;
    context.issues.push({ code: 'custom', message: allowed, params: { allowed }, input: context.value });
  })
  .meta({ ...NAME_JSON_SCHEMA });

/** Where a number comes from: 1 to 500 printable characters in one line. */
export const sourceText: z.ZodString = z
  .string()
  .check((context) => {
    const allowed = textProblem(context.value);
    if (allowed === null) return;
    context.issues.push({ code: 'custom', message: allowed, params: { allowed }, input: context.value });
  })
  .meta({
    description: 'Where it comes from: a published source, a measurement, or "assumption" with its reason.',
    ...SOURCE_JSON_SCHEMA,
  });
