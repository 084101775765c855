import { describe, expect, test } from 'vitest';
import { OverlayLives } from '../../lib/calibrate/overlay-lives.js';
import type { OverlayGroup } from '../../lib/calibrate/overlay-tires.js';
import { survivalOverlay } from '../../lib/calibrate/survival-overlay.js';
import type { Logbook, TireEnd, TireRecord } from '../../lib/calibrate/record-types.js';
import { CancelledError, UsageError } from '../../lib/problems.js';
import type { CompiledScenario } from '../../lib/scenario/compile.js';
import { REMOVAL_CAUSES } from '../../lib/simulate/columns.js';
import { simulate } from '../../lib/simulate/simulate.js';
import { doubtedScenario, DOUBTED } from '../support/invented-records.js';
import { fixed, quietScenario } from '../support/scenarios.js';

const PLACE = { file: 'made', line: 1 };

interface MadeTire {
  readonly airplane: string;
  readonly side: 0 | 1;
  readonly fittedDay: number;
  /** Landings from fitted to its end, one a day; null while it is in service. */
  readonly life: number | null;
  readonly landingsBefore?: number;
}

/** A log of airplanes that land once a day, on the strips in turn. */
function logOf(tires: readonly MadeTire[], days: number, strips: readonly string[] = ['place']): Logbook {
  const airplanes = [...new Set(tires.map(({ airplane }) => airplane))];
  return {
    name: 'made.json',
    note: 'Invented.',
    firstDay: 0,
    lastDay: days,
    readings: [],
    pressureChecks: [],
    cuts: [],
    spreadPeriods: false,
    leastCutM: null,
    remarks: [],
    flights: airplanes.flatMap((airplane) =>
      Array.from({ length: days }, (_, k) => ({
        airplane,
        fromDay: k + 1,
        toDay: k + 1,
        landings: 1,
        flightHours: null,
        strip: strips[k % strips.length]!,
        surface: null,
        braking: null,
        place: PLACE,
      })),
    ),
    tires: tires.map(({ airplane, side, fittedDay, life, landingsBefore = 0 }, k): TireRecord => {
      const end: TireEnd =
        life === null
          ? { kind: 'right', day: days, reason: 'in service' }
          : { kind: 'exact', day: fittedDay + life, cause: 'worn' };
      return {
        id: `${airplane} ${k}`,
        airplane,
        position: side === 0 ? 'left main' : 'right main',
        setup: 'only',
        tireClass: null,
        fittedDay,
        landingsBefore,
        flightHoursBefore: null,
        end,
        landingsStated: null,
        flightHoursStated: null,
        count: 1,
        place: PLACE,
      };
    }),
  };
}

/** Rubber that wears so fast that lives are short. */
const SOFT = {
  assumptions: {
    abradability: { distribution: 'lognormal', p10: '2 mm3/J', p90: '5 mm3/J', source: 'test' },
    landingWearSpread: fixed('0.5'),
  },
};

/** Two airplanes with two pairs of tires each, one after the other. */
const DAYS = 120;
const CHANGE = 60;
const WHEELS: readonly Omit<MadeTire, 'life'>[] = ['alder', 'birch'].flatMap((airplane) =>
  ([0, 1] as const).flatMap((side) => [
    { airplane, side, fittedDay: 0 },
    { airplane, side, fittedDay: CHANGE },
  ]),
);

/** A log of those tires as the simulator lets them live in one world of a seed. */
function livedLog(scenario: CompiledScenario, world: number): Logbook {
  const group: OverlayGroup = {
    setup: 0,
    airplanes: ['alder', 'birch'],
    mixes: [scenario.mixes[0]!, scenario.mixes[0]!],
    tires: WHEELS.map(({ airplane, side }) => ({
      id: '',
      airplane: airplane === 'alder' ? 0 : 1,
      wheel: side,
      entry: 0,
      time: 1,
      ended: false,
      watched: DAYS,
      count: 1,
    })),
  };
  const lives = new OverlayLives(scenario, group, DAYS).live(world);
  return logOf(
    WHEELS.map((wheel, k) => ({ ...wheel, life: wheel.fittedDay + lives[k]! <= DAYS ? lives[k]! : null })),
    DAYS,
  );
}

