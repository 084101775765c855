import { describe, expect, test } from 'vitest';
import { compileScenario } from '../../lib/scenario/compile.js';
import {
  LATEST_CHANCE,
  READING_ERROR_M,
  READING_STEP_M,
  type CompiledToday,
} from '../../lib/scenario/compile-today.js';
import { parseScenario, readScenario } from '../../lib/scenario/read.js';
import { ScenarioError, type Problem } from '../../lib/problems.js';
import { shipped } from '../support/command.js';

const SETUPS = {
  soft: { mainTire: 'soft 29', mainPressure: '9 psi', thirdTire: 'nose 8.50-6', thirdPressure: '20 psi' },
};
const MIXES = { gravel: { 'home pavement': '50 %', 'valley gravel': '50 %' } };
const READING = { wheel: 'left', band: 'centre', groove: '2.4 mm' };
const TODAY = { setup: 'soft', mix: 'gravel', flightHours: '60 h', readings: [READING] };

function textWith(today: object | null): string {
  return JSON.stringify({ name: 'today', setups: SETUPS, mixes: MIXES, today });
}

function compiled(today: object): CompiledToday {
  return compileScenario(parseScenario(textWith(today)).scenario).today!;
}

function problemsOf(today: object): readonly Problem[] {
  try {
    parseScenario(textWith(today));
  } catch (error) {
    if (error instanceof ScenarioError) return error.problems;
    throw error;
  }
  return [];
}

describe('the tires of today in a scenario file', () => {
  test('come out in SI units, with what is left out filled in', () => {
    expect(compiled(TODAY)).toEqual({
      setup: 'soft',
      mix: 'gravel',
      flightHours: 60,
      landings: null,
      ageDays: null,
      dayOfSeason: null,
      mainPa: null,
      readings: [
        {
          wheel: 'left',
          band: 'centre',
          place: 'mean',
          grooveM: 0.0024,
          errorM: READING_ERROR_M,
          stepM: READING_STEP_M,
        },
      ],
      latestChance: LATEST_CHANCE,
    });
  });

  test('may say more', () => {
    const today = compiled({
      ...TODAY,
      landings: '70',
      age: '14 months',
      month: 'July',
      dayOfMonth: 10,
      mainPressure: '11 psi',
      readingError: '0.5 mm',
      readingStep: '1/32 in',
      latestChance: '1 %',
      readings: [
        READING,
        { ...READING, wheel: 'right', band: 'shallowest', place: 'worst', error: '0.2 mm' },
      ],
    });
    // The season of the defaults begins in May: 31 days of May, 30 of June and 9 of July are over.
    expect(today.dayOfSeason).toBe(70);
    expect(today.landings).toBe(70);
    expect(today.ageDays).toBeCloseTo((14 * 365.25) / 12, 0);
    expect(today.mainPa).toBeCloseTo(11 * 6894.757, 0);
    expect(today.latestChance).toBe(0.01);
    expect(today.readings.map(({ errorM }) => errorM)).toEqual([0.0005, 0.0002]);
    expect(today.readings[1]).toMatchObject({ place: 'worst', stepM: 0.0254 / 32 });
  });

  test('a month before the season is one after it; a month alone is its first day', () => {
    // From May to April: 365 - 30 days.
    expect(compiled({ ...TODAY, month: 'April' }).dayOfSeason).toBe(335);
    expect(compiled({ ...TODAY, month: 'May', dayOfMonth: '1' }).dayOfSeason).toBe(0);
  });

  test('are no part of a scenario that does not state them, or takes them away', () => {
    expect(compileScenario(parseScenario(textWith(null)).scenario).today).toBeNull();
  });

  test.each([
    ['setup', { ...TODAY, setup: 'sotf' }, 'today.setup', /did you mean "soft"/],
    ['mix', { ...TODAY, mix: 'gravle' }, 'today.mix', /did you mean "gravel"/],
    ['no hours', { ...TODAY, flightHours: null }, 'today.flightHours', /flightHours or landings/],
    ['hours out of range', { ...TODAY, flightHours: '-3 h' }, 'today.flightHours', /0 h to 20000 h/],
    ['a day without a month', { ...TODAY, dayOfMonth: '3' }, 'today.dayOfMonth', /state "month" too/],
    [
      'a day that is none',
      { ...TODAY, month: 'June', dayOfMonth: '31' },
      'today.dayOfMonth',
      /1 to 30 in June/,
    ],
    ['a month that is none', { ...TODAY, month: 'Juli' }, 'today.month', /did you mean "July"/],
    [
      'a wheel',
      { ...TODAY, readings: [{ ...READING, wheel: 'lft' }] },
      'today.readings.0.wheel',
      /did you mean "left"/,
    ],
    [
      'a groove without unit',
      { ...TODAY, readings: [{ ...READING, groove: '4' }] },
      'today.readings.0.groove',
      /unit/,
    ],
    [
      'an exact gauge',
      { ...TODAY, readingStep: '0 mm', readings: [{ ...READING, error: '0 mm' }] },
      'today.readings.0',
      /no gauge is exact/,
    ],
    ['a slip', { ...TODAY, flighthours: '3 h' }, 'today.flighthours', /landings|expected/],
  ])('%s is told with its place', (_, today, path, message) => {
    const problems = problemsOf(today);
    const found = problems.find((problem) => problem.path.replaceAll(/\[(\d+)\]/g, '.$1') === path);
    expect(problems.map((problem) => problem.path)).toContainEqual(found?.path ?? path);
    expect(`${found!.allowed} ${found!.suggestion ?? ''}`).toMatch(message);
  });

  test('the shipped ones are invented, say so, and are those of a pairing of their file', () => {
    const { scenario } = readScenario(shipped('my-tires-today.json'));
    const { today, setups, mixes } = compileScenario(scenario);
    expect(scenario.note).toContain('Invented');
    expect(scenario.today!.note).toContain('Invented');
    expect(setups.map(({ name }) => name)).toContain(today!.setup);
    expect(mixes.map(({ name }) => name)).toContain(today!.mix);
    expect(today!.readings).toHaveLength(8);
  });
});
