/**
 * How often 95 % intervals of life statistics hold the truth, over made lives of known laws: most of them censored, or few
 * of them ended. Every band below errs with a chance of one in ten thousand.
 */
import { describe, expect, test } from 'vitest';
import {
  cumulativeIncidence,
  fitLife,
  fittedQuantile,
  kaplanMeier,
  survivalAt,
  type CensoredLife,
  type LifeLawName,
} from '../../lib/index.js';
import { standardNormalQuantile } from '../../lib/numeric/normal.js';
import { nextExponential, nextUniform53, openStream, type Stream } from '../../lib/random/stream.js';
import { binomialBand } from '../support/binomial-band.js';

const FALSE_ALARM = 1e-4;

function expectHeld(held: number, of: number, least: number, most: number): void {
  const [fewest, greatest] = binomialBand(of, least, most, FALSE_ALARM);
  expect(held).toBeGreaterThanOrEqual(fewest);
  expect(held).toBeLessThanOrEqual(greatest);
}

const uniformOf = (stream: Stream): number => nextUniform53(stream) || 0.5 ** 54;

interface Law {
  readonly law: LifeLawName;
  readonly shape: number;
  readonly scale: number;
  readonly quantile: (chance: number) => number;
  readonly draw: (stream: Stream) => number;
}

const WEIBULL: Law = {
  law: 'weibull',
  shape: 1.8,
  scale: 250,
  quantile: (chance) => 250 * (-Math.log1p(-chance)) ** (1 / 1.8),
  draw: (stream) => 250 * nextExponential(stream) ** (1 / 1.8),
};
const LOGNORMAL: Law = {
  law: 'lognormal',
  shape: 0.6,
  scale: 250,
  quantile: (chance) => 250 * Math.exp(0.6 * standardNormalQuantile(chance)),
  draw: (stream) => 250 * Math.exp(0.6 * standardNormalQuantile(uniformOf(stream))),
};

/** Counts of the sets whose profile-likelihood intervals hold the truth. */
function countHeld(law: Law, sets: number, make: () => CensoredLife[]): Record<string, number> {
  const truth = { shape: law.shape, scale: law.scale, tenth: law.quantile(0.1) };
  const held = { shape: 0, scale: 0, tenth: 0 };
  for (let set = 0; set < sets; set++) {
    const fit = fitLife(make(), { law: law.law });
    const intervals = { ...fit.parameters!, tenth: fittedQuantile(fit, 0.1) };
    for (const name of ['shape', 'scale', 'tenth'] as const) {
      const { lower, upper } = intervals[name];
      if ((lower ?? 0) <= truth[name] && truth[name] <= (upper ?? Infinity)) held[name]++;
    }
  }
  return held;
}

describe.each([WEIBULL, LOGNORMAL])('$law fits', (law) => {
  test('of 60 lives of which seven in ten are censored hold the truth in 95 % of the sets', () => {
    const sets = 300;
    const stream = openStream(`heavy censoring ${law.law}`);
    let ended = 0;
    const held = countHeld(law, sets, () =>
      Array.from({ length: 60 }, () => {
        const life = law.draw(stream);
        const last = 2 * law.quantile(0.285) * uniformOf(stream);
        if (life <= last) ended++;
        return life <= last ? { from: life, to: life } : { from: last, to: Infinity };
      }),
    );
    expect(ended / (60 * sets)).toBeLessThan(0.33);
    for (const count of Object.values(held)) expectHeld(count, sets, 0.95, 0.95);
  });

  // The signed root of the likelihood ratio is normal only up to 1 / sqrt(ends): from so few ends these intervals are
  // short. Over 4000 such sets they held the truth in 91.1 to 92.1 % (theory of the size of the error: Jeng and Meeker,
  // "Comparisons of approximate confidence interval procedures for type I censored data", 2000, from memory).
  test('of 15 lives stopped at the fifth to tenth end hold it in 90 to 95 %, not in more', () => {
    const sets = 600;
    const stream = openStream(`few ends ${law.law}`);
    const held = countHeld(law, sets, () => {
      const ends = 5 + Math.floor(6 * uniformOf(stream));
      const all = Array.from({ length: 15 }, () => law.draw(stream)).sort((one, other) => one - other);
      return all.map((life, i) =>
        i < ends ? { from: life, to: life } : { from: all[ends - 1]!, to: Infinity },
      );
    });
    for (const count of Object.values(held)) expectHeld(count, sets, 0.9, 0.95);
  });
});

// Exponential lives of mean 10, ended by a first cause in three of ten and by a second in seven; each set is watched up to
// times of its own. Over 4000 sets each of these log(-log) bands held the truth in 94.2 to 96.9 %: with few ends they can
// not hold exactly 95 %, as what is seen comes in steps.
describe.each([
  { what: 'seven in ten censored', lives: 40, watched: 7, late: 0, ended: 0.33 },
  { what: 'fifteen lives, some eight ends', lives: 15, watched: 20, late: 0, ended: 0.6 },
  { what: 'two in three censored, half of them late', lives: 60, watched: 9, late: 3, ended: 0.4 },
])('curves: $what', ({ what, lives, watched, late, ended }) => {
  const sets = 600;
  const stream = openStream(`curves ${what}`);
  const times = [2, 5];
  const held = { survival: [0, 0], first: [0, 0], second: [0, 0] };
  let ends = 0;
  for (let set = 0; set < sets; set++) {
    const rows: { entry: number; time: number; cause: number }[] = [];
    while (rows.length < lives) {
      const entry = late > 0 && uniformOf(stream) < 0.5 ? late * uniformOf(stream) : 0;
      const life = 10 * nextExponential(stream);
      const last = entry + watched * uniformOf(stream);
      const cause = uniformOf(stream) < 0.3 ? 1 : 2;
      if (life > entry) rows.push({ entry, time: Math.min(life, last), cause: life <= last ? cause : 0 });
    }
    ends += rows.filter(({ cause }) => cause > 0).length;
    const time = Float64Array.from(rows, (row) => row.time);
    const entry = Float64Array.from(rows, (row) => row.entry);
    const causes = Int8Array.from(rows, (row) => row.cause);
    const curve = kaplanMeier(
      time,
      Uint8Array.from(causes, (cause) => Math.min(cause, 1)),
      { entry },
    );
    const shares = cumulativeIncidence(time, causes, { entry, causes: [1, 2] });
    times.forEach((at, k) => {
      const survival = Math.exp(-at / 10);
      const holds = ({ lower, upper }: { lower: number; upper: number }, truth: number): number =>
        lower <= truth && truth <= upper ? 1 : 0;
      held.survival[k]! += holds(survivalAt(curve, at), survival);
      const row = shares.time.filter((each) => each <= at).length - 1;
      (['first', 'second'] as const).forEach((name, c) => {
        const { lower, upper } = shares.byCause[c]!;
        const band = row < 0 ? { lower: 0, upper: 1 } : { lower: lower[row]!, upper: upper[row]! };
        held[name][k]! += holds(band, (c === 0 ? 0.3 : 0.7) * (1 - survival));
      });
    });
  }

  test('has the censoring that it says', () => {
    expect(ends / (sets * lives)).toBeLessThan(ended);
  });

  test.each(['survival', 'first', 'second'] as const)(
    'the band of %s holds the truth in 94 to 97 %%',
    (name) => {
      for (const count of held[name]) expectHeld(count, sets, 0.94, 0.97);
    },
  );
});
