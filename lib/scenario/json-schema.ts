import { z } from 'zod';
import { namedSections, scenarioSchema } from './schema/index.js';

/** A part of a JSON Schema. */
export type JsonSchemaPart = { [key: string]: unknown };

/**
 * The JSON Schema of a scenario file, draft 2020-12, made from the one schema.
 *
 * A file is laid over the defaults, so nothing in it is required, `null` removes an entry, `like` starts from another
 * entry and `extends` names files to lay underneath.
 *
 * @returns a new plain object.
 */
export function scenarioJsonSchema(): JsonSchemaPart {
  const root = z.toJSONSchema(scenarioSchema, { io: 'input' }) as JsonSchemaPart;
  relax(root);
  const properties = root['properties'] as Record<string, JsonSchemaPart>;
  for (const section of namedSections) {
    const entry = properties[section]?.['additionalProperties'] as JsonSchemaPart;
    const members = entry['properties'] as Record<string, JsonSchemaPart>;
    members['like'] = {
      type: 'string',
      description: `Start from a copy of this other entry of "${section}".`,
    };
    properties[section]!['additionalProperties'] = orNull(entry);
  }
  root['properties'] = {
    $schema: { type: 'string', description: 'Path of this schema, for editors.' },
    extends: {
      anyOf: [{ type: 'string' }, { type: 'array', items: { type: 'string' } }],
      description: 'Scenario files to lay over the defaults before this one, relative to this file.',
    },
    ...properties,
    costs: orNull(properties['costs']!),
  };
  root['title'] = 'gravelbar scenario';
  return root;
}

function orNull(part: JsonSchemaPart): JsonSchemaPart {
  return { anyOf: [part, { type: 'null' }] };
}

/** Drops "required" from objects that are merged key by key; lists and alternatives are replaced whole and keep it. */
function relax(part: JsonSchemaPart): void {
  delete part['required'];
  const properties = (part['properties'] ?? {}) as Record<string, JsonSchemaPart>;
  for (const member of Object.values(properties)) relax(member);
  const more = part['additionalProperties'];
  if (typeof more === 'object' && more !== null) relax(more as JsonSchemaPart);
}
