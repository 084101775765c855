import { describe, expect, it } from 'vitest';
import { chiSquareQuantile, poissonCdf, regularizedGammaQ } from '../../dist/numeric/special.js';
import { exp } from '../../dist/numeric/elementary.js';
import { centreWorkShare, shoulderWeight, treadRubberAreaM2 } from '../../dist/models/bands.js';
import {
  deflectionM,
  footprintWidthM,
  grossFootprintAreaM2,
  rollingRadiusM,
  stiffnessAreaM2,
  verticalStiffnessN,
} from '../../dist/models/contact.js';
import {
  brakingWorkJ,
  rollingResistanceRatio,
  spinUpWorkJ,
  squirmWorkJ,
  wheelInertiaKgM2,
} from '../../dist/models/slip-work.js';
import { biteScaleM, chanceLarger, SCALE_OVER_MEDIAN } from '../../dist/models/stones.js';
import { mean, standardErrorOfMean } from '../../dist/estimate/moments.js';
import { PUNCTURED, REMOVAL_CAUSES, WORN, type TrialColumns } from '../../dist/simulate/columns.js';
import { TRACK } from '../../dist/simulate/layout.js';
import { Simulator } from '../../dist/simulate/trials.js';
import type { CompiledScenario } from '../../dist/scenario/compile.js';
import { fixed, quietScenario } from '../support/scenarios.js';

/** False-alarm rate of each statistical test here, one-sided or two-sided as said there. */
const FALSE_ALARM = 1e-4;
/** Standard normal quantile at 1 - FALSE_ALARM / 2. */
const BAND_STANDARD_ERRORS = 3.8906;

const PSI = 6894.757293168;
const INCH = 0.0254;
const G = 9.80665;

/** A season of some landings in July. */
function season(landings: number): { season: { months: { [key: string]: string }[] } } {
  return {
    season: {
      months: [{ month: 'July', landings: `${landings}`, flightHours: '50 h', temperature: '15 degC' }],
    },
  };
}

function run(scenario: CompiledScenario, trials: number): TrialColumns {
  const [table] = new Simulator(scenario, [{ setup: 0, mix: 0 }]).runRange({
    firstTrial: 0,
    trials,
    step: 1,
    luck: 0,
  });
  return table!.columns;
}

/** Wear of the quiet landing at one main wheel, put together from the published pieces: depth per band, m. */
function quietWear(): {
  centreM: number;
  shoulderM: number;
  contact: { areaM2: number; widthM: number; loadN: number };
} {
  const width = 10 * INCH;
  const diameter = 26 * INCH;
  const sectionHeight = 10 * INCH;
  const speed = 1.2 * ((42 * 1852) / 3600);
  const loadN = 1400 * 0.4 * G;
  const stiffness = verticalStiffnessN(30 * PSI, 30 * PSI, stiffnessAreaM2(width, diameter));
  const rolling = deflectionM(loadN, stiffness, width);
  const touchdown = deflectionM(0.3 * loadN, stiffness, width);
  const inertia = wheelInertiaKgM2(0.12, 13, diameter, 0.75);
  const abradability = 0.1e-9;
  const spinUp = abradability * spinUpWorkJ(inertia, speed, rollingRadiusM(touchdown, diameter));
  const resistance = rollingResistanceRatio(0.012, 0.35 * PSI, 30 * PSI);
  const roll =
    abradability *
    (brakingWorkJ(1400, speed, 0.35, 0.06, 2) +
      squirmWorkJ(resistance, loadN, 250, 0.06) +
      squirmWorkJ(resistance, loadN, 900, 0.06));
  const share = (deflection: number): number =>
    centreWorkShare(0.4, shoulderWeight(deflection / sectionHeight, 0.12, 2));
  const area = treadRubberAreaM2(diameter, 7 * INCH, 0.8);
  const centre = spinUp * share(touchdown) + roll * share(rolling);
  return {
    centreM: centre / (0.4 * area),
    shoulderM: (spinUp + roll - centre) / (0.6 * area),
    contact: {
      areaM2: grossFootprintAreaM2(rolling, Math.sqrt(width * diameter)),
      widthM: footprintWidthM(rolling, width),
      loadN,
    },
  };
}

