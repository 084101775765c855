/** Files of a small invented log and its scenario, for commands: few numbers in doubt, so that a fit takes a second. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { shipped } from './command.js';

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** Assumptions left in doubt; all others are held at one value. */
const DOUBTED = [
  'assumptions.abradability',
  'assumptions.tubePermeation',
  'surfaces.gravel.wearFactor',
  'surfaces.gravel.sharpStones',
  'surfaces.turf.wearFactor',
  'habits.brakedShare',
];

/** The sections of the defaults that hold assumptions, with all but a few of these without doubt. */
function withoutDoubt(value: Json, path: string): Json | undefined {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return undefined;
  if ('distribution' in value) {
    if (DOUBTED.includes(path)) return undefined;
    const { p10, p90, min, max, mode } = value;
    const [low, high] = [p10 ?? min, p90 ?? max] as [string, string];
    return { value: typeof mode === 'string' ? mode : halfway(low, high), source: 'test: not in doubt' };
  }
  const kept = Object.entries(value).flatMap(([key, member]) => {
    const fixed = withoutDoubt(member, path === '' ? key : `${path}.${key}`);
    return fixed === undefined ? [] : [[key, fixed] as const];
  });
  return kept.length === 0 ? undefined : Object.fromEntries(kept);
}

/** Geometric mean of two quantities in the same unit, arithmetic where one of them is not above 0. */
function halfway(low: string, high: string): string {
  const [a, b] = [low, high].map((text) => Number(/^[-\d.e]+/i.exec(text)![0])) as [number, number];
  const unit = low.replace(/^[-\d.e]+/i, '');
  const middle = a > 0 ? Math.sqrt(a * b) : (a + b) / 2;
  return `${middle.toPrecision(6)}${unit}`;
}

const SETUP = { mainTire: 'rigid 29 deep', thirdTire: 'nose 8.50-6', thirdPressure: '25 psi' };

/** The scenario of the log, as it stands in its file. */
export const FIT_SCENARIO = {
  ...(withoutDoubt(JSON.parse(readFileSync(shipped('defaults.json'), 'utf8')) as Json, '') as object),
  name: 'small fleet',
  note: 'Invented data.',
  setups: {
    'at 25 psi': { ...SETUP, mainPressure: '25 psi' },
    'at 30 psi': { ...SETUP, mainPressure: '30 psi' },
  },
  mixes: {
    paved: { 'home pavement': '100 %' },
    mixed: { 'home pavement': '60 %', 'valley gravel': '40 %' },
  },
};

/** Groove of a new tire of the scenario, mm, and what a landing wears off it in the log, mm. */
const NEW_MM = 9;
const WORN_MM = { paved: 0.0066, gravel: 0.0122 };

/** Landings of an airplane in a month. */
const LANDINGS = 120;
const MONTHS = ['05', '06', '07', '08', '09'];
const AIRPLANES = ['A', 'B', 'C'] as const;
/** Departures of readings from the line, mm, so that they scatter about as much as stated. */
const SCATTER = [
  0.1, -0.12, 0.05, 0.14, -0.08, -0.03, 0.11, -0.15, 0.02, -0.05, 0.07, 0.09, -0.1, 0.04, -0.06,
];

/** The CSV files of the log and what describes them, by name. */
export function fitLogFiles(): Record<string, string> {
  const tires = AIRPLANES.flatMap((airplane) => [
    `L${airplane},${airplane},left main,at 25 psi,2024-05-01,,`,
    `R${airplane},${airplane},right main,at 25 psi,2024-05-01,,`,
  ]);
  const flights: string[] = [];
  const readings: string[] = [];
  const pressure: string[] = [];
  let place = 0;
  for (const [k, airplane] of AIRPLANES.entries()) {
    let worn = 0;
    for (const month of MONTHS) {
      // The first flies on pavement alone, the last on gravel alone.
      const gravel = (LANDINGS * k) / (AIRPLANES.length - 1);
      if (gravel < LANDINGS) flights.push(`${airplane},2024-${month}-10,home pavement,${LANDINGS - gravel}`);
      if (gravel > 0) flights.push(`${airplane},2024-${month}-11,valley gravel,${gravel}`);
      worn += (LANDINGS - gravel) * WORN_MM.paved + gravel * WORN_MM.gravel;
      for (const side of ['L', 'R']) {
        const groove = NEW_MM - worn + SCATTER[place++ % SCATTER.length]!;
        readings.push(`${side}${airplane},2024-${month}-20,centre,${groove.toFixed(1)}`);
      }
    }
    pressure.push(
      `L${airplane},2024-06-01,25,25,15`,
      `L${airplane},2024-07-01,${(23.7 - 0.2 * k).toFixed(1)},25,15`,
    );
  }
  const lines = (head: string, rows: readonly string[]): string => `${[head, ...rows].join('\n')}\n`;
  return {
    'tires.csv': lines('tire,airplane,position,setup,fitted,removed,cause', tires),
    'flights.csv': lines('airplane,date,strip,landings', flights),
    'readings.csv': lines('tire,date,band,groove [mm]', readings),
    'pressure.csv': lines('tire,date,found [psi],set [psi],temperature [degC]', pressure),
    'log.json': JSON.stringify({
      name: 'Three airplanes',
      note: 'Invented.',
      firstDay: '2024-05-01',
      lastDay: '2024-10-01',
      tires: { file: 'tires.csv' },
      readings: { file: 'readings.csv', always: { error: '0.15 mm', step: '0.1 mm' } },
      flights: { file: 'flights.csv' },
      pressure: { file: 'pressure.csv', always: { elevation: '300 ft' } },
    }),
  };
}

/** Writes the log and its scenario, with some files replaced. */
export function writeFitFiles(folder: string, files: Readonly<Record<string, string>> = {}): void {
  const all = { 'scenario.json': JSON.stringify(FIT_SCENARIO), ...fitLogFiles(), ...files };
  for (const [name, text] of Object.entries(all)) writeFileSync(join(folder, name), text);
}
