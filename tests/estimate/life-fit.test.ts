import { describe, expect, test } from 'vitest';
import {
  fitLife,
  fittedQuantile,
  fittedRemainingLife,
  fittedSurvival,
  type CensoredLife,
  type LifeFit,
  type LifeLawName,
} from '../../lib/index.js';
import { lifeColumns } from '../../lib/estimate/censored-lives.js';
import { standardLaw } from '../../lib/estimate/life-laws.js';
import { LifeLikelihood } from '../../lib/estimate/life-likelihood.js';
import { betaQuantile, normalCdf } from '../../lib/numeric/special.js';
import { standardNormalQuantile } from '../../lib/numeric/normal.js';
import { nextExponential, nextUniform53, openStream } from '../../lib/random/stream.js';
import degenerate from '../reference/degenerate-lives.json' with { type: 'json' };
import reference from '../reference/life-fits.json' with { type: 'json' };

const LAWS: readonly LifeLawName[] = ['weibull', 'lognormal'];
const ended = (...times: number[]): CensoredLife[] => times.map((at) => ({ from: at, to: at }));
const running = (...times: number[]): CensoredLife[] => times.map((at) => ({ from: at, to: Infinity }));
const numbers = (values: readonly (number | string)[]): number[] => values.map(Number);

function parametersOf(fit: LifeFit): NonNullable<LifeFit['parameters']> {
  if (fit.parameters === null) throw new Error(fit.verdict.reasons.join('; '));
  return fit.parameters;
}

/** Equal to all the digits a source prints, but for the rounding of the last one. */
function expectDigits(value: number, printed: string): void {
  const decimals = printed.split('.')[1]?.length ?? 0;
  expect(Math.abs(value - Number(printed))).toBeLessThan(1.01 * 10 ** -decimals);
}

function expectNear(value: number | null, wanted: number, relative: number): void {
  expect(Math.abs(value! / wanted - 1)).toBeLessThan(relative);
}

describe('against R survival 3.5.3 (tests/reference/life-fits.R)', () => {
  const cases = ['lung', 'ovarian', 'lungAtVisits', 'veteranAtVisits'] as const;

  describe.each(cases)('%s', (name) => {
    const data = reference[name];
    const to = numbers(data.to);
    const lives = numbers(data.from).map((from, i) => ({ from, to: to[i]! }));

    test.each(LAWS)('%s: parameters, log-likelihood and bounds of the shape', (law) => {
      const fit = fitLife(lives, { law });
      const { scale, shape } = parametersOf(fit);
      expectNear(scale.estimate, data[law].scale, 1e-8);
      expectNear(shape.estimate, data[law].shape, 1e-8);
      expectNear(fit.logLikelihood, data[law].logLikelihood, 1e-12);
      const [lower, upper] = data[`${law}ShapeBounds`];
      expectNear(shape.lower, lower!, 1e-7);
      expectNear(shape.upper, upper!, 1e-7);
      expect(fit.verdict).toEqual({ kind: 'identified', reasons: [] });
    });
  });

  test.each(['lung', 'ovarian'] as const)(
    '%s: the life by which a tenth has ended, and its bounds',
    (name) => {
      const data = reference[name];
      const to = numbers(data.to);
      const lives = numbers(data.from).map((from, i) => ({ from, to: to[i]! }));
      for (const law of LAWS) {
        const [estimate, lower, upper] = data[`${law}B10`];
        const b10 = fittedQuantile(fitLife(lives, { law }), 0.1);
        // R finds the place of a flat maximum to about the root of its precision, bounds more sharply.
        expectNear(b10.estimate, estimate!, 1e-6);
        expectNear(b10.lower, lower!, 1e-7);
        expectNear(b10.upper, upper!, 1e-7);
      }
    },
  );

  test.each(LAWS)('delayed entry, %s', (law) => {
    const { entry, exit, event, ...fits } = reference.veteranLate;
    const lives = exit.map((at, i) => ({ from: at, to: event[i] === 1 ? at : Infinity, entry: entry[i]! }));
    const fit = fitLife(lives, { law });
    // The likelihood written out in the script, with a general maximiser.
    expectNear(parametersOf(fit).scale.estimate, fits[law].scale, 1e-5);
    expectNear(parametersOf(fit).shape.estimate, fits[law].shape, 1e-5);
    expectNear(fit.logLikelihood, fits[law].logLikelihood, 1e-11);
  });
});

