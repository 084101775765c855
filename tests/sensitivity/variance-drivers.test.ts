import { describe, expect, test } from 'vitest';
import { oneAtATime } from '../../dist/sensitivity/one-at-a-time.js';
import { StoppedStudyError } from '../../dist/sensitivity/stopped.js';
import type { VarianceStudy } from '../../dist/sensitivity/variance-types.js';
import { varianceDrivers } from '../../dist/sensitivity/variance-drivers.js';
import { punctureLife, tireLife } from '../../lib/sensitivity/known-functions.js';
import type { IndexEstimate } from '../../lib/sensitivity/index-types.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';

const doubt = (p10: string, p90: string) => ({ distribution: 'lognormal', p10, p90, source: 'test' });

const expectHeld = ({ lower, upper }: IndexEstimate, truth: number, rounding = 0): void => {
  expect(lower - rounding).toBeLessThanOrEqual(truth);
  expect(upper + rounding).toBeGreaterThanOrEqual(truth);
};

// Level 0.9999 for each interval: false alarm 1 in 10 000. Low-discrepancy worlds err less than that.
const SURE = { level: 0.9999, resamples: 2000, workers: 1 };

/** Life is tread over wear, three lognormal factors: a closed form. Other assumptions play no part. */
const wear = quietScenario({
  surfaces: { plain: { wearFactor: doubt('0.7', '1.4') } },
  compounds: { plain: { wearFactor: doubt('0.8', '1.2'), biteFactor: fixed('1'), source: 'test' } },
  tires: { plain: { compound: 'plain', newTread: '3 mm' } },
  season: { months: [{ month: 'July', landings: '300', flightHours: '150 h', temperature: '15 degC' }] },
  assumptions: { abradability: doubt('0.08 mm3/J', '0.14 mm3/J') },
});
const wearPaths = ['assumptions.abradability', 'surfaces.plain.wearFactor', 'compounds.plain.wearFactor'];

/** Landings to the first puncture; nothing wears. */
const stones = quietScenario({
  surfaces: { plain: { sharpStones: doubt('0.2 /m2', '1 /m2') } },
  season: { months: [{ month: 'July', landings: '60', flightHours: '60 h', temperature: '15 degC' }] },
  assumptions: { abradability: fixed('0 mm3/J') },
});

