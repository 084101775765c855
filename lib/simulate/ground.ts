import { brakingWorkJ } from '../models/slip-work.js';
import { SCALE_OVER_MEDIAN } from '../models/stones.js';
import type { StripShares } from '../scenario/compile-mixes.js';
import type { CompiledMix, CompiledScenario, CompiledStrip, CompiledSurface } from '../scenario/compile.js';
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

// A strip in one world, dry or wet: what any tire of the standard compound meets there. Strips stand in one table, row
// after row, dry before wet, so that neither a look-up nor a choice between dry and wet needs a branch.
const AMBIENT_PA = 0;
/** 1 on wet pavement. */
const WET_PAVED = 1;
const GRIP = 2;
/** Wear per slip work, m3/J, and times distance. */
const TOUCHDOWN_WEAR = 3;
const ROLLOUT_WEAR = 4;
const TAXI_WEAR = 5;
const ROLLOUT_WEAR_M = 6;
const TAXI_WEAR_M = 7;
/** Sharp stones per metre of footprint width: in the typical rollout, in taxi on its surface, and in taxi apart. */
const ROLLOUT_STONES = 8;
const TAXI_STONES_JOINED = 9;
const TAXI_STONES_APART = 10;
const ROLLOUT_BITE_SCALE_M = 11;
const TAXI_BITE_SCALE_M = 12;
const PATCH_EDGES = 13;
const ROLLOUT_EDGES = 14;
const TAXI_EDGES_JOINED = 15;
const TAXI_EDGES_APART = 16;
const TOUCHDOWN_EDGE_SCALE_M = 17;
const ROLLOUT_EDGE_SCALE_M = 18;
const TAXI_EDGE_SCALE_M = 19;
const LOOSE_STONES = 20;
const ROW = 21;

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

  /** The strips of the scenario, dry and wet. */
  private readonly table: Float64Array;
  /** Row in the table by landing: twice the strip, and one more when wet. */
  private readonly row = new Uint16Array(BLOCK_LANDINGS);
  private readonly wetShare: Float64Array;
  private readonly helpAt: Uint8Array;
  private readonly scenario: CompiledScenario;

  constructor(scenario: CompiledScenario, mix: CompiledMix) {
    this.scenario = scenario;
    this.mix = mix;
    this.table = new Float64Array(2 * ROW * scenario.strips.length);
    this.wetShare = Float64Array.from(scenario.strips, ({ wetShare }) => wetShare);
    this.helpAt = Uint8Array.from(scenario.strips, ({ help }) => (help ? 1 : 0));
  }

  /** Starts a world. */
  open(world: Float64Array): void {
    this.scenario.strips.forEach((strip, index) => {
      for (const wet of [false, true]) {
        const first = ROW * (2 * index + (wet ? 1 : 0));
        fillRow(this.scenario, world, strip, wet, this.table.subarray(first, first + ROW));
      }
    });
  }

  /** Lays the ground under a block of landings. */
  lay(draws: LandingDraws): void {
    this.pickStrips(draws);
    this.layWear(draws);
    this.layStones(draws);
  }

  private pickStrips(draws: LandingDraws): void {
    const { months } = this.mix;
    if (months === undefined) {
      this.pickAmong(this.mix, draws, 0, CAPACITY);
      return;
    }
    const perYear = this.scenario.calendar.landingsPerYear;
    for (let from = 0; from < CAPACITY;) {
      const ofYear = (draws.firstLanding + from) % perYear;
      const next = months.findIndex(({ firstLanding }) => firstLanding > ofYear);
      const month = months[next < 0 ? months.length - 1 : next - 1]!;
      const left = (next < 0 ? perYear : months[next]!.firstLanding) - ofYear;
      const to = Math.min(CAPACITY, from + left);
      this.pickAmong(month, draws, from, to);
      from = to;
    }
  }

  /** Picks the strips of a stretch of landings by one set of shares. */
  private pickAmong(shares: StripShares, draws: LandingDraws, from: number, to: number): void {
    const d = draws.data;
    const { strip, wet, help, row, wetShare, helpAt } = this;
    const { cumulativeShares, strips } = shares;
    const others = strips.length - 1;
    for (let j = from, end = Math.min(CAPACITY, to); j < end; j++) {
      const uniform = d[DRAWN_STRIP_UNIFORM + j]!;
      // Counted to the end: an early stop would be a branch that no processor can foresee.
      let k = 0;
      for (let i = 0; i < others; i++) k += Number(uniform >= cumulativeShares[i]!);
      const picked = strips[k]!;
      const isWet = Number(d[DRAWN_WET_UNIFORM + j]! < wetShare[picked]!);
      strip[j] = picked;
      wet[j] = isWet;
      help[j] = helpAt[picked]!;
      row[j] = 2 * picked + isWet;
    }
  }

  private layWear(draws: LandingDraws): void {
    const d = draws.data;
    const g = this.data;
    const { table, row, wetPaved } = this;
    for (let j = 0; j < CAPACITY; j++) {
      const first = ROW * row[j]!;
      const scatter = d[DRAWN_WEAR_SCATTER + j]!;
      wetPaved[j] = table[first + WET_PAVED]!;
      g[GROUND_AMBIENT_PA + j] = table[first + AMBIENT_PA]!;
      g[GROUND_TOUCHDOWN_WEAR + j] = scatter * table[first + TOUCHDOWN_WEAR]!;
      g[GROUND_TAXI_WEAR + j] = scatter * table[first + TAXI_WEAR]!;
      g[GROUND_ROLLOUT_WEAR_M + j] = scatter * table[first + ROLLOUT_WEAR_M]! * d[DRAWN_ROLL_RATIO + j]!;
      g[GROUND_TAXI_WEAR_M + j] = scatter * table[first + TAXI_WEAR_M]!;
      g[GROUND_BRAKING_WORN_M3 + j] =
        scatter *
        table[first + ROLLOUT_WEAR]! *
        brakingWorkJ(
          d[DRAWN_MASS_KG + j]!,
          d[DRAWN_SPEED_MPS + j]!,
          d[DRAWN_BRAKED_SHARE + j]!,
          1,
          BRAKED_WHEELS,
        );
      const grip = table[first + GRIP]!;
      const peak = d[DRAWN_PEAK_BRAKING + j]!;
      g[GROUND_PEAK_BRAKING + j] = peak < grip ? peak : grip;
    }
  }

  private layStones(draws: LandingDraws): void {
    const d = draws.data;
    const g = this.data;
    const { table, row } = this;
    for (let j = 0; j < CAPACITY; j++) {
      const first = ROW * row[j]!;
      const roll = d[DRAWN_ROLL_RATIO + j]!;
      g[GROUND_ROLLOUT_STONES + j] =
        table[first + ROLLOUT_STONES]! * roll + table[first + TAXI_STONES_JOINED]!;
      g[GROUND_TAXI_STONES + j] = table[first + TAXI_STONES_APART]!;
      g[GROUND_ROLLOUT_BITE_SCALE_M + j] = table[first + ROLLOUT_BITE_SCALE_M]!;
      g[GROUND_TAXI_BITE_SCALE_M + j] = table[first + TAXI_BITE_SCALE_M]!;
      g[GROUND_PATCH_EDGES + j] = table[first + PATCH_EDGES]!;
      g[GROUND_ROLLOUT_EDGES + j] = table[first + ROLLOUT_EDGES]! * roll + table[first + TAXI_EDGES_JOINED]!;
      g[GROUND_TAXI_EDGES + j] = table[first + TAXI_EDGES_APART]!;
      g[GROUND_TOUCHDOWN_EDGE_SCALE_M + j] = table[first + TOUCHDOWN_EDGE_SCALE_M]!;
      g[GROUND_ROLLOUT_EDGE_SCALE_M + j] = table[first + ROLLOUT_EDGE_SCALE_M]!;
      g[GROUND_TAXI_EDGE_SCALE_M + j] = table[first + TAXI_EDGE_SCALE_M]!;
      g[GROUND_LOOSE_STONES + j] = table[first + LOOSE_STONES]! * roll;
    }
  }
}

