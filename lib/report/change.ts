import { amountText } from '../chart/figures.js';
import { fewestFlats } from '../chart/pairing-rows.js';
import type { EndCause } from '../estimate/curves.js';
import type { PairingSummary } from '../estimate/summary.js';
import { percentText } from '../present/words.js';
import type { WearCause } from '../simulate/columns.js';
import type { Lead } from './lead.js';
import { riskText } from './words.js';

/**
 * What would change the answer for a mix: what ends and wears the tires of the leading set-up, what another set-up does
 * better, and where another one leads.
 *
 * @param lead who leads on the mix.
 * @param all the leads on all mixes.
 * @param currency label of the prices; null without prices.
 * @returns sentences.
 */
export function changeTexts(lead: Lead, all: readonly Lead[], currency: string | null): string[] {
  return [
    ...orderText(lead),
    endText(lead.leader),
    ...wearText(lead.leader),
    ...otherAims(lead, currency),
    ...otherMixTexts(lead, all),
  ];
}

/** Share of worlds from which on the order is as good as the same in all of them. */
const NEARLY_ALL = 0.99;

/** Whether something that the assumptions allow puts another set-up first. */
function orderText({ comparison, leader }: Lead): string[] {
  const life = comparison?.best.life;
  if (life?.priced !== true) return [];
  const share = life.setups.find(({ setup }) => setup === leader.setup)?.shareOfWorldsBest?.estimate;
  if (share === undefined) return [];
  if (share >= NEARLY_ALL) {
    return [
      'Nothing within these assumptions puts another set-up first; a number outside their ranges could.',
    ];
  }
  return [
    `In ${percentText(1 - share)} of the worlds that these assumptions allow, another set-up lasts longest.`,
  ];
}

const END_WORDS: Readonly<Record<EndCause, string>> = {
  worn: 'worn to the limit, so that groove depth and whatever wears it decide',
  cut: 'by a cut into the carcass, so that stones decide, and how much rubber lies above the cords',
  puncture: 'by a flat, so that stones and rock edges decide',
  pressure: 'by trouble with bead, valve or rim, so that pressure decides',
  age: 'by age before they are worn, so that the age limit decides',
};

const WEAR_WORDS: Readonly<Record<WearCause, string>> = {
  'spin-up': 'spin-up at touchdown, which grows with the square of touchdown speed',
  braking: 'braking, which follows how much of the stop is left to the brakes',
  pivots: 'pivots on a locked wheel, which a wider turn avoids',
  squirm: 'squirm while rolling, which follows pressure and taxi distance',
  scrub: 'side scrub, which follows turns and crosswind',
};

interface Share {
  readonly estimate: number;
}

function largest<Name extends string>(shares: Readonly<Record<Name, Share>>): readonly [Name, number] {
  return (Object.entries(shares) as [Name, Share][])
    .map(([name, { estimate }]) => [name, estimate] as const)
    .reduce((a, b) => (b[1] > a[1] ? b : a));
}

function endText({ removalCauses }: PairingSummary): string {
  const [cause, share] = largest(removalCauses);
  if (share === 0) return 'No set of tires ended within the horizon of the run.';
  return `${percentText(share)} of its sets end ${END_WORDS[cause]}.`;
}

function wearText({ wearShares }: PairingSummary): string[] {
  const [cause, share] = largest(wearShares.byCause);
  return share === 0 ? [] : [`${percentText(share)} of the wear is ${WEAR_WORDS[cause]}.`];
}

/** Aims other than a long life, by which another set-up may be the better one. */
const OTHER_AIMS = ['flats', 'costPerHour', 'daysLost'] as const;

/** Set-ups that do better by another aim, as far as it can be told. */
function otherAims(lead: Lead, currency: string | null): string[] {
  const { comparison, leader } = lead;
  if (comparison === null) return [...saferText(lead), ...cheaperText(lead, currency)];
  return OTHER_AIMS.flatMap((aim) => {
    const best = comparison.best[aim];
    if (best?.priced !== true || best.verdict.best === leader.setup) return [];
    return [...best.verdict.equal, ...best.verdict.open].includes(leader.setup) ? [] : [best.verdict.text];
  });
}

/** The set-up with the fewest flats, where the run can tell it from the leader. */
function saferText({ leader, ranked }: Lead): string[] {
  const safe = fewestFlats(ranked);
  if (safe.includes(leader)) return [];
  const { setup, puncture } = safe.reduce((a, b) =>
    b.puncture.season.estimate < a.puncture.season.estimate ? b : a,
  );
  return [`${setup} has the fewest flats: one in ${riskText(puncture.season)}.`];
}

/** The cheapest set-up, where the run can tell it from the leader. */
function cheaperText({ leader, ranked }: Lead, currency: string | null): string[] {
  const costOf = ({ season }: PairingSummary): number => season.costPerFlightHour?.estimate ?? Infinity;
  const { setup, season } = ranked.reduce((a, b) => (costOf(b) < costOf(a) ? b : a));
  const [low, own] = [season.costPerFlightHour, leader.season.costPerFlightHour];
  if (low === null || own === null) return [];
  // Two standard errors, as if the two were independent; common landings make the error of the difference smaller.
  const error = 2 * Math.hypot(low.standardError, own.standardError);
  if (own.estimate - low.estimate <= error) return [];
  const [cheap, dear] = [amountText(low.estimate), amountText(own.estimate)];
  return [`${setup} costs least: ${cheap} ${currency ?? ''} per flight hour, against ${dear}.`];
}

function otherMixTexts({ mix, leader }: Lead, all: readonly Lead[]): string[] {
  return all
    .filter((other) => other.mix !== mix && other.leader.setup !== leader.setup)
    .map((other) => `On ${other.mix}, ${other.leader.setup} comes out first.`);
}
