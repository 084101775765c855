import { z } from 'zod';
import type { QuantityField } from './quantity-field.js';

/** What a field of the scenario holds, beyond what zod can tell of it. */
export interface FieldKind {
  /** A plain quantity, or an assumption (a fixed value or a distribution, with its source). */
  readonly kind: 'quantity' | 'assumption';
  readonly field: QuantityField;
}

/** Quantities and assumptions of the scenario schema, for whoever walks it: the published schema, the reference page. */
export const fieldRegistry: z.core.$ZodRegistry<FieldKind> = z.registry<FieldKind>();
