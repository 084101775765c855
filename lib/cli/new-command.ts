import { existsSync, readFileSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { printable } from '../present/words.js';
import { UsageError } from '../problems.js';
import { defaultsFile } from '../scenario/read.js';
import { prepareFile, writeWhole } from './output.js';
import { schemaText } from './schema-command.js';

const SCHEMA_NAME = 'scenario.schema.json';
const HABITS = ['checkEvery', 'inspectEvery', 'removeAt', 'treadLimit', 'replace', 'ageLimit'];

/**
 * A scenario to start from: two set-ups, one mix, and the parts of the defaults that operators change first.
 *
 * @returns JSON text.
 */
export function starterScenario(): string {
  const defaults = JSON.parse(readFileSync(defaultsFile, 'utf8')) as Record<string, Record<string, unknown>>;
  const first = JSON.parse(readFileSync(join(dirname(defaultsFile), 'first.json'), 'utf8')) as Record<
    string,
    unknown
  >;
  const habits = Object.fromEntries(HABITS.map((key) => [key, defaults['habits']?.[key]]));
  const starter = {
    ...first,
    $schema: `./${SCHEMA_NAME}`,
    name: 'My season',
    note: 'Started from the invented defaults: change what differs, and say where each number comes from.',
    season: defaults['season'],
    habits,
    run: { trials: '2000', seed: 'my season' },
  };
  return `${JSON.stringify(starter, null, 2)}\n`;
}

/**
 * `gravelbar new FILE`: writes a scenario to start from, and the schema beside it for editors.
 *
 * @param file where to write it; must not exist.
 * @returns lines to print.
 * @throws UsageError if the file exists or cannot be written.
 */
export function newCommand(file: string): string {
  if (existsSync(file)) throw new UsageError(`${file} exists; choose another name or remove it first`);
  prepareFile(file);
  const schemaFile = join(dirname(file), SCHEMA_NAME);
  const hadSchema = existsSync(schemaFile);
  writeWhole(file, starterScenario());
  const shown = printable(file);
  if (hadSchema) return `wrote ${shown}; try: gravelbar run ${shown}`;
  try {
    writeWhole(schemaFile, schemaText('scenario'));
  } catch (error) {
    rmSync(file);
    throw error;
  }
  return `wrote ${shown} and ${printable(schemaFile)}; try: gravelbar run ${shown}`;
}
