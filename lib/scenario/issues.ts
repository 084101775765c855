import type { z } from 'zod';
import { pathText, valueText, type Problem } from '../problems.js';
import { choices, limitWords, oneOf, typeWords } from './issue-words.js';
import type { PlacedValue } from './merge.js';
import { nearestName } from '../units.js';
import { keysAt } from './schema-keys.js';

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];

/** What a problem says beside its place; `found` is the value at the path unless given. */
export interface ProblemDetails {
  readonly found?: string | undefined;
  readonly allowed: string;
  readonly suggestion?: string | undefined;
}

function valueAt(root: unknown, path: Path): unknown {
  let value: unknown = root;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Readonly<Record<PropertyKey, unknown>>)[step];
  }
  return value;
}

/**
 * A problem of a merged scenario with the file and place that the value came from; of the nearest ancestor where the
 * value is missing.
 *
 * @param part 'key' to point to the key instead of the value.
 */
export function problemAt(
  merged: PlacedValue,
  path: Path,
  details: ProblemDetails,
  part: 'key' | 'value' = 'value',
): Problem {
  const { fileName: file, line, column } = part === 'key' ? merged.keyOriginOf(path) : merged.originOf(path);
  const { found = valueText(valueAt(merged.value, path)), allowed, suggestion } = details;
  const problem = { file, line, column, path: pathText(path), found, allowed };
  return suggestion === undefined ? problem : { ...problem, suggestion };
}

function didYouMean(name: string | null): string | undefined {
  return name === null ? undefined : `did you mean ${JSON.stringify(name)}?`;
}

/** All that is needed to turn issues into problems. */
interface Context {
  readonly merged: PlacedValue;
  readonly root: z.core.$ZodType;
  readonly problems: Problem[];
  /** Paths of missing keys that an unknown key probably stands for. */
  readonly meant: Set<string>;
}

/** Longest list of allowed keys or values that is written out. */
const MAX_CHOICES = 12;

function tellUnknownKeys(
  { merged, root, problems, meant }: Context,
  path: Path,
  keys: readonly string[],
): void {
  const known = keysAt(root, path);
  const present = valueAt(merged.value, path);
  const fileOf = (key: string): string => merged.keyOriginOf([...path, key]).fileName;
  for (const key of keys) {
    // A key that the same file states is spelt right there; one from a file below is likely meant by a misspelt key.
    const free = known.filter(
      (name) => valueAt(present, [name]) === undefined || fileOf(name) !== fileOf(key),
    );
    const nearest = nearestName(key, free);
    if (nearest !== null) meant.add(pathText([...path, nearest]));
    const some = known.length > MAX_CHOICES ? `${known.slice(0, MAX_CHOICES).join(', ')}, ...` : oneOf(known);
    const allowed = known.length === 0 ? 'this key has no meaning here' : `expected ${some}`;
    const found = `unknown key ${valueText(key)}`;
    problems.push(
      problemAt(merged, [...path, key], { found, allowed, suggestion: didYouMean(nearest) }, 'key'),
    );
  }
}

/** Issues of the branch of a union that the value was most probably meant for; null when it fits none by type. */
function likelyBranch(branches: readonly (readonly Issue[])[]): readonly Issue[] | null {
  const fitting = branches.filter(
    (issues) => !issues.some((each) => each.code === 'invalid_type' && each.path.length === 0),
  );
  const fewest = Math.min(...fitting.map((issues) => issues.length));
  return fitting.find((issues) => issues.length === fewest) ?? null;
}

function tellUnion(context: Context, issue: z.core.$ZodIssueInvalidUnion, path: Path): void {
  const { merged, problems } = context;
  if (issue.discriminator !== undefined && issue.errors.length === 0 && 'options' in issue) {
    const options = issue.options ?? [];
    const value = valueAt(merged.value, path);
    const nearest = typeof value === 'string' ? nearestName(value, options.map(String)) : null;
    const details = { allowed: `expected ${choices(options)}`, suggestion: didYouMean(nearest) };
    problems.push(problemAt(merged, path, details));
    return;
  }
  const branch = likelyBranch(issue.errors);
  if (branch !== null) {
    for (const inner of branch) tell(context, inner, [...path, ...inner.path]);
    return;
  }
  const words = issue.errors.flatMap((issues) => {
    const mismatch = issues.find((each) => each.code === 'invalid_type' && each.path.length === 0);
    return mismatch?.code === 'invalid_type' ? [typeWords(mismatch.expected)] : [];
  });
  const allowed =
    words.length === 0
      ? 'expected exactly one of the allowed forms'
      : `expected ${oneOf([...new Set(words)])}`;
  problems.push(problemAt(merged, path, { allowed }));
}

