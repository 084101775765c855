import { exp } from '../numeric/elementary.js';
import { normalFromUniform } from '../numeric/normal.js';
import { gammaUnitMeanQuantileTable, quantileAtZ } from '../numeric/quantile-table.js';
import { fillUniforms, openStream, streamKey, type Stream } from '../random/stream.js';
import { DAYS_PER_YEAR } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { BLOCK_LANDINGS, DRAW, makeColumns } from './layout.js';

const CAPACITY = BLOCK_LANDINGS;
/** Uniforms that make a landing. */
export const UNIFORMS_PER_LANDING = 10;
const SLOWEST_TOUCHDOWN_RATIO = 0.9;
const FASTEST_TOUCHDOWN_RATIO = 1.8;
const GREATEST_BRAKED_SHARE = 0.9;
const GREATEST_SIDE_SHIFT = 0.8;
const LEAST_MASS_SHARE = 0.3;

// Columns as constants of this module: the compiler folds these, but not what is imported.
const STRIP_UNIFORM = DRAW.stripUniform;
const WET_UNIFORM = DRAW.wetUniform;
const PIVOT_UNIFORM = DRAW.pivotUniform;
const MASS_KG = DRAW.massKg;
const SPEED_MPS = DRAW.speedMps;
const ROLL_RATIO = DRAW.rollRatio;
const SINK_MPS = DRAW.sinkMps;
const SIDE_SHIFT = DRAW.sideShift;
const BRAKED_SHARE = DRAW.brakedShare;
const PEAK_BRAKING = DRAW.peakBraking;
const TEMPERATURE_K = DRAW.temperatureK;
const WEAR_SCATTER = DRAW.wearScatter;
const DAY = DRAW.day;
const GAP_DAYS = DRAW.gapDays;

/**
 * The landings of a trial, a block at a time: everything that does not depend on tires or on the place, drawn once
 * and shared by all pairings (common random numbers). A fixed count of uniforms is used per landing, one for each
 * draw, so landing k of a trial is the same whatever is run beside it.
 */
export class LandingDraws {
  /** Columns by {@link DRAW}. */
  readonly data: Float64Array = makeColumns(DRAW);
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
    const { data, world, uniforms, stream } = this;
    if (stream === null) throw new Error('open a trial before drawing its landings');
    this.firstLanding += BLOCK_LANDINGS;
    fillUniforms(stream, uniforms, BLOCK_LANDINGS * UNIFORMS_PER_LANDING);
    this.drawFrom(uniforms, world);
    this.keepCalendar();
    if (this.scatterSpread === 0) data.fill(1, WEAR_SCATTER, WEAR_SCATTER + BLOCK_LANDINGS);
    else drawWearScatter(uniforms, data, this.scatterTable);
  }

  /**
   * A block of landings from given uniforms: all columns but those of the calendar and the wear multiplier.
   *
   * @param uniforms ten for each landing, as `nextUniform` gives them.
   * @param world values of the assumptions.
   */
  drawFrom(uniforms: Float64Array, world: Float64Array): void {
    const { airplane, habits } = this.scenario;
    const value = (index: number): number => world[index]!;
    const { data } = this;
    keepUniforms(uniforms, data);
    drawMass(uniforms, data, value(airplane.landingMass), value(airplane.landingMassSpread));
    drawSpeed(
      uniforms,
      data,
      airplane.stallSpeedMps,
      value(habits.touchdownSpeedRatio),
      value(habits.touchdownSpeedSpread),
    );
    drawSinkRate(uniforms, data, value(habits.sinkRate), value(habits.sinkRateSpread));
    drawSideShift(uniforms, data, value(habits.sideLoadSpread));
    drawBraking(
      uniforms,
      data,
      value(habits.brakingSpread),
      value(habits.brakedShare),
      value(habits.peakBraking),
    );
  }

  /** Day, days since the landing before, and temperature: that of the month plus the spread of the landing. */
  private keepCalendar(): void {
    const { data, uniforms } = this;
    const { calendar, temperatureSpreadK } = this.scenario;
    const perYear = calendar.landingsPerYear;
    const { temperatureK, day, gapDays } = calendar;
    const year = Math.floor(this.firstLanding / perYear);
    let startOfYear = year * DAYS_PER_YEAR;
    let inYear = this.firstLanding - year * perYear;
    for (let j = 0; j < CAPACITY; j++) {
      data[TEMPERATURE_K + j] =
        temperatureK[inYear]! +
        temperatureSpreadK * normalFromUniform(uniforms[j * UNIFORMS_PER_LANDING + 8]!);
      data[DAY + j] = startOfYear + day[inYear]!;
      data[GAP_DAYS + j] = gapDays[inYear]!;
      if (++inYear === perYear) {
        inYear = 0;
        startOfYear += DAYS_PER_YEAR;
      }
    }
    // The tires are fitted and set just before the first landing.
    if (this.firstLanding === 0) data[GAP_DAYS] = 0;
  }
}

