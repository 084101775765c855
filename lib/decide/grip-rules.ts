import { beadHoldingTorqueNm, brakingTorqueNm } from '../models/bead.js';
import { hydroplaningSpeedMps, SPIN_DOWN_COEFFICIENT, SPIN_UP_COEFFICIENT } from '../models/hydroplaning.js';
import type { CompiledScenario, CompiledSetup, CompiledStrip, CompiledSurface } from '../scenario/compile.js';
import { RULE_DEFAULTS, type LimitRule } from './limit-rule.js';
import type { Standing } from './standing.js';

/**
 * Limits of grip: bead on rim under full braking, and water under the tire.
 *
 * @param scenario compiled scenario.
 * @param setup the set-up.
 * @param strips where it lands.
 */
export function gripRules(
  scenario: CompiledScenario,
  setup: CompiledSetup,
  strips: readonly CompiledStrip[],
): LimitRule[] {
  const wetPaved = strips.some(({ rollout, wetShare }) => scenario.surfaces[rollout]!.paved && wetShare > 0);
  return [beadRule(scenario, setup), ...(wetPaved ? hydroplaningRules(scenario) : [])];
}

/** Highest grip of dry pavement, over wheel load; null without a paved surface. */
function pavementGrip(standing: Standing, paved: readonly CompiledSurface[]): number | null {
  return paved.reduce<number | null>(
    (most, { dryGrip }) => Math.max(most ?? 0, standing.value(dryGrip)),
    null,
  );
}

function beadRule(scenario: CompiledScenario, { main }: CompiledSetup): LimitRule {
  const paved = scenario.surfaces.filter((surface) => surface.paved);
  return {
    ...RULE_DEFAULTS,
    code: 'bead slip',
    title: 'torque of full braking on dry pavement against the torque that the beads of a main tire hold',
    wheel: 'main',
    needs: paved.length === 0 ? ['surfaces (one that is paved)'] : [],
    unit: 'N m',
    bound: 'at most',
    source: 'membrane balance of the sidewall, own algebra; bead friction and ledge torque are assumptions',
    caution: main.tubed
      ? 'A tire that slips on its rim can tear the valve out of its tube. Look at the slippage mark after hard braking.'
      : 'A tire that slips on its rim can lose its air. Look at the slippage mark after hard braking.',
    read: (standing) => {
      const grip = pavementGrip(standing, paved);
      if (grip === null) return null;
      const { loadN, gaugePa, heightM } = standing.main;
      const { beadFriction, ledgeTorque } = scenario.global;
      return {
        value: brakingTorqueNm(grip, loadN, heightM),
        limit: beadHoldingTorqueNm(
          gaugePa,
          main.widestRadiusM,
          main.beadRadiusM,
          standing.value(beadFriction),
          standing.value(ledgeTorque),
        ),
      };
    },
  };
}

function hydroplaningRules({ airplane, habits }: CompiledScenario): LimitRule[] {
  const kinds = [
    {
      code: 'hydroplaning, wheel not turning',
      words: 'a main wheel not yet turning',
      coefficient: SPIN_UP_COEFFICIENT,
      source: '7.7 sqrt(psi) kt: NASA TM-85652, as quoted',
    },
    {
      code: 'hydroplaning, rolling wheel',
      words: 'a rolling main wheel',
      coefficient: SPIN_DOWN_COEFFICIENT,
      source: '9 sqrt(psi) kt: NASA TN D-2056 (1963), as quoted',
    },
  ] as const;
  return kinds.map(({ code, words, coefficient, source }) => ({
    ...RULE_DEFAULTS,
    code,
    title: `usual touchdown speed against the hydroplaning speed of ${words}, were wet pavement flooded`,
    wheel: 'main',
    binding: false,
    unit: 'm/s',
    bound: 'at most',
    source,
    caution: 'Modern tires can hydroplane at lower speeds than this (NLR-TP-2001-242, abstract).',
    read: (standing) => ({
      value: airplane.stallSpeedMps * standing.value(habits.touchdownSpeedRatio),
      limit: hydroplaningSpeedMps(standing.pressures.mainPa, coefficient),
    }),
  }));
}
