import { describe, expect, test } from 'vitest';
import type { AssumptionFit, FitCalibration } from '../../lib/calibrate/posterior-types.js';
import { agreeBetterText } from '../../lib/calibrate/check-fit.js';
import { fittedName, fittedRangeText, fittedSpanText } from '../../lib/calibrate/fit-names.js';
import { calibrationIsOff } from '../../lib/present/fit-calibration.js';
import { fitFindings, tellingReadings } from '../../lib/present/fit-findings.js';
import { DOUBTED_SEASON, fitText } from '../../lib/present/fit-text.js';
import { bestText, seasonAnswers } from '../../lib/present/season-shift-words.js';
import { TABLE_WIDTH } from '../../lib/present/table.js';
import { textWidth } from '../../lib/present/words.js';
import { HARD_NAMES } from '../chart/made-result.js';
import { madeAssumption, madeFit } from '../support/made-fit.js';
import { madeFigures, madePairing, madeShift, madeTold } from '../support/made-shift.js';

/** Blanks count once: lines break anywhere. */
function flat(text: string): string {
  return text.replaceAll(/\s+/g, ' ');
}

function expectFits(text: string): void {
  expect(text.split('\n').filter((line) => textWidth(line) > TABLE_WIDTH)).toEqual([]);
  expect(text).not.toMatch(/[^\P{Cc}\n]|\p{Cf}|\bNaN\b|undefined|\[object|Infinity/u);
  expect(flat(text)).toContain('Caution: For comparison only.');
}

/** A fit with one check changed. */
function withCheck(change: Partial<FitCalibration>, conflicts: readonly string[] = []): AssumptionFit {
  const fit = madeFit({
    readingsPerTire: 60,
    tires: ['ALD-L1', 'ALD-R2', 'BIR-L1', 'BIR-R2', 'CED-L1', 'CED-R2', 'DOE-L1'],
  });
  const check: FitCalibration = {
    what: 'readings, each from those before it',
    stated: 0.8,
    held: 192,
    of: 240,
    low: 0.745,
    high: 0.846,
    ...change,
  };
  return { ...fit, checks: { ...fit.checks, calibration: [check], conflicts } };
}

describe('names and values', () => {
  test('numbers of the records have names, and no bare path is shown', () => {
    expect(fittedName('records.grooveErrorFactor')).toBe('error of the groove readings');
    expect(fittedName('surfaces.gravel.sharpStones')).toBe('sharp stones on gravel');
    expect(fitText(madeFit(), madeShift())).not.toMatch(/\b(surfaces|records|assumptions)\.[a-z]/);
  });

  test('the unit stands once, powers of ten with each number', () => {
    expect(fittedRangeText('assumptions.abradability', 1e-10, 8e-11, 1.2e-10)).toBe(
      '0.1 (0.08 to 0.12) mm3/J',
    );
    expect(fittedRangeText('surfaces.gravel.sharpStones', 0.0005, 0.0002, 0.002)).toBe(
      '5 × 10⁻⁴ (2 × 10⁻⁴ to 0.002) /m2',
    );
    expect(fittedSpanText('surfaces.gravel.wearFactor', 1.5, 2)).toBe('1.5 to 2');
    expect(fittedRangeText('records.pressureErrorFactor', 1.2, 1, 1.5)).toBe(
      '1.2 (1.0 to 1.5) times that stated',
    );
  });
});

describe('the answer of a fit', () => {
  test('counts what was learned and what was not, each once', () => {
    const fit = madeFit({ assumptions: 8 });
    const own = fit.assumptions.filter(({ path }) => !path.startsWith('records.'));
    const count = (verdict: string): number => own.filter((each) => each.verdict === verdict).length;
    const { headline } = fitFindings(fit);
    expect(headline).toContain(
      `${count('learned')} of the ${own.length + 1} assumptions in doubt are learned, ${count('barely learned')} barely learned`,
    );
    expect(headline).toContain(`(${count('not identified')} not identified, 1 that no record bears on)`);
    expect(count('learned')).toBeGreaterThan(0);
    expect(count('not identified')).toBeGreaterThan(0);
  });

  test('tells what moved, from what to what, furthest first, and leaves out what is not identified', () => {
    const assumptions = [
      madeAssumption('assumptions.abradability', 1e-10, 0.8, 0.2),
      madeAssumption('assumptions.bandGain', 2, -1.2, 0.7),
      madeAssumption('surfaces.gravel.wearFactor', 2, 0.1, 0.3),
      madeAssumption('surfaces.turf.wearFactor', 2, 2, 0.95),
    ];
    const { moved, confirmed, unknown } = fitFindings(madeFit({ change: { assumptions } }));
    expect(moved.map((text) => text.split(':')[0])).toEqual(['band gain', 'abradability']);
    // Medians 2 exp(0.33 × -1.2) and 1e-10 exp(0.33 × 0.8); ranges ± 1.2816 spreads.
    expect(moved[0]).toBe('band gain: 1.35 (1 to 1.81), assumed 2 (1.31 to 3.05); barely learned');
    expect(moved[1]).toBe('abradability: 0.13 (0.12 to 0.142) mm3/J, assumed 0.1 (0.0655 to 0.153) mm3/J');
    expect(confirmed).toContain('it was assumed: wear factor on gravel.');
    expect(unknown).toContain('Not identified: wear factor on turf.');
    expect(unknown).toContain('No record bears on gauge bias.');
  });

  test('a number that the scenario held for implausible is told as such', () => {
    const assumptions = [madeAssumption('assumptions.abradability', 1e-10, 2.6, 0.2)];
    expect(fitFindings(madeFit({ change: { assumptions } })).moved[0]).toContain('held that for implausible');
  });

  test('nothing learned is said plainly', () => {
    const none = fitFindings(madeFit({ change: { assumptions: [], untouched: ['assumptions.bandGain'] } }));
    expect(none.headline).toContain('nothing is learned: they bear on none of the 1 assumptions in doubt');
    expect(none.moved).toEqual([]);
    const vague = [madeAssumption('assumptions.abradability', 1e-10, 0, 0.97)];
    expect(fitFindings(madeFit({ change: { assumptions: vague } })).headline).toContain('none of the 2');
  });
});

describe('over-confidence is refused in words', () => {
  test('a fit whose intervals hold too little is too sure of itself, and the season a question', () => {
    const fit = withCheck({ held: 150, low: 0.563, high: 0.684 });
    expect(calibrationIsOff(fit.checks.calibration[0]!, fit)).toBe(true);
    const text = flat(fitText(fit, madeShift()));
    expect(text).toContain(
      'Too sure of itself: 80 % intervals held 62.5 % (56.3 to 68.4 %) of 240 tread readings',
    );
    expect(text).toContain(DOUBTED_SEASON);
  });

  test('one that holds is not doubted, nor one whose intervals hold too much', () => {
    const fine = flat(fitText(withCheck({}), madeShift()));
    expect(fine).not.toContain(DOUBTED_SEASON);
    expect(fine).toContain('Check: 80 % intervals held 80.0 %');
    const wide = fitFindings(withCheck({ held: 225, low: 0.899, high: 0.962 }));
    expect(wide.doubts).toEqual([]);
    expect(wide.notes.join(' ')).toContain('Too cautious');
  });

  test('readings foretold without those of their tire count by tires', () => {
    const off = {
      what: 'readings, without any reading of the tire',
      held: 170,
      low: 0.648,
      high: 0.764,
    } as const;
    const fit = withCheck(off);
    // 170 of 240 is 0.71, within 2 sqrt(0.16 / 6) of six tires but not of 240 readings.
    expect(calibrationIsOff(fit.checks.calibration[0]!, fit)).toBe(false);
    const each = withCheck({ ...off, what: 'readings, each from those before it' });
    expect(calibrationIsOff(each.checks.calibration[0]!, each)).toBe(true);
  });

  test('conflicts come right after the headline; smaller errors than stated are no doubt', () => {
    const conflict = 'The readings of ALD-L1 do not fit the others.';
    const fit = withCheck({}, [conflict, agreeBetterText('pressure readings')]);
    const { doubts, notes } = fitFindings(fit);
    expect(doubts).toEqual([`Records against scenario: ${conflict}`]);
    expect(notes).toEqual([agreeBetterText('pressure readings')]);
    const text = flat(fitText(fit, null));
    expect(text.indexOf(conflict)).toBeLessThan(text.indexOf('Moved furthest'));
  });

  test('few records are called few', () => {
    const few = madeFit({ tires: ['ALD-L1', 'ALD-R2'], readingsPerTire: 6, heldOut: 0 });
    expect(fitFindings(few).doubts.join(' ')).toContain('Few records: 12 tread readings of 2 tires.');
    expect(fitFindings(madeFit()).doubts.join(' ')).toContain('48 tread readings of 4 tires');
    expect(fitFindings(madeFit({ tires: ['A', 'B', 'C', 'D', 'E', 'F'] })).doubts).toEqual([]);
  });
});

test('further records: each one named narrows something that those before it do not', () => {
  const reading = (what: string, path: string, then: number): AssumptionFit['nextReadings'][number] => ({
    what,
    kind: 'tread readings',
    setup: 'soft',
    strip: 'meadow',
    readings: 30,
    information: 1,
    narrows: [{ path, now: 0.9, then }],
  });
  const all = [
    reading('one', 'assumptions.bandGain', 0.5),
    reading('two', 'assumptions.bandGain', 0.6),
    reading('three', 'assumptions.abradability', 0.88),
    reading('four', 'surfaces.turf.wearFactor', 0.3),
  ];
  expect(tellingReadings(all).map(({ what }) => what)).toEqual(['one', 'four']);
  const text = flat(fitText(madeFit({ change: { nextReadings: all } }), null));
  expect(text).toContain('- four: narrows wear factor on turf from 90 % to 30 %');
});

describe('the season', () => {
  test('tells the best set-up, the largest change, and what the simulation cannot tell', () => {
    const [best, life, ignorance] = seasonAnswers(madeShift());
    expect(best).toContain('the same with the fitted numbers');
    expect(life).toContain(
      'Life changes most for soft on gravel: half of the sets last 280 instead of 310 flight hours',
    );
    expect(life).toContain(
      'In 1 of 2 pairings the change of life is within the error of the simulation (500 trials)',
    );
    // 15 and 36 of 60.
    expect(ignorance).toBe(
      'Ignorance of the life shrinks to 25 % of what it was, or less, 25 to 60 % by pairing. Luck stays.',
    );
  });

  test('all changes within the error are no change', () => {
    const pairings = [madePairing('soft', 'gravel', [madeFigures(310), madeFigures(312)], [2, 9])];
    const [, life, ignorance] = seasonAnswers(madeShift({ pairings }));
    expect(life).toMatch(/^In all of 1 pairings the change of life is within the error/);
    expect(ignorance).toContain('hardly shrinks');
  });

  test('tires that outlast the horizon leave ignorance open', () => {
    const pairings = [madePairing('soft', 'gravel', [madeFigures(null), madeFigures(null)], [-9, 5])];
    expect(seasonAnswers(madeShift({ pairings })).join(' ')).toContain('is not told');
    expectFits(fitText(madeFit(), madeShift({ pairings })));
  });

  test('a change of the best set-up is told, and one that is too close to call is not called one', () => {
    const shift = {
      mix: 'gravel',
      criterion: 'life',
      before: madeTold('soft'),
      after: madeTold('stiff'),
    } as const;
    expect(bestText({ ...shift, change: 'changed' })).toBe(
      'Best by main tire life on gravel: stiff with the fitted numbers, soft with the assumed ones.',
    );
    expect(bestText({ ...shift, change: 'not told' })).toContain('too close to call it a change');
    const settled = {
      ...shift,
      before: madeTold('soft', { kind: 'measure' }),
      after: madeTold('soft'),
    } as const;
    expect(bestText({ ...settled, change: 'same' })).toContain(
      'hanging on what is not known before, settled now',
    );
  });
});

test('a season that is left out is said to be, with its reason', () => {
  const text = flat(fitText(madeFit(), null, 'The season was left out: it was stopped.'));
  expect(text).toContain('The season was left out: it was stopped.');
  expect(text).not.toContain('Season:');
});

test('keeps to 100 columns with any names', () => {
  for (const name of [...HARD_NAMES, '\u001b[31mred\u0007', '雪'.repeat(60)]) {
    const fit = madeFit({
      surfaces: [name],
      tires: [name, `${name}2`],
      assumptions: 6,
      scatter: 4,
      change: {
        logbook: { name, note: name, firstDate: '2024-01-01', lastDate: '2024-02-01' },
        scenario: name,
      },
    });
    const pairings = [madePairing(name, name, [madeFigures(310), madeFigures(45)], [-98.123, 1.2])];
    const best = madeShift().best.map((each) => ({
      ...each,
      mix: name,
      before: madeTold(name),
      after: madeTold(name),
    }));
    expectFits(fitText(fit, madeShift({ pairings, best, currency: name })));
  }
});