describe('what drives the variance', () => {
  test('of a life by wear alone, against the closed form', async () => {
    const study = await varianceDrivers(wear, { ...SURE, rows: 256, figures: ['life'] });
    const exact = tireLife([
      { name: 'abradability', p10: 0.08, p90: 0.14, power: -1 },
      { name: 'surface', p10: 0.7, p90: 1.4, power: -1 },
      { name: 'compound', p10: 0.8, p90: 1.2, power: -1 },
    ]);
    const [life] = study.figures;
    expect(study.inputs.map(({ name }) => name).sort()).toEqual(
      ['landing luck', 'no effect seen', ...wearPaths].sort(),
    );
    wearPaths.forEach((path, k) => {
      const { firstOrder, total, verdict } = life!.indices.inputs.find(({ input }) => input === path)!;
      // Life in whole landings, some hundreds: its rounding is far below a thousandth of the variance.
      expectHeld(firstOrder, exact.firstOrder[k]!, 0.001);
      expectHeld(total, exact.total[k]!, 0.001);
      expect(verdict.kind).toBe('matters');
    });
    // Neither luck nor the dummies move a bit.
    for (const name of ['landing luck', 'no effect seen']) {
      const { total, firstOrder, verdict } = life!.indices.inputs.find(({ input }) => input === name)!;
      expect([total.lower, total.upper, firstOrder.estimate]).toEqual([0, 0, 0]);
      expect(verdict.kind).toBe('too small to see');
    }
    expect(life!.ignorance.estimate).toBe(1);
    expect(JSON.parse(JSON.stringify(study))).toEqual(study);
  });

  test('of landings to the first puncture: luck is an input, against the closed form', async () => {
    const study = await varianceDrivers(stones, { ...SURE, rows: 1024, figures: ['life'] });
    const exact = punctureLife(0.2, 1);
    const [life] = study.figures;
    const names = ['landing luck', 'surfaces.plain.sharpStones'];
    names.forEach((name, k) => {
      const { firstOrder, total } = life!.indices.inputs.find(({ input }) => input === name)!;
      // Lives are counted to whole landings: mean about 30, so that the law is geometric and not exponential; the
      // relative variance given the world is 1 - h against 1, h about 1 in 30.
      expectHeld(firstOrder, exact.firstOrder[k]!, 0.03);
      expectHeld(total, exact.total[k]!, 0.03);
    });
    expect(life!.ignorance.estimate).toBeCloseTo(1 - life!.indices.inputs[0]!.total.estimate, 12);
  });

  test('groups are sums where nothing acts together; the order of groups does not matter', async () => {
    const groups = [
      { name: 'rubber', inputs: [wearPaths[0]!, wearPaths[2]!] },
      { name: 'ground', inputs: [wearPaths[1]!] },
    ];
    const study = await varianceDrivers(wear, { ...SURE, rows: 64, figures: ['life'], groups });
    const turned = await varianceDrivers(wear, {
      ...SURE,
      rows: 64,
      figures: ['life'],
      groups: [...groups].reverse(),
    });
    const of = ({ figures }: VarianceStudy, name: string) =>
      figures[0]!.indices.inputs.find(({ input }) => input === name);
    expect(of(turned, 'rubber')).toEqual(of(study, 'rubber'));
    expect(of(turned, 'ground')).toEqual(of(study, 'ground'));
    const exact = tireLife([
      { name: 'rubber 1', p10: 0.08, p90: 0.14, power: -1 },
      { name: 'ground', p10: 0.7, p90: 1.4, power: -1 },
      { name: 'rubber 2', p10: 0.8, p90: 1.2, power: -1 },
    ]);
    expectHeld(of(study, 'rubber')!.total, 1 - exact.firstOrder[1]!, 0.001);
    expectHeld(of(study, 'ground')!.firstOrder, exact.firstOrder[1]!, 0.001);
  });

  test('the same for any workers; a lead has drivers of its own', async () => {
    const scenario = shippedScenario('first');
    const options = { rows: 16, groups: 'by entry', resamples: 100 } as const;
    const study = await varianceDrivers(scenario, { ...options, workers: 1 });
    expect(await varianceDrivers(scenario, { ...options, workers: 2 })).toEqual(study);
    const leads = study.figures.filter(({ versus }) => versus !== null);
    expect(leads.map(({ figure }) => figure)).toEqual(['life', 'flats', 'daysLost']);
    const turf = study.inputs.find(({ paths }) => paths.includes('surfaces.turf.wearFactor'))!;
    expect(turf.name).toBe('no effect seen');
    expect(turf.paths).not.toContain('surfaces.gravel.wearFactor');
  });

  test('stops when asked, with the finished rows', async () => {
    const stop = new AbortController();
    const study = varianceDrivers(wear, {
      ...SURE,
      groups: 'by entry',
      rows: 512,
      signal: stop.signal,
      onProgress: ({ finishedTrials }) => {
        if (finishedTrials > 400) stop.abort();
      },
    });
    const error = await study.catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(StoppedStudyError);
    const partial = (error as StoppedStudyError).partial as VarianceStudy | null;
    expect(partial!.complete).toBe(false);
    const whole = await varianceDrivers(wear, { ...SURE, groups: 'by entry', rows: partial!.rows });
    expect(partial!.figures).toEqual(whole.figures);
  });
});

function relativeVariance(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value / values.length, 0);
  return values.reduce((sum, value) => sum + (value / mean - 1) ** 2 / values.length, 0);
}

