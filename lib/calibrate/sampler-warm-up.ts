import { normalFromUniform } from '../numeric/normal.js';
import { nextUniform, openStream, streamKey } from '../random/stream.js';
import { Chain } from './sampler-chain.js';
import { climb, laplaceFit, type LogDensity, type Summit } from './sampler-mode.js';
import { BentReference } from './sampler-reference.js';
import type { SharedWork } from './sampler-work.js';

const STEPS_PER_ROUND = 60;
/** How bold moves about the reference law are: 1 draws afresh from it. */
const BOLDEST = 0.98;
const FIRST_ROUNDS: readonly number[] = [0.5, 0.7];
/** Rounds after each of which the reference law is moved to where the chains have been. */
const LOOK_ROUNDS: readonly number[] = [0.7, BOLDEST, 0.7, BOLDEST];
/** Draws of the warm-up that are taken to be worth one independent draw. */
const DRAWS_PER_WORTH = 30;
const CANDIDATES: readonly number[] = [BOLDEST, 0.75, 0.5, 0.3, 0.15];
const WARM_UP_ROUNDS = FIRST_ROUNDS.length + LOOK_ROUNDS.length + CANDIDATES.length;
/** Where chains come so much higher than the mode, in logarithms, it was not the highest: it is looked for again, so often. */
const HIGHER = 1;
const MOST_CLIMBS = 4;
/** Other summits that are looked for, and how much lower they may be, in logarithms. */
const MOST_SUMMITS = 3;
const PRIOR_STARTS = 3;
const MOST_LOWER = 6;
/** A summit so many squared deviations out is another one. */
const ANOTHER = 4;
/** Share of the progress when mode, bend and warm-up end. */
const MODE_SHARE = 0.2;
const BEND_SHARE = 0.3;
const WARM_UP_SHARE = 0.55;

/** Chains that have found the posterior, the laws that they move about, and how boldly they best do. */
export interface WarmChains {
  readonly summit: Summit;
  readonly references: readonly BentReference[];
  readonly chains: readonly Chain[];
  readonly boldness: number;
}

/** Lets all chains move; returns the share of the boldest kind of moves that was accepted. */
async function round(
  { chains, references }: Pick<WarmChains, 'chains' | 'references'>,
  boldness: number,
  work: SharedWork,
  see?: (chain: Chain) => void,
): Promise<number> {
  let accepted = 0;
  let tried = 0;
  for (const chain of chains) {
    for (let n = 0; n < STEPS_PER_ROUND; n++) {
      const moved = chain.step(references, boldness, n);
      if (moved !== null) tried++;
      if (moved === true) accepted++;
      see?.(chain);
      await work.breath();
    }
  }
  return accepted / tried;
}

/** Places drawn from the prior: further summits may be far from the first. */
function fromPrior(dimension: number, seed: string): Float64Array[] {
  const stream = openStream(streamKey(seed, 'further summits', 0));
  return Array.from({ length: PRIOR_STARTS }, () =>
    Float64Array.from({ length: dimension }, () => normalFromUniform(nextUniform(stream))),
  );
}

async function bentLaw(summit: Summit, density: LogDensity, work: SharedWork): Promise<BentReference> {
  const reference = new BentReference(await laplaceFit(density, summit, work.breath));
  work.enter(BEND_SHARE);
  await reference.bend(density, work.breath);
  return reference;
}

/**
 * Looks for the mode of a density, fits a reference law and lets chains find their way, again from the highest place that
 * they have met while that is well above the mode. Where they have strayed to another summit, or one is found from places
 * of the prior, a law is fitted there too.
 *
 * @param density logarithm of a density, finite at `start`.
 * @param start where to look for the mode from.
 * @param count chains.
 * @param seed names the random streams.
 */
export async function warmUp(
  density: LogDensity,
  start: Float64Array,
  count: number,
  seed: string,
  work: SharedWork,
): Promise<WarmChains> {
  let from = start;
  for (let climbs = 1; ; climbs++) {
    work.enter(MODE_SHARE);
    const summit = await climb(density, from, work.breath);
    const reference = await bentLaw(summit, density, work);
    const references = [reference];
    const stream = (c: number): ReturnType<typeof openStream> =>
      openStream(streamKey(seed, `posterior chain of climb ${climbs}`, c));
    const chains = Array.from({ length: count }, (_, c) => new Chain(density, stream(c), reference));
    work.enter(WARM_UP_SHARE, count * STEPS_PER_ROUND * WARM_UP_ROUNDS);
    let highest = summit.value + HIGHER;
    let higher: Float64Array | null = null;
    const seen: Float64Array[] = [];
    const strangest = chains.map(({ z }) => ({ z, square: 0 }));
    const see = (chain: Chain): void => {
      seen.push(reference.unadapted(chain.z));
      if (chain.logDensity > highest) [highest, higher] = [chain.logDensity, chain.z];
      const place = { z: chain.z, square: reference.strangeness(seen.at(-1)!) };
      const at = chains.indexOf(chain);
      if (place.square > strangest[at]!.square) strangest[at] = place;
    };
    for (const boldness of FIRST_ROUNDS) await round({ chains, references }, boldness, work, see);
    seen.length = 0;
    for (const boldness of LOOK_ROUNDS) {
      await round({ chains, references }, boldness, work, see);
      reference.adapted.adapt(seen, seen.length / DRAWS_PER_WORTH);
      for (const chain of chains) chain.locate(reference);
    }
    for (const z of [...strangest.map((each) => each.z), ...fromPrior(start.length, seed)]) {
      if (higher !== null || references.length === MOST_SUMMITS) break;
      if (density(z) === -Infinity) continue;
      const known = (at: Float64Array): boolean =>
        references.some((each) => each.unadapted(at).reduce((sum, v) => sum + v * v, 0) < ANOTHER / 2);
      const other = await climb(density, z, work.breath, known);
      if (other.value > highest) [highest, higher] = [other.value, other.at];
      const another = references.every((each) => each.strangeness(each.unadapted(other.at)) > ANOTHER);
      if (another && other.value > summit.value - MOST_LOWER)
        references.push(await bentLaw(other, density, work));
    }
    if (higher !== null && climbs < MOST_CLIMBS) {
      from = higher;
      continue;
    }
    if (references.length > 1) {
      // Its chains have been at several summits: what they saw fits none.
      reference.adapted.reset();
      for (const chain of chains) chain.locate(reference);
      for (const boldness of LOOK_ROUNDS) await round({ chains, references }, boldness, work);
    }
    let boldness = BOLDEST;
    let furthest = -1;
    for (const candidate of CANDIDATES) {
      // Mean square of how far a move leads, in the coordinates of the reference law.
      const accepted = await round({ chains, references }, candidate, work);
      const reach = accepted * (1 - Math.sqrt(1 - candidate * candidate));
      if (reach > furthest) [furthest, boldness] = [reach, candidate];
    }
    for (const chain of chains) chain.accepted = chain.moves = 0;
    return { summit, references, chains, boldness };
  }
}
