import { readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { pathText, ScenarioError } from '../../lib/problems.js';
import { scenarioJsonSchema } from '../../lib/scenario/json-schema.js';
import { parseScenario } from '../../lib/scenario/read.js';
import { referencePage } from '../../lib/scenario/reference-page.js';
import { shipped } from '../support/command.js';

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
type JsonObject = { [key: string]: Json };

const schema = scenarioJsonSchema();
// Limits of bare numbers stand beside references, without a type of their own: on purpose, as text has none.
const ajv = new Ajv2020({ strict: true, strictTypes: false });
const validate = ajv.compile(schema);

const DEFAULTS = JSON.parse(readFileSync(shipped('defaults.json'), 'utf8')) as JsonObject;
const SHIPPED = ['first.json', 'mixed-season.json', 'all-paved-to-all-rock.json', 'my-tires-today.json'];
const MIXED = JSON.parse(readFileSync(shipped('mixed-season.json'), 'utf8')) as JsonObject;

/** A file that states everything: the defaults with the parts that they leave out. */
const WHOLE: JsonObject = { ...DEFAULTS, ...MIXED };

function accepts(value: Json): boolean {
  return validate(value);
}

/** Paths of the problems that the library finds; empty if it accepts the value, laid over another file if one is given. */
function problemPaths(value: Json, below?: string): readonly string[] {
  const layered = below === undefined ? value : { extends: below, ...(value as JsonObject) };
  try {
    parseScenario(JSON.stringify(layered), 'scenario', dirname(shipped('first.json')));
    return [];
  } catch (error) {
    if (error instanceof ScenarioError) return error.problems.map(({ path }) => path);
    throw error;
  }
}

function isObject(value: Json | undefined): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

type Path = readonly (string | number)[];

/** Every part of a value with its path. */
function parts(value: Json, path: Path = []): { readonly path: Path; readonly value: Json }[] {
  const inner = Array.isArray(value)
    ? value.flatMap((item, index) => parts(item, [...path, index]))
    : isObject(value)
      ? Object.entries(value).flatMap(([key, member]) => parts(member, [...path, key]))
      : [];
  return [{ path, value }, ...inner];
}

/** A copy of a value with the part at a path replaced. */
function withPart(value: Json, [step, ...rest]: Path, part: Json): Json {
  if (step === undefined) return part;
  if (Array.isArray(value)) return value.with(step as number, withPart(value[step as number]!, rest, part));
  const object = value as JsonObject;
  return { ...object, [step]: withPart(object[step] ?? null, rest, part) };
}

/** A copy of a value with many parts replaced. */
function withParts(value: Json, paths: readonly Path[], change: (part: Json) => Json): Json {
  return paths.reduce<Json>((whole, path) => withPart(whole, path, change(partAt(whole, path))), value);
}

function partAt(value: Json, path: Path): Json {
  return path.reduce<Json>((part, step) => (part as JsonObject)[step]!, value);
}

/** Only what is needed to hold the part at a path: other keys go, apart from those of lists and assumptions. */
function only(value: Json, [step, ...rest]: Path): Json {
  if (step === undefined) return value;
  if (Array.isArray(value)) return value.with(step as number, only(value[step as number]!, rest));
  const object = value as JsonObject;
  const whole = 'value' in object || 'distribution' in object || 'month' in object;
  return { ...(whole ? object : {}), [step]: only(object[step]!, rest) };
}

const NAMED = ['airplanes', 'tires', 'sidewalls', 'treads', 'compounds', 'setups', 'surfaces', 'strips'];

/** Objects whose keys are names that users choose. */
function isNamed(path: Path): boolean {
  return (
    (path.length === 1 && [...NAMED, 'mixes'].includes(String(path[0]))) ||
    (path.length === 2 && path[0] === 'mixes')
  );
}

/** Both must refuse a change of any one part: the schema one by one, the library all at once. */
function expectRefused(paths: readonly Path[], change: (part: Json) => Json, below: Path = []): void {
  const told = new Set(problemPaths(withParts(WHOLE, paths, change)));
  for (const path of paths) {
    const name = pathText([...path, ...below]);
    expect(accepts(only(WHOLE, path)), name).toBe(true);
    expect(accepts(withPart(only(WHOLE, path), path, change(partAt(WHOLE, path)))), name).toBe(false);
    expect(told, name).toContain(name);
  }
}

describe('the published JSON Schema', () => {
  test('is a valid schema of draft 2020-12', () => {
    expect(schema['$schema']).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(ajv.validateSchema(schema)).toBe(true);
  });

  test('is the one in the scenarios folder, and small enough for an editor', () => {
    const text = readFileSync(shipped('scenario.schema.json'), 'utf8');
    expect(text).toBe(`${JSON.stringify(schema, null, 2)}\n`);
    expect(text.length).toBeLessThan(150_000);
  });

  test.each([...SHIPPED, 'defaults.json'])('accepts %s', (name) => {
    expect(
      accepts(JSON.parse(readFileSync(shipped(name), 'utf8')) as Json),
      JSON.stringify(validate.errors),
    ).toBe(true);
  });

  test('accepts a file that states everything, as the library does', () => {
    expect([accepts(WHOLE), problemPaths(WHOLE)]).toEqual([true, []]);
  });

  test('describes every key of it', () => {
    const undescribed: string[] = [];
    const visit = (part: unknown, place: string): void => {
      if (typeof part !== 'object' || part === null) return;
      const { properties } = part as { readonly properties?: Readonly<Record<string, JsonObject>> };
      for (const [name, member] of Object.entries(properties ?? {})) {
        if (member['description'] === undefined) undescribed.push(`${place}.${name}`);
      }
      for (const [key, member] of Object.entries(part)) visit(member, `${place}.${key}`);
    };
    visit(schema['properties'], '');
    expect(undescribed).toEqual([]);
  });

  const pathsOf = (select: (value: Json, path: Path) => boolean): readonly Path[] =>
    parts(WHOLE)
      .filter(({ value, path }) => select(value, path))
      .map(({ path }) => path);

  test('refuses an unknown key in any object, as the library does', () => {
    const objects = pathsOf((value, path) => isObject(value) && !isNamed(path));
    expect(objects.length).toBeGreaterThan(100);
    expectRefused(objects, (part) => ({ ...(part as JsonObject), xyzzy: '3 psi' }), ['xyzzy']);
  });

  // Shares, counts and sums of money may be bare numbers; names are left out by the unit that they do not end in.
  const isQuantity = (value: Json): boolean =>
    typeof value === 'string' &&
    /^-?[\d.]+ (\/m2?|%\/\w+|\/year|N m|kg m2|mm3\/J|[a-zA-Z]+(\/s)?)$/.test(value);
  const quantities = pathsOf((value, path) => isQuantity(value) && path.at(-1) !== 'source');
  test.each<[string, (number: string) => Json]>([
    ['without its unit', (number) => number],
    ['as a bare number', Number],
    ['with an unknown unit', (number) => `${number} furlong`],
    ['with a unit of something else', (number) => `${number} ft2`],
    ['that is no number', () => 'NaN psi'],
  ])('refuses a quantity %s anywhere, as the library does', (_, wrong) => {
    expect(quantities.length).toBeGreaterThan(150);
    expectRefused(quantities, (part) => wrong((part as string).split(' ')[0]!));
  });

  const scalars = pathsOf((value, path) => typeof value !== 'object' && path[0] !== '$schema');
  test.each<[string, Json]>([
    ['a list', []],
    ['an object', { a: '1' }],
    ['an empty text', ''],
  ])('refuses %s in the place of any number, text or choice, as the library does', (_, wrong) => {
    const free = (path: Path): boolean => wrong === '' && path.at(-1) === 'note';
    // Links between entries are followed before anything else, the form of an assumption before its numbers.
    const groups = ['like', 'distribution', ''].map((key) =>
      scalars.filter((path) => {
        const last = path.at(-1);
        return !free(path) && (key === '' ? last !== 'like' && last !== 'distribution' : last === key);
      }),
    );
    expect(groups.map(({ length }) => length > 2)).toEqual([true, true, true]);
    for (const group of groups) expectRefused(group, () => wrong);
  });

  test.each<[string, Json]>([
    ['bare shares in range', { habits: { noticedBelow: 0.4 } }],
    ['bare counts', { run: { trials: 500 } }],
    ['a seed that is a number', { run: { seed: 0 } }],
    [
      'an entry and a share of a mix taken away',
      { strips: { 'river bar': null }, mixes: { gravel: { 'river bar': null, 'home pavement': '55 %' } } },
    ],
    ['optional fields taken away', { tires: { 'soft 29': { price: null } }, costs: null, note: null }],
    ['an entry like another', { tires: { mine: { like: 'soft 29', mass: '10 kg' } } }],
    ['a part of an assumption', { assumptions: { abradability: { p90: '0.2 mm3/J', source: 'test' } } }],
    ['a bare share in an assumption', { habits: { pivotChance: { value: 0.3, source: 'test' } } }],
    ['a list of files below', { extends: ['first.json', 'mixed-season.json'] }],
  ])('accepts %s, as the library does', (_, change) => {
    expect(accepts(change), JSON.stringify(validate.errors)).toBe(true);
    expect(problemPaths(change, 'mixed-season.json')).toEqual([]);
  });

  test.each<[string, JsonObject]>([
    ['bare shares out of range', { habits: { noticedBelow: 1.4 } }],
    ['broken counts', { run: { trials: 500.5 } }],
    ['too few trials', { run: { trials: 1 } }],
    ['a share out of range in an assumption', { habits: { pivotChance: { value: 1.3, source: 'test' } } }],
    ['an assumption without a source', { habits: { pivotChance: { value: '30 %' } } }],
    ['a distribution without numbers', { habits: { pivotChance: { distribution: 'normal', source: 's' } } }],
    ['an unknown gear', { airplanes: { 'reference four-seater': { gear: 'skid' } } }],
    ['a month without landings', { season: { months: [{ month: 'May' }] } }],
    ['a name with a line end', { airplane: 'a\nb' }],
  ])('refuses %s, as the library does', (_, change) => {
    expect(accepts(change)).toBe(false);
    expect(problemPaths(change, 'mixed-season.json')).not.toEqual([]);
  });
});

describe('the reference page', () => {
  const page = referencePage();

  test('is the one in the scenarios folder', () => {
    expect(readFileSync(shipped('REFERENCE.md'), 'utf8')).toBe(page);
  });

  test('has one table for each section, with a row for each field', () => {
    const headings = Array.from(page.matchAll(/^## (.+)$/gm), ([, name]) => name);
    const sections = Object.entries(WHOLE).filter(([, value]) => isObject(value));
    for (const [name, section] of sections) {
      expect(headings).toContain(name);
      const text = page.slice(page.indexOf(`\n## ${name}\n`)).split(/\n## /)[1]!;
      const entries = isNamed([name]) ? Object.values(section as JsonObject) : [section];
      const fields = new Set(entries.flatMap((entry) => Object.keys(entry as JsonObject)));
      if (name === 'mixes') continue;
      for (const field of fields) {
        if (field !== 'like')
          expect(text, `${name}.${field}`).toMatch(new RegExp(`\\| \`${field}(\`|\\[\\]|\\.)`));
      }
    }
  });

  test('shows every value and every source of the defaults', () => {
    const ends = new Set(['$schema', 'note', 'like']);
    for (const { path, value } of parts(DEFAULTS)) {
      if (typeof value === 'object' || ends.has(String(path.at(-1)))) continue;
      expect(page, path.join('.')).toContain(String(value));
    }
  });

  test('has tables whose rows are as long as their headings', () => {
    for (const block of page.split('\n\n').filter((each) => each.startsWith('|'))) {
      const cells = block
        .trimEnd()
        .split('\n')
        .map((row) => row.split(/(?<!\\)\|/).length);
      expect(new Set(cells).size).toBe(1);
    }
  });
});
