import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { END_EXAMPLES } from '../calibrate/end-examples.js';
import { logbookJsonSchema } from '../calibrate/logbook-json-schema.js';
import { readLogbook } from '../calibrate/read-logbook.js';
import {
  headerOf,
  RECORD_TABLES,
  TABLE_MEANINGS,
  TABLE_NAMES,
  type ColumnSpec,
  type TableName,
} from '../calibrate/table-columns.js';
import { columnUnits } from '../calibrate/unit-words.js';
import type { JsonSchemaPart } from '../scenario/json-schema.js';
import { defaultsFile, readScenario } from '../scenario/read.js';
import { INTRODUCTION, LIBRARY, MAPPING, REFUSED, RULES } from './records-page-text.js';
import { checkedText } from './records-text.js';

const FOLDER = dirname(defaultsFile);
const EXAMPLE = 'own-columns';
const EXAMPLE_SCENARIO = 'first.json';

/**
 * The reference page of records: the file that describes a log, every table and column, the rules, and a worked example.
 *
 * @returns Markdown text.
 */
export function recordsPage(): string {
  return `${[
    INTRODUCTION,
    fileText(),
    MAPPING,
    '## Tables',
    ...TABLE_NAMES.map(tableText),
    endsText(),
    RULES,
    REFUSED,
    exampleText(),
    LIBRARY,
  ].join('\n\n')}\n`;
}

type Properties = Readonly<Record<string, JsonSchemaPart>>;

/** Fields of the JSON file, and of a table in it. */
function fileText(): string {
  const { properties, required } = logbookJsonSchema();
  const root = properties as Properties;
  const table = root['tires']!;
  const rows = (members: Properties, needed: unknown): string[][] =>
    Object.entries(members).map(([name, { description }]) => [
      `\`${name}\``,
      (needed as readonly string[]).includes(name) ? 'yes' : '',
      String(description),
    ]);
  const own = Object.fromEntries(
    Object.entries(root).filter(([name]) => !TABLE_NAMES.includes(name as TableName)),
  );
  const tables = TABLE_NAMES.map((name) => [
    `\`${name}\``,
    name === 'tires' ? 'yes' : '',
    'A table, see below.',
  ]);
  const heading = ['field', 'required', 'meaning'];
  return [
    '## The file that describes a log',
    markdownTable(heading, [...rows(own, required), ...tables]),
    'Each table:',
    markdownTable(heading, rows(table['properties'] as Properties, table['required'])),
  ].join('\n\n');
}

function tableText(table: TableName): string {
  const columns = Object.entries<ColumnSpec>(RECORD_TABLES[table]);
  const rows = columns.map(([name, spec]) => [
    `\`${name}\``,
    spec.required ? 'yes' : '',
    kindText(spec),
    spec.description,
    `\`${headerOf(name, spec)}\`: \`${spec.example}\``,
  ]);
  const heading = ['column', 'required', 'what it holds', 'meaning', 'example: header and cell'];
  return [`### ${table}`, TABLE_MEANINGS[table], markdownTable(heading, rows)].join('\n\n');
}

/** What a cell may be, with its range and units. */
function kindText(spec: ColumnSpec): string {
  const { kind, words, dimension, min, max, whole } = spec;
  switch (kind) {
    case 'name':
      return 'a name of up to 100 characters';
    case 'word':
      return words!.map((each) => `"${each}"`).join(', ');
    case 'day':
      return 'an ISO date';
    case 'number': {
      const units = columnUnits(spec);
      const range = `${min!} to ${max!}${whole === true ? ', whole' : ''}`;
      return dimension === 'count' ? range : `${range}; unit in the header: ${units.join(', ')}`;
    }
  }
}

function endsText(): string {
  const columns = ['fitted', 'removed', 'removed after', 'removed by', 'last seen', 'cause'] as const;
  const rows = END_EXAMPLES.map(({ kind, when, counts, cells }) => [
    kind,
    when,
    ...columns.map((column) => cells[column] ?? ''),
    counts,
  ]);
  return [
    '## How the end of a tire is told',
    'A life that is known only in part is never thrown away and never rounded to a whole one: it counts for what it says. ' +
      'One column or pair of columns tells which kind it is; in these invented rows the log ends on 2024-08-31.',
    markdownTable(['kind', 'when', ...columns.map((column) => `\`${column}\``), 'counts as'], rows),
    '`cause` of an end is "worn" (tread limit or cords), "cut", "puncture", "pressure" (pinched or lost its air), "age". ' +
      'An end between two days, or at some time, may leave it blank.',
  ].join('\n\n');
}

function exampleText(): string {
  const file = join(FOLDER, EXAMPLE, 'logbook.json');
  const text = readFileSync(file, 'utf8');
  const { scenario } = readScenario(join(FOLDER, EXAMPLE_SCENARIO));
  const log = readLogbook(file, { scenario });
  const described = JSON.parse(text) as Readonly<Record<TableName, { readonly file: string } | undefined>>;
  const tables = TABLE_NAMES.flatMap((name) => {
    const csv = described[name]?.file;
    if (csv === undefined) return [];
    return [`${csv}:`, block('csv', readFileSync(join(FOLDER, EXAMPLE, csv), 'utf8'))];
  });
  const shown = `scenarios/${EXAMPLE}/logbook.json`;
  const command = `gravelbar check ${shown} --scenario scenarios/${EXAMPLE_SCENARIO}`;
  return [
    '## Worked example: files with columns of their own',
    `An operator of one (invented) airplane has three files. They stay as they are; \`${shown}\` says what they mean.`,
    ...tables,
    'logbook.json:',
    block('json', text),
    block('console', `$ ${command}\n${checkedText(shown, log, scenario.name)}\n`),
  ].join('\n\n');
}

function block(language: string, text: string): string {
  return `\`\`\`${language}\n${text.trimEnd()}\n\`\`\``;
}

function markdownTable(heading: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string =>
    `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  return [line(heading), line(heading.map(() => '---')), ...rows.map(line)].join('\n');
}
