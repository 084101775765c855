import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TRIAL_COLUMNS, type ColumnName, type PairingTrials } from '../../dist/simulate/columns.js';
import { joinSimulations, simulate, StoppedRunError, TWIN_EVERY } from '../../dist/simulate/simulate.js';
import { Simulator } from '../../dist/simulate/trials.js';
import { DrawnWorlds } from '../../dist/simulate/world.js';
import { NonFiniteError, UsageError } from '../../dist/problems.js';
import { shippedScenario } from '../support/scenarios.js';

const mixed = shippedScenario('mixed-season');
const first = shippedScenario('first');

function digest(tables: readonly PairingTrials[]): string {
  const hash = createHash('sha256');
  for (const { columns, surfaceWornM3 } of tables) {
    for (const name of Object.keys(TRIAL_COLUMNS) as ColumnName[])
      hash.update(new Uint8Array(bytes(columns[name])));
    for (const worn of surfaceWornM3) hash.update(new Uint8Array(bytes(worn)));
  }
  return hash.digest('hex');
}

function bytes(values: Int32Array | Uint8Array | Float32Array | Float64Array): ArrayBuffer {
  return values.slice().buffer;
}

describe('same scenario, seed and version', () => {
  it('give the same bits for 1, 2 and 8 workers', async () => {
    const runs = await Promise.all([1, 2, 8].map((workers) => simulate(first, { trials: 150, workers })));
    const digests = runs.map(({ pairings, twins }) => digest([...pairings, ...twins]));
    expect(new Set(digests).size).toBe(1);
  });

  it('give the same bits for a pairing whatever is run beside it', async () => {
    const all = await simulate(mixed, { trials: 12, workers: 1 });
    for (const index of [0, 4, 7, 14]) {
      const pairing = { setup: Math.floor(index / 3), mix: index % 3 };
      const alone = await simulate(mixed, { trials: 12, workers: 1, pairings: [pairing] });
      expect(digest(alone.pairings)).toBe(digest([all.pairings[index]!]));
    }
  });

  it('give the same trials in one run and in parts that are joined', async () => {
    const whole = await simulate(first, { trials: 30, workers: 1 });
    const parts = [
      await simulate(first, { trials: 12, workers: 1 }),
      await simulate(first, { firstTrial: 12, trials: 18, workers: 1 }),
    ];
    const joined = joinSimulations(first, parts);
    expect(digest([...joined.pairings, ...joined.twins])).toBe(digest([...whole.pairings, ...whole.twins]));
    expect(() => joinSimulations(first, [parts[1]!, parts[0]!])).toThrow(UsageError);
    await expect(simulate(first, { firstTrial: TWIN_EVERY + 1, trials: 4 })).rejects.toThrow(UsageError);
  });

  it('give other trials for another seed, and seed 0 is a seed like any other', async () => {
    const seeds = ['0', '1', 'gravelbar', 'gravelbar ', '/', '~1'];
    const digests = await Promise.all(
      seeds.map(async (seed) =>
        digest((await simulate({ ...first, seed }, { trials: 4, workers: 1 })).pairings),
      ),
    );
    expect(new Set(digests).size).toBe(seeds.length);
  });

  it('give trials in any order: each depends on its number only', () => {
    const simulator = new Simulator(first, [{ setup: 0, mix: 0 }]);
    fc.assert(
      fc.property(fc.array(fc.nat(500), { minLength: 2, maxLength: 4 }), (trials) => {
        for (const trial of trials) {
          const range = { firstTrial: trial, trials: 1, step: 1, luck: 0 };
          const fresh = new Simulator(first, [{ setup: 0, mix: 0 }]).runRange(range);
          expect(digest(simulator.runRange(range))).toBe(digest(fresh));
        }
      }),
      { numRuns: 10, seed: 7 },
    );
  });
});

describe('worlds', () => {
  it('are shared by a trial and its twin, whose landings differ', async () => {
    const { pairings, twins } = await simulate(first, { trials: 40, workers: 1 });
    const trial = Array.from({ length: 10 }, (_, k) => pairings[0]!.columns.cordsLandings[k * TWIN_EVERY]!);
    const twin = Array.from(twins[0]!.columns.cordsLandings);
    expect(twin).toHaveLength(10);
    expect(trial).not.toEqual(twin);
    // Wear is mostly ignorance here, so a trial and its twin must be far closer than two trials.
    const distance = (a: readonly number[], b: readonly number[]): number =>
      a.reduce((sum, value, k) => sum + Math.abs(value - b[k]!), 0);
    expect(distance(trial, twin)).toBeLessThan(0.5 * distance(trial, [...twin.slice(1), twin[0]!]));
  });

  it('do not move when an assumption is added or a surface renamed', () => {
    const more = shippedScenario('first', { surfaces: { lava: { like: 'sharp rock' } } });
    const value = (scenario: typeof first, path: string): number => {
      const world = new Float64Array(scenario.assumptions.length);
      new DrawnWorlds(scenario).fill(3, world);
      return world[scenario.assumptions.findIndex((assumption) => assumption.path === path)]!;
    };
    expect(more.assumptions.length).toBeGreaterThan(first.assumptions.length);
    for (const path of ['assumptions.abradability', 'surfaces.gravel.wearFactor', 'habits.brakedShare']) {
      expect(value(more, path)).toBe(value(first, path));
    }
  });
});

describe('a run', () => {
  it('reports progress to the last trial and stops on a signal with the finished trials in order', async () => {
    const seen: number[] = [];
    const whole = await simulate(first, {
      trials: 64,
      workers: 2,
      onProgress: ({ finishedTrials, totalTrials }) => {
        expect(totalTrials).toBe(64);
        seen.push(finishedTrials);
      },
    });
    expect(seen.at(-1)).toBe(64);
    const stop = new AbortController();
    const stopped = simulate(first, {
      trials: 4000,
      workers: 1,
      signal: stop.signal,
      onProgress: ({ finishedTrials }) => {
        if (finishedTrials >= 16) stop.abort();
      },
    });
    const error = await stopped.then(
      () => null,
      (reason: unknown) => reason,
    );
    expect(error).toBeInstanceOf(StoppedRunError);
    const partial = (error as StoppedRunError).partial!;
    expect(partial.complete).toBe(false);
    expect(partial.trials).toBeGreaterThanOrEqual(16);
    const rows = Math.min(partial.trials, 64);
    expect(Array.from(partial.pairings[0]!.columns.lifeLandings.subarray(0, rows))).toEqual(
      Array.from(whole.pairings[0]!.columns.lifeLandings.subarray(0, rows)),
    );
  });

  it('stops at a number that is not finite and names seed, trial, landing and pairing', () => {
    const broken = {
      fill(trial: number, world: Float64Array): void {
        new DrawnWorlds(first).fill(trial, world);
        if (trial === 2) world[first.global.abradability] = NaN;
      },
    };
    const simulator = new Simulator(first, [{ setup: 0, mix: 0 }], broken);
    let caught: unknown;
    try {
      simulator.runRange({ firstTrial: 0, trials: 5, step: 1, luck: 0 });
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(NonFiniteError);
    expect((caught as NonFiniteError).place).toMatchObject({ seed: 'gravelbar', trial: 2, landing: 0 });
    expect((caught as NonFiniteError).message).toContain('assumptions.abradability');
  });
});
