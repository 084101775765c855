import type { PairingSummary } from '../estimate/summary.js';
import { percentText } from '../present/words.js';
import type { RunResult } from '../run.js';
import { amountText, oneInText, percentSpan, seasonsText, spanText } from './figures.js';
import type { ChartRow } from './spec.js';

/** What is less is shaded alike: log colours have no zero. */
const LEAST_SHADE_HOURS = 1;
const LEAST_SHADE_CHANCE = 1e-5;

/** Set-ups and mixes of a result, in the order in which a chart shows them. */
export interface PairingOrder {
  /** Longest lasting first. */
  readonly setups: readonly string[];
  /** As in the scenario. */
  readonly mixes: readonly string[];
}

/**
 * The order of set-ups and mixes in a chart: the same set-up stands at the same place on every mix.
 *
 * @param pairings of a result.
 */
export function pairingOrder(pairings: readonly PairingSummary[]): PairingOrder {
  const setups = [...new Set(pairings.map(({ setup }) => setup))];
  const ranks = setups.map((name) => {
    const own = pairings.filter(({ setup }) => setup === name);
    const longer = own.map(
      (pairing) =>
        pairings.filter((other) => other.mix === pairing.mix && medianHours(other) > medianHours(pairing))
          .length,
    );
    return longer.reduce((sum, count) => sum + count, 0) / own.length;
  });
  const byRank = setups.map((name, index) => ({ name, rank: ranks[index]! })).sort((a, b) => a.rank - b.rank);
  return {
    setups: byRank.map(({ name }) => name),
    mixes: [...new Set(pairings.map(({ mix }) => mix))],
  };
}

/** Median life, flight hours; beyond the horizon counts as longer than all others. */
export function medianHours({ life }: PairingSummary): number {
  return life.hours.p50 ?? Infinity;
}

/** Flight hours up to which lives were surely followed: a life beyond the horizon is longer. */
export function followedHours({ curves, life }: PairingSummary): number {
  return curves.hours[curves.hours.length - 1] ?? life.hours.mean;
}

/** Pairings of a mix that nothing is seen to outlast: the longest median life, and those within the simulation error. */
export function longestLasting(pairings: readonly PairingSummary[]): PairingSummary[] {
  const best = pairings.reduce((a, b) => (medianHours(b) > medianHours(a) ? b : a));
  const { lower, upper } = best.life.hours.intervals.p50;
  // Without a lower end nothing is known but that it is long.
  const least = lower ?? (upper === null ? followedHours(best) : 0);
  return pairings.filter(
    (pairing) =>
      pairing === best ||
      pairing.life.hours.p50 === null ||
      (pairing.life.hours.intervals.p50.upper ?? Infinity) >= least,
  );
}

/** Pairings of a mix with the fewest flats: the lowest chance, and those within the simulation error. */
export function fewestFlats(pairings: readonly PairingSummary[]): PairingSummary[] {
  const best = pairings.reduce((a, b) => (b.puncture.season.estimate < a.puncture.season.estimate ? b : a));
  return pairings.filter(
    (pairing) => pairing === best || pairing.puncture.season.lower <= best.puncture.season.upper,
  );
}

/** Median life as a label: "1,360 h". */
export function medianText(pairing: PairingSummary): string {
  const { p50 } = pairing.life.hours;
  return p50 === null ? `over ${amountText(followedHours(pairing))} h` : `${amountText(p50)} h`;
}

/** Chance of a flat as a label: "0.30 % (1 in 330)". */
export function chanceText({ puncture: { season } }: PairingSummary): string {
  if (season.estimate === 0) return `none; under ${percentText(season.upper)}`;
  return `${percentText(season.estimate)} (${oneInText(season.estimate)})`;
}

/**
 * One row per pairing, with numbers to draw and texts to read.
 *
 * @param result the answer of a run.
 * @param order of the names, whose places are the fields `setupPlace` and `mixPlace`.
 */
