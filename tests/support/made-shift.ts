/** Made-up seasons before and after a fit: every figure is invented and follows from the options. */
import type {
  BestShift,
  BestTold,
  PairingShift,
  SeasonFigures,
  SeasonShift,
} from '../../lib/decide/season-shift-types.js';

/** Figures about a median life, h. */
export function madeFigures(median: number | null, change: Partial<SeasonFigures> = {}): SeasonFigures {
  const at = (factor: number): number | null => (median === null ? null : factor * median);
  return {
    lifeHours: {
      p10: at(0.7),
      p50: median,
      p90: at(1.4),
      medianInterval: { lower: at(0.97), upper: at(1.03) },
    },
    beyondHorizon: median === null ? 0.8 : 0,
    flatChance: { estimate: 0.031, lower: 0.029, upper: 0.033 },
    flatAcrossWorlds: { p10: 0.01, p50: 0.03, p90: 0.06 },
    costPerFlightHour: { estimate: 12.4, standardError: 0.1 },
    ignoranceHours: { estimate: 60, upper: 70 },
    ...change,
  };
}

/** One pairing whose mean life changes by some hours, with its half-width. */
export function madePairing(
  setup: string,
  mix: string,
  [before, after]: readonly [SeasonFigures, SeasonFigures],
  [change, reach]: readonly [number, number],
): PairingShift {
  const difference = (estimate: number, half: number): PairingShift['change']['meanLifeHours'] => ({
    estimate,
    lower: estimate - half,
    upper: estimate + half,
    standardError: half / 2,
    varianceRatio: 0.4,
  });
  return {
    setup,
    mix,
    before,
    after,
    change: {
      meanLifeHours: difference(change, reach),
      flatsPerSeason: difference(0, 0.01),
      costPerFlightHour: difference(0.4, 0.1),
    },
  };
}

/** What was said about the best set-up. */
export function madeTold(best: string, change: Partial<BestTold> = {}): BestTold {
  return { best, kind: 'settled', equal: [], open: [], text: `${best} is best.`, ...change };
}

/** A made-up season before and after, of two set-ups on one mix. */
export function madeShift(change: Partial<SeasonShift> = {}): SeasonShift {
  const told = (criterion: BestShift['criterion']): BestShift => ({
    mix: 'gravel',
    criterion,
    before: madeTold('soft'),
    after: madeTold('soft'),
    change: 'same',
  });
  return {
    kind: 'gravelbar season shift',
    formatVersion: 1,
    scenario: 'made-up fleet',
    seed: 'made',
    trials: 500,
    season: { landings: 300, flightHours: 250 },
    currency: 'coins',
    pairings: [
      madePairing(
        'soft',
        'gravel',
        [madeFigures(310), madeFigures(280, { ignoranceHours: { estimate: 2, upper: 15 } })],
        [-31, 5],
      ),
      madePairing(
        'stiff',
        'gravel',
        [madeFigures(200), madeFigures(202, { ignoranceHours: { estimate: 30, upper: 36 } })],
        [1, 4],
      ),
    ],
    best: [told('life'), told('costPerHour')],
    ...change,
  };
}
