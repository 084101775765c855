import type { IntervalEstimate } from '../estimate/interval.js';
import type { MonteCarloInterval } from '../estimate/life.js';
import type { PairedDifference } from '../estimate/paired.js';
import type { ChanceRange } from '../estimate/risk.js';
import type { Estimate } from '../estimate/shares.js';
import type { Criterion } from './criteria.js';
import type { VerdictKind } from './verdict.js';

/** Figures of one pairing under one set of assumptions. Hours are flight hours. */
export interface SeasonFigures {
  /** Life of the main tires, h; null beyond the horizon of the run. */
  readonly lifeHours: {
    readonly p10: number | null;
    readonly p50: number | null;
    readonly p90: number | null;
    /** Monte Carlo 95 % interval of the median. */
    readonly medianInterval: MonteCarloInterval;
  };
  /** Share of the lives that had not ended at the horizon. */
  readonly beyondHorizon: number;
  /** Chance of at least one flat in the season, with its Monte Carlo 95 % interval. */
  readonly flatChance: IntervalEstimate;
  /** How that chance differs between worlds and paths. */
  readonly flatAcrossWorlds: ChanceRange;
  /** Money per flight hour; null without all prices. */
  readonly costPerFlightHour: Estimate | null;
  /**
   * Spread of the mean life between the worlds that the assumptions allow, h; null with too few twins. Twins that hardly
   * differ say little: what it may still be stands beside it.
   */
  readonly ignoranceHours: {
    readonly estimate: number;
    /** With the variance two standard errors higher. */
    readonly upper: number;
  } | null;
}

/** One pairing before and after. */
export interface PairingShift {
  readonly setup: string;
  readonly mix: string;
  readonly before: SeasonFigures;
  readonly after: SeasonFigures;
  /** After less before on the same landings, with Monte Carlo 95 % intervals. */
  readonly change: {
    /** Mean life counted up to the horizon, h. */
    readonly meanLifeHours: PairedDifference;
    /** Flats of a season as expected along each path. */
    readonly flatsPerSeason: PairedDifference;
    /** Null without all prices. */
    readonly costPerFlightHour: PairedDifference | null;
  };
}

/** What was said about the best set-up. */
export interface BestTold {
  readonly best: string;
  readonly kind: VerdictKind;
  /** Set-ups that are practically equal to it, and those of which it cannot be told. */
  readonly equal: readonly string[];
  readonly open: readonly string[];
  /** The verdict in a sentence or two. */
  readonly text: string;
}

/** The best set-up on a mix by one criterion, before and after. */
export interface BestShift {
  readonly mix: string;
  readonly criterion: Criterion;
  readonly before: BestTold;
  readonly after: BestTold;
  /**
   * `same`: the same set-up leads. `changed`: another one leads, and neither was level with the other. `not told`:
   * another one leads, but before or after the two are equal for practical ends or the trials cannot tell.
   */
  readonly change: 'same' | 'changed' | 'not told';
}

/** A season under the assumptions before and after: plain data that can be stored as JSON. */
export interface SeasonShift {
  readonly kind: 'gravelbar season shift';
  readonly formatVersion: 1;
  /** Title of the scenario. */
  readonly scenario: string;
  readonly seed: string;
  readonly trials: number;
  /** What one season is. */
  readonly season: { readonly landings: number; readonly flightHours: number };
  /** Label of money; null without prices. */
  readonly currency: string | null;
  /** In the order of the scenario. */
  readonly pairings: readonly PairingShift[];
  /** For each mix with at least two set-ups, by each criterion that can be told. */
  readonly best: readonly BestShift[];
}