test('the first of two single tires to come off is the life of the set that a run tells', async () => {
  const scenario = doubtedScenario();
  const horizon = 2500;
  const side = (wheel: number): OverlayGroup['tires'][number] => ({
    id: `${wheel}`,
    airplane: 0,
    wheel,
    entry: 0,
    time: 1,
    ended: false,
    watched: horizon,
    count: 1,
  });
  const group: OverlayGroup = {
    setup: 0,
    airplanes: ['alder'],
    mixes: scenario.mixes,
    tires: [side(0), side(1)],
  };
  const trials = 16;
  const { pairings } = await simulate(scenario, { trials, workers: 1 });
  const { lifeLandings, lifeWheel, lifeCause } = pairings[0]!.columns;
  const lives = new OverlayLives(scenario, group, horizon);
  let ended = 0;
  for (let trial = 0; trial < trials; trial++) {
    const pair = lives.live(trial);
    const first = Math.min(pair[0]!, pair[1]!);
    if (REMOVAL_CAUSES[lifeCause[trial]!] === 'in service' || lifeLandings[trial]! > horizon) {
      expect(first).toBe(Infinity);
      continue;
    }
    ended++;
    expect(first).toBe(lifeLandings[trial]);
    expect(pair[lifeWheel[trial]!]).toBe(first);
  }
  expect(ended).toBeGreaterThan(trials / 2);
});

describe('where nothing is in doubt and all landings are alike', () => {
  const scenario = quietScenario({ assumptions: { abradability: fixed('3 mm3/J') } });
  const overlayOf = (lives: readonly (number | null)[]): ReturnType<typeof survivalOverlay> =>
    survivalOverlay(
      scenario,
      logOf(
        lives.map((life, k) => ({ airplane: `plane ${k}`, side: 0, fittedDay: 0, life })),
        400,
      ),
      null,
      { worlds: 20 },
    );

  test('tires that last as long as the simulator says lie in the range, others do not', async () => {
    const { columns } = (await simulate(scenario, { trials: 2, workers: 1 })).pairings[0]!;
    const life = columns.lifeLandings[0]!;
    expect(life).toBeGreaterThan(10);
    expect(life).toBeLessThan(390);

    const [right] = (await overlayOf([life, life, life, null])).setups;
    // Three of four tires are off: the range of worlds all alike has no width, and all four should be off.
    expect(right!.endsBefore).toEqual({ low: 4, middle: 4, high: 4 });
    expect(right!.verdict).toBe('compared');
    const before = right!.landings.findLastIndex((at) => at < life);
    expect(right!.before.low[before]).toBe(1);
    expect(right!.records.survival[before]).toBe(1);
    const at = right!.landings.indexOf(life);
    expect(right!.before.high[at]).toBe(0);
    expect(right!.records.survival[at]).toBe(0.25);

    const early = await overlayOf([life - 5, life - 4, life - 3]);
    expect(early.setups[0]!.atEnds.map(({ heldBefore }) => heldBefore)).toEqual([false, false, false]);
    expect(early.calibration.before).toMatchObject({ endsHeld: 0, ends: 3, setupsHeld: 1, setups: 1 });
  });

  test('fewer than three ends are too few, and do not count', async () => {
    const overlay = await overlayOf([20, 30, null]);
    expect(overlay.setups[0]!.verdict).toBe('too few ends');
    expect(overlay.calibration.before.ends).toBe(0);
  });
});

