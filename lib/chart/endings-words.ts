import { END_CAUSES, type EndCause } from '../estimate/curves.js';
import type { PairingSummary } from '../estimate/summary.js';
import { percentText } from '../present/words.js';
import type { RunResult } from '../run.js';
import { finalShares } from './endings-rows.js';
import { shortName } from './labels.js';
import type { ChartWords } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

const SET_ENDS = 'A set ends when the first of its two main tires comes off.';

/** Title, subtitle and description of the endings of one pairing. */
export function endingWords(result: RunResult, pairing: PairingSummary): ChartWords {
  const shares = finalShares(pairing)
    .map(({ text }) => text)
    .join(', ');
  return {
    title: `${shortName(pairing.setup)}: ${finding(pairing)}`,
    subtitle: [
      `${shortName(pairing.setup, 60)} on ${shortName(pairing.mix, 60)}. ${provenance(result)}`,
      `${SET_ENDS} In brackets: 95 % interval of the simulation.`,
      CHART_CAUTION,
    ],
    description: `How the main tires end, ${pairing.setup} on ${pairing.mix}: shares of sets by removal cause against flight hours, one on top of the other. When the run stops looking: ${shares}.`,
  };
}

/** The same for several pairings. */
export function manyEndingsWords(result: RunResult, pairings: readonly PairingSummary[]): ChartWords {
  const [least, most] = extremes(pairings);
  const place = (pairing: PairingSummary): string =>
    `${shortName(pairing.setup, 24)} on ${shortName(pairing.mix, 24)}`;
  const title =
    least === most
      ? `${place(least)}: ${finding(least)}`
      : `Cuts and flats end ${percentText(suddenShare(least))} of the sets of ${place(least)}, ${percentText(suddenShare(most))} of those of ${place(most)}`;
  return {
    title,
    subtitle: [provenance(result), SET_ENDS, CHART_CAUTION],
    description: [
      `How the main tires of ${pairings.length} pairings end: shares of sets by removal cause against flight hours.`,
      ...pairings.map((pairing) => {
        const shares = finalShares(pairing)
          .map(({ part, share }) => `${percentText(share)} ${part}`)
          .join(', ');
        return `${pairing.setup} on ${pairing.mix}: ${shares}.`;
      }),
    ].join(' '),
  };
}

/** Share of sets ended by cuts, punctures, pinches and torn valves. */
function suddenShare({ removalCauses }: PairingSummary): number {
  const { cut, puncture, pressure } = removalCauses;
  return cut.estimate + puncture.estimate + pressure.estimate;
}

function extremes(pairings: readonly PairingSummary[]): [PairingSummary, PairingSummary] {
  let [least, most] = [pairings[0]!, pairings[0]!];
  for (const pairing of pairings) {
    if (suddenShare(pairing) < suddenShare(least)) least = pairing;
    if (suddenShare(pairing) > suddenShare(most)) most = pairing;
  }
  return [least, most];
}

/** How sets end, as a clause after their share. */
const ENDING_CLAUSES: Readonly<Record<EndCause, string>> = {
  worn: 'wear out',
  cut: 'are cut',
  puncture: 'are punctured',
  pressure: 'end by a pinch or torn valve',
  age: 'reach their age limit',
};

/** The main way to end, and the next one. */
function finding({ removalCauses, life }: PairingSummary): string {
  const [main, next] = END_CAUSES.map((cause) => ({
    share: removalCauses[cause].estimate,
    text: `${percentText(removalCauses[cause].estimate)} ${ENDING_CLAUSES[cause]}`,
  }))
    .filter(({ share }) => share > 0)
    .sort((one, other) => other.share - one.share);
  if (main === undefined) return 'no set came off within the horizon of the run';
  const open = `${percentText(life.beyondHorizon)} of the sets outlast the horizon of the run`;
  if (life.beyondHorizon > main.share) return `${open}, ${main.text}`;
  const first = main.text.replace(' %', ' % of the sets');
  return next === undefined ? first : `${first}, ${next.text}`;
}
