/**
 * Facts of the trade for a four-seat tricycle-gear airplane on about half paved, half rough strips: common practice,
 * no source. None of them is coded as an answer; the shipped airplane, tires and assumptions are run forward.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { runScenario, type RunResult } from '../../dist/run.js';
import type { PairingSummary } from '../../dist/estimate/summary.js';
import { beadHoldingTorqueNm, brakingTorqueNm } from '../../dist/models/bead.js';
import { deflectionM, loadedRadiusM, verticalStiffnessN } from '../../dist/models/contact.js';
import { medianWorld } from '../../dist/simulate/world.js';
import { shippedScenario } from '../support/scenarios.js';

const PRESSURES = [16, 19, 21, 22, 23, 24, 25, 26, 27, 28, 31, 35];

function setup(mainTire: string, mainPressure: string): { [key: string]: string } {
  return { mainTire, mainPressure, thirdTire: 'nose 8.50-6', thirdPressure: '25 psi' };
}

const scenario = shippedScenario('first', {
  setups: {
    'soft 9 psi': setup('soft 29', '9 psi'),
    'shaved 25 psi': setup('rigid 29 shaved', '25 psi'),
    'rigid 26 25 psi': setup('rigid 26 deep', '25 psi'),
    ...Object.fromEntries(PRESSURES.map((psi) => [`deep ${psi} psi`, setup('rigid 29 deep', `${psi} psi`)])),
    'faired 50 psi': {
      mainTire: 'standard 6.00-6',
      mainPressure: '50 psi',
      thirdTire: 'nose 5.00-5',
      thirdPressure: '45 psi',
      checkEvery: '60 days',
    },
  },
});

let result: RunResult;
const pairing = (name: string): PairingSummary => result.pairings.find((found) => found.setup === name)!;
/** Shoulder wear over centre wear of the deep tire. */
const unevenness = (psi: number): number => {
  const { centre, innerShoulder, outerShoulder } = pairing(`deep ${psi} psi`).bandWearMm;
  return (innerShoulder.estimate + outerShoulder.estimate) / 2 / centre.estimate;
};

describe('practice values (common practice, no source)', () => {
  beforeAll(async () => {
    result = (await runScenario(scenario, { trials: 400, workers: 2 })).result;
  }, 300_000);

  it('a soft tire at 9 psi shows cords at a median between 110 and 150 flight hours', () => {
    const { p50 } = pairing('soft 9 psi').cords.hours;
    expect(p50).toBeGreaterThan(110);
    expect(p50).toBeLessThan(150);
  });

  it('a rigid deep-tread 29 in tire lasts several times longer', () => {
    expect(pairing('deep 25 psi').cords.hours.p50! / pairing('soft 9 psi').cords.hours.p50!).toBeGreaterThan(
      3,
    );
    expect(pairing('deep 25 psi').life.hours.p50! / pairing('soft 9 psi').life.hours.p50!).toBeGreaterThan(3);
  });

  it('its chance of a puncture in a season is a few per cent at most', () => {
    expect(pairing('deep 25 psi').puncture.season.upper).toBeLessThan(0.05);
  });

  it.each(['deep 25 psi', 'rigid 26 25 psi'])(
    '%s wears its three bands within a quarter of each other',
    (name) => {
      const { centre, innerShoulder, outerShoulder } = pairing(name).bandWearMm;
      const depths = [centre.estimate, innerShoulder.estimate, outerShoulder.estimate];
      expect(Math.min(...depths) / Math.max(...depths)).toBeGreaterThan(0.75);
    },
  );

  it('the rigid 29 in tire wears most evenly within 3 psi of 25 psi', () => {
    const deviation = (psi: number): number => Math.abs(Math.log(unevenness(psi)));
    const best = PRESSURES.reduce((a, b) => (deviation(b) < deviation(a) ? b : a));
    expect(best).toBeGreaterThanOrEqual(22);
    expect(best).toBeLessThanOrEqual(28);
  });

  it('above that its centre wears first, below it the shoulders', () => {
    for (const psi of [28, 31, 35]) expect(unevenness(psi)).toBeLessThan(1);
    for (const psi of [16, 19]) expect(unevenness(psi)).toBeGreaterThan(1);
    const ratios = PRESSURES.map(unevenness);
    expect(ratios).toEqual([...ratios].sort((a, b) => b - a));
  });

  it('at 16 psi the bead slips in fewer than one landing in five thousand, and hardly ever at 25 psi', () => {
    const slips = (psi: number): number => pairing(`deep ${psi} psi`).season.beadSlips.estimate / 240;
    expect(slips(16)).toBeLessThan(1 / 5000);
    expect(slips(25)).toBeLessThanOrEqual(slips(16) / 2);
  });

  it('at 16 psi, at the medians of all assumptions, the bead holds braking of half the wheel load', () => {
    const setupIndex = scenario.setups.findIndex(({ name }) => name === 'deep 16 psi');
    const { main, mainPa } = scenario.setups[setupIndex]!;
    const world = medianWorld(scenario);
    const value = (index: number): number => world[index]!;
    const loadN = value(scenario.airplane.landingMass) * 0.41 * 9.80665;
    const stiffness = verticalStiffnessN(mainPa, main.ratedPa, main.stiffnessAreaM2);
    const height = loadedRadiusM(deflectionM(loadN, stiffness, main.sectionWidthM), main.outsideDiameterM);
    const held = beadHoldingTorqueNm(
      mainPa,
      main.widestRadiusM,
      main.beadRadiusM,
      value(scenario.global.beadFriction),
      value(scenario.global.ledgeTorque),
    );
    expect(held).toBeGreaterThan(brakingTorqueNm(0.5, loadN, height));
  });

  it('the shaved tire wears out sooner and resists cuts less than the deep one', () => {
    const deep = pairing('deep 25 psi');
    const shaved = pairing('shaved 25 psi');
    expect(shaved.treadLimit.hours.p50!).toBeLessThan(0.7 * deep.treadLimit.hours.p50!);
    const treadPunctures = ({ puncture }: PairingSummary): number =>
      puncture.season.estimate * puncture.byKind.tread.estimate;
    expect(treadPunctures(shaved)).toBeGreaterThan(treadPunctures(deep));
  });

  it('tires in fairings, seldom checked, are found low between one reading in five and one in two', () => {
    const { estimate } = pairing('faired 50 psi').season.lowReadings;
    expect(estimate).toBeGreaterThan(0.2);
    expect(estimate).toBeLessThan(0.5);
  });

  it('stones thrown at the tail are a rare event: less than one landing in a hundred', () => {
    expect(pairing('deep 25 psi').season.tailHitsPerLanding.estimate).toBeLessThan(0.01);
  });
});
