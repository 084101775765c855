import { z } from 'zod';
import type { Dimension } from '../units.js';
import { fieldRegistry } from './field-registry.js';
import { rangeText } from './quantity-field.js';
import { NAME_JSON_SCHEMA } from './text-field.js';

/** One field of the scenario, in words. */
export interface ReferenceField {
  /** Place below the section: `mainPressure`, `months[].landings`. */
  readonly name: string;
  /** Steps to it; "[]" stands for every item of a list. */
  readonly path: readonly string[];
  readonly kind: string;
  /** Kind of quantity; null for anything else. */
  readonly dimension: Dimension | null;
  readonly range: string;
  readonly meaning: string;
  readonly optional: boolean;
  /** Value where nothing is written, if the schema has one. */
  readonly fallback: unknown;
}

/** The step of a path that stands for every item of a list. */
export const LIST_STEP = '[]';

type Schema = z.core.$ZodType;

interface JsonField {
  readonly type?: string;
  readonly enum?: readonly unknown[];
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly pattern?: string;
  readonly description?: string;
  readonly anyOf?: readonly JsonField[];
}

function definition(schema: Schema): z.core.$ZodTypes['_zod']['def'] {
  return (schema as z.core.$ZodTypes)._zod.def;
}

interface Unwrapped {
  readonly schema: Schema;
  readonly optional: boolean;
  readonly fallback: unknown;
}

function unwrap(schema: Schema): Unwrapped {
  const def = definition(schema);
  if (def.type === 'optional') return { ...unwrap(def.innerType), optional: true };
  if (def.type === 'default') return { ...unwrap(def.innerType), optional: true, fallback: def.defaultValue };
  return { schema, optional: false, fallback: undefined };
}

function jsonOf(schema: Schema): JsonField {
  return z.toJSONSchema(schema, { io: 'input' }) as JsonField;
}

/** What a section or entry is, in the words of the schema. */
export function meaningOf(schema: Schema): string {
  return jsonOf(schema).description ?? '';
}

/** The entries of a section whose names users choose; the section itself where its fields are fixed. */
export function entryOf(section: Schema): { readonly named: boolean; readonly schema: Schema } {
  const { schema } = unwrap(section);
  const def = definition(schema);
  return def.type === 'record' ? { named: true, schema: def.valueType } : { named: false, schema };
}

/** All fields of an object, those of objects in it and in lists included, in the order of the schema. */
export function fieldsOf(object: Schema, below: readonly string[] = []): ReferenceField[] {
  const def = definition(object);
  if (def.type === 'record') return [describe(def.valueType, [...below, '<name>'])];
  if (def.type !== 'object') return [];
  return Object.entries(def.shape).flatMap(([key, member]) => {
    const { schema } = unwrap(member);
    const inner = definition(schema);
    // A list of lists is a table of numbers: one field.
    if (inner.type === 'array' && definition(inner.element).type !== 'array') {
      return fieldsOf(inner.element, [...below, key, LIST_STEP]);
    }
    return inner.type === 'object' ? fieldsOf(schema, [...below, key]) : [describe(member, [...below, key])];
  });
}

function describe(member: Schema, path: readonly string[]): ReferenceField {
  const { schema, optional, fallback } = unwrap(member);
  const place = { name: path.join('.').replaceAll(`.${LIST_STEP}`, LIST_STEP), path, optional, fallback };
  const known = fieldRegistry.get(schema);
  if (known !== undefined) {
    const { kind, field } = known;
    return {
      ...place,
      dimension: field.dimension,
      kind: kind === 'quantity' ? field.dimension : `assumption: ${field.dimension}`,
      range: rangeText(field) + (field.options.whole === true ? ', whole' : ''),
      meaning: field.options.description,
    };
  }
  const json = jsonOf(schema);
  return {
    ...place,
    dimension: null,
    kind: kindText(json),
    range: lengthText(json),
    meaning: json.description ?? '',
  };
}

function kindText({ type, enum: choices, pattern, anyOf }: JsonField): string {
  if (choices !== undefined) {
    // A long list (the months) is told by its ends.
    const some = choices.length > 4 ? [choices[0], '...', choices.at(-1)] : choices;
    return some.map((choice) => (choice === '...' ? '...' : `"${String(choice)}"`)).join(' or ');
  }
  if (anyOf !== undefined) return anyOf.map(kindText).join(' or ');
  if (pattern === NAME_JSON_SCHEMA.pattern) return 'name';
  const words: Readonly<Record<string, string>> = {
    string: 'text',
    boolean: 'true or false',
    integer: 'whole number',
    array: 'list of lists of numbers',
  };
  return words[type ?? ''] ?? type ?? '';
}

function lengthText({ minLength = 0, maxLength, anyOf }: JsonField): string {
  if (anyOf !== undefined)
    return anyOf
      .map(lengthText)
      .filter((text) => text !== '')
      .join('; ');
  return maxLength === undefined ? '' : `${minLength} to ${maxLength} characters`;
}
