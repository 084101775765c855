import { exp } from '../numeric/elementary.js';
import { FLAT_KINDS, type PairingTrials } from '../simulate/columns.js';
import { estimateChance, estimateRate, type RiskEstimate } from './martingale.js';
import { quantileSorted } from './moments.js';
import { ratioOfSums, type Estimate } from './shares.js';

/** How the chance of a flat in the season differs between worlds and paths: the middle eight in ten. */
export interface ChanceRange {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

/** Risk of a flat: any sudden loss of air, on any wheel. */
export interface PunctureSummary {
  /** Flats per 100 landings of the season. */
  readonly per100Landings: RiskEstimate;
  /** Chance of at least one flat in the season. */
  readonly season: RiskEstimate;
  /** Chance of at least one flat in the season at a strip without help. */
  readonly awayFromHelp: RiskEstimate;
  /** Shares of the expected flats by kind; all 0 if none is possible. */
  readonly byKind: Readonly<Record<(typeof FLAT_KINDS)[number], Estimate>>;
  /** Chance of a flat in the season from world to world. */
  readonly acrossWorlds: ChanceRange;
}

/** Chance of at least one flat, given the path of a trial through the season. */
export function chancesAlongPaths(trials: PairingTrials): Float64Array {
  return Float64Array.from(trials.columns.flatsHazard, (hazard) => 1 - exp(-hazard));
}

/**
 * Risk of a flat from the trials of a pairing.
 *
 * Estimates use the hazard that each trial accumulated beside the events it met (see martingale.ts), so that rare
 * events need no lucky strikes; the plain counts are given with them.
 *
 * @param trials results of a pairing.
 * @param seasonLandings landings in the season.
 */
export function summarizePunctures(trials: PairingTrials, seasonLandings: number): PunctureSummary {
  const { columns } = trials;
  const rate = estimateRate(columns.flats, columns.flatsHazard, seasonLandings / 100);
  const kinds = [columns.treadHazard, columns.sidewallHazard, columns.pinchHazard, columns.valveHazard];
  const all = Float64Array.from(columns.treadHazard, (_, row) =>
    kinds.reduce((sum, hazard) => sum + hazard[row]!, 0),
  );
  const byKind = Object.fromEntries(FLAT_KINDS.map((kind, index) => [kind, ratioOfSums(kinds[index]!, all)]));
  const chances = chancesAlongPaths(trials).sort();
  return {
    per100Landings: rate,
    season: estimateChance(columns.anyFlat, columns.anyFlatHazard),
    awayFromHelp: estimateChance(columns.anyFlatAway, columns.anyFlatAwayHazard),
    byKind: byKind as Record<(typeof FLAT_KINDS)[number], Estimate>,
    acrossWorlds: {
      p10: quantileSorted(chances, 0.1),
      p50: quantileSorted(chances, 0.5),
      p90: quantileSorted(chances, 0.9),
    },
  };
}
