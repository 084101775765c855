import { exp } from '../numeric/elementary.js';
import { normalFromUniform } from '../numeric/normal.js';
import { gammaUnitMeanQuantileTable, quantileAtZ } from '../numeric/quantile-table.js';
import { fillUniforms, openStream, streamKey, type Stream } from '../random/stream.js';
import { DAYS_PER_YEAR } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { BLOCK_LANDINGS, DRAW, makeColumns } from './layout.js';

const CAPACITY = BLOCK_LANDINGS;
const UNIFORMS_PER_LANDING = 10;
const SLOWEST_TOUCHDOWN_RATIO = 0.9;
const FASTEST_TOUCHDOWN_RATIO = 1.8;
const GREATEST_BRAKED_SHARE = 0.9;
const GREATEST_SIDE_SHIFT = 0.8;
const LEAST_MASS_SHARE = 0.3;

/**
 * The landings of a trial, a block at a time: everything that does not depend on tires or on the place, drawn once
 * and shared by all pairings (common random numbers). A fixed count of uniforms is used per landing, one for each
 * draw, so landing k of a trial is the same whatever is run beside it.
 */
export class LandingDraws {
  /** Columns by {@link DRAW}. */
  readonly data: Float64Array = makeColumns(DRAW);
  private readonly columns = columnViews(this.data);
  /** Landings already drawn before this block. */
  firstLanding = 0;

  private readonly uniforms = new Float64Array(BLOCK_LANDINGS * UNIFORMS_PER_LANDING);
  private readonly scenario: CompiledScenario;
  private world: Float64Array = new Float64Array(0);
  private stream: Stream | null = null;
  private scatterTable: Float64Array = new Float64Array(0);
  private scatterSpread = -1;

  constructor(scenario: CompiledScenario) {
    this.scenario = scenario;
  }

  /**
   * Starts the landings of a trial.
   *
   * @param trial trial number.
   * @param luck 0 for the trial itself, 1 for its twin: the same world with fresh landings.
   * @param world values of the assumptions.
   */
  open(trial: number, luck: number, world: Float64Array): void {
    this.world = world;
    this.stream = openStream(streamKey(this.scenario.seed, `landing ${luck}`, trial));
    this.firstLanding = -BLOCK_LANDINGS;
    const spread = world[this.scenario.global.landingWearSpread]!;
    if (spread !== this.scatterSpread) {
      this.scatterTable = gammaUnitMeanQuantileTable(spread);
      this.scatterSpread = spread;
    }
  }

  /** Draws the next block of landings. */
  next(): void {
    const { scenario, world, uniforms, stream } = this;
    if (stream === null) throw new Error('open a trial before drawing its landings');
    this.firstLanding += BLOCK_LANDINGS;
    fillUniforms(stream, uniforms, BLOCK_LANDINGS * UNIFORMS_PER_LANDING);
    const { airplane, habits } = scenario;
    const value = (index: number): number => world[index]!;
    copyColumn(uniforms, 0, this.columns.stripUniform);
    copyColumn(uniforms, 1, this.columns.wetUniform);
    copyColumn(uniforms, 2, this.columns.pivotUniform);
    normalColumn(uniforms, 3, this.columns.massKg);
    scaleMass(this.columns.massKg, value(airplane.landingMass), value(airplane.landingMassSpread));
    normalColumn(uniforms, 4, this.columns.speedMps);
    const speedRatio = value(habits.touchdownSpeedRatio);
    scaleSpeed(
      this.columns.speedMps,
      this.columns.rollRatio,
      airplane.stallSpeedMps,
      speedRatio,
      value(habits.touchdownSpeedSpread),
    );
    normalColumn(uniforms, 5, this.columns.sinkMps);
    lognormalColumn(
      this.columns.sinkMps,
      value(habits.sinkRate),
      value(habits.sinkRateSpread),
      this.columns.sinkMps,
    );
    normalColumn(uniforms, 6, this.columns.sideShift);
    scaleShift(this.columns.sideShift, value(habits.sideLoadSpread));
    // One draw for how hard the brakes are used: the share of energy and the hardest moment go together.
    normalColumn(uniforms, 7, this.columns.brakedShare);
    const { brakedShare, peakBraking } = this.columns;
    lognormalColumn(brakedShare, 1, value(habits.brakingSpread), brakedShare);
    scaleColumn(brakedShare, value(habits.peakBraking), peakBraking);
    scaleColumn(brakedShare, value(habits.brakedShare), brakedShare);
    capColumn(this.columns.brakedShare, GREATEST_BRAKED_SHARE);
    normalColumn(uniforms, 8, this.columns.temperatureK);
    this.keepCalendar();
    if (this.scatterSpread === 0) this.columns.wearScatter.fill(1);
    else scatterColumn(uniforms, 9, this.scatterTable, this.columns.wearScatter);
  }

