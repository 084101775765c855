import { z } from 'zod';
import type { JsonSchemaPart } from '../scenario/json-schema.js';
import { quantityTextSchema } from '../scenario/quantity-field.js';
import { columnSchema, logbookSchema } from './logbook-schema.js';
import { RECORD_TABLES, TABLE_MEANINGS, TABLE_NAMES, wordColumns, type ColumnSpec } from './table-columns.js';

/**
 * The JSON Schema of the file that describes a log, draft 2020-12, made from the schema that reads it and from
 * `RECORD_TABLES`. The CSV files are checked by `gravelbar check`, not by this schema.
 *
 * @returns a new plain object.
 */
export function logbookJsonSchema(): JsonSchemaPart {
  const root = z.toJSONSchema(logbookSchema, { io: 'input' }) as JsonSchemaPart;
  const { $schema: draft, description, ...rest } = root;
  const properties = root['properties'] as Record<string, JsonSchemaPart>;
  for (const key of ['firstDay', 'lastDay']) properties[key]!['pattern'] = '^\\d{4}-\\d{2}-\\d{2}$';
  for (const table of TABLE_NAMES) {
    const part = properties[table]!;
    part['description'] = TABLE_MEANINGS[table];
    const members = part['properties'] as Record<string, JsonSchemaPart>;
    const columns = Object.entries<ColumnSpec>(RECORD_TABLES[table]);
    members['columns'] = closed(members['columns']!, columns, () => ({ $ref: '#/$defs/column' }));
    members['always'] = closed(members['always']!, columns, alwaysPart);
  }
  properties['words'] = {
    type: 'object',
    description: properties['words']!['description'],
    properties: Object.fromEntries(wordColumns().map((name) => [name, { $ref: '#/$defs/words' }])),
    additionalProperties: false,
  };
  const { anyOf } = z.toJSONSchema(columnSchema, { io: 'input' });
  const column = { anyOf };
  const words = {
    type: 'object',
    description: 'Words of this column: that of the log, then ours.',
    additionalProperties: { type: 'string', minLength: 1 },
  };
  return { $schema: draft, title: 'gravelbar log of tires', description, ...rest, $defs: { column, words } };
}

/** A map of columns with its members by name. */
function closed(
  { description }: JsonSchemaPart,
  columns: readonly (readonly [string, ColumnSpec])[],
  partOf: (spec: ColumnSpec) => JsonSchemaPart,
): JsonSchemaPart {
  const properties = Object.fromEntries(
    columns.map(([name, spec]) => [name, { ...partOf(spec), description: spec.description }]),
  );
  return { type: 'object', description, properties, additionalProperties: false };
}

/** A value that stands for the whole column; words of the log are allowed beside ours. */
function alwaysPart({ dimension }: ColumnSpec): JsonSchemaPart {
  return dimension === undefined
    ? { type: 'string', minLength: 1 }
    : { ...(quantityTextSchema(dimension) as JsonSchemaPart) };
}