function customDetails(issue: z.core.$ZodIssueCustom): ProblemDetails {
  const { found, allowed, suggestion } = (issue.params ?? {}) as Readonly<Record<string, unknown>>;
  return {
    found: typeof found === 'string' ? found : undefined,
    allowed: typeof allowed === 'string' ? allowed : issue.message,
    suggestion: typeof suggestion === 'string' ? suggestion : undefined,
  };
}

function formatWords({ format, pattern }: z.core.$ZodIssueInvalidStringFormat): string {
  return format === 'regex' && pattern !== undefined ? `matching ${pattern}` : `that is a valid ${format}`;
}

function details(issue: Issue, value: unknown): ProblemDetails {
  switch (issue.code) {
    case 'invalid_type':
      return { allowed: `expected ${typeWords(issue.expected)}` };
    case 'too_small':
    case 'too_big':
      return { allowed: limitWords(issue) };
    case 'not_multiple_of':
      return { allowed: `expected a multiple of ${String(issue.divisor)}` };
    case 'invalid_format':
      return { allowed: `expected text ${formatWords(issue)}` };
    case 'invalid_value': {
      const nearest = typeof value === 'string' ? nearestName(value, issue.values.map(String)) : null;
      return { allowed: `expected ${choices(issue.values)}`, suggestion: didYouMean(nearest) };
    }
    case 'custom':
      return customDetails(issue);
    default:
      return { allowed: issue.message };
  }
}

function tell(context: Context, issue: Issue, path: Path): void {
  const { merged, problems } = context;
  switch (issue.code) {
    case 'unrecognized_keys':
      tellUnknownKeys(context, path, issue.keys);
      return;
    case 'invalid_union':
      tellUnion(context, issue, path);
      return;
    case 'invalid_key': {
      // The key itself is at fault: its issues are told about it, not about what it holds.
      const key = path.at(-1);
      for (const inner of issue.issues) {
        const found = `key ${valueText(String(key))}`;
        problems.push(problemAt(merged, path, { ...details(inner, key), found }, 'key'));
      }
      return;
    }
    case 'invalid_element':
      for (const inner of issue.issues) tell(context, inner, [...path, ...inner.path]);
      return;
    default:
      problems.push(problemAt(merged, path, details(issue, valueAt(merged.value, path))));
  }
}

function inFileOrder(problems: readonly Problem[]): Problem[] {
  const files = [...new Set(problems.map((problem) => problem.file))];
  return [...problems].sort(
    (one, other) =>
      files.indexOf(one.file) - files.indexOf(other.file) ||
      (one.line ?? 0) - (other.line ?? 0) ||
      (one.column ?? 0) - (other.column ?? 0),
  );
}

/**
 * Turns the issues of a failed check into problems in plain words, each with the file and place where the value came
 * from, in the order in which they stand there.
 *
 * An unknown key that is nearly the name of a missing one is told once, as the misspelling.
 *
 * @param error what `safeParse` gave.
 * @param merged the value that was checked, with its places.
 * @param schemaRoot the schema it was checked against, for the keys that are allowed.
 */
export function problemsFromZod(
  error: z.core.$ZodError,
  merged: PlacedValue,
  schemaRoot: z.core.$ZodType,
): readonly Problem[] {
  const context: Context = { merged, root: schemaRoot, problems: [], meant: new Set() };
  for (const issue of error.issues) tell(context, issue, issue.path);
  const missing = (problem: Problem): boolean =>
    problem.found === 'nothing' && context.meant.has(problem.path);
  return inFileOrder(context.problems.filter((problem) => !missing(problem)));
}
