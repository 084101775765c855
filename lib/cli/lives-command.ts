import { readLogbook } from '../calibrate/read-logbook.js';
import { recordLives } from '../calibrate/record-lives.js';
import type { LivesBy } from '../calibrate/record-lives-types.js';
import type { LifeUnit } from '../calibrate/lives.js';
import { livesTable } from '../present/lives-table.js';
import { readScenario } from '../scenario/read.js';

/** Options of `gravelbar lives`. */
export interface LivesCommandOptions {
  readonly scenario?: string;
  readonly unit?: LifeUnit;
  readonly by?: LivesBy;
  readonly at?: readonly number[];
  readonly level?: number;
  readonly json?: boolean;
}

/**
 * `gravelbar lives RECORDS`: how long tires lasted.
 *
 * @param file path of the log.
 * @param options from the command line.
 * @returns text to print, ending with a line end.
 * @throws RecordsError, ScenarioError, UsageError.
 */
export function livesCommand(
  file: string,
  { scenario: scenarioFile, unit, by, at, level, json }: LivesCommandOptions,
): string {
  const scenario = scenarioFile === undefined ? undefined : readScenario(scenarioFile).scenario;
  const lives = recordLives(readLogbook(file, { scenario }), { unit, by, at, level });
  return json === true ? `${JSON.stringify(lives, jsonValue, 2)}\n` : `${livesTable(lives)}\n`;
}

/** JSON has no infinity: a life that had not ended has no upper end. */
function jsonValue(_key: string, value: unknown): unknown {
  return value === Infinity ? null : value;
}
