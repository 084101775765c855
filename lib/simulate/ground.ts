import { brakingWorkJ } from '../models/slip-work.js';
import { SCALE_OVER_MEDIAN } from '../models/stones.js';
import type { CompiledMix, CompiledScenario, CompiledStrip } from '../scenario/compile.js';
import type { LandingDraws } from './landing-draws.js';
import { BLOCK_LANDINGS, DRAW, GROUND, makeColumns } from './layout.js';

const BRAKED_WHEELS = 2;
const CAPACITY = BLOCK_LANDINGS;

// Columns as constants of this module: the compiler folds these, but not what is imported.
const DRAWN_STRIP_UNIFORM = DRAW.stripUniform;
const DRAWN_WET_UNIFORM = DRAW.wetUniform;
const DRAWN_MASS_KG = DRAW.massKg;
const DRAWN_SPEED_MPS = DRAW.speedMps;
const DRAWN_ROLL_RATIO = DRAW.rollRatio;
const DRAWN_BRAKED_SHARE = DRAW.brakedShare;
const DRAWN_PEAK_BRAKING = DRAW.peakBraking;
const DRAWN_WEAR_SCATTER = DRAW.wearScatter;
const GROUND_AMBIENT_PA = GROUND.ambientPa;
const GROUND_TOUCHDOWN_WEAR = GROUND.touchdownWear;
const GROUND_TAXI_WEAR = GROUND.taxiWear;
const GROUND_ROLLOUT_WEAR_M = GROUND.rolloutWearM;
const GROUND_TAXI_WEAR_M = GROUND.taxiWearM;
const GROUND_BRAKING_WORN_M3 = GROUND.brakingWornM3;
const GROUND_ROLLOUT_STONES = GROUND.rolloutStones;
const GROUND_TAXI_STONES = GROUND.taxiStones;
const GROUND_ROLLOUT_BITE_SCALE_M = GROUND.rolloutBiteScaleM;
const GROUND_TAXI_BITE_SCALE_M = GROUND.taxiBiteScaleM;
const GROUND_PATCH_EDGES = GROUND.patchEdges;
const GROUND_ROLLOUT_EDGES = GROUND.rolloutEdges;
const GROUND_TAXI_EDGES = GROUND.taxiEdges;
const GROUND_TOUCHDOWN_EDGE_SCALE_M = GROUND.touchdownEdgeScaleM;
const GROUND_ROLLOUT_EDGE_SCALE_M = GROUND.rolloutEdgeScaleM;
const GROUND_TAXI_EDGE_SCALE_M = GROUND.taxiEdgeScaleM;
const GROUND_PEAK_BRAKING = GROUND.peakBraking;
const GROUND_LOOSE_STONES = GROUND.looseStones;

/** A strip in one world: what any tire of the standard compound meets there. */
class StripGround {
  ambientPa = 0;
  /** Wear per slip work, m3/J: touchdown, rollout, taxi, dry and wet. */
  readonly dryWear: Float64Array = new Float64Array(3);
  readonly wetWear: Float64Array = new Float64Array(3);
  rolloutM = 0;
  taxiM = 0;
  /** Sharp stones per metre of footprint width; taxi apart only where its surface differs. */
  rolloutStones = 0;
  taxiStones = 0;
  rolloutBiteScaleM = 0;
  taxiBiteScaleM = 0;
  patchEdges = 0;
  rolloutEdges = 0;
  taxiEdges = 0;
  touchdownEdgeScaleM = 0;
  rolloutEdgeScaleM = 0;
  taxiEdgeScaleM = 0;
  looseStones = 0;
  dryGrip = 0;
  wetGrip = 0;
  wetShare = 0;
  sameSurface = true;
  paved = false;
  help = false;
}

/**
 * The ground under the landings of a block, for one runway mix in one world: everything that depends on the place and
 * not on the tire, worked out once and shared by all set-ups and wheels.
 */
export class Ground {
  readonly mix: CompiledMix;
  readonly strip: Int32Array = new Int32Array(BLOCK_LANDINGS);
  readonly wet: Uint8Array = new Uint8Array(BLOCK_LANDINGS);
  readonly help: Uint8Array = new Uint8Array(BLOCK_LANDINGS);
  /** 1 on wet pavement. */
  readonly wetPaved: Uint8Array = new Uint8Array(BLOCK_LANDINGS);
  /** Columns by {@link GROUND}. */
  readonly data: Float64Array = makeColumns(GROUND);

  private readonly strips: readonly StripGround[];
  private readonly scenario: CompiledScenario;

  constructor(scenario: CompiledScenario, mix: CompiledMix) {
    this.scenario = scenario;
    this.mix = mix;
    this.strips = scenario.strips.map(() => new StripGround());
  }

  /** Starts a world. */
  open(world: Float64Array): void {
    this.scenario.strips.forEach((strip, index) => {
      fillStrip(this.scenario, world, strip, this.strips[index]!);
    });
  }

  /** Lays the ground under a block of landings. */
  lay(draws: LandingDraws): void {
    const d = draws.data;
    const { cumulativeShares, strips } = this.mix;
    for (let j = 0; j < CAPACITY; j++) {
      const uniform = d[DRAWN_STRIP_UNIFORM + j]!;
      let k = 0;
      while (uniform >= cumulativeShares[k]!) k++;
      this.strip[j] = strips[k]!;
    }
    this.layWear(draws);
    this.layStones(draws);
  }

