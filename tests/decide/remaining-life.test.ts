import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { remainingLife } from '../../dist/decide/remaining-life.js';
import type { RemainingLife, TodayTires } from '../../dist/decide/remaining-types.js';
import { survivalQuantile } from '../../dist/estimate/kaplan-meier.js';
import { weightedSurvival } from '../../dist/estimate/remaining-curve.js';
import { groovesM, stillOn, weighTrials, type TreadReading } from '../../dist/estimate/remaining-weights.js';
import { binomialCdf } from '../../dist/numeric/beta.js';
import { CancelledError, UsageError } from '../../dist/problems.js';
import { flightHoursAfter } from '../../dist/scenario/calendar.js';
import type { CompiledScenario } from '../../dist/scenario/compile.js';
import { recordWear } from '../../dist/simulate/wear-histories.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';

const first = shippedScenario('first');
const soft = { setup: 'soft 9 psi', mix: 'half rough' };

function centre(grooveMm: number, change: Partial<TreadReading> = {}): TreadReading {
  return {
    wheel: 'left',
    band: 'centre',
    place: 'mean',
    grooveM: grooveMm / 1000,
    errorM: 0.0003,
    stepM: 0.0001,
    ...change,
  };
}

function tires(
  flightHours: number,
  readings: readonly TreadReading[] = [],
  more: Partial<TodayTires> = {},
): TodayTires {
  return { flightHours, landings: null, readings, ...more };
}

describe('coverage', () => {
  it('nine in ten of tires from the same model last as long as their 90 % interval says', async () => {
    const landings = 45;
    const random = seedrandom.alea('gauge');
    const normal = (): number =>
      Math.sqrt(-2 * Math.log(1 - random.double())) * Math.cos(2 * Math.PI * random.double());
    const places = [
      centre(0, { errorM: 0.0003 }),
      centre(0, { errorM: 0.0003, wheel: 'right', band: 'outer shoulder' }),
      centre(0, { errorM: 0.0004, band: 'shallowest', place: 'worst' }),
    ];
    const wear = await recordWear(first, { ...soft, trials: 3000 }, [landings]);
    const truths = await recordWear({ ...first, seed: 'real tires' }, { ...soft, trials: 500 }, [landings]);
    const grooves = places.map((place) => groovesM(wear, 0, place));
    const trueGrooves = places.map((place) => groovesM(truths, 0, place));
    const eligible = stillOn(wear, landings);
    const { lifeLandings, lifeCause } = wear.trials.columns;
    const times = lifeLandings.map((life) => Math.max(0, life - landings));
    const ended = lifeCause.map((cause) => (cause === 0 ? 0 : 1));
    let looked = 0;
    let covered = 0;
    let below = 0;
    let effective = 0;
    for (let tire = 0; tire < truths.trials.rows; tire++) {
      const left = truths.trials.columns.lifeLandings[tire]! - landings;
      if (left <= 0) continue;
      const readings = places.map((place, k) => {
        const read = trueGrooves[k]![tire]! + place.errorM * normal();
        return { ...place, grooveM: Math.max(0, Math.round(read / place.stepM) * place.stepM) };
      });
      const { weights, effectiveTrials } = weighTrials(readings, grooves, eligible);
      const curve = weightedSurvival(times, ended, weights);
      const [low, high] = [0.05, 0.95].map((chance) => survivalQuantile(curve, chance).estimate!);
      looked++;
      effective += effectiveTrials;
      if (left >= low! && left <= high!) covered++;
      if (left < low!) below++;
    }
    expect(looked).toBeGreaterThan(350);
    expect(effective / looked).toBeGreaterThan(200);
    // So early, hardly a trial is worn by now: those have nothing left, and the tires looked at here have.
    const worn = lifeLandings.filter((life, trial) => life <= landings && lifeCause[trial] === 1).length;
    expect(worn / wear.trials.rows).toBeLessThan(0.01);
    // Exact binomial band, false alarms 1 in 10 000 each.
    expect(binomialCdf(covered, looked, 0.9)).toBeGreaterThan(0.5e-4);
    expect(1 - binomialCdf(covered - 1, looked, 0.9)).toBeGreaterThan(0.5e-4);
    expect(binomialCdf(below, looked, 0.05)).toBeGreaterThan(0.5e-4);
    expect(1 - binomialCdf(below - 1, looked, 0.05)).toBeGreaterThan(0.5e-4);
  });
});

