/** Made-up fits for tests of charts and pages: every figure is invented and follows from the options. */
import type {
  AssumptionFit,
  FitChecks,
  FittedAssumption,
  FittedPressure,
  FittedReading,
  LearningVerdict,
} from '../../lib/calibrate/posterior-types.js';
import { wilsonInterval } from '../../lib/estimate/proportion.js';
import { standardNormalQuantile } from '../../lib/numeric/normal.js';
import { normalCdf } from '../../lib/numeric/special.js';
import { nextUniform, openStream, streamKey, type Stream } from '../../lib/random/stream.js';

/** What a made-up fit looks like. */
export interface MadeFitOptions {
  /** Numbers fitted, 1 or more; default 5. */
  readonly assumptions?: number;
  /** Names of the surfaces that wear is fitted on and read after; default gravel, home pavement and sharp rock. */
  readonly surfaces?: readonly string[];
  /** Names of tires; default five. */
  readonly tires?: readonly string[];
  /** Groove readings per tire; default 12. */
  readonly readingsPerTire?: number;
  /** How many of the tires, from the last on, are held out; default 1. */
  readonly heldOut?: number;
  /** Pressures found; default 40. */
  readonly pressures?: number;
  /** Readings scatter so many times what the fit expects; default 1. */
  readonly scatter?: number;
  readonly change?: Partial<AssumptionFit>;
}

/** Probabilities of the quantiles of a fit. */
export const MADE_PROBABILITIES = [
  0.01, 0.025, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 0.975, 0.99,
] as const;
const BANDS = ['centre', 'inner shoulder', 'outer shoulder'] as const;
const DAY_MS = 86_400_000;

/** One number before and after, lognormal: prior of median `median` and a spread of a third, posterior by its score. */
export function madeAssumption(
  path: string,
  median: number,
  scoreMean: number,
  scoreDeviation: number,
): FittedAssumption {
  const valueAt = (score: number): number => median * Math.exp(0.33 * score);
  const verdict: LearningVerdict =
    scoreDeviation <= 0.5 ? 'learned' : scoreDeviation <= 0.9 ? 'barely learned' : 'not identified';
  return {
    path,
    form: 'lognormal',
    quantiles: {
      prior: MADE_PROBABILITIES.map((p) => valueAt(standardNormalQuantile(p))),
      posterior: MADE_PROBABILITIES.map((p) =>
        valueAt(scoreMean + scoreDeviation * standardNormalQuantile(p)),
      ),
    },
    priorMedian: valueAt(0),
    median: valueAt(scoreMean),
    scoreDeviation,
    scoreMean,
    scoreDeviationAlone: 0.9 * scoreDeviation,
    effectiveSize: 800,
    rHat: 1.004,
    verdict,
    reason: `its spread is ${Math.round(100 * scoreDeviation)} % of what the scenario held.`,
  };
}

function madeAssumptions(count: number, surfaces: readonly string[]): FittedAssumption[] {
  const all: [path: string, median: number][] = [
    ['assumptions.abradability', 1e-10],
    ['records.grooveErrorFactor', 1],
    ['assumptions.bandGain', 1.6],
    ['assumptions.tubePermeation', 1.5e-8],
    ...surfaces.flatMap((name): [string, number][] => [
      [`surfaces.${name}.wearFactor`, 2],
      [`surfaces.${name}.sharpStones`, 0.0012],
    ]),
  ];
  for (let k = 1; all.length < count; k++) {
    all.push([`surfaces.made surface ${k}.wearFactor`, 1 + 0.1 * k]);
  }
  return all
    .slice(0, count)
    .map(([path, median], k) =>
      madeAssumption(path, median, 0.4 * ((k % 5) - 2), 0.08 + (0.9 * (k + 1)) / count),
    )
    .sort((one, other) => one.scoreDeviation - other.scoreDeviation);
}

function dateAfter(days: number): string {
  return new Date(Date.UTC(2023, 4, 1) + days * DAY_MS).toISOString().slice(0, 10);
}

function normal(stream: Stream): number {
  return standardNormalQuantile(nextUniform(stream));
}

function madeReadings(
  tires: readonly string[],
  surfaces: readonly string[],
  { readingsPerTire = 12, heldOut = 1, scatter = 1 }: MadeFitOptions,
): FittedReading[] {
  const stream = openStream(streamKey('made fit', 'readings', 0));
  const width = standardNormalQuantile(0.9);
  return tires.flatMap((tire, t) =>
    Array.from({ length: readingsPerTire }, (_, k): FittedReading => {
      const day = 30 * (1 + Math.floor(k / BANDS.length));
      const landings = 25 * (1 + Math.floor(k / BANDS.length));
      const expectedM = Math.max(0.0002, 0.008 - (0.00002 + 0.000004 * t) * landings);
      const deviationM = 0.0002 + 0.000002 * landings;
      const offBy = scatter * normal(stream);
      return {
        tire,
        date: dateAfter(day),
        band: BANDS[k % BANDS.length]!,
        landings,
        surface: surfaces[(t + Math.floor(k / BANDS.length)) % surfaces.length]!,
        grooveM: Math.max(0, expectedM + deviationM * offBy),
        expectedM,
        lowM: Math.max(0, expectedM - width * deviationM),
        highM: expectedM + width * deviationM,
        stepwiseOffBy: offBy,
        heldOut: t >= tires.length - heldOut,
      };
    }),
  );
}

