import { aftChockRoomM, fairingGapM } from '../models/fairing.js';
import { tireDeflectionM } from '../models/loaded-height.js';
import type { CompiledFairingFit } from '../scenario/compile-fit.js';
import type { CompiledScenario, CompiledSetup } from '../scenario/compile.js';
import { RULE_DEFAULTS, type LimitRule } from './limit-rule.js';
import { missingMeasures } from './stance-rules.js';
import { standingWheel, type Standing } from './standing.js';

const CONTACT = 'A tire that rubs wears through its side or breaks the fairing.';

/**
 * Limits of the main wheel fairings; none for a set-up without.
 *
 * @param scenario compiled scenario.
 * @param setup the set-up.
 */
export function fairingRules(scenario: CompiledScenario, setup: CompiledSetup): LimitRule[] {
  if (!setup.fairings) return [];
  return [gapRule(scenario, setup, false), gapRule(scenario, setup, true), chockRule(scenario, setup)];
}

/** Deflection of the main tire when the fit was measured, m. */
function measuredDeflectionM(standing: Standing, fit: CompiledFairingFit): number {
  const massKg = standing.mainMassKg(fit.measuredMassKg);
  return standingWheel(standing.setup.main, fit.measuredPa, massKg).deflectionM;
}

function gapRule(scenario: CompiledScenario, setup: CompiledSetup, onBump: boolean): LimitRule {
  const fit = setup.fairingFit;
  const { main } = setup;
  const { bumpLoad } = scenario.global;
  const needs = fit === null ? [`setups.${setup.name}.fairingFit`] : [];
  if (main.sideBulge === undefined) needs.push(`sidewalls.${main.sidewall}.sideBulge`);
  if (main.growth === undefined) needs.push(`sidewalls.${main.sidewall}.growth`);
  if (onBump && bumpLoad === undefined) needs.push('assumptions.bumpLoad');
  return {
    ...RULE_DEFAULTS,
    code: onBump ? 'fairing clearance on a bump' : 'fairing clearance at rest',
    title: onBump
      ? 'gap between main tire and fairing on an ordinary bump of taxi or landing roll'
      : 'gap between main tire and fairing at rest',
    wheel: 'main',
    needs,
    unit: 'm',
    bound: 'at least',
    source: `side bulge of a wall that keeps its length, own algebra; deflection: NASA TR R-64, from memory${measuresText(setup)}`,
    caution: CONTACT,
    read: (standing) => {
      if (fit === null || main.sideBulge === undefined || main.growth === undefined) return null;
      if (onBump && bumpLoad === undefined) return null;
      const load = onBump && bumpLoad !== undefined ? standing.value(bumpLoad) : 1;
      const room = {
        measuredGapM: fit.gapM,
        measuredDeflectionM: measuredDeflectionM(standing, fit),
        bulgePerDeflection: standing.value(main.sideBulge),
        growthShare: standing.value(main.growth),
        sectionWidthM: main.sectionWidthM,
        sectionHeightM: main.sectionHeightM,
      };
      const deflectionM = tireDeflectionM(load * standing.main.loadN, standing.main.gaugePa, main);
      return { value: fairingGapM(room, deflectionM), limit: 0 };
    },
  };
}

function measuresText({ fairingFit }: CompiledSetup): string {
  return fairingFit === null ? '' : `; measures: ${fairingFit.source}`;
}

function chockRule(scenario: CompiledScenario, setup: CompiledSetup): LimitRule {
  const fit = setup.fairingFit;
  const { tailSettles, geometry } = scenario.airplane;
  const place = `setups.${setup.name}.fairingFit`;
  const needs = fit === null ? [place] : [];
  if (fit?.rearBehindM === null) needs.push(`${place}.rearBehind`);
  if (fit?.rearHeightM === null) needs.push(`${place}.rearHeight`);
  if (fit?.chockHeightM === null) needs.push(`${place}.chockHeight`);
  if (tailSettles === undefined) needs.push(`airplanes.${scenario.airplaneName}.tailSettles`);
  needs.push(...missingMeasures(scenario, ['tailBehindM']));
  return {
    ...RULE_DEFAULTS,
    code: 'aft chock clearance',
    title: 'room between the rear of the fairing and an aft chock left in place as the tail settles',
    wheel: 'main',
    needs,
    unit: 'm',
    bound: 'at least',
    source: `rotation about the main axle: own algebra${measuresText(setup)}`,
    caution: 'Take the aft chocks away before moving off, whatever this says.',
    read: (standing) => {
      if (fit?.rearBehindM == null || fit.rearHeightM === null || fit.chockHeightM === null) return null;
      if (tailSettles === undefined || geometry?.tailBehindM == null) return null;
      const before = measuredDeflectionM(standing, fit);
      const settlingRad = standing.value(tailSettles) / geometry.tailBehindM;
      return {
        value: aftChockRoomM(
          fit.rearHeightM,
          fit.rearBehindM,
          standing.main.deflectionM - before,
          settlingRad,
          fit.chockHeightM,
        ),
        limit: 0,
      };
    },
  };
}
