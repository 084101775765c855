import { compileScenario, type CompiledScenario } from '../scenario/compile.js';
import { parseScenario } from '../scenario/read.js';
import { assumptionQuantile } from '../simulate/world.js';

/** Part of a scenario file. */
export type ScenarioPart =
  null | boolean | number | string | ScenarioPart[] | { [key: string]: ScenarioPart };

type ScenarioSection = { [key: string]: ScenarioPart };

const SOURCE = 'set for a known answer';

/** An assumption without doubt. */
export function fixed(value: string): ScenarioSection {
  return { value, source: SOURCE };
}

/** An assumption by the values that one world in ten is below, and above. */
export function inDoubt(distribution: 'lognormal' | 'normal', p10: string, p90: string): ScenarioSection {
  return { distribution, p10, p90, source: SOURCE };
}

/** Some landings in a month of 15 degC. */
export function monthOf(month: string, landings: number): ScenarioSection {
  return { month, landings: String(landings), flightHours: '50 h', temperature: '15 degC' };
}

/**
 * A scenario in which every landing is alike: one paved strip at sea level, one tire on all wheels, standard day, no
 * leaks, no stones, no cuts in the side, no side load, no pivots. Known answers switch on what they look at.
 */
const QUIET: ScenarioSection = {
  name: 'Quiet: every landing alike',
  setups: {
    only: { mainTire: 'plain', mainPressure: '30 psi', thirdTire: 'plain', thirdPressure: '30 psi' },
  },
  mixes: { only: { place: '100 %' } },
  airplanes: {
    'reference four-seater': {
      landingMass: fixed('1400 kg'),
      landingMassSpread: fixed('0 %'),
      thirdWheelLoadShare: fixed('20 %'),
    },
  },
  tires: { plain: { like: 'rigid 26 deep', sidewall: 'plain', seal: 'tube' } },
  sidewalls: { plain: { like: 'rigid', sideExposure: fixed('0 %') } },
  surfaces: {
    plain: {
      like: 'paved',
      sharpStones: fixed('0 /m2'),
      biteDepth: fixed('0.3 mm'),
      rockEdges: fixed('0 /m'),
      edgeHeight: fixed('10 mm'),
    },
  },
  strips: {
    place: {
      like: 'home pavement',
      touchdown: 'plain',
      rollout: 'plain',
      taxi: 'plain',
      elevation: '0 ft',
      wetShare: '0 %',
    },
  },
  season: { months: [monthOf('July', 1000)], temperatureSpread: '0 degC', baseElevation: '0 ft' },
  habits: {
    touchdownSpeedSpread: fixed('0'),
    sinkRateSpread: fixed('0'),
    brakingSpread: fixed('0'),
    pivotChance: fixed('0 %'),
    sideLoadSpread: fixed('0 %'),
    checkEvery: '366 days',
    inspectEvery: '366 days',
    noticedBelow: '0 %',
    ageLimit: '50 years',
  },
  assumptions: {
    landingWearSpread: fixed('0'),
    turnScrub: fixed('0 %'),
    crosswindScrub: fixed('0 %'),
    innerShoulderShare: fixed('50 %'),
    rolloutStoneFactor: fixed('1'),
    ledgeTorque: fixed('5000 N m'),
    tubePermeation: fixed('0 %/month'),
    slowLeaks: fixed('0 /year'),
    gaugeBias: fixed('0 psi'),
  },
  run: { horizon: '40 years' },
};

/**
 * The quiet scenario with changes laid over it. Every assumption is held at its median, but for those that a change puts
 * in doubt.
 *
 * @param seed of the run.
 * @param changes sections of a scenario file.
 * @param doubted places of the assumptions in doubt, such as "assumptions.abradability".
 */
export function quietScenario(
  seed: string,
  changes: ScenarioSection,
  doubted: readonly string[] = [],
): CompiledScenario {
  const text = JSON.stringify(overlay(overlay(QUIET, changes), { run: { seed } }));
  const compiled = compileScenario(parseScenario(text, 'known answers').scenario);
  return {
    ...compiled,
    assumptions: compiled.assumptions.map((assumption) =>
      doubted.includes(assumption.path)
        ? assumption
        : { ...assumption, kind: 'fixed', a: assumptionQuantile(assumption, 0.5) },
    ),
  };
}

/** Lays one part over another; assumptions, lists and texts replace. */
function overlay(below: ScenarioPart | undefined, above: ScenarioPart): ScenarioPart {
  if (!isSection(below) || !isSection(above) || 'value' in above || 'distribution' in above) return above;
  const merged: ScenarioSection = { ...below };
  for (const [key, part] of Object.entries(above)) merged[key] = overlay(below[key], part);
  return merged;
}

function isSection(part: ScenarioPart | undefined): part is ScenarioSection {
  return typeof part === 'object' && part !== null && !Array.isArray(part);
}
