import { expectedPhrase, nearestName, unitNames } from '../units.js';
import { assumptionField } from './assumption-fields.js';
import { siScale } from './compile-fitted.js';
import type { ProblemDetails } from './issues.js';
import type { PlacedValue } from './merge.js';
import { rangeText } from './quantity-field.js';
import type { Scenario } from './schema/index.js';

type Fitted = NonNullable<Scenario['fitted']>;
type Report = (path: readonly (string | number)[], details: ProblemDetails) => void;

/** Rounding of the numbers in the file may carry a draw at an end of the range past it by this share. */
const ROUNDING = 1e-4;

/**
 * Checks what the schema cannot say of fitted assumptions: that they exist, once each, in units of theirs, and that all
 * draws are whole and plausible.
 *
 * @param scenario a scenario whose fields are each valid.
 * @param report takes each problem.
 */
export function checkFitted(scenario: Scenario, report: Report): void {
  const { fitted } = scenario;
  if (fitted === undefined) return;
  const known = assumptionPaths(scenario);
  fitted.columns.forEach(({ assumption, unit }, column) => {
    const place = ['fitted', 'columns', column];
    if (fitted.columns.findIndex((other) => other.assumption === assumption) < column) {
      report([...place, 'assumption'], { allowed: 'each assumption is fitted once' });
      return;
    }
    const field = known.includes(assumption) ? assumptionField(assumption) : null;
    if (field === null) {
      const nearest = nearestName(assumption, known);
      const allowed =
        'expected the place of an assumption of this scenario, such as "assumptions.abradability"';
      report(
        [...place, 'assumption'],
        nearest === null ? { allowed } : { allowed, suggestion: `did you mean "${nearest}"?` },
      );
      return;
    }
    const { dimension } = field.field;
    const scale = siScale(dimension, unit);
    if (scale === null) {
      const units = unitNames(dimension).filter((name) => name !== '');
      const allowed =
        units.length === 0 ? 'expected no unit' : `expected a unit of ${expectedPhrase(dimension)}`;
      const nearest = nearestName(unit, units);
      report(
        [...place, 'unit'],
        nearest === null ? { allowed } : { allowed, suggestion: `did you mean "${nearest}"?` },
      );
      return;
    }
    const { minSi, maxSi } = field.field;
    const slack = ROUNDING * (maxSi - minSi);
    const out = fitted.draws.findIndex((row) => {
      const value = row[column];
      return value !== undefined && !(scale(value) >= minSi - slack && scale(value) <= maxSi + slack);
    });
    if (out >= 0) {
      report(['fitted', 'draws', out, column], {
        allowed: `${assumption}: expected ${rangeText(field.field)}`,
      });
    }
  });
  const odd = fitted.draws.findIndex((row) => row.length !== fitted.columns.length);
  if (odd >= 0) {
    report(['fitted', 'draws', odd], {
      found: `${fitted.draws[odd]!.length} numbers`,
      allowed: `expected ${fitted.columns.length}, one for each column`,
    });
  }
}

/** Places of the assumptions that a compiled scenario has. */
function assumptionPaths(scenario: Scenario): string[] {
  const keys = (place: string, section: object): string[] =>
    Object.entries(section).flatMap(([key, value]) =>
      typeof value === 'object' && value !== null && 'kind' in value && 'source' in value
        ? [`${place}.${key}`]
        : [],
    );
  const named = (['sidewalls', 'treads', 'compounds', 'surfaces'] as const).flatMap((section) =>
    Object.entries(scenario[section] as Record<string, object>).flatMap(([name, entry]) =>
      keys(`${section}.${name}`, entry),
    ),
  );
  const airplane = scenario.airplanes[scenario.airplane];
  return [
    ...(airplane === undefined ? [] : keys(`airplanes.${scenario.airplane}`, airplane)),
    ...named,
    ...keys('habits', scenario.habits),
    ...keys('assumptions', scenario.assumptions),
  ];
}

/**
 * Leaves out the columns of assumptions that a later file states: what is laid over a fitted file goes before it.
 *
 * @param scenario a checked scenario.
 * @param merged with the file that each value came from.
 * @param files in the order in which they were laid over each other.
 */
export function withoutOverruled(
  scenario: Scenario,
  merged: PlacedValue,
  files: readonly string[],
): Scenario {
  const { fitted } = scenario;
  if (fitted === undefined) return scenario;
  const layerOf = (path: readonly string[]): number => files.lastIndexOf(merged.originOf(path).fileName);
  const layer = layerOf(['fitted', 'draws']);
  const kept = fitted.columns.flatMap(({ assumption }, column) => {
    const field = assumptionField(assumption);
    return field !== null && layerOf(field.steps) > layer ? [] : [column];
  });
  if (kept.length === fitted.columns.length) return scenario;
  return { ...scenario, fitted: kept.length === 0 ? undefined : keepColumns(fitted, kept) };
}

function keepColumns(fitted: Fitted, kept: readonly number[]): Fitted {
  return {
    ...fitted,
    columns: kept.map((column) => fitted.columns[column]!),
    draws: fitted.draws.map((row) => kept.map((column) => row[column]!)),
  };
}
