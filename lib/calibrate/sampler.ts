import { log } from '../numeric/elementary.js';
import { normalFromUniform } from '../numeric/normal.js';
import { nextUniform, openStream, streamKey, type Stream } from '../random/stream.js';
import { diagnoseChains, type ChainDiagnostics } from './sampler-diagnostics.js';
import { laplaceFit, type Breath, type LogDensity } from './sampler-mode.js';
import { BentReference } from './sampler-reference.js';
import { SharedWork, type WorkOptions } from './sampler-work.js';

/** How much to sample. */
export interface SamplerOptions extends WorkOptions {
  /** Names the random streams. */
  readonly seed: string;
  /** Chains, 2 to 16; default 4. */
  readonly chains?: number | undefined;
  /** Effective size that each coordinate should reach; default 400. */
  readonly effectiveSize?: number | undefined;
  /** Most draws per chain before giving up; default 50 000. */
  readonly mostDraws?: number | undefined;
}

/** Draws of a posterior in the scores of its prior. */
export interface SampledPosterior {
  /** One array per chain; a draw is a row of scores. */
  readonly chains: readonly (readonly Float64Array[])[];
  /** By coordinate. */
  readonly diagnostics: readonly ChainDiagnostics[];
  /** True where every coordinate has the effective size asked for and an R-hat of at most {@link MOST_R_HAT}. */
  readonly converged: boolean;
  /** Share of the moves accepted. */
  readonly acceptedShare: number;
  /** Scores of the highest point found, and the logarithm of likelihood times prior there. */
  readonly mode: Float64Array;
  readonly modeLogDensity: number;
}

/** Largest R-hat with which chains are taken to agree; the authors of the figure advise 1.01 for final results. */
export const MOST_R_HAT = 1.02;
/** Share of the progress at the end of each part of the work. */
const MODE_SHARE = 0.2;
const BEND_SHARE = 0.3;
const WARM_UP_SHARE = 0.55;
const DEFAULT_CHAINS = 4;
const DEFAULT_EFFECTIVE_SIZE = 400;
const DEFAULT_MOST_DRAWS = 50_000;
/** Draws per chain before the chains are judged. */
const FIRST_DRAWS = 500;
/** Chains start this many standard deviations about the mode. */
const START_SPREAD = 1.5;
const STEPS_PER_ROUND = 60;
/** How bold moves about the reference law are: 1 draws afresh from it. Rounds of the warm-up, then those that are compared. */
const BOLDEST = 0.98;
const FIRST_ROUNDS: readonly number[] = [0.5, 0.7];
const CANDIDATES: readonly number[] = [BOLDEST, 0.75, 0.5, 0.3, 0.15];
/** Rounds after each of which the reference law is moved to where the chains have been. */
const LOOK_ROUNDS: readonly number[] = [0.7, BOLDEST, 0.7, BOLDEST];
/** Draws of the warm-up that are taken to be worth one independent draw. */
const DRAWS_PER_WORTH = 30;
const WARM_UP_ROUNDS = FIRST_ROUNDS.length + LOOK_ROUNDS.length + CANDIDATES.length;
/**
 * Moves by turns: bold ones mix; more timid ones, and fresh draws along one axis, lead out of places where bold ones are
 * refused; random walks along a few of the axes that the data tell need no reference law to be right.
 */
const BOLD = 1;
const MOVES: readonly (number | 'walk' | 'redraw')[] = [
  'walk',
  BOLD,
  'redraw',
  0.5,
  BOLD,
  'redraw',
  0.25,
  BOLD,
  'redraw',
];
const WALK_DIRECTIONS = 2;
/** How far the draws may grow before the next look, and how much more than seems needed is drawn. */
const LEAST_GROWTH = 1.1;
const MOST_GROWTH = 2;
const RESERVE = 1.05;

/** One chain: where it is, and its own stream. */
class Chain {
  readonly stream: Stream;
  /** Position relative to the reference law. */
  readonly u: Float64Array;
  z: Float64Array;
  logDensity: number;
  private logVolume: number;
  accepted = 0;
  moves = 0;
  private readonly density: LogDensity;

  constructor(density: LogDensity, stream: Stream, reference: BentReference) {
    this.density = density;
    this.stream = stream;
    this.u = new Float64Array(reference.mean.length);
    for (let i = 0; i < this.u.length; i++) this.u[i] = START_SPREAD * this.normal();
    this.z = reference.place(this.u);
    this.logDensity = density(this.z);
    // A start where the likelihood is nothing would never move.
    for (let shrink = 0; shrink < 40 && this.logDensity === -Infinity; shrink++) {
      for (let i = 0; i < this.u.length; i++) this.u[i]! *= 0.7;
      this.z = reference.place(this.u);
      this.logDensity = density(this.z);
    }
    this.logVolume = reference.logVolume(this.u);
  }