function madePressures(tires: readonly string[], count: number, scatter: number): FittedPressure[] {
  const stream = openStream(streamKey('made fit', 'pressures', 0));
  return Array.from({ length: count }, (_, k) => {
    const off = scatter * normal(stream);
    return {
      tire: tires[k % tires.length]!,
      date: dateAfter(14 * (k + 1)),
      days: 14,
      foundPa: 60_000 + 2000 * off,
      expectedPa: 60_000,
      chanceBelow: normalCdf(off),
    };
  });
}

function madeChecks(readings: readonly FittedReading[], pressures: readonly FittedPressure[]): FitChecks {
  const share = (of: readonly FittedReading[]): { held: number; of: number; low: number; high: number } => {
    const held = of.filter((each) => each.grooveM >= each.lowM && each.grooveM <= each.highM).length;
    const { lower, upper } = wilsonInterval(held, of.length, 0.95);
    return { held, of: of.length, low: lower, high: upper };
  };
  const [fitted, out] = [readings.filter((each) => !each.heldOut), readings.filter((each) => each.heldOut)];
  const tires = [...new Set(fitted.map(({ tire }) => tire))];
  return {
    readings,
    pressures,
    calibration: [
      ...(fitted.length === 0
        ? []
        : [
            { what: 'readings, each from those before it' as const, stated: 0.8, ...share(fitted) },
            { what: 'readings, without any reading of the tire' as const, stated: 0.8, ...share(fitted) },
          ]),
      ...(out.length === 0
        ? []
        : [
            {
              what: 'held-out readings, without any reading of the tire' as const,
              stated: 0.8,
              ...share(out),
            },
          ]),
    ],
    tires: tires.map((tire) => {
      const own = fitted.filter((each) => each.tire === tire);
      const squaredDistance = own.reduce((sum, { stepwiseOffBy }) => sum + stepwiseOffBy ** 2, 0);
      const flagged = squaredDistance > 3 * own.length;
      return { tire, readings: own.length, squaredDistance, chance: flagged ? 1e-5 : 0.4, flagged };
    }),
    stones: { punctures: 2, expectedPunctures: 2.4, cuts: 9, expectedCuts: 7.5 },
    conflicts: [],
  };
}

/**
 * A made-up fit.
 *
 * @param options size, names and how well it fits.
 */
export function madeFit(options: MadeFitOptions = {}): AssumptionFit {
  const {
    assumptions: count = 5,
    surfaces = ['gravel', 'home pavement', 'sharp rock'],
    tires = ['ALD-L1', 'ALD-R2', 'BIR-L1', 'BIR-R2', 'CED-L1'],
    pressures = 40,
    scatter = 1,
  } = options;
  const assumptions = madeAssumptions(count, surfaces);
  const readings = madeReadings(tires, surfaces, options);
  const ofScenario = assumptions.filter(({ path }) => !path.startsWith('records.'));
  return {
    kind: 'gravelbar fit',
    formatVersion: 1,
    scenario: 'made-up fleet',
    source: 'fitted to made-up log (60 records, 2023-05-01 to 2024-04-30)',
    logbook: { name: 'made-up log', note: 'Invented.', firstDate: '2023-05-01', lastDate: '2024-04-30' },
    seed: 'made',
    used: {
      readings: readings.filter(({ heldOut }) => !heldOut).length,
      ends: 4,
      cuts: 9,
      pressureChecks: pressures,
      landings: 1200,
    },
    remarks: [],
    probabilities: MADE_PROBABILITIES,
    assumptions,
    untouched: ['assumptions.gaugeBias'],
    correlations: [],
    directions: [],
    nextReadings: [],
    checks: madeChecks(readings, madePressures(tires, pressures, scatter)),
    draws: {
      paths: ofScenario.map(({ path }) => path),
      rows: Array.from({ length: 50 }, (_, row) =>
        ofScenario.map(({ quantiles }) => quantiles.posterior[row % quantiles.posterior.length]!),
      ),
    },
    convergence: {
      converged: true,
      largestRHat: 1.004,
      smallestEffectiveSize: 800,
      draws: 4000,
      chains: 4,
      acceptedShare: 0.3,
      evaluations: 9000,
    },
    ...options.change,
  };
}
