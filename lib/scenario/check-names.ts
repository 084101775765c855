import type { Problem } from '../problems.js';
import { nearestName } from '../units.js';
import { problemAt } from './issues.js';
import type { MergedScenario } from './merge.js';
import { nameText } from './text-field.js';

type Path = readonly (string | number)[];

/** A place that names entries of a section. */
interface Reference {
  /** "*" stands for every key or index. */
  readonly path: Path;
  /** Sections whose entries may be named, that of the message first. */
  readonly sections: readonly string[];
  /** Whether the last key is the name, and not what stands there. */
  readonly part: 'key' | 'value';
}

const NAMES_LISTED = 8;

function reference(path: string, sections: readonly string[], part: Reference['part'] = 'value'): Reference {
  return { path: path.split('.'), sections, part };
}

const REFERENCES: readonly Reference[] = [
  reference('airplane', ['airplanes']),
  reference('tires.*.sidewall', ['sidewalls']),
  reference('tires.*.tread', ['treads']),
  reference('tires.*.compound', ['compounds']),
  reference('airplanes.*.geometry.measuredMainTire', ['tires']),
  reference('airplanes.*.geometry.measuredThirdTire', ['tires']),
  reference('setups.*.mainTire', ['tires']),
  reference('setups.*.thirdTire', ['tires']),
  reference('strips.*.touchdown', ['surfaces']),
  reference('strips.*.rollout', ['surfaces']),
  reference('strips.*.taxi', ['surfaces']),
  reference('mixes.*.*', ['strips'], 'key'),
  reference('monthlyMixes.*.*', ['mixes']),
  reference('fleet.airplanes.*.airplane', ['airplanes']),
  reference('fleet.airplanes.*.gearSets.*', ['setups']),
  reference('fleet.airplanes.*.mix', ['mixes', 'monthlyMixes']),
  reference('today.setup', ['setups']),
  reference('today.mix', ['mixes', 'monthlyMixes']),
];

/**
 * Names that must be those of entries.
 *
 * Looks at what is written, so that it also works where other fields are wrong: what cannot be a name, and a section that
 * is no object, are passed over.
 *
 * @param merged the scenario before its fields are checked.
 * @returns a problem for each name of no entry, with the nearest one.
 */
export function checkNames(merged: MergedScenario): Problem[] {
  const root: unknown = merged.value;
  return REFERENCES.flatMap(({ path, sections, part }) => {
    const [first, ...others] = sections.map((section) => childOf(root, section));
    if (!isObject(first)) return [];
    const names = [first, ...others].flatMap((section) => (isObject(section) ? Object.keys(section) : []));
    const known = new Set(names);
    let shown: readonly string[] | undefined;
    return placesOf(root, path).flatMap(({ at, value }) => {
      const name = part === 'key' ? at.at(-1) : value;
      if (typeof name !== 'string' || known.has(name) || !isName(name)) return [];
      shown ??= names.filter(isName);
      return [problemAt(merged, at, unknownName(name, sections[0]!, shown), part)];
    });
  });
}

/** False for what its form forbids: it is told there, and not fit to be shown. */
function isName(text: string): boolean {
  return nameText.safeParse(text).success;
}

/**
 * Problems of form, and those of names that are not told by them already.
 *
 * @param form problems of fields.
 * @param merged the scenario that has them.
 */
export function withNames(form: readonly Problem[], merged: MergedScenario): Problem[] {
  const placeOf = ({ file, line, column }: Problem): string => `${line}:${column} ${file}`;
  const told = new Set(form.map(placeOf));
  return [...form, ...checkNames(merged).filter((problem) => !told.has(placeOf(problem)))];
}

function unknownName(name: string, section: string, names: readonly string[]) {
  const more = names.length > NAMES_LISTED ? ', ...' : '';
  const listed =
    names.length === 0 ? 'it is empty' : `it has ${names.slice(0, NAMES_LISTED).join(', ')}${more}`;
  const nearest = nearestName(name, names);
  return {
    found: JSON.stringify(name),
    allowed: `expected the name of an entry of "${section}"; ${listed}`,
    suggestion: nearest === null ? undefined : `did you mean "${nearest}"?`,
  };
}

/** Places that a path with "*" leads to, as far as they are there. */
function placesOf(
  value: unknown,
  path: Path,
  at: Path = [],
): readonly { readonly at: Path; readonly value: unknown }[] {
  const [step, ...rest] = path;
  if (step === undefined) return [{ at, value }];
  const steps: Path =
    step !== '*'
      ? [step]
      : Array.isArray(value)
        ? [...value.keys()]
        : isObject(value)
          ? Object.keys(value)
          : [];
  return steps.flatMap((key) => {
    const child = childOf(value, key);
    return child === undefined ? [] : placesOf(child, rest, [...at, key]);
  });
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function childOf(value: unknown, key: string | number): unknown {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
  return (value as Readonly<Record<string | number, unknown>>)[key];
}
