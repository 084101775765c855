import { ambientPressurePa } from '../models/atmosphere.js';
import { freeSectionHeightM, sectionHeightM, stiffnessAreaM2 } from '../models/contact.js';
import { treadRubberAreaM2 } from '../models/bands.js';
import { wheelInertiaKgM2 } from '../models/slip-work.js';
import type { Assumption } from './quantity.js';
import { compileCalendar, SECONDS_PER_DAY, type Calendar } from './calendar.js';
import type { Scenario } from './schema/index.js';

/** Index of an assumption in the values of a world. */
export type ValueIndex = number;

/** One assumption of the scenario with its place and what is known of it. */
export interface CompiledAssumption extends Assumption {
  /** Place in the scenario, for example "surfaces.gravel.wearFactor". It also names the random stream. */
  readonly path: string;
}

/** A tire on a wheel position, dimensions folded, class assumptions as indices. */
export interface CompiledTire {
  readonly name: string;
  readonly outsideDiameterM: number;
  readonly sectionWidthM: number;
  readonly meanSizeM: number;
  readonly stiffnessAreaM2: number;
  readonly sectionHeightM: number;
  readonly freeSectionHeightM: number;
  readonly beadRadiusM: number;
  readonly widestRadiusM: number;
  readonly ratedPa: number;
  readonly ratedLoadKg: number;
  readonly inertiaKgM2: number;
  readonly newTreadM: number;
  readonly undertreadM: number;
  readonly carcassM: number;
  readonly sidewallThicknessM: number;
  readonly landRatio: number;
  readonly centreShare: number;
  readonly rubberAreaM2: number;
  readonly tubed: boolean;
  readonly price: number;
  readonly evenWearDeflection: ValueIndex;
  readonly squirmShare: ValueIndex;
  readonly rollingFloor: ValueIndex;
  readonly sideExposure: ValueIndex;
  readonly tailHitShare: ValueIndex;
  readonly wearFactor: ValueIndex;
  readonly biteFactor: ValueIndex;
}

/** A tire set-up ready to run. */
export interface CompiledSetup {
  readonly name: string;
  readonly main: CompiledTire;
  readonly third: CompiledTire;
  readonly mainPa: number;
  readonly thirdPa: number;
  readonly fairings: boolean;
  readonly checkEveryDays: number;
}

/** A surface: every figure is an assumption. */
export interface CompiledSurface {
  readonly name: string;
  readonly paved: boolean;
  readonly wearFactor: ValueIndex;
  readonly wetFactor: ValueIndex;
  readonly sharpStones: ValueIndex;
  readonly biteDepth: ValueIndex;
  readonly rockEdges: ValueIndex;
  readonly edgeHeight: ValueIndex;
  readonly looseStones: ValueIndex;
  readonly dryGrip: ValueIndex;
  readonly wetGrip: ValueIndex;
}

/** A landing place; surfaces as indices into the surfaces. */
export interface CompiledStrip {
  readonly name: string;
  readonly touchdown: number;
  readonly rollout: number;
  readonly taxi: number;
  readonly rolloutM: number;
  readonly taxiM: number;
  readonly ambientPa: number;
  readonly wetShare: number;
  readonly help: boolean;
}

/** A runway mix: cumulative shares over strip indices, the last one exactly 1. */
export interface CompiledMix {
  readonly name: string;
  readonly strips: readonly number[];
  readonly cumulativeShares: readonly number[];
}

/** Prices, all in one currency. */
export interface CompiledCosts {
  readonly currency: string;
  readonly tube: number;
  readonly tireChange: number;
  readonly patch: number;
  readonly rescue: number;
  readonly downDay: number;
}

/** Assumptions of `Record<string, Assumption>` type as indices, other fields left out. */
type Indices<Section> = {
  readonly [Key in keyof Section as Section[Key] extends Assumption ? Key : never]: ValueIndex;
};

