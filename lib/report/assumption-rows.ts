import { z } from 'zod';
import { exp } from '../numeric/elementary.js';
import { standardNormalQuantile } from '../numeric/normal.js';
import { fieldUnit, fieldValueText } from '../scenario/assumption-words.js';
import type { CompiledAssumption, CompiledScenario } from '../scenario/compile.js';
import { fieldRegistry } from '../scenario/field-registry.js';
import type { QuantityField } from '../scenario/quantity-field.js';
import { entryOf } from '../scenario/reference-fields.js';
import { scenarioSchema } from '../scenario/schema/index.js';

/** One assumption in words. */
export interface AssumptionRow {
  /** Entry it belongs to, such as "gravel"; empty where there is only one. */
  readonly entry: string;
  /** What the number is. */
  readonly meaning: string;
  /** Median, mean or mode, with unit. */
  readonly middle: string;
  /** What it may be instead, and how likely. */
  readonly range: string;
  /** True where no doubt is stated. */
  readonly isFixed: boolean;
  readonly source: string;
}

/** The assumptions of one part of the scenario. */
export interface AssumptionGroup {
  readonly title: string;
  readonly rows: readonly AssumptionRow[];
}

/** Parts of the scenario with assumptions, and what they are called here. */
const SECTIONS = {
  assumptions: 'Wear, cuts, leaks and repairs',
  habits: 'Habits',
  surfaces: 'Surfaces',
  sidewalls: 'Sidewalls',
  treads: 'Treads',
  compounds: 'Rubber compounds',
  airplanes: 'Airplane',
} as const;

/** Sections of which a scenario may hold more than it uses. */
const CHOSEN_SECTIONS: readonly string[] = ['surfaces', 'sidewalls', 'treads', 'compounds'];

/**
 * The assumptions that bear on a run, in the units of the scenario. Entries that no set-up and no mix uses are left out.
 *
 * @param scenario compiled scenario.
 * @returns groups in the order in which they matter to readers; those without rows are left out.
 */
export function assumptionGroups(scenario: CompiledScenario): AssumptionGroup[] {
  const bears = bearsOnRun(scenario);
  return (Object.keys(SECTIONS) as (keyof typeof SECTIONS)[]).flatMap((section) => {
    const fields = sectionFields(entryOf(scenarioSchema.shape[section]).schema);
    const rows = scenario.assumptions
      .filter(({ path }) => path.startsWith(`${section}.`) && bears(path))
      .map((assumption) => assumptionRow(fields, assumption));
    return rows.length === 0 ? [] : [{ title: SECTIONS[section], rows }];
  });
}

/**
 * Tells which assumptions can bear on a run: all but those of surfaces, sidewalls, treads and compounds that no set-up
 * and no mix uses.
 *
 * @param scenario compiled scenario.
 * @returns true for the place of one that can.
 */
export function bearsOnRun(scenario: CompiledScenario): (path: string) => boolean {
  const used = usedEntries(scenario);
  return (path) =>
    !CHOSEN_SECTIONS.some((section) => path.startsWith(`${section}.`)) ||
    used.has(path.slice(0, path.lastIndexOf('.')));
}

/** Entries that the set-ups and mixes of the scenario use: "surfaces.gravel". */
function usedEntries({ assumptions, setups, mixes, strips, surfaces }: CompiledScenario): Set<string> {
  const ofTires = setups
    .flatMap(({ main, third }) => [main, third])
    .flatMap((tire) => [tire.evenWearDeflection, tire.tailHitShare, tire.wearFactor])
    .map((index) => assumptions[index]!.path)
    .map((path) => path.slice(0, path.lastIndexOf('.')));
  const ofMixes = mixes
    .flatMap((mix) => mix.strips.map((index) => strips[index]!))
    .flatMap(({ touchdown, rollout, taxi }) => [touchdown, rollout, taxi])
    .map((index) => `surfaces.${surfaces[index]!.name}`);
  return new Set([...ofTires, ...ofMixes]);
}

function assumptionRow(fields: readonly SectionField[], assumption: CompiledAssumption): AssumptionRow {
  const { path, source, note } = assumption;
  // Names of entries may hold points, so that the field is looked for from the end.
  const found = fields.find(({ place }) => path.endsWith(`.${place}`));
  if (found === undefined) throw new RangeError(`${path} is not in the schema`);
  return {
    entry: path.slice(path.indexOf('.') + 1, -found.place.length - 1),
    meaning: found.field.options.description,
    ...valueTexts(assumption, found.field),
    isFixed: assumption.kind === 'fixed',
    source: note === undefined ? source : `${source} (${note})`,
  };
}

interface SectionField {
  /** Place below the entry: "wearFactor", "geometry.wheelbase". */
  readonly place: string;
  readonly field: QuantityField;
}

/** Fields of the entries of a section, those of objects in them included; the longer place first. */
function sectionFields(schema: z.core.$ZodType, below = ''): SectionField[] {
  const inner = schema instanceof z.ZodOptional ? schema.unwrap() : schema;
  if (!(inner instanceof z.ZodObject)) {
    const known = fieldRegistry.get(inner);
    return known === undefined ? [] : [{ place: below, field: known.field }];
  }
  return Object.entries(inner.shape as Readonly<Record<string, z.core.$ZodType>>)
    .flatMap(([key, member]) => sectionFields(member, below === '' ? key : `${below}.${key}`))
    .sort((a, b) => b.place.length - a.place.length);
}

function valueTexts(
  { kind, a, b, c }: CompiledAssumption,
  field: QuantityField,
): Pick<AssumptionRow, 'middle' | 'range'> {
  const unit = fieldUnit(field);
  const text = (si: number): string => fieldValueText(field, si);
  const span = (from: number, to: number): string => {
    const low = text(from);
    const tail = unit === '' ? '' : ` ${unit}`;
    return `${tail !== '' && low.endsWith(tail) ? low.slice(0, -tail.length) : low} to ${text(to)}`;
  };
  const away = standardNormalQuantile(0.9);
  switch (kind) {
    case 'fixed':
      return { middle: text(a), range: 'taken as known' };
    case 'lognormal':
      return {
        middle: text(a),
        range: `8 of 10: ${span(a * exp(-away * b), a * exp(away * b))} (lognormal)`,
      };
    case 'normal':
      return { middle: text(a), range: `8 of 10: ${span(a - away * b, a + away * b)} (normal)` };
    case 'uniform':
      return { middle: text((a + b) / 2), range: `anything from ${span(a, b)}, equally likely` };
    case 'triangular':
      return { middle: text(b), range: `${span(a, c)}, likeliest at the middle (triangular)` };
  }
}
