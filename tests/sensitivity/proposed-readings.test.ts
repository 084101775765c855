import { beforeAll, describe, expect, test } from 'vitest';
import { possibleReadings } from '../../dist/sensitivity/proposed-readings.js';
import type { PairingTrials } from '../../dist/simulate/columns.js';
import { simulate } from '../../dist/simulate/simulate.js';
import { shippedScenario } from '../support/scenarios.js';

describe('readings that could be taken', () => {
  const season = shippedScenario('mixed-season');
  const gravel = season.mixes.findIndex(({ name }) => name === 'gravel');
  const deep = season.setups.findIndex(({ name }) => name === 'rigid 29 deep');
  let trials: PairingTrials;
  beforeAll(async () => {
    const pairings = [{ setup: deep, mix: gravel }];
    trials = (await simulate(season, { trials: 16, workers: 1, pairings })).pairings[0]!;
  });
  const middle = (path: string): number => season.assumptions.find((each) => each.path === path)!.a;

  test('stones are counted on so much ground that their number is known within a fifth', () => {
    const [reading] = possibleReadings(season, 'surfaces.gravel.looseStones', trials);
    // Median of 100 to 600 /m2: 245 /m2, so that the least area holds thousands.
    expect(reading!.text).toBe('count the loose stones on 10 m2 of gravel');
    expect(reading!.errorShare).toBeCloseTo(1 / Math.sqrt(10 * middle('surfaces.gravel.looseStones')), 12);
    const stones = possibleReadings(season, 'surfaces.sharp rock.sharpStones', trials);
    const area = Number(
      /on ([\d,]+) m2 of sharp rock \(a strip 20 m wide: \d+ m\)$/
        .exec(stones[0]!.text)![1]!
        .replaceAll(',', ''),
    );
    // The area is told in two figures.
    expect(Math.abs(area * middle('surfaces.sharp rock.sharpStones') - 25)).toBeLessThan(0.05 * 25);
    expect(stones[0]!.errorShare).toBeCloseTo(0.2, 2);
    // No more than a hectare, though it holds fewer.
    const [few] = possibleReadings(season, 'surfaces.gravel.sharpStones', trials);
    expect(few!.text).toBe('count the sharp stones on 10,000 m2 of gravel (a strip 20 m wide: 500 m)');
    expect(few!.errorShare).toBeCloseTo(1 / Math.sqrt(10_000 * middle('surfaces.gravel.sharpStones')), 12);
  });

  test('strikes of edges are counted along the tracks of both main wheels', () => {
    const [reading] = possibleReadings(season, 'surfaces.gravel.rockEdges', trials);
    const on100Km = Number((100_000 * middle('surfaces.gravel.rockEdges')).toPrecision(2));
    expect(reading!.text).toBe(
      `note each rock edge struck by a main tire in 100 landings on gravel (some ${on100Km} for each 100 km of wheel track assumed)`,
    );
    const on = season.surfaces.findIndex(({ name }) => name === 'gravel');
    const { strips, cumulativeShares } = season.mixes[gravel]!;
    const landings = strips.map((strip, k) => {
      const { rollout, taxi, rolloutM, taxiM } = season.strips[strip]!;
      const share = cumulativeShares[k]! - (cumulativeShares[k - 1] ?? 0);
      return { share, track: (rollout === on ? rolloutM : 0) + (taxi === on ? taxiM : 0) };
    });
    const touching = landings.filter(({ track }) => track > 0);
    const whole = touching.reduce((sum, { share }) => sum + share, 0);
    const track = touching.reduce((sum, each) => sum + (each.share * each.track) / whole, 0);
    const struck = 2 * track * middle('surfaces.gravel.rockEdges');
    expect(reading!.errorShare).toBeCloseTo(1 / Math.sqrt(struck), 9);
  });

  test('treads are read where wear is in doubt, and tell more where more is worn', () => {
    const [onGravel] = possibleReadings(season, 'surfaces.gravel.wearFactor', trials);
    const [anywhere] = possibleReadings(season, 'assumptions.abradability', trials);
    expect(onGravel!.text).toBe('read the tread of 4 tires before and after 100 landings on gravel');
    // Gravel wears more than the mix of pavement and gravel.
    expect(onGravel!.errorShare).toBeLessThan(anywhere!.errorShare);
  });

  test.each([
    'assumptions.patchChance',
    'surfaces.gravel.bearingRatio',
    'surfaces.sharp rock.rockEdges',
    'surfaces.sharp rock.wearFactor',
    'nothing',
  ])('none is known for %s', (path) => {
    // No sharp rock is landed on here.
    expect(possibleReadings(season, path, trials)).toEqual([]);
  });
});
