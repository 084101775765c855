import { parseLogbook, parseScenario, type Logbook, type Scenario } from '../../lib/index.js';

/** A small log that is right: two tires after one another on the left, one on the right, readings, checks and a cut. */
export const SMALL: Readonly<Record<string, string>> = {
  'tires.csv': `tire,airplane,position,setup,fitted,removed,cause
L1,mine,left main,soft,2024-05-01,2024-06-20,worn
L2,mine,left main,soft,2024-06-20,,
R1,mine,right main,soft,2024-05-01,,
N1,mine,nose,soft,2024-05-01,,
`,
  'readings.csv': `tire,date,band,groove [mm],error [mm],step [mm]
L1,2024-05-01,centre,3.0,0.1,0.1
L1,2024-06-01,centre,1.5,0.1,0.1
L1,2024-06-01,worst spot,1.2,0.1,0.1
R1,2024-06-01,centre,1.8,0.1,0.1
`,
  'flights.csv': `airplane,date,strip,landings,hours [h]
mine,2024-05-03,home pavement,3,2.5
mine,2024-05-20,valley gravel,2,1.5
mine,2024-06-01,valley gravel,4,3.0
mine,2024-06-20,home pavement,5,4.0
mine,2024-06-21,home pavement,1,0.5
`,
  'pressure.csv': `airplane,position,date,found [psi],set [psi],temperature [degC],elevation [ft]
mine,left main,2024-05-20,8.5,9.0,15,300
mine,nose,2024-05-20,17,18,15,300
`,
  'cuts.csv': `tire,date,depth [mm],place
R1,2024-06-01,2.5,tread
`,
};

/** What describes it. */
export const DESCRIPTION = {
  name: 'small',
  note: 'Invented.',
  firstDay: '2024-05-01',
  lastDay: '2024-07-01',
  leastCutDepth: '2 mm',
  tires: { file: 'tires.csv' },
  readings: { file: 'readings.csv' },
  flights: { file: 'flights.csv' },
  pressure: { file: 'pressure.csv' },
  cuts: { file: 'cuts.csv' },
} as const;

export const SCENARIO: Scenario = parseScenario(
  JSON.stringify({
    name: 'small',
    setups: {
      soft: { mainTire: 'soft 29', mainPressure: '9 psi', thirdTire: 'nose 8.50-6', thirdPressure: '18 psi' },
    },
    mixes: { home: { 'home pavement': '100 %' } },
  }),
).scenario;

/** Reads the small log with some files or parts of the description replaced. */
export function readSmall(
  files: Readonly<Record<string, string>> = {},
  description: Readonly<Record<string, unknown>> = {},
  scenario: Scenario | null = SCENARIO,
): Logbook {
  const text = JSON.stringify({ ...DESCRIPTION, ...description }, null, 1);
  return parseLogbook(text, { ...SMALL, ...files }, scenario === null ? {} : { scenario }, 'log.json');
}

/** A file of the small log with one piece of text replaced; the piece must be there. */
export function changed(file: string, piece: string, by: string): Record<string, string> {
  const text = SMALL[file]!;
  if (!text.includes(piece)) throw new Error(`${file} has no ${piece}`);
  return { [file]: text.replace(piece, by) };
}
