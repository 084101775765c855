import { setImmediate as breathe } from 'node:timers/promises';
import { CancelledError, UsageError, wholeNumber } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { curveOf, stepsAt } from './overlay-curves.js';
import { OverlayLives } from './overlay-lives.js';
import { overlayNotes } from './overlay-notes.js';
import { calibrationOf, describeSetup, gridOf, type Replicates } from './overlay-setup.js';
import { overlayGroups, singlesOf, type OverlayGroup } from './overlay-tires.js';
import type { AssumptionFit, PosteriorDraws } from './posterior-types.js';
import { quantileOfSorted } from './posterior-summary.js';
import type { Logbook } from './record-types.js';
import type { OverlaySetup, SurvivalOverlay } from './survival-overlay-types.js';

/** Options of {@link survivalOverlay}. */
export interface SurvivalOverlayOptions {
  /** Worlds to live the tires through, 20 to 5000; default 200. */
  readonly worlds?: number | undefined;
  /** Which wheels: the mains, or the nose or tail wheel; default main. */
  readonly position?: 'main' | 'third' | undefined;
  /** Runway mix of landings on ground that the log does not name; default: the first of the scenario. */
  readonly mix?: string | undefined;
  /** Called now and then with the share that is done, 0 to 1. */
  readonly onProgress?: ((doneShare: number) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

const DEFAULT_WORLDS = 200;
/** Most landings that are followed. */
const FURTHEST = 20_000;

/**
 * Sets the lives of tires in records beside those that the simulator expects of the same tires, before and after a fit.
 *
 * Like is compared with like: each tire of the records is lived again by itself, from new, on the strips of its own airplane
 * in their shares, and watched as the log watched it (from when it was taken up until the log would have stopped); of each
 * world a life curve is made as of the records (Kaplan-Meier). The range that holds 8 of 10 such curves holds both what is
 * not known and the luck of so few tires, so the curve of the records should lie in it 8 times in 10.
 *
 * @param scenario compiled scenario as it was before the fit.
 * @param logbook checked records.
 * @param fit a fit to these or other records, or its draws; null compares the scenario alone.
 * @param options worlds, wheels.
 * @returns plain data, the same for any order of the records. One busy thread; a world of a dozen airplanes takes some 10 ms.
 * @throws UsageError for options out of range, names that the scenario does not have, a scenario that is fitted already.
 * @throws CancelledError when the signal fires.
 */
export async function survivalOverlay(
  scenario: CompiledScenario,
  logbook: Logbook,
  fit: AssumptionFit | PosteriorDraws | null,
  options: SurvivalOverlayOptions = {},
): Promise<SurvivalOverlay> {
  const worlds = wholeNumber('worlds', options.worlds ?? DEFAULT_WORLDS, 20, 5000);
  const position = options.position ?? 'main';
  const { groups, remarks } = overlayGroups(scenario, logbook, position, options.mix);
  if (groups.length === 0)
    throw new UsageError('the records hold no life of such a tire: nothing to compare');
  const fitted = fit === null ? null : withDraws(scenario, 'draws' in fit ? fit.draws : fit);
  const versions = fitted === null ? [scenario] : [scenario, fitted];
  const work = new Work(groups.length * versions.length * worlds, options);
  const setups: OverlaySetup[] = [];
  for (const group of groups) {
    const lives: Replicates[] = [];
    for (const version of versions) lives.push(await replicate(version, group, worlds, work));
    setups.push(describeSetup(scenario, group, lives));
  }
  options.onProgress?.(1);
  return {
    kind: 'gravelbar survival overlay',
    scenario: scenario.name,
    logbook: logbook.name,
    source: fit !== null && 'source' in fit ? fit.source : fit === null ? null : 'draws',
    position,
    seed: scenario.seed,
    worlds,
    setups,
    calibration: {
      before: calibrationOf(setups, 'before'),
      fitted: fitted === null ? null : calibrationOf(setups, 'fitted'),
    },
    notes: overlayNotes(scenario, remarks, position, fitted !== null),
  };
}

/** The scenario with fitted draws, as if it had been read from a file that holds them. */
function withDraws(scenario: CompiledScenario, { paths, rows }: PosteriorDraws): CompiledScenario {
  if (scenario.fitted !== undefined) {
    throw new UsageError('the scenario is fitted already: give it as it was before, or no fit');
  }
  if (paths.length === 0 || rows.length === 0) return scenario;
  const indices = paths.map((path) => {
    const index = scenario.assumptions.findIndex((each) => each.path === path);
    if (index < 0) throw new UsageError(`the fit names ${path}, which the scenario does not have`);
    return index;
  });
  const medians = paths.map((_, column) =>
    quantileOfSorted(Float64Array.from(rows, (row) => row[column]!).sort(), 0.5),
  );
  return {
    ...scenario,
    fitted: { source: 'fit', indices, draws: rows.flat(), rows: rows.length, medians },
  };
}

/** Tells how far the work has come, and stops it. */
class Work {
  private done = 0;
  private readonly total: number;
  private readonly options: SurvivalOverlayOptions;

  constructor(total: number, options: SurvivalOverlayOptions) {
    this.total = total;
    this.options = options;
  }

  async step(): Promise<void> {
    if (this.done % 4 === 0) {
      await breathe();
      if (this.options.signal?.aborted === true) throw new CancelledError('stopped: no lives are compared');
      this.options.onProgress?.(this.done / this.total);
    }
    this.done++;
  }
}

/** Landings that are followed: as long as the log could have watched any of the tires. */
function horizonOf({ tires }: OverlayGroup): number {
  const most = tires.reduce(
    (last, { time, watched }) => Math.max(last, time, watched === Infinity ? 0 : watched),
    1,
  );
  return Math.min(FURTHEST, Math.ceil(most));
}

async function replicate(
  scenario: CompiledScenario,
  group: OverlayGroup,
  worlds: number,
  work: Work,
): Promise<Replicates> {
  const grid = gridOf(group);
  const lives = new OverlayLives(scenario, group, horizonOf(group));
  const singles = singlesOf(group);
  const curves: Float64Array[] = [];
  const ends: number[] = [];
  for (let world = 0; world < worlds; world++) {
    await work.step();
    const lived = lives.live(world);
    const seen = { entry: [] as number[], time: [] as number[], ended: [] as boolean[] };
    singles.forEach(({ entry, watched }, k) => {
      const until = Math.min(watched, lives.horizon);
      const life = lived[k]!;
      // A tire that would not have got as far as to be taken up is not seen.
      if (life <= entry || until <= entry) return;
      seen.entry.push(entry);
      seen.time.push(Math.min(life, until));
      seen.ended.push(life <= until);
    });
    curves.push(stepsAt(curveOf(seen), 'survival', 1, grid));
    ends.push(seen.ended.filter(Boolean).length);
  }
  return { curves, ends };
}
