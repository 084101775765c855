import type { RemainingLife } from '../decide/remaining-types.js';
import type { PairingSummary } from '../estimate/summary.js';
import { withinText } from '../present/amounts.js';
import { capitalized, percentText } from '../present/words.js';
import type { RunResult } from '../run.js';
import { amountText, oneInText, spanText } from './figures.js';
import { shortName } from './labels.js';
import type { ChartWords } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

/** Title, subtitle and description of a life curve. */
export function lifeWords(
  result: RunResult,
  pairing: PairingSummary,
  today: RemainingLife | null,
): ChartWords {
  const finding = today === null ? newFinding(pairing) : todayFinding(today);
  const name = `${pairing.setup} on ${pairing.mix}`;
  return {
    title: today === null ? `${shortName(pairing.setup)}: ${finding}` : finding,
    subtitle: [
      `${shortName(pairing.setup, 60)} on ${shortName(pairing.mix, 60)}. ${provenance(result)}`,
      ...bandWords(pairing),
      ...(today === null ? [] : [todaySource(today)]),
      CHART_CAUTION,
    ],
    description: [
      `Life curve of the main tires, ${name}: chance that neither has come off yet, against flight hours since new.`,
      `${capitalized(newFinding(pairing))}.`,
      doubtWords(pairing),
      ...(today === null ? [] : [`${todayFinding(today)}. ${todayWords(today)}`]),
    ]
      .filter((sentence) => sentence !== '')
      .join(' '),
  };
}

/** What is found for new tires. */
function newFinding({ life: { hours, beyondHorizon } }: PairingSummary): string {
  if (hours.p50 === null) {
    const share = oneInText(1 - beyondHorizon);
    return share === 'none'
      ? 'no set came off within the horizon of the run'
      : `over half of the sets outlast the horizon of the run; ${share.replace('1 in', '1 set in')} comes off before`;
  }
  const early = hours.p10 === null ? '' : `, one in ten does not reach ${amountText(hours.p10)}`;
  return `half of the sets last longer than ${amountText(hours.p50)} flight hours${early}`;
}

/** What is found for the tires on the airplane. */
function todayFinding({ flown, remaining, pastLimitNow, nextInspection }: RemainingLife): string {
  const { hours } = remaining;
  const flownText = `Your tires at ${amountText(flown.hours)} h`;
  if (pastLimitNow.estimate > nextInspection.acceptedChance) {
    return `${flownText}: the tread limit may be passed already (chance ${percentText(pastLimitNow.estimate)}); look at the whole tread now`;
  }
  if (hours.p50 === null) return `${flownText}: more than half of such sets outlast the horizon of the run`;
  return `${flownText}: half of such sets have ${amountText(hours.p50)} h left, eight in ten have ${spanText(hours.p10, hours.p90)} h`;
}

function todaySource({ trials, effectiveTrials, agreement }: RemainingLife): string {
  const count = agreement.checks.length;
  const readings = count === 0 ? 'no tread reading' : `${count} tread reading${count === 1 ? '' : 's'}`;
  return count === 0
    ? `Your tires: ${readings}; ${trials} trials that flew as long.`
    : `Your tires: ${readings}; ${trials} trials weighted by them, worth ${Math.round(effectiveTrials)}.`;
}

function todayWords({ endOfSeason, nextInspection, pastLimitNow }: RemainingLife): string {
  const season =
    endOfSeason.chance === null || endOfSeason.landings === 0
      ? ''
      : `Chance to reach the end of the season on ${endOfSeason.date}: ${percentText(endOfSeason.chance.estimate)}. `;
  return (
    `${season}Chance that the tread limit is passed already: ${percentText(pastLimitNow.estimate)}. ` +
    `Next look at the tread within ${withinText(nextInspection.hours)} flight hours, if a chance of ${percentText(nextInspection.acceptedChance)} to pass the limit before is accepted.`
  );
}

function bandWords({ curves: { worlds } }: PairingSummary): string[] {
  return [
    worlds === null
      ? 'Too few trials to tell ignorance from luck. Inner band: error of the simulation (95 %).'
      : 'Shaded: what we do not know, from a harsh to a kind world (1 in 10 is beyond each). Inner band: error of the simulation (95 %).',
  ];
}

function doubtWords({ curves: { worlds, hours } }: PairingSummary): string {
  if (worlds === null) return '';
  const half = (curve: readonly number[]): number | undefined =>
    hours[curve.findIndex((share) => share <= 0.5)];
  const [harsh, kind] = [half(worlds.harsh), half(worlds.kind)];
  if (harsh === undefined) return '';
  const upper = kind === undefined ? 'beyond the horizon' : amountText(kind);
  return `In a harsh world (one in ten is harsher) half are gone by ${amountText(harsh)} hours, in a kind one by ${upper}.`;
}