describe('against published examples', () => {
  const nist = [
    ...ended(54, 187, 216, 240, 244, 335, 361, 373, 375, 386),
    ...running(...new Array<number>(10).fill(500)),
  ];

  test('NIST/SEMATECH e-Handbook 8.4.1.3: 10 of 20 units failed by 500 h', () => {
    const fit = fitLife(nist, { law: 'weibull' });
    const { scale, shape } = parametersOf(fit);
    // As published: 1.7207 and 606.5280, to the digits of its maximiser.
    expect(shape.estimate).toBeCloseTo(1.7207, 3);
    expect(scale.estimate).toBeCloseTo(606.528, 2);
    // R survreg and uniroot give these digits.
    expectDigits(shape.estimate, '1.72079726');
    expectDigits(scale.estimate, '606.527558');
    expectDigits(fit.logLikelihood, '-75.13461816');
    expectDigits(shape.standardError, '0.502151');
    expectDigits(scale.standardError, '124.91066');
    expectDigits(shape.lower!, '0.90564536');
    expectDigits(shape.upper!, '2.88573787');
    expectDigits(fittedQuantile(fit, 0.1).estimate, '164.022439');
    expectDigits(fittedQuantile(fit, 0.5).estimate, '490.173781');
  });

  test('shock absorbers of O’Connor 1985 as in Meeker and Escobar 1998', () => {
    const failed = ended(6700, 9120, 12200, 13150, 14300, 17520, 20100, 20900, 22700, 26510, 27490);
    const sound = running(
      ...[6950, 7820, 8790, 9660, 9820, 11310, 11690, 11850, 11880, 12140, 12870, 13330, 13470, 14040],
      ...[17540, 17890, 18450, 18960, 18980, 19410, 20100, 20150, 20320, 23490, 27410, 27890, 28100],
    );
    const lives = [...failed, ...sound];
    expect(lives).toHaveLength(38);
    const weibull = fitLife(lives, { law: 'weibull' });
    const { scale, shape } = parametersOf(weibull);
    // Published: eta 27718.72 (standard error 3046.02), beta 3.16 (0.73).
    expectDigits(scale.estimate, '27718.72');
    expectDigits(scale.standardError, '3046.02');
    expectDigits(shape.estimate, '3.16');
    expectDigits(shape.standardError, '0.73');
    // R survreg.
    expectDigits(shape.estimate, '3.16047031');
    expectDigits(scale.estimate, '27718.718129');
    expectDigits(weibull.logLikelihood, '-123.99536119');
    expectDigits(fittedQuantile(weibull, 0.1).estimate, '13600.0347');
    expectDigits(fittedQuantile(weibull, 0.5).estimate, '24683.6255');
    const lognormal = fitLife(lives, { law: 'lognormal' });
    expectDigits(Math.log(parametersOf(lognormal).scale.estimate), '10.14477069');
    expectDigits(parametersOf(lognormal).shape.estimate, '0.5300680304');
    expectDigits(lognormal.logLikelihood, '-124.60855');
  });

  test('the same by mode of failure: the other mode is censored', () => {
    const first = [6700, 12200, 14300, 17520, 22700, 26510, 27490];
    const second = [9120, 13150, 20100, 20900];
    const sound = [
      ...[6950, 7820, 8790, 9660, 9820, 11310, 11690, 11850, 11880, 12140, 12870, 13330, 13470, 14040],
      ...[17540, 17890, 18450, 18960, 18980, 19410, 20100, 20150, 20320, 23490, 27410, 27890, 28100],
    ];
    // R survreg.
    const one = fitLife([...ended(...first), ...running(...second, ...sound)], { law: 'weibull' });
    expectDigits(parametersOf(one).shape.estimate, '3.38394623');
    expectDigits(parametersOf(one).scale.estimate, '31205.797937');
    expectDigits(one.logLikelihood, '-81.49797642');
    const other = fitLife([...ended(...second), ...running(...first, ...sound)], { law: 'weibull' });
    expectDigits(parametersOf(other).shape.estimate, '2.82221103');
    expectDigits(parametersOf(other).scale.estimate, '40865.861222');
    expectDigits(other.logLikelihood, '-49.63614498');
  });

  test('ball bearings of Lieblein and Zelen 1956, complete', () => {
    const lives = ended(
      ...[17.88, 28.92, 33, 41.52, 42.12, 45.6, 48.4, 51.84, 51.96, 54.12, 55.56, 67.8, 68.64, 68.64, 68.88],
      ...[84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.4],
    );
    const weibull = fitLife(lives, { law: 'weibull' });
    expectDigits(parametersOf(weibull).shape.estimate, '2.10184686');
    expectDigits(parametersOf(weibull).scale.estimate, '81.874559');
    expectDigits(weibull.logLikelihood, '-113.69195909');
    expectDigits(parametersOf(weibull).shape.standardError, '0.328657');
    expectDigits(parametersOf(weibull).scale.standardError, '8.60093');
    const lognormal = fitLife(lives, { law: 'lognormal' });
    expectDigits(Math.log(parametersOf(lognormal).scale.estimate), '4.150382688');
    expectDigits(parametersOf(lognormal).shape.estimate, '0.5216865113');
    expectDigits(lognormal.logLikelihood, '-113.1285543');
  });

  test('Abernethy C.5, and the 6-MP arm of Freireich (both by R survreg)', () => {
    const abernethy = fitLife([...ended(1500, 2250, 4000, 4300, 7000), ...running(1750, 5000)], {
      law: 'weibull',
    });
    expectDigits(parametersOf(abernethy).shape.estimate, '2.25704325');
    expectDigits(parametersOf(abernethy).scale.estimate, '4900.105687');
    expectDigits(abernethy.logLikelihood, '-45.85227557');
    const lives = [
      ...ended(6, 6, 6, 7, 10, 13, 16, 22, 23),
      ...running(6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35),
    ];
    const weibull = fitLife(lives, { law: 'weibull' });
    expectDigits(parametersOf(weibull).shape.estimate, '1.353734524');
    expectDigits(parametersOf(weibull).scale.estimate, '33.76515097');
    expectDigits(weibull.logLikelihood, '-41.65867848');
    const lognormal = fitLife(lives, { law: 'lognormal' });
    expectDigits(Math.log(parametersOf(lognormal).scale.estimate), '3.203067652');
    expectDigits(parametersOf(lognormal).shape.estimate, '0.9787247929');
    expectDigits(lognormal.logLikelihood, '-40.68015587');
  });

  test('a small example with delayed entry', () => {
    const lives = [
      ...[
        [0, 4],
        [0, 6],
        [3, 9],
        [2, 8],
      ].map(([entry, at]) => ({ entry: entry!, from: at!, to: at! })),
      { entry: 5, from: 10, to: Infinity },
      { entry: 0, from: 12, to: Infinity },
    ];
    const fit = fitLife(lives, { law: 'weibull' });
    // R with a general maximiser: 2.2197644, 10.0454395, whose last digits are its own.
    expect(parametersOf(fit).shape.estimate).toBeCloseTo(2.2197644, 5);
    expect(parametersOf(fit).scale.estimate).toBeCloseTo(10.0454395, 4);
    expectDigits(fit.logLikelihood, '-12.2024307');
  });

  test('the scale of a Weibull law is its quantile at 63.2 %, bounds included', () => {
    const fit = fitLife(nist, { law: 'weibull' });
    const { scale } = parametersOf(fit);
    const quantile = fittedQuantile(fit, 1 - Math.exp(-1));
    for (const part of ['estimate', 'lower', 'upper'] as const)
      expectNear(quantile[part], scale[part]!, 1e-9);
  });
});

