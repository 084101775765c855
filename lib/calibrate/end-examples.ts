import type { TireEnd } from './record-types.js';

/** One way to write down how a tire ended. */
export interface EndExample {
  readonly kind: TireEnd['kind'];
  /** When to use it. */
  readonly when: string;
  /** What the life statistics and the fit make of it. */
  readonly counts: string;
  /** Cells of an invented row. */
  readonly cells: {
    readonly tire: string;
    readonly fitted: string;
    readonly removed?: string;
    readonly 'removed after'?: string;
    readonly 'removed by'?: string;
    readonly 'last seen'?: string;
    readonly cause?: string;
  };
}

/** Every kind of end with an invented row. */
export const END_EXAMPLES: readonly EndExample[] = [
  {
    kind: 'exact',
    when: 'It came off on a day that is known, because it could not go on.',
    counts: 'an end, at the use of the evening of that day',
    cells: { tire: 'T1', fitted: '2024-05-01', removed: '2024-07-20', cause: 'worn' },
  },
  {
    kind: 'right',
    when: 'It is in service: all cells blank.',
    counts: 'not ended (right-censored) on the last day of the log',
    cells: { tire: 'T2', fitted: '2024-05-01' },
  },
  {
    kind: 'right',
    when: 'It was last seen in service before the log ends (airplane away or sold).',
    counts: 'not ended (right-censored) on the day it was last seen',
    cells: { tire: 'T3', fitted: '2024-05-01', 'last seen': '2024-06-30' },
  },
  {
    kind: 'right',
    when: 'It came off in good order: with its mate, for another set-up.',
    counts: 'not ended (right-censored) on the day it came off',
    cells: { tire: 'T4', fitted: '2024-05-01', removed: '2024-07-20', cause: 'sound' },
  },
  {
    kind: 'interval',
    when: 'It was sound on one day and found failed on a later one.',
    counts: 'an end at some use between the two days (interval-censored)',
    cells: {
      tire: 'T5',
      fitted: '2024-05-01',
      'removed after': '2024-06-30',
      'removed by': '2024-07-20',
      cause: 'cut',
    },
  },
  {
    kind: 'left',
    when: 'It was found failed on a day, and nobody had looked since it was fitted; the cause may be blank.',
    counts: 'an end at some use up to that day (left-censored)',
    cells: { tire: 'T6', fitted: '2024-05-01', 'removed by': '2024-07-20' },
  },
];
