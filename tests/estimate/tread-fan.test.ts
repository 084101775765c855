import { describe, expect, test } from 'vitest';
import { recordTreadFan } from '../../dist/estimate/record-tread-fan.js';
import { treadFan } from '../../dist/estimate/tread-fan.js';
import { CancelledError, UsageError } from '../../dist/problems.js';
import { emptyTrials } from '../../dist/simulate/columns.js';
import { horizonLandings } from '../../dist/simulate/pairing-run.js';
import { recordWear, type TireWear, type WearHistories } from '../../dist/simulate/wear-histories.js';
import { quietScenario, shippedScenario } from '../support/scenarios.js';

const scenario = quietScenario();

/** Histories of five sets that lose so many mm a landing, each on the tire and band that is said. */
function madeHistories(looks: readonly number[], cords: readonly number[]): WearHistories {
  const perLanding = [0.1, 0.2, 0.3, 0.4, 0.5];
  const trials = emptyTrials(scenario, 'only', 'only', perLanding.length);
  trials.columns.cordsLandings.set(cords);
  trials.columns.treadLimitLandings.set([-1, 10, 20, 30, 40]);
  trials.columns.followedLandings.fill(100);
  const worn = (share: number): Float32Array =>
    Float32Array.from(perLanding.flatMap((mm) => looks.map((look) => share * mm * look * 1e-3)));
  const tire = (centre: number, inner: number, outer: number): TireWear => ({
    centreM: worn(centre),
    innerM: worn(inner),
    outerM: worn(outer),
    deepestM: worn(Math.max(centre, inner, outer) + 0.1),
  });
  return {
    setup: 'only',
    mix: 'only',
    looks: Int32Array.from(looks),
    left: tire(0.5, 0.2, 0.8),
    right: tire(0.4, 1, 0.3),
    newTreadM: 8e-3,
    rubberM: 10e-3,
    treadLimitM: 1e-3,
    trials,
  };
}

describe('a tread fan of made histories', () => {
  const fan = treadFan(scenario, madeHistories([0, 10, 20, 30], [12, 15, 25, -1, -1]));

  test('ends where cords show on more than half of the sets', () => {
    expect(fan.points.map(({ landings }) => landings)).toEqual([0, 10, 20]);
    expect(fan.points.map(({ followedShare }) => followedShare)).toEqual([1, 1, 0.6]);
  });

  test('takes the worse tire and the worst shoulder, and says nothing is left where cords show', () => {
    const [fresh, early, late] = fan.points;
    for (const band of ['centreLeftM', 'shoulderLeftM', 'worstSpotLeftM'] as const) {
      expect(fresh![band]).toEqual({ p10: 0.01, p50: 0.01, p90: 0.01 });
    }
    // Worst centre: half of 0.1 to 0.5 mm a landing; worst shoulder: all of it; type 7 quantiles of five values.
    expect(early!.centreLeftM.p50).toBeCloseTo(10e-3 - 1.5e-3, 8);
    expect(early!.centreLeftM.p10).toBeCloseTo(10e-3 - 2.3e-3, 8);
    expect(early!.centreLeftM.p90).toBeCloseTo(10e-3 - 0.7e-3, 8);
    expect(early!.shoulderLeftM.p50).toBeCloseTo(10e-3 - 3e-3, 8);
    expect(early!.worstSpotLeftM.p50).toBeCloseTo(10e-3 - 3.3e-3, 8);
    expect(late!.shoulderLeftM.p10).toBeCloseTo(10e-3 - 9.2e-3, 8);
    // The worst set is 1 mm into its cords, and counts as 0.
    expect(late!.worstSpotLeftM.p10).toBeCloseTo(0.4 * 1.2e-3, 8);
  });

  test('has hours, the limit above the cords, and when wear alone reaches both', () => {
    expect(fan.points[1]!.flightHours).toBeCloseTo(5, 12);
    expect(fan.limitRubberM).toBeCloseTo(3e-3, 12);
    expect(fan.newRubberM).toBe(10e-3);
    expect(fan.removedAt).toBe('tread limit');
    expect(fan.treadLimit.landings.p50).toBe(30);
    expect(fan.treadLimit.beyondHorizon).toBeCloseTo(0.2, 12);
    expect(fan.cords.landings.p90).toBeNull();
  });

  test('is refused where every look comes too late', () => {
    const late = madeHistories([26, 30], [12, 15, 25, -1, -1]);
    expect(() => treadFan(scenario, late)).toThrow(UsageError);
    expect(() => treadFan(scenario, late)).toThrow(/26 landings/);
  });
});

describe('a recorded tread fan', () => {
  test('of landings that are all alike falls on a straight line to the cords', async () => {
    const fan = await recordTreadFan(scenario, { setup: 'only', mix: 'only', trials: 2 });
    const cords = fan.cords.landings.p50!;
    const last = fan.points.at(-1)!;
    expect(fan.points.length).toBeGreaterThan(40);
    expect(fan.points.length).toBeLessThanOrEqual(62);
    expect(last.landings).toBeLessThanOrEqual(cords);
    expect(cords - last.landings).toBeLessThan(Math.ceil((1.25 * cords) / 60));
    for (const { landings, worstSpotLeftM } of fan.points) {
      // Cords show in the landing that reaches them: the life is rounded up.
      const left = fan.newRubberM * (1 - landings / cords);
      expect(Math.abs(worstSpotLeftM.p50 - left)).toBeLessThan((1.01 * fan.newRubberM) / cords);
    }
  });

  test('is the fan of the histories at its looks, and tells how far it is', async () => {
    const shipped = shippedScenario('mixed-season');
    const request = { setup: 'rigid 29 shaved', mix: 'sharp rock', trials: 40 };
    const seen: number[] = [];
    const fan = await recordTreadFan(shipped, {
      ...request,
      onProgress: ({ finishedTrials, totalTrials }) => seen.push(finishedTrials / totalTrials),
    });
    expect(seen.at(-1)).toBe(1);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    const looks = fan.points.map(({ landings }) => landings);
    const again = treadFan(shipped, await recordWear(shipped, request, looks));
    expect(again).toEqual(fan);
  });

  test('goes to the horizon where cords are not reached', async () => {
    const short = quietScenario({ run: { horizon: '1 year' } });
    const fan = await recordTreadFan(short, { setup: 'only', mix: 'only', trials: 2 });
    expect(fan.points.at(-1)!.landings).toBe(horizonLandings(short));
    expect(fan.cords.landings.p50).toBeNull();
  });

  test('stops on request and refuses a name that does not exist', async () => {
    const request = { setup: 'only', mix: 'only', trials: 2 };
    const stopped = recordTreadFan(scenario, { ...request, signal: AbortSignal.abort() });
    await expect(stopped).rejects.toThrow(CancelledError);
    await expect(recordTreadFan(scenario, { ...request, setup: 'onyl' })).rejects.toThrow(
      /did you mean "only"/,
    );
  });
});
