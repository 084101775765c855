import { readFileSync } from 'node:fs';

let known: string | undefined;

/** Version of this library, from its package file. */
export function version(): string {
  if (known === undefined) {
    const text = readFileSync(new URL('../package.json', import.meta.url), 'utf8');
    known = (JSON.parse(text) as { version: string }).version;
  }
  return known;
}