describe('assumptions that were fitted together', () => {
  const draws = {
    paths: wearPaths.slice(0, 2),
    // Abradability and surface factor tied closely: their product is known better than either.
    rows: Array.from({ length: 200 }, (_, k) => {
      const factor = 0.5 + k / 200;
      return [1e-10 * factor, (1 + 0.05 * (k % 10)) / factor];
    }),
  };

  test('stay one input, and the others share out the rest', async () => {
    const study = await varianceDrivers(wear, { ...SURE, rows: 64, figures: ['life'], draws });
    const [life] = study.figures;
    const tied = life!.indices.inputs.find(({ input }) => input === 'fitted together')!;
    const compound = life!.indices.inputs.find(({ input }) => input === wearPaths[2])!;
    // Life goes with one over the product, and with one over the compound factor: two independent factors.
    const inverse = draws.rows.map(([one, other]) => 1 / (one! * other!));
    const tiedVariance = relativeVariance(inverse);
    const sigma = Math.log(1.2 / 0.8) / (2 * 1.2815515655446004);
    const compoundVariance = Math.exp(sigma * sigma) - 1;
    const all = (1 + tiedVariance) * (1 + compoundVariance) - 1;
    expectHeld(tied.firstOrder, tiedVariance / all, 0.001);
    expectHeld(compound.firstOrder, compoundVariance / all, 0.001);
    expectHeld(compound.total, (compoundVariance * (1 + tiedVariance)) / all, 0.001);
    expect(study.inputs.find(({ name }) => name === 'fitted together')!.paths).toEqual(draws.paths);
  });

  test('are those of a scenario with fitted draws', async () => {
    const indices = draws.paths.map((path) => wear.assumptions.findIndex((each) => each.path === path));
    const fitted = {
      source: 'test',
      indices,
      draws: draws.rows.flat(),
      rows: draws.rows.length,
      medians: [1e-10, 1],
    };
    const options = { ...SURE, rows: 16, figures: ['life'] } as const;
    const [own, given] = [
      await varianceDrivers({ ...wear, fitted }, options),
      await varianceDrivers(wear, { ...options, draws }),
    ];
    expect(own.figures).toEqual(given.figures);
    // Moved by itself, abradability goes over its own draws: 0.5 + 0.1 and 0.5 + 0.9 of 1e-10, by the 200 steps.
    const study = await oneAtATime(
      { ...wear, fitted },
      { trials: 16, workers: 1, figures: ['life'], assumptions: draws.paths },
    );
    const moved = study.assumptions.find(({ path }) => path === wearPaths[0])!;
    expect(moved.fittedWithOthers).toBe(true);
    expect([moved.lowSi * 1e10, moved.highSi * 1e10].map((value) => value.toFixed(2))).toEqual([
      '0.60',
      '1.40',
    ]);
  });

  test('are not torn apart', async () => {
    const groups = [{ name: 'rubber', inputs: [wearPaths[0]!, wearPaths[2]!] }];
    await expect(varianceDrivers(wear, { draws, groups })).rejects.toThrow(
      /tears apart .*abradability.* and .*wearFactor.*correlation -0\.9\d/,
    );
    const all = [{ name: 'wear', inputs: wearPaths }];
    const study = await varianceDrivers(wear, { ...SURE, rows: 16, figures: ['life'], draws, groups: all });
    expect(study.inputs.find(({ name }) => name === 'wear')!.paths).toEqual(wearPaths);
  });

  test.each([
    [{ draws: { paths: ['x'], rows: draws.rows.map(() => [1]) } }, 'name "x"'],
    [{ draws: { paths: wearPaths, rows: draws.rows } }, 'row 0 of the joint draws must hold 3'],
    [{ draws: { ...draws, rows: [] } }, 'at least 20 rows'],
    [{ groups: [{ name: 'g', inputs: ['nothing'] }] }, 'names "nothing", which is no input'],
    [{ groups: [{ name: 'g', inputs: [] }] }, 'has no inputs'],
    [{ rows: 3 }, 'rows is 3'],
    [{ smallShare: 0 }, 'smallShare is 0'],
    [{ resamples: 1 }, 'resamples is 1'],
  ])('refuses bad options %#', async (options, message) => {
    await expect(varianceDrivers(wear, options)).rejects.toThrow(message);
  });
});
