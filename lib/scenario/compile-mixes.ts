import type { Scenario } from './schema/index.js';

/** Shares of landings over strips. */
export interface StripShares {
  readonly strips: readonly number[];
  /** Shares added up in the order of `strips`; the last is 1. */
  readonly cumulativeShares: readonly number[];
}

/** A runway mix: shares of landings over strips. For one that changes by month, the shares of the whole year. */
export interface CompiledMix extends StripShares {
  readonly name: string;
  /** The months of a mix that changes, in order; left out where it stays. */
  readonly months?: readonly MonthShares[];
}

/** The shares of a month of the season. */
export interface MonthShares extends StripShares {
  /** Landings of the year before the month. */
  readonly firstLanding: number;
}

/**
 * Runway mixes: those that stay, then those that change by month.
 *
 * @param scenario the checked scenario.
 */
export function compileMixes(scenario: Scenario): CompiledMix[] {
  const stripNames = Object.keys(scenario.strips);
  const shares = (mix: Readonly<Record<string, number>>): StripShares => stripShares(mix, stripNames);
  return [
    ...Object.entries(scenario.mixes).map(([name, mix]) => ({ name, ...shares(mix) })),
    ...Object.entries(scenario.monthlyMixes ?? {}).map(([name, mixOfMonth]) => {
      const whole: Record<string, number> = {};
      const months: MonthShares[] = [];
      const flown = scenario.season.months.filter(({ landings }) => landings > 0);
      const perYear = flown.reduce((sum, { landings }) => sum + landings, 0);
      let firstLanding = 0;
      for (const { month, landings } of flown) {
        const mix = scenario.mixes[mixOfMonth[month] ?? ''] ?? {};
        months.push({ firstLanding, ...shares(mix) });
        for (const [strip, share] of Object.entries(mix)) {
          whole[strip] = (whole[strip] ?? 0) + (share * landings) / perYear;
        }
        firstLanding += landings;
      }
      return { name, ...shares(whole), months };
    }),
  ];
}

function stripShares(mix: Readonly<Record<string, number>>, stripNames: readonly string[]): StripShares {
  const used = Object.entries(mix).filter(([, share]) => share > 0);
  let sum = 0;
  const cumulativeShares = used.map(([, share]) => (sum += share));
  cumulativeShares[cumulativeShares.length - 1] = 1;
  return { strips: used.map(([strip]) => stripNames.indexOf(strip)), cumulativeShares };
}
