import { log, oneMinusExp } from '../numeric/elementary.js';
import { normalCdf } from '../numeric/special.js';
import { AxleLandings, SIDES, STATES } from './likelihood-axle.js';
import { deepestOf, type Deepest } from './likelihood-deepest.js';
import type { Figures } from './likelihood-figures.js';
import type { LandingMeans, StoneHazards } from './likelihood-ground.js';
import type { PlanLine, PlannedPart, PlannedPlace, PlanStep, StoneCause } from './likelihood-plan-types.js';
import { BAND_COUNT } from './likelihood-work.js';

/** Mean and variance of the largest of eight standard normal numbers (tables of order statistics, from memory). */
const LARGEST_OF_EIGHT = 1.4236;
const LARGEST_VARIANCE = 0.3729;
/** No variance is taken for less than this, m2 (a hundredth of a micrometre squared): divisions stay sound. */
const LEAST_VARIANCE = 1e-16;
/** Logarithm of the least chance that is told apart from none. */
const LEAST_LOG = -690;

/** What the pass over the records tells of one reading. */
export interface ReadingPrediction {
  readonly reading: number;
  /** Depth worn as expected just before the reading is used, m, and its variance with the reading error, m2. */
  readonly meanM: number;
  readonly varianceM2: number;
  /** Depth worn as read, m. */
  readonly wornM: number;
  readonly gone: boolean;
}

/** What one pass over the records takes beside the means of landings. */
export interface PassOptions {
  /** Factor on the stated reading errors. */
  readonly errorFactor: number;
  /** Spread of the depth at which a tire is judged worn, m. */
  readonly wornSpreadM: number;
  /** Sees every reading; none in the sampler. */
  readonly sink?: ((prediction: ReadingPrediction) => void) | undefined;
  /** Receives what the records tell; none where only their likelihood is asked for. */
  readonly figures?: Figures | undefined;
  /** False: readings are predicted from the day the tire was fitted, none is learned from. */
  readonly learn?: boolean | undefined;
}

const logChance = (chance: number): number => (chance > 0 ? Math.max(LEAST_LOG, log(chance)) : LEAST_LOG);

/**
 * Likelihood of what happened to the tires of one axle.
 *
 * Depth worn is followed as a normal law by a Kalman filter: landings add their mean depth and its covariance (a gamma
 * multiplier and the luck of mass, speed, braking, side load and wetness, shared by both wheels), readings narrow it.
 * Punctures and cuts are Poisson processes whose rate follows the rubber left.
 *
 * @see Kalman (1960), in the form for one reading at a time; from memory.
 */
export class TreadPass {
  private readonly mean = new Float64Array(STATES);
  private readonly covariance = new Float64Array(STATES * STATES);
  private readonly kind = new Int32Array(SIDES).fill(-1);
  /** Sums for the pivot spots of each side: landings' expected depth per spot, and its variance. */
  private readonly spotMean = new Float64Array(SIDES);
  private readonly spotVariance = new Float64Array(SIDES);
  private readonly middle = new Float64Array(STATES);
  private readonly added = new Float64Array(STATES);
  private readonly addedCovariance = new Float64Array(STATES * STATES);
  private readonly gain = new Float64Array(STATES);
  private readonly worst: Deepest = { meanM: 0, varianceM2: 0, weights: new Float64Array(BAND_COUNT) };
  private readonly hazard: StoneHazards = { puncture: 0, sidePuncture: 0, cut: 0, logged: 0 };
  private readonly sum: StoneHazards = { puncture: 0, sidePuncture: 0, cut: 0, logged: 0 };
  private lastParts: readonly PlannedPart[] = [];
  /** Punctures (tread and side) and cuts expected in all that was run since they were last set to 0. */
  expectedPunctures = 0;
  expectedCuts = 0;
  private weight = 1;
  private readonly means: LandingMeans;
  private readonly places: readonly PlannedPlace[];
  private readonly axles: AxleLandings;
  private readonly kindOfTire: readonly number[];

