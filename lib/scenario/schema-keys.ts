import type { z } from 'zod';

type Schema = z.core.$ZodType;

/** The schemas a value may have, without wrappers: one, or several for unions. */
function unwrap(schema: Schema): readonly Schema[] {
  const def = (schema as z.core.$ZodTypes)._zod.def;
  switch (def.type) {
    case 'optional':
    case 'nullable':
    case 'default':
    case 'prefault':
    case 'nonoptional':
    case 'catch':
    case 'readonly':
    case 'success':
      return unwrap(def.innerType);
    case 'pipe':
      return unwrap(def.in);
    case 'lazy':
      return unwrap(def.getter());
    case 'union':
      return def.options.flatMap(unwrap);
    case 'intersection':
      return [...unwrap(def.left), ...unwrap(def.right)];
    default:
      return [schema];
  }
}

function step(schema: Schema, key: PropertyKey): readonly Schema[] {
  const def = (schema as z.core.$ZodTypes)._zod.def;
  switch (def.type) {
    case 'object': {
      const member = Object.hasOwn(def.shape, key) ? def.shape[String(key)] : def.catchall;
      return member === undefined ? [] : unwrap(member);
    }
    case 'record':
      return unwrap(def.valueType);
    case 'array':
      return unwrap(def.element);
    case 'tuple': {
      const item = typeof key === 'number' ? (def.items[key] ?? def.rest) : null;
      return item === null ? [] : unwrap(item);
    }
    default:
      return [];
  }
}

/**
 * Keys that a schema knows for the object at a path, in the order of the schema; through optional, default, pipe,
 * lazy, union, record and list wrappers. Empty where any key or none is allowed.
 */
export function keysAt(root: Schema, path: readonly PropertyKey[]): readonly string[] {
  let schemas = unwrap(root);
  for (const key of path) schemas = schemas.flatMap((schema) => step(schema, key));
  const keys = schemas.flatMap((schema) => {
    const def = (schema as z.core.$ZodTypes)._zod.def;
    return def.type === 'object' ? Object.keys(def.shape) : [];
  });
  return [...new Set(keys)];
}
