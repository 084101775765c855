/**
 * Facts of the trade on pressures, stance and fairings: common practice, no source. The shipped airplane, tires and
 * measures are invented, and state construction properties only; no pressure is typed in as an answer.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { setupLimits } from '../../dist/decide/setup-limits.js';
import { seasonPressures } from '../../dist/decide/season-pressures.js';
import { sweepPressure } from '../../dist/decide/pressure-sweep.js';
import type { LimitCheck, LimitCode, SeasonPressures, SetupLimits } from '../../dist/decide/limit-types.js';
import type { PressureSweep } from '../../dist/decide/pressure-types.js';
import { shippedScenario } from '../support/scenarios.js';

const ROUGH = { 'nose 8.50-6': '25 psi' };
const setup = (
  mainTire: string,
  psi: number,
  third: { [name: string]: string } = ROUGH,
): { [key: string]: string } => ({
  mainTire,
  mainPressure: `${psi} psi`,
  thirdTire: Object.keys(third)[0]!,
  thirdPressure: Object.values(third)[0]!,
});

const scenario = shippedScenario('mixed-season', {
  setups: {
    'rigid 29 at 16 psi': setup('rigid 29 deep', 16),
    'rigid 26 at 16 psi': setup('rigid 26 deep', 16),
    'all standard': setup('standard 6.00-6', 50, { 'nose 5.00-5': '45 psi' }),
    'large mains alone': setup('rigid 26 deep', 25, { 'nose 5.00-5': '45 psi' }),
    'large nose alone': setup('standard 6.00-6', 50),
  },
  mixes: { 'half rough': { 'home pavement': '50 %', 'valley gravel': '35 %', 'ridge rock': '15 %' } },
});

let limits: readonly SetupLimits[];
const sweeps = new Map<string, PressureSweep>();
let fairedSeason: SeasonPressures;

const of = (name: string): SetupLimits => limits.find(({ setup: found }) => found === name)!;
const check = (name: string, code: LimitCode): LimitCheck =>
  of(name).checks.find((each) => each.code === code)!;
const figure = (name: string, code: string): number =>
  of(name).figures.find((each) => each.code === code)!.value!;

describe('practice values of pressure and stance (common practice, no source)', () => {
  beforeAll(async () => {
    fairedSeason = await seasonPressures(scenario, {
      setup: 'faired 6.00-6',
      mix: 'half rough',
      trials: 200,
    });
    limits = setupLimits(scenario, {
      mixes: ['half rough'],
      seasonPressures: { 'faired 6.00-6': fairedSeason },
    });
    for (const name of ['rigid 29 deep', 'rigid 26 deep', 'faired 6.00-6']) {
      const options = { setup: name, mix: 'half rough', trials: 300, workers: 2 };
      sweeps.set(name, await sweepPressure(scenario, options));
    }
  }, 300_000);

  it.each(['rigid 29 deep', 'rigid 26 deep'])('%s: the sensible range comes out around 25 psi', (name) => {
    const { sensibleRange } = sweeps.get(name)!;
    expect(sensibleRange!.lowPsi).toBeLessThan(25);
    expect(sensibleRange!.highPsi).toBeGreaterThan(25);
    const middlePsi = (sensibleRange!.lowPsi + sensibleRange!.highPsi) / 2;
    expect(middlePsi).toBeGreaterThan(22);
    expect(middlePsi).toBeLessThan(28);
  });

  it.each(['rigid 29 deep', 'rigid 26 deep'])(
    '%s: the longest life is within 5 psi of 25, the centre wears first above it, the shoulders below',
    (name) => {
      const { points, bestLife } = sweeps.get(name)!;
      expect(Math.abs(bestLife.pressurePsi - 25)).toBeLessThanOrEqual(5);
      expect(points.at(-1)!.firstBand).toBe('centre');
      expect(points[0]!.firstBand).toBe('shoulders');
    },
  );

  it.each(['rigid 29 deep', 'rigid 26 deep'])('%s: three people push it at 25 psi, not far below', (name) => {
    const { points } = sweeps.get(name)!;
    const crewEnough = points.filter(
      ({ push }) => push.find(({ surface }) => surface === 'paved')!.people! <= 3,
    );
    expect(crewEnough[0]!.pressurePsi).toBeGreaterThan(18);
    expect(crewEnough[0]!.pressurePsi).toBeLessThanOrEqual(25);
  });

  it.each(['rigid 29 at 16 psi', 'rigid 26 at 16 psi'])(
    '%s is still usable: the bead holds full braking at the medians, and the tire stands clear of its rim',
    (name) => {
      expect(check(name, 'bead slip').status).toBe('within');
      expect(check(name, 'deflection at rest').status).toBe('within');
    },
  );

  it('the faired standard set rubs somewhere between 30 and 40 psi, and not at 50', () => {
    const { points } = sweeps.get('faired 6.00-6')!;
    const gap = (psi: number): number =>
      points
        .find(({ pressurePsi }) => pressurePsi === psi)!
        .clearances.find(({ kind, state }) => kind === 'fairing on a bump' && state === 'cold')!.clearanceM;
    expect(gap(30)).toBeLessThan(0);
    expect(gap(40)).toBeGreaterThan(0);
    expect(gap(50)).toBeGreaterThan(0);
    expect(check('faired 6.00-6', 'fairing clearance on a bump').status).toBe('within');
    expect(check('faired 6.00-6', 'fairing clearance at rest').status).toBe('within');
  });

  it('checked every 60 days it gets so low in some seasons that it rubs, and may break on an aft chock', () => {
    const states = (code: LimitCode): string[] =>
      check('faired 6.00-6', code).season.flatMap(({ state, status }) => (status === 'beyond' ? state : []));
    expect(states('fairing clearance on a bump')).toEqual(['leaked']);
    expect(states('aft chock clearance')).toEqual(['leaked']);
  });

  it('larger main tires raise tail and propeller; a large nose tire with small mains drops the tail', () => {
    const tail = (name: string): number => figure(name, 'tail height');
    const propeller = (name: string): number => check(name, 'propeller clearance').value!;
    expect(tail('large mains alone')).toBeGreaterThan(tail('all standard'));
    expect(propeller('large mains alone')).toBeGreaterThan(propeller('all standard'));
    expect(tail('large nose alone')).toBeLessThan(tail('all standard'));
    expect(check('large nose alone', 'tail angle').status).toBe('beyond');
  });

  it('rigid sidewalls hold better than soft ones in a crosswind', () => {
    const stiffness = (name: string): number => figure(name, 'crosswind stiffness');
    for (const rigid of ['rigid 29 deep', 'rigid 26 deep'])
      expect(stiffness(rigid)).toBeGreaterThan(2 * stiffness('soft 29 at 9 psi'));
  });

  it('only the shaved tire has a note on balance', () => {
    const shaved = limits.filter(({ figures }) => figures.some(({ code }) => code === 'unbalance'));
    expect(shaved.map(({ mainTire }) => mainTire)).toEqual(['rigid 29 shaved']);
  });
});
