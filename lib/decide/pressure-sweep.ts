import { AUTHORITY, basisCautions, type Caution } from '../cautions.js';
import { pairedDifference } from '../estimate/paired.js';
import { UsageError } from '../problems.js';
import { scenarioHash } from '../run.js';
import type { CompiledScenario, CompiledSetup } from '../scenario/compile.js';
import { indexOfName } from '../simulate/names.js';
import { simulate, type Progress, type Simulation } from '../simulate/simulate.js';
import { medianWorld } from '../simulate/world.js';
import { version } from '../version.js';
import { checkInterval } from './check-interval.js';
import { setupWorlds } from './limit-rule.js';
import type { LimitCheck, LimitCode } from './limit-types.js';
import { pressureGrid } from './pressure-grid.js';
import { pressureFigures, pressurePoint, type PressureFigures } from './pressure-points.js';
import { BindingLimits, keptRange, partAbove, setThroughoutAside } from './pressure-range.js';
import type {
  BestPressure,
  CheckInterval,
  PressurePoint,
  PressureRange,
  PressureSweep,
} from './pressure-types.js';
import { paToPsi } from './pressure-units.js';
import { seasonPressures } from './season-pressures.js';
import { drawWorlds, landingPlaces } from './setup-limits.js';
import { coldPressures, Standing } from './standing.js';

