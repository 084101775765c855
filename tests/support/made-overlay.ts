import type { OverlaySetup, SurvivalOverlay } from '../../lib/calibrate/survival-overlay-types.js';

/** A made-up set-up whose curves fall evenly from all to none; every figure is invented. */
export function madeOverlaySetup(setup: string, ends = 5, isFitted = true): OverlaySetup {
  const landings = Array.from({ length: 21 }, (_, k) => 10 * k);
  const falling = (by: number): number[] => landings.map((_, k) => Math.max(0, 1 - (by * k) / 20));
  const band = (width: number): OverlaySetup['before'] => ({
    low: falling(1 + width),
    middle: falling(1),
    high: falling(1 - width),
  });
  return {
    setup,
    tires: ends + 3,
    ends,
    airplanes: 2,
    verdict: ends < 3 ? 'too few ends' : 'compared',
    landings,
    records: {
      survival: falling(0.9).map((share, k) => (k > 18 ? null : share)),
      lower: falling(1.2),
      upper: falling(0.6),
    },
    before: band(0.6),
    fitted: isFitted ? band(0.2) : null,
    atEnds: Array.from({ length: ends }, (_, k) => ({
      landings: 40 + 10 * k,
      recorded: 0.8 - 0.1 * k,
      heldBefore: true,
      heldFitted: isFitted ? k > 0 : null,
    })),
    endsBefore: { low: 1, middle: 4, high: 7.5 },
    endsFitted: isFitted ? { low: 3, middle: 4, high: 6 } : null,
    flown: [{ airplane: 'alder', strips: [{ strip: 'home', share: 1 }] }],
  };
}

/** A made-up comparison of lives. */
export function madeOverlay(setups: readonly OverlaySetup[], isFitted = true): SurvivalOverlay {
  const ends = setups.filter(({ verdict }) => verdict === 'compared').flatMap(({ atEnds }) => atEnds);
  const calibration = (held: number): SurvivalOverlay['calibration']['before'] => ({
    stated: 0.8,
    endsHeld: held,
    ends: ends.length,
    setupsHeld: setups.length,
    setups: setups.length,
  });
  return {
    kind: 'gravelbar survival overlay',
    scenario: 'made-up fleet',
    logbook: 'made-up log',
    source: isFitted ? 'fitted to made-up log' : null,
    position: 'main',
    seed: 'made',
    worlds: 200,
    setups,
    calibration: {
      before: calibration(ends.length),
      fitted: isFitted ? calibration(ends.filter(({ heldFitted }) => heldFitted === true).length) : null,
    },
    notes: ['Made up.'],
  };
}
