import { join } from 'node:path';
import type { ChartSpec } from '../chart/spec.js';
import { printable } from '../present/words.js';
import { CancelledError } from '../problems.js';
import type { Scenario } from '../scenario/schema/index.js';
import type { Progress } from '../simulate/simulate.js';
import { STOPPED_EXIT_CODE } from './exit-codes.js';
import { prepareFile, prepareFolder, writeWhole } from './output.js';
import { pictureFormat, type Drawing } from './picture.js';
import { progressLine } from './progress.js';

/** Options of every command that answers a question. */
export interface DecisionOptions {
  readonly json?: boolean;
  readonly out?: string;
  readonly chart?: string;
  readonly seed?: string;
  readonly trials?: number;
  readonly workers?: number;
}

/** How to follow the work of a command and stop it. */
export interface Following {
  readonly signal: AbortSignal;
  readonly onProgress: (progress: Progress) => void;
}

/** An answer: as data, as text, and as a picture. */
export interface Decision {
  readonly result: unknown;
  readonly text: string;
  /** Draws it; called only if a picture is asked for. */
  readonly chart: () => ChartSpec | Promise<ChartSpec>;
}

/**
 * Works out an answer, prints it, and writes the files asked for: all of them, or none.
 *
 * @param name of the files in the folder of `--out`.
 * @param options from the command line.
 * @param signal stops the work; nothing is written then.
 * @param work gives the answer.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export async function answerQuestion(
  name: string,
  { json, out, chart }: DecisionOptions,
  signal: AbortSignal,
  work: (following: Following) => Promise<Decision>,
): Promise<number> {
  const pictures = [
    ...(chart === undefined ? [] : [chart]),
    ...(out === undefined ? [] : [join(out, `${name}.svg`)]),
  ];
  pictures.forEach(pictureFormat);
  const removeEmptyFolders = out === undefined ? () => undefined : prepareFolder(out);
  const line = progressLine(process.stderr);
  try {
    const files = (decision?: { readonly json: string; readonly text: string }): [string, Drawing][] =>
      out === undefined
        ? []
        : [
            [join(out, `${name}.json`), decision?.json ?? ''],
            [join(out, `${name}.txt`), decision?.text ?? ''],
          ];
    for (const file of [...pictures, ...files().map(([path]) => path)]) prepareFile(file);
    const decision = await work({
      signal,
      onProgress: (progress) => {
        line.update(progress);
      },
    });
    line.clear();
    // Drawn before anything is written, so that a chart that cannot be drawn leaves nothing behind.
    const spec = pictures.length === 0 ? null : await decision.chart();
    line.clear();
    const drawings: [string, Drawing][] = [];
    for (const file of spec === null ? [] : pictures) {
      drawings.push([file, await pictureFormat(file)(spec!)]);
    }
    if (signal.aborted) throw new CancelledError('stopped');
    const texts = { json: `${JSON.stringify(decision.result, null, 2)}\n`, text: `${decision.text}\n` };
    const contents = [...files(texts), ...drawings];
    for (const [file, drawing] of contents) writeWhole(file, drawing);
    process.stdout.write(json === true ? texts.json : texts.text);
    if (contents.length > 0) {
      process.stderr.write(`wrote ${contents.map(([file]) => printable(file)).join(', ')}\n`);
    }
    return 0;
  } catch (error) {
    line.clear();
    if (!(error instanceof CancelledError)) throw error;
    process.stderr.write(`gravelbar: ${error.message}; there is nothing to show\n`);
    return STOPPED_EXIT_CODE;
  } finally {
    removeEmptyFolders();
  }
}

/** The scenario with the seed of the command line, if there is one. */
export function seeded(scenario: Scenario, { seed }: DecisionOptions): Scenario {
  return seed === undefined ? scenario : { ...scenario, run: { ...scenario.run, seed } };
}