/** Everything the kernel needs: plain data in SI units that can be sent to a worker. */
export interface CompiledScenario {
  readonly name: string;
  /** Remark of the scenario; empty if it has none. */
  readonly note: string;
  readonly airplaneName: string;
  readonly seed: string;
  readonly trials: number;
  readonly horizonDays: number;
  readonly assumptions: readonly CompiledAssumption[];
  readonly airplane: Indices<Scenario['airplanes'][string]> & {
    readonly stallSpeedMps: number;
    /** Where the third wheel is. */
    readonly gear: 'nose' | 'tail';
  };
  readonly setups: readonly CompiledSetup[];
  readonly mixes: readonly CompiledMix[];
  readonly strips: readonly CompiledStrip[];
  readonly surfaces: readonly CompiledSurface[];
  readonly calendar: Calendar;
  readonly temperatureSpreadK: number;
  readonly basePa: number;
  readonly habits: Indices<Scenario['habits']> & {
    readonly pivotAngleRad: number;
    readonly inspectEveryDays: number;
    readonly noticedBelow: number;
    readonly removeAtCords: boolean;
    readonly treadLimitM: number;
    readonly replacePairs: boolean;
    readonly ageLimitDays: number;
  };
  readonly global: Indices<Scenario['assumptions']> & { readonly touchdownPatchM: number };
  readonly costs: CompiledCosts | null;
}

/** True for the output of an assumption field. */
function isAssumption(value: unknown): value is Assumption {
  return typeof value === 'object' && value !== null && 'kind' in value && 'source' in value;
}

/** Collects assumptions in the order met and hands out their indices. */
class Register {
  readonly entries: CompiledAssumption[] = [];

  addAll<Section extends object>(path: string, section: Section): Indices<Section> {
    const indices: Record<string, ValueIndex> = {};
    for (const [key, value] of Object.entries(section) as [string, unknown][]) {
      if (!isAssumption(value)) continue;
      indices[key] = this.entries.length;
      this.entries.push({ ...value, path: `${path}.${key}` });
    }
    return indices as Indices<Section>;
  }
}

/**
 * Turns a checked scenario into flat data in SI units, every constant folded and every name resolved.
 *
 * @param scenario a scenario as checked by `readScenario`; names in it refer to existing entries.
 * @returns plain data, safe to send to a worker.
 */
