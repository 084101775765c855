import { CancelledError } from '../problems.js';
import type { OneAtATimeStudy } from './one-at-a-time-types.js';
import type { VarianceStudy } from './variance-types.js';
import type { WhatMatters } from './what-matters-types.js';

/** A study that can be stopped with a part of it finished. */
export type StoppableStudy = OneAtATimeStudy | VarianceStudy | WhatMatters;

/** A study stopped on request, with what the finished trials tell. */
export class StoppedStudyError extends CancelledError {
  /** The study of the finished trials, of the kind that was asked for; null if there were too few. */
  readonly partial: StoppableStudy | null;

  constructor(partial: StoppableStudy | null, finished: number, asked: number) {
    super(`the study was stopped after ${finished} of ${asked} trials`);
    this.partial = partial;
  }
}