/** Options of {@link sweepPressure}. */
export interface SweepOptions {
  /** Name of the set-up. */
  readonly setup: string;
  /** Name of the runway mix; default: the first of the file. */
  readonly mix?: string | undefined;
  /** Cold pressures of the main tires, Pa gauge, 3 to 150 psi, at most 100; default: the range of the tire. */
  readonly pressuresPa?: readonly number[] | undefined;
  /** Number of trials; default: that of the scenario. */
  readonly trials?: number | undefined;
  /** Worker threads, 1 to 64; default: the cores available. The result does not depend on it. */
  readonly workers?: number | undefined;
  /** Share of pressure readings that may lie below the range, 0 to 1; default 0.05 (common practice, no source). */
  readonly readingShare?: number | undefined;
  /** Share of the best mean life that a sensible pressure keeps, above 0 to 1; default 0.9 (assumption). */
  readonly sensibleLifeShare?: number | undefined;
  /** Called as work gets done; counts trials. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

const DEFAULT_READING_SHARE = 0.05;
const DEFAULT_LIFE_SHARE = 0.9;
/** Worlds for the range of limits, and for readings between checks. */
const LIMIT_WORLDS = 400;
const READING_WORLDS = 1000;
/** Trials from which the pressures met in a season are read. */
const SEASON_TRIALS = 200;
const FEW_TRIALS = 400;

/**
 * Sweeps the cold pressure of the main tires of a set-up: life, wear, flats, limits and money at each pressure, all on
 * the same landings, and the range that makes sense.
 *
 * @param scenario compiled scenario.
 * @param options set-up, runway mix, pressures, how much to run.
 * @returns plain data that can be stored as JSON; the same bits for any number of workers. At the set-up's own
 *   pressure the figures are those of a plain run.
 * @throws UsageError for a name or number that does not exist.
 * @throws CancelledError when the signal fires.
 * @throws NonFiniteError when a model gives a number that is not finite.
 */
export async function sweepPressure(
  scenario: CompiledScenario,
  options: SweepOptions,
): Promise<PressureSweep> {
  const setup = scenario.setups[indexOfName('set-up', options.setup, scenario.setups)]!;
  const mixIndex = options.mix === undefined ? 0 : indexOfName('runway mix', options.mix, scenario.mixes);
  const mix = scenario.mixes[mixIndex]!.name;
  const readingShare = share('readingShare', options.readingShare ?? DEFAULT_READING_SHARE);
  const lifeShare = share('sensibleLifeShare', options.sensibleLifeShare ?? DEFAULT_LIFE_SHARE);
  const places = landingPlaces(scenario, [mix]);
  const median = medianWorld(scenario);
  const own = new Standing(scenario, setup, median, coldPressures(scenario, setup, median));
  const gridPa = pressureGrid(setup, own.main.loadN, options.pressuresPa);
  const swept = sweepScenario(scenario, setup, gridPa);

  const { simulation, seasons } = await run(swept, mixIndex, options);
  const figures = simulation.pairings.map((trials) => pressureFigures(swept, trials));
  const ownIndex = gridPa.indexOf(setup.mainPa);
  const worlds = drawWorlds(scenario, LIMIT_WORLDS);
  const points = gridPa.map((_, index) =>
    pressurePoint(swept, places, {
      trials: simulation.pairings[index]!,
      figures: figures[index]!,
      ownFigures: figures[ownIndex]!,
      worlds: setupWorlds(swept, swept.setups[index]!, median, worlds, seasons[index]!),
      own: index === ownIndex,
    }),
  );

  const limits = new BindingLimits(scenario, setup, median, places);
  const throughout = setThroughoutAside(limits, gridPa);
  const limitsRange = keptRange(limits, gridPa, setup.mainPa);
  const choice = choose(points, figures, ownIndex, limitsRange, lifeShare);
  const readingWorlds = drawWorlds(scenario, READING_WORLDS);
  const checksFor = (range: PressureRange | null): CheckInterval | null =>
    range === null
      ? null
      : checkInterval(scenario, setup, places.strips, readingWorlds, {
          setPa: setup.mainPa,
          lowPa: range.lowPa,
          share: readingShare,
        });
  return {
    setup: setup.name,
    mix,
    mainTire: setup.main.name,
    version: version(),
    seed: simulation.seed,
    trials: simulation.trials,
    scenarioHash: scenarioHash(scenario),
    currency: points[ownIndex]!.costPerFlightHour === null ? null : (scenario.costs?.currency ?? null),
    ownPressurePa: setup.mainPa,
    ownPressurePsi: paToPsi(setup.mainPa),
    points,
    limitsRange,
    brokenThroughout: throughout.map(({ code, title }) => ({ code, title })),
    notChecked: notChecked(points[ownIndex]!.checks),
    ...choice,
    sensibleLifeShare: lifeShare,
    checkForLimits: checksFor(limitsRange),
    checkForSensible: checksFor(choice.sensibleRange),
    cautions: sweepCautions(points, setup, simulation.trials, scenario),
  };
}

function share(name: string, value: number): number {
  if (value > 0 && value <= 1) return value;
  throw new UsageError(
    `${name} is ${value}; it must be a share above 0, at most 1; for five per cent write 0.05`,
  );
}

/** The scenario with one set-up per pressure in place of its set-ups. */
function sweepScenario(
  scenario: CompiledScenario,
  setup: CompiledSetup,
  gridPa: readonly number[],
): CompiledScenario {
  const setups = gridPa.map((mainPa) => ({
    ...setup,
    name: `${setup.name} at ${paToPsi(mainPa)} psi`,
    mainPa,
  }));
  return { ...scenario, setups };
}

type Seasons = readonly Awaited<ReturnType<typeof seasonPressures>>[];

/** Lives through the trials of all pressures, and through seasons whose pressures are recorded. */
async function run(
  swept: CompiledScenario,
  mix: number,
  { trials = swept.trials, workers, signal, onProgress }: SweepOptions,
): Promise<{ readonly simulation: Simulation; readonly seasons: Seasons }> {
  const seasonTrials = Math.max(2, Math.min(SEASON_TRIALS, trials));
  const totalTrials = trials + seasonTrials * swept.setups.length;
  const tell = (finishedTrials: number): void => onProgress?.({ finishedTrials, totalTrials });
  const simulation = await simulate(swept, {
    trials,
    workers,
    signal,
    pairings: swept.setups.map((_, setup) => ({ setup, mix })),
    onProgress: ({ finishedTrials }) => {
      tell(finishedTrials);
    },
  });
  const seasons = [];
  for (const { name } of swept.setups) {
    const before = trials + seasons.length * seasonTrials;
    seasons.push(
      await seasonPressures(swept, {
        setup: name,
        mix: swept.mixes[mix]!.name,
        trials: seasonTrials,
        signal,
        onProgress: ({ finishedTrials }) => {
          tell(before + finishedTrials);
        },
      }),
    );
  }
  return { simulation, seasons };
}

/** Best pressures, and the part of the range of limits in which life is near the best. */
function choose(
  points: readonly PressurePoint[],
  figures: readonly PressureFigures[],
  ownIndex: number,
  limitsRange: PressureRange | null,
  lifeShare: number,
): Pick<PressureSweep, 'bestLife' | 'lowestCost' | 'sensibleRange'> {
  const all = points.map((_, index) => index);
  const allowed =
    limitsRange === null
      ? all
      : all.filter((index) => {
          const { pressurePa } = points[index]!;
          return pressurePa >= limitsRange.lowPa && pressurePa <= limitsRange.highPa;
        });
  const life = figures.map(({ lifeHours }) => lifeHours);
  const meanLife = points.map(({ lifeHours }) => lifeHours.restrictedMean.estimate);
  const bestLife = bestOf(allowed, meanLife);
  const cost = figures.flatMap(({ costPerHour }) => (costPerHour === null ? [] : [costPerHour]));
  const meanSaving = points.map(({ costPerFlightHour }) => -(costPerFlightHour?.estimate ?? 0));
  return {
    bestLife: bestPressure(points, allowed, bestLife, life, ownIndex),
    lowestCost:
      cost.length < points.length
        ? null
        : bestPressure(points, allowed, bestOf(allowed, meanSaving), cost, ownIndex),
    sensibleRange:
      limitsRange === null
        ? null
        : partAbove(
            limitsRange,
            { pressuresPa: points.map(({ pressurePa }) => pressurePa), values: meanLife },
            bestLife,
            lifeShare * meanLife[bestLife]!,
          ),
  };
}

function bestOf(allowed: readonly number[], values: readonly number[]): number {
  return allowed.reduce((best, index) => (values[index]! > values[best]! ? index : best));
}

function bestPressure(
  points: readonly PressurePoint[],
  allowed: readonly number[],
  best: number,
  columns: readonly Float64Array[],
  ownIndex: number,
): BestPressure {
  const notToldApart = allowed.filter((index) => {
    if (index === best) return true;
    const { lower, upper } = pairedDifference(columns[index]!, columns[best]!);
    return lower <= 0 && upper >= 0;
  });
  return {
    pressurePa: points[best]!.pressurePa,
    pressurePsi: points[best]!.pressurePsi,
    versusOwn: pairedDifference(columns[best]!, columns[ownIndex]!),
    notToldApartPa: notToldApart.map((index) => points[index]!.pressurePa),
  };
}

function notChecked(
  checks: readonly LimitCheck[],
): { readonly code: LimitCode; readonly needs: readonly string[] }[] {
  const needs = new Map<LimitCode, Set<string>>();
  for (const check of checks) {
    if (check.status !== 'not checked') continue;
    const places = needs.get(check.code) ?? new Set();
    for (const need of check.needs) places.add(need);
    needs.set(check.code, places);
  }
  return [...needs].map(([code, places]) => ({ code, needs: [...places] }));
}

function sweepCautions(
  points: readonly PressurePoint[],
  { main }: CompiledSetup,
  trials: number,
  scenario: CompiledScenario,
): Caution[] {
  const cautions: Caution[] = [AUTHORITY, ...basisCautions(scenario)];
  const above = points.filter(({ pressurePa }) => pressurePa > main.ratedPa);
  if (above.length > 0) {
    cautions.push({
      code: 'above rated pressure',
      message: `${above.length} of the pressures are above the rated pressure of ${main.name}: for comparison only.`,
    });
  }
  if (points.some(({ checks }) => checks.some(({ status }) => status === 'not checked'))) {
    cautions.push({
      code: 'limits not checked',
      message: 'Some limits could not be checked: what they need is listed, and they do not bound the range.',
    });
  }
  if (trials < FEW_TRIALS) {
    cautions.push({
      code: 'few trials',
      message: `Only ${trials} trials: read the Monte Carlo intervals, and run at least ${FEW_TRIALS} to choose.`,
    });
  }
  return cautions;
}
