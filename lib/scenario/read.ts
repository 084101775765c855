import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ScenarioError, type Problem } from '../problems.js';
import { withoutOverruled } from './check-fitted.js';
import { checkLinks } from './check-links.js';
import { withNames } from './check-names.js';
import { problemsFromZod } from './issues.js';
import { readJsonSource, type JsonSource } from './json-source.js';
import { MAX_BYTES } from './json-text.js';
import { readAtMost } from './read-at-most.js';
import { mergeLayers, type MergedScenario } from './merge.js';
import { namedSections, scenarioSchema, type Scenario } from './schema/index.js';

/** File of the library of invented equipment, places and assumptions that every scenario starts from. */
export const defaultsFile: string = fileURLToPath(new URL('../../scenarios/defaults.json', import.meta.url));

const MOST_LAYERS = 20;
/** What the defaults are called in messages. */
const DEFAULTS_NAME = 'gravelbar defaults';
/** What changes made by a program are called in messages. */
const CHANGES_NAME = 'changes';
/** Keys about the file itself, not about the scenario. */
const FILE_KEYS = ['$schema', 'extends'];

/** A scenario read from files, with the place of every value. */
export interface ReadScenario {
  readonly scenario: Scenario;
  readonly merged: MergedScenario;
  /** Files it was put together from, defaults first. */
  readonly files: readonly string[];
}

/** Entries to lay over a scenario, in the form of a scenario file. */
export type ScenarioChanges = Readonly<Record<string, unknown>>;

/**
 * Reads and checks a scenario file: the defaults, then the files it extends, then the file itself, then changes.
 *
 * @param file path of the scenario file.
 * @param changes entries to lay over the file, to ask "what if", or the text of a scenario file that has them, such as
 *   that of `assumptionsFile`; "extends" is relative to the file.
 * @returns the checked scenario in SI units.
 * @throws ScenarioError listing every problem with file, line, column, what was found and what is allowed.
 */
export function readScenario(file: string, changes?: ScenarioChanges | string): ReadScenario {
  const folder = dirname(resolve(file));
  const layer = { source: readFileBytes(file, file), name: file, folder, chain: [resolve(file)] };
  return assemble(withChanges(layer, changes));
}

/**
 * Checks a scenario given as JSON text.
 *
 * @param text the JSON text.
 * @param name what to call it in messages.
 * @param folder folder that "extends" paths start from; default: the working folder.
 * @param changes entries to lay over it, as those of {@link readScenario}.
 * @returns the checked scenario in SI units.
 * @throws ScenarioError listing every problem.
 */
export function parseScenario(
  text: string,
  name = 'scenario',
  folder = '.',
  changes?: ScenarioChanges | string,
): ReadScenario {
  return assemble(withChanges({ source: text, name, folder: resolve(folder), chain: [] }, changes));
}

interface Layer {
  readonly source: string | Uint8Array;
  readonly name: string;
  /** Folder that the paths in it start from. */
  readonly folder: string;
  /** Files that led to it, which it must not extend again. */
  readonly chain: readonly string[];
}

/** A layer, and changes to lay over it where there are any. */
function withChanges(layer: Layer, changes: ScenarioChanges | string | undefined): Layer[] {
  if (changes === undefined) return [layer];
  // As text, so that a wrong value in the changes is reported with its place like one in a file.
  const source = typeof changes === 'string' ? changes : JSON.stringify(changes, null, 2);
  return [layer, { ...layer, source, name: CHANGES_NAME }];
}