describe('what a fit says of lives', () => {
  const lives = [
    ...ended(40, 65, 80, 95, 120, 150),
    ...running(60, 100, 160),
    { from: 50, to: 90 },
    { from: 0, to: 70 },
  ];

  test.each(LAWS)('%s: shares, quantiles and further lives agree, bounds included', (law) => {
    const fit = fitLife(lives, { law });
    for (const chance of [0.01, 0.3, 0.5, 0.9]) {
      const quantile = fittedQuantile(fit, chance);
      const survival = fittedSurvival(fit, quantile.estimate);
      expect(survival.estimate).toBeCloseTo(1 - chance, 10);
      // Where a time is the least that a quantile may be, the share is the least that may still be running then.
      expect(fittedSurvival(fit, quantile.lower!).lower).toBeCloseTo(1 - chance, 6);
      expect(fittedSurvival(fit, quantile.upper!).upper).toBeCloseTo(1 - chance, 6);
      const left = fittedRemainingLife(fit, 70, chance);
      expect(fittedSurvival(fit, left.estimate, 70).estimate).toBeCloseTo(1 - chance, 9);
      expect(fittedSurvival(fit, left.lower!, 70).lower).toBeCloseTo(1 - chance, 6);
      expect(fittedSurvival(fit, left.upper!, 70).upper).toBeCloseTo(1 - chance, 6);
      const fromNew = fittedRemainingLife(fit, 0, chance);
      for (const part of ['estimate', 'lower', 'upper'] as const)
        expectNear(fromNew[part], quantile[part]!, 1e-7);
    }
    const both = fittedSurvival(fit, 30).estimate * fittedSurvival(fit, 50, 30).estimate;
    expect(both).toBeCloseTo(fittedSurvival(fit, 80).estimate, 12);
  });

  test('refuses what cannot be asked', () => {
    const fit = fitLife(lives, { law: 'weibull' });
    expect(() => fittedQuantile(fit, 1)).toThrow(/between 0 and 1; found 1/);
    expect(() => fittedSurvival(fit, 0)).toThrow(/more must be a finite number above 0; found 0/);
    expect(() => fittedRemainingLife(fit, -1, 0.5)).toThrow(/age must be/);
    expect(() => fittedRemainingLife(fit, 1e9, 0.5)).toThrow(/no life of the fitted law/);
    const nothing = fitLife(running(1, 2), { law: 'weibull' });
    expect(() => fittedQuantile(nothing, 0.5)).toThrow(/identifies no law: no life has ended/);
    expect(() => fitLife([], { law: 'weibull' })).toThrow(/at least one life/);
    expect(() => fitLife(lives, { law: 'weibull', level: 1 })).toThrow(/level/);
    expect(() => fitLife([{ from: 3, to: 2 }], { law: 'weibull' })).toThrow(/lives\[0\] to/);
    expect(() => fitLife([{ from: NaN, to: 2 }], { law: 'weibull' })).toThrow(/lives\[0\] from/);
    expect(() => fitLife([{ from: 0, to: 0 }], { law: 'weibull' })).toThrow(/lives\[0\] to/);
    expect(() => fitLife([{ from: 2, to: 3, entry: 3 }], { law: 'weibull' })).toThrow(/lives\[0\] entry/);
    expect(() => fitLife([{ from: 2, to: 3, count: 0.5 }], { law: 'weibull' })).toThrow(/lives\[0\] count/);
  });
});

