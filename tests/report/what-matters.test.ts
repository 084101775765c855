import { beforeAll, describe, expect, test } from 'vitest';
import { UsageError } from '../../dist/problems.js';
import { chapterPart } from '../../dist/report/chapter.js';
import { runDrivers, runDriversOrWhy, type RunDrivers } from '../../dist/report/run-drivers.js';
import { whatMattersChapter } from '../../dist/report/what-matters-chapter.js';
import { choiceChangeTexts, mixAnswerText, safetyAnswer } from '../../dist/report/what-matters-words.js';
import { runScenario } from '../../dist/run.js';
import { compileScenario, type CompiledScenario } from '../../dist/scenario/compile.js';
import { readScenario } from '../../dist/scenario/read.js';
import { firstOrderFromTrials, valuesInTrials } from '../../dist/sensitivity/trial-inputs.js';
import { valueOfInformation } from '../../dist/sensitivity/value-of-information.js';
import type { ChoiceSafety } from '../../dist/sensitivity/what-matters-types.js';
import type { Simulation } from '../../dist/simulate/simulate.js';
import { shipped } from '../support/command.js';
import { madeRun, scenarioOf } from '../support/made-run.js';
import { quietScenario } from '../support/scenarios.js';

/** Text of a chapter, tables and chart included, tags left out. */
async function textOf(drivers: RunDrivers): Promise<string> {
  const { body } = await chapterPart(whatMattersChapter(drivers));
  return body.markup.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ');
}

const shape = (median: number): unknown => ({
  distribution: 'lognormal',
  p10: `${0.7 * median} mm3/J`,
  p90: `${1.4 * median} mm3/J`,
  source: 'test',
});

