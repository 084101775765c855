/** What a study of what matters is to do, looked up and checked. */
import { requireBestOptions } from '../decide/best.js';
import { seasonFactor, usualCriterion, whatIsUnpriced, type Criterion } from '../decide/criteria.js';
import { DEFAULT_LEVEL } from '../estimate/interval.js';
import { properShare, UsageError, wholeNumber } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { indexOfName } from '../simulate/names.js';
import { TWIN_EVERY } from '../simulate/simulate.js';
import type { Pairing } from '../simulate/trials.js';
import { MOST_DECIDERS, SINGLE_INPUTS } from './deciders.js';
import { doubtedAssumptions } from './doubted.js';
import { openScope } from './figures.js';
import { LEAST_SAMPLE } from './given-data.js';
import { checkedWorkers } from './run-worlds.js';
import { checkedRows } from './sobol-indices.js';
import { GRID, HALVINGS } from './threshold.js';
import type { WhatMattersOptions } from './what-matters-types.js';

const DEFAULT_TRIALS = 1000;
const MOST_TRIALS = 1_000_000;
const DEFAULT_ROWS = 256;
/** One assumption at a time and thresholds take a part of the trials: they are anchored on the common run. */
const TRIALS_PER_SIDE_TRIAL = 10;
const TRIALS_PER_THRESHOLD_TRIAL = 5;
const LEAST_PART = 16;
const MOST_PART = 100_000;

/** A study with everything looked up. */
export interface StudyPlan {
  /** Name of the mix asked for; null to find it. */
  readonly mix: string | null;
  readonly mixes: readonly string[];
  readonly criterion: Criterion;
  readonly setups: readonly string[];
  readonly pairings: readonly Pairing[];
  readonly perSeason: number;
  readonly trials: number;
  readonly sideTrials: number;
  readonly thresholdTrials: number;
  readonly rows: number;
  readonly level: number;
  /** Trials of each part, of all set-ups, as far as they are known beforehand. */
  readonly planned: readonly number[];
}

/**
 * Looks everything up.
 *
 * @throws UsageError for names and numbers that do not exist or are out of range, fewer than two set-ups, money without
 *   prices, or a scenario in which nothing is in doubt.
 */
export function planStudy(scenario: CompiledScenario, options: WhatMattersOptions): StudyPlan {
  const { mix, trials = DEFAULT_TRIALS, rows = DEFAULT_ROWS, level = DEFAULT_LEVEL } = options;
  const { setups, setupIndices } = openScope(scenario, { mix, setups: options.setups });
  if (setups.length < 2) {
    throw new UsageError(`a choice needs at least two set-ups; found one: ${setups.join('')}`);
  }
  const criterion = options.criterion ?? usualCriterion(scenario, setups);
  requireBestOptions({ level }, [criterion]);
  const unpriced = criterion === 'costPerHour' ? whatIsUnpriced(scenario, setups) : null;
  if (unpriced !== null) {
    throw new UsageError(`money cannot be compared: ${unpriced.needs}`);
  }
  properShare('level', level);
  wholeNumber('trials', trials, LEAST_SAMPLE, MOST_TRIALS);
  checkedRows(rows);
  checkedWorkers(options.workers);
  const mixes = mix === undefined ? scenario.mixes.map(({ name }) => name) : [mix];
  const pairings = mixes.flatMap((name) =>
    setupIndices.map((setup) => ({ setup, mix: indexOfName('runway mix', name, scenario.mixes) })),
  );
  const part = (share: number): number =>
    Math.min(MOST_PART, Math.max(LEAST_PART, Math.ceil(trials / share)));
  const [sideTrials, thresholdTrials] = [part(TRIALS_PER_SIDE_TRIAL), part(TRIALS_PER_THRESHOLD_TRIAL)];
  return {
    mix: mix ?? null,
    mixes,
    criterion,
    setups,
    pairings,
    perSeason: seasonFactor(scenario, criterion),
    trials,
    sideTrials,
    thresholdTrials,
    rows,
    level,
    planned: [
      (trials + Math.ceil(trials / TWIN_EVERY)) * pairings.length,
      sideTrials * (1 + 2 * doubtedAssumptions(scenario).length) * setups.length,
      // Two worlds, luck, the single inputs, what was fitted, and the rest; two set-ups.
      rows * (SINGLE_INPUTS + 5) * 2,
      MOST_DECIDERS * thresholdTrials * (GRID.length + HALVINGS) * setups.length,
    ],
  };
}
