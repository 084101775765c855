/** A place in a file; line and column count from 1, columns in UTF-16 units as editors show them. */
export interface Place {
  readonly fileName: string;
  readonly line: number;
  readonly column: number;
}

/** A file that turns offsets into places. */
export interface SourceFile {
  readonly fileName: string;
  placeOf(offset: number): Place;
}

interface LocatedBase {
  readonly file: SourceFile;
  /** Offset of the value. */
  readonly offset: number;
  /** Offset of its key; of the value itself where it has none. */
  readonly keyOffset: number;
}

/** JSON values that hold no others. */
export type JsonScalar = string | number | boolean | null;

/** Any JSON value. Objects have no prototype, so that looking up any name in them is safe. */
export type JsonValue = JsonScalar | readonly JsonValue[] | { readonly [key: string]: JsonValue };

/** A JSON object. */
export type JsonObject = Readonly<Record<string, JsonValue>>;

/** A JSON value that knows where it was written. Never changed once built, so parts may be shared. */
export type Located = LocatedScalar | LocatedArray | LocatedObject;

/** Text, number, true, false or null with its place. */
export interface LocatedScalar extends LocatedBase {
  readonly kind: 'scalar';
  readonly value: JsonScalar;
}

/** List with its place. */
export interface LocatedArray extends LocatedBase {
  readonly kind: 'array';
  readonly items: readonly Located[];
}

/** Object with its place. */
export interface LocatedObject extends LocatedBase {
  readonly kind: 'object';
  readonly members: ReadonlyMap<string, Located>;
}

/** True for a null, which in an overriding layer removes what it overrides. */
export function isNull(located: Located): boolean {
  return located.kind === 'scalar' && located.value === null;
}

/** The plain value, without members that are null if `dropNulls` says so (null in a list stays). */
export function plainValue(located: Located, dropNulls: boolean): JsonValue {
  if (located.kind === 'scalar') return located.value;
  if (located.kind === 'array') return located.items.map((item) => plainValue(item, false));
  return plainObject(located, dropNulls);
}

/** The plain value of an object; see `plainValue`. */
export function plainObject(located: LocatedObject, dropNulls: boolean): JsonObject {
  const object = Object.create(null) as Record<string, JsonValue>;
  for (const [key, member] of located.members) {
    if (!(dropNulls && isNull(member))) object[key] = plainValue(member, dropNulls);
  }
  return object;
}

function member(located: Located, step: PropertyKey): Located | undefined {
  if (located.kind === 'object') return located.members.get(String(step));
  if (located.kind === 'array' && typeof step === 'number') return located.items[step];
  return undefined;
}

/**
 * Place of the value at a path, or of its nearest ancestor that exists.
 *
 * @param part 'key' for the place of the key instead, where the value exists.
 */
export function placeAt(root: Located, path: readonly PropertyKey[], part: 'key' | 'value'): Place {
  let located = root;
  for (const step of path) {
    const next = member(located, step);
    if (next === undefined) return located.file.placeOf(located.offset);
    located = next;
  }
  return located.file.placeOf(part === 'key' ? located.keyOffset : located.offset);
}