describe('on a run whose truth is known', () => {
  const TRIALS = 400;
  const ABRADABILITY = 'assumptions.abradability';
  let compiled: CompiledScenario;
  let simulation: Simulation;

  /** Life of one set-up falls with the rank of the abradability of its trial, the other's does not depend on it. */
  function known(lifeOf: (share: number) => number): Simulation {
    const index = compiled.assumptions.findIndex(({ path }) => path === ABRADABILITY);
    const empty = madeRun(compiled, { steady: { lifeLandings: new Array<number>(TRIALS).fill(0) } });
    const [values] = valuesInTrials(compiled, empty, [index]);
    const sorted = Float64Array.from(values!).sort();
    const keen = Array.from(values!, (value) => Math.round(lifeOf(sorted.indexOf(value) / TRIALS)));
    const steady = keen.map((_, row) => 1000 + (row % 7));
    const twinsOf = (column: readonly number[]): number[] => column.filter((_, row) => row % 4 === 0);
    return madeRun(
      compiled,
      { steady: { lifeLandings: steady }, keen: { lifeLandings: keen } },
      { steady: { lifeLandings: twinsOf(steady) }, keen: { lifeLandings: twinsOf(keen) } },
    );
  }

  beforeAll(() => {
    compiled = scenarioOf(['steady', 'keen'], { assumptions: { abradability: shape(0.1) as never } });
    simulation = known((share) => 1800 * (1 - share));
  });

  test('finds the assumption that decides, that the choice is not safe, and what knowing is worth', async () => {
    const drivers = runDrivers(compiled, simulation);
    const { choice, mix } = drivers.mixes[0]!;
    expect(drivers.criterion).toBe('life');
    expect(choice!.safety).toMatchObject({ best: 'steady', rival: 'keen', kind: 'not safe' });
    // Keen lasts longer in 4 of 9 worlds, by 800 landings falling to 0: the area of a triangle.
    const hoursPerLanding = compiled.calendar.flightHoursPerYear / compiled.calendar.landingsPerYear;
    const worth = choice!.information.inputs[0]!.value!;
    expect(worth.lower).toBeLessThan((4 / 9) * (800 / 2) * hoursPerLanding);
    expect(worth.upper).toBeGreaterThan((4 / 9) * (800 / 2) * hoursPerLanding);
    const text = mixAnswerText(drivers.mixes[0]!, drivers);
    expect(text).toMatch(
      /^On only, from 400 trials: steady lasts longest on average, but that is not safe: knowing every assumption/,
    );
    expect(text).toContain('Measure next: abradability; knowing it is worth');
    const [share] = /its lead over keen hangs most on abradability \((\d+) %/.exec(text)!.slice(1);
    // The lead moves with abradability alone, but for a saw of 7 landings.
    expect(Number(share)).toBeGreaterThan(95);
    expect(text).toContain(`(${share} %; luck of landings and all others`);
    expect(choiceChangeTexts(drivers, mix)[0]).toMatch(
      /^Which set-up lasts longest depends on abradability: knowing/,
    );
    expect(choiceChangeTexts(drivers, 'another')).toEqual([]);
    expect(await textOf(drivers)).toContain('knowing everything:');
  });

  test('says that a choice is safe where no world changes it, and draws nothing', async () => {
    const drivers = runDrivers(
      compiled,
      known((share) => 100 * (1 - share)),
    );
    expect(drivers.choices[0]!.kind).toBe('safe');
    expect(mixAnswerText(drivers.mixes[0]!, drivers)).toContain('Nothing need be measured for this choice.');
    expect(choiceChangeTexts(drivers, 'only')[0]).toMatch(
      /^No single assumption is seen to change which set-up lasts/,
    );
    expect(whatMattersChapter(drivers).chart).toBeNull();
    expect(await textOf(drivers)).toContain('no value seen');
  });

  test('tells what drives the figures of a set-up that has no rival', async () => {
    const alone = { ...simulation, pairings: simulation.pairings.slice(1), twins: simulation.twins.slice(1) };
    const drivers = runDrivers(compiled, alone);
    expect(drivers.mixes[0]!.choice).toBeNull();
    expect(mixAnswerText(drivers.mixes[0]!, drivers)).toMatch(
      /^On only, from 400 trials: With keen, its main tire life hangs most on abradability \(\d+ %; luck of landings and all others \d+ %\)\.$/,
    );
    expect(await textOf(drivers)).not.toContain('Knowing it is worth');
  });
});

describe('on the shipped fleet', () => {
  const TRIALS = 120;
  const compiled = compileScenario(readScenario(shipped('two-gear-sets.json')).scenario);
  let simulation: Simulation;
  let drivers: RunDrivers;

  beforeAll(async () => {
    ({ simulation } = await runScenario(compiled, { trials: TRIALS, workers: 1 }));
    drivers = runDrivers(compiled, simulation);
  });

  test('looks into three mixes, tells the choice on all, and names no place of a file', async () => {
    const text = await textOf(drivers);
    expect(drivers.choices.map(({ mix }) => mix)).toEqual(compiled.mixes.map(({ name }) => name));
    expect(drivers.mixes).toHaveLength(3);
    for (const { mix } of drivers.mixes) expect(text).toContain(`On ${mix}, from ${TRIALS} trials: `);
    expect(text).toMatch(/The choice by money is .* on /);
    expect(text).not.toMatch(/(assumptions|surfaces|sidewalls|habits|compounds|treads|airplanes)\.\w/);
    expect(text).not.toMatch(/\b(undefined|NaN|null|Infinity)\b/);
  });

  test('has the figures of the studies, of assumptions that bear on the run', () => {
    const { mix, setup, figures, choice } = drivers.mixes[0]!;
    const paths = figures[0]!.effects.map(({ input }) => input);
    expect(paths).toContain('assumptions.abradability');
    // No tire of the fleet has a soft sidewall.
    expect(paths.filter((path) => path.startsWith('sidewalls.soft.'))).toEqual([]);
    expect(figures[0]).toEqual(
      firstOrderFromTrials(compiled, simulation, { mix, setup, figure: 'life', assumptions: paths }),
    );
    expect(choice!.information).toEqual(
      valueOfInformation(compiled, simulation, { mix, criterion: 'costPerHour', assumptions: paths }),
    );
  });
});

test('says why there is no answer with few trials, or with nothing in doubt', async () => {
  const sure = quietScenario();
  const { simulation } = await runScenario(sure, { trials: 4, workers: 1 });
  const few = runDriversOrWhy(sure, simulation);
  expect(few).toBeInstanceOf(UsageError);
  expect((few as UsageError).message).toBe('4 trials are too few to tell what matters; run at least 100');
  const known = {
    ...sure,
    assumptions: sure.assumptions.map((each) => ({ ...each, kind: 'fixed' as const })),
  };
  const many = runDriversOrWhy(known, { ...simulation, trials: 100 });
  expect((many as UsageError).message).toBe(
    'no assumption of the scenario is in doubt: all have a fixed value',
  );
});

describe('words for a choice', () => {
  const safety = (changes: Partial<ChoiceSafety>): string =>
    safetyAnswer(
      {
        kind: 'safe',
        best: 'soft',
        rival: 'rigid',
        perfect: { estimate: 30, lower: 20, upper: 40, atLeast: null, atMost: null },
        indifference: 41.2,
        shareOfWorldsOther: { estimate: 0.3, lower: 0.2, upper: 0.4 },
        verdict: { equal: ['rigid'], open: ['rigid'], moreTrials: 290 },
        asGood: ['rigid', 'shaved'],
        ...changes,
      } as ChoiceSafety,
      'costPerHour',
      'credits per season',
      1000,
    );

  test.each<[Partial<ChoiceSafety>, string]>([
    [
      {},
      'soft is cheapest on average, and that is safe: knowing every assumption before choosing would save 30 (20 to 40) credits a season, less than what matters (41 credits a season).',
    ],
    [
      { kind: 'probably safe' },
      'soft is cheapest on average, and that is probably safe: knowing every assumption before choosing would save 30 (20 to 40) credits a season; up to 41 credits a season would not matter; another set-up is best in 30 % (20 to 40 %) of the worlds assumed.',
    ],
    [
      { kind: 'probably safe', perfect: null },
      'soft is cheapest on average; too few trials to tell whether knowing more would change that.',
    ],
    [
      { kind: 'either will do' },
      'soft, rigid and shaved differ by less than what matters (41 credits a season): either will do.',
    ],
    [
      { kind: 'not safe', shareOfWorldsOther: null },
      'soft is cheapest on average, but that is not safe: knowing every assumption before choosing would save 30 (20 to 40) credits a season, more than what matters (41 credits a season).',
    ],
    [
      { kind: 'not told yet', perfect: null },
      '1,000 trials do not tell which of soft and rigid is cheapest; about 1,290 would.',
    ],
  ])('%#', (changes, text) => {
    expect(safety(changes)).toBe(text);
  });
});
