import { readFileSync } from 'node:fs';
import { expectedPhrase, unitNames, type Dimension } from '../units.js';
import { DISTRIBUTIONS, FORM_KEYS } from './assumption-reading.js';
import { readJsonSource } from './json-source.js';
import { mergeLayers } from './merge.js';
import { defaultsFile } from './read.js';
import { entryOf, fieldsOf, LIST_STEP, meaningOf, type ReferenceField } from './reference-fields.js';
import { namedSections, scenarioSchema } from './schema/index.js';

const INTRODUCTION = `# Scenario files

Written by \`gravelbar schema --page\` from the schema and from \`defaults.json\`; change those, not this page.

A scenario file is one JSON object. It is laid over the defaults, so it says only what differs:

- Objects are merged key by key; lists, text, numbers, true and false replace what is below.
- An assumption that states a \`value\` or a \`distribution\` replaces the one below as a whole.
- \`null\` takes away what is below: an entry, a share of a mix, an optional field.
- \`"like": "other entry"\` starts an entry of ${list(namedSections)} from a copy of another one of its section.
- \`"extends": "file.json"\`, or a list of files, lays those files over the defaults first; paths start from the file
  that names them.
- \`"$schema": "./scenario.schema.json"\` lets an editor check and complete the file.

All numbers in the defaults are invented or assumed unless their source says otherwise.`;

const ASSUMPTIONS = `## Assumptions

An assumption is a number that is not known exactly. It always has a \`source\`: a published source, a measurement, or
"assumption" with its reason; a \`note\` may be added. One value is drawn per trial; draws outside the range of the field
are moved to its ends.

| form | meaning |
| --- | --- |
| \`{ "value": ..., "source": ... }\` | taken as known |
| \`{ "distribution": "lognormal", "p10": ..., "p90": ..., "source": ... }\` | one chance in ten to be below p10, one in ten above p90; skewed to the right, never negative |
| \`{ "distribution": "normal", "p10": ..., "p90": ..., "source": ... }\` | the same, symmetric |
| \`{ "distribution": "uniform", "min": ..., "max": ..., "source": ... }\` | anything between, equally likely |
| \`{ "distribution": "triangular", "min": ..., "mode": ..., "max": ..., "source": ... }\` | most likely near the mode |`;

const FILE_FIELDS: readonly (readonly string[])[] = [
  ['`$schema`', 'text', '', 'Path of the schema, for editors.', '-'],
  ['`extends`', 'text or list of texts', '', 'Scenario files to lay over the defaults before this one.', '-'],
];

const FIELD_HEADING = ['field', 'kind', 'range', 'meaning', 'defaults'];

/**
 * The reference page of scenario files: one table per section with field, kind of quantity, range, meaning and the
 * value in the defaults with its source.
 *
 * @returns Markdown text.
 */
export function referencePage(): string {
  const source = readJsonSource(readFileSync(defaultsFile), 'defaults.json');
  const defaults = mergeLayers([source], namedSections).value;
  const sections = Object.entries(scenarioSchema.shape);
  const plain = sections.filter(([, schema]) => fieldsOf(entryOf(schema).schema).length === 0);
  const pages = sections
    .filter((section) => !plain.includes(section))
    .map(([name, schema]) => sectionText(name, meaningOf(schema), entryOf(schema), defaults[name]));
  const whole = fieldsOf(scenarioSchema).filter(({ name }) => plain.some(([key]) => key === name));
  const rows = [...FILE_FIELDS, ...whole.map((field) => fieldRow(field, [['', defaults]]))];
  return (
    [
      INTRODUCTION,
      quantitiesText(),
      ASSUMPTIONS,
      `## The file itself\n\n${table(FIELD_HEADING, rows)}`,
      ...pages,
      '',
    ]
      .join('\n\n')
      .trimEnd() + '\n'
  );
}

function list(names: readonly string[]): string {
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;
}

/** Kinds of quantity that scenario files use, with their units. */
function quantitiesText(): string {
  const used = new Set<Dimension>();
  for (const schema of Object.values(scenarioSchema.shape)) {
    for (const { dimension } of fieldsOf(entryOf(schema).schema)) if (dimension !== null) used.add(dimension);
  }
  const rows = [...used].map((dimension) => {
    const units = unitNames(dimension).map((name) => (name === '' ? 'none' : `\`${name}\``));
    return [dimension, units.join(', '), expectedPhrase(dimension)];
  });
  return (
    '## Quantities\n\nA quantity is text with a unit. Shares, counts and sums of money may be bare numbers.\n\n' +
    table(['kind', 'units', 'written as'], rows)
  );
}

type Entries = readonly (readonly [name: string, value: unknown])[];

function sectionText(
  name: string,
  meaning: string,
  { named, schema }: ReturnType<typeof entryOf>,
  defaults: unknown,
): string {
  const entries: Entries = named ? Object.entries(defaults ?? {}) : [['', defaults]];
  const rows = fieldsOf(schema).map((field) => fieldRow(field, entries));
  const about = named ? `${meaning} Each entry: ${lowerFirst(meaningOf(schema))}` : meaning;
  return `## ${name}\n\n${about}\n\n${table(FIELD_HEADING, rows)}`;
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

function fieldRow(field: ReferenceField, entries: Entries): readonly string[] {
  const kind = field.optional ? `${field.kind}, optional` : field.kind;
  return [`\`${field.name}\``, kind, field.range, field.meaning, defaultText(field, entries)];
}

/** Values of a field in the defaults, entries that share one together. */
function defaultText({ path, fallback }: ReferenceField, entries: Entries): string {
  const owners = new Map<string, string[]>();
  for (const [name, entry] of entries) {
    const values = valuesAt(entry, path).map(valueText);
    const text = values.length === 0 && fallback !== undefined ? valueText(fallback) : values.join(', ');
    if (text !== '') owners.set(text, [...(owners.get(text) ?? []), name]);
  }
  if (owners.size === 0) return fallback === undefined ? '-' : valueText(fallback);
  const alone = entries.length === 1 && entries[0]?.[0] === '';
  return [...owners]
    .map(([text, names]) => {
      if (alone) return text;
      return `${names.length === entries.length ? 'all' : names.join(', ')}: ${text}`;
    })
    .join('<br>');
}

function valuesAt(value: unknown, path: readonly string[]): unknown[] {
  const [step, ...rest] = path;
  if (value === undefined || value === null) return [];
  if (step === undefined) return [value];
  if (step === LIST_STEP) return (value as unknown[]).flatMap((item) => valuesAt(item, rest));
  return valuesAt((value as Readonly<Record<string, unknown>>)[step], rest);
}

/** A value as written, without quotes; an assumption with its form and source. */
function valueText(value: unknown): string {
  if (typeof value !== 'object' || value === null) return String(value);
  const written = value as Readonly<Record<string, unknown>>;
  const { distribution, source } = written;
  const kind = DISTRIBUTIONS.find((name) => name === distribution) ?? 'fixed';
  const numbers = FORM_KEYS[kind].map((key) =>
    kind === 'fixed' ? String(written[key]) : `${key} ${String(written[key])}`,
  );
  const form = kind === 'fixed' ? '' : ` (${kind})`;
  return `${numbers.join(', ')}${form}; ${String(source)}`;
}

/** A Markdown table. */
function table(heading: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(heading), line(heading.map(() => '---')), ...rows.map(line)].join('\n');
}
