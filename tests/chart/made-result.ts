import type { IntervalEstimate } from '../../lib/estimate/interval.js';
import type { LifeFigures, LifeSummary } from '../../lib/estimate/life.js';
import type { PairingSummary } from '../../lib/estimate/summary.js';
import type { RunResult } from '../../lib/run.js';
import { clopperPearsonInterval } from '../../lib/estimate/proportion.js';

const TRIALS = 600;

/** What a made pairing differs in. */
export interface MadePairing {
  readonly setup?: string;
  readonly mix?: string;
  /** Median life, flight hours; null beyond the horizon. */
  readonly hours?: number | null;
  /** Half width of the interval of the median, share of it. */
  readonly hoursError?: number;
  /** 8 in 10 lives, flight hours. */
  readonly range?: readonly [number | null, number | null];
  /** Chance of a flat in a season. */
  readonly chance?: number;
  /** The interval of the chance runs from the chance over this to the chance times this. */
  readonly chanceError?: number;
  /** Shares by cause: spin-up, braking, pivots, squirm, scrub. */
  readonly causes?: readonly [number, number, number, number, number];
  readonly surfaces?: Readonly<Record<string, number>>;
}

/** Flight hours up to which made lives are followed. */
export const FOLLOWED_HOURS = 2400;

function figures(
  p50: number | null,
  error: number,
  [p10, p90]: readonly [number | null, number | null],
): LifeFigures {
  const open = { lower: null, upper: null };
  return {
    p10,
    p50,
    p90,
    mean: p50 ?? FOLLOWED_HOURS,
    standardError: 1,
    intervals: {
      p10: open,
      p50: p50 === null ? open : { lower: p50 * (1 - error), upper: p50 * (1 + error) },
      p90: open,
    },
  };
}

/** A pairing of invented figures. */
export function madePairing(changes: MadePairing = {}): PairingSummary {
  const { setup = 'soft 29', mix = 'gravel', hours = 500, hoursError = 0.02 } = changes;
  const { chance = 0.02, chanceError = 1.1, causes = [0.1, 0.3, 0.05, 0.45, 0.1] } = changes;
  const { surfaces = { paved: 0.7, gravel: 0.3 } } = changes;
  const range = changes.range ?? [hours === null ? 900 : 0.6 * hours, hours === null ? null : 1.5 * hours];
  const life: LifeSummary = {
    landings: figures(hours, hoursError, range),
    hours: figures(hours, hoursError, range),
    months: figures(hours, hoursError, range),
    beyondHorizon: range[1] === null ? 0.3 : 0,
  };
  const none: IntervalEstimate = clopperPearsonInterval(0, TRIALS);
  const events = Math.round(chance * TRIALS);
  const season = {
    ...(chance === 0
      ? none
      : {
          estimate: chance,
          lower: chance / chanceError,
          upper: Math.min(1, chance * chanceError),
        }),
    standardError: chance / 20,
    counted: { estimate: events / TRIALS, lower: 0, upper: 1, events, trials: TRIALS, exposure: TRIALS },
    controlCoefficient: 1,
  };
  const share = (estimate: number): { estimate: number; standardError: number } => ({
    estimate,
    standardError: estimate / 100,
  });
  const removal = { estimate: 0.2, lower: 0.1, upper: 0.3 };
  const removalCauses = { worn: removal, cut: removal, puncture: removal, pressure: removal, age: removal };
  const zero = share(0);
  return {
    setup,
    mix,
    life,
    treadLimit: life,
    cords: life,
    puncture: {
      per100Landings: season,
      season,
      awayFromHelp: season,
      byKind: { tread: share(0.5), sidewall: share(0.1), pinch: share(0.3), valve: share(0.1) },
      acrossWorlds: { p10: chance / 2, p50: 0.9 * chance, p90: Math.min(1, 2 * chance) },
    },
    wearShares: {
      byCause: {
        'spin-up': share(causes[0]),
        braking: share(causes[1]),
        pivots: share(causes[2]),
        squirm: share(causes[3]),
        scrub: share(causes[4]),
      },
      bySurface: Object.fromEntries(Object.entries(surfaces).map(([name, value]) => [name, share(value)])),
    },
    removalCauses,
    bandWearMm: { centre: zero, innerShoulder: zero, outerShoulder: zero },
    thirdWheel: { position: 'nose', life, removalCauses },
    doubts: {
      lifeHours: { luck: 100, ignorance: 100, ignoranceAtMost: 120, numerical: 1 },
      punctureSeason: { luck: 0.1, ignorance: 0.01, ignoranceAtMost: 0.015, numerical: 0.001 },
    },
    season: {
      mainTiresFitted: zero,
      thirdTiresFitted: zero,
      daysLost: zero,
      cost: null,
      costPerFlightHour: null,
      beadSlips: zero,
      slowLeaks: zero,
      lowReadings: zero,
      hydroplaning: zero,
      tailHitsPerLanding: zero,
    },
    curves: {
      landings: [0, 4000],
      hours: [0, FOLLOWED_HOURS],
      survival: [1, 0],
      lower: [1, 0],
      upper: [1, 0],
      incidence: { worn: [0, 1], cut: [0, 0], puncture: [0, 0], pressure: [0, 0], age: [0, 0] },
      worlds: null,
    },
  };
}

/** A result of invented pairings. */
export function madeResult(pairings: readonly MadePairing[]): RunResult {
  return {
    scenario: 'made up',
    note: '',
    airplane: 'none',
    season: { landings: 240, flightHours: 144 },
    version: '0.1.0',
    seed: 'chart',
    trials: TRIALS,
    complete: true,
    precision: null,
    scenarioHash: '0'.repeat(64),
    currency: null,
    pairings: pairings.map(madePairing),
    cautions: [],
  };
}

/** Every set-up on every mix; figures from their places. */
export function madeGrid(
  setups: readonly string[],
  mixes: readonly string[],
  figuresAt: (setup: number, mix: number) => MadePairing = (setup, mix) => ({
    hours: 1200 / (1 + setup) / (1 + mix),
    chance: 0.004 * (1 + setup) * (1 + mix),
  }),
): RunResult {
  return madeResult(
    setups.flatMap((setup, place) => mixes.map((mix, at) => ({ setup, mix, ...figuresAt(place, at) }))),
  );
}

/** Names with numbers: "mix 1", "mix 2". */
export function numbered(count: number, word: string): string[] {
  return Array.from({ length: count }, (_, index) => `${word} ${index + 1}`);
}

/** Names as hard as a scenario file allows them: 60 characters, markup, quotes, wide letters, one letter. */
export const HARD_NAMES: readonly string[] = [
  'Extra wide soft balloon tires at 9 psi with heavy tubes, 60',
  '<script>alert("x")</script> & \'quoted\' \\names\\',
  'W'.repeat(60),
  'x',
  'x  y',
  'x y',
  '大きな柔らかいタイヤ',
];
