import { logbookJsonSchema } from '../calibrate/logbook-json-schema.js';
import { recordsPage } from '../present/records-page.js';
import { scenarioJsonSchema } from '../scenario/json-schema.js';
import { referencePage } from '../scenario/reference-page.js';

/**
 * `gravelbar schema`: the JSON Schema or the reference page of scenario files or of logs.
 *
 * @param what of which files.
 * @param page the page, instead of the schema.
 * @returns text ending with a line end.
 */
export function schemaOutput(what: 'scenario' | 'records', page: boolean): string {
  if (page) return what === 'records' ? recordsPage() : referencePage();
  return schemaText(what);
}

/** The JSON Schema as text. */
export function schemaText(what: 'scenario' | 'records'): string {
  const schema = what === 'records' ? logbookJsonSchema() : scenarioJsonSchema();
  return `${JSON.stringify(schema, null, 2)}\n`;
}