  private normal(): number {
    return normalFromUniform(nextUniform(this.stream));
  }

  /** Finds its coordinates again after the reference law has changed. */
  rebase(reference: BentReference): void {
    this.u.set(reference.locate(this.z));
    this.logVolume = reference.logVolume(this.u);
  }

  /**
   * A step of a preconditioned Crank-Nicolson walk about the reference law: reversible for that law, so that only what
   * the posterior differs from it counts for acceptance, whatever the dimension.
   */
  autoregress(reference: BentReference, boldness: number): boolean {
    const { u } = this;
    const kept = Math.sqrt(1 - boldness * boldness);
    const { spreads } = reference;
    const proposal = new Float64Array(u.length);
    let correction = 0;
    for (let i = 0; i < u.length; i++) {
      const [from, spread] = [u[i]!, spreads[i]!];
      const moved = kept * from + boldness * spread * this.normal();
      proposal[i] = moved;
      correction += (0.5 * (moved * moved - from * from)) / (spread * spread);
    }
    return this.decide(reference, proposal, correction);
  }

  /** A step of a random walk along a few of the axes that the data tell. */
  walk(reference: BentReference): boolean {
    const { walked } = reference;
    const directions = Math.min(walked.length, WALK_DIRECTIONS);
    const length = 2.4 / Math.sqrt(directions);
    const proposal = Float64Array.from(this.u);
    for (let k = 0; k < directions; k++) {
      const i = walked[Math.floor(nextUniform(this.stream) * walked.length)]!;
      proposal[i]! += length * this.normal();
    }
    return this.decide(reference, proposal, 0);
  }

  /** Draws the place along one of the axes that the data tell afresh from the reference law. */
  redraw(reference: BentReference): boolean {
    const { shaped, spreads } = reference;
    const i = shaped[Math.floor(nextUniform(this.stream) * shaped.length)]!;
    const proposal = Float64Array.from(this.u);
    proposal[i] = spreads[i]! * this.normal();
    const [from, to, spread] = [this.u[i]!, proposal[i], spreads[i]!];
    return this.decide(reference, proposal, (0.5 * (to * to - from * from)) / (spread * spread));
  }

  private decide(reference: BentReference, proposal: Float64Array, logCorrection: number): boolean {
    const z = reference.place(proposal);
    const logDensity = this.density(z);
    const logVolume = reference.logVolume(proposal);
    const uniform = nextUniform(this.stream);
    const accepted =
      log(uniform > 0 ? uniform : 1e-10) <
      logDensity - this.logDensity + (logVolume - this.logVolume) + logCorrection;
    this.moves++;
    if (!accepted) return false;
    this.accepted++;
    this.u.set(proposal);
    this.z = z;
    this.logDensity = logDensity;
    this.logVolume = logVolume;
    return true;
  }
}

/** Moves a chain; returns whether a bold move was accepted, null for the other moves. */
function step(chain: Chain, reference: BentReference, boldness: number, n: number): boolean | null {
  const kind = MOVES[n % MOVES.length]!;
  if (kind === 'walk' || kind === 'redraw') {
    chain[kind](reference);
    return null;
  }
  const accepted = chain.autoregress(reference, kind * boldness);
  return kind === BOLD ? accepted : null;
}

/**
 * Draws from a posterior whose prior is standard normal in every coordinate.
 *
 * The mode and Laplace's approximation give a reference law, bent where the data tell that it must be; chains move by
 * preconditioned Crank-Nicolson steps about it (exact where the posterior is normal, as it is in all directions that the
 * data leave alone), mixed with random walks. Reference and boldness are set in a warm-up and then held, so that the
 * chains have the posterior as their law.
 *
 * @param dimension number of coordinates, 1 or more.
 * @param logLikelihood of the scores; -Infinity where the data are impossible, never NaN. It may tell figures: without
 *   them more evaluations are needed, and curved ridges are harder to follow.
 * @param options seed and size.
 * @returns the draws, converged or not.
 * @throws CancelledError when the signal fires.
 * @see Cotter, Roberts, Stuart and White, "MCMC methods for functions", Statistical Science 28 (2013); Rudolf and Sprungk,
 *   "On a generalization of the preconditioned Crank-Nicolson Metropolis algorithm" (2018); both from memory.
 */