describe('data that say little', () => {
  test.each(degenerate)('$name: $verdict', ({ verdict, lives }) => {
    const rows = lives.map(([from, to]) => ({ from: from!, to: to ?? Infinity }));
    for (const law of LAWS) {
      const fit = fitLife(rows, { law });
      expect(fit.verdict.kind).toBe(verdict);
      expect(fit.verdict.reasons.length > 0).toBe(verdict !== 'identified');
      expect(fit.parameters === null).toBe(verdict === 'not identified');
      expect(Number.isNaN(fit.logLikelihood)).toBe(false);
    }
  });
});

describe('the likelihood', () => {
  const mixed: CensoredLife[] = [
    { from: 3, to: 3 },
    { from: 5, to: Infinity, entry: 2 },
    { from: 2, to: 6, count: 3 },
    { from: 0, to: 4 },
    { from: 7, to: 7, entry: 6.5 },
    { from: 4, to: 9, entry: 1 },
  ];

  test.each(LAWS)('%s: derivatives are those of finite differences', (law) => {
    const likelihood = new LifeLikelihood(lifeColumns(mixed), standardLaw(law));
    const h = 1e-4;
    for (const [offset, rate] of [
      [0, 1],
      [0.7, 2.5],
      [-1.2, 0.4],
    ] as const) {
      const at = likelihood.at(offset, rate);
      const f = (o: number, r: number): number => likelihood.value(offset + o * h, rate + r * h);
      expect(at.value).toBeCloseTo(f(0, 0), 12);
      // Errors of central differences: h^2 and 1e-16 / h, or / h^2 for second ones.
      expect(at.byOffset).toBeCloseTo((f(1, 0) - f(-1, 0)) / (2 * h), 5);
      expect(at.byRate).toBeCloseTo((f(0, 1) - f(0, -1)) / (2 * h), 5);
      expect(at.byOffset2).toBeCloseTo((f(1, 0) - 2 * f(0, 0) + f(-1, 0)) / (h * h), 4);
      expect(at.byRate2).toBeCloseTo((f(0, 1) - 2 * f(0, 0) + f(0, -1)) / (h * h), 4);
      expect(at.byBoth).toBeCloseTo((f(1, 1) - f(1, -1) - f(-1, 1) + f(-1, -1)) / (4 * h * h), 4);
    }
  });

  test('the tail of the normal law is right to the last digits, and goes on where its series takes over', () => {
    const { logSurvival } = standardLaw('lognormal');
    for (let z = -11.97; z < 30; z += 0.0137) {
      const slow = z < 0 ? Math.log1p(-normalCdf(z)) : Math.log(normalCdf(-z));
      // Both start from e^-(z z / 2), of which the last digit of the exponent alone is 72 x 2.2e-16.
      expect(Math.abs(logSurvival(z) / slow - 1)).toBeLessThan(2 * 72 * 2.2e-16 + 2e-15);
    }
    expect(logSurvival(-13)).toBeCloseTo(-normalCdf(-13), 50);
    expect(logSurvival(-40)).toBe(0);
    const drop = logSurvival(30 - 1e-9) - logSurvival(30);
    // The hazard is the slope: 30.03 there.
    expect(drop / 1e-9).toBeCloseTo(30, 0);
    // ln P(Z > 10) = ln 7.619853024160527e-24 by R pnorm.
    expect(logSurvival(10)).toBeCloseTo(Math.log(7.619853024160527e-24), 12);
  });

  test('does not depend on the order of lives, to the bit, nor on joining those alike', () => {
    const lives = mixed.flatMap(({ count = 1, ...life }) => new Array<CensoredLife>(count).fill(life));
    for (const law of LAWS) {
      const joined = { ...fitLife(mixed, { law }), data: null };
      const turned = { ...fitLife([...lives].reverse(), { law }), data: null };
      expect(turned).toEqual(joined);
    }
  });

  test.each([0.001, 60, 1609.344])('does not depend on the unit: times %d', (unit) => {
    const scaled = mixed.map(({ from, to, entry = 0, count }) => ({
      from: from * unit,
      to: to * unit,
      entry: entry * unit,
      count,
    }));
    for (const law of LAWS) {
      const one = parametersOf(fitLife(mixed, { law }));
      const other = parametersOf(fitLife(scaled, { law }));
      for (const part of ['estimate', 'lower', 'upper'] as const) {
        expectNear(other.scale[part], one.scale[part]! * unit, 1e-7);
        expectNear(other.shape[part], one.shape[part]!, 1e-7);
      }
    }
  });
});

