import { printable } from '../present/words.js';

/** Markup that is safe to put into a page. Made by {@link html} and {@link trusted} only. */
export class Html {
  readonly markup: string;

  constructor(markup: string) {
    this.markup = markup;
  }
}

/** What may stand in a template: text and numbers are escaped, markup goes in as it is, lists are joined. */
export type HtmlPart = string | number | Html | readonly HtmlPart[];

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** A percentage: its sign stays on the line of its number. */
const NUMBER_AND_SIGN = /(\d) %/g;

/**
 * Text as HTML, for content and for quoted attributes. Control characters and marks of direction become blanks.
 *
 * @param text any text, such as a name from a scenario file.
 */
export function escapeText(text: string): string {
  return printable(text).replace(/[&<>"']/g, (character) => ESCAPES[character]!);
}

/**
 * Template for HTML that escapes whatever is put in, so that no text from a file can become markup.
 *
 * @param literals markup as written in the program.
 * @param parts what is put in.
 * @returns markup.
 */
export function html(literals: TemplateStringsArray, ...parts: readonly HtmlPart[]): Html {
  let markup = literals[0]!;
  parts.forEach((part, index) => {
    markup += markupOf(part) + literals[index + 1]!;
  });
  return new Html(markup);
}

/**
 * Marks a text as markup that needs no escaping.
 *
 * @param markup made by a program that has escaped what it put in.
 */
export function trusted(markup: string): Html {
  return new Html(markup);
}

function markupOf(part: HtmlPart): string {
  if (part instanceof Html) return part.markup;
  if (typeof part === 'string') return escapeText(part).replace(NUMBER_AND_SIGN, '$1\u00a0%');
  if (typeof part === 'number') return String(part);
  return part.map(markupOf).join('');
}
