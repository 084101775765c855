import { SEA_LEVEL_PRESSURE_PA, SEA_LEVEL_TEMPERATURE_K } from '../models/atmosphere.js';
import { DEEPEST_REST_DEFLECTION_SHARE } from '../models/loaded-height.js';
import { loadAtPressureKg } from '../models/tire-load.js';
import { standardNormalQuantile } from '../numeric/normal.js';
import type { CompiledScenario, CompiledSetup, CompiledStrip } from '../scenario/compile.js';
import { RULE_DEFAULTS, type LimitRule } from './limit-rule.js';
import type { Standing } from './standing.js';

/** Share of landings faster than the speed held against the rating: one in a thousand. */
const FASTEST_SHARE = 0.001;

/** Source of a limit that is the rating of a tire. */
export function ratingSource(tire: string): string {
  return `rating of ${tire}, from the scenario`;
}

/**
 * Limits that the rating of a tire sets, for main and third wheel.
 *
 * @param scenario compiled scenario.
 * @param setup the set-up.
 * @param strips where it lands; the thinnest air of them decides on speed.
 */
export function ratingRules(
  scenario: CompiledScenario,
  setup: CompiledSetup,
  strips: readonly CompiledStrip[],
): LimitRule[] {
  return (['main', 'third'] as const).flatMap((position) => wheelRules(scenario, setup, strips, position));
}

function wheelRules(
  scenario: CompiledScenario,
  setup: CompiledSetup,
  strips: readonly CompiledStrip[],
  position: 'main' | 'third',
): LimitRule[] {
  const { airplane, airplaneName } = scenario;
  const tire = setup[position];
  const wheel = position === 'main' ? ('main' as const) : airplane.gear;
  const which = position === 'main' ? 'main tire' : `${airplane.gear} tire`;
  const coldPa = position === 'main' ? setup.mainPa : setup.thirdPa;
  const heaviestOn = (standing: Standing): number =>
    position === 'main'
      ? standing.mainMassKg(standing.heaviestKg)
      : standing.thirdMassKg(standing.heaviestKg);
  const massNeeds = airplane.maximumMassKg === null ? [`airplanes.${airplaneName}.maximumMass`] : [];
  const fastestScore = -standardNormalQuantile(FASTEST_SHARE);
  return [
    {
      ...RULE_DEFAULTS,
      code: 'rated pressure',
      title: `cold pressure of the ${which} against its rated pressure`,
      wheel,
      pressureMatters: false,
      unit: 'Pa',
      bound: 'at most',
      source: ratingSource(tire.name),
      read: () => ({ value: coldPa, limit: tire.ratedPa }),
    },
    {
      ...RULE_DEFAULTS,
      code: 'rated load',
      title: `static load on the ${which} at the heaviest mass against its rated load`,
      wheel,
      pressureMatters: false,
      needs: massNeeds,
      unit: 'kg',
      bound: 'at most',
      source: `${ratingSource(tire.name)}; that the heaviest static load may not exceed it: 14 CFR 23.733 before 2017, from memory`,
      read: (standing) => ({ value: heaviestOn(standing), limit: tire.ratedLoadKg }),
    },
    {
      ...RULE_DEFAULTS,
      code: 'load at pressure',
      title: `static load on the ${which} at the heaviest mass against what it may carry at its pressure`,
      wheel,
      needs: massNeeds,
      unit: 'kg',
      bound: 'at most',
      source: 'rated load in proportion to pressure: common practice, no source',
      read: (standing) => {
        const gaugePa = position === 'main' ? standing.pressures.mainPa : standing.pressures.thirdPa;
        return {
          value: heaviestOn(standing),
          limit: loadAtPressureKg(tire.ratedLoadKg, gaugePa, tire.ratedPa),
        };
      },
    },
    {
      ...RULE_DEFAULTS,
      code: 'deflection at rest',
      title: `share of the height of the ${which} above its rim that it sinks at rest`,
      wheel,
      unit: 'share',
      bound: 'at most',
      source:
        'deflection: NASA TR R-64, from memory; the limit is an assumption well beyond design deflections',
      read: (standing) => ({
        value: standing[position].deflectionM / tire.freeSectionHeightM,
        limit: DEEPEST_REST_DEFLECTION_SHARE,
      }),
    },
    {
      ...RULE_DEFAULTS,
      code: 'rated speed',
      title: `ground speed of the ${which} at touchdown, one landing in a thousand, against its rated speed`,
      wheel,
      pressureMatters: false,
      needs: tire.ratedSpeedMps === null ? [`tires.${tire.name}.ratedSpeed`] : [],
      unit: 'm/s',
      bound: 'at most',
      source: `${ratingSource(tire.name)}; true airspeed over indicated in thin air: standard mechanics`,
      caution: 'A tailwind adds to it.',
      read: (standing) => {
        const { habits } = scenario;
        const ratio =
          standing.value(habits.touchdownSpeedRatio) +
          fastestScore * standing.value(habits.touchdownSpeedSpread);
        const speedMps = airplane.stallSpeedMps * ratio * trueOverIndicated(scenario, strips);
        return { value: speedMps, limit: tire.ratedSpeedMps };
      },
    },
  ];
}

/** True over indicated airspeed in the thinnest air of the strips, in the warmest month of the season. */
function trueOverIndicated(scenario: CompiledScenario, strips: readonly CompiledStrip[]): number {
  const ambientPa = strips.reduce((least, strip) => Math.min(least, strip.ambientPa), scenario.basePa);
  const temperatureK = scenario.calendar.temperatureK.reduce((most, each) => Math.max(most, each), 0);
  return Math.sqrt((SEA_LEVEL_PRESSURE_PA / ambientPa) * (temperatureK / SEA_LEVEL_TEMPERATURE_K));
}
