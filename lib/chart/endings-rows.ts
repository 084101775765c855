import { END_CAUSES, type EndCause } from '../estimate/curves.js';
import type { IntervalEstimate } from '../estimate/interval.js';
import type { PairingSummary } from '../estimate/summary.js';
import { percentText } from '../present/words.js';
import { amountText, percentSpan } from './figures.js';
import { counted, rounded } from './measures.js';
import type { ChartRow } from './spec.js';

/** What is drawn above all causes. */
export const STILL_IN_SERVICE = 'still in service';

/** Removal causes as charts name them. */
export const CAUSE_NAMES: Readonly<Record<EndCause, string>> = {
  worn: 'worn',
  cut: 'cut',
  puncture: 'punctured',
  pressure: 'pinch or torn valve',
  age: 'age',
};

/** Parts of the whole, from the bottom up. */
export const ENDING_PARTS: readonly string[] = [
  ...END_CAUSES.map((cause) => CAUSE_NAMES[cause]),
  STILL_IN_SERVICE,
];

/** Share of sets below which the rest is not followed further. */
const HARDLY_ANY = 0.004;

/** Flight hours at which hardly a set is left, or the last that is known. */
export function endOfEndings({ curves: { survival, hours } }: PairingSummary): number {
  const row = survival.findIndex((share) => share <= HARDLY_ANY);
  return hours[row < 0 ? hours.length - 1 : row]!;
}

/**
 * Shares of sets by how they have ended, one row per time and part.
 *
 * @param pairing a pairing.
 * @param end flight hours at the right end; what is known ends before or there, and is carried on to it.
 * @param most most times, at least 3.
 * @param place number of the pairing in its chart.
 */
export function endingRows(pairing: PairingSummary, end: number, most: number, place: number): ChartRow[] {
  const { curves } = pairing;
  const last = curves.hours.filter((hours) => hours <= end).length - 1;
  // Once nobody is left nothing changes; where some are, nothing is known beyond.
  const isOver = curves.survival[last]! <= HARDLY_ANY && curves.hours[last]! < end;
  const step = Math.max(1, Math.ceil(last / (most - (isOver ? 2 : 1))));
  const rows = Array.from({ length: last + 1 }, (_, row) => row).filter(
    (row) => row % step === 0 || row === last,
  );
  const times = [
    ...rows.map((row) => ({ row, hours: curves.hours[row]!, landings: curves.landings[row]! })),
    ...(isOver ? [{ row: last, hours: end, landings: null }] : []),
  ];
  return times.flatMap(({ row, hours, landings }) => {
    const after = `${amountText(hours)} h${landings === null ? '' : `, ${counted(landings, 'landing')}`}`;
    let top = 0;
    return ENDING_PARTS.map((part, order) => {
      const cause = END_CAUSES[order];
      const share = cause === undefined ? curves.survival[row]! : curves.incidence[cause][row]!;
      top += share;
      return {
        place,
        hours: rounded(hours, 2),
        part,
        order,
        share: rounded(share, 5),
        top: rounded(Math.min(top, 1), 5),
        after,
        of: percentText(share),
        said: `${pairing.setup} on ${pairing.mix}, after ${after}: ${percentText(share)} ${part}`,
      };
    });
  });
}

/** How the sets have ended when the run stops looking, with the error of the simulation. */
export interface FinalShare {
  readonly part: string;
  readonly share: number;
  readonly text: string;
}

/** Shares at the horizon, from the bottom up, those nobody met left out. */
export function finalShares({ removalCauses, life }: PairingSummary): FinalShare[] {
  const causes = END_CAUSES.map((cause) => ({
    part: CAUSE_NAMES[cause],
    share: removalCauses[cause].estimate,
    text: shareText(CAUSE_NAMES[cause], removalCauses[cause]),
  }));
  const open = life.beyondHorizon;
  const rest = { part: STILL_IN_SERVICE, share: open, text: `${STILL_IN_SERVICE} ${percentText(open)}` };
  return [...causes, rest].filter(({ share }) => share > 0);
}

function shareText(name: string, { estimate, lower, upper }: IntervalEstimate): string {
  return `${name} ${percentText(estimate)} (${percentSpan(lower, upper)})`;
}
