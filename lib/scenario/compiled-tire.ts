/** Index of an assumption in the values of a world. */
export type ValueIndex = number;

/** A tire on a wheel position, dimensions folded, class assumptions as indices. */
export interface CompiledTire {
  readonly name: string;
  readonly outsideDiameterM: number;
  readonly sectionWidthM: number;
  readonly meanSizeM: number;
  readonly stiffnessAreaM2: number;
  readonly sectionHeightM: number;
  readonly freeSectionHeightM: number;
  readonly treadWidthM: number;
  readonly beadRadiusM: number;
  readonly widestRadiusM: number;
  readonly ratedPa: number;
  readonly ratedLoadKg: number;
  /** Null where it is not known. */
  readonly ratedSpeedMps: number | null;
  /** Name of its kind of sidewall. */
  readonly sidewall: string;
  /** Cut down to a lower tread after molding. */
  readonly shaved: boolean;
  readonly inertiaKgM2: number;
  readonly newTreadM: number;
  readonly undertreadM: number;
  readonly carcassM: number;
  readonly sidewallThicknessM: number;
  readonly landRatio: number;
  readonly centreShare: number;
  readonly rubberAreaM2: number;
  readonly tubed: boolean;
  /** Price of one tire; null if the scenario states none. */
  readonly price: number | null;
  readonly evenWearDeflection: ValueIndex;
  readonly squirmShare: ValueIndex;
  readonly rollingFloor: ValueIndex;
  readonly sideExposure: ValueIndex;
  readonly sideBulge?: ValueIndex;
  readonly growth?: ValueIndex;
  readonly sideStiffness?: ValueIndex;
  readonly tailHitShare: ValueIndex;
  readonly wearFactor: ValueIndex;
  readonly biteFactor: ValueIndex;
}
