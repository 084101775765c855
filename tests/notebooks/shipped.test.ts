import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { root, type Finished } from '../support/command.js';
import { tool } from './support.js';

const MINUTES = 60_000;
/** Code hosts stop showing notebooks much larger than this. */
const MOST_BYTES = 2_000_000;

const folder = join(root, 'notebooks');
const notebooks = readdirSync(folder).filter((name) => name.endsWith('.ipynb'));

test('there are notebooks', () => {
  expect(notebooks).not.toEqual([]);
});

describe.runIf(notebooks.length > 0)('the notebooks, run by Jupyter in a clean kernel,', () => {
  let ended: Finished;

  beforeAll(async () => {
    ended = await tool('run', [], { cwd: folder });
  }, 20 * MINUTES);

  test.each(notebooks)('give what is saved: %s', (name) => {
    expect(ended.stdout.split('\n'), ended.stderr).toContain(`${name}: runs and gives what is saved`);
  });

  test.each(notebooks)('are small enough to be shown: %s', (name) => {
    expect(statSync(join(folder, name)).size).toBeLessThan(MOST_BYTES);
  });
});
