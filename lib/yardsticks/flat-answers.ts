import { exp } from '../numeric/elementary.js';
import { PUNCTURED } from '../simulate/columns.js';
import { measuredShare } from './measure.js';
import { quietLanding } from './quiet-landing.js';
import { runQuiet } from './quiet-run.js';
import { fixed, monthOf, quietScenario } from './quiet-scenario.js';
import { mean } from '../estimate/moments.js';
import { answer, type Yardstick } from './yardstick.js';

const MAIN_TIRES = 2;
const SEASON = 200;
/** Ten mean lives and more: none is seen to reach its end. */
const LONG_SEASON = 450;
/** Nothing wears, so that the chance of a flat stays what it is. */
const NO_WEAR = { abradability: fixed('0 mm3/J') };
const ONE_SEASON = { horizon: '1 year' };

/** A chance in every landing: the landing of the first flat is geometric. */
export const firstPuncture: Yardstick = async (run) => {
  const scenario = quietScenario(run.seed, {
    assumptions: NO_WEAR,
    surfaces: { plain: { sharpStones: fixed('0.7 /m2') } },
    season: { months: [monthOf('July', LONG_SEASON)] },
    run: ONE_SEASON,
  });
  const { columns } = await runQuiet(scenario, run);
  const spared = exp(-MAIN_TIRES * quietLanding(scenario).punctures);
  return [
    answer(
      run,
      {
        name: 'landings to the first puncture',
        topic: 'flats',
        formula: 'one over the chance that a landing punctures either main tire',
        source: 'geometric law: Feller, An Introduction to Probability Theory I, from memory',
        unit: 'landings',
      },
      1 / (1 - spared),
      {
        estimate: mean(columns.lifeLandings),
        standardError: Math.sqrt(spared / run.trials) / (1 - spared),
      },
    ),
  ];
};

/** The mean of a count of flats on main tires, binomial over landings and tires. */
function countOfFlats(
  counts: ArrayLike<number>,
  chance: number,
): { estimate: number; standardError: number } {
  return {
    estimate: mean(counts),
    standardError: Math.sqrt((MAIN_TIRES * SEASON * chance * (1 - chance)) / counts.length),
  };
}

/** Punctures of a season, each followed by a new tire. */
export const puncturesInSeason: Yardstick = async (run) => {
  const scenario = quietScenario(run.seed, {
    assumptions: NO_WEAR,
    surfaces: { plain: { sharpStones: fixed('0.3 /m2') } },
    season: { months: [monthOf('July', SEASON)] },
    run: ONE_SEASON,
  });
  const { columns } = await runQuiet(scenario, run);
  const chance = 1 - exp(-quietLanding(scenario).punctures);
  return [
    answer(
      run,
      {
        name: 'punctures of main tires in a season',
        topic: 'flats',
        formula: 'landings times two tires times the chance of a stone through rubber and carcass',
        source: 'binomial mean; bites by a Pareto law of exponent 3 (assumption of the model)',
        unit: 'flats',
      },
      MAIN_TIRES * SEASON * chance,
      countOfFlats(columns.mainsPunctured, chance),
    ),
  ];
};

/** Pinch flats of a season. */
export const pinchesInSeason: Yardstick = async (run) => {
  const scenario = quietScenario(run.seed, {
    assumptions: NO_WEAR,
    surfaces: { plain: { rockEdges: fixed('0.001 /m'), edgeHeight: fixed('12 mm') } },
    season: { months: [monthOf('July', SEASON)] },
    run: ONE_SEASON,
  });
  const { columns } = await runQuiet(scenario, run);
  const chance = 1 - exp(-quietLanding(scenario).pinches);
  return [
    answer(
      run,
      {
        name: 'pinch flats of main tires in a season',
        topic: 'flats',
        formula: 'rock edges met, times the chance that one stands higher than the height left above the rim',
        source: 'binomial mean; deflection by the formulas of NASA TR R-64, from memory',
        unit: 'flats',
      },
      MAIN_TIRES * SEASON * chance,
      countOfFlats(columns.mainsPressure, chance),
    ),
  ];
};

/** Two clocks: which strikes first. */
export const competingEnds: Yardstick = async (run) => {
  const scenario = quietScenario(run.seed, {
    assumptions: NO_WEAR,
    surfaces: {
      plain: { sharpStones: fixed('0.7 /m2'), rockEdges: fixed('0.002 /m'), edgeHeight: fixed('12 mm') },
    },
    season: { months: [monthOf('July', LONG_SEASON)] },
    run: ONE_SEASON,
  });
  const { columns } = await runQuiet(scenario, run);
  const { punctures, pinches } = quietLanding(scenario);
  // A puncture counts before a pinch in the same landing.
  const chance = (1 - exp(-punctures)) / (1 - exp(-punctures - pinches));
  return [
    answer(
      run,
      {
        name: 'lives ended by a puncture, not a pinch',
        topic: 'ends',
        formula: 'chance of a puncture in a landing over the chance of either',
        source: 'competing exponential clocks: Cox and Oakes, Analysis of Survival Data (1984), from memory',
        unit: 'share',
      },
      chance,
      measuredShare(columns.lifeCause, (cause) => cause === PUNCTURED, chance),
    ),
  ];
};
