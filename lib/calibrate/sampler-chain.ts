import { log } from '../numeric/elementary.js';
import { normalFromUniform } from '../numeric/normal.js';
import { nextUniform, type Stream } from '../random/stream.js';
import type { LogDensity } from './sampler-mode.js';
import type { BentReference } from './sampler-reference.js';

/** Chains start this many standard deviations about the mode. */
const START_SPREAD = 1.5;
/**
 * Moves by turns: bold ones mix; more timid ones, and fresh draws along one axis, lead out of places where bold ones are
 * refused; random walks along a few of the axes that the data tell need no reference law to be right; jumps lead from one
 * summit to the same place about another.
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

/** One chain: where it is, and its own stream. */
export class Chain {
  z: Float64Array;
  logDensity: number;
  accepted = 0;
  moves = 0;
  private readonly stream: Stream;
  private readonly density: LogDensity;
  /** The reference law moved about last, and the place in its coordinates. */
  private reference: BentReference;
  private u: Float64Array;
  private logVolume: number;

  constructor(density: LogDensity, stream: Stream, reference: BentReference) {
    this.density = density;
    this.stream = stream;
    this.reference = reference;
    this.u = reference.mean.map(() => START_SPREAD * this.normal());
    this.z = reference.place(this.u);
    this.logDensity = density(this.z);
    // A start where the likelihood is nothing would never move.
    for (let shrink = 0; shrink < 40 && this.logDensity === -Infinity; shrink++) {
      this.u = this.u.map((each) => 0.7 * each);
      this.z = reference.place(this.u);
      this.logDensity = density(this.z);
    }
    this.logVolume = reference.logVolume(this.u);
  }

  private normal(): number {
    return normalFromUniform(nextUniform(this.stream));
  }

  private pick(count: number): number {
    return Math.floor(nextUniform(this.stream) * count);
  }

  /** Finds the coordinates of the place about a reference law: another one, or one that has changed. */
  locate(reference: BentReference): Float64Array {
    this.reference = reference;
    this.u = reference.locate(this.z);
    this.logVolume = reference.logVolume(this.u);
    return this.u;
  }

  /**
   * Makes the n-th move about one of the reference laws.
   *
   * @returns whether a bold move was accepted, null for the other moves.
   */
  step(references: readonly BentReference[], boldness: number, n: number): boolean | null {
    const kind = MOVES[n % MOVES.length]!;
    const turn = Math.floor(n / MOVES.length);
    if (kind === 'walk' && references.length > 1 && turn % 2 === 0) {
      this.jump(references);
      return null;
    }
    const reference = references[turn % references.length]!;
    if (reference !== this.reference) this.locate(reference);
    if (kind === 'walk') this.walk();
    else if (kind === 'redraw') this.redraw();
    else {
      const accepted = this.autoregress(kind * boldness);
      return kind === BOLD ? accepted : null;
    }
    return null;
  }

  /**
   * A step of a preconditioned Crank-Nicolson walk about the reference law: reversible for that law, so that only what
   * the posterior differs from it counts for acceptance, whatever the dimension.
   */
  private autoregress(boldness: number): boolean {
    const { u } = this;
    const kept = Math.sqrt(1 - boldness * boldness);
    const { spreads } = this.reference;
    const proposal = new Float64Array(u.length);
    let correction = 0;
    for (let i = 0; i < u.length; i++) {
      const [from, spread] = [u[i]!, spreads[i]!];
      const moved = kept * from + boldness * spread * this.normal();
      proposal[i] = moved;
      correction += (0.5 * (moved * moved - from * from)) / (spread * spread);
    }
    return this.decide(proposal, correction);
  }

  /** A step of a random walk along a few of the axes that the data tell. */
  private walk(): void {
    const { walked } = this.reference;
    const directions = Math.min(walked.length, WALK_DIRECTIONS);
    const length = 2.4 / Math.sqrt(directions);
    const proposal = Float64Array.from(this.u);
    for (let k = 0; k < directions; k++)
      proposal[walked[this.pick(walked.length)]!]! += length * this.normal();
    this.decide(proposal, 0);
  }

  /** Draws the place along one of the axes that are not normal afresh from the reference law. */
  private redraw(): void {
    const { shaped, spreads } = this.reference;
    const i = shaped[this.pick(shaped.length)]!;
    const proposal = Float64Array.from(this.u);
    proposal[i] = spreads[i]! * this.normal();
    const [from, to, spread] = [this.u[i]!, proposal[i], spreads[i]!];
    this.decide(proposal, (0.5 * (to * to - from * from)) / (spread * spread));
  }

  /**
   * Jumps from the place about one reference law to the same place about another: its own way back, by chance as likely.
   *
   * @see Tjelmeland and Hegstad, "Mode jumping proposals in MCMC" (2001), from memory: here without climbing at each jump.
   */
  private jump(references: readonly BentReference[]): void {
    const from = this.pick(references.length);
    const to = (from + 1 + this.pick(references.length - 1)) % references.length;
    const u = this.locate(references[from]!);
    const before = this.logVolume + this.reference.logScale();
    this.reference = references[to]!;
    const after = this.reference.logVolume(u) + this.reference.logScale();
    // Not at the same place about the other law unless it is accepted: then the coordinates are right as they are.
    this.logVolume = this.reference.logVolume(u);
    if (!this.decide(u, after - before)) this.locate(this.reference);
  }

  /** Goes to a place about the reference law, or stays. */
  private decide(proposal: Float64Array, logCorrection: number): boolean {
    const z = this.reference.place(proposal);
    const logDensity = this.density(z);
    const logVolume = this.reference.logVolume(proposal);
    const uniform = nextUniform(this.stream);
    const gain = logDensity - this.logDensity + (logVolume - this.logVolume) + logCorrection;
    this.moves++;
    if (!(log(uniform > 0 ? uniform : 1e-10) < gain)) return false;
    this.accepted++;
    this.u = proposal;
    this.z = z;
    this.logDensity = logDensity;
    this.logVolume = logVolume;
    return true;
  }
}
