import {
  checkReadings,
  groovesM,
  stillOn,
  weighTrials,
  type Agreement,
  type TreadReading,
  type TrialWeights,
} from '../estimate/remaining-weights.js';
import { UsageError, wholeNumber } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { recordWear } from '../simulate/wear-histories.js';
import { REMAINING_TRIALS } from './remaining-counts.js';
import type { RemainingLifeRequest } from './remaining-types.js';

/** Trials that may be like the tires, with their weights. */
export interface WeighedTrials extends TrialWeights {
  /** Trials lived through. */
  readonly trials: number;
  readonly stillOn: number;
  readonly widenedBy: number;
  readonly agreement: Agreement;
  readonly lifeLandings: Int32Array;
  readonly lifeCause: Uint8Array;
  /** Landings at which wear alone passes the tread limit; -1 beyond the horizon. */
  readonly treadLimitLandings: Int32Array;
}

const LEAST_ROUND = 1000;
/** Rounds grow with what is done, by this share, so that weighing stays cheap beside living. */
const ROUND_SHARE = 0.25;
/** An answer worth so many trials knows its quantiles to about 2.5 % in rank. */
const ENOUGH_EFFECTIVE = 400;
/** With fewer, the intervals say little more than that little is known. */
const LEAST_EFFECTIVE = 50;
/** Readings further off than this are met by no number of trials. */
const HOPELESS_CHANCE = 1e-6;
/** Readings further off than one in so many would be, were the scenario true, contradict it. */
export const FAR_CHANCE = 0.001;
/** Factors by which errors are taken as greater, one after the other, where too few trials agree. */
const WIDENINGS = [1, 1.5, 2, 3, 5, 8] as const;
/**
 * The most that is done where the readings contradict the scenario. Up to three times, a gauge or an uneven tread may
 * explain what is off; beyond that the scenario is not that of this airplane, and its answer would not be about these
 * tires. Where they agree, and are only sharper than so many trials can tell, wider errors do no harm.
 */
const MOST_WIDENING_IF_FAR = 3;

/**
 * Lives through trials until those that agree with the readings are worth enough, or the most that may be used.
 *
 * @param scenario compiled scenario, with pressure and age of the tires in it.
 * @param request which pairing and how many trials at most.
 * @param landings landings flown.
 * @param readings what was read.
 * @throws UsageError if no trial keeps its tires so long, or the readings are too far from all of them.
 */
export async function drawTrials(
  scenario: CompiledScenario,
  request: RemainingLifeRequest,
  landings: number,
  readings: readonly TreadReading[],
): Promise<WeighedTrials> {
  const most = mostTrials(request);
  const pool = new Pool(readings.length);
  for (;;) {
    const done = pool.trials;
    const round = Math.min(Math.max(LEAST_ROUND, Math.ceil(ROUND_SHARE * done)), most - done);
    const wear = await recordWear(
      scenario,
      {
        setup: request.setup,
        mix: request.mix,
        trials: round,
        firstTrial: done,
        signal: request.signal,
        onProgress: ({ finishedTrials }) =>
          request.onProgress?.({ finishedTrials: done + finishedTrials, totalTrials: done + round }),
      },
      [landings],
    );
    const { lifeLandings, lifeCause, treadLimitLandings } = wear.trials.columns;
    pool.add({
      lifeLandings,
      lifeCause,
      treadLimitLandings,
      eligible: stillOn(wear, landings),
      grooves: readings.map((reading) => groovesM(wear, 0, reading)),
    });
    const answer = weigh(pool, readings, most - pool.trials < 2);
    if (answer !== null) return answer;
  }
}

function mostTrials({ trials = REMAINING_TRIALS.usual }: RemainingLifeRequest): number {
  const { least, most } = REMAINING_TRIALS;
  if (trials >= least) return wholeNumber('trials', trials, least, most);
  throw new UsageError(
    `trials is ${trials}; it must be a whole number from ${least} to ${most}: trials are weighed by the readings, and of ` +
      'fewer too few agree with them',
  );
}

