import { CancelledError } from '../problems.js';

/** A study stopped on request, with what the finished trials tell. */
export class StoppedStudyError<Study> extends CancelledError {
  /** The study of the finished trials; null if there were too few. */
  readonly partial: Study | null;

  constructor(partial: Study | null, finished: number, asked: number) {
    super(`the study was stopped after ${finished} of ${asked} trials`);
    this.partial = partial;
  }
}
