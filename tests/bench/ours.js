// One timed run of lib/simulate at the median world, in a process of its own, like those of the other programs.
//
//   node ours.js FIRST_PAIRING PAIRINGS TRIALS
import { performance } from 'node:perf_hooks';
import { allPairings, Simulator } from '../../dist/simulate/trials.js';
import { horizonLandings } from '../../dist/simulate/pairing-run.js';
import { benchmarkScenario, medianWorlds } from './input.js';

const WARM_UP_TRIALS = 20;
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

const [firstPairing, pairingCount, trials] = process.argv.slice(2).map(Number);
const scenario = benchmarkScenario();
const pairings = allPairings(scenario).slice(firstPairing, firstPairing + pairingCount);
const simulator = new Simulator(scenario, pairings, medianWorlds(scenario));
// The engine compiles the loop while it runs; a real run is long, so that start is left out of the time.
simulator.runRange({ firstTrial: WARM_UP_FIRST_TRIAL, trials: WARM_UP_TRIALS, step: 1, luck: 0 });

const cpuStart = process.cpuUsage();
const start = performance.now();
const tables = simulator.runRange({ firstTrial: 0, trials, step: 1, luck: 0 });
const seconds = (performance.now() - start) / 1000;
const { user, system } = process.cpuUsage(cpuStart);

const horizon = horizonLandings(scenario);
let landings = 0;
for (const { columns } of tables) landings += columns.simulatedLandings.reduce((sum, value) => sum + value, 0);
const answer = tables.map(({ columns }) =>
  Object.fromEntries(
    FIGURES.map((name) => {
      const values = Array.from(columns[name]);
      // A tire that never shows cords within the horizon counts as the horizon, here as in the other programs.
      return [name, meanAndError(name === 'cordsLandings' ? values.map((n) => (n < 0 ? horizon : n)) : values)];
    }),
  ),
);
console.log(JSON.stringify({ seconds, cpuSeconds: (user + system) / 1e6, landings, pairings: answer }));

function meanAndError(values) {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  return [mean, Math.sqrt(squares / (values.length - 1) / values.length)];
}
