import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { makeReport } from '../../dist/report/report.js';
import { runScenario } from '../../dist/run.js';
import { compileScenario } from '../../dist/scenario/compile.js';
import { parseScenario } from '../../dist/scenario/read.js';

/** Names that would run, break out or overflow where they are not escaped. */
export const SCRIPT_NAME = '<script>alert(1)</script>';
export const IMAGE_NAME = '"><img src=x onerror=alert(1)>';
export const LONG_NAME = 'x'.repeat(60);
export const MIX_NAME = "'-alert(1)-' onmouseover='alert(2)' & more";
export const TITLE = '</title></style></script><script>alert(3)</script><svg onload=alert(4)>';
export const SOURCE = '<a href="javascript:alert(5)">gauge</a> --> <!-- ]]> </table> javascript:alert(6)';

const RIGID = {
  mainTire: 'rigid 26 deep',
  mainPressure: '25 psi',
  thirdTire: 'nose 8.50-6',
  thirdPressure: '25 psi',
};

/** A scenario whose every text tries something. */
const SCENARIO = {
  name: TITLE,
  note: SOURCE,
  airplane: IMAGE_NAME,
  airplanes: { [IMAGE_NAME]: { like: 'reference four-seater', source: SOURCE } },
  tires: { [SCRIPT_NAME]: { like: 'soft 29', source: SOURCE } },
  surfaces: { [IMAGE_NAME]: { like: 'gravel', source: SOURCE } },
  strips: { [SCRIPT_NAME]: { like: 'valley gravel', rollout: IMAGE_NAME, source: SOURCE } },
  setups: {
    [SCRIPT_NAME]: { ...RIGID, mainTire: SCRIPT_NAME, mainPressure: '9 psi', note: SOURCE },
    [IMAGE_NAME]: RIGID,
    [LONG_NAME]: { ...RIGID, mainPressure: '28 psi' },
  },
  mixes: { [MIX_NAME]: { 'home pavement': '50 %', [SCRIPT_NAME]: '50 %' } },
  assumptions: { abradability: { value: '0.1 mm3/J', source: SOURCE, note: SCRIPT_NAME } },
  costs: {
    currency: '<b>&</b>',
    tube: '90',
    tireChange: '160',
    patch: '25',
    rescue: '3500',
    downDay: '700',
    source: SOURCE,
  },
  fleet: {
    airplanes: {
      [IMAGE_NAME]: { mix: MIX_NAME, gearSets: [SCRIPT_NAME, LONG_NAME], count: '2' },
      [SCRIPT_NAME]: { mix: MIX_NAME, gearSets: [IMAGE_NAME] },
    },
    swap: { price: '420', daysLost: '0.5 days', months: ['June', 'July'] },
    source: SOURCE,
  },
  today: { setup: IMAGE_NAME, mix: MIX_NAME, flightHours: '20 h', readings: [], note: SOURCE },
  run: { trials: 120, seed: IMAGE_NAME },
};

const { scenario } = parseScenario(JSON.stringify(SCENARIO));

/** The report of the scenario with hard names. */
export async function hardReport(workers?: number): Promise<string> {
  const run = await runScenario(compileScenario(scenario), { workers });
  return makeReport(scenario, run, { workers });
}

/** Writes the report into a folder and gives its address. */
export async function writeHardReport(folder: string): Promise<string> {
  const file = join(folder, 'report.html');
  writeFileSync(file, await hardReport());
  return pathToFileURL(file).href;
}