test('the range of ends holds logs that the same scenario made, at least as often as it says', async () => {
  const scenario = quietScenario(SOFT);
  const other = { ...scenario, seed: 'another one' };
  const logs = 24;
  let held = 0;
  let ends = 0;
  for (let log = 0; log < logs; log++) {
    const { setups, calibration } = await survivalOverlay(scenario, livedLog(other, log), null, {
      worlds: 40,
    });
    held += calibration.before.setupsHeld;
    ends += setups[0]!.ends;
  }
  // Tires must come off in some logs and stay on in others, or nothing is tested.
  expect(ends).toBeGreaterThan(logs);
  expect(ends).toBeLessThan(WHEELS.length * logs);
  // Ranges from 40 worlds hold 0.8 × 39 / 41 = 76 % of a continuous figure and more of a count. Fewer than 11 of 24
  // logs happen once in 1000 at that share: binomial.
  expect(held).toBeGreaterThanOrEqual(11);
});

describe('with a fit', () => {
  const scenario = doubtedScenario();
  const path = 'assumptions.abradability';
  const si = 1.2e-10;
  const log = logOf(
    [300, 350, null, 420].map((life, k) => ({
      airplane: `plane ${k % 2}`,
      side: (k % 2) as 0 | 1,
      fittedDay: 0,
      life,
    })),
    500,
    ['place', 'track', 'track'],
  );
  const options = { worlds: 24 };

  test('its worlds are those of a scenario that knows what it fixed', async () => {
    const overlay = await survivalOverlay(scenario, log, { paths: [path], rows: [[si], [si]] }, options);
    const known = quietScenario(DOUBTED, { assumptions: { abradability: fixed('0.12 mm3/J') } });
    const alone = await survivalOverlay(known, log, null, options);
    expect(overlay.setups[0]!.fitted).toEqual(alone.setups[0]!.before);
    expect(overlay.setups[0]!.endsFitted).toEqual(alone.setups[0]!.endsBefore);
    expect(overlay.setups[0]!.fitted).not.toEqual(overlay.setups[0]!.before);
    expect(overlay.notes.join(' ')).toMatch(/not a test/);
    expect(alone.notes.join(' ')).not.toMatch(/not a test/);
  });

  test('flies the strips that the log tells, whatever the order of its rows', async () => {
    const overlay = await survivalOverlay(scenario, log, null, options);
    expect(overlay.setups[0]!.flown[0]!.strips.map(({ strip }) => strip)).toEqual(['place', 'track']);
    expect(overlay.setups[0]!.flown[0]!.strips[1]!.share).toBeCloseTo(2 / 3, 2);
    const turned = { ...log, tires: log.tires.toReversed(), flights: log.flights.toReversed() };
    expect(await survivalOverlay(scenario, turned, null, options)).toEqual(overlay);
  });

  test('refuses draws of assumptions that the scenario does not have, and a scenario that is fitted', async () => {
    await expect(
      survivalOverlay(scenario, log, { paths: ['assumptions.none'], rows: [[1]] }, options),
    ).rejects.toThrow(new UsageError('the fit names assumptions.none, which the scenario does not have'));
    const fitted: CompiledScenario = {
      ...scenario,
      fitted: { source: 'x', indices: [0], draws: [1], rows: 1, medians: [1] },
    };
    await expect(survivalOverlay(fitted, log, { paths: [path], rows: [[si]] }, options)).rejects.toThrow(
      /fitted already/,
    );
    await expect(survivalOverlay(scenario, log, null, { worlds: 3 })).rejects.toThrow(/worlds/);
  });

  test('tells how far it is, and stops', async () => {
    const shares: number[] = [];
    await survivalOverlay(scenario, log, null, { ...options, onProgress: (share) => shares.push(share) });
    expect(shares.at(-1)).toBe(1);
    expect(shares).toEqual(shares.toSorted((one, other) => one - other));
    await expect(
      survivalOverlay(scenario, log, null, { ...options, signal: AbortSignal.abort() }),
    ).rejects.toThrow(CancelledError);
  });
});

