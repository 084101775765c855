// Writes the shipped logbook: what twelve airplanes would log in two seasons, lived by the simulator in one world whose
// assumptions are known (truth.js). Everything is invented. Run it with `npm run logbook`.
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { stringify } from 'csv-stringify/sync';
import { dateOfDay } from '../../dist/calibrate/dates.js';
import { compileScenario, formatQuantity, readScenario } from '../../dist/index.js';
import { Simulator } from '../../dist/simulate/trials.js';
import { assumptionQuantile, medianWorld } from '../../dist/simulate/world.js';
import { AirplaneLog, FIRST_DAY, LAST_DAY } from './airplane-log.js';
import { makeCalendar } from './calendar.js';
import { makeChance } from './chance.js';
import { FLEET, KEEPING, PROBABILITIES } from './truth.js';

const folder = fileURLToPath(new URL('./', import.meta.url));
const NOTE =
  'Invented: lived by the simulator in one world, whose assumptions stand in truth.json; no airplane, place or tire is real.';
/** Units in which the truth is told. */
const UNITS = {
  abradability: ['abradability', 'mm3/J'],
  tubePermeation: ['rate', '%/month'],
  slowLeaks: ['rate', '/year'],
  gaugeBias: ['pressureDifference', 'psi'],
  sharpStones: ['perArea', '/m2'],
};

function trueWorld({ assumptions }) {
  const world = medianWorld({ assumptions });
  for (const [path, probability] of Object.entries(PROBABILITIES)) {
    const index = assumptions.findIndex((assumption) => assumption.path === path);
    if (index < 0) throw new Error(`no assumption ${path}`);
    world[index] = assumptionQuantile(assumptions[index], probability);
  }
  return world;
}

function liveThrough(scenario, world, { seed, keeping }, entry, index) {
  const chance = makeChance(seed, 'keeping', index);
  const flown = makeCalendar(entry, makeChance(seed, 'calendar', index).uniform);
  const gaugeBiasPa = world[scenario.global.gaugeBias];
  const log = new AirplaneLog(entry, scenario.strips, flown, chance, gaugeBiasPa, keeping);
  const lived = { ...scenario, seed, calendar: flown.calendar, horizonDays: 1 };
  const pairing = {
    setup: scenario.setups.findIndex(({ name }) => name === entry.setup),
    mix: scenario.mixes.findIndex(({ name }) => name === entry.mix),
  };
  const worlds = { fill: (_, target) => target.set(world) };
  new Simulator(lived, [pairing], worlds, log).runTrial(index, 0);
  log.finish();
  return log;
}

function csv(header, rows) {
  return stringify([header, ...rows]);
}

const date = (day) => (day === undefined ? '' : dateOfDay(day));
const blank = (value) => (value === 0 ? '' : value);

function tablesOf(logs) {
  const all = (key) =>
    logs.flatMap((log) => log[key].map((row) => ({ ...row, airplane: log.airplane, entry: log.entry })));
  const tires = all('tires').map(
    ({ id, airplane, entry, position, day, landingsBefore, hoursBefore, end }) => [
      id,
      airplane,
      position,
      entry.setup,
      date(day),
      blank(landingsBefore),
      hoursBefore === 0 ? '' : hoursBefore.toFixed(1),
      end.removed ?? '',
      end.removedAfter ?? '',
      end.removedBy ?? '',
      end.seen ?? '',
      end.cause ?? '',
    ],
  );
  const flights = logs.flatMap((log) =>
    log.flights.map(({ day, strip, landings, hours }) => [
      log.airplane,
      date(day),
      STRIP_CODES[strip],
      landings,
      hours.toFixed(1),
    ]),
  );
  return {
    'tires.csv': csv(
      [
        'tire',
        'airplane',
        'position',
        'setup',
        'fitted',
        'landings before',
        'hours before [h]',
        'removed',
        'removed after',
        'removed by',
        'last seen',
        'cause',
      ],
      tires,
    ),
    'readings.csv': csv(
      ['tire', 'date', 'band', 'groove [mm]'],
      all('readings').map(({ tire, day, band, groove }) => [tire, date(day), band, groove]),
    ),
    'flights.csv': csv(['airplane', 'date', 'strip', 'landings', 'hours [h]'], flights),
    'pressure.csv': csv(
      ['airplane', 'position', 'tire', 'date', 'found [psi]', 'set [psi]', 'OAT [degC]'],
      all('pressure').map(({ airplane, position, tire, day, found, set, temperature }) => [
        airplane,
        position,
        tire,
        date(day),
        found,
        set,
        temperature,
      ]),
    ),
    'cuts.csv': csv(
      ['tire', 'date', 'depth [mm]'],
      all('cuts').map(({ tire, day, depth }) => [tire, date(day), depth]),
    ),
  };
}

