import { ScenarioError, type Problem } from '../problems.js';
import type { Place, SourceFile } from './located.js';

/** Largest file that is read, bytes. */
export const MAX_BYTES = 4_000_000;

/** Wording used wherever something else than a JSON object is found. */
export const EXPECTED_OBJECT = 'expected one JSON object in braces { }';

/** The problem of a file at a place of it. */
export function problemAtPlace(place: Place, details: Pick<Problem, 'path' | 'found' | 'allowed'>): Problem {
  return { file: place.fileName, line: place.line, column: place.column, ...details };
}

/** Offsets at which lines start; a line ends with LF, CR LF or CR, as editors count. */
function lineStarts(text: string): readonly number[] {
  const starts = [0];
  for (let offset = 0; offset < text.length; offset++) {
    const code = text.charCodeAt(offset);
    if (code === 10 || (code === 13 && text.charCodeAt(offset + 1) !== 10)) starts.push(offset + 1);
  }
  return starts;
}

/** A text that turns offsets into lines and columns. Lines are counted when first asked for. */
export function sourceFile(text: string, fileName: string): SourceFile {
  let starts: readonly number[] | undefined;
  return {
    fileName,
    placeOf(offset: number): Place {
      starts ??= lineStarts(text);
      let low = 0;
      let high = starts.length - 1;
      while (low < high) {
        const middle = Math.ceil((low + high) / 2);
        if (starts[middle]! <= offset) low = middle;
        else high = middle - 1;
      }
      return { fileName, line: low + 1, column: offset - starts[low]! + 1 };
    },
  };
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    // Streaming, so that a character cut at the end of a slice is not held against it.
    new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: true });
    return true;
  } catch {
    return false;
  }
}

/** Place of the first byte that cannot be part of UTF-8 text, by halving. */
function firstBadPlace(bytes: Uint8Array, fileName: string): Place {
  let good = 0;
  let bad = bytes.length;
  while (good + 1 < bad) {
    const middle = Math.floor((good + bad) / 2);
    if (isUtf8(bytes.subarray(0, middle))) good = middle;
    else bad = middle;
  }
  const text = new TextDecoder('utf-8').decode(bytes.subarray(0, good), { stream: true });
  return sourceFile(text, fileName).placeOf(text.length);
}

function refuse(problem: Problem): never {
  throw new ScenarioError([problem]);
}

function decode(bytes: Uint8Array, fileName: string): string {
  const utf16 = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  if (utf16) {
    const found = 'text in UTF-16';
    refuse({
      file: fileName,
      path: '',
      found,
      allowed: 'expected text in UTF-8',
      suggestion: 'save it as UTF-8',
    });
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    const details = { path: '', found: 'bytes that are not text', allowed: 'expected text in UTF-8' };
    return refuse(problemAtPlace(firstBadPlace(bytes, fileName), details));
  }
}

/**
 * Text of a JSON file, without a byte order mark.
 *
 * @throws ScenarioError when it is empty, larger than 4 MB, not UTF-8 or has NUL characters.
 */
export function readText(source: string | Uint8Array, fileName: string): string {
  const bytes = typeof source === 'string' ? Buffer.byteLength(source) : source.length;
  if (bytes > MAX_BYTES) {
    refuse({
      file: fileName,
      path: '',
      found: `${bytes} bytes`,
      allowed: `expected at most ${MAX_BYTES} bytes`,
    });
  }
  const text = typeof source === 'string' ? source.replace(/^\ufeff/, '') : decode(source, fileName);
  const nul = text.indexOf('\0');
  if (nul >= 0) {
    const details = { path: '', found: 'a NUL character', allowed: 'expected text, not binary data' };
    refuse(problemAtPlace(sourceFile(text, fileName).placeOf(nul), details));
  }
  if (text.trim() === '')
    refuse({ file: fileName, path: '', found: 'an empty file', allowed: EXPECTED_OBJECT });
  return text;
}