test('a tire taken up part-worn counts from there on', async () => {
  const scenario = quietScenario(SOFT);
  const tires = [40, 50, 60, null].map((life, k) => ({
    airplane: `plane ${k}`,
    side: 0 as const,
    fittedDay: 0,
    life,
    landingsBefore: k === 0 ? 20 : 0,
  }));
  const { setups, notes } = await survivalOverlay(scenario, logOf(tires, 100), null, { worlds: 20 });
  expect(setups[0]!.atEnds.map(({ landings }) => landings)).toEqual([50, 60]);
  expect(setups[0]!.ends).toBe(3);
  expect(notes.join(' ')).toMatch(/1 tire was taken up part-worn/);
});

describe('what the records tell only in part', () => {
  const scenario = quietScenario(SOFT);
  const log = logOf(
    [40, 50, 60, 70].map((life, k) => ({ airplane: `plane ${k}`, side: 0, fittedDay: 0, life })),
    100,
  );
  const changed = (change: (tire: TireRecord, k: number) => Partial<TireRecord>): Logbook => ({
    ...log,
    tires: log.tires.map((tire, k) => ({ ...tire, ...change(tire, k) })),
  });
  const options = { worlds: 20 };

  test('nose tires are compared by themselves', async () => {
    const noses = changed((_, k) => (k < 3 ? { position: 'third' } : {}));
    const overlay = await survivalOverlay(scenario, noses, null, { ...options, position: 'third' });
    expect(overlay.setups[0]!.tires).toBe(3);
    expect(overlay.notes[0]).toMatch(/one nose or tail tire/);
    // All wheels of the quiet scenario carry the same tire, but not the same load.
    const mains = await survivalOverlay(scenario, log, null, options);
    expect(overlay.setups[0]!.before).not.toEqual(mains.setups[0]!.before);
  });

  test('an end within a range counts at its middle', async () => {
    const range: TireEnd = { kind: 'interval', afterDay: 30, byDay: 40, cause: 'worn' };
    const { setups, notes } = await survivalOverlay(
      scenario,
      changed((_, k) => (k === 0 ? { end: range } : {})),
      null,
      options,
    );
    expect(setups[0]!.atEnds.map(({ landings }) => landings)).toEqual([35, 50, 60, 70]);
    expect(notes.join(' ')).toMatch(/1 end is known only within a range and counts at its middle/);
  });

  test('a tire that came off sound is in service until then, and is not watched on', async () => {
    const { setups, notes } = await survivalOverlay(
      scenario,
      changed(() => ({ end: { kind: 'right', day: 5, reason: 'sound' } })),
      null,
      options,
    );
    expect(setups[0]).toMatchObject({ ends: 0, endsBefore: { low: 0, high: 0 } });
    expect(notes.join(' ')).toMatch(/4 tires came off sound/);
  });

  test('tires alike count as many, and a log of stated lives needs no flights', async () => {
    const stated = changed((tire, k) => ({
      count: k + 1,
      landingsStated: 40 + 10 * k,
      airplane: tire.airplane,
    }));
    const { setups, notes } = await survivalOverlay(scenario, { ...stated, flights: [] }, null, options);
    expect(setups[0]).toMatchObject({ tires: 10, ends: 10 });
    expect(setups[0]!.atEnds.map(({ landings }) => landings)).toEqual([40, 50, 60, 70]);
    // The first of ten, then two, three and four at a time: middles of the steps.
    expect(setups[0]!.atEnds.map(({ recorded }) => Math.round(100 * recorded))).toEqual([95, 80, 55, 20]);
    expect(notes.join(' ')).toMatch(/spread as in the runway mix "only"/);
  });

  test('tires of set-ups that the scenario does not have are refused by name, unknown ones left out', async () => {
    await expect(
      survivalOverlay(
        scenario,
        changed(() => ({ setup: 'onyl' })),
        null,
        options,
      ),
    ).rejects.toThrow(/"onyl".*did you mean "only"/);
    const { notes } = await survivalOverlay(
      scenario,
      changed((_, k) => (k === 0 ? { setup: null, tireClass: 'another' } : {})),
      null,
      options,
    );
    expect(notes.join(' ')).toMatch(/1 tire is left out/);
  });
});
