import { KEEPING } from '../../scenarios/logbook/truth.js';

const PSI_PA = 6894.757293168361;

/**
 * How far off the stated errors of a log are: 90 % quantile over median of a lognormal factor, from which the true errors
 * are drawn and which the fit is told.
 */
export const ERROR_DOUBT = 1.5;

/**
 * Options of every fit: how these logs are kept, as their keeper would state it. The simulator takes tires off at the
 * limit itself and its new tires are all alike, so that little is left for people's judgement and for new grooves. Quantiles
 * from 200 draws' worth make an 80 % interval hold a third of a per cent less than it should, no more.
 */
export const FIT_OPTIONS = {
  errorDoubt: ERROR_DOUBT,
  newGrooveSpreadM: 0,
  wornSpreadM: 0.0001,
  effectiveSize: 200,
  pressureErrorPa: KEEPING.pressureErrorPsi * PSI_PA,
};

/**
 * Numbers that a fit takes as they stand are written down fine enough for that: with whole degrees, at 50 psi, the error of
 * pressures would seem a fifth larger than it is, and the fit would rightly find that.
 */
export const FINE = { pressureStepPsi: 0.01, temperatureStepC: 0.1, cutStepMm: 0.1 };

/**
 * Kinds of small logbook: `fleet` as in scenarios/logbook/truth.js, `keeping` as far as it differs from there, `scenario`
 * what is laid over that of the shipped logbook. Each has one set-up, so that a fit takes seconds; together they have all
 * three sidewalls and all five surfaces.
 */
export const SHAPES = {
  small: {
    words:
      'a small logbook: two airplanes on soft tires, two seasons, readings, pressure checks, cuts and removals',
    fleet: [
      { airplane: 'alder', setup: 'soft 29 at 9 psi', mix: 'gravel', perSeason: 60, before: 20 },
      { airplane: 'aspen', setup: 'soft 29 at 9 psi', mix: 'gravel', perSeason: 90, rough: true },
    ],
    keeping: { readEveryDays: 50 },
  },
  censored: {
    words:
      'few records: two airplanes, one or two rounds of readings, nearly all tires still on or sold with the airplane',
    fleet: [
      { airplane: 'cedar', setup: 'rigid 29 at 25 psi', mix: 'mostly paved', perSeason: 14, before: 15 },
      {
        airplane: 'elder',
        setup: 'rigid 29 at 25 psi',
        mix: 'mostly paved',
        perSeason: 12,
        sold: '2024-06-10',
      },
    ],
    keeping: { readEveryDays: 140 },
  },
  cuts: {
    words:
      'many tires off for cuts: two airplanes on nothing but rock that is four times as sharp and wears half as much',
    scenario: {
      mixes: { rock: { 'ridge rock': '100 %' } },
      surfaces: {
        'sharp rock': {
          sharpStones: { distribution: 'lognormal', p10: '0.008 /m2', p90: '0.04 /m2', source: 'invented' },
          wearFactor: { distribution: 'lognormal', p10: '1.6', p90: '3.2', source: 'invented' },
        },
      },
    },
    fleet: [
      { airplane: 'rowan', setup: 'standard at 50 psi', mix: 'rock', perSeason: 50 },
      { airplane: 'willow', setup: 'standard at 50 psi', mix: 'rock', perSeason: 60 },
    ],
    keeping: { readEveryDays: 75 },
  },
};