/** Hazard of a puncture through the tread on one wheel of the quiet landing with unworn tread. */
function quietPunctureHazard(stonesPerM2: number, biteMedianM: number): number {
  const { contact } = quietWear();
  const scale = biteScaleM(SCALE_OVER_MEDIAN * biteMedianM, contact.loadN / contact.areaM2);
  // Rigid 26 deep: 8 mm tread, 3 mm undertread, 6 mm carcass.
  return stonesPerM2 * contact.widthM * (250 + 900) * chanceLarger(0.017, scale);
}

/** Pearson's chi-square of counts against chances, cells merged until each expects at least ten. */
function chiSquareFits(
  values: Int32Array,
  cumulative: (n: number) => number,
): { statistic: number; limit: number } {
  const sorted = Int32Array.from(values).sort();
  let statistic = 0;
  let cells = 0;
  let seen = 0;
  let before = 0;
  let n = 0;
  for (let row = 0; row < sorted.length;) {
    let chance: number;
    do chance = cumulative(++n) - before;
    while (chance * sorted.length < 10 && before + chance < 1 - 10 / sorted.length);
    const last = before + chance >= 1 - 10 / sorted.length;
    const share = last ? 1 - before : chance;
    let count = 0;
    while (row < sorted.length && (last || sorted[row]! <= n)) {
      row++;
      count++;
    }
    const expected = share * sorted.length;
    statistic += (count - expected) ** 2 / expected;
    cells++;
    seen += count;
    before += chance;
    if (last) break;
  }
  expect(seen).toBe(sorted.length);
  return { statistic, limit: chiSquareQuantile(1 - FALSE_ALARM, cells - 1) };
}