  private readonly leastCutM: number;

  /** @param leastCutM depth from which on cuts are in the records, m; Infinity where only those to the carcass count. */
  constructor(
    means: LandingMeans,
    places: readonly PlannedPlace[],
    kindOfTire: readonly number[],
    leastCutM: number,
  ) {
    this.leastCutM = leastCutM;
    this.means = means;
    this.places = places;
    this.axles = new AxleLandings(means, places);
    this.kindOfTire = kindOfTire;
  }

  /** Logarithm of the likelihood of one line of the plan. */
  run(line: PlanLine, options: PassOptions): number {
    this.weight = line.weight;
    this.mean.fill(0);
    this.covariance.fill(0);
    this.kind.fill(-1);
    this.lastParts = [];
    let total = 0;
    for (const step of line.steps) {
      total += this.take(step, options);
      // Values far out in the prior may break the model: nothing can be said for them.
      if (!(total > -Infinity)) return -Infinity;
    }
    return line.weight * total;
  }

  private take(step: PlanStep, options: PassOptions): number {
    switch (step.step) {
      case 'fit':
        this.fit(step.side, this.kindOfTire[step.tire]!, step.wornM, step.variance);
        return 0;
      case 'off':
        this.kind[step.side] = -1;
        return 0;
      case 'roll':
        return this.roll(step.parts, options);
      case 'read':
        return this.read(step, options);
      case 'worn':
        return this.wornNow(step.side, options);
      case 'not worn':
        return logChance(1 - this.chanceWorn(step.side, options, null));
      case 'event': {
        const parts = step.parts.length > 0 ? step.parts : this.lastParts;
        if (step.depthM !== null) {
          const logBites = logChance(this.bitesPerDepth(step.side, parts, step.depthM));
          options.figures?.add(logBites, 1 / this.weight);
          return logBites;
        }
        this.addHazards(step.side, parts, this.mean);
        return parts.length > 0 ? logChance(hazardOf(this.sum, step.cause)) : 0;
      }
      case 'ended within':
        return this.endedWithin(step.side, step.cause, step.parts, options);
    }
  }

  private fit(side: number, kind: number, wornM: number, variance: number): void {
    this.kind[side] = kind;
    for (let b = 0; b < BAND_COUNT; b++) {
      const i = side * BAND_COUNT + b;
      this.mean[i] = wornM;
      for (let j = 0; j < STATES; j++) this.covariance[i * STATES + j] = this.covariance[j * STATES + i] = 0;
    }
    // The groove of a new tire is the same all round: one deviation for all its bands.
    for (let b = 0; b < BAND_COUNT; b++) {
      for (let c = 0; c < BAND_COUNT; c++) {
        const at = (side * BAND_COUNT + b) * STATES + side * BAND_COUNT + c;
        this.covariance[at] = (b === c ? 1 : 0.9) * variance;
      }
    }
    this.spotMean[side] = 0;
    this.spotVariance[side] = 0;
  }

  /** Lets the axle roll; returns the logarithm of the chance of no puncture and no cut but those that are told. */
  private roll(parts: readonly PlannedPart[], { figures }: PassOptions): number {
    this.lastParts = parts;
    this.addLandings(parts);
    for (let i = 0; i < STATES; i++) this.middle[i] = this.mean[i]! + 0.5 * this.added[i]!;
    let total = 0;
    for (let side = 0; side < SIDES; side++) {
      if (this.kind[side]! < 0) continue;
      this.addHazards(side, parts, this.middle);
      const punctures = this.sum.puncture + this.sum.sidePuncture;
      total -= punctures + this.sum.logged;
      figures?.addCount(punctures, this.weight);
      figures?.addCount(this.sum.logged, this.weight);
      this.expectedPunctures += this.weight * punctures;
      this.expectedCuts += this.weight * this.sum.logged;
    }
    for (let i = 0; i < STATES; i++) this.mean[i]! += this.added[i]!;
    for (let i = 0; i < STATES * STATES; i++) this.covariance[i]! += this.addedCovariance[i]!;
    return this.isFinite() ? total : -Infinity;
  }

