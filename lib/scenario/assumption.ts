import { z } from 'zod';
import type { Dimension } from '../units.js';
import { DISTRIBUTIONS, FORM_KEYS, readAssumption, type Assumption } from './assumption-reading.js';
import { fieldRegistry } from './field-registry.js';
import {
  describeField,
  fieldIssue,
  quantityField,
  quantityJsonSchema,
  type QuantityInput,
  type QuantityOptions,
  type SchemaPart,
} from './quantity-field.js';
import { SOURCE_JSON_SCHEMA } from './text-field.js';

interface Remarks {
  readonly source: string;
  readonly note?: string | undefined;
}

/** What may be written for an assumption of a dimension. */
export type AssumptionInput<D extends Dimension> = Remarks &
  (
    | { readonly value: QuantityInput<D> }
    | {
        readonly distribution: 'lognormal' | 'normal';
        readonly p10: QuantityInput<D>;
        readonly p90: QuantityInput<D>;
      }
    | { readonly distribution: 'uniform'; readonly min: QuantityInput<D>; readonly max: QuantityInput<D> }
    | {
        readonly distribution: 'triangular';
        readonly min: QuantityInput<D>;
        readonly mode: QuantityInput<D>;
        readonly max: QuantityInput<D>;
      }
  );

function formSchema(kind: 'fixed' | (typeof DISTRIBUTIONS)[number], quantity: SchemaPart): SchemaPart {
  const keys = FORM_KEYS[kind];
  const named = kind === 'fixed' ? {} : { distribution: { const: kind } };
  const numbers = Object.fromEntries(keys.map((key) => [key, quantity]));
  return {
    type: 'object',
    properties: { ...named, ...numbers, source: SOURCE_JSON_SCHEMA, note: SOURCE_JSON_SCHEMA },
    required: [...Object.keys(named), ...keys, 'source'],
    additionalProperties: false,
  };
}

/** JSON Schemas of the forms of an assumption, from the schema of its numbers. */
export function assumptionFormSchemas(quantity: SchemaPart): readonly SchemaPart[] {
  return (['fixed', ...DISTRIBUTIONS] as const).map((kind) => formSchema(kind, quantity));
}

/**
 * Field for an assumption: a fixed value or a distribution of what is not known, always with its source.
 *
 * Forms: `{ value }`; `{ distribution: "lognormal" | "normal", p10, p90 }`; `{ distribution: "uniform", min, max }`;
 * `{ distribution: "triangular", min, mode, max }`; each with `source` and, if wanted, `note`.
 *
 * @param dimension what the number is.
 * @param options plausible range (draws are kept inside it) and description.
 * @returns a zod schema from the written form to an `Assumption` in SI units.
 * @throws RangeError when the range is not a range of the dimension.
 */
export function assumption<D extends Dimension>(
  dimension: D,
  options: Omit<QuantityOptions, 'whole'>,
): z.ZodType<Assumption, AssumptionInput<D>> {
  const field = quantityField(dimension, options);
  const schema = z
    .unknown()
    .transform((input, context): Assumption => {
      const read = readAssumption(field, input);
      if (read.ok) return read.assumption;
      for (const problem of read.problems) context.addIssue(fieldIssue(problem));
      return z.NEVER;
    })
    .meta({
      description: describeField(field),
      oneOf: assumptionFormSchemas(quantityJsonSchema(field)),
    });
  fieldRegistry.add(schema, { kind: 'assumption', field });
  return schema as z.ZodType<Assumption, AssumptionInput<D>>;
}
