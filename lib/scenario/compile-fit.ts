/** What is known of how the airplane stands and how its fairings fit: for set-up limits, not for the simulation. */
import type { CompiledTire } from './compiled-tire.js';
import type { Scenario } from './schema/index.js';

type Geometry = NonNullable<Scenario['airplanes'][string]['geometry']>;
type FairingFit = NonNullable<Scenario['setups'][string]['fairingFit']>;

/** How the airplane stands, and on which tires it was measured; null where it was not. SI units. */
export interface CompiledGeometry {
  readonly measured: {
    readonly main: CompiledTire;
    readonly mainPa: number;
    readonly third: CompiledTire;
    readonly thirdPa: number;
    readonly massKg: number;
  };
  readonly wheelbaseM: number | null;
  readonly propellerAheadM: number | null;
  readonly propellerClearanceM: number | null;
  readonly strutTravelM: number | null;
  readonly tailBehindM: number | null;
  readonly tailClearanceM: number | null;
  readonly tailAngleNeededRad: number | null;
  readonly attitudeRad: number | null;
  readonly attitudeLeastRad: number | null;
  readonly attitudeMostRad: number | null;
  /** Where the measures come from. */
  readonly source: string;
}

/** Fit of the fairings; null where it was not measured. SI units. */
export interface CompiledFairingFit {
  readonly gapM: number;
  readonly measuredPa: number;
  readonly measuredMassKg: number;
  readonly rearBehindM: number | null;
  readonly rearHeightM: number | null;
  readonly chockHeightM: number | null;
  /** Where the measures come from. */
  readonly source: string;
}

/** Compiles the geometry of an airplane. */
export function compileGeometry(
  geometry: Geometry,
  compileTire: (name: string) => CompiledTire,
): CompiledGeometry {
  return {
    measured: {
      main: compileTire(geometry.measuredMainTire),
      mainPa: geometry.measuredMainPressure,
      third: compileTire(geometry.measuredThirdTire),
      thirdPa: geometry.measuredThirdPressure,
      massKg: geometry.measuredMass,
    },
    wheelbaseM: geometry.wheelbase ?? null,
    propellerAheadM: geometry.propellerAhead ?? null,
    propellerClearanceM: geometry.propellerClearance ?? null,
    strutTravelM: geometry.strutTravel ?? null,
    tailBehindM: geometry.tailBehind ?? null,
    tailClearanceM: geometry.tailClearance ?? null,
    tailAngleNeededRad: geometry.tailAngleNeeded ?? null,
    attitudeRad: geometry.attitude ?? null,
    attitudeLeastRad: geometry.attitudeLeast ?? null,
    attitudeMostRad: geometry.attitudeMost ?? null,
    source: geometry.source,
  };
}

/** Compiles the fit of the fairings of a set-up. */
export function compileFairingFit(fit: FairingFit): CompiledFairingFit {
  return {
    gapM: fit.gap,
    measuredPa: fit.measuredPressure,
    measuredMassKg: fit.measuredMass,
    rearBehindM: fit.rearBehind ?? null,
    rearHeightM: fit.rearHeight ?? null,
    chockHeightM: fit.chockHeight ?? null,
    source: fit.source,
  };
}
