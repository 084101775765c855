import { readFileSync } from 'node:fs';
import { compileScenario, type CompiledScenario } from '../../dist/scenario/compile.js';
import { parseScenario } from '../../dist/scenario/read.js';

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** Lays one JSON object over another; lists and scalars replace. */
function overlay(below: Json | undefined, above: Json): Json {
  if (!isObject(below) || !isObject(above) || 'value' in above || 'distribution' in above) return above;
  const merged: { [key: string]: Json } = { ...below };
  for (const [key, value] of Object.entries(above)) merged[key] = overlay(below[key], value);
  return merged;
}

function isObject(value: Json | undefined): value is { [key: string]: Json } {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

const defaults = JSON.parse(
  readFileSync(new URL('../../scenarios/defaults.json', import.meta.url), 'utf8'),
) as { [section: string]: { [key: string]: Json } };

/** An assumption without doubt. */
export function fixed(value: string | number): Json {
  return { value: String(value), source: 'test' };
}

/** Fixes every assumption of a section at a value that is 0 where it may be, else at the given values. */
function fixAll(section: string, values: { [key: string]: string }): { [key: string]: Json } {
  const fields = Object.entries(defaults[section] ?? {}).filter(([, value]) => isObject(value));
  return Object.fromEntries(fields.map(([key]) => [key, fixed(values[key] ?? missing(`${section}.${key}`))]));
}

function missing(name: string): never {
  throw new Error(`the quiet scenario needs a value for ${name}`);
}

/**
 * A scenario in which nothing varies and nothing is in doubt: one paved strip at sea level, one set-up, standard day,
 * no leaks, no stones, no side load, no pivots. Tests switch on what they look at.
 */
export const quiet: { [key: string]: Json } = {
  name: 'quiet',
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
  tires: { plain: { like: 'rigid 26 deep', sidewall: 'plain', tread: 'plain', compound: 'standard' } },
  sidewalls: {
    plain: {
      evenWearDeflection: fixed('12 %'),
      squirmShare: fixed('6 %'),
      rollingFloor: fixed('1.2 %'),
      sideExposure: fixed('0 %'),
      source: 'test',
    },
  },
  treads: { plain: { landRatio: '80 %', centreShare: '40 %', tailHitShare: fixed('0 %'), source: 'test' } },
  surfaces: {
    plain: {
      paved: true,
      wearFactor: fixed('1'),
      wetFactor: fixed('1'),
      sharpStones: fixed('0 /m2'),
      biteDepth: fixed('0.3 mm'),
      rockEdges: fixed('0 /m'),
      edgeHeight: fixed('10 mm'),
      looseStones: fixed('0 /m2'),
      dryGrip: fixed('80 %'),
      wetGrip: fixed('50 %'),
      source: 'test',
    },
  },
  strips: {
    place: {
      touchdown: 'plain',
      rollout: 'plain',
      taxi: 'plain',
      rolloutLength: '250 m',
      taxiLength: '900 m',
      elevation: '0 ft',
      wetShare: '0 %',
      help: true,
      source: 'test',
    },
  },
  season: {
    months: [{ month: 'July', landings: '1000', flightHours: '500 h', temperature: '15 degC' }],
    temperatureSpread: '0 degC',
    baseElevation: '0 ft',
    source: 'test',
  },
  habits: {
    ...fixAll('habits', {
      touchdownSpeedRatio: '1.2',
      touchdownSpeedSpread: '0',
      sinkRate: '2 ft/s',
      sinkRateSpread: '0',
      brakedShare: '35 %',
      peakBraking: '10 %',
      brakingSpread: '0',
      pivotChance: '0 %',
      sideLoadSpread: '0 %',
    }),
    inspectEvery: '366 days',
    ageLimit: '50 years',
  },
  assumptions: fixAll('assumptions', {
    abradability: '0.1 mm3/J',
    landingWearSpread: '0',
    brakingSlip: '6 %',
    slidingFriction: '0.7',
    rollingPressureTerm: '0.35 psi',
    turnScrub: '0 %',
    crosswindScrub: '0 %',
    bandGain: '2',
    innerShoulderShare: '50 %',
    touchdownLoadShare: '30 %',
    rolloutStoneFactor: '1',
    impactEnergyShare: '30 %',
    bumpLoad: '1.5',
    beadFriction: '0.3',
    ledgeTorque: '5000 N m',
    valveTearChance: '0 %',
    tubePermeation: '0 %/month',
    tubelessPermeation: '0 %/month',
    slowLeaks: '0 /year',
    leakAtStart: '1 %/day',
    leakGrowth: '0 %/day',
    gaugeBias: '0 psi',
    patchChance: '50 %',
    downDaysAtBase: '0.5 days',
    downDaysPatched: '0.5 days',
    downDaysRescue: '2 days',
    downDaysReplacement: '0.25 days',
  }),
  run: { trials: '1000', seed: 'closed forms', horizon: '40 years' },
};

/** The quiet scenario with changes laid over it, as the text of a file. */
export function quietText(...changes: { [key: string]: Json }[]): string {
  return JSON.stringify(changes.reduce((below, above) => overlay(below, above) as typeof quiet, quiet));
}

/** The same, compiled. */
export function quietScenario(...changes: { [key: string]: Json }[]): CompiledScenario {
  return compileScenario(parseScenario(quietText(...changes), 'quiet scenario').scenario);
}

/** A shipped scenario, compiled, with changes laid over it. */
export function shippedScenario(name: string, changes: { [key: string]: Json } = {}): CompiledScenario {
  const file = new URL(`../../scenarios/${name}.json`, import.meta.url);
  const text = JSON.stringify(overlay(JSON.parse(readFileSync(file, 'utf8')) as Json, changes));
  return compileScenario(parseScenario(text, name).scenario);
}
