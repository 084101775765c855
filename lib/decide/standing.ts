import { STANDARD_GRAVITY_MPS2 } from '../models/atmosphere.js';
import { loadedHeightM, tireDeflectionM } from '../models/loaded-height.js';
import { mainWheelMassKg, thirdWheelMassKg } from '../models/wheel-loads.js';
import type { CompiledScenario, CompiledSetup, CompiledTire } from '../scenario/compile.js';

/** Gauge pressures of main and third tires, Pa. */
export interface WheelPressures {
  readonly mainPa: number;
  readonly thirdPa: number;
}

/** One wheel at rest. SI units. */
export interface StandingWheel {
  readonly tire: CompiledTire;
  readonly gaugePa: number;
  readonly loadN: number;
  readonly deflectionM: number;
  /** Height of the axle above the ground. */
  readonly heightM: number;
}

/** A set-up on the airplane at rest, in one world at given pressures. */
export class Standing {
  readonly scenario: CompiledScenario;
  readonly setup: CompiledSetup;
  readonly pressures: WheelPressures;
  readonly main: StandingWheel;
  readonly third: StandingWheel;
  private readonly world: Float64Array;

  constructor(
    scenario: CompiledScenario,
    setup: CompiledSetup,
    world: Float64Array,
    pressures: WheelPressures,
  ) {
    this.scenario = scenario;
    this.setup = setup;
    this.world = world;
    this.pressures = pressures;
    const massKg = this.value(scenario.airplane.landingMass);
    this.main = this.mainAt(massKg);
    this.third = this.thirdAt(massKg);
  }

  /** Value of an assumption in this world, SI units. */
  value(index: number): number {
    return this.world[index]!;
  }

  private get thirdShare(): number {
    return this.value(this.scenario.airplane.thirdWheelLoadShare);
  }

  /** Heaviest mass on the wheels, kg; the landing mass where it is not known. */
  get heaviestKg(): number {
    return this.scenario.airplane.maximumMassKg ?? this.value(this.scenario.airplane.landingMass);
  }

  /** Mass carried by one main wheel, and by the third wheel, of an airplane of a mass, kg. */
  mainMassKg(massKg: number): number {
    return mainWheelMassKg(massKg, this.thirdShare);
  }

  thirdMassKg(massKg: number): number {
    return thirdWheelMassKg(massKg, this.thirdShare);
  }

  /** A main wheel, and the third wheel, with the airplane at a mass. */
  mainAt(massKg: number): StandingWheel {
    return standingWheel(this.setup.main, this.pressures.mainPa, this.mainMassKg(massKg));
  }

  thirdAt(massKg: number): StandingWheel {
    return standingWheel(this.setup.third, this.pressures.thirdPa, this.thirdMassKg(massKg));
  }
}

/** A tire at rest under a mass. */
export function standingWheel(tire: CompiledTire, gaugePa: number, massKg: number): StandingWheel {
  const loadN = massKg * STANDARD_GRAVITY_MPS2;
  return {
    tire,
    gaugePa,
    loadN,
    deflectionM: tireDeflectionM(loadN, gaugePa, tire),
    heightM: loadedHeightM(loadN, gaugePa, tire),
  };
}

/** Pressures of a set-up as its gauge leaves them, in a world. */
export function coldPressures(
  scenario: CompiledScenario,
  setup: CompiledSetup,
  world: Float64Array,
): WheelPressures {
  const biasPa = world[scenario.global.gaugeBias]!;
  return {
    mainPa: Math.max(0, setup.mainPa + biasPa),
    thirdPa: Math.max(0, setup.thirdPa + biasPa),
  };
}
