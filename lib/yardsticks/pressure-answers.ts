import { mean } from '../estimate/moments.js';
import { SEA_LEVEL_PRESSURE_PA } from '../models/atmosphere.js';
import { exp } from '../numeric/elementary.js';
import { normalCdf } from '../numeric/special.js';
import { SECONDS_PER_DAY } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { recordPressures } from '../simulate/pressure-histories.js';
import { WHEELS } from '../simulate/clocks.js';
import { LOW_READING_SHARE } from '../simulate/counts.js';
import { medianWorld } from '../simulate/world.js';
import { measuredMean, measuredShare } from './measure.js';
import { runQuiet } from './quiet-run.js';
import { fixed, inDoubt, monthOf, quietScenario } from './quiet-scenario.js';
import { answer, type Yardstick, type YardstickRun } from './yardstick.js';

const PA_PER_PSI = 6894.757293168;
/** Nothing wears, and nothing is followed beyond the season. */
const NO_WEAR = { abradability: fixed('0 mm3/J') };
const ONE_SEASON = { horizon: '1 year' };
/** A season of 153 days without a check. */
const SUMMER = ['May', 'June', 'July', 'August', 'September'].map((month) => monthOf(month, 10));

/** Gauge pressure of the left main tire in the last landing of the season, Pa, trial by trial. */
async function lastPressures(
  scenario: CompiledScenario,
  { trials, onProgress, signal }: YardstickRun,
): Promise<Float32Array> {
  const request = { setup: 'only', mix: 'only', trials, onProgress, signal };
  const { landings, leftMainPa } = await recordPressures(scenario, request);
  return leftMainPa.filter((_, index) => index % landings === landings - 1);
}

/** Air that goes through the tube all season. */
export const permeation: Yardstick = async (run) => {
  const scenario = quietScenario(
    run.seed,
    {
      assumptions: {
        ...NO_WEAR,
        tubePermeation: fixed('5 %/month'),
        gaugeBias: inDoubt('normal', '-0.5 psi', '0.5 psi'),
      },
      season: { months: SUMMER },
      run: ONE_SEASON,
    },
    ['assumptions.gaugeBias'],
  );
  const last = await lastPressures(scenario, run);
  const perDay = medianWorld(scenario)[scenario.global.tubePermeation]! * SECONDS_PER_DAY;
  const { day } = scenario.calendar;
  const days = day[day.length - 1]! - day[0]!;
  return [
    answer(
      run,
      {
        name: 'pressure left at the end of a season',
        topic: 'pressure',
        formula:
          'cold setting times e to the minus rate times days; gauges that read wrong cancel on average',
        source: 'exponential loss of excess pressure through a thin wall (Fick)',
        unit: 'psi',
      },
      (scenario.setups[0]!.mainPa / PA_PER_PSI) * exp(-perDay * days),
      measuredMean(Float64Array.from(last, (pressurePa) => pressurePa / PA_PER_PSI)),
    ),
  ];
};

/** Air colder than when the tire was set. */
export const coldAir: Yardstick = async (run) => {
  const scenario = quietScenario(run.seed, {
    assumptions: NO_WEAR,
    season: { months: SUMMER, temperatureSpread: '8 degC' },
    run: ONE_SEASON,
  });
  const last = await lastPressures(scenario, run);
  const { calendar, setups, temperatureSpreadK } = scenario;
  const coldPa = setups[0]!.mainPa;
  const lowPa = LOW_READING_SHARE * coldPa;
  const ratio = (lowPa + SEA_LEVEL_PRESSURE_PA) / (coldPa + SEA_LEVEL_PRESSURE_PA);
  const meanK = calendar.temperatureK[0]!;
  const chance = normalCdf(((ratio - 1) * meanK) / (temperatureSpreadK * Math.sqrt(1 + ratio * ratio)));
  return [
    answer(
      run,
      {
        name: 'chance that cold air makes a tire low',
        topic: 'pressure',
        formula:
          'chance that the ratio of two air temperatures, now and when set, falls under that of the pressures',
        source: 'ideal gas; ratio of two normal values: Fieller, Biometrika 24 (1932), from memory',
        unit: 'share',
      },
      chance,
      measuredShare(last, (pressurePa) => pressurePa < lowPa, chance),
    ),
  ];
};

/** Slow leaks that begin, on all wheels. */
export const slowLeaks: Yardstick = async (run) => {
  const scenario = quietScenario(run.seed, {
    assumptions: { ...NO_WEAR, slowLeaks: fixed('6 /year') },
    season: { months: SUMMER },
    run: ONE_SEASON,
  });
  const { columns } = await runQuiet(scenario, run);
  const perDay = medianWorld(scenario)[scenario.global.slowLeaks]! * SECONDS_PER_DAY;
  // The tires are fitted just before the first landing.
  const chances = Array.from(scenario.calendar.gapDays.subarray(1), (days) => 1 - exp(-perDay * days));
  const sum = (term: (chance: number) => number): number =>
    WHEELS * chances.reduce((total, chance) => total + term(chance), 0);
  return [
    answer(
      run,
      {
        name: 'slow leaks that begin in a season',
        topic: 'pressure',
        formula: 'three wheels times the chances, gap by gap, of a leak that begins at a constant rate',
        source:
          'Poisson process seen at landings: Feller, An Introduction to Probability Theory I, from memory',
        unit: 'leaks',
      },
      sum((chance) => chance),
      {
        estimate: mean(columns.leaks),
        standardError: Math.sqrt(sum((chance) => chance * (1 - chance)) / run.trials),
      },
    ),
  ];
};
