import type { PairingSummary } from '../estimate/summary.js';
import type { Estimate } from '../estimate/shares.js';
import { percentText } from '../present/words.js';
import { WEAR_CAUSES } from '../simulate/columns.js';
import { rounded } from './measures.js';
import type { PairingOrder } from './pairing-rows.js';
import type { ChartRow } from './spec.js';

/** Width of a bar of 100 %, px. */
export const SHARE_BAR_PX = 290;

/** More surfaces than this are drawn as one. */
const MOST_SURFACES = 5;
/** What the others are called. */
export const OTHER_SURFACES = 'other surfaces';

/** Width of a letter of 11 px in a bar, and room at its ends, px. */
const LETTER_PX = 6.8;
const LABEL_PADDING_PX = 8;

/** Parts of one whole, in the order in which they are drawn. */
export interface ShareParts {
  readonly names: readonly string[];
  /** Shares of a pairing, one for each name. */
  readonly sharesOf: (pairing: PairingSummary) => readonly Estimate[];
}

/** Wear by cause. */
export const CAUSE_PARTS: ShareParts = {
  names: WEAR_CAUSES,
  sharesOf: ({ wearShares }) => WEAR_CAUSES.map((cause) => wearShares.byCause[cause]),
};

const NOTHING: Estimate = { estimate: 0, standardError: 0 };

/**
 * Wear by surface, that with the most wear first.
 *
 * @param pairings all of a result, drawn or not.
 */
export function surfaceParts(pairings: readonly PairingSummary[]): ShareParts {
  const totals = new Map<string, number>();
  for (const { wearShares } of pairings) {
    for (const [name, { estimate }] of Object.entries(wearShares.bySurface)) {
      totals.set(name, (totals.get(name) ?? 0) + estimate);
    }
  }
  const names = [...totals].sort(([, a], [, b]) => b - a).map(([name]) => name);
  const own = names.length > MOST_SURFACES + 1 ? names.slice(0, MOST_SURFACES) : names;
  const rest = names.slice(own.length);
  return {
    names: rest.length === 0 ? own : [...own, OTHER_SURFACES],
    sharesOf: ({ wearShares: { bySurface } }) => {
      const shares = own.map((name) => bySurface[name] ?? NOTHING);
      return rest.length === 0
        ? shares
        : [...shares, together(rest.map((name) => bySurface[name] ?? NOTHING))];
    },
  };
}

/** Shares taken as one; its error is at most the sum of theirs. */
function together(shares: readonly Estimate[]): Estimate {
  return shares.reduce(
    (sum, { estimate, standardError }) => ({
      estimate: sum.estimate + estimate,
      standardError: sum.standardError + standardError,
    }),
    NOTHING,
  );
}

/**
 * One row per pairing and part, with the place of the part in its bar.
 *
 * @param pairings those to be drawn.
 * @param order of their names.
 * @param parts of the bar.
 * @param panel which bar it is, as a field of the rows.
 */
export function shareRows(
  pairings: readonly PairingSummary[],
  order: PairingOrder,
  parts: ShareParts,
  panel: string,
): ChartRow[] {
  return pairings.flatMap((pairing) => {
    const shares = parts.sharesOf(pairing);
    const place = {
      panel,
      setup: pairing.setup,
      mix: pairing.mix,
      setupPlace: order.setups.indexOf(pairing.setup),
      mixPlace: order.mixes.indexOf(pairing.mix),
    };
    const on = `${pairing.setup} on ${pairing.mix}`;
    if (shares.every(({ estimate }) => estimate === 0)) {
      return [{ ...place, share: 0, from: 0, to: 0, label: 'no wear', said: `${on}: no wear` }];
    }
    let from = 0;
    return shares.map(({ estimate, standardError }, partPlace) => {
      const start = from;
      from += estimate;
      const part = parts.names[partPlace]!;
      const shareText = percentText(estimate);
      return {
        ...place,
        part,
        partPlace,
        share: estimate,
        from: rounded(start, 6),
        to: rounded(from, 6),
        label: segmentLabel(part, estimate),
        shareText,
        errorText: errorText(standardError),
        said: `${on}, ${part}: ${shareText} of the rubber worn off`,
      };
    });
  });
}

/** What fits into a segment: name and share, the share, or nothing. */
function segmentLabel(name: string, share: number): string {
  const roomPx = share * SHARE_BAR_PX - LABEL_PADDING_PX;
  const percent = percentText(share);
  const label = [`${name} ${percent}`, percent].find((text) => text.length * LETTER_PX <= roomPx);
  return label ?? '';
}

/** A standard error of a share in percentage points, to two figures. */
export function errorText(standardError: number): string {
  const points = 100 * standardError;
  if (points === 0) return '0 percentage points';
  return points < 0.01
    ? 'under 0.01 percentage points'
    : `${Number(points.toPrecision(2))} percentage points`;
}
