/** Life curves of a harsh and of a kind world: what we do not know, apart from luck. */
import { AGED, IN_SERVICE, WORN, type PairingTrials } from '../simulate/columns.js';
import { exp, log } from '../numeric/elementary.js';
import { standardNormalQuantile } from '../numeric/normal.js';
import { gammaQuantile, normalCdf } from '../numeric/special.js';
import { lastRowAtOrBefore } from './event-table.js';
import { kaplanMeier } from './kaplan-meier.js';
import { quantileSorted } from './moments.js';
import { rateVariance, twinConcordance, type SuddenEnds } from './shared-rate.js';
import type { Estimate } from './shares.js';
import { twinScores } from './twin-correlation.js';
import { LEAST_PAIRS } from './uncertainty.js';

/** Lives with the two ways in which they end: by wear or age, as expected, or suddenly (cut, puncture, pressure). */
export interface SplitLives {
  readonly lifeLandings: Int32Array;
  /** 1 where it ended suddenly. */
  readonly sudden: Uint8Array;
  /** Landings after which wear or age alone would end it; Infinity where that lies beyond the horizon. */
  readonly plannedLandings: Float64Array;
}

/**
 * Splits the lives of the first main tires of a pairing.
 *
 * @param trials results of the pairing.
 * @param wornAt which reading of wear takes a tire off.
 * @param agedLandings landings after which age takes a tire off; Infinity if it never does.
 */
export function splitLives(
  { columns }: PairingTrials,
  wornAt: 'tread limit' | 'cords',
  agedLandings: number,
): SplitLives {
  const { lifeLandings, lifeCause } = columns;
  const worn = wornAt === 'cords' ? columns.cordsLandings : columns.treadLimitLandings;
  return {
    lifeLandings,
    sudden: lifeCause.map((cause) => (cause === IN_SERVICE || cause === WORN || cause === AGED ? 0 : 1)),
    plannedLandings: Float64Array.from(worn, (landings) =>
      Math.min(landings < 0 ? Infinity : landings, agedLandings),
    ),
  };
}

/** Landings after which age took tires off; Infinity where it took none. Tires are all new at the first landing. */
export function agedLandings(...tables: readonly PairingTrials[]): number {
  for (const { columns } of tables) {
    const row = columns.lifeCause.indexOf(AGED);
    if (row >= 0) return columns.lifeLandings[row]!;
  }
  return Infinity;
}

/** Some rows of split lives. */
export function rowsOf(lives: SplitLives, rows: number, step: number): SplitLives {
  const at = (row: number): number => row * step;
  return {
    lifeLandings: Int32Array.from({ length: rows }, (_, row) => lives.lifeLandings[at(row)]!),
    sudden: Uint8Array.from({ length: rows }, (_, row) => lives.sudden[at(row)]!),
    plannedLandings: Float64Array.from({ length: rows }, (_, row) => lives.plannedLandings[at(row)]!),
  };
}

/** Life curves of worlds: chance to be still in service, at the same landings as the curve of all worlds. */
export interface WorldCurves {
  /** One world in ten is harsher than this, at each of the landings. */
  readonly harsh: readonly number[];
  /** One world in ten is kinder than this. */
  readonly kind: readonly number[];
  /** Twins they were made from: trials that share a world. */
  readonly twinPairs: number;
  /**
   * Correlation of wear lives of twins on the normal scale, 0 (all luck) to 1 (the world decides); null where wear and
   * age end none, or all at once.
   */
  readonly wearTwinCorrelation: Estimate | null;
  /** Concordance (Kendall's tau) of sudden ends of twins, 0 to 1, had nothing else ended them. */
  readonly suddenTwinConcordance: Estimate;
  /**
   * Correlation, between worlds, of kindness in wear with rarity of sudden ends, -0.95 to 0.95; nearer 0 than it is, by
   * up to a quarter, where rates differ widely.
   */
  readonly wearSuddenCorrelation: Estimate;
}

/** Worlds that stand for all; evenly spread over both things that differ between them. */
const WORLDS = 1024;
/** What a share of the worlds can be off from a share of the trials, for rounding alone. */
const ROUNDING = 0.5 / WORLDS;
const GOLDEN = 0.6180339887498949;
const HARSH = 0.1;
const KIND = 0.9;
const MOST_LINK = 0.95;
/** Twins further apart than this would need curves steeper than numbers can hold. */
const MOST_CORRELATION = 1 - 1e-12;

/**
 * Curves of a harsh and a kind world.
 *
 * In a world the tires survive to t if they are neither worn (or aged) nor ended suddenly by then. Model: the wear life
 * is a normal variable in disguise, a share of whose variance (the correlation of twins) the world decides; sudden ends
 * come at a rate that the world multiplies by a gamma factor; the two are linked by a normal copula; the rate of sudden
 * ends over time is such that the mean over worlds is the curve of all worlds. Correlation, spread of the factor and
 * link come from twins and trials, and 1024 evenly spread worlds give the tenth and ninetieth percentile at each time.
 *
 * Why not a single factor for the whole life: sudden ends are mostly luck, wear is mostly the world, and a single
 * correlation shows a kind world in which nothing is ever cut. Checked against many trials in each of many worlds.
 *
 * @param trials lives of the trials, in the order of their numbers.
 * @param first the rows of those that have a twin.
 * @param twins lives of the twins.
 * @param landings ascending.
 * @param survival the curve of all worlds at these landings.
 * @returns null with fewer than 25 twins.
 */
