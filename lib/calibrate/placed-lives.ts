/** Curves of lives of which some ended within a range: such ends are placed at both ends of it and in the middle. */
import { cumulativeIncidence, type CumulativeIncidence } from '../estimate/cumulative-incidence.js';
import { lastRowAtOrBefore } from '../estimate/event-table.js';
import { highestChanceWhenNoneSeen } from '../estimate/interval.js';
import {
  kaplanMeier,
  survivalAt,
  survivalQuantile,
  type KaplanMeierCurve,
  type OpenInterval,
} from '../estimate/kaplan-meier.js';
import { REMOVAL_CAUSES } from '../simulate/columns.js';
import type { CauseShare, RecordCurvePoint, SharesAtUse, ShareEstimate } from './record-lives-types.js';
import type { FailureCause, LifeRecord } from './record-types.js';

/** Causes of an end. */
export const FAILURE_CAUSES: readonly FailureCause[] = REMOVAL_CAUSES.filter(
  (cause): cause is FailureCause => cause !== 'in service',
);
/** Code of an end whose cause is not told. */
const NOT_TOLD = FAILURE_CAUSES.length + 1;
/** An end lies above the start of its range: by so little of it that nothing else lies between. */
const JUST_ABOVE = 1e-6;

interface Placed {
  readonly curve: KaplanMeierCurve;
  readonly incidence: CumulativeIncidence;
}

/** Lives of a group, every one with some use under watch. */
export class PlacedLives {
  /** Middle first: it gives the estimates; all of them give the intervals. */
  private readonly placed: readonly Placed[];
  private readonly rows: readonly LifeRecord[];
  private readonly level: number;

  constructor(lives: readonly LifeRecord[], level: number) {
    this.level = level;
    this.rows = lives.flatMap((life) => Array.from({ length: life.count }, () => life));
    const ranges = lives.some(({ from, to }) => to < Infinity && from < to);
    this.placed = (ranges ? [0.5, JUST_ABOVE, 1] : [1]).map((part) => this.place(part));
  }

  private place(part: number): Placed {
    const timeOf = ({ from, to, entry }: LifeRecord): number => {
      const least = Math.max(from, entry);
      return to === Infinity ? from : from === to ? to : least + part * (to - least);
    };
    const times = Float64Array.from(this.rows, timeOf);
    const entry = Float64Array.from(this.rows, (life) => life.entry);
    const causes = Int8Array.from(this.rows, codeOf);
    const options = { level: this.level, entry };
    const all = Array.from({ length: FAILURE_CAUSES.length }, (_, i) => i + 1);
    return {
      curve: kaplanMeier(
        times,
        Uint8Array.from(causes, (code) => (code > 0 ? 1 : 0)),
        options,
      ),
      incidence: cumulativeIncidence(times, causes, { ...options, causes: all }),
    };
  }

  /** The life curve, one point per step. */
  curve(): RecordCurvePoint[] {
    const { time, atRisk, ended, survival } = this.placed[0]!.curve;
    return Array.from(time, (use, row) => {
      const { lower, upper } = this.running(use);
      return { use, atRisk: atRisk[row]!, ended: ended[row]!, running: survival[row]!, lower, upper };
    });
  }

  /** Life by which a share has ended. */
  quantile(probabilityEnded: number): OpenInterval {
    const all = this.placed.map(({ curve }) => survivalQuantile(curve, probabilityEnded));
    const lower = Math.min(...all.map((each) => each.lower ?? Infinity));
    const upper = Math.max(...all.map((each) => each.upper ?? Infinity));
    const known = (use: number): number | null => (use === Infinity ? null : use);
    return { estimate: all[0]!.estimate, lower: known(lower), upper: known(upper) };
  }

  /** True where all that were under watch had ended at some use, and others came under watch or ran on beyond it. */
  endsEarly(): boolean {
    const { survival, time, lastTime } = this.placed[0]!.curve;
    const row = survival.indexOf(0);
    return row >= 0 && time[row]! < lastTime;
  }

  /** Share still running after a use. */
  private running(use: number): ShareEstimate {
    return cover(this.placed.map(({ curve }) => this.runningBy(curve, use)));
  }

  private runningBy(curve: KaplanMeierCurve, use: number): ShareEstimate {
    const share = survivalAt(curve, use);
    const row = lastRowAtOrBefore(curve.time, use);
    if (row < 0 && share.estimate !== null) {
      return { ...share, standardError: null, lower: 1 - this.mostUnseen(use) };
    }
    return { ...share, standardError: share.estimate === null ? null : curve.standardError[row]! };
  }

  /** Highest chance to have ended by a use at which nothing had: by the tires watched from new up to there. */
  private mostUnseen(use: number): number {
    const watched = this.rows.filter(({ from, entry }) => entry === 0 && from >= use).length;
    return watched === 0 ? 1 : highestChanceWhenNoneSeen(watched, this.level);
  }

  /** Tires under watch just before a use. */
  atRisk(use: number): number {
    return this.rows.filter(({ from, to, entry }) => entry < use && (to === Infinity ? from : to) >= use)
      .length;
  }

  /** What had become of tires at a use. */
  shares(use: number): SharesAtUse {
    const codes = this.placed[0]!.incidence.byCause.map(({ cause }) => cause);
    return {
      use,
      atRisk: this.atRisk(use),
      running: this.running(use),
      byCause: codes.map((code) => this.causeShare(code, use)),
    };
  }

  private causeShare(code: number, use: number): CauseShare {
    const all = this.placed.map(({ incidence }): ShareEstimate => {
      const none = { standardError: null, lower: 0 };
      if (use > incidence.lastTime) return { ...none, estimate: null, upper: 1 };
      const row = lastRowAtOrBefore(incidence.time, use);
      if (row < 0) return { ...none, estimate: 0, upper: this.mostUnseen(use) };
      const own = incidence.byCause.find(({ cause }) => cause === code)!;
      return {
        estimate: own.incidence[row]!,
        standardError: own.incidence[row] === 0 ? null : own.standardError[row]!,
        lower: own.lower[row]!,
        upper: own.upper[row]!,
      };
    });
    return {
      cause: FAILURE_CAUSES[code - 1] ?? null,
      ends: this.rows.filter((life) => codeOf(life) === code).length,
      ...cover(all),
    };
  }
}

/** The first estimate, with an interval that covers those of all. */
function cover(all: readonly ShareEstimate[]): ShareEstimate {
  const { estimate, standardError } = all[0]!;
  return {
    estimate,
    standardError,
    lower: Math.min(...all.map(({ lower }) => lower)),
    upper: Math.max(...all.map(({ upper }) => upper)),
  };
}

/** 0 for a life that had not ended, else the place of its cause from 1. */
function codeOf({ to, cause }: LifeRecord): number {
  if (to === Infinity) return 0;
  return cause === null ? NOT_TOLD : FAILURE_CAUSES.indexOf(cause) + 1;
}
