// Writes what the other programs need: the world at its medians, worked out by lib/, as plain text with one entry per
// line, a name and its numbers.
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { DAYS_PER_YEAR } from '../../dist/scenario/calendar.js';
import { compileScenario } from '../../dist/scenario/compile.js';
import { readScenario } from '../../dist/scenario/read.js';
import { fillWheelConstants, WheelConstants } from '../../dist/simulate/constants.js';
import { horizonLandings } from '../../dist/simulate/pairing-run.js';
import { allPairings } from '../../dist/simulate/trials.js';
import { medianWorld } from '../../dist/simulate/world.js';

const DAY_S = 86_400;
const scenarioFile = fileURLToPath(new URL('../../scenarios/mixed-season.json', import.meta.url));

/** The scenario of the benchmark, compiled. */
export function benchmarkScenario() {
  return compileScenario(readScenario(scenarioFile).scenario);
}

/** The same world for every trial: all assumptions at their medians, so that the other programs need not draw them. */
export function medianWorlds(scenario) {
  const medians = medianWorld(scenario);
  return {
    fill: (trial, world) => {
      world.set(medians);
    },
  };
}

/**
 * Writes the inputs of the other programs.
 *
 * @param scenario compiled scenario.
 * @param path file to write.
 */
export function writeInput(scenario, path) {
  const lines = [];
  const add = (name, ...values) => {
    const numbers = values.map(Number);
    if (numbers.length === 0 || !numbers.every(Number.isFinite)) {
      throw new Error(`the benchmark has no finite value for ${name}`);
    }
    lines.push([name, ...numbers].join(' '));
  };
  const world = medianWorld(scenario);
  addRun(scenario, world, add);
  allPairings(scenario).forEach(({ setup, mix }, index) => {
    const { main, third, mainPa, thirdPa, checkEveryDays } = scenario.setups[setup];
    const { strips, cumulativeShares } = scenario.mixes[mix];
    const name = `pairing.${index}`;
    add(`${name}.mixStrips`, ...strips);
    add(`${name}.cumulativeShares`, ...cumulativeShares);
    add(`${name}.checkEveryDays`, checkEveryDays);
    add(`${name}.mainPrice`, main.price);
    add(`${name}.thirdPrice`, third.price);
    addWheel(scenario, world, add, `${name}.main`, main, mainPa, 'main');
    addWheel(scenario, world, add, `${name}.third`, third, thirdPa, 'third');
  });
  writeFileSync(path, `${lines.join('\n')}\n`);
}

/** What all pairings share: calendar, spreads of the landing draws, habits and prices. */
function addRun(scenario, world, add) {
  const { airplane, habits, global, calendar, strips, costs } = scenario;
  add('horizonLandings', horizonLandings(scenario));
  add('daysPerYear', DAYS_PER_YEAR);
  add('calendar.day', ...calendar.day);
  add('calendar.gapDays', ...calendar.gapDays);
  add('calendar.temperatureK', ...calendar.temperatureK);
  add('temperatureSpreadK', scenario.temperatureSpreadK);
  add('surfaces', scenario.surfaces.length);
  add('touchdownSurface', ...strips.map(({ touchdown }) => touchdown));
  add('rolloutSurface', ...strips.map(({ rollout }) => rollout));
  add('taxiSurface', ...strips.map(({ taxi }) => taxi));

  add('massKg', world[airplane.landingMass]);
  add('massSpread', world[airplane.landingMassSpread]);
  add('stallSpeedMps', airplane.stallSpeedMps);
  add('speedRatio', world[habits.touchdownSpeedRatio]);
  add('speedSpread', world[habits.touchdownSpeedSpread]);
  add('sinkMedianMps', world[habits.sinkRate]);
  add('sinkSigma', world[habits.sinkRateSpread]);
  add('sideLoadSpread', world[habits.sideLoadSpread]);
  add('brakedMedian', world[habits.brakedShare]);
  add('peakMedian', world[habits.peakBraking]);
  add('brakingSigma', world[habits.brakingSpread]);
  add('wearSpread', world[global.landingWearSpread]);

  add('pivotChance', world[habits.pivotChance]);
  add('inspectEveryDays', habits.inspectEveryDays);
  add('noticedBelow', habits.noticedBelow);
  add('removeAtCords', habits.removeAtCords);
  add('treadLimitM', habits.treadLimitM);
  add('replacePairs', habits.replacePairs);
  add('ageLimitDays', habits.ageLimitDays);

  add('patchChance', world[global.patchChance]);
  for (const name of ['downDaysAtBase', 'downDaysPatched', 'downDaysRescue', 'downDaysReplacement']) {
    add(name, world[global[name]] / DAY_S);
  }
  add('priced', costs !== null);
  for (const name of ['tube', 'tireChange', 'patch', 'rescue', 'downDay']) {
    add(`${name}Price`, costs?.[name] ?? 0);
  }
}

/** Constants of a wheel position, and of every strip under it. */
function addWheel(scenario, world, add, name, tire, coldPa, position) {
  const constants = new WheelConstants(scenario.strips.length);
  fillWheelConstants(scenario, world, tire, coldPa, position, constants);
  const { strips, ...wheel } = constants;
  for (const [field, value] of Object.entries(wheel)) add(`${name}.${field}`, value);
  strips.forEach((strip, index) => {
    for (const [field, value] of Object.entries(strip)) add(`${name}.strip.${index}.${field}`, value);
  });
}