  private isFinite(): boolean {
    let sum = 0;
    for (let i = 0; i < STATES; i++)
      sum += this.mean[i]! + this.covariance[i * STATES + i]! + this.spotMean[i % SIDES]!;
    return Number.isFinite(sum);
  }

  /** Mean and covariance of the depth that landings add. */
  private addLandings(parts: readonly PlannedPart[]): void {
    const { added, addedCovariance } = this;
    added.fill(0);
    addedCovariance.fill(0);
    for (const part of parts) {
      const { landings } = part;
      const one = this.axles.of(this.kind, part);
      for (let i = 0; i < STATES; i++) added[i]! += landings * one.mean[i]!;
      for (let i = 0; i < STATES * STATES; i++) addedCovariance[i]! += landings * one.covariance[i]!;
      for (let side = 0; side < SIDES; side++) {
        this.spotMean[side]! += landings * one.spotMean[side]!;
        this.spotVariance[side]! += landings * one.spotVariance[side]!;
      }
    }
  }

  /** Sums the hazards of landings on one side, at given depths worn. */
  private addHazards(side: number, parts: readonly PlannedPart[], worn: Float64Array): void {
    const { sum, hazard } = this;
    sum.puncture = sum.sidePuncture = sum.cut = sum.logged = 0;
    const kind = this.kind[side]!;
    if (kind < 0) return;
    for (const { place, landings } of parts) {
      for (const { strip, share } of this.places[place]!.strips) {
        this.means.hazards(kind, strip, worn, side * BAND_COUNT, this.leastCutM, hazard);
        sum.puncture += landings * share * hazard.puncture;
        sum.sidePuncture += landings * share * hazard.sidePuncture;
        sum.cut += landings * share * hazard.cut;
        sum.logged += landings * share * hazard.logged;
      }
    }
  }

  /** Depth at the worst spot: of the deepest band and the worst pivot spot, which lies across all bands. */
  private findWorst(side: number, mean: Float64Array, covariance: Float64Array): void {
    deepestOf(mean, covariance, STATES, side * BAND_COUNT, this.worst);
    const spread = Math.sqrt(this.spotVariance[side]!);
    this.worst.meanM += this.spotMean[side]! + LARGEST_OF_EIGHT * spread;
    this.worst.varianceM2 += LARGEST_VARIANCE * spread * spread;
  }

  /** Bites of landings per depth, 1/mm: a density, so that the unit is only a constant. */
  private bitesPerDepth(side: number, parts: readonly PlannedPart[], depthM: number): number {
    const kind = this.kind[side]!;
    let sum = 0;
    for (const { place, landings } of parts) {
      for (const { strip, share } of this.places[place]!.strips) {
        sum += landings * share * this.means.bitesPerDepth(kind, strip, depthM) * 0.001;
      }
    }
    return sum;
  }

  private read(step: Extract<PlanStep, { step: 'read' }>, options: PassOptions): number {
    const { side, band, wornM, errorM, stepM, gone } = step;
    const error = errorM * options.errorFactor;
    const noise = error * error + (stepM * stepM) / 12;
    const first = side * BAND_COUNT;
    if (band < 0) this.findWorst(side, this.mean, this.covariance);
    const expected = band < 0 ? this.worst.meanM : this.mean[first + band]!;
    const own = band < 0 ? this.worst.varianceM2 : this.covariance[(first + band) * (STATES + 1)]!;
    const variance = Math.max(LEAST_VARIANCE, own + noise);
    options.sink?.({ reading: step.reading, meanM: expected, varianceM2: variance, wornM, gone });
    if (step.held || options.learn === false) return 0;
    if (gone) {
      const z = (expected - wornM) / Math.sqrt(variance);
      options.figures?.addChance(z, this.weight);
      return logChance(normalCdf(z));
    }
    options.figures?.addNormal(expected, variance, this.weight);
    const off = wornM - expected;
    const { gain, covariance } = this;
    if (band >= 0) for (let i = 0; i < STATES; i++) gain[i] = covariance[(first + band) * STATES + i]!;
    else {
      gain.fill(0);
      for (let b = 0; b < BAND_COUNT; b++) {
        const weight = this.worst.weights[b]!;
        for (let i = 0; i < STATES; i++) gain[i]! += weight * covariance[(first + b) * STATES + i]!;
      }
    }
    this.learn(off, variance);
    return -0.5 * (log(variance) + (off * off) / variance);
  }

