import { afterEach, expect, test, vi } from 'vitest';
import { main } from '../../lib/cli/main.js';
import { NonFiniteError, type NonFinitePlace } from '../../lib/problems.js';
import { compileScenario } from '../../lib/scenario/compile.js';
import { readScenario } from '../../lib/scenario/read.js';
import { allPairings, Simulator } from '../../lib/simulate/trials.js';
import { DrawnWorlds, type WorldSource } from '../../lib/simulate/world.js';
import { shipped } from '../support/command.js';

const place: NonFinitePlace = {
  seed: 'gravelbar',
  trial: 3,
  landing: 17,
  pairing: 'soft on rock',
  quantity: 'wear',
  value: Number.NaN,
};

vi.mock('../../lib/run.js', async (importOriginal) => ({
  ...(await importOriginal<typeof import('../../lib/run.js')>()),
  runScenario: () => Promise.reject(new NonFiniteError(place)),
}));

afterEach(() => {
  vi.restoreAllMocks();
});

test('a run that meets a number that is not finite prints where it happened and exits with 3', async () => {
  const stdout = vi.spyOn(process.stdout, 'write').mockReturnValue(true);
  const stderr = vi.spyOn(process.stderr, 'write').mockReturnValue(true);
  const argv = ['node', 'gravelbar', 'run', shipped('first.json')];
  expect(await main(argv, new AbortController().signal)).toBe(3);
  expect(stdout).not.toHaveBeenCalled();
  expect(stderr.mock.calls).toEqual([
    [
      'gravelbar: wear is NaN, not a finite number: seed "gravelbar", trial 3, landing 17, pairing "soft on rock"\n',
    ],
  ]);
});

const compiled = compileScenario(readScenario(shipped('first.json')).scenario);

/** The worlds of the scenario, with one assumption spoiled from a trial on. */
function spoiled(path: string, fromTrial: number, value: number): WorldSource {
  const worlds = new DrawnWorlds(compiled);
  const index = compiled.assumptions.findIndex((assumption) => assumption.path === path);
  if (index < 0) throw new RangeError(path);
  return {
    fill(trial, world): void {
      worlds.fill(trial, world);
      if (trial >= fromTrial) world[index] = value;
    },
  };
}

function stoppedBy(run: () => unknown): NonFiniteError {
  try {
    run();
  } catch (caught) {
    expect(caught).toBeInstanceOf(NonFiniteError);
    return caught as NonFiniteError;
  }
  throw new Error('the run was not stopped');
}

const range = { firstTrial: 0, trials: 5, step: 1, luck: 0 };

test.each([
  ['assumptions.abradability', Number.NaN],
  ['assumptions.gaugeBias', Infinity],
  ['habits.sinkRate', -Infinity],
  ['surfaces.gravel.biteDepth', Number.NaN],
])('a world in which %s is %d stops the run and names seed, trial and assumption', (path, value) => {
  const simulator = new Simulator(compiled, allPairings(compiled), spoiled(path, 2, value));
  const { place: found, message } = stoppedBy(() => simulator.runRange(range));
  expect(found).toMatchObject({ seed: 'gravelbar', trial: 2, landing: 0, quantity: `assumption ${path}` });
  expect(message).toContain('seed "gravelbar", trial 2');
});

test('a model that divides by zero stops the run and names seed, trial, landing and pairing', () => {
  const setups = compiled.setups.map((setup, index) =>
    index === 1 ? { ...setup, main: { ...setup.main, rubberAreaM2: 0 } } : setup,
  );
  const simulator = new Simulator({ ...compiled, setups }, allPairings(compiled));
  const { place: found, message } = stoppedBy(() => simulator.runRange(range));
  expect(found).toMatchObject({
    seed: 'gravelbar',
    trial: 0,
    landing: 0,
    pairing: 'rigid 25 psi on half rough',
  });
  expect(found.value).toBe(Infinity);
  expect(message).toContain('landing 0, pairing "rigid 25 psi on half rough"');
});
