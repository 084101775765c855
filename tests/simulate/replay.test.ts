import { describe, expect, it } from 'vitest';
import { ambientPressurePa } from '../../dist/models/atmosphere.js';
import {
  deflectionM,
  footprintWidthM,
  rollingRadiusM,
  stiffnessAreaM2,
  verticalStiffnessN,
} from '../../dist/models/contact.js';
import {
  brakingWorkJ,
  rollingResistanceRatio,
  scrubWorkJ,
  spinUpWorkJ,
  squirmWorkJ,
  wheelInertiaKgM2,
} from '../../dist/models/slip-work.js';
import { replay } from '../../dist/simulate/replay.js';
import { REMOVAL_CAUSES } from '../../dist/simulate/columns.js';
import { Simulator } from '../../dist/simulate/trials.js';
import { UsageError } from '../../dist/problems.js';
import { readScenario } from '../../dist/scenario/read.js';
import { fileURLToPath } from 'node:url';
import { shippedScenario } from '../support/scenarios.js';

const scenario = shippedScenario('mixed-season');
const { scenario: source } = readScenario(
  fileURLToPath(new URL('../../scenarios/mixed-season.json', import.meta.url)),
);

describe('a replayed trial', () => {
  it('adds up to the row of the run it belongs to', () => {
    const pairing = { setup: 0, mix: 2 };
    const [table] = new Simulator(scenario, [pairing]).runRange({
      firstTrial: 0,
      trials: 6,
      step: 1,
      luck: 0,
    });
    for (let trial = 0; trial < 6; trial++) {
      const story = replay(scenario, { trial, setup: 'soft 29 at 9 psi', mix: 'sharp rock' });
      const life = story.landings.find(({ wheels }) =>
        wheels.some((w) => w.position !== 'third' && w.removed !== null),
      )!;
      const { columns } = table!;
      expect(life.landing).toBe(columns.lifeLandings[trial]);
      const removed = life.wheels
        .filter(({ position }) => position !== 'third')
        .map((wheel) => wheel.removed);
      expect(removed).toContain(REMOVAL_CAUSES[columns.lifeCause[trial]!]);
      expect(story.landings.length).toBe(columns.simulatedLandings[trial]);
      const season = story.landings.slice(0, 240).flatMap(({ wheels }) => wheels);
      expect(season.reduce((sum, wheel) => sum + wheel.flatChance, 0)).toBeCloseTo(
        columns.flatsHazard[trial]!,
        10,
      );
      const flats = season.filter(({ removed: why }) => why === 'puncture' || why === 'pressure').length;
      expect(flats).toBe(columns.flats[trial]);
      const squirm = story.landings.flatMap(({ wheels }) => wheels.filter((w) => w.position !== 'third'));
      expect(
        squirm.reduce((sum, wheel) => sum + wheel.wornM3.squirm, 0) / columns.squirmWornM3[trial]!,
      ).toBeCloseTo(1, 5);
    }
  });

  // The steps of the landing loop against the published pieces put together anew from the story alone.
  it('wears as the models say, landing by landing', () => {
    const tire = source.tires['rigid 29 deep']!;
    const story = replay(scenario, { trial: 11, setup: 'rigid 29 deep', mix: 'gravel' });
    const world = (path: string): number => story.world[path]!;
    const area = stiffnessAreaM2(tire.sectionWidth, tire.outsideDiameter);
    const inertia = wheelInertiaKgM2(
      source.airplanes['reference four-seater']!.hubInertia,
      tire.mass,
      tire.outsideDiameter,
      0.75,
    );
    for (const landing of story.landings.slice(0, 60)) {
      const strip = source.strips[landing.strip]!;
      const wear = (surface: string): number =>
        world('assumptions.abradability') *
        world(`surfaces.${surface}.wearFactor`) *
        (landing.wet ? world(`surfaces.${surface}.wetFactor`) : 1) *
        landing.wearMultiplier;
      const typical =
        world('habits.touchdownSpeedRatio') * source.airplanes['reference four-seater']!.stallSpeed;
      const rollout = strip.rolloutLength * (landing.touchdownSpeedMps / typical) ** 2;
      landing.wheels.slice(0, 2).forEach((wheel, w) => {
        const side = w === 0 ? -1 : 1;
        const load = 0.5 * (1 - 0.18) * landing.massKg * 9.80665 * (1 + side * landing.sideShift);
        expect(wheel.loadN).toBeCloseTo(load, 6);
        const stiffness = verticalStiffnessN(wheel.gaugePa, tire.ratedPressure, area);
        const deflection = deflectionM(load, stiffness, tire.sectionWidth);
        expect(wheel.deflectionM).toBeCloseTo(deflection, 12);
        expect(wheel.footprintWidthM).toBeCloseTo(footprintWidthM(deflection, tire.sectionWidth), 12);
        const light = deflectionM(
          world('assumptions.touchdownLoadShare') * load,
          stiffness,
          tire.sectionWidth,
        );
        const spin = spinUpWorkJ(
          inertia,
          landing.touchdownSpeedMps,
          rollingRadiusM(light, tire.outsideDiameter),
        );
        expect(wheel.wornM3['spin-up'] / (wear(strip.touchdown) * spin)).toBeCloseTo(1, 10);
        const brake = brakingWorkJ(
          landing.massKg,
          landing.touchdownSpeedMps,
          landing.brakedShare,
          world('assumptions.brakingSlip'),
          2,
        );
        expect(wheel.wornM3.braking / (wear(strip.rollout) * brake)).toBeCloseTo(1, 10);
        const resistance = rollingResistanceRatio(
          world('sidewalls.rigid.rollingFloor'),
          world('assumptions.rollingPressureTerm'),
          wheel.gaugePa,
        );
        const share = world('sidewalls.rigid.squirmShare');
        const squirm =
          wear(strip.rollout) * squirmWorkJ(resistance, load, rollout, share) +
          wear(strip.taxi) * squirmWorkJ(resistance, load, strip.taxiLength, share);
        expect(wheel.wornM3.squirm / squirm).toBeCloseTo(1, 10);
        const scrub =
          wear(strip.rollout) *
            scrubWorkJ(load, rollout, world('assumptions.crosswindScrub') * landing.sideShift ** 2) +
          wear(strip.taxi) * scrubWorkJ(load, strip.taxiLength, world('assumptions.turnScrub'));
        expect(wheel.wornM3.scrub / scrub).toBeCloseTo(1, 10);
      });
    }
  });

  it('starts at the cold pressure, corrected for the gauge and the elevation of the strip', () => {
    const story = replay(scenario, { trial: 3, setup: 'rigid 29 deep', mix: 'mostly paved' });
    const [landing] = story.landings;
    const base = ambientPressurePa(300 * 0.3048);
    const strip = ambientPressurePa(source.strips[landing!.strip]!.elevation);
    const cold = 25 * 6894.757293168 + story.world['assumptions.gaugeBias']!;
    expect(landing!.wheels[0]!.gaugePa).toBeCloseTo(cold + base - strip, 6);
  });

  it('refuses names and numbers that do not exist', () => {
    expect(() => replay(scenario, { trial: 0, setup: 'rigid 29 dep', mix: 'gravel' })).toThrow(
      /did you mean "rigid 29 deep"/,
    );
    expect(() => replay(scenario, { trial: -1, setup: 'rigid 29 deep', mix: 'gravel' })).toThrow(UsageError);
  });
});