export function pairingChartRows({ pairings, trials }: RunResult, order: PairingOrder): ChartRow[] {
  const marked = new Set(
    order.mixes.flatMap((name) => longestLasting(pairings.filter(({ mix }) => mix === name))),
  );
  const safe = new Set(
    order.mixes.flatMap((name) => fewestFlats(pairings.filter(({ mix }) => mix === name))),
  );
  return pairings.map((pairing) => {
    const { hours } = pairing.life;
    const { season, acrossWorlds } = pairing.puncture;
    return {
      setup: pairing.setup,
      mix: pairing.mix,
      setupPlace: order.setups.indexOf(pairing.setup),
      mixPlace: order.mixes.indexOf(pairing.mix),
      lifeP10Hours: hours.p10,
      lifeP50Hours: hours.p50,
      lifeP90Hours: hours.p90,
      lifeP50LowerHours: hours.intervals.p50.lower,
      lifeP50UpperHours: hours.intervals.p50.upper,
      flatChance: season.estimate,
      flatLowerChance: season.lower,
      flatUpperChance: season.upper,
      flatP10Chance: acrossWorlds.p10,
      flatP90Chance: acrossWorlds.p90,
      longest: marked.has(pairing),
      fewest: safe.has(pairing),
      lifeText: medianText(pairing),
      lifeRange: `${spanText(hours.p10, hours.p90)}${hours.p10 === null ? '' : ' h'}`,
      lifeError: errorText(pairing),
      lifeShade: Math.max(hours.p50 ?? followedHours(pairing), LEAST_SHADE_HOURS),
      lifeShortText: medianText(pairing).replace('over ', '>').replace(' h', ''),
      lifeShortRange: shortSpan(hours.p10, hours.p90),
      flatText: chanceText(pairing),
      flatSeasons: `${season.estimate === 0 ? 'none' : percentText(season.estimate)}, about ${seasonsText(season.estimate)}`,
      flatShade: Math.max(season.estimate, LEAST_SHADE_CHANCE),
      flatShortText: percentText(season.estimate === 0 ? season.upper : season.estimate).replace(
        /^<?/,
        season.estimate === 0 ? '<' : '',
      ),
      flatShortRange: percentSpan(acrossWorlds.p10, acrossWorlds.p90).replace(' %', '').replace(' to ', '-'),
      flatRange: percentSpan(acrossWorlds.p10, acrossWorlds.p90),
      flatError: percentSpan(season.lower, season.upper),
      lifeSaid: lifeWords(pairing),
      flatSaid: flatWords(pairing),
      flatsSeen: `${season.counted.events} of ${trials} seasons`,
    };
  });
}

/** The life of a pairing in a sentence. */
export function lifeWords(pairing: PairingSummary): string {
  const { setup, mix, life } = pairing;
  const range = spanText(life.hours.p10, life.hours.p90);
  return `${setup} on ${mix}: half of the sets last ${medianText(pairing)}, 8 in 10 ${range}`;
}

/** The chance of a flat of a pairing in a sentence. */
export function flatWords({ setup, mix, puncture: { season, acrossWorlds } }: PairingSummary): string {
  if (season.estimate === 0) {
    return `${setup} on ${mix}: no trial met a risk of a flat, so under ${percentText(season.upper)} a season`;
  }
  const range = percentSpan(acrossWorlds.p10, acrossWorlds.p90);
  return `${setup} on ${mix}: about ${seasonsText(season.estimate)} has a flat (${percentText(season.estimate)}; 8 worlds in 10: ${range})`;
}

function shortSpan(from: number | null, to: number | null): string {
  if (from === null) return '';
  return to === null ? `${amountText(from)} +` : `${amountText(from)}-${amountText(to)}`;
}

function errorText({ life }: PairingSummary): string {
  const { lower, upper } = life.hours.intervals.p50;
  return lower === null ? 'not known' : `${spanText(lower, upper)} h`;
}
