import { poissonCdf, regularizedGammaP } from '../numeric/special.js';
import { measuredMean, measuredSpread } from './measure.js';
import { quietLanding } from './quiet-landing.js';
import { runQuiet } from './quiet-run.js';
import { fixed, monthOf, quietScenario, type ScenarioPart } from './quiet-scenario.js';
import { answer, type Yardstick } from './yardstick.js';

const MM_PER_M = 1000;
const ALIKE_TRIALS = 4;
/** Variation of wear from landing to landing: a gamma law of shape 1 / 0.5^2. */
const SPREAD = 0.5;
const SHAPE = 4;
/** Tread over the mean wear of a landing. */
const LANDINGS_OF_TREAD = 25;
const RENEWED_LANDINGS_OF_TREAD = 10;
const RENEWED_SEASON = 500;
/** Tails of sums are left out where they are below this. */
const NEGLIGIBLE = 1e-15;

/** A quiet scenario with tread for a number of mean landings, and little below it. */
function thinTread(seed: string, landings: number, wornM: number, changes: { [key: string]: ScenarioPart }) {
  return quietScenario(seed, {
    ...changes,
    tires: { plain: { newTread: `${landings * wornM * MM_PER_M} mm`, undertread: '0.02 mm' } },
  });
}

/** Every landing takes the same: the life is a division. */
export const constantWear: Yardstick = async (run) => {
  const scenario = quietScenario(run.seed, {});
  const { columns } = await runQuiet(scenario, { ...run, trials: ALIKE_TRIALS });
  const { newTreadM } = scenario.setups[0]!.main;
  const { wornM } = quietLanding(scenario);
  const exact = Math.ceil((newTreadM - scenario.habits.treadLimitM) / wornM);
  return [
    answer(
      { ...run, trials: ALIKE_TRIALS },
      {
        name: 'life when every landing wears alike',
        topic: 'wear',
        formula: 'groove depth above the limit over wear per landing, rounded up',
        source: 'arithmetic; wear per landing put together from the models, without the landing loop',
        unit: 'landings',
      },
      exact,
      measuredMean(columns.lifeLandings),
    ),
  ];
};

/** Chance that the tread lasts longer than n landings, n = 0, 1, 2 ... until it is negligible. */
function lastsLonger(): number[] {
  const chances = [1];
  for (let n = 1; chances[n - 1]! > NEGLIGIBLE; n++) {
    chances.push(regularizedGammaP(SHAPE * n, SHAPE * LANDINGS_OF_TREAD));
  }
  return chances;
}

/** Wear that varies from landing to landing: first passage of a gamma process. */
export const randomWear: Yardstick = async (run) => {
  const { wornM } = quietLanding(quietScenario(run.seed, {}));
  const scenario = thinTread(run.seed, LANDINGS_OF_TREAD, wornM, {
    assumptions: { landingWearSpread: fixed(String(SPREAD)) },
    season: { months: [monthOf('July', 60)] },
  });
  const { columns } = await runQuiet(scenario, run);
  const chances = lastsLonger();
  const meanLife = chances.reduce((sum, chance) => sum + chance, 0);
  const square = chances.reduce((sum, chance, n) => sum + (2 * n + 1) * chance, 0);
  const law = 'van Noortwijk, Reliability Engineering and System Safety 94 (2009), from memory';
  const lasts = 'a tread lasts longer than n landings if n gamma steps together stay below it';
  return [
    answer(
      run,
      {
        name: 'mean life when wear varies',
        topic: 'wear',
        formula: `${lasts}; the chances, added up over n`,
        source: law,
        unit: 'landings',
      },
      meanLife,
      measuredMean(columns.lifeLandings),
    ),
    answer(
      run,
      {
        name: 'spread of life when wear varies',
        topic: 'wear',
        formula: `${lasts}; standard deviation from the same chances`,
        source: law,
        unit: 'landings',
      },
      Math.sqrt(square - meanLife * meanLife),
      measuredSpread(columns.lifeLandings),
    ),
  ];
};

/** Sets fitted in a season by the renewal equation, for exponential steps. */
function expectedRenewals(): number {
  const chance = (n: number): number =>
    poissonCdf(n - 1, RENEWED_LANDINGS_OF_TREAD) -
    (n === 1 ? 0 : poissonCdf(n - 2, RENEWED_LANDINGS_OF_TREAD));
  const chances = Array.from({ length: RENEWED_SEASON + 1 }, (_, n) => (n === 0 ? 0 : chance(n)));
  const renewals = new Float64Array(RENEWED_SEASON + 1);
  for (let n = 1; n <= RENEWED_SEASON; n++) {
    for (let j = 1; j <= n; j++) renewals[n]! += chances[j]! * (1 + renewals[n - j]!);
  }
  return renewals[RENEWED_SEASON]!;
}

/** Tires changed again and again in a long season. */
export const renewedTires: Yardstick = async (run) => {
  const { wornM } = quietLanding(quietScenario(run.seed, {}));
  const scenario = thinTread(run.seed, RENEWED_LANDINGS_OF_TREAD, wornM, {
    assumptions: { landingWearSpread: fixed('1') },
    season: { months: [monthOf('July', RENEWED_SEASON)] },
  });
  const { columns } = await runQuiet(scenario, run);
  const sets = Float64Array.from(columns.mainsFitted, (tires) => tires / 2);
  return [
    answer(
      run,
      {
        name: 'sets fitted in a long season',
        topic: 'wear',
        formula: 'expected sets m(n) = sum over the first life j of its chance times 1 + m(n - j)',
        source: 'renewal equation: Cox, Renewal Theory (1962), from memory',
        unit: 'sets',
      },
      expectedRenewals(),
      measuredMean(sets),
    ),
  ];
};
