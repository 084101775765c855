import { z } from 'zod';
import type { Dimension } from '../units.js';
import { fieldRegistry } from './field-registry.js';
import {
  describeField,
  fieldIssue,
  quantityField,
  quantityJsonSchema,
  readQuantity,
  type QuantityInput,
  type QuantityOptions,
} from './quantity-field.js';

export { assumption, type AssumptionInput } from './assumption.js';
export type { Assumption, AssumptionKind } from './assumption-reading.js';
export type { QuantityInput, QuantityOptions } from './quantity-field.js';
export { nameText, sourceText } from './text-field.js';

/**
 * Field for a quantity with its unit, checked against a plausible range; outside it the message guesses the unit that
 * was meant.
 *
 * @param dimension what the quantity is.
 * @param options range, description and example.
 * @returns a zod schema from text with a unit (also a number for shares, counts and money) to the value in SI units.
 * @throws RangeError when the range is not a range of the dimension.
 */
export function quantity<D extends Dimension>(
  dimension: D,
  options: QuantityOptions,
): z.ZodType<number, QuantityInput<D>> {
  const field = quantityField(dimension, options);
  const schema = z
    .unknown()
    // On the inner schema, since zod drops examples of schemas that transform.
    .meta({ ...quantityJsonSchema(field) })
    .transform((input, context): number => {
      const read = readQuantity(field, input);
      if (read.ok) return read.si;
      context.addIssue(fieldIssue(read.problem));
      return z.NEVER;
    })
    .meta({ description: describeField(field) });
  fieldRegistry.add(schema, { kind: 'quantity', field });
  return schema as z.ZodType<number, QuantityInput<D>>;
}
