import { createScanner, printParseErrorCode, type ParseErrorCode } from 'jsonc-parser';
import { valueText, type Problem } from '../problems.js';
import type { SourceFile } from './located.js';
import { problemAtPlace } from './json-text.js';

/** Deepest nesting of objects and lists that is read. */
export const MAX_DEPTH = 64;

// Token kinds of the scanner; its enumeration exists at compile time only.
const OPEN_BRACE = 1;
const CLOSE_BRACE = 2;
const OPEN_BRACKET = 3;
const CLOSE_BRACKET = 4;
const END_OF_FILE = 17;

/**
 * Offset of the bracket that opens the first level deeper than `MAX_DEPTH`; null when there is none.
 *
 * One pass with the scanner of the parser itself, so that both agree on what is a string and what a comment, before
 * the parser (which recurses) sees the text. A closing bracket of the wrong kind closes nothing: in a broken text
 * this counts at least as many open levels as the parser has.
 */
export function findTooDeep(text: string): number | null {
  const scanner = createScanner(text, true);
  const open: number[] = [];
  for (let token: number = scanner.scan(); token !== END_OF_FILE; token = scanner.scan()) {
    if (token === OPEN_BRACE || token === OPEN_BRACKET) {
      if (open.length === MAX_DEPTH) return scanner.getTokenOffset();
      open.push(token);
    } else if (token === CLOSE_BRACE || token === CLOSE_BRACKET) {
      if (open.at(-1) === token - 1) open.pop();
    }
  }
  return null;
}

const REASONS: Readonly<Record<string, string>> = {
  InvalidSymbol: 'expected text in double quotes, a number, true, false, null, an object or a list',
  InvalidNumberFormat: 'expected a number',
  PropertyNameExpected: 'expected a key in double quotes',
  ValueExpected: 'expected a value',
  ColonExpected: 'expected a colon after the key',
  CommaExpected: 'expected a comma before it',
  CloseBraceExpected: 'expected a closing brace }',
  CloseBracketExpected: 'expected a closing bracket ]',
  EndOfFileExpected: 'expected nothing after the object',
  InvalidCommentToken: 'comments are not part of JSON; use a "note"',
  UnexpectedEndOfString: 'expected a closing double quote on the same line',
  UnexpectedEndOfNumber: 'expected a digit at the end of the number',
  InvalidUnicode: 'expected four hexadecimal digits after \\u',
  InvalidEscapeCharacter: 'expected one of \\" \\\\ \\/ \\b \\f \\n \\r \\t \\u after the backslash',
  InvalidCharacter: 'control characters in text are written as \\n, \\t or \\u with four digits',
};

/** A problem of JSON syntax in plain words. */
export function syntaxProblem(
  text: string,
  file: SourceFile,
  code: ParseErrorCode,
  offset: number,
  length: number,
): Problem {
  const name = printParseErrorCode(code);
  const before = text.slice(0, offset).trimEnd();
  const closes = text[offset] === '}' || text[offset] === ']';
  if (closes && before.endsWith(',') && (name === 'PropertyNameExpected' || name === 'ValueExpected')) {
    const details = {
      path: '',
      found: `"," before "${text[offset]!}"`,
      allowed: 'expected no comma after the last entry',
    };
    return problemAtPlace(file.placeOf(before.length - 1), details);
  }
  const snippet = text.slice(offset, offset + Math.max(length, 1));
  const found = snippet === '' ? 'the end of the file' : valueText(snippet);
  return problemAtPlace(file.placeOf(offset), {
    path: '',
    found,
    allowed: REASONS[name] ?? 'expected valid JSON',
  });
}
