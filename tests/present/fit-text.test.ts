import { describe, expect, test } from 'vitest';
import type { AssumptionFit, FitCalibration } from '../../lib/calibrate/posterior-types.js';
import { agreeBetterText } from '../../lib/calibrate/check-fit.js';
import { countStandings, standingOf, standingText } from '../../lib/calibrate/standing.js';
import { fittedName, fittedRangeText, fittedSpanText } from '../../lib/calibrate/fit-names.js';
import {
  calibrationIsOff,
  calibrationVerdict,
  calibrationVerdictText,
} from '../../lib/present/fit-calibration.js';
import { fitFindings } from '../../lib/present/fit-findings.js';
import { fitGlossary } from '../../lib/present/fit-glossary.js';
import { nextText, tellingReadings } from '../../lib/present/fit-next.js';
import { DOUBTED_SEASON, fitText } from '../../lib/present/fit-text.js';
import { bestText, seasonAnswers, seasonSummary } from '../../lib/present/season-shift-words.js';
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

  test('tells what moved, from what to what, furthest first, and leaves out what neither moved nor narrowed', () => {
    const assumptions = [
      madeAssumption('assumptions.abradability', 1e-10, 0.8, 0.2),
      madeAssumption('assumptions.bandGain', 2, -1.2, 0.7),
      madeAssumption('surfaces.gravel.wearFactor', 2, 0.1, 0.3),
      madeAssumption('surfaces.turf.wearFactor', 2, 0.9, 0.95),
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

  test('a number that moved without being narrowed is told as moved, and is no longer an assumption', () => {
    const assumptions = [
      madeAssumption('assumptions.abradability', 1e-10, 0.2, 0.3),
      madeAssumption('surfaces.turf.wearFactor', 2, 2, 1.02),
      madeAssumption('surfaces.gravel.wearFactor', 2, -1, 0.95),
      madeAssumption('surfaces.sand.wearFactor', 2, 0.99, 0.95),
      madeAssumption('records.grooveErrorFactor', 1, -2, 0.4),
    ];
    expect(assumptions.map(standingOf)).toEqual([
      'learned',
      'moved, not narrowed',
      'moved, not narrowed',
      'not identified',
      'learned',
    ]);
    expect(standingText(assumptions[4]!)).toBe('learned, moved');
    const fit = madeFit({ change: { assumptions } });
    const { headline, moved, unknown } = fitFindings(fit);
    expect(headline).toContain('1 of the 5 assumptions in doubt is learned');
    expect(headline).toContain(
      'none barely learned, 2 moved but not narrowed; 2 stay about as assumed (1 not',
    );
    expect(headline).toContain('Counted apart: 1 error size of the readings.');
    expect(moved.map((text) => text.split(':')[0])).toEqual(['wear factor on turf', 'wear factor on gravel']);
    expect(moved[0]).toContain('moved, not narrowed: the records pull it, perhaps because the model lacks');
    expect(unknown).toContain('Not identified: wear factor on sand.');
    expect(unknown).not.toMatch(/turf|gravel/);
    const text = flat(fitText(fit, null));
    expect(text).toContain('moved, not narrowed');
    // A spread of 102 % is noise of the draws.
    expect(text).toMatch(
      /wear factor on turf 2 \(1\.31 to 3\.05\) 3\.87 \(2\.51 to 5\.96\) 100 % moved, not/,
    );
  });

  test('the counts of a fit are those of its numbers, each once', () => {
    const { assumptions } = madeFit({ assumptions: 20 });
    const { byStanding, assumptions: own, ofRecords } = countStandings(assumptions);
    expect(Object.values(byStanding).reduce((sum, each) => sum + each, 0)).toBe(own);
    expect(own + ofRecords).toBe(20);
    expect(ofRecords).toBe(1);
  });

  test('explains the numbers narrowed or moved in the words of the schema, each kind once', () => {
    const assumptions = [
      madeAssumption('surfaces.gravel.wearFactor', 2, 0.2, 0.3),
      madeAssumption('surfaces.turf.wearFactor', 2, 0.2, 0.3),
      madeAssumption('compounds.soft.wearFactor', 2, 2, 1),
      madeAssumption('assumptions.gaugeBias', 2, 0, 1),
      madeAssumption('records.grooveErrorFactor', 1, 0, 0.3),
    ];
    expect(fitGlossary(assumptions)).toEqual([
      { name: 'wear factor (surface)', meaning: 'Abradability relative to dry pavement.' },
      { name: 'wear factor (rubber)', meaning: 'Abradability relative to the standard compound.' },
    ]);
  });

  test('numbers far beyond what was plausible are one doubt, however many', () => {
    const paths = ['surfaces.gravel.wearFactor', 'surfaces.turf.wearFactor'];
    const assumptions = paths.map((path, k) => madeAssumption(path, 2, k === 0 ? 3 : -4, 0.3));
    const made = madeFit({ tires: ['A', 'B', 'C', 'D', 'E', 'F'], change: { assumptions } });
    const conflicts = paths.map(
      (path) => `The records want ${fittedName(path)} far above what is plausible.`,
    );
    const { doubts } = fitFindings({ ...made, checks: { ...made.checks, calibration: [], conflicts } });
    expect(doubts).toHaveLength(1);
    expect(doubts[0]).toContain('wear factor on gravel (far above) and wear factor on turf (far below)');
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
    expect(calibrationIsOff(fit.checks.calibration[0]!)).toBe(true);
    const text = flat(fitText(fit, madeShift()));
    expect(text).toContain(
      'Does not hold, too sure of itself: 80 % intervals held 62.5 % (56.3 to 68.4 %) of 240 tread readings',
    );
    expect(text).toContain(DOUBTED_SEASON);
  });

  test('one that holds is not doubted, nor one whose intervals hold too much', () => {
    const fine = flat(fitText(withCheck({}), madeShift()));
    expect(fine).not.toContain(DOUBTED_SEASON);
    expect(fine).toContain('Check: 80 % intervals held 80.0 %');
    const wide = fitFindings(withCheck({ held: 225, low: 0.899, high: 0.962 }));
    expect(wide.doubts).toEqual([]);
    expect(wide.notes.join(' ')).toContain('Does not hold, too cautious');
  });

  test('a check that fails on readings of few tires says so', () => {
    const off = {
      what: 'readings, without any reading of the tire',
      held: 170,
      low: 0.648,
      high: 0.764,
    } as const;
    const { doubts } = fitFindings(withCheck(off));
    expect(doubts.join(' ')).toContain('all of 6 tires (readings of one tire go wrong together)');
    const each = fitFindings(withCheck({ ...off, what: 'readings, each from those before it' }));
    expect(each.doubts.join(' ')).not.toContain('go wrong together');
  });

  test.each([
    ['the interval includes what is stated', 192, 240, 0.745, 0.846, 'holds', 'holds'],
    ['one of one', 1, 1, 0.207, 1, 'too few to tell', 'too few to tell'],
    ['half of few', 12, 24, 0.314, 0.686, 'too sure', 'does not hold: too sure of itself'],
    ['far off, though few', 3, 12, 0.089, 0.532, 'too sure', 'does not hold: too sure of itself'],
    ['too much', 240, 240, 0.984, 1, 'too cautious', 'does not hold: too cautious'],
    ['near, and surely not the same', 7700, 10_000, 0.762, 0.778, 'off by little', 'does not quite hold'],
  ] as const)('%s: %d of %d', (_, held, of, low, high, verdict, words) => {
    const check = withCheck({ held, of, low, high }).checks.calibration[0]!;
    expect(calibrationVerdict(check)).toBe(verdict);
    expect(calibrationVerdictText(check)).toContain(words);
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
  expect(text).toContain('not by what decides a choice: `gravelbar drivers` on the fitted season');

  // What was never flown is not proposed, and named where all are listed.
  const isFlown = ({ strip }: { readonly strip: string | null }): boolean => strip !== 'creek';
  const creek = { ...all[3]!, what: 'five', strip: 'creek' };
  expect(tellingReadings([creek, ...all], isFlown).map(({ what }) => what)).toEqual(['one', 'four']);
  expect(nextText(creek, isFlown)).toContain('five (not flown in the records): narrows');
  expect(tellingReadings([creek], isFlown)).toEqual([creek]);
  // Spreads above that assumed are noise.
  const noisy = { ...creek, narrows: [{ path: 'assumptions.bandGain', now: 1.03, then: 0.35 }] };
  expect(nextText(noisy)).toContain('from 100 % to 35 %');
});

describe('the season', () => {
  test('tells the best set-up, the largest change, and what the simulation cannot tell', () => {
    const [best, life, ignorance] = seasonAnswers(madeShift());
    expect(best).toContain('the same with the fitted numbers');
    expect(life).toContain(
      'Life changes most, by share, for soft on gravel: half of the sets last 280 instead of 310 flight hours',
    );
    expect(life).toContain(
      'In 1 of 2 pairings the change of life is within the error of the simulation (500 trials)',
    );
    // The same numbers as in the table: 2 is told as below its upper end, 15.
    expect(ignorance).toBe(
      'Ignorance of the life shrinks in all pairings: stiff 60 to 30 h, soft 60 to below 15 h (least shrunk first). Luck stays.',
    );
    expect(flat(fitText(madeFit(), madeShift()))).toMatch(/280 196-392 .* < 15 .* 202 141-283 .* 30 /);
  });

  test('in short: a line for each mix, with best set-ups, lives and doubt', () => {
    expect(seasonSummary(madeShift(), true)).toEqual([
      'On gravel: best soft with either; half of the sets last, in flight hours, soft 310 → 280.',
      'Doubtful: see what stands against the fit.',
    ]);
    const best = madeShift().best.map((each) => ({ ...each, after: madeTold('stiff') }));
    expect(seasonSummary(madeShift({ best }), false)).toEqual([
      'On gravel: best soft before, stiff after; half of the sets last, in flight hours, soft 310 → 280, stiff 200 → 202.',
      'Nothing stands against the fit.',
    ]);
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
