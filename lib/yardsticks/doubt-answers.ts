import { varianceParts } from '../estimate/variance-parts.js';
import { exp, log } from '../numeric/elementary.js';
import { standardNormalQuantile } from '../numeric/normal.js';
import { TWIN_EVERY } from '../simulate/simulate.js';
import { measuredSpread } from './measure.js';
import { quietLanding } from './quiet-landing.js';
import { runQuiet } from './quiet-run.js';
import { fixed, inDoubt, monthOf, quietScenario } from './quiet-scenario.js';
import { answer, type Yardstick } from './yardstick.js';

const MAIN_TIRES = 2;
const SEASON = 200;
const TOTAL_VARIANCE = 'law of total variance';

/** Standard deviation of the logarithm of a lognormal value, from its tenth and ninetieth percentile. */
function sigmaOf(p10: number, p90: number): number {
  return log(p90 / p10) / (2 * standardNormalQuantile(0.9));
}

function everyTwinned(values: Float64Array, twins: number): Float64Array {
  return Float64Array.from({ length: twins }, (_, row) => values[row * TWIN_EVERY]!);
}

/** One lognormal assumption and nothing else: all spread is ignorance. */
export const ignoranceAlone: Yardstick = async (run) => {
  const scenario = quietScenario(
    run.seed,
    {
      assumptions: { abradability: inDoubt('lognormal', '0.07 mm3/J', '0.14 mm3/J') },
      tires: { plain: { newTread: '2 mm', undertread: '0.1 mm' } },
      season: { months: [monthOf('July', 60)] },
    },
    ['assumptions.abradability'],
  );
  const { columns, twins } = await runQuiet(scenario, run);
  // A life that ends within a landing counts to its end: half a landing is the mean of what is rounded up.
  const logLife = (landings: Int32Array): Float64Array =>
    Float64Array.from(landings, (count) => log(count - 0.5));
  const lives = logLife(columns.lifeLandings);
  const twinLives = logLife(twins.lifeLandings);
  const parts = varianceParts(everyTwinned(lives, twinLives.length), twinLives);
  const sigma = sigmaOf(0.07, 0.14);
  const about = {
    topic: 'doubt',
    source: 'a product keeps the spread of the logarithm of its lognormal factor',
    unit: 'spread of ln life',
  } as const;
  return [
    answer(
      run,
      {
        ...about,
        name: 'spread of life by ignorance of wear',
        formula: 'life is tread over wear: the logarithm of life spreads as that of abradability',
      },
      sigma,
      measuredSpread(lives),
    ),
    answer(
      { ...run, trials: twinLives.length },
      {
        ...about,
        name: 'luck where every landing is alike',
        formula: 'a world lived twice gives the same life: no luck at all',
        source: TOTAL_VARIANCE,
      },
      0,
      { estimate: parts.luckStandardDeviation, standardError: parts.luckStandardError },
    ),
  ];
};

/** Mean of a function of a standard normal value: the trapezoidal rule converges beyond all powers here. */
function normalMean(value: (z: number) => number): number {
  const step = 0.01;
  let sum = 0;
  let weights = 0;
  for (let z = -9; z <= 9; z += step) {
    const weight = exp(-0.5 * z * z);
    sum += weight * value(z);
    weights += weight;
  }
  return sum / weights;
}

/** Punctures in worlds that differ in stones: luck within, ignorance between. */
export const luckAndIgnorance: Yardstick = async (run) => {
  const changes = {
    assumptions: { abradability: fixed('0 mm3/J') },
    season: { months: [monthOf('July', SEASON)] },
    run: { horizon: '1 year' },
  };
  const scenario = quietScenario(
    run.seed,
    { ...changes, surfaces: { plain: { sharpStones: inDoubt('lognormal', '0.2 /m2', '0.6 /m2') } } },
    ['surfaces.plain.sharpStones'],
  );
  const { columns, twins } = await runQuiet(scenario, run);
  const counts = Float64Array.from(columns.mainsPunctured);
  const twinCounts = Float64Array.from(twins.mainsPunctured);
  const parts = varianceParts(everyTwinned(counts, twinCounts.length), twinCounts);
  // The median of the density gives the hazard; it is proportional to the density.
  const { punctures } = quietLanding(scenario);
  const sigma = sigmaOf(0.2, 0.6);
  const flats = MAIN_TIRES * SEASON;
  const chance = (z: number): number => 1 - exp(-punctures * exp(sigma * z));
  const meanChance = normalMean(chance);
  const luck = Math.sqrt(flats * normalMean((z) => chance(z) * (1 - chance(z))));
  const ignorance = flats * Math.sqrt(normalMean((z) => (chance(z) - meanChance) ** 2));
  const about = { topic: 'doubt', source: TOTAL_VARIANCE, unit: 'flats' } as const;
  const twinned = { ...run, trials: twinCounts.length };
  return [
    answer(
      twinned,
      {
        ...about,
        name: 'luck of punctures in a season',
        formula: 'binomial variance, averaged over worlds with a lognormal density of stones; its root',
      },
      luck,
      { estimate: parts.luckStandardDeviation, standardError: parts.luckStandardError },
    ),
    answer(
      twinned,
      {
        ...about,
        name: 'ignorance of punctures in a season',
        formula: 'variance between these worlds of the expected number; its root',
      },
      ignorance,
      { estimate: parts.ignoranceStandardDeviation, standardError: parts.ignoranceStandardError },
    ),
  ];
};
