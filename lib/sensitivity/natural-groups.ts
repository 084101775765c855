/** Assumptions that one kind of measurement would tell together. */
import { assumptionField } from '../scenario/assumption-fields.js';
import type { InputGroup } from './sobol-indices.js';

const STONES = ['sharpStones', 'biteDepth', 'rockEdges', 'edgeHeight', 'looseStones'];
const SOFTNESS = ['bearingRatio', 'coneIndex'];
const WEAR = 'wear of the tread';
const BITES = 'how stones bite';
const PINCHES = 'pinches and beads';
const PRESSURE = 'keeping pressure';
const HELP = 'what follows a flat';

/** Groups of numbers that stand for themselves in the scenario. */
const GENERAL: Readonly<Record<string, string>> = {
  abradability: WEAR,
  landingWearSpread: WEAR,
  brakingSlip: WEAR,
  slidingFriction: WEAR,
  turnScrub: WEAR,
  crosswindScrub: WEAR,
  bandGain: WEAR,
  innerShoulderShare: WEAR,
  rollingPressureTerm: WEAR,
  rolloutStoneFactor: BITES,
  touchdownLoadShare: PINCHES,
  impactEnergyShare: PINCHES,
  bumpLoad: PINCHES,
  beadFriction: PINCHES,
  ledgeTorque: PINCHES,
  valveTearChance: PINCHES,
  tubePermeation: PRESSURE,
  tubelessPermeation: PRESSURE,
  slowLeaks: PRESSURE,
  leakAtStart: PRESSURE,
  leakGrowth: PRESSURE,
  gaugeBias: PRESSURE,
  patchChance: HELP,
  downDaysAtBase: HELP,
  downDaysPatched: HELP,
  downDaysRescue: HELP,
  downDaysReplacement: HELP,
};

/** Groups by section; the rest of a section has a group of its own. */
const BY_SECTION: Readonly<Record<string, (key: string, entry: string) => string>> = {
  surfaces: (key, entry) => {
    if (STONES.includes(key)) return `stones on ${entry}`;
    return SOFTNESS.includes(key) ? `softness of ${entry}` : WEAR;
  },
  sidewalls: (key, entry) => {
    if (key === 'evenWearDeflection' || key === 'squirmShare') return WEAR;
    return key === 'sideExposure' ? BITES : `shape of a ${entry} sidewall`;
  },
  treads: () => BITES,
  compounds: (key) => (key === 'biteFactor' ? BITES : WEAR),
  habits: () => 'how it is flown',
  airplanes: () => 'the airplane',
  assumptions: (key) => GENERAL[key] ?? 'general numbers',
};

/**
 * Puts assumptions into groups that belong together by how they would be measured: stones on each surface (walk it and
 * count), wear of the tread (gauge it), keeping pressure (note every check), and so on.
 *
 * @param paths places of assumptions.
 * @returns groups in the order of their first member; those of a single member are left out.
 */
export function naturalGroups(paths: readonly string[]): InputGroup[] {
  const groups = new Map<string, string[]>();
  for (const path of paths) {
    const name = naturalGroupOf(path);
    groups.set(name, [...(groups.get(name) ?? []), path]);
  }
  return [...groups].flatMap(([name, inputs]) => (inputs.length > 1 ? [{ name, inputs }] : []));
}

/** Name of the group of an assumption. */
export function naturalGroupOf(path: string): string {
  const steps = assumptionField(path)?.steps ?? [];
  const group = BY_SECTION[steps[0] ?? ''];
  return group === undefined ? 'other numbers' : group(steps.at(-1)!, steps.length > 2 ? steps[1]! : '');
}

/** Work that tells the numbers of a group, by its name. */
const WORK: Readonly<Record<string, string>> = {
  [WEAR]: 'read the tread of several tires every few weeks; count landings on each surface',
  [BITES]: 'note every cut with its depth, the tread left and the surface',
  [PINCHES]: 'note every pinch, torn valve and bead that slipped, with the pressure of the day',
  [PRESSURE]: 'note every pressure reading, before air is added',
  [HELP]: 'note for every flat whether a patch held, and the days lost',
};

/**
 * Work that would tell an assumption or a group.
 *
 * @param group name of a natural group.
 * @returns in words; null where no work is known.
 */
export function workOnGroup(group: string): string | null {
  if (group.startsWith('stones on ')) {
    return `walk ${group.slice('stones on '.length)} and count stones, and note every cut and strike there`;
  }
  return WORK[group] ?? null;
}
