import type { CompiledScenario, CompiledSetup } from '../scenario/compile.js';
import { marginOf, type LimitRule } from './limit-rule.js';
import type { PressureRange, RangeEnd } from './pressure-types.js';
import { paToPsi } from './pressure-units.js';
import { rulesOf, type LandingPlaces } from './setup-limits.js';
import { coldPressures, Standing } from './standing.js';

/** Halvings that narrow the end of a range down to the last bits of a pressure. */
const HALVINGS = 50;
/** How far beyond the sweep its ends are looked at, as a share of the pressure. */
const BEYOND = 1e-6;

/** Says which limits are broken at a pressure. */
export interface PressureLimits {
  brokenAt(pressurePa: number): readonly Pick<LimitRule, 'code' | 'title'>[];
}

/** Binding limits of a set-up at any cold pressure of its main tires, at the medians of all assumptions. */
export class BindingLimits implements PressureLimits {
  private readonly scenario: CompiledScenario;
  private readonly setup: CompiledSetup;
  private readonly world: Float64Array;
  private readonly places: LandingPlaces;
  private readonly ignored = new Set<string>();

  constructor(scenario: CompiledScenario, setup: CompiledSetup, world: Float64Array, places: LandingPlaces) {
    this.scenario = scenario;
    this.setup = setup;
    this.world = world;
    this.places = places;
  }

  /** Limits broken at a pressure, those left out aside. */
  brokenAt(pressurePa: number): LimitRule[] {
    const setup = { ...this.setup, mainPa: pressurePa };
    const pressures = coldPressures(this.scenario, setup, this.world);
    const standing = new Standing(this.scenario, setup, this.world, pressures);
    return rulesOf(this.scenario, setup, this.places).filter((rule) => {
      if (!rule.binding || this.ignored.has(rule.title)) return false;
      const margin = marginOf(rule, rule.read(standing));
      return margin !== null && margin < 0;
    });
  }

  /** Leaves a limit out from now on. */
  ignore(rule: LimitRule): void {
    this.ignored.add(rule.title);
  }
}

function isKept(limits: PressureLimits, pressurePa: number): boolean {
  return limits.brokenAt(pressurePa).length === 0;
}

/**
 * Limits that are broken at every pressure of a sweep; they are left out from now on, since pressure does not mend
 * them.
 */
export function setThroughoutAside(limits: BindingLimits, gridPa: readonly number[]): LimitRule[] {
  const broken = gridPa.map((pressurePa) => limits.brokenAt(pressurePa));
  const [first, ...others] = broken as [LimitRule[], ...LimitRule[][]];
  const throughout = first.filter(({ title }) =>
    others.every((rules) => rules.some((rule) => rule.title === title)),
  );
  for (const rule of throughout) limits.ignore(rule);
  return throughout;
}

/**
 * The range of pressures in which all limits are kept: the one that holds the set-up's own pressure, else the widest.
 *
 * @returns null if no pressure of the grid keeps them all.
 */
export function keptRange(
  limits: PressureLimits,
  gridPa: readonly number[],
  ownPa: number,
): PressureRange | null {
  const kept = gridPa.map((pressurePa) => isKept(limits, pressurePa));
  const runs: { first: number; last: number }[] = [];
  kept.forEach((inside, index) => {
    if (!inside) return;
    const run = runs.at(-1);
    if (run?.last === index - 1) run.last = index;
    else runs.push({ first: index, last: index });
  });
  const widthPa = ({ first, last }: { first: number; last: number }): number =>
    gridPa[last]! - gridPa[first]!;
  const own = runs.find(({ first, last }) => gridPa[first]! <= ownPa && ownPa <= gridPa[last]!);
  const run = own ?? runs.toSorted((one, other) => widthPa(other) - widthPa(one))[0];
  if (run === undefined) return null;
  const low = findEnd(limits, gridPa[run.first]!, gridPa[run.first - 1] ?? gridPa[run.first]! * (1 - BEYOND));
  const high = findEnd(limits, gridPa[run.last]!, gridPa[run.last + 1] ?? gridPa[run.last]! * (1 + BEYOND));
  return pressureRange(low, high);
}

/** One side of a range. */
export interface Side {
  readonly pressurePa: number;
  readonly end: RangeEnd;
}

/** Puts a range together. */
export function pressureRange(low: Side, high: Side): PressureRange {
  return {
    lowPa: low.pressurePa,
    highPa: high.pressurePa,
    lowPsi: paToPsi(low.pressurePa),
    highPsi: paToPsi(high.pressurePa),
    lowEnd: low.end,
    highEnd: high.end,
  };
}

/** Where limits stop being kept between a pressure at which they are and one at which they may not be. */
function findEnd(limits: PressureLimits, keptPa: number, doubtfulPa: number): Side {
  if (isKept(limits, doubtfulPa)) return { pressurePa: keptPa, end: { kind: 'end of the sweep' } };
  let inside = keptPa;
  let outside = doubtfulPa;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = 0.5 * (inside + outside);
    if (isKept(limits, middle)) inside = middle;
    else outside = middle;
  }
  const { code, title } = limits.brokenAt(outside)[0]!;
  return { pressurePa: inside, end: { kind: 'limit', code, title } };
}

/** A curve over the pressures of a sweep, straight between them. */
export interface PressureCurve {
  readonly pressuresPa: readonly number[];
  readonly values: readonly number[];
}

/**
 * The part of a range in which a curve stays at or above a height, around its best point inside the range.
 *
 * @param range from {@link keptRange}.
 * @param curve the figure at each pressure of the sweep.
 * @param best index of its best point; inside the range.
 * @param least height.
 */
export function partAbove(
  range: PressureRange,
  { pressuresPa, values }: PressureCurve,
  best: number,
  least: number,
): PressureRange {
  const crossing = (step: -1 | 1): number | null => {
    for (let k = best; k + step >= 0 && k + step < values.length; k += step) {
      const inside = values[k]!;
      const outside = values[k + step]!;
      if (outside >= least) continue;
      const share = (inside - least) / (inside - outside);
      return pressuresPa[k]! + share * (pressuresPa[k + step]! - pressuresPa[k]!);
    }
    return null;
  };
  const low = crossing(-1);
  const high = crossing(1);
  return pressureRange(
    low !== null && low > range.lowPa
      ? { pressurePa: low, end: { kind: 'life' } }
      : { pressurePa: range.lowPa, end: range.lowEnd },
    high !== null && high < range.highPa
      ? { pressurePa: high, end: { kind: 'life' } }
      : { pressurePa: range.highPa, end: range.highEnd },
  );
}