/** Exact central binomial band for a count of `trials` with this chance, false alarms below `alarm`. */
function binomialBand(trials: number, chance: number, alarm: number): [number, number] {
  let low = 0;
  // P(count <= k) is the beta tail: the k-th order statistic of uniforms.
  while (betaQuantile(1 - alarm / 2, low + 1, trials - low) < chance) low++;
  let high = trials;
  while (high > 0 && betaQuantile(alarm / 2, high, trials - high + 1) > chance) high--;
  return [low, high];
}

describe('intervals hold what they promise', () => {
  // 600 made data sets of 80 lives, of which half are censored at times of their own, and some enter late. Each band is
  // exact for a 95 % interval, with one false alarm in ten thousand.
  const SETS = 600;
  const [low, high] = binomialBand(SETS, 0.95, 1e-4);

  test.each(LAWS)('%s: shape, scale, tenth, and further life', (law) => {
    const stream = openStream(`coverage ${law}`);
    const uniform = (): number => nextUniform53(stream) || 0.5 ** 54;
    const shape = law === 'weibull' ? 1.8 : 0.6;
    const scale = 250;
    const draw = (): number =>
      law === 'weibull'
        ? scale * nextExponential(stream) ** (1 / shape)
        : scale * Math.exp(shape * standardNormalQuantile(uniform()));
    const quantile = (chance: number): number =>
      law === 'weibull'
        ? scale * (-Math.log1p(-chance)) ** (1 / shape)
        : scale * Math.exp(shape * standardNormalQuantile(chance));
    const truth = { shape, scale, tenth: quantile(0.1) };
    const held = { shape: 0, scale: 0, tenth: 0 };
    for (let set = 0; set < SETS; set++) {
      const lives: CensoredLife[] = [];
      while (lives.length < 80) {
        const entry = uniform() < 0.3 ? 120 * uniform() : 0;
        const life = draw();
        const last = entry + 450 * uniform();
        if (life <= entry) continue;
        if (life > last) lives.push({ from: last, to: Infinity, entry });
        // Some ends are only known to lie between two looks.
        else if (uniform() < 0.3) {
          lives.push({
            from: Math.max(entry, 50 * Math.floor(life / 50)),
            to: 50 * Math.floor(life / 50) + 50,
            entry,
          });
        } else lives.push({ from: life, to: life, entry });
      }
      const fit = fitLife(lives, { law });
      const intervals = { ...parametersOf(fit), tenth: fittedQuantile(fit, 0.1) };
      for (const name of ['shape', 'scale', 'tenth'] as const) {
        const { lower, upper } = intervals[name];
        if ((lower ?? 0) <= truth[name] && truth[name] <= (upper ?? Infinity)) held[name]++;
      }
    }
    for (const count of Object.values(held)) {
      expect(count).toBeGreaterThanOrEqual(low);
      expect(count).toBeLessThanOrEqual(high);
    }
  });
});
