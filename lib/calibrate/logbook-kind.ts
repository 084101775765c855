import { statSync } from 'node:fs';
import { ScenarioError } from '../problems.js';
import { readJsonSource } from '../scenario/json-source.js';
import { MAX_BYTES } from '../scenario/json-text.js';
import { readAtMost } from '../scenario/read-at-most.js';
import { scenarioSchema } from '../scenario/schema/index.js';
import { logbookSchema } from './logbook-schema.js';

const LOG_KEYS = Object.keys(logbookSchema.shape);
const SCENARIO_KEYS = [...Object.keys(scenarioSchema.shape), 'extends'];

/**
 * Tells a log from a scenario by what the file says: the keys that only one of them has, or tires with a file.
 *
 * @param file path of a JSON file.
 * @returns which it is, also of one with mistakes; null for a file that cannot be read as JSON.
 */
export function fileKind(file: string): 'log' | 'scenario' | null {
  const value = jsonOf(file);
  if (value === null) return null;
  const keys = Object.keys(value);
  const log = keys.filter((key) => LOG_KEYS.includes(key) && !SCENARIO_KEYS.includes(key)).length;
  const scenario = keys.filter((key) => SCENARIO_KEYS.includes(key) && !LOG_KEYS.includes(key)).length;
  const { tires } = value;
  const named =
    typeof tires === 'object' && tires !== null && typeof (tires as { file?: unknown }).file === 'string';
  return log + (named ? 1 : 0) > scenario ? 'log' : 'scenario';
}

/**
 * True for a file of fitted assumptions as a fit writes it: it goes over the scenario that was fitted and is none by itself.
 *
 * @param file path of a JSON file.
 */
export function isFitAlone(file: string): boolean {
  const value = jsonOf(file);
  return value !== null && 'fitted' in value && !('name' in value) && !('extends' in value);
}

/** What a file says; null for one that cannot be read as JSON. */
function jsonOf(file: string): Readonly<Record<string, unknown>> | null {
  try {
    // A pipe or device is read once, by those who want what it says.
    if (!statSync(file).isFile()) return null;
    return readJsonSource(readAtMost(file, MAX_BYTES + 1), file).value;
  } catch (error) {
    // What is wrong with the file is told by those who read it.
    if (error instanceof ScenarioError || (error instanceof Error && 'code' in error)) return null;
    throw error;
  }
}