export function compileScenario(scenario: Scenario): CompiledScenario {
  const register = new Register();
  const airplane = entry(scenario.airplanes, scenario.airplane);
  const airplaneIndices = register.addAll(`airplanes.${scenario.airplane}`, airplane);
  const registerSection = <Section extends object>(section: string, records: Record<string, Section>) =>
    new Map(
      Object.entries(records).map(([name, record]) => [name, register.addAll(`${section}.${name}`, record)]),
    );
  const sidewalls = registerSection('sidewalls', scenario.sidewalls);
  const treads = registerSection('treads', scenario.treads);
  const compounds = registerSection('compounds', scenario.compounds);
  const surfaceNames = Object.keys(scenario.surfaces);
  const surfaces = surfaceNames.map((name) => {
    const surface = entry(scenario.surfaces, name);
    return { name, paved: surface.paved, ...register.addAll(`surfaces.${name}`, surface) };
  });
  const habits = register.addAll('habits', scenario.habits);
  const global = register.addAll('assumptions', scenario.assumptions);

  const compileTire = (name: string): CompiledTire => {
    const tire = entry(scenario.tires, name);
    const tread = entry(scenario.treads, tire.tread);
    return {
      name,
      outsideDiameterM: tire.outsideDiameter,
      sectionWidthM: tire.sectionWidth,
      meanSizeM: Math.sqrt(tire.sectionWidth * tire.outsideDiameter),
      stiffnessAreaM2: stiffnessAreaM2(tire.sectionWidth, tire.outsideDiameter),
      sectionHeightM: sectionHeightM(tire.outsideDiameter, tire.rimDiameter),
      freeSectionHeightM: freeSectionHeightM(tire.outsideDiameter, tire.rimDiameter, tire.flangeHeight),
      beadRadiusM: 0.5 * tire.rimDiameter,
      widestRadiusM: 0.25 * (tire.rimDiameter + tire.outsideDiameter),
      ratedPa: tire.ratedPressure,
      ratedLoadKg: tire.ratedLoad,
      inertiaKgM2: wheelInertiaKgM2(
        airplane.hubInertia,
        tire.mass,
        tire.outsideDiameter,
        scenario.assumptions.gyrationShare,
      ),
      newTreadM: tire.newTread,
      undertreadM: tire.undertread,
      carcassM: tire.carcass,
      sidewallThicknessM: tire.sidewallThickness,
      landRatio: tread.landRatio,
      centreShare: tread.centreShare,
      rubberAreaM2: treadRubberAreaM2(tire.outsideDiameter, tire.treadWidth, tread.landRatio),
      tubed: tire.seal === 'tube',
      price: tire.price ?? 0,
      ...fromMap(sidewalls, tire.sidewall),
      ...fromMap(treads, tire.tread),
      ...fromMap(compounds, tire.compound),
    };
  };

  return {
    name: scenario.name,
    note: scenario.note ?? '',
    airplaneName: scenario.airplane,
    seed: String(scenario.run.seed),
    trials: scenario.run.trials,
    horizonDays: scenario.run.horizon / SECONDS_PER_DAY,
    assumptions: register.entries,
    airplane: { ...airplaneIndices, stallSpeedMps: airplane.stallSpeed, gear: airplane.gear },
    setups: Object.entries(scenario.setups).map(([name, setup]) => ({
      name,
      main: compileTire(setup.mainTire),
      third: compileTire(setup.thirdTire),
      mainPa: setup.mainPressure,
      thirdPa: setup.thirdPressure,
      fairings: setup.fairings,
      checkEveryDays: (setup.checkEvery ?? scenario.habits.checkEvery) / SECONDS_PER_DAY,
    })),
    mixes: Object.entries(scenario.mixes).map(([name, mix]) =>
      compileMix(name, mix, Object.keys(scenario.strips)),
    ),
    strips: Object.entries(scenario.strips).map(([name, strip]) => ({
      name,
      touchdown: surfaceNames.indexOf(strip.touchdown),
      rollout: surfaceNames.indexOf(strip.rollout),
      taxi: surfaceNames.indexOf(strip.taxi),
      rolloutM: strip.rolloutLength,
      taxiM: strip.taxiLength,
      ambientPa: ambientPressurePa(strip.elevation),
      wetShare: strip.wetShare,
      help: strip.help,
    })),
    surfaces,
    calendar: compileCalendar(scenario.season.months),
    temperatureSpreadK: scenario.season.temperatureSpread,
    basePa: ambientPressurePa(scenario.season.baseElevation),
    habits: {
      ...habits,
      pivotAngleRad: scenario.habits.pivotAngle,
      inspectEveryDays: scenario.habits.inspectEvery / SECONDS_PER_DAY,
      noticedBelow: scenario.habits.noticedBelow,
      removeAtCords: scenario.habits.removeAt === 'cords',
      treadLimitM: scenario.habits.treadLimit,
      replacePairs: scenario.habits.replace === 'pair',
      ageLimitDays: scenario.habits.ageLimit / SECONDS_PER_DAY,
    },
    global: { ...global, touchdownPatchM: scenario.assumptions.touchdownPatch },
    costs: scenario.costs ?? null,
  };
}

function compileMix(
  name: string,
  mix: Scenario['mixes'][string],
  stripNames: readonly string[],
): CompiledMix {
  const used = Object.entries(mix).filter(([, share]) => share > 0);
  let sum = 0;
  const cumulativeShares = used.map(([, share]) => (sum += share));
  cumulativeShares[cumulativeShares.length - 1] = 1;
  return { name, strips: used.map(([strip]) => stripNames.indexOf(strip)), cumulativeShares };
}

function entry<Value>(record: Readonly<Record<string, Value>>, name: string): Value {
  const value = record[name];
  if (value === undefined) throw new RangeError(`no entry named ${name}`);
  return value;
}

function fromMap<Value>(map: ReadonlyMap<string, Value>, name: string): Value {
  const value = map.get(name);
  if (value === undefined) throw new RangeError(`no entry named ${name}`);
  return value;
}
