import { z } from 'zod';
import { expectedPhrase, unitNames, type Dimension } from '../units.js';
import { assumptionFormSchemas } from './assumption.js';
import { FORM_KEYS } from './assumption-reading.js';
import { fieldRegistry, type FieldKind } from './field-registry.js';
import { describeField, isBare, quantityTextSchema, type QuantityField } from './quantity-field.js';
import { NAME_JSON_SCHEMA, SOURCE_JSON_SCHEMA } from './text-field.js';
import { namedSections, scenarioSchema } from './schema/index.js';

/** A part of a JSON Schema. */
export type JsonSchemaPart = { [key: string]: unknown };

/** Texts that are met in many places. */
const TEXTS = { name: NAME_JSON_SCHEMA, text: SOURCE_JSON_SCHEMA } as const;

/**
 * The JSON Schema of a scenario file, draft 2020-12, made from the one schema.
 *
 * A file is laid over the defaults, so nothing in it is required, `null` removes an entry, `like` starts from another
 * entry and `extends` names files to lay underneath. How to write a quantity of a dimension stands once in `$defs`.
 *
 * @returns a new plain object.
 */
export function scenarioJsonSchema(): JsonSchemaPart {
  const definitions = new Map<string, JsonSchemaPart>();
  const root = z.toJSONSchema(scenarioSchema, {
    io: 'input',
    override: ({ zodSchema, jsonSchema }) => {
      const kind = fieldRegistry.get(zodSchema);
      if (kind !== undefined) replace(jsonSchema, fieldPart(kind, definitions));
    },
  }) as JsonSchemaPart;
  relax(root);
  const properties = root['properties'] as Record<string, JsonSchemaPart>;
  for (const section of namedSections) addLike(section, properties[section]!);
  const $defs = Object.fromEntries([...definitions].sort(([one], [other]) => (one < other ? -1 : 1)));
  referToTexts(properties);
  referToTexts($defs);
  return {
    $schema: root['$schema'],
    title: 'gravelbar scenario',
    type: root['type'],
    properties: {
      $schema: { type: 'string', description: 'Path of this schema, for editors.' },
      extends: {
        anyOf: [{ type: 'string' }, { type: 'array', items: { type: 'string' } }],
        description: 'Scenario files to lay over the defaults before this one, relative to this file.',
      },
      ...properties,
    },
    additionalProperties: false,
    $defs: { ...TEXTS, ...$defs },
  };
}

/** Schema of a quantity or an assumption: a reference to its dimension, its meaning and, for bare numbers, its range. */
function fieldPart({ kind, field }: FieldKind, definitions: Map<string, JsonSchemaPart>): JsonSchemaPart {
  const { dimension } = field;
  const description = describeField(field);
  const quantity = { $ref: define(definitions, dimension, () => quantityDefinition(dimension)) };
  const limits = isBare(dimension) ? bareLimits(field) : {};
  if (kind === 'quantity') return { ...quantity, description, ...limits };
  const name = `${dimension}Assumption`;
  const $ref = define(definitions, name, () => assumptionDefinition(dimension, quantity));
  return { $ref, description, ...(isBare(dimension) ? { additionalProperties: limits } : {}) };
}

function define(definitions: Map<string, JsonSchemaPart>, name: string, make: () => JsonSchemaPart): string {
  if (!definitions.has(name)) definitions.set(name, make());
  return `#/$defs/${name}`;
}

function quantityDefinition(dimension: Dimension): JsonSchemaPart {
  const text = quantityTextSchema(dimension);
  const units = unitNames(dimension).filter((name) => name !== '');
  const description = `${expectedPhrase(dimension)}${units.length === 0 ? '' : `; units: ${units.join(', ')}`}`;
  return isBare(dimension) ? { description, anyOf: [text, { type: 'number' }] } : { description, ...text };
}

/** The forms of an assumption, and a part of one that changes the assumption of a file below key by key. */
function assumptionDefinition(dimension: Dimension, quantity: JsonSchemaPart): JsonSchemaPart {
  const forms = assumptionFormSchemas(quantity);
  const numbers = new Set(Object.values(FORM_KEYS).flat());
  numbers.delete('value');
  const texts = forms[0]!['properties'] as JsonSchemaPart;
  const change = {
    type: 'object',
    description: 'Changes only these parts of the assumption in the file below.',
    properties: {
      ...Object.fromEntries([...numbers].map((key) => [key, quantity])),
      source: texts['source'],
      note: texts['note'],
    },
    additionalProperties: false,
  };
  return { description: `an assumption about ${expectedPhrase(dimension)}`, oneOf: [...forms, change] };
}

/** Range of bare numbers. It does not touch text, whose number depends on its unit. */
function bareLimits({ options, minSi, maxSi }: QuantityField): JsonSchemaPart {
  const low = options.minInclusive === false ? { exclusiveMinimum: minSi } : { minimum: minSi };
  return { ...low, maximum: maxSi, ...(options.whole === true ? { multipleOf: 1 } : {}) };
}

function replace(target: JsonSchemaPart, part: JsonSchemaPart): void {
  for (const key of Object.keys(target)) Reflect.deleteProperty(target, key);
  Object.assign(target, part);
}

/**
 * Fits the schema of the merged scenario to one layer of it: objects that are merged key by key require nothing, and
 * null removes what may be missing. Lists are replaced whole, so their items stay as they are.
 */
function relax(part: JsonSchemaPart): void {
  const required = new Set((part['required'] ?? []) as readonly string[]);
  delete part['required'];
  const properties = (part['properties'] ?? {}) as Record<string, JsonSchemaPart>;
  for (const [name, member] of Object.entries(properties)) {
    relax(member);
    if (!required.has(name)) properties[name] = orNull(member);
  }
  const entry = part['additionalProperties'];
  if (typeof entry !== 'object' || entry === null || '$ref' in part) return;
  relax(entry as JsonSchemaPart);
  part['additionalProperties'] = orNull(entry as JsonSchemaPart);
}

function orNull({ description, ...part }: JsonSchemaPart): JsonSchemaPart {
  const anyOf = [part, { type: 'null' }];
  return description === undefined ? { anyOf } : { description, anyOf };
}

/** Replaces the schemas of names and sources by references, however deep they lie. */
function referToTexts(part: object): void {
  for (const [key, member] of Object.entries(part) as [string, unknown][]) {
    if (typeof member !== 'object' || member === null) continue;
    const { pattern, description } = member as JsonSchemaPart;
    const text = Object.entries(TEXTS).find(([, schema]) => schema.pattern === pattern);
    if (text === undefined) referToTexts(member);
    else {
      const $ref = `#/$defs/${text[0]}`;
      Object.assign(part, { [key]: description === undefined ? { $ref } : { $ref, description } });
    }
  }
}

function addLike(section: string, part: JsonSchemaPart): void {
  const entry = part['additionalProperties'] as { anyOf: [JsonSchemaPart, JsonSchemaPart] };
  const members = entry.anyOf[0]['properties'] as Record<string, JsonSchemaPart>;
  members['like'] = {
    ...NAME_JSON_SCHEMA,
    description: `Start from a copy of this other entry of "${section}".`,
  };
}
