/**
 * Statistics against published tables and reference programs.
 *
 * Status of each expected value:
 *   V-S  the published number itself was read in a public source (named);
 *   V-R  recomputed with R 4.2.2 (survival 3.5.3, cmprsk 2.2-11) or scipy 1.10.1;
 *   MEM  the attribution to a book or paper is from memory.
 */
import { describe, expect, test } from 'vitest';
import { cumulativeIncidence } from '../../lib/estimate/cumulative-incidence.js';
import { kaplanMeier, survivalAt, survivalQuantile } from '../../lib/estimate/kaplan-meier.js';
import {
  mean,
  quantileSorted,
  sampleCovariance,
  sampleStandardDeviation,
  sampleVariance,
} from '../../lib/estimate/moments.js';
import { garwoodInterval } from '../../lib/estimate/poisson-rate.js';
import { clopperPearsonInterval, jeffreysInterval, wilsonInterval } from '../../lib/estimate/proportion.js';
import { quantileInterval } from '../../lib/estimate/quantile-interval.js';
import { restrictedMean } from '../../lib/estimate/restricted-mean.js';
import { betaQuantile, gammaQuantile, poissonCdf, regularizedGammaQ } from '../../lib/numeric/special.js';

/** Reads '6700:1 6950 ...': life, then the cause after a colon (none = censored). */
function lives(text: string): { times: Float64Array; causes: Int8Array; ended: Uint8Array } {
  const pairs = text
    .trim()
    .split(/\s+/)
    .map((word) => word.split(':').map(Number));
  return {
    times: Float64Array.from(pairs, ([time]) => time!),
    causes: Int8Array.from(pairs, ([, cause]) => cause ?? 0),
    ended: Uint8Array.from(pairs, ([, cause]) => (cause === undefined ? 0 : 1)),
  };
}

describe('Kaplan-Meier: remission times of Freireich and Gehan, 6-MP arm', () => {
  // Data: R MASS::gehan, treat == "6-MP"; original Freireich et al. (1963), Gehan (1965): MEM.
  const { times, ended } = lives(
    '6:1 6:1 6:1 6 7:1 9 10:1 10 11 13:1 16:1 17 19 20 22:1 23:1 25 32 32 34 35',
  );
  const curve = kaplanMeier(times, ended);

  test('survival, Greenwood error and log(-log) band are those of R survfit', () => {
    // V-R, conf.type = "log-log"; the table is also V-S with 3 digits in two public course pages.
    const table = [
      [6, 21, 3, 0.8571428571, 0.07636035483, 0.6197179553, 0.9515517476],
      [7, 17, 1, 0.8067226891, 0.08693528518, 0.5631465646, 0.9228090192],
      [10, 15, 1, 0.7529411765, 0.09634965299, 0.5031995108, 0.8893618352],
      [13, 12, 1, 0.6901960784, 0.10681470778, 0.4316102225, 0.8490659633],
      [16, 11, 1, 0.6274509804, 0.11405386526, 0.367510856, 0.8049121895],
      [22, 7, 1, 0.5378151261, 0.12823375169, 0.2677789368, 0.7467907176],
      [23, 6, 1, 0.4481792717, 0.13459145676, 0.188052006, 0.6801426285],
    ];
    expect(curve.time).toHaveLength(table.length);
    table.forEach(([time, atRisk, ended, survival, error, lower, upper], row) => {
      expect([curve.time[row], curve.atRisk[row], curve.ended[row]]).toEqual([time, atRisk, ended]);
      expect(curve.survival[row]).toBeCloseTo(survival!, 9);
      expect(curve.standardError[row]).toBeCloseTo(error!, 9);
      expect(curve.lower[row]).toBeCloseTo(lower!, 9);
      expect(curve.upper[row]).toBeCloseTo(upper!, 9);
    });
  });

  test('quantiles and their limits are those of R quantile.survfit', () => {
    // V-R, log-log band; the median 23 is also V-S.
    expect(survivalQuantile(curve, 0.25)).toEqual({ estimate: 13, lower: 6, upper: 22 });
    expect(survivalQuantile(curve, 0.5)).toEqual({ estimate: 23, lower: 13, upper: null });
    expect(survivalQuantile(curve, 0.75)).toEqual({ estimate: null, lower: 23, upper: null });
    const narrower = kaplanMeier(times, ended, { level: 0.9 });
    expect(survivalQuantile(narrower, 0.25)).toEqual({ estimate: 13, lower: 6, upper: 22 });
  });

  test('the restricted mean and its error are those of R', () => {
    // V-R: summary(survfit, rmean = 35) and rmean = 20.
    const to35 = restrictedMean(curve, 35);
    expect(to35.estimate).toBeCloseTo(23.28739495798, 10);
    expect(to35.standardError).toBeCloseTo(2.82746762337, 10);
    const to20 = restrictedMean(curve, 20);
    expect(to20.estimate).toBeCloseTo(16.11652661064, 10);
    expect(to20.standardError).toBeCloseTo(1.25156019601, 10);
  });
});

