import { lowestSurvivalBeforeFirstEnd } from '../estimate/kaplan-meier.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { bandOf, curveOf, expectedCount, plain, stepsAt, type WatchedLives } from './overlay-curves.js';
import { singlesOf, type OverlayGroup, type OverlayTire } from './overlay-tires.js';
import type {
  ExpectedCount,
  OverlayBand,
  OverlayCalibration,
  OverlayEnd,
  OverlaySetup,
} from './survival-overlay-types.js';

/** Fewer ends make no curve worth comparing: convention. */
export const LEAST_ENDS = 3;
const STATED = 0.8;
/** Points of a curve besides its ends. */
const POINTS = 60;

/** The same tires lived again, once in each world. */
export interface Replicates {
  readonly curves: readonly Float64Array[];
  readonly ends: readonly number[];
}

/** Landings at which the curves of a set-up are told: evenly spread, and at each end. */
export function gridOf({ tires }: OverlayGroup): number[] {
  const last = tires.reduce((most, { time }) => Math.max(most, time), 0);
  const even = Array.from({ length: POINTS + 1 }, (_, k) => (last * k) / POINTS);
  return [...new Set([...even, ...endTimes(tires)])].sort((one, other) => one - other);
}

function endTimes(tires: readonly OverlayTire[]): number[] {
  const times = tires.flatMap(({ time, ended }) => (ended ? [time] : []));
  return [...new Set(times)].sort((one, other) => one - other);
}

/**
 * Records of a set-up beside what was expected of them.
 *
 * @param scenario compiled scenario.
 * @param group tires of the set-up.
 * @param lived the same tires lived again, before the fit and, if there is one, after it.
 */
export function describeSetup(
  scenario: CompiledScenario,
  group: OverlayGroup,
  [before, fitted]: readonly Replicates[],
): OverlaySetup {
  const { setup, airplanes, mixes, tires } = group;
  const landings = gridOf(group);
  const singles = singlesOf(group);
  const records: WatchedLives = {
    entry: singles.map(({ entry }) => entry),
    time: singles.map(({ time }) => time),
    ended: singles.map(({ ended }) => ended),
  };
  const curve = curveOf(records)!;
  const survival = stepsAt(curve, 'survival', 1, landings);
  const ends = singles.filter(({ ended }) => ended).length;
  const size = landings.length;
  const bandBefore = bandOf(before!.curves, size);
  const bandFitted = fitted === undefined ? null : bandOf(fitted.curves, size);
  let above = 1;
  const atEnds = endTimes(tires).map((at): OverlayEnd => {
    const k = landings.indexOf(at);
    const recorded = 0.5 * (above + survival[k]!);
    above = survival[k]!;
    return {
      landings: at,
      recorded,
      heldBefore: holds(bandBefore, k, recorded),
      heldFitted: bandFitted === null ? null : holds(bandFitted, k, recorded),
    };
  });
  return {
    setup: scenario.setups[setup]!.name,
    tires: singles.length,
    ends,
    airplanes: airplanes.length,
    verdict: ends < LEAST_ENDS ? 'too few ends' : 'compared',
    landings,
    records: {
      survival: plain(survival),
      lower: plain(stepsAt(curve, 'lower', lowestSurvivalBeforeFirstEnd(curve), landings)),
      upper: plain(stepsAt(curve, 'upper', 1, landings)),
    },
    before: bandBefore,
    fitted: bandFitted,
    atEnds,
    endsBefore: expectedCount(before!.ends),
    endsFitted: fitted === undefined ? null : expectedCount(fitted.ends),
    flown: airplanes.map((airplane, at) => {
      const { strips, cumulativeShares } = mixes[at]!;
      return {
        airplane,
        strips: strips.map((strip, k) => ({
          strip: scenario.strips[strip]!.name,
          share: cumulativeShares[k]! - (cumulativeShares[k - 1] ?? 0),
        })),
      };
    }),
  };
}

function holds({ low, high }: OverlayBand, k: number, share: number): boolean {
  const [from, to] = [low[k] ?? null, high[k] ?? null];
  return from !== null && to !== null && share >= from && share <= to;
}

/** How often the ranges hold what they should. */
export function calibrationOf(
  setups: readonly OverlaySetup[],
  which: 'before' | 'fitted',
): OverlayCalibration {
  const compared = setups.filter(({ verdict }) => verdict === 'compared');
  const held = (end: OverlayEnd): boolean => (which === 'before' ? end.heldBefore : end.heldFitted === true);
  const expected = ({ endsBefore, endsFitted }: OverlaySetup): ExpectedCount =>
    which === 'before' ? endsBefore : endsFitted!;
  const ends = compared.flatMap(({ atEnds }) => atEnds);
  return {
    stated: STATED,
    endsHeld: ends.filter(held).length,
    ends: ends.length,
    setupsHeld: setups.filter((each) => {
      const { low, high } = expected(each);
      return each.ends >= low && each.ends <= high;
    }).length,
    setups: setups.length,
  };
}
