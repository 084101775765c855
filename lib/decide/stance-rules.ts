import { flatHeightM } from '../models/loaded-height.js';
import {
  LEAST_PROPELLER_CLEARANCE_NOSE_WHEEL_M,
  LEAST_PROPELLER_CLEARANCE_TAIL_WHEEL_M,
  propellerClearanceM,
  propellerClearanceOnFlatM,
  type PropellerStance,
} from '../models/propeller-clearance.js';
import { pitchChangeRad, riseAtM, tailAngleRad } from '../models/stance.js';
import type { CompiledGeometry } from '../scenario/compile-fit.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { RULE_DEFAULTS, type LimitRule } from './limit-rule.js';
import { standingWheel, type Standing } from './standing.js';

type Measure = Exclude<keyof CompiledGeometry, 'measured' | 'source'>;

const FIELD_OF: Readonly<Record<Measure, string>> = {
  wheelbaseM: 'wheelbase',
  propellerAheadM: 'propellerAhead',
  propellerClearanceM: 'propellerClearance',
  strutTravelM: 'strutTravel',
  tailBehindM: 'tailBehind',
  tailClearanceM: 'tailClearance',
  tailAngleNeededRad: 'tailAngleNeeded',
  attitudeRad: 'attitude',
  attitudeLeastRad: 'attitudeLeast',
  attitudeMostRad: 'attitudeMost',
};

/** Places of the measures that are not known. */
export function missingMeasures(scenario: CompiledScenario, wanted: readonly Measure[]): string[] {
  const { geometry } = scenario.airplane;
  const place = `airplanes.${scenario.airplaneName}.geometry`;
  if (geometry === null) return [place];
  return wanted.filter((key) => geometry[key] === null).map((key) => `${place}.${FIELD_OF[key]}`);
}

/** Rise of main and third axle since the airplane was measured, m, at its heaviest. */
function risesM(standing: Standing, { measured }: CompiledGeometry): { main: number; third: number } {
  const main = standing.mainAt(standing.heaviestKg);
  const third = standing.thirdAt(standing.heaviestKg);
  const mainThen = standingWheel(measured.main, measured.mainPa, standing.mainMassKg(measured.massKg));
  const thirdThen = standingWheel(measured.third, measured.thirdPa, standing.thirdMassKg(measured.massKg));
  return { main: main.heightM - mainThen.heightM, third: third.heightM - thirdThen.heightM };
}

/** Position of the third axle, m forward of the main axle. */
function thirdPositionM({ airplane }: CompiledScenario, wheelbaseM: number): number {
  return airplane.gear === 'nose' ? wheelbaseM : -wheelbaseM;
}

/** Height of the lowest point of the tail, m; null where its measures are not known. */
export function tailHeightM(standing: Standing): number | null {
  const { geometry } = standing.scenario.airplane;
  if (geometry?.tailClearanceM == null || geometry.tailBehindM === null || geometry.wheelbaseM === null)
    return null;
  const { main, third } = risesM(standing, geometry);
  const thirdAtM = thirdPositionM(standing.scenario, geometry.wheelbaseM);
  return geometry.tailClearanceM + riseAtM(-geometry.tailBehindM, thirdAtM, main, third);
}

/** Measures of the propeller; null where they are not known. */
function propellerStance({ airplane }: CompiledScenario): PropellerStance | null {
  const { gear, geometry } = airplane;
  if (geometry?.propellerClearanceM == null) return null;
  const { propellerClearanceM: measuredM, propellerAheadM, wheelbaseM } = geometry;
  // The level attitude of a tail-wheel airplane needs no lever.
  if (gear === 'tail') return { gear, measuredM, propellerAheadM: 0, wheelbaseM: 1 };
  return propellerAheadM === null || wheelbaseM === null
    ? null
    : { gear, measuredM, propellerAheadM, wheelbaseM };
}

/**
 * Limits of how the airplane stands: propeller, attitude, tail.
 *
 * @param scenario compiled scenario.
 */
export function stanceRules(scenario: CompiledScenario): LimitRule[] {
  const rules = [...propellerRules(scenario), ...attitudeRules(scenario)];
  return scenario.airplane.gear === 'nose' ? [...rules, tailRule(scenario)] : rules;
}

function measuresText({ airplane }: CompiledScenario): string {
  return airplane.geometry === null ? '' : `; measures: ${airplane.geometry.source}`;
}

const STRUTS = 'Struts are taken as when measured; a low strut or a heavier load takes more.';