describe('Kaplan-Meier: remission times of Freireich and Gehan, control arm (nothing censored)', () => {
  const times = Int32Array.of(1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23);
  const curve = kaplanMeier(times, new Uint8Array(21).fill(1));

  test('survival and error at 8, 22 and 23 are those of R', () => {
    // V-R; R gives NaN for the error and NA for the band where the curve has reached 0.
    const at8 = curve.time.indexOf(8);
    expect(curve.survival[at8]).toBeCloseTo(0.38095238095, 10);
    expect(curve.standardError[at8]).toBeCloseTo(0.10597116957, 10);
    expect(survivalAt(curve, 22).lower).toBeCloseTo(0.00332446304253, 12);
    expect(survivalAt(curve, 22).upper).toBeCloseTo(0.197044905699, 12);
    expect(survivalAt(curve, 23).estimate).toBe(0);
  });

  test('once everything has ended the upper bound is that of Clopper and Pearson for 0 of 21', () => {
    expect(survivalAt(curve, 23).upper).toBeCloseTo(clopperPearsonInterval(0, 21).upper, 12);
  });

  test('quantiles and their limits are those of R quantile.survfit', () => {
    // V-R, log-log band. For 10 % R gives the lower limit 1, the first end; here it is 0, because 21 trials
    // cannot rule out that a tenth end earlier (0.9^21 = 0.11).
    expect(survivalQuantile(curve, 0.1)).toEqual({ estimate: 2, lower: 0, upper: 3 });
    expect(survivalQuantile(curve, 0.25)).toEqual({ estimate: 4, lower: 1, upper: 5 });
    expect(survivalQuantile(curve, 0.5)).toEqual({ estimate: 8, lower: 4, upper: 11 });
    expect(survivalQuantile(curve, 0.75)).toEqual({ estimate: 12, lower: 8, upper: 22 });
  });

  test('the restricted mean and its error are those of R, and the full mean is the plain mean', () => {
    const full = restrictedMean(curve, 23); // V-R 8.66666666667, 1.37739004126
    expect(full.estimate).toBeCloseTo(182 / 21, 12);
    expect(full.standardError).toBeCloseTo(1.37739004126, 10);
    const to10 = restrictedMean(curve, 10); // V-R
    expect(to10.estimate).toBeCloseTo(6.619047619048, 10);
    expect(to10.standardError).toBeCloseTo(0.733012268851, 10);
  });
});

test('a median on a flat stretch is the middle of it, as in R quantile.survfit', () => {
  // Convention read in the source of quantile.survfit (V-S); the three values are V-R.
  const median = (times: number[], ended: number[]): number | null =>
    survivalQuantile(kaplanMeier(Float64Array.from(times), Uint8Array.from(ended)), 0.5).estimate;
  expect(median([1, 2, 3, 4], [1, 1, 1, 1])).toBe(2.5);
  expect(median([1, 2, 3, 4], [1, 1, 0, 0])).toBe(3);
  expect(median([1, 2, 3, 5, 9, 9.5], [1, 1, 1, 0, 1, 0])).toBe(6);
  // Lives 1 to 10, every tenth: R gives 1.5 to 9.5, though 1 - p is rounded.
  const ten = kaplanMeier(Int32Array.of(1, 2, 3, 4, 5, 6, 7, 8, 9, 10), new Uint8Array(10).fill(1));
  for (let tenth = 1; tenth <= 9; tenth += 1) {
    expect(survivalQuantile(ten, tenth / 10).estimate).toBe(tenth + 0.5);
  }
});

