// One timed run of simulate() as a user would call it, worlds drawn and twins run, in a process of its own.
//
//   node pool.js TRIALS WORKERS
import { performance } from 'node:perf_hooks';
import { simulate } from '../../dist/simulate/simulate.js';
import { benchmarkScenario } from './input.js';

const [trials, workers] = process.argv.slice(2).map(Number);
const scenario = benchmarkScenario();
const start = performance.now();
const cpuStart = process.cpuUsage();
const { pairings, twins } = await simulate(scenario, { trials, workers });
const seconds = (performance.now() - start) / 1000;
const { user, system } = process.cpuUsage(cpuStart);
let landings = 0;
for (const { columns } of [...pairings, ...twins]) {
  landings += columns.simulatedLandings.reduce((sum, value) => sum + value, 0);
}
console.log(JSON.stringify({ seconds, cpuSeconds: (user + system) / 1e6, landings }));