/** Fills the row of a strip in one world. */
function fillRow(
  scenario: CompiledScenario,
  world: Float64Array,
  strip: CompiledStrip,
  wet: boolean,
  row: Float64Array,
): void {
  const value = (index: number): number => world[index]!;
  const { global } = scenario;
  const [touchdown, rollout, taxi] = [strip.touchdown, strip.rollout, strip.taxi].map(
    (surface) => scenario.surfaces[surface]!,
  ) as [CompiledSurface, CompiledSurface, CompiledSurface];
  const wearOn = ({ wearFactor, wetFactor }: CompiledSurface): number => {
    const dry = value(global.abradability) * value(wearFactor);
    return wet ? dry * value(wetFactor) : dry;
  };
  const joined = strip.rollout === strip.taxi;
  const taxiStones = value(taxi.sharpStones) * strip.taxiM;
  const taxiEdges = value(taxi.rockEdges) * strip.taxiM;
  row[AMBIENT_PA] = strip.ambientPa;
  row[WET_PAVED] = wet && rollout.paved ? 1 : 0;
  row[GRIP] = value(wet ? rollout.wetGrip : rollout.dryGrip);
  row[TOUCHDOWN_WEAR] = wearOn(touchdown);
  row[ROLLOUT_WEAR] = wearOn(rollout);
  row[TAXI_WEAR] = wearOn(taxi);
  row[ROLLOUT_WEAR_M] = wearOn(rollout) * strip.rolloutM;
  row[TAXI_WEAR_M] = wearOn(taxi) * strip.taxiM;
  row[ROLLOUT_STONES] = value(rollout.sharpStones) * strip.rolloutM * value(global.rolloutStoneFactor);
  row[TAXI_STONES_JOINED] = joined ? taxiStones : 0;
  row[TAXI_STONES_APART] = joined ? 0 : taxiStones;
  row[ROLLOUT_BITE_SCALE_M] = SCALE_OVER_MEDIAN * value(rollout.biteDepth);
  row[TAXI_BITE_SCALE_M] = SCALE_OVER_MEDIAN * value(taxi.biteDepth);
  row[PATCH_EDGES] = value(touchdown.rockEdges) * global.touchdownPatchM;
  row[ROLLOUT_EDGES] = value(rollout.rockEdges) * strip.rolloutM;
  row[TAXI_EDGES_JOINED] = joined ? taxiEdges : 0;
  row[TAXI_EDGES_APART] = joined ? 0 : taxiEdges;
  row[TOUCHDOWN_EDGE_SCALE_M] = SCALE_OVER_MEDIAN * value(touchdown.edgeHeight);
  row[ROLLOUT_EDGE_SCALE_M] = SCALE_OVER_MEDIAN * value(rollout.edgeHeight);
  row[TAXI_EDGE_SCALE_M] = SCALE_OVER_MEDIAN * value(taxi.edgeHeight);
  row[LOOSE_STONES] = value(rollout.looseStones) * strip.rolloutM;
}
