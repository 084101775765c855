import { FOUND_LENGTH, plainText } from './text.js';

/** One thing wrong with a scenario or another input file. */
export interface Problem {
  /** File it is in, when it is in one. */
  readonly file?: string;
  /** Line, counted from 1. */
  readonly line?: number;
  /** Column in UTF-16 units, counted from 1, as editors show it. */
  readonly column?: number;
  /** Where in the data: `setups.soft.mainPressure`; empty for the file as a whole. */
  readonly path: string;
  /** What is there. */
  readonly found: string;
  /** What may be there, as a clause: "expected 3 psi to 120 psi". */
  readonly allowed: string;
  /** What to do, when there is a good guess: `did you mean "25 psi"?` */
  readonly suggestion?: string;
}

/** Problems listed in a message, equal ones as one; the rest are counted. */
const LISTED = 40;

function placeText(problem: Problem, withFile: boolean): string {
  const place: string[] = [];
  if (withFile && problem.file !== undefined) place.push(plainText(problem.file, 200));
  if (problem.line !== undefined) place.push(String(problem.line));
  if (problem.line !== undefined && problem.column !== undefined) place.push(String(problem.column));
  return place.join(':');
}

function sentence(problem: Problem): string {
  const path = problem.path === '' ? '' : `${plainText(problem.path, 200)}: `;
  const suggestion = problem.suggestion === undefined ? '' : `; ${plainText(problem.suggestion, 300)}`;
  return `${path}found ${plainText(problem.found, FOUND_LENGTH)}; ${plainText(problem.allowed, 400)}${suggestion}`;
}

/** Other places of the same problem that are named one by one, as ranges of lines; the rest are counted. */
const PLACES_NAMED = 24;

/** Equal problems in rows of one file: told once, with the lines of the others. */
interface ProblemGroup {
  readonly first: Problem;
  /** Lines of the others, in order. */
  readonly lines: number[];
}

/** Puts rows of a file together that have the same wrong; problems with a column of the text stand alone. */
function groupProblems(problems: readonly Problem[]): ProblemGroup[] {
  const groups: ProblemGroup[] = [];
  const byText = new Map<string, ProblemGroup>();
  for (const problem of problems) {
    const { file, line, column, path, found, allowed, suggestion } = problem;
    const key = JSON.stringify([file, path, found, allowed, suggestion]);
    const group = line === undefined || column !== undefined ? undefined : byText.get(key);
    if (group !== undefined) {
      group.lines.push(line!);
      continue;
    }
    const made = { first: problem, lines: [] };
    groups.push(made);
    if (line !== undefined && column === undefined) byText.set(key, made);
  }
  return groups;
}

/** Lines as ranges: "lines 6 to 9, 12 and 15". */
function linesText(lines: readonly number[]): string {
  const ranges: [number, number][] = [];
  for (const line of [...lines].sort((one, other) => one - other)) {
    const last = ranges.at(-1);
    if (last !== undefined && line <= last[1] + 1) last[1] = line;
    else ranges.push([line, line]);
  }
  const named = ranges
    .slice(0, PLACES_NAMED)
    .map(([from, to]) => (to > from + 1 ? `${from} to ${to}` : to > from ? `${from}, ${to}` : String(from)));
  const left = ranges.slice(PLACES_NAMED);
  const noun = ranges.length === 1 && ranges[0]![0] === ranges[0]![1] ? 'line' : 'lines';
  if (left.length === 0) return `${noun} ${named.join(', ')}`;
  const rows = left.reduce((sum, [from, to]) => sum + to - from + 1, 0);
  return `${noun} ${named.join(', ')} and ${rows} more up to line ${left.at(-1)![1]}`;
}

/**
 * Problems as text, one a line: place, what was found, what is allowed, what to do. Rows of a file that have the same
 * wrong are told once, with the lines of the others below.
 *
 * @param problems what is wrong; at least one.
 * @param most problems that are listed; the rest are counted.
 */
