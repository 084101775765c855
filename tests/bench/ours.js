// One timed run of lib/simulate at the median world, in a process of its own, like those of the other programs.
//
//   node ours.js PAIRING,PAIRING,... TRIALS
import { performance } from 'node:perf_hooks';
import { allPairings, Simulator } from '../../dist/simulate/trials.js';
import { benchmarkScenario, medianWorlds } from './input.js';

/** The engine compiles the loop while it runs; a real run is much longer than this start, which is timed apart. */
const WARM_UP_LANDINGS = 500_000;
const WARM_UP_FIRST_TRIAL = 1_000_000;

const FIGURES = [
  'cordsLandings',
  'lifeLandings',
  'thirdLifeLandings',
  'flatsHazard',
  'treadHazard',
  'sidewallHazard',
  'pinchHazard',
  'anyFlatHazard',
  'flats',
  'beadSlips',
  'leaks',
  'checksLow',
  'wetPavedLandings',
  'hydroplaningLandings',
  'tailHits',
  'mainsFitted',
  'downDays',
  'cost',
  'spinUpWornM3',
  'brakingWornM3',
  'pivotWornM3',
  'squirmWornM3',
  'scrubWornM3',
];

const [numbers, trials] = [process.argv[2].split(',').map(Number), Number(process.argv[3])];
const scenario = benchmarkScenario();
const pairings = allPairings(scenario);
const simulator = new Simulator(
  scenario,
  numbers.map((index) => pairings[index]),
  medianWorlds(scenario),
);

const warmUpStart = processorSeconds();
let warmUpLandings = 0;
for (let trial = WARM_UP_FIRST_TRIAL; warmUpLandings < WARM_UP_LANDINGS; trial++) {
  warmUpLandings += landingsIn(simulator.runRange({ firstTrial: trial, trials: 1, step: 1, luck: 0 }));
}
const warmUpSeconds = processorSeconds() - warmUpStart;

const cpuStart = processorSeconds();
const start = performance.now();
const tables = simulator.runRange({ firstTrial: 0, trials, step: 1, luck: 0 });
const seconds = (performance.now() - start) / 1000;
const cpuSeconds = processorSeconds() - cpuStart;

const answer = tables.map(({ columns }) =>
  Object.fromEntries(FIGURES.map((name) => [name, meanAndError(figure(columns, name))])),
);
console.log(
  JSON.stringify({
    seconds,
    cpuSeconds,
    landings: landingsIn(tables),
    warmUp: { cpuSeconds: warmUpSeconds, landings: warmUpLandings },
    pairings: answer,
  }),
);

/** Processor time of all threads of the process, so compiling and collecting garbage count. */
function processorSeconds() {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

/** A tire that never shows cords within the horizon counts as the horizon, here as in the other programs. */
function figure(columns, name) {
  const values = Array.from(columns[name]);
  if (name !== 'cordsLandings') return values;
  return values.map((landings, trial) => (landings < 0 ? columns.followedLandings[trial] : landings));
}

function landingsIn(tables) {
  return tables.reduce(
    (sum, { columns }) => sum + columns.simulatedLandings.reduce((part, value) => part + value, 0),
    0,
  );
}

function meanAndError(values) {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return [mean, Math.sqrt(squares / (values.length - 1) / values.length)];
}
