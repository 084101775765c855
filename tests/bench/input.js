// Writes what the other programs need: the world at its medians, as plain text with one entry per line, a name and its
// numbers. Constants are worked out here from the compiled scenario, not taken from lib/simulate, so that a slip made
// there shows as results that do not agree.
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { STANDARD_GRAVITY_MPS2 } from '../../dist/models/atmosphere.js';
import { beadHoldingTorqueNm } from '../../dist/models/bead.js';
import { hydroplaningSpeedMps, SPIN_UP_COEFFICIENT } from '../../dist/models/hydroplaning.js';
import { chanceLarger, SCALE_OVER_MEDIAN } from '../../dist/models/stones.js';
import { REFERENCE_GROOVE_DEPTH_M } from '../../dist/models/thrown-stones.js';
import { DAYS_PER_YEAR, daysAfter } from '../../dist/scenario/calendar.js';
import { compileScenario } from '../../dist/scenario/compile.js';
import { readScenario } from '../../dist/scenario/read.js';
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

/** Landings within the horizon, at least one season. */
function horizonLandings({ calendar, horizonDays }) {
  let landings = calendar.landingsPerYear;
  while (daysAfter(calendar, landings + 1) <= horizonDays) landings++;
  return landings;
}

/** Constants of a wheel position, and of every strip under it. */
function addWheel(scenario, world, add, name, tire, gaugePa, position) {
  const wheel = wheelConstants(scenario, world, tire, gaugePa, position === 'main');
  for (const [field, value] of Object.entries(wheel)) add(`${name}.${field}`, value);
  scenario.strips.forEach((strip, index) => {
    const constants = stripConstants(scenario, world, tire, strip);
    for (const [field, value] of Object.entries(constants)) add(`${name}.strip.${index}.${field}`, value);
  });
}

function wheelConstants({ airplane, global, habits, basePa }, world, tire, gaugePa, main) {
  const thirdShare = world[airplane.thirdWheelLoadShare];
  const massShare = main ? 0.5 * (1 - thirdShare) : thirdShare;
  const leakAtStartPerDay = world[global.leakAtStart] * DAY_S;
  const { widestRadiusM, beadRadiusM } = tire;
  return {
    loadPerMass: massShare * STANDARD_GRAVITY_MPS2,
    massShare,
    diameterM: tire.outsideDiameterM,
    widthM: tire.sectionWidthM,
    meanSizeM: tire.meanSizeM,
    stiffnessAreaM2: tire.stiffnessAreaM2,
    ratedPa: tire.ratedPa,
    evenDeflectionM: world[tire.evenWearDeflection] * tire.sectionHeightM,
    freeHeightM: tire.freeSectionHeightM,
    bandGain: world[global.bandGain],
    centreAreaShare: tire.centreShare,
    centreRubberAreaM2: tire.rubberAreaM2 * tire.centreShare,
    shoulderRubberAreaM2: 0.5 * tire.rubberAreaM2 * (1 - tire.centreShare),
    landRatio: tire.landRatio,
    innerShoulderShare: main ? world[global.innerShoulderShare] : 0.5,
    touchdownLoadShare: world[global.touchdownLoadShare],
    inertiaKgM2: tire.inertiaKgM2,
    rollingFloor: world[tire.rollingFloor],
    rollingTermPa: world[global.rollingPressureTerm],
    squirmShare: world[tire.squirmShare],
    turnScrub: world[global.turnScrub],
    crosswindScrub: world[global.crosswindScrub],
    brakingSlip: main ? world[global.brakingSlip] : 0,
    slidingFriction: world[global.slidingFriction],
    pivotAngleRad: habits.pivotAngleRad,
    newTreadM: tire.newTreadM,
    rubberM: tire.newTreadM + tire.undertreadM,
    carcassM: tire.carcassM,
    coldPa: Math.max(gaugePa + world[global.gaugeBias], 0),
    basePa,
    lossPerDay: world[tire.tubed ? global.tubePermeation : global.tubelessPermeation] * DAY_S,
    leaksPerDay: world[global.slowLeaks] * DAY_S,
    leakAtStartPerDay,
    leakGrowthPerDay: leakAtStartPerDay * world[global.leakGrowth] * DAY_S,
    beadTorquePerPa: beadHoldingTorqueNm(1, widestRadiusM, beadRadiusM, world[global.beadFriction], 0),
    ledgeTorqueNm: world[global.ledgeTorque],
    valveTearHazard: tire.tubed ? -Math.log(1 - world[global.valveTearChance]) : 0,
    impactEnergyShare: world[global.impactEnergyShare],
    hydroplaningAtOnePaMps: hydroplaningSpeedMps(1, SPIN_UP_COEFFICIENT),
  };
}

function stripConstants({ global, surfaces }, world, tire, strip) {
  const touchdown = surfaces[strip.touchdown];
  const rollout = surfaces[strip.rollout];
  const taxi = surfaces[strip.taxi];
  const dryWear = (surface) =>
    world[global.abradability] * world[tire.wearFactor] * world[surface.wearFactor];
  const wetWear = (surface) => dryWear(surface) * world[surface.wetFactor];
  const biteScaleM = (surface) => SCALE_OVER_MEDIAN * world[surface.biteDepth] * world[tire.biteFactor];
  const edgeScaleM = (surface) => SCALE_OVER_MEDIAN * world[surface.edgeHeight];
  const rolloutEdges = world[rollout.rockEdges] * strip.rolloutM;
  const taxiEdges = world[taxi.rockEdges] * strip.taxiM;
  const sideCutsPerM = (edges, surface) =>
    ((edges * world[tire.sideExposure]) / tire.sectionHeightM) *
    chanceLarger(tire.sidewallThicknessM, biteScaleM(surface));
  return {
    ambientPa: strip.ambientPa,
    touchdownWear: dryWear(touchdown),
    rolloutWear: dryWear(rollout),
    taxiWear: dryWear(taxi),
    touchdownWearWet: wetWear(touchdown),
    rolloutWearWet: wetWear(rollout),
    taxiWearWet: wetWear(taxi),
    rolloutM: strip.rolloutM,
    taxiM: strip.taxiM,
    rolloutStonesPerM: world[rollout.sharpStones] * strip.rolloutM * world[global.rolloutStoneFactor],
    taxiStonesPerM: world[taxi.sharpStones] * strip.taxiM,
    sameSurface: strip.rollout === strip.taxi,
    rolloutBiteScaleM: biteScaleM(rollout),
    taxiBiteScaleM: biteScaleM(taxi),
    patchEdges: world[touchdown.rockEdges] * global.touchdownPatchM,
    rolloutEdges,
    taxiEdges,
    touchdownEdgeScaleM: edgeScaleM(touchdown),
    rolloutEdgeScaleM: edgeScaleM(rollout),
    taxiEdgeScaleM: edgeScaleM(taxi),
    rolloutSideCutsPerM: sideCutsPerM(rolloutEdges, rollout),
    taxiSideCutsPerM: sideCutsPerM(taxiEdges, taxi),
    tailHits:
      (world[rollout.looseStones] * strip.rolloutM * world[tire.tailHitShare]) / REFERENCE_GROOVE_DEPTH_M,
    dryGrip: world[rollout.dryGrip],
    wetGrip: world[rollout.wetGrip],
    wetShare: strip.wetShare,
    paved: rollout.paved,
    help: strip.help,
  };
}
