import { existsSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { LOG_SCHEMA_NAME, starterLog } from '../calibrate/starter-log.js';
import { listText } from '../present/lists.js';
import { printable } from '../present/words.js';
import { UsageError } from '../problems.js';
import { prepareFolder, writeWhole } from './output.js';
import { schemaText } from './schema-command.js';

/**
 * `gravelbar new --records FOLDER`: writes a log to start from: its description, a CSV file for each table, and the schema
 * beside it for editors. All of them, or none.
 *
 * @param folder where to write them; made if it does not exist.
 * @returns lines to print.
 * @throws UsageError if one of the files exists or cannot be written; nothing is left behind.
 */
export function newLogCommand(folder: string): string {
  const files = Object.entries({ ...starterLog(), [LOG_SCHEMA_NAME]: schemaText('records') });
  const names = files.map(([name]) => name);
  const there = names.filter((name) => existsSync(join(folder, name)));
  if (there.length > 0) {
    const what = there.length === 1 ? 'exists' : 'exist';
    throw new UsageError(
      `${listText(there)} ${what} in ${folder}; choose another folder or remove ${there.length === 1 ? 'it' : 'them'} first`,
    );
  }
  const removeEmptyFolders = prepareFolder(folder);
  const written: string[] = [];
  try {
    for (const [name, text] of files) {
      writeWhole(join(folder, name), text);
      written.push(name);
    }
  } catch (error) {
    for (const name of written) rmSync(join(folder, name), { force: true });
    removeEmptyFolders();
    throw error;
  }
  const log = printable(join(folder, names[0]!));
  return (
    `wrote ${listText(names)} into ${printable(folder)}\n` +
    `  the rows called EXAMPLE are invented: put your own in their place; try: gravelbar check ${log}`
  );
}
