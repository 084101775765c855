import { powerOfTwo } from '../numeric/elementary.js';
import { brakingWorkJ } from '../models/slip-work.js';
import { normalFromUniform, standardNormalQuantile } from '../numeric/normal.js';
import { normalCdf } from '../numeric/special.js';
import { nextUniform, openStream, streamKey } from '../random/stream.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { Ground } from '../simulate/ground.js';
import { LandingDraws, UNIFORMS_PER_LANDING } from '../simulate/landing-draws.js';
import { BLOCK_LANDINGS, DRAW, GROUND } from '../simulate/layout.js';

const PAIRS = BLOCK_LANDINGS / 2;
const TWO_TO_32 = powerOfTwo(32);
/** Places in the row of a landing, as the landing draws read them. */
const MASS = 3;
const SPEED = 4;
const SIDE_SHIFT = 6;
const BRAKING = 7;
const TEMPERATURE = 8;
const SPARE = 9;
const NORMAL_PLACES = [MASS, SPEED, SIDE_SHIFT, BRAKING, TEMPERATURE, SPARE];
/** Orders tried; the one whose columns go least together is kept. */
const TRIES = 400;

/** A score as a uniform of the stream's grid. */
function uniformOf(score: number): number {
  return Math.round(normalCdf(score) * TWO_TO_32) / TWO_TO_32;
}

/** Scores in the middle of equal shares, stretched so that their mean square is that of the normal law. */
function evenScores(): Float64Array {
  const scores = Float64Array.from({ length: PAIRS }, (_, k) => standardNormalQuantile((k + 0.5) / PAIRS));
  const square = scores.reduce((sum, each) => sum + each * each, 0) / PAIRS;
  return scores.map((each) => each / Math.sqrt(square));
}

/** How much columns of scores and their squares go together: 0 for a perfect design. */
function entanglement(columns: readonly Float64Array[]): number {
  const all = columns.flatMap((column) => [column, column.map((each) => each * each - 1)]);
  let sum = 0;
  for (let a = 0; a < all.length; a++) {
    for (let b = 0; b < a; b++) {
      // A column and its own square belong together.
      if (a >> 1 === b >> 1) continue;
      let product = 0;
      for (let k = 0; k < PAIRS; k++) product += all[a]![k]! * all[b]![k]!;
      sum += (product / PAIRS) * (product / PAIRS);
    }
  }
  return sum;
}

/**
 * Landings that stand for all: a Latin hypercube whose columns hardly go together, each landing with a mate in which the
 * load shifts to the other side. Means over them are those over many random landings, without their noise.
 */
export class TypicalLandings {
  readonly draws: LandingDraws;
  /** Ground on which every J of slip wears 1 m3, and every roll is 1 m long where it has its typical length. */
  readonly unitGround: Ground;
  /** Scores of temperature at the landing and at the last pressure check, and days since then over the interval. */
  readonly temperatureScore: Float64Array = new Float64Array(BLOCK_LANDINGS);
  readonly checkTemperatureScore: Float64Array = new Float64Array(BLOCK_LANDINGS);
  readonly sinceCheck: Float64Array = new Float64Array(BLOCK_LANDINGS);
  private readonly uniforms = new Float64Array(BLOCK_LANDINGS * UNIFORMS_PER_LANDING).fill(0.5);

  constructor(scenario: CompiledScenario) {
    this.draws = new LandingDraws(scenario);
    this.unitGround = new Ground(scenario, scenario.mixes[0]!);
    const columns = (design ??= makeDesign());
    NORMAL_PLACES.forEach((place, column) => {
      for (let k = 0; k < PAIRS; k++) {
        const score = columns[column]![k]!;
        this.uniforms[k * UNIFORMS_PER_LANDING + place] = uniformOf(score);
        const mate = uniformOf(place === SIDE_SHIFT ? -score : score);
        this.uniforms[(k + PAIRS) * UNIFORMS_PER_LANDING + place] = mate;
      }
    });
    const spread = columns[NORMAL_PLACES.length]!;
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      this.temperatureScore[j] = normalFromUniform(this.uniforms[j * UNIFORMS_PER_LANDING + TEMPERATURE]!);
      this.checkTemperatureScore[j] = normalFromUniform(this.uniforms[j * UNIFORMS_PER_LANDING + SPARE]!);
      this.sinceCheck[j] = normalCdf(spread[j % PAIRS]!);
    }
  }

  /** Draws the landings in a world. */
  lay(world: Float64Array): void {
    this.draws.drawFrom(this.uniforms, world);
    const g = this.unitGround.data;
    const d = this.draws.data;
    for (let j = 0; j < BLOCK_LANDINGS; j++) {
      const share = d[DRAW.brakedShare + j]!;
      g[GROUND.touchdownWear + j] = 1;
      g[GROUND.rolloutWearM + j] = d[DRAW.rollRatio + j]!;
      g[GROUND.taxiWearM + j] = 1;
      g[GROUND.brakingWornM3 + j] = brakingWorkJ(d[DRAW.massKg + j]!, d[DRAW.speedMps + j]!, share, 1, 2);
    }
  }
}

/** The design, worked out once: it depends on nothing. */
let design: readonly Float64Array[] | null = null;

function makeDesign(): readonly Float64Array[] {
  const stream = openStream(streamKey('typical landings', 'order', 0));
  const scores = evenScores();
  const shuffled = (): Float64Array => {
    const column = Float64Array.from(scores);
    for (let k = PAIRS - 1; k > 0; k--) {
      const other = Math.floor(nextUniform(stream) * (k + 1));
      [column[k], column[other]] = [column[other]!, column[k]!];
    }
    return column;
  };
  let best: Float64Array[] = [];
  let least = Infinity;
  for (let attempt = 0; attempt < TRIES; attempt++) {
    const columns = Array.from({ length: NORMAL_PLACES.length + 1 }, shuffled);
    const found = entanglement(columns);
    if (found >= least) continue;
    best = columns;
    least = found;
  }
  return best;
}

/** The mate of a landing, in which the load shifts the other way. */
export function mateOf(landing: number): number {
  return (landing + PAIRS) % BLOCK_LANDINGS;
}
