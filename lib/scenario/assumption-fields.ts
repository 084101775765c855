import { z } from 'zod';
import { fieldRegistry } from './field-registry.js';
import type { QuantityField } from './quantity-field.js';
import { entryOf } from './reference-fields.js';
import { scenarioSchema } from './schema/index.js';
import { splitQuantity, unitNames } from '../units.js';

/** Where an assumption stands in the scenario, and what it is. */
export interface AssumptionField {
  /** Steps to it: ["surfaces", "gravel", "wearFactor"]. */
  readonly steps: readonly string[];
  readonly field: QuantityField;
  /** Unit in which the schema speaks of it; empty for a bare number. */
  readonly unit: string;
}

/** Sections with assumptions. */
const SECTIONS = [
  'airplanes',
  'sidewalls',
  'treads',
  'compounds',
  'surfaces',
  'habits',
  'assumptions',
] as const;

/**
 * Finds an assumption by its place.
 *
 * @param path place as in a compiled scenario: "surfaces.gravel.wearFactor". Names of entries may hold points.
 * @returns its steps and field; null where the schema has no such assumption.
 */
export function assumptionField(path: string): AssumptionField | null {
  for (const section of SECTIONS) {
    if (!path.startsWith(`${section}.`)) continue;
    const { named, schema } = entryOf(scenarioSchema.shape[section]);
    if (!(schema instanceof z.ZodObject)) continue;
    const rest = path.slice(section.length + 1);
    for (const [key, member] of Object.entries(schema.shape)) {
      const inner = (member instanceof z.ZodOptional ? member.unwrap() : member) as z.ZodType;
      const known = fieldRegistry.get(inner);
      if (known?.kind !== 'assumption') continue;
      const entry = named && rest.endsWith(`.${key}`) ? rest.slice(0, -key.length - 1) : null;
      if (named ? entry === null || entry === '' : rest !== key) continue;
      const steps = entry === null ? [section, key] : [section, entry, key];
      return { steps, field: known.field, unit: statedUnit(known.field) };
    }
  }
  return null;
}

/** The unit in which the schema states the bounds of a field. */
export function statedUnit({ dimension, options }: QuantityField): string {
  return splitQuantity(options.min, dimension)?.unit.name ?? unitNames(dimension)[0]!;
}
