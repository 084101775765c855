import { join } from 'node:path';
import type { ChartSpec } from '../chart/spec.js';
import { printable } from '../present/words.js';
import { CancelledError, UsageError } from '../problems.js';
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
  /** What is printed instead of the text, which then only goes into the folder. */
  readonly printed?: string;
  /** Draws it; called only if a picture is asked for without a name. */
  readonly chart: () => ChartSpec | Promise<ChartSpec>;
  /** Said where that picture is drawn: why it is this one. */
  readonly aboutChart?: string;
  /** Draws the named pictures; null for one that there is nothing for. Left out: the one picture. */
  readonly pictures?: Readonly<Record<string, () => ChartSpec | null>>;
  /** Says how far the work came where it was stopped with a part of it finished: that part is told, without pictures. */
  readonly stopped?: string;
}

/** Pictures of an answer that has several. */
export interface NamedPictures {
  /** Those that go into the folder. */
  readonly names: readonly string[];
  /** Those asked for in the file of `--chart`; none: the usual one, or all where the name of the file tells them apart. */
  readonly asked: readonly string[];
}

/** Stands for the name of a picture in the name of a file. */
export const PICTURE_PLACE = '{picture}';

/** Files of `--chart`, each with the name of its picture; null for the usual one. */
function chartFiles(
  chart: string | undefined,
  { names, asked }: NamedPictures,
): (readonly [file: string, picture: string | null])[] {
  if (chart === undefined) return [];
  const hasPlace = names.length > 0 && chart.includes(PICTURE_PLACE);
  if (asked.length === 0 && !hasPlace) return [[chart, null]];
  const drawn = asked.length === 0 ? names : [...new Set(asked)];
  if (drawn.length > 1 && !hasPlace) {
    throw new UsageError(
      `${drawn.length} pictures need names of their own: write ${PICTURE_PLACE} where the name of each goes, such as --chart x-${PICTURE_PLACE}.png`,
    );
  }
  return drawn.map((picture) => [chart.replaceAll(PICTURE_PLACE, picture), picture] as const);
}

/**
 * Works out an answer, prints it, and writes the files asked for: all of them, or none.
 *
 * @param name of the files in the folder of `--out`.
 * @param options from the command line.
 * @param signal stops the work; nothing is written then.
 * @param work gives the answer.
 * @param named pictures, where there are several; default: one with the name of the files.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export async function answerQuestion(
  name: string,
  { json, out, chart }: DecisionOptions,
  signal: AbortSignal,
  work: (following: Following) => Promise<Decision>,
  named: NamedPictures = { names: [], asked: [] },
): Promise<number> {
  /** Files of pictures, each with its name; null for the one picture. */
  const pictures: (readonly [file: string, picture: string | null])[] = [
    ...chartFiles(chart, named),
    ...(out === undefined
      ? []
      : named.names.length === 0
        ? [[join(out, `${name}.svg`), null] as const]
        : named.names.map((picture) => [join(out, `${name}-${picture}.svg`), picture] as const)),
  ];
  for (const [file] of pictures) pictureFormat(file);
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
    for (const [file] of [...pictures, ...files()]) prepareFile(file);
    const decision = await work({
      signal,
      onProgress: (progress) => {
        line.update(progress);
      },
    });
    line.clear();
    // Drawn before anything is written, so that a chart that cannot be drawn leaves nothing behind.
    const drawings = decision.stopped === undefined ? await draw(pictures, decision) : [];
    line.clear();
    if (signal.aborted && decision.stopped === undefined) throw new CancelledError('stopped');
    const texts = { json: `${JSON.stringify(decision.result, null, 2)}\n`, text: `${decision.text}\n` };
    const contents = [...files(texts), ...drawings];
    for (const [file, drawing] of contents) writeWhole(file, drawing);
    const printed = decision.printed === undefined ? texts.text : `${decision.printed}\n`;
    process.stdout.write(json === true ? texts.json : printed);
    if (contents.length > 0) {
      process.stderr.write(`wrote ${contents.map(([file]) => printable(file)).join(', ')}\n`);
    }
    if (decision.stopped === undefined) {
      const remarks = remarksOf(pictures, drawings, decision, named);
      for (const remark of remarks) process.stderr.write(`${remark}\n`);
      return 0;
    }
    const without = pictures.length === 0 ? '' : '; pictures are left out';
    process.stderr.write(`gravelbar: ${decision.stopped}${without}\n`);
    return STOPPED_EXIT_CODE;
  } catch (error) {
    line.clear();
    if (!(error instanceof CancelledError)) throw error;
    process.stderr.write(`gravelbar: ${error.message}; there is nothing to show\n`);
    return STOPPED_EXIT_CODE;
  } finally {
    removeEmptyFolders();
  }
}

/** What is said of pictures: why it is this one, and which of those asked for there is nothing for. */
function remarksOf(
  pictures: readonly (readonly [file: string, picture: string | null])[],
  drawings: readonly (readonly [file: string, drawing: Drawing])[],
  { aboutChart }: Decision,
  { names, asked }: NamedPictures,
): string[] {
  const drawn = new Set(drawings.map(([file]) => file));
  const chosen = names.length > 0 && pictures.some(([, picture]) => picture === null);
  return [
    ...(chosen && aboutChart !== undefined ? [aboutChart] : []),
    ...pictures.flatMap(([file, picture]) =>
      picture !== null && asked.includes(picture) && !drawn.has(file)
        ? [`nothing to draw for ${picture}: ${printable(file)} is not written`]
        : [],
    ),
  ];
}

/** Draws the pictures that there is something for. */
async function draw(
  pictures: readonly (readonly [file: string, picture: string | null])[],
  decision: Decision,
): Promise<[string, Drawing][]> {
  const drawings: [string, Drawing][] = [];
  let one: ChartSpec | null = null;
  for (const [file, picture] of pictures) {
    const spec = picture === null ? (one ??= await decision.chart()) : decision.pictures![picture]!();
    if (spec !== null) drawings.push([file, await pictureFormat(file)(spec)]);
  }
  return drawings;
}

/** The scenario with the seed of the command line, if there is one. */
export function seeded(scenario: Scenario, { seed }: DecisionOptions): Scenario {
  return seed === undefined ? scenario : { ...scenario, run: { ...scenario.run, seed } };
}