export function worldCurves(
  trials: SplitLives,
  first: SplitLives,
  twins: SplitLives,
  landings: readonly number[],
  survival: readonly number[],
): WorldCurves | null {
  const twinPairs = twins.lifeLandings.length;
  if (twinPairs < LEAST_PAIRS) return null;
  const wear = twinScores(trials.plannedLandings, first.plannedLandings, twins.plannedLandings);
  const read = suddenReader(trials);
  const concordance = twinConcordance(read(first), read(twins));
  const variance = rateVariance(concordance.estimate);
  const correlation = Math.min(wear?.correlation.estimate ?? 0, MOST_CORRELATION);
  const link =
    wear === null
      ? { estimate: 0, standardError: 0 }
      : linkOf(trials, read(trials), wear.scoreOf, correlation, variance);
  const { harsh, kind } = spread(
    plannedSurvival(trials.plannedLandings, landings),
    survival,
    correlation,
    variance,
    link.estimate,
  );
  return {
    harsh,
    kind,
    twinPairs,
    wearTwinCorrelation: wear?.correlation ?? null,
    suddenTwinConcordance: concordance,
    wearSuddenCorrelation: link,
  };
}

/** Chance of no sudden end up to a life, by the trials together. */
function suddenReader(trials: SplitLives): (lives: SplitLives) => SuddenEnds {
  const { time, survival } = kaplanMeier(trials.lifeLandings, trials.sudden);
  return ({ lifeLandings, sudden }) => ({
    // Halfway down the step, so that it is above 0 and an end is neither before nor after itself.
    survival: Float64Array.from(lifeLandings, (landings, i) => {
      const row = lastRowAtOrBefore(time, landings);
      const after = row < 0 ? 1 : survival[row]!;
      if (sudden[i] === 0 && after > 0) return after;
      return 0.5 * (after + (row < 1 ? 1 : survival[row - 1]!));
    }),
    ended: sudden,
  });
}

/**
 * Correlation between worlds of kindness in wear and rarity of sudden ends: sudden ends beyond those expected, on wear
 * score, with expected ends as weights, over the slope at a link of 1.
 */
function linkOf(
  trials: SplitLives,
  { survival }: SuddenEnds,
  scoreOf: (life: number) => number,
  correlation: number,
  variance: number,
): Estimate {
  let products = 0;
  let weights = 0;
  trials.lifeLandings.forEach((_, i) => {
    const score = scoreOf(trials.plannedLandings[i]!);
    const expected = -log(survival[i]!);
    products += score * (trials.sudden[i]! - expected);
    weights += score * score * expected;
  });
  const slope = Math.sqrt(correlation) * weights * factorOnNormal(variance);
  if (!(slope > 0)) return { estimate: 0, standardError: 0 };
  // A rarer sudden end is the kinder world, hence the sign.
  const estimate = -products / slope;
  return {
    estimate: Math.max(-MOST_LINK, Math.min(MOST_LINK, estimate)),
    standardError: Math.min(Math.sqrt(weights) / slope, 1),
  };
}

/** Mean of a normal variable times the gamma factor that rises with it. */
function factorOnNormal(variance: number): number {
  const steps = 200;
  let sum = 0;
  for (let step = 0; step < steps; step += 1) {
    const probability = (step + 0.5) / steps;
    sum += standardNormalQuantile(probability) * gammaQuantile(probability, 1 / variance, variance);
  }
  return sum / steps;
}

/** Share of trials that wear and age alone would leave in service. */
function plannedSurvival(plannedLandings: Float64Array, landings: readonly number[]): number[] {
  const sorted = plannedLandings.slice().sort();
  return landings.map((count) => 1 - (lastRowAtOrBefore(sorted, count) + 1) / sorted.length);
}

function spread(
  planned: readonly number[],
  survival: readonly number[],
  correlation: number,
  variance: number,
  link: number,
): { harsh: number[]; kind: number[] } {
  const kindness = new Float64Array(WORLDS);
  const factor = new Float64Array(WORLDS);
  for (let i = 0; i < WORLDS; i += 1) {
    const even = (i + 0.5) / WORLDS;
    const golden = (i + 0.5) * GOLDEN;
    const own = standardNormalQuantile(golden - Math.floor(golden));
    kindness[i] = standardNormalQuantile(even);
    const rarity = link * kindness[i]! + Math.sqrt(1 - link * link) * own;
    factor[i] = gammaQuantile(normalCdf(-rarity), 1 / variance, variance);
  }
  const slope = Math.sqrt(correlation);
  const perLuck = 1 / Math.sqrt(1 - correlation);
  const left = new Float64Array(WORLDS);
  const harsh: number[] = [];
  const kind: number[] = [];
  let hazard = 0;
  planned.forEach((share, at) => {
    const normal = standardNormalQuantile(share);
    for (let i = 0; i < WORLDS; i += 1) left[i] = normalCdf((normal + slope * kindness[i]!) * perLuck);
    hazard = hazardFor(left, factor, survival[at]!, hazard);
    for (let i = 0; i < WORLDS; i += 1) left[i]! *= exp(-hazard * factor[i]!);
    left.sort();
    harsh.push(quantileSorted(left, HARSH));
    kind.push(quantileSorted(left, KIND));
  });
  return { harsh, kind };
}

/** Cumulative hazard of sudden ends, not below `least`, that makes the mean over worlds equal to `mean`. */
function hazardFor(left: Float64Array, factor: Float64Array, mean: number, least: number): number {
  let hazard = least;
  // Newton's steps from the left of a falling convex function come closer without overshooting.
  for (let step = 0; step < 50; step += 1) {
    let value = 0;
    let slope = 0;
    for (let i = 0; i < WORLDS; i += 1) {
      const term = left[i]! * exp(-hazard * factor[i]!);
      value += term;
      slope += factor[i]! * term;
    }
    const excess = value / WORLDS - mean;
    if (excess <= ROUNDING || slope <= 0) return hazard;
    hazard += (excess * WORLDS) / slope;
  }
  return hazard;
}