/** Weights, if they are worth enough or no more trials may be drawn. */
function weigh(pool: Pool, readings: readonly TreadReading[], isLast: boolean): WeighedTrials | null {
  const columns = pool.columns();
  const { eligible, grooves } = columns;
  const count = eligible.reduce((sum, flag) => sum + flag, 0);
  if (count < 2) {
    if (!isLast) return null;
    throw new UsageError(
      `in ${count} of ${pool.trials} trials the tires are still on after so many landings; check flightHours and the set-up`,
    );
  }
  const agreement = checkReadings(readings, grooves, eligible);
  const isHopeless = agreement.chance !== null && agreement.chance < HOPELESS_CHANCE;
  const answer = (weights: TrialWeights, widenedBy: number): WeighedTrials => ({
    ...columns,
    ...weights,
    trials: pool.trials,
    stillOn: count,
    widenedBy,
    agreement,
  });
  const asRead = weighTrials(readings, grooves, eligible);
  if (asRead.effectiveTrials >= ENOUGH_EFFECTIVE) return answer(asRead, 1);
  if (!isLast && !isHopeless) return null;
  const isFar = agreement.chance !== null && agreement.chance < FAR_CHANCE;
  for (const widenedBy of WIDENINGS) {
    if (isFar && widenedBy > MOST_WIDENING_IF_FAR) break;
    const weights = weighTrials(readings, grooves, eligible, widenedBy);
    if (weights.effectiveTrials >= LEAST_EFFECTIVE) return answer(weights, widenedBy);
  }
  if (!isLast) return null;
  throw new UsageError(
    isFar
      ? farOffText(agreement, pool.trials)
      : `too few of ${pool.trials} trials agree with readings this sharp; allow more trials, or a greater error of the readings`,
  );
}

function farOffText({ checks }: Agreement, trials: number): string {
  const millimetres = (depthM: number): string => (1000 * depthM).toFixed(1);
  const places = checks.map(
    ({ reading, expectedM, offBy }) =>
      `${reading.wheel} ${reading.band} ${reading.place}: read ${millimetres(reading.grooveM)} mm, ` +
      `expected ${millimetres(expectedM.mean)} mm with a standard deviation of ` +
      `${millimetres(expectedM.standardDeviation)} mm (off by ${Math.abs(offBy).toFixed(1)})`,
  );
  return (
    `the readings are too far from all of ${trials} trials, even with three times their error, to tell what is left; ` +
    `check them, the flight hours, the new groove depth and the assumptions. ${places.join('; ')}`
  );
}

interface PoolPart {
  readonly lifeLandings: Int32Array;
  readonly lifeCause: Uint8Array;
  readonly treadLimitLandings: Int32Array;
  readonly eligible: Uint8Array;
  readonly grooves: readonly Float64Array[];
}

/** Trials of all rounds together. */
class Pool {
  trials = 0;
  private readonly parts: PoolPart[] = [];
  private readonly readings: number;

  constructor(readings: number) {
    this.readings = readings;
  }

  add(part: PoolPart): void {
    this.parts.push(part);
    this.trials += part.eligible.length;
  }

  columns(): PoolPart {
    const { parts, trials } = this;
    return {
      lifeLandings: joined(
        new Int32Array(trials),
        parts.map(({ lifeLandings }) => lifeLandings),
      ),
      lifeCause: joined(
        new Uint8Array(trials),
        parts.map(({ lifeCause }) => lifeCause),
      ),
      treadLimitLandings: joined(
        new Int32Array(trials),
        parts.map(({ treadLimitLandings }) => treadLimitLandings),
      ),
      eligible: joined(
        new Uint8Array(trials),
        parts.map(({ eligible }) => eligible),
      ),
      grooves: Array.from({ length: this.readings }, (_, k) =>
        joined(
          new Float64Array(trials),
          parts.map(({ grooves }) => grooves[k]!),
        ),
      ),
    };
  }
}

function joined<Column extends Int32Array | Uint8Array | Float64Array>(
  whole: Column,
  parts: readonly Column[],
): Column {
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
