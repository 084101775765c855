import { grossFootprintAreaM2 } from '../models/contact.js';
import { KEEP_MOVING_FORCE_N } from '../models/hand-push.js';
import { rollingResistanceRatio } from '../models/slip-work.js';
import { bearablePressurePa, soilResistanceRatio } from '../models/soft-ground.js';
import type { CompiledScenario, CompiledSurface } from '../scenario/compile.js';
import { RULE_DEFAULTS, type LimitRule } from './limit-rule.js';
import type { Standing, StandingWheel } from './standing.js';

/**
 * Limits of the ground under the wheels: what it bears, and what it takes to push the airplane over it.
 *
 * @param scenario compiled scenario.
 * @param surfaces the surfaces to look at.
 */
export function groundRules(scenario: CompiledScenario, surfaces: readonly CompiledSurface[]): LimitRule[] {
  return surfaces.flatMap((surface) => [
    ...(surface.paved ? [] : [bearingRule(surface)]),
    pushRule(scenario, surface),
  ]);
}

/** Mean pressure of a tire on hard ground, grooves included, Pa. */
function contactPa({ tire, loadN, deflectionM }: StandingWheel): number {
  return loadN / grossFootprintAreaM2(deflectionM, tire.meanSizeM);
}

function bearingRule({ name, bearingRatio }: CompiledSurface): LimitRule {
  return {
    ...RULE_DEFAULTS,
    code: 'ground bearing',
    title: `ground pressure of the harder-pressing tire against what ${name} bears`,
    surface: name,
    binding: false,
    needs: bearingRatio === undefined ? [`surfaces.${name}.bearingRatio`] : [],
    unit: 'Pa',
    bound: 'at most',
    source:
      '8.1 CBR/pi psi bears without cover (Corps of Engineers cover formula, from memory); footprint: NASA TR R-64, from memory',
    caution:
      'The formula is meant for thousands of passes; a few landings leave ruts only. Ground soaked by rain bears far less.',
    read: (standing) => ({
      value: Math.max(contactPa(standing.main), contactPa(standing.third)),
      limit: bearingRatio === undefined ? null : bearablePressurePa(standing.value(bearingRatio)),
    }),
  };
}

/**
 * Force that keeps the airplane rolling on level ground, N: the resistance of the tires, and on unpaved ground that of
 * the soil.
 *
 * @param standing the set-up.
 * @param surface the ground.
 * @returns force, N; null where the cone index of unpaved ground is not known.
 */
export function pushForceN(standing: Standing, { paved, coneIndex }: CompiledSurface): number | null {
  if (!paved && coneIndex === undefined) return null;
  const { scenario } = standing;
  const massKg = scenario.airplane.handlingMassKg ?? standing.value(scenario.airplane.landingMass);
  const resistanceN = ({ tire, gaugePa, loadN, deflectionM }: StandingWheel): number => {
    const floor = standing.value(tire.rollingFloor);
    const rolling = rollingResistanceRatio(
      floor,
      standing.value(scenario.global.rollingPressureTerm),
      gaugePa,
    );
    if (paved || coneIndex === undefined) return loadN * rolling;
    const { sectionWidthM, outsideDiameterM, sectionHeightM } = tire;
    const coneIndexPa = standing.value(coneIndex);
    return (
      loadN *
      (rolling +
        soilResistanceRatio(coneIndexPa, loadN, sectionWidthM, outsideDiameterM, sectionHeightM, deflectionM))
    );
  };
  return 2 * resistanceN(standing.mainAt(massKg)) + resistanceN(standing.thirdAt(massKg));
}

/** Places of what the push force needs and the scenario does not have. */
export function pushNeeds({ name, paved, coneIndex }: CompiledSurface): string[] {
  return paved || coneIndex !== undefined ? [] : [`surfaces.${name}.coneIndex`];
}

function pushRule({ habits }: CompiledScenario, surface: CompiledSurface): LimitRule {
  const crew = habits.pushCrew;
  return {
    ...RULE_DEFAULTS,
    code: 'push by hand',
    title: `force to keep the airplane rolling on level ${surface.name}, pushed by hand, against ${
      crew === null ? 'the people at hand' : crew === 1 ? 'one person' : `${crew} people`
    }`,
    surface: surface.name,
    binding: surface.paved,
    needs: [...pushNeeds(surface), ...(crew === null ? ['habits.pushCrew'] : [])],
    unit: 'N',
    bound: 'at most',
    source:
      'about 100 N a person to keep a load moving (HSE L23 and INDG143, men; 70 N women); tire: Tire Science and Technology 6(3):163, abstract; soil: Brixius 1987, from memory',
    caution: 'About twice the force starts it. A slope of 1 % adds 1 % of the weight.',
    read: (standing) => {
      const value = pushForceN(standing, surface);
      return value === null ? null : { value, limit: crew === null ? null : crew * KEEP_MOVING_FORCE_N };
    },
  };
}
