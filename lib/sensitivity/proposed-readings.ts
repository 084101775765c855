/** Readings that could be taken of an assumption, with the error that each would have. */
import { TODAY_DEFAULTS } from '../scenario/schema/today.js';
import { assumptionField } from '../scenario/assumption-fields.js';
import type { CompiledMix, CompiledScenario, CompiledStrip } from '../scenario/compile.js';
import type { PairingTrials } from '../simulate/columns.js';
import { indexOfName } from '../simulate/names.js';
import { medianWorld } from '../simulate/world.js';
import { parseQuantity } from '../units.js';
import { sortedDraws } from './fitted.js';
import { treadReadingErrorShare } from './value-of-readings.js';

/** A kind of reading, and how many of them. */
export interface PossibleReadings {
  /** "note each rock edge struck by a main tire in 100 landings on sharp rock". */
  readonly text: string;
  readonly readings: number;
  /** Standard deviation of one reading, as a share of the value. */
  readonly errorShare: number;
}

/** Landings in which strikes are noted, or between two readings of a tread. */
const LANDINGS = 100;
/** Tires whose tread is read twice. */
const TREADS = 4;
/** So many stones tell their number within a fifth. */
const STONES_WANTED = 25;
/** More ground than a strip has is not walked, m2. */
const MOST_AREA_M2 = 10_000;
const LEAST_AREA_M2 = 10;
const MAIN_WHEELS = 2;
/** Width of ground that is walked up and down, m. */
const STRIP_WIDTH_M = 20;
const TRACK_TOLD_M = 100_000;

/**
 * Readings of an assumption that could be taken on the ground or on the tires.
 *
 * Stones are counted on an area, strikes of rock edges over landings: Poisson counts, with an error of one over the
 * root of the count expected in the middle of what is assumed. Wear factors are read off pairs of tread readings, with
 * all landings between on the surface in question; what else wears is taken as known, so that their worth is an upper
 * bound.
 *
 * @param scenario compiled scenario.
 * @param path place of the assumption.
 * @param trials of a set-up on a mix: where landings are flown and treads would be read.
 * @returns none where no kind of reading is known, or the assumption is not lognormal.
 * Source: Poisson counts and variance of differences of readings, own algebra.
 */
export function possibleReadings(
  scenario: CompiledScenario,
  path: string,
  trials: PairingTrials,
): PossibleReadings[] {
  const index = scenario.assumptions.findIndex((each) => each.path === path);
  const steps = assumptionField(path)?.steps;
  if (index < 0 || steps === undefined || scenario.assumptions[index]!.kind !== 'lognormal') return [];
  const draws = sortedDraws(scenario, index);
  const middle = draws === null ? scenario.assumptions[index]!.a : draws[Math.floor(draws.length / 2)]!;
  const [section, entry = ''] = steps;
  const key = steps.at(-1)!;
  if (section === 'surfaces' && (key === 'sharpStones' || key === 'looseStones')) {
    return countedStones(key === 'sharpStones' ? 'sharp stones' : 'loose stones', entry, middle);
  }
  if (section === 'surfaces' && key === 'rockEdges') return countedEdges(scenario, entry, middle, trials.mix);
  if (key === 'wearFactor' || key === 'abradability') return readTreads(scenario, trials, section!, entry);
  return [];
}

function countedStones(what: string, surface: string, perM2: number): PossibleReadings[] {
  if (!(perM2 > 0)) return [];
  const areaM2 = twoFigures(Math.min(MOST_AREA_M2, Math.max(LEAST_AREA_M2, STONES_WANTED / perM2)));
  return [
    {
      text: `count the ${what} on ${areaM2.toLocaleString('en-US')} m2 of ${surface}${asStrip(areaM2)}`,
      readings: 1,
      errorShare: 1 / Math.sqrt(perM2 * areaM2),
    },
  ];
}

