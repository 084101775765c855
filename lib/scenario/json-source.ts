import { visit } from 'jsonc-parser';
import { pathText, ScenarioError, valueText, type Problem } from '../problems.js';
import { findTooDeep, MAX_DEPTH, syntaxProblem } from './json-syntax.js';
import { EXPECTED_OBJECT, problemAtPlace, readText, sourceFile } from './json-text.js';
import {
  placeAt,
  plainObject,
  type JsonObject,
  type JsonScalar,
  type Located,
  type LocatedObject,
  type Place,
  type SourceFile,
} from './located.js';

/** A JSON file that has been read, with the place of every value. */
export interface JsonSource {
  readonly fileName: string;
  /** The root object; objects in it have no prototype. */
  readonly value: JsonObject;
  /** The same with places, for merging. */
  readonly root: LocatedObject;
  /** Place of the value at a path, or of its nearest ancestor that exists. */
  positionOf(path: readonly PropertyKey[]): Place;
}

/** Syntax errors that are told; later ones mostly follow from the first. */
const MAX_SYNTAX_PROBLEMS = 3;

/** Names with a meaning of their own in JavaScript objects; never useful in a scenario, and unsafe as keys. */
const REFUSED_KEYS: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype']);

type OpenContainer =
  | { readonly kind: 'object'; readonly members: Map<string, Located>; key: string; keyOffset: number }
  | { readonly kind: 'array'; readonly items: Located[] };

interface Reading {
  readonly root: Located | undefined;
  readonly syntax: readonly Problem[];
  readonly content: readonly Problem[];
}

function read(text: string, file: SourceFile): Reading {
  const syntax: Problem[] = [];
  const content: Problem[] = [];
  const open: OpenContainer[] = [];
  let root: Located | undefined;
  let syntaxLine = -1;

  function add(offset: number, build: (keyOffset: number) => Located): void {
    const parent = open.at(-1);
    const located = build(parent?.kind === 'object' ? parent.keyOffset : offset);
    if (parent === undefined) root ??= located;
    else if (parent.kind === 'array') parent.items.push(located);
    else parent.members.set(parent.key, located);
  }
  function tell(offset: number, path: readonly PropertyKey[], found: string, allowed: string): void {
    content.push(problemAtPlace(file.placeOf(offset), { path: pathText(path), found, allowed }));
  }

  visit(
    text,
    {
      onObjectBegin: (offset) => {
        const members = new Map<string, Located>();
        add(offset, (keyOffset) => ({ kind: 'object', file, offset, keyOffset, members }));
        open.push({ kind: 'object', members, key: '', keyOffset: offset });
      },
      onArrayBegin: (offset) => {
        const items: Located[] = [];
        add(offset, (keyOffset) => ({ kind: 'array', file, offset, keyOffset, items }));
        open.push({ kind: 'array', items });
      },
      onObjectEnd: () => {
        open.pop();
      },
      onArrayEnd: () => {
        open.pop();
      },
      onObjectProperty: (key, offset, _length, _line, _column, path) => {
        const parent = open.at(-1);
        if (parent?.kind !== 'object') return;
        const first = parent.members.get(key);
        if (first !== undefined) {
          const { line } = file.placeOf(first.keyOffset);
          tell(
            offset,
            [...path(), key],
            `the key again, first on line ${line}`,
            'expected each key once in an object',
          );
        }
        if (REFUSED_KEYS.has(key)) {
          tell(offset, [...path(), key], `the key ${valueText(key)}`, 'this name is not allowed as a key');
        }
        parent.key = key;
        parent.keyOffset = offset;
      },
      onLiteralValue: (value: JsonScalar, offset, length, _line, _column, path) => {
        if (typeof value === 'number' && !Number.isFinite(value)) {
          tell(offset, path(), valueText(text.slice(offset, offset + length)), 'number too large');
        }
        add(offset, (keyOffset) => ({ kind: 'scalar', file, offset, keyOffset, value }));
      },
      onError: (code, offset, length, line) => {
        if (line === syntaxLine || syntax.length === MAX_SYNTAX_PROBLEMS) return;
        // One a line: what follows an error on its line is seldom another one.
        syntaxLine = line;
        syntax.push(syntaxProblem(text, file, code, offset, length));
      },
    },
    { disallowComments: true, allowTrailingComma: false },
  );
  return { root, syntax, content };
}

/**
 * Reads a JSON file strictly and remembers where every value stands.
 *
 * Refused, each with its place: an empty file, one of more than 4 MB, binary data or text that is not UTF-8, nesting
 * deeper than 64 levels, comments, trailing commas and other syntax errors (the first three), a key twice in one
 * object, the keys `__proto__`, `constructor` and `prototype`, numbers too large for a double, a root that is not an
 * object. A byte order mark is accepted.
 *
 * @param source text or bytes of the file.
 * @param fileName name for messages; the file itself is not opened.
 * @returns the plain value and the places of its parts.
 * @throws ScenarioError with all problems found.
 */
export function readJsonSource(source: string | Uint8Array, fileName: string): JsonSource {
  const text = readText(source, fileName);
  const file = sourceFile(text, fileName);
  const tooDeep = findTooDeep(text);
  if (tooDeep !== null) {
    const details = { path: '', found: 'deeper nesting', allowed: `expected at most ${MAX_DEPTH} levels` };
    throw new ScenarioError([problemAtPlace(file.placeOf(tooDeep), details)]);
  }
  const { root, syntax, content } = read(text, file);
  // With broken syntax the rest of the reading is guesswork.
  const problems = syntax.length > 0 ? syntax : content;
  if (problems.length > 0) throw new ScenarioError(problems);
  if (root?.kind !== 'object') {
    const found = root?.kind === 'array' ? 'a list' : valueText(text.trim());
    const details = { path: '', found, allowed: EXPECTED_OBJECT };
    throw new ScenarioError([problemAtPlace(file.placeOf(root?.offset ?? 0), details)]);
  }
  const object = root;
  return {
    fileName,
    value: plainObject(object, false),
    root: object,
    positionOf: (path) => placeAt(object, path, 'value'),
  };
}
