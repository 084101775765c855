import { UsageError } from '../problems.js';
import { tireHistories } from './histories.js';
import { lastDayOn, lastDayPossible } from './tire-finder.js';
import type { FailureCause, LifeRecord, Logbook, TireHistory, TireRecord } from './record-types.js';

/** Unit in which a life is counted. */
export type LifeUnit = 'landings' | 'flight hours' | 'days';

/** Which lives to take from a log, and how to count them. */
export interface LifeRequest {
  /** Default: landings. */
  readonly unit?: LifeUnit | undefined;
  /** Takes a tire or leaves it; default: all. */
  readonly which?: ((tire: TireRecord) => boolean) | undefined;
  /** Only these causes end a life: one that ended otherwise is censored there. Default: all causes. */
  readonly causes?: readonly FailureCause[] | undefined;
}

/** Use of a tire: when it came under watch, when last known sound, and by when its life had ended. */
interface Use {
  readonly entry: number;
  readonly sound: number;
  readonly by: number;
}

function useOf({ tire, exposure, doubtful }: TireHistory, unit: LifeUnit): Use | null {
  if (unit === 'days') {
    // Age before the log is not recorded: a tire that was not new can not be followed by age.
    if (tire.landingsBefore > 0) return null;
    const { fittedDay } = tire;
    return { entry: 0, sound: lastDayOn(tire) - fittedDay, by: lastDayPossible(tire) - fittedDay };
  }
  const hours = unit === 'flight hours';
  const entry = hours ? tire.flightHoursBefore : tire.landingsBefore;
  const stated = hours ? tire.flightHoursStated : tire.landingsStated;
  if (entry === null) return null;
  if (stated !== null) {
    const ended = tire.end.kind === 'exact' || tire.end.kind === 'right';
    return { entry, sound: ended ? stated : entry, by: stated };
  }
  const flown = hours ? exposure.flightHours : exposure.landings;
  const more = doubtful === null ? 0 : hours ? doubtful.flightHours : doubtful.landings;
  if (flown === null || more === null) return null;
  return { entry, sound: entry + flown, by: entry + flown + more };
}

/** Lives as far as the log tells them, and the tires whose use it does not tell. */
export interface CountedLives {
  readonly lives: readonly LifeRecord[];
  /** Names of tires that were asked for and can not be counted. */
  readonly uncounted: readonly string[];
}

/**
 * Lives of tires, with those that can not be counted told apart.
 *
 * @param histories of the tires of a log.
 * @param request unit, tires and causes.
 */
export function countLives(histories: readonly TireHistory[], request: LifeRequest = {}): CountedLives {
  const { unit = 'landings', which = (): boolean => true, causes } = request;
  const uncounted: string[] = [];
  const lives = histories.flatMap((history): LifeRecord[] => {
    const { tire } = history;
    if (!which(tire)) return [];
    const use = useOf(history, unit);
    if (use === null) {
      uncounted.push(tire.id);
      return [];
    }
    const { end, id, count } = tire;
    const cause = end.kind === 'right' ? null : end.cause;
    const counts =
      end.kind !== 'right' && (causes === undefined || (cause !== null && causes.includes(cause)));
    const { entry, sound } = use;
    const row = { tire: id, entry, count };
    if (!counts) return [{ ...row, from: sound, to: Infinity, cause: null }];
    return [{ ...row, from: end.kind === 'exact' ? use.by : sound, to: use.by, cause }];
  });
  return { lives, uncounted };
}

/**
 * Lives of the tires of a log, for life statistics.
 *
 * An end counts at the use of the evening of its day. A life that ended for a cause that was not asked for is censored
 * there; where it is not known when it ended, it is censored when it was last known to be sound.
 *
 * @param logbook a checked log.
 * @param request unit, tires and causes.
 * @returns one row per tire that was taken.
 * @throws UsageError where a tire that was asked for can not be counted in that unit, and where none is left.
 */
export function lifeRecords(logbook: Logbook, request: LifeRequest = {}): LifeRecord[] {
  const { unit = 'landings' } = request;
  const { lives, uncounted } = countLives(tireHistories(logbook), request);
  if (uncounted.length > 0) {
    const listed = uncounted.slice(0, 5).join(', ');
    const more = uncounted.length > 5 ? ` and ${uncounted.length - 5} more` : '';
    throw new UsageError(
      `the log does not tell the ${unit} of tire ${listed}${more}: leave them out with "which"`,
    );
  }
  if (lives.length === 0) throw new UsageError('no tire is left to count lives of');
  return [...lives];
}
