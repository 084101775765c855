import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { Ajv, type ValidateFunction } from 'ajv';
import { expect } from 'vitest';
import { compile } from 'vega-lite';
import { renderSvg } from '../../lib/chart/render.js';
import { MOST_ROWS, type ChartRow, type ChartSpec } from '../../lib/chart/spec.js';

type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

let validator: ValidateFunction | null = null;

/** The published schema of the grammar, as it comes with the compiler. */
function schemaValidator(): ValidateFunction {
  validator ??= makeValidator();
  return validator;
}

function makeValidator(): ValidateFunction {
  const file = createRequire(import.meta.url).resolve('vega-lite/vega-lite-schema.json');
  // Formats are colours and addresses, which the compiler checks.
  const ajv = new Ajv({ strict: false, validateFormats: false, allErrors: false });
  return ajv.compile(JSON.parse(readFileSync(file, 'utf8')) as object);
}

/** Every row of data inside a specification. */
export function chartRows(spec: ChartSpec): ChartRow[] {
  const rows: ChartRow[] = [];
  const visit = (part: unknown): void => {
    if (typeof part !== 'object' || part === null) return;
    for (const [key, value] of Object.entries(part)) {
      const values = key === 'data' ? (value as { values?: unknown } | null)?.values : undefined;
      if (Array.isArray(values)) rows.push(...(values as ChartRow[]));
      else visit(value);
    }
  };
  visit(spec);
  return rows;
}

/** Labels of the marks of a drawn chart: what a screen reader says and what a pointer shows. */
export function markLabels(svg: string): string[] {
  return [...svg.matchAll(/aria-label="([^"]*)"/g)].map(([, label]) =>
    label!
      .replaceAll('&lt;', '<')
      .replaceAll('&gt;', '>')
      .replaceAll('&quot;', '"')
      .replaceAll('&#39;', "'")
      .replaceAll('&amp;', '&'),
  );
}

/** All text that a drawn chart shows, lines of a text joined with blanks. */
export function shownText(svg: string): string {
  return [...svg.matchAll(/<text[^>]*>(.*?)<\/text>/gs)]
    .map(([, text]) => text!.replaceAll('</tspan>', ' ').replace(/<[^>]*>/g, ''))
    .join('\n');
}

/** A unit in a title: in brackets, as a per cent, or a title that names what is counted. */
const UNIT =
  /\(.+\)|%|\b(landings?|hours?|days?|months?|years?|trials?|flats?|seasons?|chance|share|cost)\b/iu;

const CONTINUOUS = new Set(['linear', 'log', 'sqrt', 'pow', 'symlog', 'time', 'utc']);

interface VegaPart {
  readonly scales?: readonly { readonly name: string; readonly type?: string }[];
  readonly axes?: readonly {
    readonly scale: string;
    readonly title?: string | readonly string[];
    readonly grid?: boolean;
    readonly labels?: boolean;
  }[];
  readonly marks?: readonly VegaPart[];
}

/** Titles of the axes of quantities, as the compiler leaves them; an empty text where there is none. */
function quantityAxisTitles(spec: ChartSpec): string[] {
  const root = compile(spec as never).spec as unknown as VegaPart;
  const kinds = new Map<string, string>();
  const collect = (part: VegaPart): void => {
    for (const { name, type = 'linear' } of part.scales ?? []) kinds.set(name, type);
    part.marks?.forEach(collect);
  };
  collect(root);
  const titles: string[] = [];
  const visit = (part: VegaPart): void => {
    for (const { scale, title, grid, labels } of part.axes ?? []) {
      if (grid === true || labels === false || !CONTINUOUS.has(kinds.get(scale) ?? '')) continue;
      titles.push(typeof title === 'object' ? title.join(' ') : (title ?? ''));
    }
    part.marks?.forEach(visit);
  };
  visit(root);
  return titles;
}

/** Numbers with five decimals or more, unless they are small ones of three figures: 0.00183. */
function longDecimals(label: string): string[] {
  return (label.match(/\d+\.\d{5,}/gu) ?? []).filter((number) => !/^0\.0+[1-9]\d{0,2}$/u.test(number));
}

/**
 * Checks all that can be checked of a chart without looking at it: it is plain JSON, valid against the published
 * schema, compiles and draws without a warning, holds no more rows than are drawn well, says what it shows, has
 * units on its axes and labels on its marks that read well. Whether texts overlap is for the eye.
 *
 * @param options `isDrawn`: false for figures without any random draw, which have no seed.
 * @returns the drawing, for checks of its own.
 */
export async function expectSoundChart(
  spec: ChartSpec,
  { isDrawn = true }: { readonly isDrawn?: boolean } = {},
): Promise<string> {
  expect(JSON.parse(JSON.stringify(spec)) as Json, 'plain JSON').toEqual(spec);
  const isValid = schemaValidator();
  expect(isValid(spec) ? [] : isValid.errors?.slice(0, 3), 'errors against the schema').toEqual([]);

  const rows = chartRows(spec);
  expect(rows.length, 'rows').toBeGreaterThan(0);
  expect(rows.length, 'rows').toBeLessThanOrEqual(MOST_ROWS);

  expect(spec.title.text.join(' '), 'title').toMatch(/\w{3}/u);
  if (isDrawn) {
    // A fit has draws, and a comparison of lives worlds, where a run has trials.
    expect(spec.title.subtitle.join(' '), 'subtitle: trials and seed').toMatch(
      /\d (trial|draw|world)s?, seed /u,
    );
  }
  expect(spec.description.length, 'letters in the description').toBeGreaterThan(40);
  expect(spec.description, 'figures in the description').toMatch(/\d/u);
  const said = [spec.description, ...spec.title.text, ...spec.title.subtitle].join(' ');
  expect(said).not.toMatch(/\b(undefined|NaN|null|Infinity)\b|\[object/u);

  for (const title of quantityAxisTitles(spec)) expect(title, 'title of an axis').toMatch(UNIT);

  const svg = await renderSvg(spec);
  expect(svg, 'a name must not become markup').not.toMatch(/<script/iu);
  const labels = markLabels(svg);
  expect(labels.length, 'labelled marks').toBeGreaterThan(0);
  expect(labels.flatMap(longDecimals), 'numbers with too many decimals').toEqual([]);
  for (const label of labels) expect(label).not.toMatch(/: (undefined|NaN|null|Infinity)(;|$)/u);
  return svg;
}
