import { ambientPressurePa } from '../models/atmosphere.js';
import { freeSectionHeightM, sectionHeightM, stiffnessAreaM2 } from '../models/contact.js';
import { treadRubberAreaM2 } from '../models/bands.js';
import { wheelInertiaKgM2 } from '../models/slip-work.js';
import type { Assumption } from './quantity.js';
import {
  compileFairingFit,
  compileGeometry,
  type CompiledFairingFit,
  type CompiledGeometry,
} from './compile-fit.js';
import type { CompiledTire, ValueIndex } from './compiled-tire.js';
import { compileCalendar, SECONDS_PER_DAY, type Calendar } from './calendar.js';
import { compileFitted, type CompiledFitted } from './compile-fitted.js';
import { compileMixes, type CompiledMix } from './compile-mixes.js';
import { compileToday, type CompiledToday } from './compile-today.js';
import type { Scenario } from './schema/index.js';

export type { CompiledFitted } from './compile-fitted.js';
export type { CompiledMix } from './compile-mixes.js';
export type { CompiledTire, ValueIndex } from './compiled-tire.js';

/** One assumption of the scenario with its place and what is known of it. */
export interface CompiledAssumption extends Assumption {
  /** Place in the scenario, for example "surfaces.gravel.wearFactor". It also names the random stream. */
  readonly path: string;
}

/** A tire set-up ready to run. */
export interface CompiledSetup {
  readonly name: string;
  readonly main: CompiledTire;
  readonly third: CompiledTire;
  readonly mainPa: number;
  readonly thirdPa: number;
  readonly fairings: boolean;
  readonly fairingFit: CompiledFairingFit | null;
  /** Cruise speed lost to its drag, as a share; 0 where none is stated. */
  readonly cruiseLoss: number;
  readonly checkEveryDays: number;
}

/** A surface: every figure is an assumption; the last two may be missing. */
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
  readonly bearingRatio?: ValueIndex;
  readonly coneIndex?: ValueIndex;
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

/** Prices, all in one currency. */
export interface CompiledCosts {
  readonly currency: string;
  readonly tube: number;
  readonly tireChange: number;
  readonly patch: number;
  readonly rescue: number;
  readonly downDay: number;
  /** Cost of one flight hour; left out where it is not known. */
  readonly flightHour?: number | undefined;
}

/** Assumptions of a section as indices, other fields left out; those that may be missing stay so. */
type Indices<Section> = {
  readonly [Key in keyof Section as Section[Key] extends Assumption | undefined ? Key : never]: ValueIndex;
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
  /** Assumptions that are drawn together, fitted to records; left out where there are none. */
  readonly fitted?: CompiledFitted;
  readonly airplane: Indices<Scenario['airplanes'][string]> & {
    readonly stallSpeedMps: number;
    /** Where the third wheel is. */
    readonly gear: 'nose' | 'tail';
    /** The rest is for set-up limits; null where it is not known. */
    readonly maximumMassKg: number | null;
    readonly handlingMassKg: number | null;
    readonly geometry: CompiledGeometry | null;
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
    /** People at hand to push; null where it is not known. */
    readonly pushCrew: number | null;
  };
  readonly global: Indices<Scenario['assumptions']> & { readonly touchdownPatchM: number };
  readonly costs: CompiledCosts | null;
  /** The main tires as they are today; null where the scenario does not say. */
  readonly today: CompiledToday | null;
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
  const { geometry } = airplane;
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
      treadWidthM: tire.treadWidth,
      beadRadiusM: 0.5 * tire.rimDiameter,
      widestRadiusM: 0.25 * (tire.rimDiameter + tire.outsideDiameter),
      ratedPa: tire.ratedPressure,
      ratedLoadKg: tire.ratedLoad,
      ratedSpeedMps: tire.ratedSpeed ?? null,
      sidewall: tire.sidewall,
      shaved: tire.shaved,
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
      price: tire.price ?? null,
      ...fromMap(sidewalls, tire.sidewall),
      ...fromMap(treads, tire.tread),
      ...fromMap(compounds, tire.compound),
    };
  };

  const calendar = compileCalendar(scenario.season.months);
  return {
    name: scenario.name,
    note: scenario.note ?? '',
    airplaneName: scenario.airplane,
    seed: String(scenario.run.seed),
    trials: scenario.run.trials,
    horizonDays: scenario.run.horizon / SECONDS_PER_DAY,
    assumptions: register.entries,
    ...(scenario.fitted === undefined
      ? {}
      : {
          fitted: compileFitted(
            scenario.fitted,
            register.entries.map(({ path }) => path),
          ),
        }),
    airplane: {
      ...airplaneIndices,
      stallSpeedMps: airplane.stallSpeed,
      gear: airplane.gear,
      maximumMassKg: airplane.maximumMass ?? null,
      handlingMassKg: airplane.handlingMass ?? null,
      geometry: geometry === undefined ? null : compileGeometry(geometry, compileTire),
    },
    setups: Object.entries(scenario.setups).map(([name, setup]) => ({
      name,
      main: compileTire(setup.mainTire),
      third: compileTire(setup.thirdTire),
      mainPa: setup.mainPressure,
      thirdPa: setup.thirdPressure,
      fairings: setup.fairings,
      fairingFit: setup.fairingFit === undefined ? null : compileFairingFit(setup.fairingFit),
      cruiseLoss: setup.cruiseLoss ?? 0,
      checkEveryDays: (setup.checkEvery ?? scenario.habits.checkEvery) / SECONDS_PER_DAY,
    })),
    mixes: compileMixes(scenario),
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
    calendar,
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
      pushCrew: scenario.habits.pushCrew ?? null,
    },
    global: { ...global, touchdownPatchM: scenario.assumptions.touchdownPatch },
    costs: scenario.costs ?? null,
    today: scenario.today === undefined ? null : compileToday(scenario.today, calendar.firstMonth),
  };
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
