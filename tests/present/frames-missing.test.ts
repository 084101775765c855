import { cpSync, existsSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { inFolder, root, runProgram, shipped } from '../support/command.js';
import { libraryModules } from '../support/sources.js';

interface Manifest {
  readonly dependencies: Readonly<Record<string, string>>;
  readonly peerDependencies: Readonly<Record<string, string>>;
  readonly overrides: Readonly<Record<string, Readonly<Record<string, string>>>>;
}

const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as Manifest;

/** A program of a user: everything works, and the three calls that make frames say what they need. */
const PROGRAM = `
import { compileScenario, curveFrame, pairingFrame, pairingsCsv, readScenario, runScenario, trialFrame, trialsCsv }
  from 'gravelbar';
const scenario = compileScenario(readScenario(process.argv[2]).scenario);
const { result, simulation } = await runScenario(scenario, { trials: 4, workers: 1 });
const lines = (text) => text.trimEnd().split('\\n').length;
const rows = [lines(pairingsCsv(result)), lines([...trialsCsv(scenario, simulation)].join(''))];
const refused = await Promise.all(
  [pairingFrame(result), trialFrame(scenario, simulation), curveFrame(result)].map((frame) =>
    frame.then(() => 'made', ({ name, message }) => ({ name, message })),
  ),
);
console.log(JSON.stringify({ rows, refused }));
`;

interface Answer {
  readonly rows: readonly number[];
  readonly refused: readonly { readonly name: string; readonly message: string }[];
}

/** Runs the program with gravelbar and its dependencies installed, and what else is put beside them. */
async function runInstalled(installMore: (packages: string) => void): Promise<Answer> {
  return inFolder(async (folder) => {
    const packages = join(folder, 'node_modules');
    // Copied, not linked: a linked file finds the packages where it really is.
    cpSync(join(root, 'dist'), join(packages, 'gravelbar', 'dist'), { recursive: true });
    for (const name of ['package.json', 'scenarios'])
      cpSync(join(root, name), join(packages, 'gravelbar', name), { recursive: true });
    for (const name of Object.keys(manifest.dependencies)) {
      mkdirSync(dirname(join(packages, name)), { recursive: true });
      symlinkSync(join(root, 'node_modules', name), join(packages, name), 'dir');
    }
    installMore(packages);
    writeFileSync(join(folder, 'program.mjs'), PROGRAM);
    const { code, stdout, stderr } = await runProgram(
      process.execPath,
      ['program.mjs', shipped('first.json')],
      { cwd: folder },
    );
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    return JSON.parse(stdout) as Answer;
  });
}

describe('without danfojs-node', () => {
  let answer: Answer;
  beforeAll(async () => {
    answer = await runInstalled((packages) => {
      expect(existsSync(join(packages, 'danfojs-node'))).toBe(false);
    });
  });

  test('everything but data frames works', () => {
    expect(answer.rows).toEqual([1 + 2, 1 + 2 * 4]);
  });

  test('a data frame is refused with the overrides and the command that install it', () => {
    expect(answer.refused).toHaveLength(3);
    for (const { name, message } of answer.refused) {
      expect(name).toBe('UsageError');
      expect(message).toMatch(
        /^a data frame needs danfojs-node, which is not installed: put "overrides": \{/,
      );
      const json = /"overrides": (\{.*\}) into your package\.json/.exec(message)![1]!;
      expect(JSON.parse(json)).toEqual({ 'danfojs-node': manifest.overrides['danfojs-node'] });
      const command = /then run npm install danfojs-node@(\d+\.\d+\.\d+)$/.exec(message);
      expect(manifest.peerDependencies['danfojs-node']).toBe(`^${command![1]!}`);
    }
  });

  test('no declaration asks for its types', () => {
    const declarations = libraryModules().map(({ path }) => path.replace(/\.ts$/, '.d.ts'));
    for (const path of declarations) {
      const text = readFileSync(join(root, 'dist', path), 'utf8');
      expect(text, path).not.toMatch(/(from|import\() *['"]danfojs-node/);
    }
  });
});

test('with a danfojs-node that lacks a part, the message names the part', async () => {
  const { refused } = await runInstalled((packages) => {
    const folder = join(packages, 'danfojs-node');
    mkdirSync(folder);
    writeFileSync(join(folder, 'package.json'), '{ "name": "danfojs-node", "main": "index.js" }');
    writeFileSync(join(folder, 'index.js'), "require('xlsx');");
  });
  for (const { name, message } of refused) {
    expect(name).toBe('UsageError');
    expect(message).toMatch(
      /^a data frame needs danfojs-node, which does not load \(Cannot find module 'xlsx'\): put /,
    );
  }
});