  private layWear(draws: LandingDraws): void {
    const d = draws.data;
    const g = this.data;
    for (let j = 0; j < CAPACITY; j++) {
      const strip = this.strips[this.strip[j]!]!;
      const wet = d[DRAWN_WET_UNIFORM + j]! < strip.wetShare;
      const wear = wet ? strip.wetWear : strip.dryWear;
      const scatter = d[DRAWN_WEAR_SCATTER + j]!;
      const rolloutWear = scatter * wear[1]!;
      const taxiWear = scatter * wear[2]!;
      this.wet[j] = wet ? 1 : 0;
      this.wetPaved[j] = wet && strip.paved ? 1 : 0;
      this.help[j] = strip.help ? 1 : 0;
      g[GROUND_AMBIENT_PA + j] = strip.ambientPa;
      g[GROUND_TOUCHDOWN_WEAR + j] = scatter * wear[0]!;
      g[GROUND_TAXI_WEAR + j] = taxiWear;
      g[GROUND_ROLLOUT_WEAR_M + j] = rolloutWear * strip.rolloutM * d[DRAWN_ROLL_RATIO + j]!;
      g[GROUND_TAXI_WEAR_M + j] = taxiWear * strip.taxiM;
      g[GROUND_BRAKING_WORN_M3 + j] =
        rolloutWear *
        brakingWorkJ(
          d[DRAWN_MASS_KG + j]!,
          d[DRAWN_SPEED_MPS + j]!,
          d[DRAWN_BRAKED_SHARE + j]!,
          1,
          BRAKED_WHEELS,
        );
      const grip = wet ? strip.wetGrip : strip.dryGrip;
      const peak = d[DRAWN_PEAK_BRAKING + j]!;
      g[GROUND_PEAK_BRAKING + j] = peak < grip ? peak : grip;
    }
  }

  private layStones(draws: LandingDraws): void {
    const d = draws.data;
    const g = this.data;
    for (let j = 0; j < CAPACITY; j++) {
      const strip = this.strips[this.strip[j]!]!;
      const roll = d[DRAWN_ROLL_RATIO + j]!;
      const rolloutStones = strip.rolloutStones * roll;
      g[GROUND_ROLLOUT_STONES + j] = strip.sameSurface ? rolloutStones + strip.taxiStones : rolloutStones;
      g[GROUND_TAXI_STONES + j] = strip.sameSurface ? 0 : strip.taxiStones;
      g[GROUND_ROLLOUT_BITE_SCALE_M + j] = strip.rolloutBiteScaleM;
      g[GROUND_TAXI_BITE_SCALE_M + j] = strip.taxiBiteScaleM;
      g[GROUND_PATCH_EDGES + j] = strip.patchEdges;
      const rolloutEdges = strip.rolloutEdges * roll;
      g[GROUND_ROLLOUT_EDGES + j] = strip.sameSurface ? rolloutEdges + strip.taxiEdges : rolloutEdges;
      g[GROUND_TAXI_EDGES + j] = strip.sameSurface ? 0 : strip.taxiEdges;
      g[GROUND_TOUCHDOWN_EDGE_SCALE_M + j] = strip.touchdownEdgeScaleM;
      g[GROUND_ROLLOUT_EDGE_SCALE_M + j] = strip.rolloutEdgeScaleM;
      g[GROUND_TAXI_EDGE_SCALE_M + j] = strip.taxiEdgeScaleM;
      g[GROUND_LOOSE_STONES + j] = strip.looseStones * roll;
    }
  }
}

function fillStrip(
  scenario: CompiledScenario,
  world: Float64Array,
  strip: CompiledStrip,
  target: StripGround,
): void {
  const value = (index: number): number => world[index]!;
  const { global } = scenario;
  const places = [strip.touchdown, strip.rollout, strip.taxi].map((surface) => scenario.surfaces[surface]!);
  const [touchdown, rollout, taxi] = places as [(typeof places)[0], (typeof places)[0], (typeof places)[0]];
  const abradability = value(global.abradability);
  places.forEach((surface, k) => {
    target.dryWear[k] = abradability * value(surface.wearFactor);
    target.wetWear[k] = target.dryWear[k] * value(surface.wetFactor);
  });
  target.ambientPa = strip.ambientPa;
  target.rolloutM = strip.rolloutM;
  target.taxiM = strip.taxiM;
  target.rolloutStones = value(rollout.sharpStones) * strip.rolloutM * value(global.rolloutStoneFactor);
  target.taxiStones = value(taxi.sharpStones) * strip.taxiM;
  target.sameSurface = strip.rollout === strip.taxi;
  target.rolloutBiteScaleM = SCALE_OVER_MEDIAN * value(rollout.biteDepth);
  target.taxiBiteScaleM = SCALE_OVER_MEDIAN * value(taxi.biteDepth);
  target.patchEdges = value(touchdown.rockEdges) * global.touchdownPatchM;
  target.rolloutEdges = value(rollout.rockEdges) * strip.rolloutM;
  target.taxiEdges = value(taxi.rockEdges) * strip.taxiM;
  target.touchdownEdgeScaleM = SCALE_OVER_MEDIAN * value(touchdown.edgeHeight);
  target.rolloutEdgeScaleM = SCALE_OVER_MEDIAN * value(rollout.edgeHeight);
  target.taxiEdgeScaleM = SCALE_OVER_MEDIAN * value(taxi.edgeHeight);
  target.looseStones = value(rollout.looseStones) * strip.rolloutM;
  target.dryGrip = value(rollout.dryGrip);
  target.wetGrip = value(rollout.wetGrip);
  target.wetShare = strip.wetShare;
  target.paved = rollout.paved;
  target.help = strip.help;
}
