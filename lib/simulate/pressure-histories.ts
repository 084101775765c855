import type { CompiledScenario } from '../scenario/compile.js';
import { DRAW, TRACK } from './layout.js';
import type { WatchedSpan } from './pairing-run.js';
import { watchedTrials, watchTrials, type WatchRequest } from './watch.js';

/** Gauge pressures of a wheel over the landings of the season, Pa, at index trial × landings + landing. */
export interface PressureHistories {
  readonly setup: string;
  readonly mix: string;
  readonly trials: number;
  /** Landings of the season. */
  readonly landings: number;
  /** Day of each landing from the start of the season. */
  readonly day: Float64Array;
  /** 1 where tires were checked and set just before the landing. */
  readonly checked: Uint8Array;
  /** Gauge pressure at the strip in each landing, Pa. */
  readonly leftMainPa: Float32Array;
  readonly thirdPa: Float32Array;
  /** Air temperature in each landing, K. */
  readonly temperatureK: Float32Array;
  /** Index into the strips of the scenario. */
  readonly strip: Uint16Array;
  /** Cold settings, Pa. */
  readonly mainColdPa: number;
  readonly thirdColdPa: number;
}

/**
 * Records the pressure of tires over the season, trial by trial.
 *
 * @param scenario compiled scenario.
 * @param request which pairing, how many trials.
 * @returns pressures in every landing of the season. Memory: 14 bytes per trial and landing.
 * @throws UsageError for a name or number that does not exist; CancelledError when the signal fires.
 */
export async function recordPressures(
  scenario: CompiledScenario,
  request: WatchRequest,
): Promise<PressureHistories> {
  const trials = watchedTrials(request);
  const landings = scenario.calendar.landingsPerYear;
  const size = trials * landings;
  const leftMainPa = new Float32Array(size);
  const thirdPa = new Float32Array(size);
  const temperatureK = new Float32Array(size);
  const strip = new Uint16Array(size);
  const checked = new Uint8Array(landings);
  let offset = 0;
  await watchTrials(scenario, request, {
    everyLanding: false,
    begin(trial) {
      offset = trial * landings;
    },
    see({ run, draws, ground, from, to }: WatchedSpan) {
      const left = run.wheels[0]!;
      const third = run.wheels[2]!;
      const first = draws.firstLanding;
      for (let j = from; j < to && first + j < landings; j++) {
        const at = offset + first + j;
        leftMainPa[at] = left.track.data[TRACK.gaugePa + j]!;
        thirdPa[at] = third.track.data[TRACK.gaugePa + j]!;
        temperatureK[at] = draws.data[DRAW.temperatureK + j]!;
        strip[at] = ground.strip[j]!;
        if (left.track.data[TRACK.reading + j]! > 0) checked[first + j] = 1;
      }
    },
    end() {
      // Every trial covers the whole season.
    },
  });
  const { mainPa, thirdPa: thirdColdPa } = scenario.setups.find(({ name }) => name === request.setup)!;
  return {
    setup: request.setup,
    mix: request.mix,
    trials,
    landings,
    day: scenario.calendar.day,
    checked,
    leftMainPa,
    thirdPa,
    temperatureK,
    strip,
    mainColdPa: mainPa,
    thirdColdPa,
  };
}
