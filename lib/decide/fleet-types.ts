import type { Progress } from '../simulate/simulate.js';

/** Airplanes of one kind in a fleet: the same set-up on the same mix. */
export interface FleetEntry {
  /** Name of the set-up. */
  readonly setup: string;
  /** Name of the runway mix. */
  readonly mix: string;
  /** Number of airplanes, 1 or more; default 1. */
  readonly airplanes?: number | undefined;
  /** Where their spares are kept; default "base". Airplanes of one base share its stock. */
  readonly base?: string | undefined;
}

/** A fleet to live through a season in many worlds. */
export interface FleetRequest {
  /** The fleet, at least one entry and at most 200 airplanes. */
  readonly fleet: readonly FleetEntry[];
  /** Number of worlds, 2 to 100 000; default 1000. */
  readonly worlds?: number | undefined;
  /** Called as worlds finish. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/** What is kept in stock. */
export type SpareKind = 'tire' | 'tube' | 'patch kit';

/** Demand for one item at one base, one row per unit asked for, in order of world, airplane and day. */
export interface ItemDemand {
  readonly base: string;
  readonly kind: SpareKind;
  /** Name of the tire that it is, or that it is for; null for a patch kit. */
  readonly tire: string | null;
  /** Wheels it is fitted to, of any airplane of the base. */
  readonly fittedTo: readonly ('main' | 'third')[];
  readonly world: Int32Array;
  /** Number of the airplane in the fleet, from 0. */
  readonly airplane: Int32Array;
  /** Day of the season, from its start. */
  readonly day: Float64Array;
}

/** Demand of a fleet in one season, world by world. */
export interface FleetDemand {
  readonly worlds: number;
  readonly airplanes: number;
  /** Airplanes by base, in the order met. */
  readonly airplanesAt: Readonly<Record<string, number>>;
  /** Days over which the landings of the season are spread. */
  readonly seasonDays: number;
  readonly items: readonly ItemDemand[];
}
