import type { MixComparison } from '../decide/compare.js';
import type { SetupLimits } from '../decide/limit-types.js';
import type { PairingMoney, UnpricedPairing } from '../decide/money.js';
import type { SparesCase } from '../decide/stock-cases.js';

/** What every answer says about where it comes from. */
interface Origin {
  /** Title of the scenario. */
  readonly scenario: string;
  readonly version: string;
  readonly seed: string;
  readonly trials: number;
}

/** Set-ups held against their limits, with the pressures of simulated seasons. Plain data that can be stored as JSON. */
export interface LimitsAnswer extends Origin {
  /** Mixes that say where the airplane lands, and whose seasons were simulated. */
  readonly mixes: readonly string[];
  readonly setups: readonly SetupLimits[];
}

/** Set-ups against each other, and their money. Plain data that can be stored as JSON. */
export interface CompareAnswer extends Origin {
  readonly comparisons: readonly MixComparison[];
  readonly money: readonly (PairingMoney | UnpricedPairing)[];
}

/** Spares to keep, for each choice of gear sets. Plain data that can be stored as JSON. */
export interface SparesAnswer extends Origin {
  readonly cases: readonly SparesCase[];
  /** What the reader must know about how airplanes were put together, in sentences. */
  readonly remarks: readonly string[];
}
