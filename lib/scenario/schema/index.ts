import { z } from 'zod';
import { nameText } from '../quantity.js';
import {
  airplaneSchema,
  compoundSchema,
  setupSchema,
  sidewallSchema,
  tireSchema,
  treadSchema,
} from './equipment.js';
import { fittedSchema } from './fitted.js';
import { fleetSchema } from './fleet.js';
import { mixSchema, monthlyMixSchema, seasonSchema, stripSchema, surfaceSchema } from './ground.js';
import { assumptionsSchema, costsSchema, habitsSchema, runSchema } from './habits.js';
import { todaySchema } from './today.js';

/**
 * The scenario after its layers are merged: the one source of types, validation, the published JSON Schema and the
 * reference page. Quantities go in as text with a unit and come out in SI units.
 */
export const scenarioSchema = z.strictObject({
  name: z.string().min(1).max(120).describe('Title of the scenario.'),
  note: z
    .string()
    .max(2000)
    .describe('What the scenario is about; say so if its data is invented.')
    .optional(),
  airplane: nameText.describe('Name of the airplane, an entry of "airplanes".'),
  airplanes: z.record(nameText, airplaneSchema).describe('Airplanes by name.'),
  tires: z.record(nameText, tireSchema).describe('Tires by name.'),
  sidewalls: z.record(nameText, sidewallSchema).describe('Kinds of sidewall by name.'),
  treads: z.record(nameText, treadSchema).describe('Kinds of tread by name.'),
  compounds: z.record(nameText, compoundSchema).describe('Rubber compounds by name.'),
  setups: z.record(nameText, setupSchema).describe('Tire set-ups to compare, by name.'),
  surfaces: z.record(nameText, surfaceSchema).describe('Surfaces by name.'),
  strips: z.record(nameText, stripSchema).describe('Landing places by name.'),
  mixes: z.record(nameText, mixSchema).describe('Runway mixes to compare, by name.'),
  monthlyMixes: z
    .record(nameText, monthlyMixSchema)
    .describe('Runway mixes that change through the year, by name; they are compared like the others.')
    .optional(),
  season: seasonSchema,
  habits: habitsSchema,
  assumptions: assumptionsSchema,
  fitted: fittedSchema.optional(),
  costs: costsSchema.optional(),
  today: todaySchema.optional(),
  fleet: fleetSchema.optional(),
  run: runSchema,
});

/** A checked scenario, quantities in SI units. */
export type Scenario = z.output<typeof scenarioSchema>;

/** Sections whose entries have names that users choose, and that may be written as `"like": other`. */
export const namedSections = [
  'airplanes',
  'tires',
  'sidewalls',
  'treads',
  'compounds',
  'setups',
  'surfaces',
  'strips',
] as const;