export function listProblems(problems: readonly Problem[], most = LISTED): string {
  const files = new Set(problems.map((problem) => problem.file));
  const onlyFile = files.size === 1 ? problems[0]?.file : undefined;
  const where = onlyFile === undefined ? '' : ` in ${plainText(onlyFile, 200)}`;
  const heading = `${problems.length} ${problems.length === 1 ? 'problem' : 'problems'}${where}`;
  const groups = groupProblems(problems);
  const listed = groups.slice(0, most);
  const places = listed.map(({ first }) => placeText(first, files.size > 1));
  const width = places.reduce((widest, place) => Math.max(widest, place.length), 0);
  const lines = listed.flatMap(({ first, lines: others }, index) => {
    const place = width === 0 ? '' : `${places[index]!.padEnd(width)}  `;
    const line = `  ${place}${sentence(first)}`;
    if (others.length === 0) return [line];
    const rows = `${others.length} more ${others.length === 1 ? 'row' : 'rows'}`;
    return [line, `  ${' '.repeat(width + 2)}the same in ${rows}: ${linesText(others)}`];
  });
  const left = groups.slice(most).reduce((sum, { lines: others }) => sum + 1 + others.length, 0);
  if (left > 0) lines.push(`  and ${left} more`);
  return [heading, ...lines].join('\n');
}

/**
 * An input file or scenario that cannot be used, with everything that is wrong with it.
 *
 * The message lists up to 40 problems, one a line, each with its place, what was found, what is allowed and what to
 * do; rows of a table with the same wrong count as one and are named by their lines. Found values are shortened and control characters shown as codes. `problems` holds all of them.
 */
export class ScenarioError extends Error {
  override readonly name: string = 'ScenarioError';
  /** All problems, at least one. */
  readonly problems: readonly Problem[];

  /** @param problems what is wrong; at least one. */
  constructor(problems: readonly Problem[]) {
    super(listProblems(problems));
    this.problems = Object.freeze([...problems]);
  }
}

/** A run was stopped on request (its `AbortSignal` fired); no result was made. */
export class CancelledError extends Error {
  override readonly name: string = 'CancelledError';

  /** @param message what was stopped, in one sentence. */
  constructor(message = 'the run was cancelled before it finished') {
    super(message);
  }
}

/** Where a quantity stopped being a finite number. */
export interface NonFinitePlace {
  /** Seed of the run. */
  readonly seed: string | number;
  /** Trial, counted from 0. */
  readonly trial: number;
  /** Landing within the trial, counted from 0. */
  readonly landing: number;
  /** Name of the pairing of set-up and runway mix. */
  readonly pairing: string;
  /** What was computed, in words: "wear of the left main tire". */
  readonly quantity: string;
  /** The value: NaN, Infinity or -Infinity. */
  readonly value: number;
}

/**
 * A model gave NaN or an infinity. The run stops, as one such value would spoil every figure made from it. The fields
 * name the one landing to replay.
 */
export class NonFiniteError extends Error {
  override readonly name: string = 'NonFiniteError';
  readonly place: NonFinitePlace;

  /** @param place where it happened and what was computed. */
  constructor(place: NonFinitePlace) {
    const { seed, trial, landing, pairing, quantity, value } = place;
    super(
      `${plainText(quantity, 100)} is ${value}, not a finite number: seed ${plainText(JSON.stringify(seed), 100)}, ` +
        `trial ${trial}, landing ${landing}, pairing ${plainText(JSON.stringify(pairing), 140)}`,
    );
    this.place = Object.freeze({ ...place });
  }
}

/** A mistake in a command line or in the options of a call. The message is one line. */
export class UsageError extends Error {
  override readonly name: string = 'UsageError';

  /** @param message what is wrong and what is allowed; cut at 500 characters, line ends shown as codes. */
  constructor(message: string) {
    super(plainText(message, 500));
  }
}
