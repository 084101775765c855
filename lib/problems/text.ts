/** Characters that would disturb a terminal or a line of text: controls, marks of direction, lone surrogates. */
const UNSAFE = /[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u;

/** Longest piece of a found value that is shown. */
export const FOUND_LENGTH = 60;

function escaped(character: string): string {
  const code = character.codePointAt(0)!.toString(16);
  return code.length > 4 ? `\\u{${code}}` : `\\u${code.padStart(4, '0')}`;
}

/**
 * Makes any text safe and short enough for one line of a message: control characters as `\u001b`, the rest cut with an
 * ellipsis so that at most `length` characters are shown. What is already safe and short stays as it is.
 */
export function plainText(text: string, length: number): string {
  let shown = '';
  let kept = 0;
  // One character past the limit tells whether anything is cut; a text of megabytes costs no more.
  for (const character of text.slice(0, 2 * length + 2)) {
    const piece = UNSAFE.test(character) ? escaped(character) : character;
    if (shown.length + piece.length > length) return `${shown.slice(0, kept)}…`;
    shown += piece;
    if (shown.length < length) kept = shown.length;
  }
  return shown;
}

/** Writes a value as JSON, stopping soon after `budget` characters. */
function boundedJson(value: unknown, budget: number): string {
  if (typeof value === 'string') return JSON.stringify(value.slice(0, budget + 1));
  if (typeof value !== 'object' || value === null) return String(value);
  const isList = Array.isArray(value);
  let text = isList ? '[' : '{';
  let first = true;
  for (const [key, member] of Object.entries(isList ? value.slice(0, budget + 1) : value)) {
    if (text.length > budget) break;
    if (!first) text += ', ';
    first = false;
    if (!isList) text += `${JSON.stringify(key.slice(0, budget + 1))}: `;
    text += boundedJson(member, Math.max(0, budget - text.length));
  }
  return text + (isList ? ']' : '}');
}

/**
 * A value as it stands in the file, for the `found` of a problem: JSON in one line of at most 60 characters.
 * A missing value is "nothing".
 */
export function valueText(value: unknown): string {
  if (value === undefined) return 'nothing';
  return plainText(boundedJson(value, FOUND_LENGTH), FOUND_LENGTH);
}

/**
 * A path as text: `setups.soft.mainPressure`, `season.months[3].landings`; names that are not plain words are quoted:
 * `tires["rigid 29"].mass`.
 */
export function pathText(path: readonly PropertyKey[]): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`;
    else if (/^[A-Za-z_$][\w$-]*$/.test(String(step)))
      text += text === '' ? String(step) : `.${String(step)}`;
    else text += `[${JSON.stringify(String(step))}]`;
  }
  return text;
}
