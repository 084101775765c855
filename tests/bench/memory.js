// Peak memory of a million trials, in a process of its own.
//
//   node memory.js TRIALS WORKERS
//
// What a run keeps grows with its trials, not with the landings in them. So that a million trials do not take an hour,
// their lives are cut short: a season of two landings and a horizon of one year, with the first set-up on gravel.
import { fileURLToPath } from 'node:url';
import { runScenario } from '../../dist/run.js';
import { compileScenario } from '../../dist/scenario/compile.js';
import { parseScenario } from '../../dist/scenario/read.js';

const [trials, workers] = process.argv.slice(2).map(Number);
const variant = {
  name: 'A million short trials',
  extends: './mixed-season.json',
  season: { months: [{ month: 'June', landings: '2', flightHours: '2 h', temperature: '14 degC' }] },
  run: { horizon: '1 year' },
};
const folder = fileURLToPath(new URL('../../scenarios', import.meta.url));
const { scenario } = parseScenario(JSON.stringify(variant), 'memory variant', folder);
const { simulation } = await runScenario(compileScenario(scenario), {
  trials,
  workers,
  pairings: [{ setup: 0, mix: 1 }],
});
const landings = simulation.pairings[0].columns.simulatedLandings.reduce((sum, value) => sum + value, 0);
// maxRSS is in kilobytes: Node.js documentation, process.resourceUsage().
console.log(JSON.stringify({ trials, landings, peakBytes: process.resourceUsage().maxRSS * 1024 }));