function propellerRules(scenario: CompiledScenario): LimitRule[] {
  const { gear, geometry } = scenario.airplane;
  const lever = gear === 'nose' ? (['propellerAheadM', 'wheelbaseM'] as const) : [];
  const needs = missingMeasures(scenario, ['propellerClearanceM', ...lever]);
  const stance = propellerStance(scenario);
  const rule = '14 CFR 23.925(a)(1) before 2017, from memory';
  return [
    {
      ...RULE_DEFAULTS,
      code: 'propeller clearance',
      title:
        gear === 'nose'
          ? 'propeller clearance at rest'
          : 'propeller clearance at rest, tail raised until the airplane is level',
      needs,
      unit: 'm',
      bound: 'at least',
      source: `${gear === 'nose' ? '7 in with a nose wheel' : '9 in with a tail wheel'}: ${rule}${measuresText(scenario)}`,
      caution: STRUTS,
      read: (standing) => {
        if (stance === null || geometry === null) return null;
        const { main, third } = risesM(standing, geometry);
        return {
          value: propellerClearanceM(stance, main, third),
          limit:
            gear === 'nose' ? LEAST_PROPELLER_CLEARANCE_NOSE_WHEEL_M : LEAST_PROPELLER_CLEARANCE_TAIL_WHEEL_M,
        };
      },
    },
    {
      ...RULE_DEFAULTS,
      code: 'propeller clearance, flat tire',
      title:
        gear === 'nose'
          ? 'propeller clearance with the nose tire flat and its strut bottomed'
          : 'propeller clearance with one main tire flat and its strut bottomed',
      wheel: gear === 'nose' ? 'nose' : 'main',
      needs: [...needs, ...(geometry === null ? [] : missingMeasures(scenario, ['strutTravelM']))],
      unit: 'm',
      bound: 'at least',
      source: `must stay positive: ${rule}${measuresText(scenario)}`,
      caution: STRUTS,
      read: (standing) => {
        if (stance === null || geometry?.strutTravelM == null) return null;
        const { main, third } = risesM(standing, geometry);
        const heaviest = standing.heaviestKg;
        const critical = gear === 'nose' ? standing.thirdAt(heaviest) : standing.mainAt(heaviest);
        const dropM = critical.heightM - flatHeightM(critical.tire) + geometry.strutTravelM;
        return { value: propellerClearanceOnFlatM(stance, main, third, dropM), limit: 0 };
      },
    },
  ];
}

function attitudeRules(scenario: CompiledScenario): LimitRule[] {
  const { geometry } = scenario.airplane;
  return (['least', 'most'] as const).map((side) => ({
    ...RULE_DEFAULTS,
    code: 'attitude at rest',
    title: `pitch attitude at rest against the ${side === 'least' ? 'lowest' : 'highest'} allowed`,
    needs: missingMeasures(scenario, [
      'attitudeRad',
      'wheelbaseM',
      side === 'least' ? 'attitudeLeastRad' : 'attitudeMostRad',
    ]),
    unit: 'rad',
    bound: side === 'least' ? 'at least' : 'at most',
    source: `limit from the scenario; lever of axle heights over the wheelbase: own algebra${measuresText(scenario)}`,
    read: (standing) => {
      if (geometry?.attitudeRad == null || geometry.wheelbaseM === null) return null;
      const { main, third } = risesM(standing, geometry);
      return {
        value:
          geometry.attitudeRad + pitchChangeRad(thirdPositionM(scenario, geometry.wheelbaseM), main, third),
        limit: side === 'least' ? geometry.attitudeLeastRad : geometry.attitudeMostRad,
      };
    },
  }));
}

function tailRule(scenario: CompiledScenario): LimitRule {
  const { geometry } = scenario.airplane;
  return {
    ...RULE_DEFAULTS,
    code: 'tail angle',
    title: 'nose-up angle until the tail touches against the angle that take-off and landing use',
    needs: missingMeasures(scenario, ['tailClearanceM', 'tailBehindM', 'wheelbaseM', 'tailAngleNeededRad']),
    unit: 'rad',
    bound: 'at least',
    source: `angle needed from the scenario; rotation about the main wheels: own algebra${measuresText(scenario)}`,
    read: (standing) => {
      const heightM = tailHeightM(standing);
      if (heightM === null || geometry?.tailBehindM == null) return null;
      return { value: tailAngleRad(heightM, geometry.tailBehindM), limit: geometry.tailAngleNeededRad };
    },
  };
}