function assemble(own: readonly Layer[]): ReadScenario {
  const layers: JsonSource[] = [];
  const files: string[] = [];
  addLayer(
    readFileBytes(defaultsFile, defaultsFile),
    DEFAULTS_NAME,
    dirname(defaultsFile),
    [],
    layers,
    files,
  );
  for (const { source, name, folder, chain } of own) addLayer(source, name, folder, chain, layers, files);
  const merged = withoutFileKeys(mergeLayers(layers, namedSections));
  const parsed = scenarioSchema.safeParse(merged.value);
  if (!parsed.success) {
    throw new ScenarioError(withNames(problemsFromZod(parsed.error, merged, scenarioSchema), merged));
  }
  const problems = checkLinks(parsed.data, merged);
  if (problems.length > 0) throw new ScenarioError(problems);
  return { scenario: withoutOverruled(parsed.data, merged, files), merged, files };
}

/** Adds the files a layer extends, then the layer, so that later ones go over earlier ones. */
function addLayer(
  text: string | Uint8Array,
  name: string,
  folder: string,
  chain: readonly string[],
  layers: JsonSource[],
  files: string[],
): void {
  const source = readJsonSource(text, name);
  const extended = readExtends(source, name);
  for (const [index, relative] of extended.entries()) {
    const file = resolve(folder, relative);
    const place = { ...position(source, ['extends', index]), path: `extends.${index}` };
    if (chain.includes(file)) {
      throw new ScenarioError([
        {
          ...place,
          found: JSON.stringify(relative),
          allowed: 'a file cannot extend itself, nor in a circle',
        },
      ]);
    }
    if (layers.length + chain.length > MOST_LAYERS) {
      throw new ScenarioError([
        {
          ...place,
          found: JSON.stringify(relative),
          allowed: `expected at most ${MOST_LAYERS} files in all`,
        },
      ]);
    }
    addLayer(readFileBytes(file, relative, place), relative, dirname(file), [...chain, file], layers, files);
  }
  layers.push(source);
  files.push(name);
}

function position(
  source: JsonSource,
  path: (string | number)[],
): { file: string; line: number; column: number } {
  const { line, column } = source.positionOf(path);
  return { file: source.fileName, line, column };
}

function readExtends(source: JsonSource, name: string): string[] {
  const value = source.value['extends'];
  if (value === undefined) return [];
  const list = Array.isArray(value) ? (value as unknown[]) : [value];
  if (list.every((item) => typeof item === 'string')) return list;
  throw new ScenarioError([
    {
      ...position(source, ['extends']),
      file: name,
      path: 'extends',
      found: JSON.stringify(value).slice(0, 60),
      allowed: 'expected the path of a file, or a list of paths, relative to this file',
    },
  ]);
}

function withoutFileKeys(merged: MergedScenario): MergedScenario {
  const entries = Object.entries(merged.value).filter(([key]) => {
    // The note of the defaults is about the defaults.
    if (key === 'note') return merged.originOf(['note']).fileName !== DEFAULTS_NAME;
    return !FILE_KEYS.includes(key);
  });
  return { ...merged, value: Object.fromEntries(entries) };
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'no such file',
  ENOTDIR: 'no such file',
  EISDIR: 'a folder',
  EACCES: 'a file that may not be read',
  EPERM: 'a file that may not be read',
  ENAMETOOLONG: 'a name that is too long',
  ELOOP: 'links that lead in a circle',
  ERR_INVALID_ARG_VALUE: 'a name that no file can have',
};

/** Bytes of a file; a problem in plain words if it cannot be read. */
function readFileBytes(file: string, shown: string, place: Partial<Problem> = {}): Uint8Array {
  const fail = (found: string, allowed: string): never => {
    throw new ScenarioError([{ file: shown, path: '', ...place, found, allowed }]);
  };
  let bytes: Uint8Array;
  try {
    bytes = readAtMost(file, MAX_BYTES + 1);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? 'unknown error';
    return fail(`${REASONS[code] ?? code} (${shown})`, 'expected a scenario file in JSON');
  }
  if (bytes.length > MAX_BYTES) {
    fail(`a file of more than ${MAX_BYTES} bytes`, `expected a scenario file of at most ${MAX_BYTES} bytes`);
  }
  return bytes;
}