/** Codes of strips as a log has them. */
const STRIP_CODES = {
  'home pavement': 'HOME',
  'valley gravel': 'VALLEY',
  'ridge rock': 'RIDGE',
  meadow: 'MEADOW',
  'river bar': 'RIVER',
};

function description(name, keeping) {
  return {
    name,
    note: NOTE,
    firstDay: dateOfDay(FIRST_DAY),
    lastDay: dateOfDay(LAST_DAY),
    leastCutDepth: `${keeping.leastCutMm} mm`,
    words: {
      position: { L: 'left main', R: 'right main', N: 'nose' },
      strip: Object.fromEntries(Object.entries(STRIP_CODES).map(([name, code]) => [code, name])),
    },
    tires: { file: 'tires.csv' },
    readings: {
      file: 'readings.csv',
      always: { error: `${keeping.treadErrorMm} mm`, step: `${keeping.treadStepMm} mm` },
    },
    flights: { file: 'flights.csv' },
    pressure: {
      file: 'pressure.csv',
      columns: { temperature: { header: 'OAT [degC]' } },
      always: { elevation: '300 ft' },
    },
    cuts: { file: 'cuts.csv', always: { place: 'tread' } },
  };
}

function truthOf({ assumptions }, world) {
  const values = assumptions.map(({ path }, index) => {
    const [dimension, unit] = UNITS[path.slice(path.lastIndexOf('.') + 1)] ?? ['share', ''];
    return path in PROBABILITIES
      ? [
          path,
          {
            value: formatQuantity(world[index], dimension, unit, 6),
            si: world[index],
            priorProbability: PROBABILITIES[path],
          },
        ]
      : null;
  });
  return {
    note: `${NOTE} All other assumptions of the scenario fleet.json stand at their medians.`,
    assumptions: Object.fromEntries(values.filter((value) => value !== null)),
    keeping: KEEPING,
  };
}

const json = (value) => `${JSON.stringify(value, null, 2)}\n`;

/**
 * The files of a logbook of some airplanes, lived by the simulator in one world.
 *
 * @param scenario compiled scenario with the set-ups and mixes that the fleet names.
 * @param world true values of its assumptions, SI units.
 * @param options `name` of the log, `seed`, `fleet` (see truth.js), `keeping`: how the log is kept, and `stated`: how it
 *   says that it is kept, the same where left out.
 * @returns texts by file name: logbook.json and its tables.
 */
export function logbookFiles(scenario, world, { name, seed, fleet, keeping, stated = keeping }) {
  const logs = fleet.map((entry, index) => liveThrough(scenario, world, { seed, keeping }, entry, index));
  return { 'logbook.json': json(description(name, stated)), ...tablesOf(logs) };
}

/**
 * The files of the shipped logbook.
 *
 * @returns texts by file name.
 */
export function makeLogbook() {
  const scenario = compileScenario(readScenario(`${folder}fleet.json`).scenario);
  const world = trueWorld(scenario);
  const { 'logbook.json': description, ...tables } = logbookFiles(scenario, world, {
    name: 'Twelve airplanes, two seasons',
    seed: 'shipped logbook',
    fleet: FLEET,
    keeping: KEEPING,
  });
  // For editors that check and complete JSON files.
  const shipped = json({ $schema: '../logbook.schema.json', ...JSON.parse(description) });
  return { 'logbook.json': shipped, 'truth.json': json(truthOf(scenario, world)), ...tables };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const [name, text] of Object.entries(makeLogbook())) writeFileSync(`${folder}${name}`, text);
}