describe('competing causes: shock absorbers of Meeker and Escobar', () => {
  // Data: R SMRD::shockabsorber (kilometres, two failure modes; O'Connor 1985, MEM).
  const { times, causes, ended } = lives(`
    6700:1 6950 7820 8790 9120:2 9660 9820 11310 11690 11850 11880 12140 12200:1 12870 13150:2 13330 13470 14040
    14300:1 17520:1 17540 17890 18450 18960 18980 19410 20100:2 20100 20150 20320 20900:2 22700:1 23490 26510:1
    27410 27490:1 27890 28100`);
  const result = cumulativeIncidence(times, causes);

  test('the life curve of all modes together is that of R', () => {
    const curve = kaplanMeier(times, ended); // V-R
    const expected: readonly (readonly [number, number])[] = [
      [6700, 0.973684210526],
      [9120, 0.945046439628],
      [12200, 0.908698499643],
      [14300, 0.82729425905],
      [20100, 0.71843975128],
      [22700, 0.53882981346],
      [27490, 0.287375900512],
    ];
    for (const [time, survival] of expected) {
      expect(survivalAt(curve, time).estimate).toBeCloseTo(survival, 11);
    }
    expect(curve.standardError[0]).toBeCloseTo(0.0259672206, 9);
    expect(curve.standardError.at(-1)).toBeCloseTo(0.1510890119, 9);
  });

  test('the share ended by each mode and its error are those of R survfit (Aalen-Johansen)', () => {
    // V-R: summary(survfit(Surv(time, factor(mode)) ~ 1)). cmprsk::cuminc gives the same shares.
    const expected: readonly (readonly [number, number, number, number, number, number])[] = [
      [12200, 0.908698499643, 0.0626637294594, 0.0435480048451, 0.0286377708978, 0.0282238195591],
      [20900, 0.62863478237, 0.1497473356752, 0.0706585543428, 0.2216178819548, 0.1082063553276],
      [27490, 0.287375900512, 0.4910062175332, 0.1580298552131, 0.2216178819548, 0.1082063553276],
    ];
    for (const [time, running, first, firstError, second, secondError] of expected) {
      const row = result.time.indexOf(time);
      expect(result.survival[row]).toBeCloseTo(running, 11);
      expect(result.byCause[0]!.incidence[row]).toBeCloseTo(first, 11);
      expect(result.byCause[0]!.standardError[row]).toBeCloseTo(firstError, 11);
      expect(result.byCause[1]!.incidence[row]).toBeCloseTo(second, 11);
      expect(result.byCause[1]!.standardError[row]).toBeCloseTo(secondError, 11);
    }
  });

  test('one minus the curve of mode 1 alone would overstate its share: 0.6148 against 0.4910', () => {
    const alone = kaplanMeier(
      times,
      Uint8Array.from(causes, (cause) => (cause === 1 ? 1 : 0)),
    );
    expect(1 - survivalAt(alone, 27490).estimate!).toBeCloseTo(0.614806246385, 11); // V-R
  });

  test('tied ends by two causes give the shares and errors of R', () => {
    // V-R, a made example with ties and censoring.
    const tied = cumulativeIncidence(
      Int32Array.of(1, 1, 2, 2, 2, 3, 3, 4, 5, 5),
      Int8Array.of(1, 2, 1, 1, 2, 0, 1, 2, 1, 0),
    );
    const errors = [
      [0.0948683298051, 0.1449137674619, 0.1549193338483, 0.1549193338483, 0.1668887409379],
      [0.0948683298051, 0.1264911064067, 0.1264911064067, 0.1586984095232, 0.1586984095232],
    ];
    const shares = [
      [0.1, 0.3, 0.4, 0.4, 0.533333333333],
      [0.1, 0.2, 0.2, 0.333333333333, 0.333333333333],
    ];
    tied.byCause.forEach((column, k) => {
      shares[k]!.forEach((share, row) => {
        expect(column.incidence[row]).toBeCloseTo(share, 11);
      });
      errors[k]!.forEach((error, row) => {
        expect(column.standardError[row]).toBeCloseTo(error, 11);
      });
    });
  });
});

