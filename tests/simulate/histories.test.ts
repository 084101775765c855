import { describe, expect, it } from 'vitest';
import { recordPressures } from '../../dist/simulate/pressure-histories.js';
import { replay } from '../../dist/simulate/replay.js';
import { Simulator } from '../../dist/simulate/trials.js';
import { recordWear, type TireWear } from '../../dist/simulate/wear-histories.js';
import { CancelledError, UsageError } from '../../dist/problems.js';
import { shippedScenario } from '../support/scenarios.js';

const scenario = shippedScenario('mixed-season');
const pairing = { setup: 'rigid 29 shaved', mix: 'sharp rock' };
const request = { ...pairing, trials: 4 };
const everyLanding = Array.from({ length: 1200 }, (_, look) => look);
const wear = await recordWear(scenario, request, everyLanding);
const stories = [0, 1, 2, 3].map((trial) => replay(scenario, { trial, ...pairing }));

const fields = ['centreM', 'innerM', 'outerM', 'deepestM'] as const;
const at = (tire: TireWear, trial: number, look: number): Record<(typeof fields)[number], number> =>
  Object.fromEntries(fields.map((field) => [field, tire[field][trial * wear.looks.length + look]!])) as never;

describe('wear histories', () => {
  it('start with no wear', () => {
    for (let trial = 0; trial < 4; trial++) {
      expect(at(wear.left, trial, 0)).toEqual({ centreM: 0, innerM: 0, outerM: 0, deepestM: 0 });
    }
  });

  it('are those of the replayed trial while the first tires are on', () => {
    stories.forEach((story, trial) => {
      const life = wear.trials.columns.lifeLandings[trial]!;
      for (const { landing, wheels } of story.landings.slice(0, life)) {
        if (landing >= wear.looks.length) break;
        for (const side of [0, 1] as const) {
          const { rubberLeftM, grooveLeftM } = wheels[side]!;
          const seen = at(side === 0 ? wear.left : wear.right, trial, landing);
          expect(seen.centreM).toBeCloseTo(wear.rubberM - rubberLeftM.centre, 8);
          expect(seen.innerM).toBeCloseTo(wear.rubberM - rubberLeftM.innerShoulder, 8);
          expect(seen.outerM).toBeCloseTo(wear.rubberM - rubberLeftM.outerShoulder, 8);
          expect(seen.deepestM).toBeCloseTo(wear.newTreadM - grooveLeftM, 8);
        }
      }
    });
  });

  it('go on after a removal, until cords show at the landing that the columns tell, and then stay', () => {
    const { cordsLandings, lifeLandings } = wear.trials.columns;
    let cords = 0;
    for (let trial = 0; trial < 4; trial++) {
      const deepest = everyLanding.map((look) =>
        Math.max(at(wear.left, trial, look).deepestM, at(wear.right, trial, look).deepestM),
      );
      const first = deepest.findIndex((depth) => depth >= Math.fround(wear.rubberM));
      if (cordsLandings[trial]! < 0 || cordsLandings[trial]! >= 1200) continue;
      cords++;
      expect(first).toBe(cordsLandings[trial]);
      expect(lifeLandings[trial]).toBeLessThan(first);
      // It rolls to the end of the block in which cords show, no further.
      expect(deepest[1199]).toBe(deepest[Math.min(1199, first + 64)]);
    }
    expect(cords).toBeGreaterThan(0);
  });

  it('are looked at where asked, and their trials are those of the run', async () => {
    const few = await recordWear(scenario, request, [10, 64, 65, 500]);
    [10, 64, 65, 500].forEach((landing, look) => {
      for (let trial = 0; trial < 4; trial++) {
        expect(few.left.centreM[trial * 4 + look]).toBe(at(wear.left, trial, landing).centreM);
        expect(few.right.deepestM[trial * 4 + look]).toBe(at(wear.right, trial, landing).deepestM);
      }
    });
    const setup = scenario.setups.findIndex(({ name }) => name === pairing.setup);
    const mix = scenario.mixes.findIndex(({ name }) => name === pairing.mix);
    const [table] = new Simulator(scenario, [{ setup, mix }]).runRange({
      firstTrial: 0,
      trials: 4,
      step: 1,
      luck: 0,
    });
    expect(few.trials.columns).toEqual(table!.columns);
  });

  it.each([[[]], [[-1]], [[3, 3]], [[1.5]], [[5, 2]]])('refuse looks %j', async (looks) => {
    await expect(recordWear(scenario, request, looks)).rejects.toThrow(UsageError);
  });

  it('refuse a name that does not exist and a number of trials out of range', async () => {
    await expect(recordWear(scenario, { ...request, mix: 'sharp rok' }, [1])).rejects.toThrow(/sharp rock/);
    await expect(recordWear(scenario, { ...request, trials: 1 }, [1])).rejects.toThrow(/from 2 to/);
    await expect(recordWear(scenario, { ...request, trials: 100_000 }, everyLanding)).rejects.toThrow(
      /too many/,
    );
  });

  it('stop on request and tell how far they are', async () => {
    const stop = new AbortController();
    const seen: number[] = [];
    const onProgress = ({ finishedTrials }: { finishedTrials: number }): void => {
      seen.push(finishedTrials);
      if (finishedTrials >= 16) stop.abort();
    };
    const work = recordWear(scenario, { ...request, trials: 64, signal: stop.signal, onProgress }, [1]);
    await expect(work).rejects.toThrow(CancelledError);
    expect(seen).toEqual([0, 16]);
  });
});

describe('pressure histories', () => {
  it('are those of the replayed trials', async () => {
    const pressures = await recordPressures(scenario, request);
    expect(pressures.landings).toBe(scenario.calendar.landingsPerYear);
    expect(pressures.mainColdPa).toBeCloseTo(25 * 6894.757, 0);
    stories.forEach((story, trial) => {
      for (const { landing, wheels, temperatureK, strip } of story.landings.slice(0, pressures.landings)) {
        const index = trial * pressures.landings + landing - 1;
        expect(pressures.leftMainPa[index]).toBeCloseTo(wheels[0]!.gaugePa, -1);
        expect(pressures.thirdPa[index]).toBeCloseTo(wheels[2]!.gaugePa, -1);
        expect(pressures.temperatureK[index]).toBeCloseTo(temperatureK, 4);
        expect(scenario.strips[pressures.strip[index]!]!.name).toBe(strip);
      }
    });
  });
});
