import { fileKind } from '../calibrate/logbook-kind.js';
import { RecordsError } from '../calibrate/records-error.js';
import { printable } from '../present/words.js';
import type { ScenarioError } from '../problems.js';

/**
 * What to say where a log of tires was given to a command that reads scenarios.
 *
 * @param error what is wrong with a scenario.
 * @returns one line, or null where the mistake is another one.
 */
export function logHint(error: ScenarioError): string | null {
  // What reads logs has told what is wrong with one.
  if (error instanceof RecordsError) return null;
  const files = [...new Set(error.problems.flatMap(({ file }) => (file === undefined ? [] : [file])))];
  const log = files.find((file) => fileKind(file) === 'log');
  return log === undefined
    ? null
    : `${printable(log)} is a log of tires, not a scenario: "gravelbar check", "lives" and "fit" read it`;
}
