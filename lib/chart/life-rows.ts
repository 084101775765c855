import type { RemainingLife } from '../decide/remaining-types.js';
import type { PairingSummary } from '../estimate/summary.js';
import { percentText } from '../present/words.js';
import { amountText, percentSpan, spanText } from './figures.js';
import { counted, rounded } from './measures.js';
import type { ChartRow } from './spec.js';

/** The curves that a legend tells apart. */
export const NEW_TIRES = 'new tires';
export const WORLDS = 'harsh and kind world';
export const YOUR_TIRES = 'your tires from today';

/** Share of sets below which a curve is not drawn further. */
const HARDLY_ANY = 0.004;

function seasonsText(hours: number, hoursPerSeason: number): string {
  const seasons = hours / hoursPerSeason;
  return `${seasons < 10 ? seasons.toFixed(1) : seasons.toFixed(0)} seasons`;
}

/** Flight hours at which hardly a set is left, or the last that is known. */
export function endOfCurve({ curves }: PairingSummary): number {
  const kind = curves.worlds?.kind ?? curves.survival;
  const row = curves.survival.findIndex((share, k) => Math.max(share, kind[k]!) <= HARDLY_ANY);
  return curves.hours[row < 0 ? curves.hours.length - 1 : row]!;
}

/** Rows of the curve of new tires, with the error of the simulation around it. */
export function newTireRows({ curves }: PairingSummary, end: number, hoursPerSeason: number): ChartRow[] {
  return curves.hours.flatMap((hours, k) => {
    if (hours > end) return [];
    const survival = curves.survival[k]!;
    const { worlds } = curves;
    const after = `${amountText(hours)} h, ${seasonsText(hours, hoursPerSeason)}, ${counted(curves.landings[k]!, 'landing')}`;
    const known = percentSpan(curves.lower[k]!, curves.upper[k]!);
    const doubt = worlds === null ? 'not known' : percentSpan(worlds.harsh[k]!, worlds.kind[k]!);
    return [
      {
        hours: rounded(hours, 2),
        chance: rounded(survival, 4),
        lower: rounded(curves.lower[k]!, 4),
        upper: rounded(curves.upper[k]!, 4),
        series: NEW_TIRES,
        after,
        still: percentText(survival),
        doubt,
        error: known,
        said: `After ${after}: ${percentText(survival)} still in service, ${doubt} from a harsh to a kind world`,
      },
    ];
  });
}

/** Rows of the curves of a harsh and a kind world. */
export function worldRows({ curves }: PairingSummary, end: number): ChartRow[] {
  const { worlds } = curves;
  if (worlds === null) return [];
  return curves.hours.flatMap((hours, k) =>
    hours > end
      ? []
      : [
          {
            hours: rounded(hours, 2),
            harsh: rounded(worlds.harsh[k]!, 4),
            kind: rounded(worlds.kind[k]!, 4),
            series: WORLDS,
          },
        ],
  );
}

/** Rows of the curve of the tires on the airplane, from today on. */
export function todayRows(today: RemainingLife, end: number): ChartRow[] {
  const { curves, flown } = today;
  return curves.hours.flatMap((left, k) => {
    const hours = flown.hours + left;
    if (hours > end && k > 0) return [];
    const survival = curves.survival[k]!;
    const after = `${amountText(left)} h from now, ${counted(curves.landings[k]!, 'landing')}`;
    return [
      {
        hours: rounded(hours, 2),
        chance: rounded(survival, 4),
        lower: rounded(curves.lower[k]!, 4),
        upper: rounded(curves.upper[k]!, 4),
        series: YOUR_TIRES,
        after,
        still: percentText(survival),
        error: percentSpan(curves.lower[k]!, curves.upper[k]!),
        past: percentText(curves.pastLimit[k]!),
        said: `Your tires ${after}: ${percentText(survival)} still in service`,
      },
    ];
  });
}

/** A figure marked on a curve. */
export interface MarkedFigure {
  readonly hours: number;
  readonly chance: number;
  readonly label: string;
  readonly interval: string;
}

/** P10, P50 and P90 of new tires that lie within the horizon. */
export function newTireFigures({ life: { hours } }: PairingSummary): MarkedFigure[] {
  return (['p10', 'p50', 'p90'] as const).flatMap((figure) => {
    const at = hours[figure];
    if (at === null) return [];
    const { lower, upper } = hours.intervals[figure];
    return [
      {
        hours: rounded(at, 2),
        chance: rounded(1 - Number(figure.slice(1)) / 100, 2),
        label: `${figure.toUpperCase()} ${amountText(at)} h`,
        interval: `${spanText(lower, upper)} h`,
      },
    ];
  });
}

/** The same of the tires on the airplane, in hours since new; those of sets that have nothing left are left out. */
export function todayFigures({ flown, remaining: { hours } }: RemainingLife): MarkedFigure[] {
  return (['p10', 'p50', 'p90'] as const).flatMap((figure) => {
    const left = hours[figure];
    if (left === null || left === 0) return [];
    const { lower, upper } = hours.intervals[figure];
    return [
      {
        hours: rounded(flown.hours + left, 2),
        chance: rounded(1 - Number(figure.slice(1)) / 100, 2),
        label: `${figure.toUpperCase()} ${amountText(left)} h left`,
        interval: `${spanText(lower, upper)} h`,
      },
    ];
  });
}
