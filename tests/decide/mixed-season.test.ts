import { beforeAll, describe, expect, test } from 'vitest';
import { comparePairings, type MixComparison } from '../../lib/decide/compare.js';
import type { BestSetup } from '../../lib/decide/best-types.js';
import { CRITERIA, type Criterion } from '../../lib/decide/criteria.js';
import { summarize } from '../../lib/estimate/summary.js';
import { simulate, type Simulation } from '../../dist/simulate/simulate.js';
import { shippedScenario } from '../support/scenarios.js';

const scenario = shippedScenario('mixed-season');
let simulation: Simulation;
let comparisons: MixComparison[];

beforeAll(async () => {
  simulation = await simulate(scenario, { trials: 400, workers: 1 });
  comparisons = comparePairings(scenario, simulation);
});

function best(mix: string, criterion: Criterion): BestSetup {
  const found = comparisons.find((comparison) => comparison.mix === mix)?.best[criterion];
  if (found?.priced !== true) throw new Error(`no best set-up by ${criterion} on ${mix}`);
  return found;
}

describe('common landings', () => {
  test('leave less variance in a difference of lives than independent runs, for every pair and mix', () => {
    const ratios = comparisons.flatMap(({ differences }) =>
      differences.map(({ lifeHours }) => lifeHours.varianceRatio!),
    );
    expect(ratios).toHaveLength(30);
    for (const ratio of ratios) expect(ratio).toBeLessThan(1);
    // Tires that differ in size only: worth more than ten times the trials.
    for (const { differences } of comparisons) {
      const alike = differences.find(
        ({ setup, against }) => setup === 'rigid 29 deep' && against === 'rigid 26 deep',
      )!;
      expect(alike.lifeHours.varianceRatio).toBeLessThan(0.1);
    }
  });

  test('leave less variance in differences of money and days, whatever the pair', () => {
    for (const { differences } of comparisons) {
      for (const { costPerSeason, daysLostPerSeason } of differences) {
        if (!('estimate' in costPerSeason)) throw new Error('not priced');
        expect(costPerSeason.varianceRatio).toBeLessThan(1);
        // Days of two set-ups of which one is never down have little in common: at most 1, give or take 5 %.
        expect(daysLostPerSeason.varianceRatio).toBeLessThan(1.05);
      }
    }
  });

  test('chances of flats along the paths have far less variance than flats counted', () => {
    for (const mix of ['gravel', 'sharp rock']) {
      const [a, b] = simulation.pairings.filter((pairing) => pairing.mix === mix);
      const counted = varianceOf(a!.columns.flats.map((flats, row) => flats - b!.columns.flats[row]!));
      const expected = varianceOf(
        a!.columns.flatsHazard.map((flats, row) => flats - b!.columns.flatsHazard[row]!),
      );
      expect(expected).toBeLessThan(counted / 2);
    }
  });
});

test('differences are those of the means that the summary gives', () => {
  const summaries = summarize(scenario, simulation);
  const of = (setup: string, mix: string): (typeof summaries)[number] =>
    summaries.find((summary) => summary.setup === setup && summary.mix === mix)!;
  for (const { mix, differences } of comparisons) {
    for (const { setup, against, lifeHours, daysLostPerSeason, costPerFlightHour } of differences) {
      const [one, other] = [of(setup, mix), of(against, mix)];
      expect(lifeHours.estimate).toBeCloseTo(one.life.hours.mean - other.life.hours.mean, 6);
      expect(daysLostPerSeason.estimate).toBeCloseTo(
        one.season.daysLost.estimate - other.season.daysLost.estimate,
        9,
      );
      expect('estimate' in costPerFlightHour && costPerFlightHour.estimate).toBeCloseTo(
        one.season.costPerFlightHour!.estimate - other.season.costPerFlightHour!.estimate,
        9,
      );
    }
  }
});

describe('what the shipped season says', () => {
  test('on every mix the deep 29 in tire lasts longest, in all worlds and nearly all trials', () => {
    for (const { mix } of comparisons) {
      const { verdict, setups } = best(mix, 'life');
      expect(verdict).toMatchObject({ kind: 'settled', best: 'rigid 29 deep' });
      const leader = setups.find(({ setup }) => setup === 'rigid 29 deep')!;
      expect(leader.shareOfWorldsBest!.estimate).toBeGreaterThan(0.95);
      expect(leader.shareOfTrialsBest.estimate).toBeGreaterThan(0.95);
    }
  });

  test('on mostly paved strips the cheapest by the hour depends on the world: ignorance, not trials', () => {
    const { setups, doubtOfLead } = best('mostly paved', 'costPerHour');
    const share = (name: string): number =>
      setups.find(({ setup }) => setup === name)!.shareOfWorldsBest!.estimate;
    expect(share('rigid 29 deep')).toBeGreaterThan(0.15);
    expect(share('faired 6.00-6')).toBeGreaterThan(0.15);
    expect(share('soft 29 at 9 psi')).toBe(0);
    // In hindsight the faired tires look better than they are: the rare dear seasons are not in most trials.
    const faired = setups.find(({ setup }) => setup === 'faired 6.00-6')!;
    expect(faired.shareOfTrialsBest.lower).toBeGreaterThan(faired.shareOfWorldsBest!.estimate);
    expect(doubtOfLead!.ignorance!).toBeGreaterThan(0);
  });

  test('regret of ignorance lies between what twins allow, and below that of hindsight', () => {
    for (const { mix } of comparisons) {
      for (const criterion of CRITERIA) {
        for (const { regret } of best(mix, criterion).setups) {
          const { estimate, standardError, atLeast, atMost } = regret.ignorance!;
          const slack = 4 * (standardError + atMost!.standardError);
          expect(estimate).toBeGreaterThan(
            atLeast!.estimate - 4 * (standardError + atLeast!.standardError) - 1e-9,
          );
          expect(estimate).toBeLessThan(atMost!.estimate + slack + 1e-9);
          expect(regret.numerical).toBeGreaterThanOrEqual(0);
        }
      }
    }
  });

  test('the answer is plain data', () => {
    expect(JSON.parse(JSON.stringify(comparisons))).toEqual(comparisons);
  });
});

function varianceOf(values: ArrayLike<number>): number {
  const list = Array.from(values);
  const centre = list.reduce((sum, value) => sum + value, 0) / list.length;
  return list.reduce((sum, value) => sum + (value - centre) ** 2, 0) / (list.length - 1);
}