  /** Narrows the law of the depths by one reading, whose covariance with them is the gain. */
  private learn(off: number, variance: number): void {
    const { mean, covariance, gain } = this;
    const perVariance = 1 / variance;
    for (let i = 0; i < STATES; i++) {
      const scaled = gain[i]! * perVariance;
      if (scaled === 0) continue;
      mean[i]! += scaled * off;
      for (let j = 0; j < STATES; j++) covariance[i * STATES + j]! -= scaled * gain[j]!;
    }
  }

  /** How far the worst spot is from the limit, and the variance of that, people's judgement included. */
  private wornLaw(
    side: number,
    { wornSpreadM }: PassOptions,
    mean: Float64Array,
    covariance: Float64Array,
  ): { readonly off: number; readonly variance: number } {
    this.findWorst(side, mean, covariance);
    const variance = this.worst.varianceM2 + wornSpreadM * wornSpreadM;
    return {
      off: this.means.wornAtM(this.kind[side]!) - this.worst.meanM,
      variance: Math.max(LEAST_VARIANCE, variance),
    };
  }

  /** Taken off as worn just now: the worst spot stood at the limit, as far as people judge it. */
  private wornNow(side: number, options: PassOptions): number {
    const { off, variance } = this.wornLaw(side, options, this.mean, this.covariance);
    options.figures?.addNormal(off, variance, this.weight);
    return -0.5 * (log(variance) + (off * off) / variance);
  }

  /** Chance that a tire is judged worn, after further landings where given. */
  private chanceWorn(side: number, options: PassOptions, further: readonly PlannedPart[] | null): number {
    if (further === null) {
      const { off, variance } = this.wornLaw(side, options, this.mean, this.covariance);
      options.figures?.addChance(off / Math.sqrt(variance), this.weight);
      return normalCdf(-off / Math.sqrt(variance));
    }
    const spots = [Float64Array.from(this.spotMean), Float64Array.from(this.spotVariance)] as const;
    this.addLandings(further);
    const mean = this.mean.map((each, i) => each + this.added[i]!);
    const covariance = this.covariance.map((each, i) => each + this.addedCovariance[i]!);
    const { off, variance } = this.wornLaw(side, options, mean, covariance);
    // They are only looked at here: the tire on the other side rolls through them in a step of its own.
    this.spotMean.set(spots[0]);
    this.spotVariance.set(spots[1]);
    options.figures?.addChance(off / Math.sqrt(variance), this.weight);
    return normalCdf(-off / Math.sqrt(variance));
  }

  private endedWithin(
    side: number,
    cause: StoneCause | 'worn' | null,
    parts: readonly PlannedPart[],
    options: PassOptions,
  ): number {
    if (cause === null) return 0;
    if (cause === 'worn') {
      const before = this.chanceWorn(side, options, null);
      // "Not worn" before is told by its own step.
      return logChance((this.chanceWorn(side, options, parts) - before) / Math.max(1 - before, 1e-300));
    }
    this.addHazards(side, parts, this.mean);
    const hazard = hazardOf(this.sum, cause);
    options.figures?.addCount(hazard, this.weight);
    return logChance(oneMinusExp(hazard));
  }
}

function hazardOf(sum: StoneHazards, cause: StoneCause): number {
  switch (cause) {
    case 'puncture':
      return sum.puncture + sum.sidePuncture;
    case 'side puncture':
      return sum.sidePuncture;
    case 'cut':
      return sum.cut;
  }
}
