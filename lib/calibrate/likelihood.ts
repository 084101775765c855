import type { CompiledScenario } from '../scenario/compile.js';
import { medianWorld } from '../simulate/world.js';
import type { Figures } from './likelihood-figures.js';
import { LandingMeans } from './likelihood-ground.js';
import type { RecordPlan } from './likelihood-plan-types.js';
import {
  addPressureFigures,
  emptyPressureLaw,
  fillLosses,
  fillPressureLaw,
  logPressureDensity,
  pressureLaw,
  pressureLosses,
  type PressureLaw,
  type PressureLosses,
} from './likelihood-pressure.js';
import { TreadPass, type PassOptions, type ReadingPrediction } from './likelihood-tread.js';
import { assumptionCoordinates, recordCoordinate, type PriorCoordinate } from './prior.js';

/** Errors of records beside the assumptions of the scenario. */
export interface RecordErrors {
  /** Standard deviation of a pressure reading, Pa. */
  readonly pressureErrorPa: number;
  /** Spread of the depth at which a tire is judged worn, m. */
  readonly wornSpreadM: number;
  /** 90 % quantile over median of how far off stated reading errors are. */
  readonly errorDoubt: number;
}

/** Names of the numbers that belong to the records. */
export const GROOVE_ERROR_PATH = 'records.grooveErrorFactor';
export const PRESSURE_ERROR_PATH = 'records.pressureErrorFactor';

/** Likelihood of records as a function of the scores of all that they may tell about. */
export class RecordLikelihood {
  /** Assumptions in doubt, then the errors of the readings. */
  readonly coordinates: readonly PriorCoordinate[];
  /** How often it was evaluated. */
  evaluations = 0;
  readonly plan: RecordPlan;
  private readonly scenario: CompiledScenario;
  private readonly errors: RecordErrors;
  private readonly means: LandingMeans | null;
  private readonly pass: TreadPass | null;
  private readonly medians: Float64Array;
  /** Losses of all lengths of spans, each once, and those of each span. */
  private readonly losses: readonly PressureLosses[];
  private readonly lossesOfSpan: readonly PressureLosses[];
  private readonly law = emptyPressureLaw();

  constructor(scenario: CompiledScenario, plan: RecordPlan, errors: RecordErrors) {
    this.scenario = scenario;
    this.plan = plan;
    this.errors = errors;
    this.medians = medianWorld(scenario);
    const rolls = plan.lines.length > 0 && plan.places.length > 0;
    this.means = rolls ? new LandingMeans(scenario, plan.kinds, plan.places, this.medians) : null;
    this.pass =
      this.means === null
        ? null
        : new TreadPass(
            this.means,
            plan.places,
            plan.tires.map(({ kind }) => kind),
            plan.leastCutM,
          );
    const losses = new Map<string, PressureLosses>();
    this.lossesOfSpan = plan.pressureSpans.map(({ days, tubed }) => {
      const key = `${days} ${tubed}`;
      const found = losses.get(key) ?? pressureLosses(days, tubed);
      losses.set(key, found);
      return found;
    });
    this.losses = [...losses.values()];
    this.coordinates = [
      ...assumptionCoordinates(scenario.assumptions),
      recordCoordinate(GROOVE_ERROR_PATH, 1, errors.errorDoubt),
      recordCoordinate(PRESSURE_ERROR_PATH, 1, errors.errorDoubt),
    ];
  }

  /** World and error factors at some scores; coordinates that are left out stand at their medians. */
  at(coordinates: readonly number[], scores: Float64Array): WorldOfRecords {
    const world = Float64Array.from(this.medians);
    const factors = { groove: 1, pressure: 1 };
    coordinates.forEach((c, k) => {
      const { index, path, valueAt } = this.coordinates[c]!;
      const value = valueAt(scores[k]!);
      if (index !== null) world[index] = value;
      else if (path === GROOVE_ERROR_PATH) factors.groove = value;
      else factors.pressure = value;
    });
    return { world, grooveErrorFactor: factors.groove, pressureErrorFactor: factors.pressure };
  }

  /**
   * Logarithm of the likelihood of all records, up to a constant.
   *
   * @param figures receives what the records tell, if wanted.
   */
  logLikelihood(at: WorldOfRecords, figures?: Figures): number {
    this.evaluations++;
    figures?.clear();
    return this.treadLogLikelihood(at, figures) + this.pressureLogLikelihood(at, figures);
  }

  private passOptions(at: WorldOfRecords): PassOptions {
    return { errorFactor: at.grooveErrorFactor, wornSpreadM: this.errors.wornSpreadM };
  }

  private treadLogLikelihood(at: WorldOfRecords, figures: Figures | undefined): number {
    if (this.means === null || this.pass === null) return 0;
    this.means.fill(at.world);
    const options = { ...this.passOptions(at), figures };
    let total = 0;
    for (const line of this.plan.lines) total += this.pass.run(line, options);
    return total;
  }

  private pressureLogLikelihood(at: WorldOfRecords, figures: Figures | undefined): number {
    const errorPa = this.errors.pressureErrorPa * at.pressureErrorFactor;
    for (const losses of this.losses) fillLosses(this.scenario, at.world, losses);
    let total = 0;
    this.plan.pressureSpans.forEach((span, k) => {
      fillPressureLaw(this.scenario, span, at.world, errorPa, this.lossesOfSpan[k]!, this.law);
      total += logPressureDensity(this.law, span.foundPa);
      if (figures !== undefined) addPressureFigures(this.law, span.foundPa, figures);
    });
    return total;
  }

  /**
   * Every reading as the records before it let it expect (`learn`), or as it would be expected of a tire that nobody
   * looked at.
   */
  predictReadings(at: WorldOfRecords, learn: boolean): RecordPrediction {
    const readings: ReadingPrediction[] = [];
    if (this.means === null || this.pass === null) return { readings, punctures: 0, cuts: 0 };
    this.means.fill(at.world);
    this.pass.expectedPunctures = 0;
    this.pass.expectedCuts = 0;
    const options = {
      ...this.passOptions(at),
      learn,
      sink: (each: ReadingPrediction) => readings.push(each),
    };
    for (const line of this.plan.lines) this.pass.run(line, options);
    return { readings, punctures: this.pass.expectedPunctures, cuts: this.pass.expectedCuts };
  }

  /** Laws of the pressures found, in the order of the plan. */
  pressureLaws(at: WorldOfRecords): PressureLaw[] {
    const errorPa = this.errors.pressureErrorPa * at.pressureErrorFactor;
    return this.plan.pressureSpans.map((span) => pressureLaw(this.scenario, span, at.world, errorPa));
  }
}

/** A world and how far off the stated errors of the readings are. */
export interface WorldOfRecords {
  readonly world: Float64Array;
  readonly grooveErrorFactor: number;
  readonly pressureErrorFactor: number;
}

/** What records are expected to hold in one world. */
export interface RecordPrediction {
  readonly readings: readonly ReadingPrediction[];
  /** Expected punctures and cuts over all landings of the records. */
  readonly punctures: number;
  readonly cuts: number;
}