/** An area as ground that can be paced out; nothing for one that a rope encloses. */
function asStrip(areaM2: number): string {
  const lengthM = Math.round(areaM2 / STRIP_WIDTH_M);
  return lengthM < STRIP_WIDTH_M ? '' : ` (a strip ${STRIP_WIDTH_M} m wide: ${lengthM} m)`;
}

function countedEdges(
  scenario: CompiledScenario,
  surface: string,
  perM: number,
  mix: string,
): PossibleReadings[] {
  const on = scenario.surfaces.findIndex(({ name }) => name === surface);
  const { strips, cumulativeShares } = mixNamed(scenario, mix);
  let [met, share] = [0, 0];
  strips.forEach((strip, k) => {
    const own = cumulativeShares[k]! - (cumulativeShares[k - 1] ?? 0);
    const trackM = trackOn(scenario.strips[strip]!, on);
    if (trackM === 0) return;
    met += own * MAIN_WHEELS * trackM * perM;
    share += own;
  });
  if (!(met > 0)) return [];
  return [
    {
      text: `note each rock edge struck by a main tire in ${LANDINGS} landings on ${surface} (some ${twoFigures(perM * TRACK_TOLD_M)} for each 100 km of wheel track assumed)`,
      readings: LANDINGS,
      errorShare: 1 / Math.sqrt(met / share),
    },
  ];
}

/** Length of the track of a wheel on a surface in a landing, m. */
function trackOn({ rollout, taxi, rolloutM, taxiM }: CompiledStrip, surface: number): number {
  return (rollout === surface ? rolloutM : 0) + (taxi === surface ? taxiM : 0);
}

function readTreads(
  scenario: CompiledScenario,
  trials: PairingTrials,
  section: string,
  entry: string,
): PossibleReadings[] {
  const worn = wornPerLandingM(scenario, trials, section === 'surfaces' ? entry : null);
  const gauge = parseQuantity(TODAY_DEFAULTS.readingError, 'length');
  if (!(worn > 0) || !gauge.ok) return [];
  const errorShare = treadReadingErrorShare({
    gaugeErrorM: gauge.si,
    wornPerLandingM: worn,
    landings: LANDINGS,
    landingWearSpread: medianWorld(scenario)[scenario.global.landingWearSpread]!,
  });
  const where = section === 'surfaces' ? ` on ${entry}` : '';
  return [
    {
      text: `read the tread of ${TREADS} tires before and after ${LANDINGS} landings${where}`,
      readings: TREADS,
      errorShare,
    },
  ];
}

/** Mean depth worn off the main tires in a landing, m: in any, or in one whose wear is on a surface. */
function wornPerLandingM(
  scenario: CompiledScenario,
  { columns, rows, surfaceWornM3, mix }: PairingTrials,
  surface: string | null,
): number {
  let [depth, landings] = [0, 0];
  for (let row = 0; row < rows; row++) {
    depth += columns.centreLostM[row]!;
    landings += columns.lifeLandings[row]!;
  }
  if (landings === 0) return 0;
  if (surface === null) return depth / landings;
  const on = scenario.surfaces.findIndex(({ name }) => name === surface);
  const sum = (worn: ArrayLike<number>): number => Array.from(worn).reduce((all, each) => all + each, 0);
  const all = surfaceWornM3.reduce((whole, worn) => whole + sum(worn), 0);
  const { strips, cumulativeShares } = mixNamed(scenario, mix);
  const share = strips.reduce((whole, strip, k) => {
    const { rollout, touchdown } = scenario.strips[strip]!;
    const own = cumulativeShares[k]! - (cumulativeShares[k - 1] ?? 0);
    return whole + (rollout === on || touchdown === on ? own : 0);
  }, 0);
  if (on < 0 || !(all > 0) || !(share > 0)) return 0;
  return ((depth / landings) * (sum(surfaceWornM3[on]!) / all)) / share;
}

function mixNamed({ mixes }: CompiledScenario, name: string): CompiledMix {
  return mixes[indexOfName('runway mix', name, mixes)]!;
}

function twoFigures(value: number): number {
  return Number(value.toPrecision(2));
}