  /** Day, days since the landing before, and temperature: that of the month plus the spread of the landing. */
  private keepCalendar(): void {
    const { calendar, temperatureSpreadK } = this.scenario;
    const perYear = calendar.landingsPerYear;
    let year = Math.floor(this.firstLanding / perYear);
    let inYear = this.firstLanding - year * perYear;
    for (let j = 0; j < CAPACITY; j++) {
      this.columns.temperatureK[j] =
        calendar.temperatureK[inYear]! + temperatureSpreadK * this.columns.temperatureK[j]!;
      this.columns.day[j] = year * DAYS_PER_YEAR + calendar.day[inYear]!;
      this.columns.gapDays[j] = calendar.gapDays[inYear]!;
      if (++inYear === perYear) {
        inYear = 0;
        year++;
      }
    }
    // The tires are fitted and set just before the first landing.
    if (this.firstLanding === 0) this.columns.gapDays[0] = 0;
  }
}

/** Each column as an array of its own on the same memory. */
function columnViews(data: Float64Array): Readonly<Record<keyof typeof DRAW, Float64Array>> {
  const views = Object.entries(DRAW).map(([name, start]) => [
    name,
    data.subarray(start, start + BLOCK_LANDINGS),
  ]);
  return Object.fromEntries(views) as Record<keyof typeof DRAW, Float64Array>;
}

// Column by column, so that each loop is short enough for the compiler to keep every number in a register.

/** The column, as a number that the compiler knows to be small: indices then need no overflow check. */
function boundedColumn(column: number): number {
  return Math.max(0, Math.min(UNIFORMS_PER_LANDING - 1, column));
}

function copyColumn(uniforms: Float64Array, column: number, target: Float64Array): void {
  const first = boundedColumn(column);
  for (let j = 0; j < CAPACITY; j++) target[j] = uniforms[j * UNIFORMS_PER_LANDING + first]!;
}

function normalColumn(uniforms: Float64Array, column: number, target: Float64Array): void {
  const first = boundedColumn(column);
  for (let j = 0; j < CAPACITY; j++) {
    target[j] = normalFromUniform(uniforms[j * UNIFORMS_PER_LANDING + first]!);
  }
}

function scatterColumn(
  uniforms: Float64Array,
  column: number,
  table: Float64Array,
  target: Float64Array,
): void {
  const first = boundedColumn(column);
  for (let j = 0; j < CAPACITY; j++) {
    target[j] = quantileAtZ(table, normalFromUniform(uniforms[j * UNIFORMS_PER_LANDING + first]!));
  }
}

function lognormalColumn(scores: Float64Array, median: number, sigmaLog: number, target: Float64Array): void {
  for (let j = 0; j < CAPACITY; j++) target[j] = median * exp(sigmaLog * scores[j]!);
}

function scaleColumn(values: Float64Array, factor: number, target: Float64Array): void {
  for (let j = 0; j < CAPACITY; j++) target[j] = factor * values[j]!;
}

function capColumn(values: Float64Array, greatest: number): void {
  for (let j = 0; j < CAPACITY; j++) if (values[j]! > greatest) values[j] = greatest;
}

function scaleMass(values: Float64Array, typicalKg: number, spread: number): void {
  for (let j = 0; j < CAPACITY; j++) {
    const ratio = 1 + spread * values[j]!;
    values[j] = typicalKg * (ratio > LEAST_MASS_SHARE ? ratio : LEAST_MASS_SHARE);
  }
}

function scaleSpeed(
  speeds: Float64Array,
  rollRatios: Float64Array,
  stallSpeedMps: number,
  typicalRatio: number,
  spread: number,
): void {
  for (let j = 0; j < CAPACITY; j++) {
    let ratio = typicalRatio + spread * speeds[j]!;
    if (ratio < SLOWEST_TOUCHDOWN_RATIO) ratio = SLOWEST_TOUCHDOWN_RATIO;
    if (ratio > FASTEST_TOUCHDOWN_RATIO) ratio = FASTEST_TOUCHDOWN_RATIO;
    speeds[j] = stallSpeedMps * ratio;
    rollRatios[j] = (ratio * ratio) / (typicalRatio * typicalRatio);
  }
}

function scaleShift(shifts: Float64Array, spread: number): void {
  for (let j = 0; j < CAPACITY; j++) {
    const shift = spread * shifts[j]!;
    shifts[j] =
      shift > GREATEST_SIDE_SHIFT
        ? GREATEST_SIDE_SHIFT
        : shift < -GREATEST_SIDE_SHIFT
          ? -GREATEST_SIDE_SHIFT
          : shift;
  }
}