describe('a scenario in which nothing varies', () => {
  const worldly = quietScenario({
    assumptions: {
      abradability: { distribution: 'lognormal', p10: '0.08 mm3/J', p90: '0.12 mm3/J', source: 'test' },
    },
  });
  const only = { setup: 'only', mix: 'only', trials: 2000 };
  /** Life and groove after so many landings, in the world of a trial. */
  const wear = recordWear(worldly, { ...only, trials: 200 }, [400, 600]);

  it('a sharp reading tells the world, so what is left is the life less what is flown', async () => {
    const { trials, newTreadM, left } = await wear;
    const trial = 7;
    const life = trials.columns.lifeLandings[trial]!;
    const groove = 1000 * (newTreadM - left.centreM[trial * 2]!);
    const sharp = centre(groove, { errorM: 0.00002, stepM: 0 });
    const result = await remainingLife(worldly, only, {
      flightHours: null,
      landings: 400,
      readings: [sharp],
    });
    // The error of the reading over the wear so far is that of the life, 0.02 mm in about 2 mm, 1 %; four of those.
    const wornMm = 1000 * left.centreM[trial * 2]!;
    const error = life * (0.02 / wornMm);
    expect(Math.abs(result.remaining.landings.p50! - (life - 400))).toBeLessThan(4 * error + 1);
    expect(result.remaining.landings.p90! - result.remaining.landings.p10!).toBeLessThan(
      2 * 2 * 1.2816 * error + 2,
    );
    // Wear goes straight down here, so the check by hand agrees: bands differ, the worst one rules.
    expect(result.flown.hours).toBeCloseTo(200, 9);
  });

  it('what is left after more hours is less by those hours', async () => {
    const { newTreadM, left } = await wear;
    const reading = (look: number): TreadReading =>
      centre(1000 * (newTreadM - left.centreM[7 * 2 + look]!), { errorM: 0.00002, stepM: 0 });
    const [early, late] = await Promise.all(
      [400, 600].map((landings, look) =>
        remainingLife(worldly, only, { flightHours: null, landings, readings: [reading(look)] }),
      ),
    );
    const gap = early!.remaining.hours.p50! - late!.remaining.hours.p50!;
    // 200 landings at 0.5 h; the reading after 400 landings is 1.5 times as unsure.
    expect(Math.abs(gap - 100)).toBeLessThan(10);
    expect(early!.flown.hours - late!.flown.hours).toBeCloseTo(-100, 9);
  });

  it('readings that cannot be met are refused with how far off they are', async () => {
    const sharp = centre(7.95, { errorM: 0.00001, stepM: 0 });
    const asked = remainingLife(worldly, { ...only, trials: 1000 }, tires(200, [sharp]));
    await expect(asked).rejects.toThrow(UsageError);
    await expect(asked).rejects.toThrow(/read 8.0 mm, expected \d\.\d mm .*off by \d/);
  });

  it('readings that are odd, or sharper than the trials can tell, are taken as less sure, and a remark says so', async () => {
    const asked = { ...only, trials: 2000 };
    const { checks } = (await remainingLife(worldly, asked, tires(200, [centre(6, { errorM: 0.001 })])))
      .agreement;
    const { mean, standardDeviation } = checks[0]!.expectedM;
    const read = (off: number, errorM: number): TodayTires =>
      tires(200, [centre(1000 * (mean + off * standardDeviation), { errorM, stepM: 0 })]);
    const sharp = await remainingLife(worldly, asked, read(2, 0.00001));
    expect(sharp.agreement.widenedBy).toBeGreaterThan(1);
    expect(sharp.agreement.chance!).toBeGreaterThan(0.03);
    expect(sharp.remarks[0]).toMatch(/errors were taken as [\d.]+ times greater/);
    // Off by 4 and more, a chance below 1 in 1000.
    const odd = await remainingLife(worldly, asked, read(-4, 0.0003));
    expect(odd.agreement.chance!).toBeLessThan(0.001);
    expect(odd.remarks[0]).toMatch(/The readings are far from what the scenario gave .*left centre read \d/);
    expect(odd.effectiveTrials).toBeGreaterThanOrEqual(50);
  });

  it('age ends what tread does not', async () => {
    const aged = quietScenario({
      habits: { ageLimit: '2 years' },
      assumptions: { abradability: fixed('0.01 mm3/J') },
    });
    const one = await remainingLife(aged, { ...only, trials: 500 }, tires(100, [], { ageDays: 730 - 100 }));
    // 100 days: the landings of July are 1000 in 31 days, and 100 hours are 200 of them, 6.2 days into it. The next age
    // limit is 106.1 days into the season, after its last landing: the tires come off after the first one next July.
    expect(one.remaining.landings.p50).toBe(801);
    expect(one.endCauses.age.estimate).toBeCloseTo(1, 9);
    await expect(
      remainingLife(aged, { ...only, trials: 500 }, tires(100, [], { ageDays: 740 })),
    ).rejects.toThrow(/they are due now/);
  });
});

