import type { Progress } from '../simulate/simulate.js';

/** Progress over several parts of a study, which never goes back: each part has a share of the whole. */
export class StageProgress {
  private readonly planned: readonly number[];
  private readonly tell: ((progress: Progress) => void) | undefined;
  private reached = 0;

  /**
   * @param planned trials of each part, as far as they are known beforehand.
   * @param tell hears of progress.
   */
  constructor(planned: readonly number[], tell: ((progress: Progress) => void) | undefined) {
    this.planned = planned;
    this.tell = tell;
  }

  get total(): number {
    return sum(this.planned);
  }

  get finished(): number {
    return this.reached;
  }

  /** Listens to part `stage`, or to piece `piece` of `pieces` equal ones of it. */
  listen(stage: number, piece = 0, pieces = 1): (progress: Progress) => void {
    const before = sum(this.planned.slice(0, stage));
    const own = this.planned[stage]! / pieces;
    return ({ finishedTrials, totalTrials }) => {
      const share = totalTrials > 0 ? Math.min(1, finishedTrials / totalTrials) : 0;
      this.goTo(before + own * (piece + share));
    };
  }

  /** Part `stage` is finished, whatever it took. */
  finish(stage: number): void {
    this.goTo(sum(this.planned.slice(0, stage + 1)));
  }

  private goTo(trials: number): void {
    this.reached = Math.max(this.reached, Math.round(trials));
    this.tell?.({ finishedTrials: this.reached, totalTrials: this.total });
  }
}

function sum(values: readonly number[]): number {
  return values.reduce((all, each) => all + each, 0);
}
