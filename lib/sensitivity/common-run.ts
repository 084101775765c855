/** Ties a study on few trials to a longer plain run that holds the same trials (control variates). */
import { mean, sampleVariance } from '../estimate/moments.js';
import {
  differencesOf,
  meanWithInterval,
  pairedDifference,
  studentMultiplier,
  type MeanEstimate,
  type PairedDifference,
} from '../estimate/paired.js';
import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import type { FigureReader, OpenScope } from './figures.js';

/** Each control takes one degree of freedom: so many trials for each. */
const TRIALS_PER_CONTROL = 8;
/** What is left of a control beside the others, as a share of its variance, below which it is one of them again. */
const ALIKE = 1e-9;

/** A control, over the trials of the study and over all of the plain run, centred on the mean of the first. */
interface Control {
  /** Of length one, and at right angles to the other controls. */
  readonly inStudy: Float64Array;
  readonly inRun: Float64Array;
}

/**
 * Means over the trials of a study, corrected by what the plain figures of those trials are known to be off.
 *
 * A figure is regressed on the plain figures of all set-ups in the same trials; how far their means over these trials
 * are from those over the whole run is then taken out of its mean. All figures have the same regressors, so that the
 * mean of a difference is the difference of the means. The error holds what the regression leaves, over the trials of
 * the study, and what it explains, over those of the run. Without a plain run: the plain mean.
 *
 * Source: regression estimator of two-phase sampling, Cochran, Sampling Techniques, chapter 12; control variates, Ross,
 * Simulation (both from memory).
 */
export class Anchor {
  private readonly controls: readonly Control[];
  private readonly level: number;

  /**
   * @param plain figures of a plain run, one column for each set-up; the first of its trials are those of the study.
   * @param trials of the study.
   * @param level two-sided level of intervals.
   */
  constructor(plain: readonly Float64Array[], trials: number, level: number) {
    this.level = level;
    const most = Math.floor(trials / TRIALS_PER_CONTROL);
    const controls: Control[] = [];
    for (const column of plain) {
      if (column.length > trials && controls.length < most) addControl(controls, column, trials);
    }
    this.controls = controls;
  }

  /** Mean of a figure. */
  mean(values: Float64Array): MeanEstimate {
    const { controls, level } = this;
    if (controls.length === 0) return meanWithInterval(values, level);
    const average = mean(values);
    const left = values.map((value) => value - average);
    const explained = new Float64Array(controls[0]!.inRun.length);
    let spread = 1 / values.length;
    for (const { inStudy, inRun } of controls) {
      const slope = left.reduce((sum, value, row) => sum + value * inStudy[row]!, 0);
      inStudy.forEach((value, row) => (left[row]! -= slope * value));
      inRun.forEach((value, row) => (explained[row]! += slope * value));
      spread += mean(inRun) ** 2;
    }
    const freedom = values.length - 1 - controls.length;
    const unexplained = left.reduce((sum, value) => sum + value * value, 0) / freedom;
    const standardError = Math.sqrt(unexplained * spread + sampleVariance(explained) / explained.length);
    const reach = studentMultiplier(level, freedom) * standardError;
    // Adding 0 turns -0 into 0.
    const estimate = average + mean(explained) + 0;
    return { estimate, standardError, lower: estimate - reach, upper: estimate + reach };
  }

  /** Mean of first - second. */
  difference(first: Float64Array, second: Float64Array): PairedDifference {
    const plain = pairedDifference(first, second, this.level);
    return { ...this.mean(differencesOf(first, second)), varianceRatio: plain.varianceRatio };
  }
}

/** Adds what a column tells beside the controls at hand (Gram and Schmidt); nothing if that is nothing. */
function addControl(controls: Control[], column: Float64Array, trials: number): void {
  const average = mean(column.subarray(0, trials));
  const inRun = column.map((value) => value - average);
  const inStudy = inRun.slice(0, trials);
  const whole = squares(inStudy);
  // Twice: rounding of the first pass is taken out by the second.
  for (let pass = 0; pass < 2; pass++) {
    for (const control of controls) {
      const slope = inStudy.reduce((sum, value, row) => sum + value * control.inStudy[row]!, 0);
      control.inStudy.forEach((value, row) => (inStudy[row]! -= slope * value));
      control.inRun.forEach((value, row) => (inRun[row]! -= slope * value));
    }
  }
  const length = Math.sqrt(squares(inStudy));
  if (!(length * length > ALIKE * whole)) return;
  controls.push({
    inStudy: inStudy.map((value) => value / length),
    inRun: inRun.map((value) => value / length),
  });
}

function squares(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value * value, 0);
}

/**
 * Anchor of a figure.
 *
 * @param common a plain run of the scenario from trial 0 on; undefined for none.
 * @throws UsageError for a run of another seed or that begins later.
 */
export function anchorOf(
  scenario: CompiledScenario,
  { mix, setups }: OpenScope,
  { read }: FigureReader,
  common: Simulation | undefined,
  trials: number,
  level: number,
): Anchor {
  if (common === undefined) return new Anchor([], trials, level);
  if (common.seed !== scenario.seed || common.firstTrial !== 0) {
    throw new UsageError(
      `the common run has seed "${common.seed}" and begins with trial ${common.firstTrial}; ` +
        `it must have seed "${scenario.seed}" and begin with trial 0`,
    );
  }
  const plain = setups.flatMap((setup) => {
    const own = common.pairings.find((pairing) => pairing.setup === setup && pairing.mix === mix);
    return own === undefined ? [] : [read(own)];
  });
  return new Anchor(plain, trials, level);
}