describe('the tires of a shipped scenario', () => {
  const hours = flightHoursAfter(first.calendar, 60);
  const answers = new Map<string, Promise<RemainingLife>>();
  const ask = (today: TodayTires, scenario: CompiledScenario = first): Promise<RemainingLife> => {
    const key = JSON.stringify([today, scenario.seed]);
    if (!answers.has(key)) {
      answers.set(
        key,
        remainingLife(scenario, { ...soft, trials: 4000, reachHours: [20], reachDays: [10] }, today),
      );
    }
    return answers.get(key)!;
  };

  it('with nothing read, the answer is the life of new tires given the hours', async () => {
    const fresh = await ask(tires(0));
    const { columns } = (await recordWear(first, { ...soft, trials: fresh.trials }, [0])).trials;
    const lives = Array.from(columns.lifeLandings).sort((a, b) => a - b);
    expect(fresh.effectiveTrials).toBeCloseTo(fresh.trials, 6);
    expect(fresh.remaining.landings.p50).toBeCloseTo(lives[lives.length / 2]!, 0);
    expect(fresh.pastLimitNow.estimate).toBe(0);
    const share = (code: number): number =>
      columns.lifeCause.reduce((sum, cause) => sum + (cause === code ? 1 : 0), 0) / fresh.trials;
    expect(fresh.endCauses.worn.estimate).toBeCloseTo(share(1), 9);
    expect(fresh.endCauses.puncture.estimate).toBeCloseTo(share(3), 9);
  });

  it('more tread everywhere leaves more, on common trials', async () => {
    const read = (groove: number): TodayTires =>
      tires(hours, [centre(groove), centre(groove, { wheel: 'right', band: 'outer shoulder' })]);
    const results = await Promise.all([1.2, 1.6, 2].map((groove) => ask(read(groove))));
    results.slice(1).forEach((more, k) => {
      const less = results[k]!;
      for (const figure of ['p10', 'p50', 'p90'] as const) {
        expect(more.remaining.hours[figure]!).toBeGreaterThan(less.remaining.hours[figure]!);
      }
      expect(more.nextInspection.hours).toBeGreaterThanOrEqual(less.nextInspection.hours);
      expect(more.pastLimitNow.estimate).toBeLessThanOrEqual(less.pastLimitNow.estimate);
    });
  });

  it('a tread near the limit may be past it, and the next inspection is now', async () => {
    const low = await ask(tires(hours, [centre(0.1, { band: 'shallowest', place: 'worst' })]));
    expect(low.pastLimitNow.estimate).toBeGreaterThan(0.05);
    expect(low.nextInspection.landings).toBe(0);
    expect(low.remarks[0]).toMatch(/may have been passed already/);
    expect(low.curves.pastLimit[0]).toBeCloseTo(low.pastLimitNow.estimate, 12);
  });

  it('the figures agree with the curves they come from', async () => {
    const { remaining, curves, reach, nextInspection, endOfSeason, endCauses, beyondHorizon } = await ask(
      tires(hours, [centre(1.6)]),
    );
    const at = (landings: number): number => {
      const next = curves.landings.findIndex((each) => each >= landings);
      return curves.survival[next]!;
    };
    expect(at(remaining.landings.p50!)).toBeLessThanOrEqual(0.5);
    expect(curves.landings[0]).toBe(0);
    // Time runs on in all three units together.
    expect(reach[0]!.hours).toBe(20);
    expect(flightHoursAfter(first.calendar, 60 + reach[0]!.landings) - hours).toBeLessThanOrEqual(20 + 1e-6);
    expect(flightHoursAfter(first.calendar, 61 + reach[0]!.landings) - hours).toBeGreaterThan(20);
    expect(reach[1]!.days).toBe(10);
    expect(endOfSeason.landings).toBe(first.calendar.landingsPerYear - 60);
    const causes = Object.values(endCauses).reduce((sum, { estimate }) => sum + estimate, 0);
    expect(causes + beyondHorizon).toBeCloseTo(1, 9);
    // Up to the next inspection the limit is passed with at most the accepted chance, one landing later with more.
    const past = (landings: number): number => {
      const row = curves.landings.findIndex((each) => each >= landings);
      return curves.pastLimit[row]!;
    };
    expect(nextInspection.acceptedChance).toBe(0.05);
    expect(past(nextInspection.landings + 1)).toBeGreaterThan(0.05);
    expect(nextInspection.cautiousHours).toBeLessThanOrEqual(nextInspection.hours);
  });

  it('is plain data, and the same for the same input', async () => {
    const today = tires(hours, [centre(1.6)]);
    const one = await ask(today);
    expect(JSON.parse(JSON.stringify(one))).toEqual(one);
    expect(
      await remainingLife(first, { ...soft, trials: 4000, reachHours: [20], reachDays: [10] }, today),
    ).toEqual(one);
  });

  it('today may be another day of the year than the flight hours tell', async () => {
    const july = await ask(tires(hours, [centre(1.6)], { dayOfSeason: 61 + 9 }));
    const plain = await ask(tires(hours, [centre(1.6)]));
    expect(july.date).toBe('10 July');
    // The wear is that of the landings flown; only the calendar ahead differs.
    expect(july.remaining.landings).toEqual(plain.remaining.landings);
    expect(july.endOfSeason.date).toBe(plain.endOfSeason.date);
    expect(july.endOfSeason.landings).toBeLessThan(plain.endOfSeason.landings);
  });

  it('tires kept at another pressure wear as those of a set-up at that pressure', async () => {
    const harder = shippedScenario('first', { setups: { 'soft 9 psi': { mainPressure: '12 psi' } } });
    const stated = await ask(tires(hours, [centre(1.6)], { mainPa: harder.setups[0]!.mainPa }));
    const { remaining } = await remainingLife(harder, { ...soft, trials: 4000 }, tires(hours, [centre(1.6)]));
    expect(stated.remaining).toEqual(remaining);
  });

  it.each([
    ['set-up', { ...soft, setup: 'soft 9 ps' }, tires(50), /did you mean "soft 9 psi"/],
    ['mix', { ...soft, mix: 'half ruff' }, tires(50), /did you mean "half rough"/],
    ['trials', { ...soft, trials: 499 }, tires(50), /from 500 to/],
    ['hours', soft, tires(-1), /flightHours is -1/],
    ['hours', soft, tires(NaN), /flightHours is NaN/],
    [
      'neither hours nor landings',
      soft,
      { flightHours: null, landings: null, readings: [] },
      /must be given/,
    ],
    ['landings', soft, { flightHours: null, landings: 1.5, readings: [] }, /landings is 1.5/],
    ['hours beyond the horizon', soft, tires(1e6), /raise "horizon"/],
    ['day', soft, tires(50, [], { dayOfSeason: 365 }), /dayOfSeason is 365/],
    ['pressure', soft, tires(50, [], { mainPa: 0 }), /mainPa is 0/],
    ['chance', soft, tires(50, [], { latestChance: 0 }), /latestChance is 0/],
    ['groove', soft, tires(50, [centre(-1)]), /grooveM of reading 1 \(left centre\) is -0.001/],
    ['groove deeper than new', soft, tires(50, [centre(9)]), /deeper than the new groove of 3.0 mm/],
    ['exact gauge', soft, tires(50, [centre(1, { errorM: 0, stepM: 0 })]), /neither error nor step/],
    ['time to reach', { ...soft, reachHours: [-5] }, tires(50), /a time to reach is -5/],
  ] as const)('refuses a %s that cannot be', async (_, request, today, message) => {
    await expect(remainingLife(first, request, today)).rejects.toThrow(UsageError);
    await expect(remainingLife(first, request, today)).rejects.toThrow(message);
  });

  it('stops on request and tells how far it is', async () => {
    const stop = new AbortController();
    const seen: number[] = [];
    const asked = remainingLife(
      first,
      {
        ...soft,
        signal: stop.signal,
        onProgress: ({ finishedTrials }) => {
          seen.push(finishedTrials);
          if (finishedTrials >= 64) stop.abort();
        },
      },
      tires(50, [centre(1.6)]),
    );
    await expect(asked).rejects.toThrow(CancelledError);
    expect(Math.max(...seen)).toBeLessThan(200);
  });
});
