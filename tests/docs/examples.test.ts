import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { root } from '../support/command.js';
import {
  docstringExamples,
  markdownExamples,
  markdownSessions,
  matchesSession,
  runExamples,
  runSessions,
  type Example,
  type Outcome,
} from '../support/examples.js';
import { libraryModules } from '../support/sources.js';

const PAGES = ['README.md', 'DEVELOPERS.md', 'scenarios/RECORDS.md'].filter((name) =>
  existsSync(join(root, name)),
);
const page = (name: string): string => readFileSync(join(root, name), 'utf8');

function expectRight({ checks, error }: Outcome): void {
  expect(error).toBeNull();
  for (const { statement, expected, actual, ok } of checks) {
    expect(ok, `${statement} gives ${actual}, not ${expected}`).toBe(true);
  }
}

const docstrings = libraryModules().flatMap(docstringExamples);
const programs = PAGES.flatMap((name) => markdownExamples(name, page(name)));
const examples: readonly Example[] = [...docstrings, ...programs];
let outcomes: ReadonlyMap<Example, Outcome>;

beforeAll(async () => {
  const results = await runExamples(examples);
  outcomes = new Map(examples.map((example, index) => [example, results[index]!]));
});

describe('the example in the doc comment at', () => {
  test.each(docstrings.map((example) => [example.place, example] as const))('%s is right', (_, example) => {
    expect(example.code).toContain("from 'gravelbar'");
    const outcome = outcomes.get(example)!;
    expectRight(outcome);
    // Every result that is written is compared.
    expect(outcome.checks).toHaveLength(example.code.match(/\/\/ =>/g)?.length ?? 0);
    expect(outcome.checks.length).toBeGreaterThan(0);
  });
});

describe.runIf(programs.length > 0)('the program at', () => {
  test.each(programs.map((example) => [example.place, example] as const))(
    '%s runs as written',
    (_, example) => {
      const outcome = outcomes.get(example)!;
      expectRight(outcome);
      expect(outcome.checks).toHaveLength(example.code.match(/\/\/ =>/g)?.length ?? 0);
    },
  );
});

const sessions = PAGES.flatMap((name) => markdownSessions(name, page(name)));

describe.runIf(sessions.length > 0)('the command at', () => {
  let printed: readonly string[];
  beforeAll(async () => {
    printed = await runSessions(sessions);
  });

  test.each(sessions.map(({ place, command }, index) => [place, command, index] as const))(
    '%s prints what it says: %s',
    (_place, _command, index) => {
      const { expected } = sessions[index]!;
      if (!matchesSession(expected, printed[index]!))
        expect(printed[index]!.trimEnd()).toBe(expected.trimEnd());
    },
  );
});