// Draw by draw, so that each loop is short enough for the compiler to keep every number in a register.

/** The uniforms that decide on strip, wetness and pivot turns, as they are. */
function keepUniforms(uniforms: Float64Array, data: Float64Array): void {
  for (let j = 0; j < CAPACITY; j++) {
    data[STRIP_UNIFORM + j] = uniforms[j * UNIFORMS_PER_LANDING]!;
    data[WET_UNIFORM + j] = uniforms[j * UNIFORMS_PER_LANDING + 1]!;
    data[PIVOT_UNIFORM + j] = uniforms[j * UNIFORMS_PER_LANDING + 2]!;
  }
}

function drawMass(uniforms: Float64Array, data: Float64Array, typicalKg: number, spread: number): void {
  for (let j = 0; j < CAPACITY; j++) {
    const ratio = 1 + spread * normalFromUniform(uniforms[j * UNIFORMS_PER_LANDING + 3]!);
    data[MASS_KG + j] = typicalKg * (ratio > LEAST_MASS_SHARE ? ratio : LEAST_MASS_SHARE);
  }
}

function drawSpeed(
  uniforms: Float64Array,
  data: Float64Array,
  stallSpeedMps: number,
  typicalRatio: number,
  spread: number,
): void {
  const perTypicalSquare = 1 / (typicalRatio * typicalRatio);
  for (let j = 0; j < CAPACITY; j++) {
    let ratio = typicalRatio + spread * normalFromUniform(uniforms[j * UNIFORMS_PER_LANDING + 4]!);
    if (ratio < SLOWEST_TOUCHDOWN_RATIO) ratio = SLOWEST_TOUCHDOWN_RATIO;
    if (ratio > FASTEST_TOUCHDOWN_RATIO) ratio = FASTEST_TOUCHDOWN_RATIO;
    data[SPEED_MPS + j] = stallSpeedMps * ratio;
    data[ROLL_RATIO + j] = ratio * ratio * perTypicalSquare;
  }
}

function drawSinkRate(uniforms: Float64Array, data: Float64Array, medianMps: number, sigmaLog: number): void {
  for (let j = 0; j < CAPACITY; j++) {
    const score = normalFromUniform(uniforms[j * UNIFORMS_PER_LANDING + 5]!);
    data[SINK_MPS + j] = medianMps * exp(sigmaLog * score);
  }
}

function drawSideShift(uniforms: Float64Array, data: Float64Array, spread: number): void {
  for (let j = 0; j < CAPACITY; j++) {
    let shift = spread * normalFromUniform(uniforms[j * UNIFORMS_PER_LANDING + 6]!);
    if (shift > GREATEST_SIDE_SHIFT) shift = GREATEST_SIDE_SHIFT;
    if (shift < -GREATEST_SIDE_SHIFT) shift = -GREATEST_SIDE_SHIFT;
    data[SIDE_SHIFT + j] = shift;
  }
}

/** One draw for how hard the brakes are used: the share of energy and the hardest moment go together. */
function drawBraking(
  uniforms: Float64Array,
  data: Float64Array,
  sigmaLog: number,
  brakedShare: number,
  peakBraking: number,
): void {
  for (let j = 0; j < CAPACITY; j++) {
    const hard = exp(sigmaLog * normalFromUniform(uniforms[j * UNIFORMS_PER_LANDING + 7]!));
    const share = brakedShare * hard;
    data[BRAKED_SHARE + j] = share < GREATEST_BRAKED_SHARE ? share : GREATEST_BRAKED_SHARE;
    data[PEAK_BRAKING + j] = peakBraking * hard;
  }
}

function drawWearScatter(uniforms: Float64Array, data: Float64Array, table: Float64Array): void {
  for (let j = 0; j < CAPACITY; j++) {
    const score = normalFromUniform(uniforms[j * UNIFORMS_PER_LANDING + 9]!);
    data[WEAR_SCATTER + j] = quantileAtZ(table, score);
  }
}
