import { describe, expect, it } from 'vitest';
import { PlanSimulator, type GearPlan } from '../../dist/simulate/plan-run.js';
import { Simulator } from '../../dist/simulate/trials.js';
import { quietScenario, fixed, shippedScenario } from '../support/scenarios.js';

const scenario = shippedScenario('mixed-season');
const MIX = 2;
const SEASON = scenario.calendar.landingsPerYear;

function run(plans: readonly GearPlan[], trials: number, luck = 0): ReturnType<PlanSimulator['emptyTrials']> {
  const simulator = new PlanSimulator(scenario, MIX, plans);
  const table = simulator.emptyTrials(trials);
  for (let trial = 0; trial < trials; trial++) simulator.runTrial(trial, luck, table, trial);
  return table;
}

const SEASON_COLUMNS = [
  'flats',
  'flatsHazard',
  'anyFlat',
  'anyFlatHazard',
  'mainsFitted',
  'thirdFitted',
  'beadSlips',
  'leaks',
  'checks',
  'downDays',
  'cost',
  'tailHits',
] as const;

describe('a plan', () => {
  it('with one gear set is the season of a run, to the bit', () => {
    const [table] = new Simulator(scenario, [{ setup: 1, mix: MIX }]).runRange({
      firstTrial: 0,
      trials: 12,
      step: 1,
      luck: 0,
    });
    const [plan] = run([[{ setup: 1, firstLanding: 0 }]], 12);
    for (const name of SEASON_COLUMNS) {
      expect(plan!.sets[0]!.trials.columns[name], name).toEqual(table!.columns[name]);
    }
  });

  it('does not depend on the plans beside it', () => {
    const legs: GearPlan = [
      { setup: 4, firstLanding: 0 },
      { setup: 1, firstLanding: 70 },
      { setup: 4, firstLanding: 200 },
    ];
    const [alone] = run([legs], 6);
    const beside = run([[{ setup: 0, firstLanding: 0 }], legs], 6);
    expect(beside[1]).toEqual(alone);
  });

  it('has fresh landings in the same world with another luck', () => {
    const legs: GearPlan = [{ setup: 1, firstLanding: 0 }];
    const [plan] = run([legs], 8);
    const [other] = run([legs], 8, 2);
    expect(other!.sets[0]!.trials.columns.flatsHazard).not.toEqual(plan!.sets[0]!.trials.columns.flatsHazard);
  });

  it('uses every landing of the season once', () => {
    const [plan] = run(
      [
        [
          { setup: 4, firstLanding: 0 },
          { setup: 1, firstLanding: 64 },
          { setup: 4, firstLanding: 129 },
          { setup: 1, firstLanding: 130 },
        ],
      ],
      3,
    );
    expect(plan!.sets.map(({ setup }) => setup)).toEqual([4, 1]);
    for (let row = 0; row < 3; row++) {
      const flown = plan!.sets.map(({ trials }) => trials.columns.simulatedLandings[row]!);
      expect(flown).toEqual([65, SEASON - 65]);
    }
  });
});

describe('gear sets in a quiet world', () => {
  // Nothing varies and no tire ends, so wear per landing of a set is the same whenever it is on.
  const setup = { mainTire: 'plain', mainPressure: '30 psi', thirdTire: 'plain', thirdPressure: '30 psi' };
  const quiet = quietScenario({
    setups: { only: setup, other: { ...setup, mainPressure: '36 psi' } },
    season: { months: [{ month: 'July', landings: '200', flightHours: '100 h', temperature: '15 degC' }] },
    assumptions: { landingWearSpread: fixed('0') },
  });
  const wear = (legs: GearPlan): number[] => {
    const simulator = new PlanSimulator(quiet, 0, [legs]);
    const table = simulator.emptyTrials(1);
    simulator.runTrial(0, 0, table, 0);
    return table[0]!.sets.map(({ trials }) => trials.columns.squirmWornM3[0]!);
  };

  it('keep their wear while they are off: the parts of a plan add up', () => {
    const [one] = wear([{ setup: 0, firstLanding: 0 }]);
    const [two] = wear([{ setup: 1, firstLanding: 0 }]);
    const [first, second] = wear([
      { setup: 0, firstLanding: 0 },
      { setup: 1, firstLanding: 50 },
      { setup: 0, firstLanding: 150 },
    ]);
    // Squirm work does not depend on the tread left; single precision of the column.
    expect(first! / (one! / 2)).toBeCloseTo(1, 5);
    expect(second! / (two! / 2)).toBeCloseTo(1, 5);
  });
});
