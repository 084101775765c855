import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PairingTrials } from './columns.js';
import { TRACK } from './layout.js';
import type { WatchedSpan } from './pairing-run.js';
import { watchedTrials, watchTrials, type WatchRequest } from './watch.js';
import type { Wheel } from './wheel.js';

/** Depth worn off one main tire, m: one value per trial and look, at index trial × looks + look. */
export interface TireWear {
  readonly centreM: Float32Array;
  readonly innerM: Float32Array;
  readonly outerM: Float32Array;
  /** At the worst spot all round, pivot spots included. */
  readonly deepestM: Float32Array;
}

/**
 * Wear of the main tires fitted new at the start, by wear alone: a tire that came off for a cut or at the limit wears
 * on as if it had stayed, until cords show on one of the two; then both stay as they are.
 */
export interface WearHistories {
  readonly setup: string;
  readonly mix: string;
  /** Landings after which the tires are looked at. */
  readonly looks: Int32Array;
  readonly left: TireWear;
  readonly right: TireWear;
  /** Groove depth of a new main tire, m. */
  readonly newTreadM: number;
  /** Rubber above the cords of a new main tire, m. */
  readonly rubberM: number;
  /** Groove depth at which a tire comes off, m. */
  readonly treadLimitM: number;
  /** Figures of the same trials, row by row. */
  readonly trials: PairingTrials;
}

/** Most values that are kept, per band and tire. */
const MOST_VALUES = 20_000_000;

/**
 * Records how main tires wear, trial by trial.
 *
 * @param scenario compiled scenario.
 * @param request which pairing, how many trials.
 * @param looks landings after which to look: whole numbers from 0, ascending.
 * @returns depths at every look. Memory: 32 bytes per trial and look.
 * @throws UsageError for a name, number or look that cannot be; CancelledError when the signal fires.
 */
export async function recordWear(
  scenario: CompiledScenario,
  request: WatchRequest,
  looks: readonly number[],
): Promise<WearHistories> {
  const rows = watchedTrials(request);
  requireLooks(looks, rows);
  const recorder = new WearRecorder(Int32Array.from(looks), rows);
  const trials = await watchTrials(scenario, request, recorder);
  const { main } = scenario.setups.find(({ name }) => name === request.setup)!;
  return {
    setup: request.setup,
    mix: request.mix,
    looks: recorder.looks,
    left: recorder.left,
    right: recorder.right,
    newTreadM: main.newTreadM,
    rubberM: main.newTreadM + main.undertreadM,
    treadLimitM: scenario.habits.treadLimitM,
    trials,
  };
}

function requireLooks(looks: readonly number[], rows: number): void {
  const wrong = looks.findIndex(
    (look, index) => !Number.isSafeInteger(look) || look < 0 || (index > 0 && look <= looks[index - 1]!),
  );
  if (looks.length === 0 || wrong >= 0) {
    throw new UsageError(
      `looks must be ascending whole numbers of landings, 0 or more; found ${looks.length === 0 ? 'none' : looks[wrong]!}`,
    );
  }
  if (looks.length * rows > MOST_VALUES) {
    throw new UsageError(
      `${rows} trials with ${looks.length} looks each are too many to keep; ${MOST_VALUES} values at most`,
    );
  }
}

function makeTireWear(values: number): TireWear {
  return {
    centreM: new Float32Array(values),
    innerM: new Float32Array(values),
    outerM: new Float32Array(values),
    deepestM: new Float32Array(values),
  };
}

class WearRecorder {
  readonly everyLanding = false;
  readonly looks: Int32Array;
  readonly left: TireWear;
  readonly right: TireWear;
  private index = 0;
  private look = 0;
  private readonly last = [new Float64Array(4), new Float64Array(4)] as const;

  constructor(looks: Int32Array, rows: number) {
    this.looks = looks;
    this.left = makeTireWear(looks.length * rows);
    this.right = makeTireWear(looks.length * rows);
  }

  begin(trial: number): void {
    this.index = trial * this.looks.length;
    this.look = 0;
    this.last.forEach((values) => values.fill(0));
    // Landing 0: new tires.
    this.fillUpTo(0);
  }

  see({ draws, from, to, firstMains: mains }: WatchedSpan): void {
    if (mains === null) return;
    const first = draws.firstLanding;
    // A look inside the span reads the track; what was not reached before it keeps the state of its start.
    while (this.look < this.looks.length && this.looks[this.look]! <= first + to) {
      const row = this.looks[this.look]! - first - 1;
      if (row >= from) this.read(mains, row);
      this.write();
    }
    this.read(mains, to - 1);
  }

  end(): void {
    this.fillUpTo(Infinity);
  }

  private fillUpTo(landing: number): void {
    while (this.look < this.looks.length && this.looks[this.look]! <= landing) this.write();
  }

  private read(mains: readonly Wheel[], row: number): void {
    for (let side = 0; side < 2; side++) {
      const { data } = mains[side]!.track;
      const values = this.last[side]!;
      values[0] = data[TRACK.centreLostM + row]!;
      values[1] = data[TRACK.innerLostM + row]!;
      values[2] = data[TRACK.outerLostM + row]!;
      values[3] = data[TRACK.deepestLostM + row]!;
    }
  }

  private write(): void {
    const at = this.index + this.look;
    [this.left, this.right].forEach((tire, side) => {
      const values = this.last[side]!;
      tire.centreM[at] = values[0]!;
      tire.innerM[at] = values[1]!;
      tire.outerM[at] = values[2]!;
      tire.deepestM[at] = values[3]!;
    });
    this.look++;
  }
}