describe('closed forms through the whole simulator', () => {
  it('constant wear reaches the tread limit and the cords at exactly tread / wear landings, rounded up', () => {
    const { centreM, shoulderM } = quietWear();
    const worst = Math.max(centreM, shoulderM);
    for (const treadMm of [1, 2.5, 8]) {
      const columns = run(
        quietScenario({ tires: { plain: { newTread: `${treadMm} mm`, undertread: '1.5 mm' } } }),
        3,
      );
      const limit = Math.ceil((treadMm * 1e-3) / worst);
      const cords = Math.ceil(((treadMm + 1.5) * 1e-3) / worst);
      expect(Array.from(columns.lifeLandings)).toEqual([limit, limit, limit]);
      expect(Array.from(columns.treadLimitLandings)).toEqual([limit, limit, limit]);
      expect(Array.from(columns.cordsLandings)).toEqual([cords, cords, cords]);
      expect(Array.from(columns.lifeCause)).toEqual([WORN, WORN, WORN]);
      expect(columns.centreLostM[0]! / limit).toBeCloseTo(centreM, 10);
      expect(columns.innerLostM[0]! / limit).toBeCloseTo(shoulderM, 10);
    }
  });

  it('doubling abradability halves the life, and a wear limit to cords ends it at the cords', () => {
    const half = run(quietScenario({ assumptions: { abradability: fixed('0.2 mm3/J') } }), 2);
    const whole = run(quietScenario(), 2);
    expect(Math.abs(2 * half.cordsLandings[0]! - whole.cordsLandings[0]!)).toBeLessThanOrEqual(2);
    const cords = run(quietScenario({ habits: { removeAt: 'cords' } }), 2);
    expect(cords.lifeLandings[0]).toBe(whole.cordsLandings[0]);
    expect(cords.treadLimitLandings[0]).toBe(whole.treadLimitLandings[0]);
  });

  // Standard result: with the same chance p in every landing, the landing of the first event is geometric.
  it('constant hazard makes the first puncture geometric', () => {
    const trials = 3000;
    const hazard = quietPunctureHazard(4, 0.3e-3);
    const scenario = quietScenario({
      assumptions: { abradability: fixed('0 mm3/J') },
      surfaces: { plain: { sharpStones: fixed('4 /m2') } },
      season: {
        months: [{ month: 'July', landings: '1500', flightHours: '500 h', temperature: '15 degC' }],
      },
      run: { horizon: '1 year' },
    });
    const columns = run(scenario, trials);
    const q = exp(-2 * hazard);
    expect(Array.from(columns.lifeCause).every((cause) => cause === PUNCTURED)).toBe(true);
    const { statistic, limit } = chiSquareFits(columns.lifeLandings, (n) => 1 - q ** n);
    expect(statistic).toBeLessThan(limit);
    expect(Math.abs(mean(columns.lifeLandings) - 1 / (1 - q))).toBeLessThan(
      BAND_STANDARD_ERRORS * Math.sqrt(q / (1 - q) ** 2 / trials),
    );
  });

  // Same law for the season: events on three wheels with renewal form a Bernoulli process.
  it('punctures per season are binomial in number, and the accumulated hazard has the same mean', () => {
    const trials = 3000;
    const scenario = quietScenario({
      assumptions: { abradability: fixed('0 mm3/J') },
      surfaces: { plain: { sharpStones: fixed('0.3 /m2') } },
      ...season(200),
      run: { horizon: '1 year' },
    });
    const columns = run(scenario, trials);
    const hazard = quietPunctureHazard(0.3, 0.3e-3);
    const perLanding = 1 - exp(-hazard);
    const flats = Float64Array.from(columns.flats);
    // The third wheel carries another load: only the mains are known in closed form here.
    const mains = Float64Array.from(columns.mainsPunctured);
    const expected = 2 * 200 * perLanding;
    expect(Math.abs(mean(mains) - expected)).toBeLessThan(
      BAND_STANDARD_ERRORS * Math.sqrt((expected * (1 - perLanding)) / trials),
    );
    const difference = Float64Array.from(flats, (count, row) => count - columns.flatsHazard[row]!);
    expect(Math.abs(mean(difference))).toBeLessThan(BAND_STANDARD_ERRORS * standardErrorOfMean(difference));
    const first = Float64Array.from(columns.anyFlat, (seen, row) => seen - columns.anyFlatHazard[row]!);
    expect(Math.abs(mean(first))).toBeLessThan(BAND_STANDARD_ERRORS * standardErrorOfMean(first));
  });

  // First passage of a sum of gamma steps: P(N <= n) = Q(n / cv^2, budget / scale), the gamma process of wear; a
  // published law (e.g. van Noortwijk, Reliability Engineering and System Safety 94, 2009; from memory).
  it.each([
    { cv: 1, law: 'exponential steps: N - 1 is Poisson' },
    { cv: 0.5, law: 'gamma steps of shape 4' },
    { cv: 1.4, law: 'gamma steps of shape 0.51' },
  ])('random wear has the first-passage law of a gamma process ($law)', ({ cv }) => {
    const trials = 4000;
    const { centreM, shoulderM } = quietWear();
    const wear = Math.max(centreM, shoulderM);
    const ratio = 25;
    const scenario = quietScenario({
      assumptions: { landingWearSpread: fixed(cv) },
      tires: { plain: { newTread: `${ratio * wear * 1000} mm` } },
      ...season(60),
      run: { seed: `first passage ${cv}` },
    });
    const { lifeLandings } = run(scenario, trials);
    const shape = 1 / cv ** 2;
    const cumulative = (n: number): number => regularizedGammaQ(shape * n, ratio * shape);
    if (cv === 1) expect(cumulative(20)).toBeCloseTo(poissonCdf(19, ratio), 12);
    const { statistic, limit } = chiSquareFits(lifeLandings, cumulative);
    expect(statistic).toBeLessThan(limit);
  });

  // Mean of the same law: budget / mean + (1 + cv^2) / 2 by renewal theory; tabulated 25.625 for shape 4, budget 25
  // means (recomputed in R, see the reference values of gamma wear).
  it('mean life carries the renewal overshoot: 25.625 landings for 25 mean wears at shape 4', () => {
    const { centreM, shoulderM } = quietWear();
    const scenario = quietScenario({
      assumptions: { landingWearSpread: fixed('0.5') },
      tires: { plain: { newTread: `${25 * Math.max(centreM, shoulderM) * 1000} mm` } },
      ...season(60),
    });
    const { lifeLandings } = run(scenario, 4000);
    expect(Math.abs(mean(lifeLandings) - 25.625)).toBeLessThan(
      BAND_STANDARD_ERRORS * standardErrorOfMean(lifeLandings),
    );
  });

  // Elementary renewal theorem and, sharper, the renewal equation m(n) = sum f(j) (1 + m(n - j)).
  it('tires fitted in a long season follow the renewal equation', () => {
    const trials = 400;
    const { centreM, shoulderM } = quietWear();
    const ratio = 10;
    const scenario = quietScenario({
      assumptions: { landingWearSpread: fixed('1') },
      tires: { plain: { newTread: `${ratio * Math.max(centreM, shoulderM) * 1000} mm` } },
    });
    const columns = run(scenario, trials);
    const landings = 1000;
    const chances = Array.from({ length: landings + 1 }, (_, n) =>
      n === 0 ? 0 : poissonCdf(n - 1, ratio) - (n === 1 ? 0 : poissonCdf(n - 2, ratio)),
    );
    const renewals = new Float64Array(landings + 1);
    for (let n = 1; n <= landings; n++) {
      for (let j = 1; j <= n; j++) renewals[n]! += chances[j]! * (1 + renewals[n - j]!);
    }
    const sets = Float64Array.from(columns.mainsFitted, (tires) => tires / 2);
    expect(Math.abs(mean(sets) - renewals[landings]!)).toBeLessThan(
      BAND_STANDARD_ERRORS * standardErrorOfMean(sets),
    );
    // The elementary theorem itself: one set per mean life, ratio + 1 landings.
    expect(renewals[landings]! / (landings / (ratio + 1))).toBeCloseTo(1, 1);
  });

  // Independent exponential clocks: the chance that one strikes first is its hazard over the sum; here in discrete time.
  it('competing constant hazards end lives in proportion to their hazards', () => {
    const trials = 4000;
    const scenario = quietScenario({
      assumptions: { abradability: fixed('0 mm3/J') },
      surfaces: {
        plain: { sharpStones: fixed('2 /m2'), rockEdges: fixed('0.01 /m'), edgeHeight: fixed('12 mm') },
      },
      season: {
        months: [{ month: 'July', landings: '1500', flightHours: '500 h', temperature: '15 degC' }],
      },
      run: { horizon: '1 year' },
    });
    const columns = run(scenario, trials);
    const one = new Simulator(scenario, [{ setup: 0, mix: 0 }], undefined, {
      everyLanding: true,
      see: ({ run: { wheels }, from }) => {
        const at = (column: number): number => wheels[0]!.track.data[column + from]!;
        hazards ??= [at(TRACK.treadHazard), at(TRACK.pinchHazard)];
      },
    });
    let hazards: [number, number] | undefined;
    one.runTrial(0, 0);
    const [puncture, pinch] = hazards!;
    expect(puncture).toBeCloseTo(quietPunctureHazard(2, 0.3e-3), 12);
    // Left is looked at first, and a puncture before a pinch on the same wheel.
    const strikes = 1 - exp(-puncture);
    const any = 1 - exp(-(puncture + pinch));
    const chance = strikes / any;
    const seen = Array.from(columns.lifeCause).filter((cause) => cause === PUNCTURED).length / trials;
    expect(chance).toBeGreaterThan(0.2);
    expect(chance).toBeLessThan(0.8);
    expect(Math.abs(seen - chance)).toBeLessThan(
      BAND_STANDARD_ERRORS * Math.sqrt((chance * (1 - chance)) / trials),
    );
    const causes = new Set(Array.from(columns.lifeCause, (cause) => REMOVAL_CAUSES[cause]));
    expect(causes).toEqual(new Set(['puncture', 'pressure']));
  });
});
