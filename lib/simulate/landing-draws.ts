import { exp } from '../numeric/elementary.js';
import { normalFromUniform } from '../numeric/normal.js';
import { gammaUnitMeanQuantileTable, quantileAtZ } from '../numeric/quantile-table.js';
import { fillUniforms, openStream, streamKey, type Stream } from '../random/stream.js';
import { DAYS_PER_YEAR } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';

/** Landings drawn at a time: small enough for the first-level cache, large enough to spread the overhead. */
export const BLOCK_LANDINGS = 128;

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
  /** Uniform that picks the strip. */
  readonly stripUniform: Float64Array = new Float64Array(BLOCK_LANDINGS);
  /** Uniform that decides wet or dry. */
  readonly wetUniform: Float64Array = new Float64Array(BLOCK_LANDINGS);
  /** Uniform that decides on a pivot turn, its side and its spot. */
  readonly pivotUniform: Float64Array = new Float64Array(BLOCK_LANDINGS);
  readonly massKg: Float64Array = new Float64Array(BLOCK_LANDINGS);
  readonly speedMps: Float64Array = new Float64Array(BLOCK_LANDINGS);
  /** Square of touchdown speed over its typical value: scales the landing roll. */
  readonly rollRatio: Float64Array = new Float64Array(BLOCK_LANDINGS);
  readonly sinkMps: Float64Array = new Float64Array(BLOCK_LANDINGS);
  /** Load shift to the right main wheel as a share of its load, negative to the left. */
  readonly sideShift: Float64Array = new Float64Array(BLOCK_LANDINGS);
  readonly brakedShare: Float64Array = new Float64Array(BLOCK_LANDINGS);
  readonly peakBraking: Float64Array = new Float64Array(BLOCK_LANDINGS);
  readonly temperatureK: Float64Array = new Float64Array(BLOCK_LANDINGS);
  /** Wear multiplier of mean 1. */
  readonly wearScatter: Float64Array = new Float64Array(BLOCK_LANDINGS);
  /** Calendar day of the landing, from the start of the first season. */
  readonly day: Float64Array = new Float64Array(BLOCK_LANDINGS);
  readonly gapDays: Float64Array = new Float64Array(BLOCK_LANDINGS);
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
    const { calendar, airplane, habits } = scenario;
    const mass = world[airplane.landingMass]!;
    const massSpread = world[airplane.landingMassSpread]!;
    const speedRatio = world[habits.touchdownSpeedRatio]!;
    const speedSpread = world[habits.touchdownSpeedSpread]!;
    const sink = world[habits.sinkRate]!;
    const sinkSpread = world[habits.sinkRateSpread]!;
    const braked = world[habits.brakedShare]!;
    const peak = world[habits.peakBraking]!;
    const brakingSpread = world[habits.brakingSpread]!;
    const sideSpread = world[habits.sideLoadSpread]!;
    const scatterTable = this.scatterTable;
    const constantScatter = this.scatterSpread === 0;
    const perYear = calendar.landingsPerYear;
    let year = Math.floor(this.firstLanding / perYear);
    let inYear = this.firstLanding - year * perYear;
    for (let j = 0, u = 0; j < BLOCK_LANDINGS; j++, u += UNIFORMS_PER_LANDING) {
      this.stripUniform[j] = uniforms[u]!;
      this.wetUniform[j] = uniforms[u + 1]!;
      this.pivotUniform[j] = uniforms[u + 2]!;
      const massRatio = 1 + massSpread * normalFromUniform(uniforms[u + 3]!);
      this.massKg[j] = mass * (massRatio > LEAST_MASS_SHARE ? massRatio : LEAST_MASS_SHARE);
      let ratio = speedRatio + speedSpread * normalFromUniform(uniforms[u + 4]!);
      if (ratio < SLOWEST_TOUCHDOWN_RATIO) ratio = SLOWEST_TOUCHDOWN_RATIO;
      if (ratio > FASTEST_TOUCHDOWN_RATIO) ratio = FASTEST_TOUCHDOWN_RATIO;
      this.speedMps[j] = airplane.stallSpeedMps * ratio;
      this.rollRatio[j] = (ratio * ratio) / (speedRatio * speedRatio);
      this.sinkMps[j] = sink * exp(sinkSpread * normalFromUniform(uniforms[u + 5]!));
      const shift = sideSpread * normalFromUniform(uniforms[u + 6]!);
      this.sideShift[j] =
        shift > GREATEST_SIDE_SHIFT
          ? GREATEST_SIDE_SHIFT
          : shift < -GREATEST_SIDE_SHIFT
            ? -GREATEST_SIDE_SHIFT
            : shift;
      const hardness = exp(brakingSpread * normalFromUniform(uniforms[u + 7]!));
      const share = braked * hardness;
      this.brakedShare[j] = share < GREATEST_BRAKED_SHARE ? share : GREATEST_BRAKED_SHARE;
      this.peakBraking[j] = peak * hardness;
      this.temperatureK[j] =
        calendar.temperatureK[inYear]! + scenario.temperatureSpreadK * normalFromUniform(uniforms[u + 8]!);
      this.wearScatter[j] = constantScatter
        ? 1
        : quantileAtZ(scatterTable, normalFromUniform(uniforms[u + 9]!));
      this.day[j] = year * DAYS_PER_YEAR + calendar.day[inYear]!;
      this.gapDays[j] = this.firstLanding + j === 0 ? 0 : calendar.gapDays[inYear]!;
      if (++inYear === perYear) {
        inYear = 0;
        year++;
      }
    }
  }
}