describe('NIST StRD univariate summary statistics (certified values, V-S in public test suites)', () => {
  const alternating = (centre: number, low: number, high: number): Float64Array =>
    Float64Array.from({ length: 1001 }, (_, i) => (i === 0 ? centre : i % 2 === 1 ? low : high));
  const lagOneCorrelation = (values: Float64Array): number => {
    const centre = mean(values);
    let products = 0;
    for (let i = 1; i < values.length; i += 1) products += (values[i]! - centre) * (values[i - 1]! - centre);
    return products / (sampleVariance(values) * (values.length - 1));
  };

  test.each([
    ['NumAcc1', Float64Array.of(10000001, 10000003, 10000002), 10000002, 1, -0.5],
    ['NumAcc2', alternating(1.2, 1.1, 1.3), 1.2, 0.1, -0.999],
    ['NumAcc3', alternating(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, -0.999],
    ['NumAcc4', alternating(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, -0.999],
  ])('%s: mean, standard deviation and lag-1 autocorrelation are the certified ones', (_, data, m, sd, r) => {
    expect(Math.abs(mean(data) / m - 1)).toBeLessThan(1e-15);
    // The inputs of NumAcc4 are not doubles: a perfect computation gives 0.100000000558794.
    expect(Math.abs(sampleStandardDeviation(data) / sd - 1)).toBeLessThan(1e-8);
    expect(lagOneCorrelation(data)).toBeCloseTo(r, 8);
  });

  test('NumAcc4 keeps every digit that doubles allow', () => {
    const data = alternating(10000000.2, 10000000.1, 10000000.3);
    expect(sampleStandardDeviation(data)).toBeCloseTo(0.100000000558794, 14);
  });
});

test('covariance is that of numpy.cov', () => {
  // Columns: x and y of NIST StRD Misra1a (V-S); covariance by numpy 2.4.6.
  const y = [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78];
  const x = [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760];
  expect(sampleCovariance(x, y)).toBeCloseTo(4921.20230769231, 8);
  expect(sampleVariance(x)).toBeCloseTo(46680.5984615385, 7);
});

describe('Garwood interval for a Poisson count', () => {
  // V-R: R poisson.test; method Garwood (1936), MEM.
  test.each([
    [0, 0, 3.688879, 0, 2.995732],
    [1, 0.025318, 5.571643, 0.051293, 4.743865],
    [2, 0.242209, 7.224688, 0.355362, 6.295794],
    [3, 0.618672, 8.767273, 0.817691, 7.753657],
    [4, 1.089865, 10.241589, 1.366318, 9.153519],
    [5, 1.623486, 11.668332, 1.97015, 10.513035],
    [6, 2.201894, 13.059474, 2.613015, 11.842396],
    [7, 2.814363, 14.422675, 3.285316, 13.148114],
    [8, 3.453832, 15.763189, 3.980823, 14.43465],
    [9, 4.115373, 17.084803, 4.695228, 15.705216],
    [10, 4.795389, 18.390356, 5.425406, 16.962219],
    [20, 12.21652, 30.888378, 13.254652, 29.062019],
    [50, 37.110964, 65.918767, 38.964733, 63.287074],
    [100, 81.363991, 121.626794, 84.139277, 118.079273],
  ])('%d events give the limits of R poisson.test', (events, lower95, upper95, lower90, upper90) => {
    const at95 = garwoodInterval(events, 1);
    expect(at95.lower).toBeCloseTo(lower95, 6);
    expect(at95.upper).toBeCloseTo(upper95, 6);
    const at90 = garwoodInterval(events, 10, 0.9);
    expect(at90.lower * 10).toBeCloseTo(lower90, 5);
    expect(at90.upper * 10).toBeCloseTo(upper90, 5);
  });

  test('the rule of three: none in n bounds the rate one-sidedly at -ln(0.05) / n', () => {
    expect(garwoodInterval(0, 250, 0.9).upper).toBeCloseTo(-Math.log(0.05) / 250, 14);
    // Binomial, n = 100, exact 0.029513 (V-R).
    expect(clopperPearsonInterval(0, 100, 0.9).upper).toBeCloseTo(0.029513, 6);
  });
});

describe('intervals for a proportion', () => {
  // Newcombe, Stat Med 17:857 (1998), Table I: Wilson V-S to 4 digits in public test suites; all V-R.
  test.each([
    [81, 263, 0.25528852, 0.36620958, 0.25273675, 0.36762192, 0.25452193, 0.3656475],
    [15, 148, 0.0623864, 0.16048724, 0.05784401, 0.16165049, 0.06044852, 0.15764314],
    [1, 29, 0.00611321, 0.17175522, 0.00087265, 0.1776443, 0.00374617, 0.15007769],
    [5, 10, 0.23659309, 0.76340691, 0.18708603, 0.81291397, 0.22352867, 0.77647133],
    [2, 1000, 0.00054864, 0.00726281, 0.0002423, 0.00720584, 0.00041583, 0.0064005],
    [10, 10000, 0.00054329, 0.00183994, 0.00047964, 0.00183826, 0.00051426, 0.00177321],
  ])('%d of %d: Wilson, Clopper-Pearson and Jeffreys', (events, trials, wl, wu, cl, cu, jl, ju) => {
    const wilson = wilsonInterval(events, trials);
    expect(wilson.lower).toBeCloseTo(wl, 7);
    expect(wilson.upper).toBeCloseTo(wu, 7);
    const exact = clopperPearsonInterval(events, trials);
    expect(exact.lower).toBeCloseTo(cl, 7);
    expect(exact.upper).toBeCloseTo(cu, 7);
    const jeffreys = jeffreysInterval(events, trials);
    expect(jeffreys.lower).toBeCloseTo(jl, 7);
    expect(jeffreys.upper).toBeCloseTo(ju, 7);
  });

  test.each([
    [20, 0.16112516, 0.16843347],
    [10, 0.2775328, 0.30849711],
    [1000, 0.00382676, 0.00368208],
  ])('none of %d: lower exactly 0, upper above it', (trials, wilsonUpper, exactUpper) => {
    expect(wilsonInterval(0, trials).lower).toBe(0);
    expect(wilsonInterval(0, trials).upper).toBeCloseTo(wilsonUpper, 7);
    expect(clopperPearsonInterval(0, trials).lower).toBe(0);
    expect(clopperPearsonInterval(0, trials).upper).toBeCloseTo(exactUpper, 7);
  });

  test('none of 20 by Jeffreys: the posterior limits are 0.0000242 and 0.1166, the lower one given as 0', () => {
    // Lower limit by mpmath 1.3.0; upper V-R.
    expect(betaQuantile(0.025, 0.5, 20.5)).toBeCloseTo(2.4246478459e-5, 14);
    expect(jeffreysInterval(0, 20).lower).toBe(0);
    expect(jeffreysInterval(0, 20).upper).toBeCloseTo(0.11663898, 7);
  });

  test('all of 29: lower 0.8830 (Wilson) and 0.8806 (exact), upper exactly 1', () => {
    expect(wilsonInterval(29, 29).lower).toBeCloseTo(0.8830302, 7);
    expect(wilsonInterval(29, 29).upper).toBe(1);
    expect(clopperPearsonInterval(29, 29).lower).toBeCloseTo(0.88055513, 7);
    expect(clopperPearsonInterval(29, 29).upper).toBe(1);
  });
});

test('gamma posterior limits: none in 1000 landings, and the worked asthma example', () => {
  // Jeffreys prior, V-R.
  expect(gammaQuantile(0.95, 0.5, 1 / 1000)).toBeCloseTo(0.00192072941, 11);
  expect(gammaQuantile(0.025, 0.5, 1 / 1000)).toBeCloseTo(4.910346e-7, 12);
  expect(gammaQuantile(0.975, 0.5, 1 / 1000)).toBeCloseTo(0.002511943094, 11);
  // Gelman et al., Bayesian Data Analysis (source MEM, numbers V-R): Gamma(6, 7) and Gamma(33, 25).
  expect(regularizedGammaQ(6, 7)).toBeCloseTo(0.300708276, 9);
  expect(gammaQuantile(0.025, 6, 1 / 7)).toBeCloseTo(0.314556322, 9);
  expect(gammaQuantile(0.975, 6, 1 / 7)).toBeCloseTo(1.666904583, 9);
  expect(regularizedGammaQ(33, 25)).toBeCloseTo(0.928543969, 9);
  expect(gammaQuantile(0.025, 33, 1 / 25)).toBeCloseTo(0.908627263, 9);
  expect(gammaQuantile(0.975, 33, 1 / 25)).toBeCloseTo(1.806978083, 9);
});

test('spares: Poisson sums for a mean of 1 and of 3 demands', () => {
  // Ready rates P(D <= s), V-R; the mean-3 values also V-S (rmqsi.org spares note, 42 % = P(D <= 2)).
  expect(poissonCdf(1, 1)).toBeCloseTo(0.735759, 6);
  expect(poissonCdf(2, 1)).toBeCloseTo(0.919699, 6);
  expect(poissonCdf(3, 1)).toBeCloseTo(0.981012, 6);
  expect(poissonCdf(2, 3)).toBeCloseTo(0.4232, 4);
  expect(poissonCdf(3, 3)).toBeCloseTo(0.6472, 4);
});

test('sample quantiles are of type 7 (R, V-R)', () => {
  const ten = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
  expect([0.25, 0.5, 0.9].map((p) => quantileSorted(ten, p))).toEqual([3.25, 5.5, 9.1]);
  const mixed = [3, 6, 7, 8, 8, 10, 13, 15, 16, 20];
  [
    [0.25, 7.25],
    [0.75, 14.5],
    [0.9, 16.4],
    [0.95, 18.2],
  ].forEach(([p, expected]) => {
    expect(quantileSorted(mixed, p!)).toBeCloseTo(expected!, 12);
  });
  const eleven = [3, 6, 7, 8, 8, 9, 10, 13, 15, 16, 20];
  expect([0.25, 0.75, 0.9].map((p) => quantileSorted(eleven, p))).toEqual([7.5, 14, 16]);
});

test('distribution-free limits of a quantile have the published ranks and coverage', () => {
  // V-R: n = 1000, p = 0.95 gives x(936) and x(964); n = 100, p = 0.5 gives x(40) and x(61).
  const ranks = (count: number): Float64Array => Float64Array.from({ length: count }, (_, i) => i + 1);
  const tail = quantileInterval(ranks(1000), 0.95);
  expect([tail.lower, tail.upper]).toEqual([936, 964]);
  expect(tail.coverage).toBeCloseTo(0.958095, 6);
  const middle = quantileInterval(ranks(100), 0.5);
  expect([middle.lower, middle.upper]).toEqual([40, 61]);
  expect(middle.coverage).toBeCloseTo(0.9648, 6);
});

test('Wilks: the largest of 59 bounds the 95th percentile with 95 % confidence, that of 58 does not', () => {
  // 1 - 0.95^59 = 0.951505 (V-R). One-sided 95 % is the upper half of a two-sided 90 % interval.
  const largest = (count: number): number | null =>
    quantileInterval(
      Float64Array.from({ length: count }, (_, i) => i),
      0.95,
      0.9,
    ).upperRank;
  expect(largest(59)).toBe(59);
  expect(largest(58)).toBe(null);
});