export async function samplePosterior(
  dimension: number,
  logLikelihood: LogDensity,
  options: SamplerOptions,
): Promise<SampledPosterior> {
  const density: LogDensity = (z, figures) => {
    let squares = 0;
    for (const each of z) squares += each * each;
    return logLikelihood(z, figures) - 0.5 * squares;
  };
  const work = new SharedWork(options);
  work.enter(MODE_SHARE);
  const laplace = await laplaceFit(density, [new Float64Array(dimension)], work.breath);
  const reference = new BentReference(laplace);
  work.enter(BEND_SHARE);
  await reference.bend(density, work.breath);
  const count = options.chains ?? DEFAULT_CHAINS;
  const chains = Array.from(
    { length: count },
    (_, c) => new Chain(density, openStream(streamKey(options.seed, 'posterior chain', c)), reference),
  );
  work.enter(WARM_UP_SHARE, count * STEPS_PER_ROUND * WARM_UP_ROUNDS);
  const boldness = await warmUp(chains, reference, work.breath);

  const wanted = options.effectiveSize ?? DEFAULT_EFFECTIVE_SIZE;
  const mostDraws = options.mostDraws ?? DEFAULT_MOST_DRAWS;
  const draws: Float64Array[][] = chains.map(() => []);
  let mode = laplace.mean;
  let modeLogDensity = laplace.logDensity;
  for (let target = Math.min(FIRST_DRAWS, mostDraws); ;) {
    work.enter(1, count * (target - draws[0]!.length));
    for (const [c, chain] of chains.entries()) {
      const kept = draws[c]!;
      while (kept.length < target) {
        step(chain, reference, boldness, kept.length);
        kept.push(chain.z);
        if (chain.logDensity > modeLogDensity) [mode, modeLogDensity] = [chain.z, chain.logDensity];
        await work.breath();
      }
    }
    const diagnostics: ChainDiagnostics[] = [];
    for (let i = 0; i < dimension; i++) {
      diagnostics.push(diagnoseChains(draws.map((rows) => Float64Array.from(rows, (row) => row[i]!))));
      await work.breath();
    }
    const smallest = Math.min(...diagnostics.map(({ effectiveSize }) => effectiveSize));
    const agree = diagnostics.every(({ rHat }) => rHat <= MOST_R_HAT);
    const converged = agree && smallest >= wanted;
    if (!converged && target < mostDraws) {
      const growth = Math.min(MOST_GROWTH, Math.max(LEAST_GROWTH, (RESERVE * wanted) / smallest));
      target = Math.min(Math.ceil(target * (agree ? growth : Math.max(growth, 1.3))), mostDraws);
      continue;
    }
    const moves = chains.reduce((sum, chain) => sum + chain.moves, 0);
    const acceptedShare = chains.reduce((sum, chain) => sum + chain.accepted, 0) / moves;
    return { chains: draws, diagnostics, converged, acceptedShare, mode, modeLogDensity };
  }
}

/** Lets chains find the posterior and the reference law fit them; returns how bold moves pay best. */
async function warmUp(chains: readonly Chain[], reference: BentReference, breath: Breath): Promise<number> {
  const seen: Float64Array[] = [];
  /** Lets all chains move with some boldness; returns the share of such moves that was accepted. */
  const round = async (boldness: number): Promise<number> => {
    let accepted = 0;
    let tried = 0;
    for (const chain of chains) {
      for (let n = 0; n < STEPS_PER_ROUND; n++) {
        const moved = step(chain, reference, boldness, n);
        if (moved !== null) tried++;
        if (moved === true) accepted++;
        seen.push(reference.unmoved(chain.u));
        await breath();
      }
    }
    return accepted / tried;
  };
  for (const boldness of FIRST_ROUNDS) await round(boldness);
  seen.length = 0;
  for (const boldness of LOOK_ROUNDS) {
    await round(boldness);
    reference.adapt(seen, seen.length / DRAWS_PER_WORTH);
    for (const chain of chains) chain.rebase(reference);
  }
  let boldness = BOLDEST;
  let furthest = -1;
  for (const candidate of CANDIDATES) {
    // Mean square of how far a move leads, in the coordinates of the reference law.
    const reach = (await round(candidate)) * (1 - Math.sqrt(1 - candidate * candidate));
    if (reach > furthest) [furthest, boldness] = [reach, candidate];
  }
  for (const chain of chains) {
    chain.accepted = 0;
    chain.moves = 0;
  }
  return boldness;
}
