import { describe, expect, test } from 'vitest';
import { compareTable } from '../../lib/present/compare-table.js';
import { limitAmount, limitsAnswers } from '../../lib/present/limit-words.js';
import { limitsTable } from '../../lib/present/limits-table.js';
import { planTable } from '../../lib/present/plan-table.js';
import { planAnswers } from '../../lib/present/plan-words.js';
import { pressureTable } from '../../lib/present/pressure-table.js';
import { counted } from '../../lib/chart/measures.js';
import {
  countedText,
  quantileText,
  roundedText,
  signedSpan,
  signedText,
  withinText,
} from '../../lib/present/amounts.js';
import { sparesTable } from '../../lib/present/spares-table.js';
import { TABLE_WIDTH } from '../../lib/present/table.js';
import { textWidth } from '../../lib/present/words.js';
import { HARD_NAMES } from '../chart/made-result.js';
import { madeSweep } from '../chart/made-sweep.js';
import {
  made,
  madeBest,
  madeBeyond,
  madeCheck,
  madeComparison,
  madeFleetPlan,
  madeItem,
  madeLimits,
  madePlans,
  madeStock,
  UNKNOWN_CHECK,
  type MadePlan,
} from '../support/made-decisions.js';

const ORIGIN = { scenario: 'made up', version: '0.1.0', seed: 'made', trials: 500 };

/** Names that could disturb a terminal, beside those that charts are tested with. */
const NAMES = [...HARD_NAMES, '\u001b[31mred\u0007', 'right \u202eleft', '雪'.repeat(60)];

/** Blanks count once: lines break anywhere. */
function flat(text: string): string {
  return text.replaceAll(/\s+/g, ' ');
}

function expectFits(text: string): void {
  expect(text.split('\n').filter((line) => textWidth(line) > TABLE_WIDTH)).toEqual([]);
  expect(text).not.toMatch(/[^\P{Cc}\n]|\p{Cf}|\bNaN\b|undefined|\[object|Infinity/u);
  expect(text).toContain('Caution: For comparison only.');
}

describe('amounts', () => {
  test('keep what their error leaves standing', () => {
    expect(roundedText(5312.7, 145)).toBe('5,310');
    expect(roundedText(5312.7, 8)).toBe('5,313');
    expect(roundedText(0.0612, 0.021)).toBe('0.06');
    expect(roundedText(-0.2, 145)).toBe('0');
    expect(roundedText(1234.4, 0)).toBe('1,234');
    expect(signedText(0.4, 145)).toBe('0');
    expect(signedText(121, 164)).toBe('+120');
    expect(signedText(-121, 164)).toBe('-120');
    expect(signedSpan({ lower: -206, upper: 447, standardError: 164 })).toBe('-210 to +450');
    expect(
      quantileText({
        estimate: 28_908,
        lower: 28_000,
        upper: 30_000,
        lowerRank: 1,
        upperRank: 2,
        coverage: 0.95,
      }),
    ).toBe('28,900');
  });
});

describe('counts and times', () => {
  test('one piece of code counts, whole or not', () => {
    expect(['0', 1, 1312, 14.5, 1.04, 12_345.67].map((count) => countedText(Number(count), 'day'))).toEqual([
      '0 days',
      '1 day',
      '1,312 days',
      '14.5 days',
      '1 day',
      '12,345.7 days',
    ]);
    expect(counted).toBe(countedText);
  });

  test('a time to do something within is never rounded up', () => {
    expect([352.8, 352.99, 353, 9.4, 99.97, 12.34, 0.129, 0].map(withinText)).toEqual([
      '352',
      '352',
      '353',
      '9.40',
      '99.9',
      '12.3',
      '0.12',
      '0',
    ]);
  });
});

describe('plans', () => {
  const there: MadePlan = { sets: ['soft', 'rigid', 'rigid', 'soft'], cost: 5310 };
  const stay: MadePlan = { sets: ['soft', 'soft', 'soft', 'soft'], cost: 6210, more: made(900, 100) };

  test('a change that clearly saves is the answer, with when it pays', () => {
    expect(planAnswers(madeFleetPlan([madePlans([there, stay])]))).toEqual([
      'Change to rigid in June and back to soft in August: 5,310 credits a season, 900 (95 %: 700 to 1,100) less than ' +
        'soft all season; it pays from 350 landings on rigid, you fly 440.',
    ]);
  });

  test('a change at the turn of the season is put last, and three sets are told in order', () => {
    const turned: MadePlan = { sets: ['rigid', 'rigid', 'soft', 'soft'], cost: 5310 };
    const three: MadePlan = { sets: ['soft', 'rigid', 'big', 'big'], cost: 5310 };
    const first = (plan: MadePlan): string => planAnswers(madeFleetPlan([madePlans([plan, stay])]))[0]!;
    expect(first(turned)).toMatch(/^Change to soft in July and back to rigid in May: /);
    expect(first(three)).toMatch(/^Change to rigid in June, to big in July and back to soft in May: /);
  });

  test('where staying clearly saves, the answer is to stay', () => {
    const plans = madePlans(
      [
        { ...stay, more: made(0, 0) },
        { ...there, cost: 7000, more: made(790, 20) },
      ],
      {
        breakEven: { saving: made(-790, 20), payFrom: { estimate: 620, lower: 600, upper: 700 } },
      },
    );
    expect(planAnswers(madeFleetPlan([plans]))).toEqual([
      'Stay on soft all season: 6,210 credits a season, 790 (95 %: 750 to 830) less than the best plan with a change ' +
        '(to rigid in June and back to soft in August); it would pay from 620 landings on rigid, you fly 440.',
    ]);
  });

  test('where the interval holds 0, it is too close to tell', () => {
    const plans = madePlans([there, { ...stay, more: made(121, 164) }], {
      breakEven: { saving: made(121, 164), payFrom: null },
    });
    const [answer] = planAnswers(madeFleetPlan([plans]));
    expect(answer).toMatch(/^Too close to tell: /);
    expect(answer).toContain('takes 120 credits less (95 %: -210 to +450) than soft all season');
    const other = madePlans(
      [
        { ...stay, more: made(0, 0) },
        { ...there, more: made(80, 164) },
      ],
      {
        breakEven: { saving: made(-80, 164), payFrom: null },
      },
    );
    expect(planAnswers(madeFleetPlan([other]))[0]).toContain(
      'takes 80 credits more (95 %: -250 to +410) than soft all season',
    );
  });

  test('says when most seasons favour another plan than the mean, and when others are as close', () => {
    const rare = { ...there, bestShare: 0.1 };
    const [usual] = planAnswers(madeFleetPlan([madePlans([rare, { ...stay, bestShare: 0.8 }])]));
    expect(usual).toContain(
      'In 80 % of seasons soft all season comes out best; bad seasons decide the mean.',
    );
    const near: MadePlan = { sets: ['soft', 'rigid', 'rigid', 'rigid'], cost: 5320, more: made(10, 20) };
    const [close] = planAnswers(madeFleetPlan([madePlans([there, near, stay])]));
    expect(close).toContain('One other plan comes as close as the trials can tell.');
  });

  test('by days lost, and without prices, no money is told', () => {
    const plan = madeFleetPlan([madePlans([there, stay])], {
      criterion: 'daysLost',
      currency: null,
      needs: 'not priced: needs "costs"',
    });
    const withoutMoney = {
      ...plan,
      airplanes: plan.airplanes.map((each) => ({
        ...each,
        plans: each.plans.map((figures) => ({ ...figures, money: null })),
      })),
      totals: { ...plan.totals, money: null },
    };
    const text = flat(planTable(withoutMoney));
    expect(text).toContain('1.50 days lost a season');
    expect(text).toContain('Money not checked: not priced: needs "costs".');
    expect(text).not.toContain('credits');
  });

  test('the table has the figures of each plan, those without a change always', () => {
    const many = Array.from({ length: 12 }, (_, index): MadePlan => ({ ...there, cost: 5310 + index }));
    const text = planTable(madeFleetPlan([madePlans([...many, stay])]));
    expectFits(text);
    expect(text).toContain('4 more plans in the JSON');
    expect(text).toMatch(/soft all season +6,210 +\+900 \(700 to 1,100\) +0.20 +1.50 +50 %/);
    expect(flat(text)).toContain('Fleet of 1 airplane on the best plans: 5,000 credits a season as expected');
  });

  test.each(NAMES)('keeps its width with the name %j', (name) => {
    const plan = madePlans(
      [
        { sets: [name, 'b', 'b', name], cost: 5 },
        { ...stay, sets: [name, name, name, name] },
      ],
      {
        airplane: name,
        mix: name,
      },
    );
    expectFits(
      planTable(madeFleetPlan([plan, plan], { scenario: name, seed: name, currency: '雪'.repeat(12) })),
    );
  });
});

describe('limits', () => {
  const answer = (...setups: Parameters<typeof madeLimits>[]): Parameters<typeof limitsTable>[0] => ({
    ...ORIGIN,
    mixes: ['gravel'],
    setups: setups.map((each) => madeLimits(...each)),
  });

  test('values are in the units that people read', () => {
    // 1 psi = 6894.757 Pa, 1 kt = 1852/3600 m/s (NIST SP 811, from memory); half a turn is 180 degrees.
    expect(limitAmount(2 * 6894.757, 'Pa')).toBe('2 psi');
    expect(limitAmount((10 * 1852) / 3600, 'm/s')).toBe('10 kt');
    expect(limitAmount(Math.PI / 2, 'rad')).toBe('90 deg');
    expect(limitAmount(0.0123, 'm')).toBe('12.3 mm');
    expect(limitAmount(1484.3, 'kg')).toBe('1,480 kg');
    expect(limitAmount(-0.25, 'share')).toBe('-25 %');
  });

  test('what is beyond comes first, what is unknown says what it needs and is never within', () => {
    const text = limitsTable(answer(['a', [madeCheck(), madeBeyond(32), UNKNOWN_CHECK]]));
    expectFits(text);
    expect(text).toMatch(
      /^a: beyond 1 of 2 limits: push by hand on paved \(32 N too much\)\.\n- Not checked: tail angle\./,
    );
    expect(text).toContain('tail angle: not checked: needs airplanes.mine.geometry.tailBehind');
    expect(text).toMatch(/push by hand on paved +332 N +at most 300 N +-32 N +-11 % +- +BEYOND/);
    expect(text.indexOf('BEYOND')).toBeLessThan(text.indexOf('propeller clearance  '));
    expect(text).toMatch(/tail angle( +-){5} +not known/);
  });

  test('names the closest limit, what to weigh, and what is beyond in the season', () => {
    const leaked = {
      state: 'leaked',
      gaugePa: 100_000,
      value: 0.19,
      margin: -0.01,
      status: 'beyond',
    } as const;
    const text = limitsTable(
      answer(['a', [madeCheck({ season: [leaked] }), madeBeyond(32, { binding: false, surface: 'sand' })]]),
    );
    expect(flat(text)).toContain(
      'a: within the one limit checked; closest: propeller clearance (50 mm left). ' +
        '- Beyond at pressures met in the season: propeller clearance. - To weigh: push by hand on sand.',
    );
    expect(flat(text)).toContain('Beyond in the season: propeller clearance: 190 mm when leaked at 14.5 psi');
  });

  test('long lists are put together by what is checked, and stay short', () => {
    const toWeigh = ['sand', 'turf', 'gravel'].map((surface) =>
      madeBeyond(32, { binding: false, wheel: null, surface }),
    );
    const unknown = (['main', 'nose'] as const).map((wheel) => ({
      ...UNKNOWN_CHECK,
      code: 'rated load' as const,
      wheel,
    }));
    const flooded = madeBeyond(5, {
      binding: false,
      code: 'hydroplaning, wheel not turning',
      wheel: 'main',
      surface: null,
    });
    const [first, ...rest] = limitsAnswers(madeLimits('a', [madeCheck(), ...toWeigh, flooded, ...unknown]));
    expect(first).toBe('a: within the one limit checked; closest: propeller clearance (50 mm left).');
    expect(rest).toEqual([
      'To weigh: push by hand on sand, turf and gravel; hydroplaning, wheel not turning, main.',
      'Not checked: rated load, main and nose.',
    ]);
    const many = Array.from({ length: 9 }, (_, k) =>
      madeBeyond(1, { binding: false, surface: `strip ${k}` }),
    );
    expect(limitsAnswers(madeLimits('a', many)).at(-1)).toBe(
      'To weigh: push by hand on strip 0, strip 1, strip 2, strip 3 and 5 more surfaces.',
    );
  });

  test('sources stand in lines of their own, with the checks that rest on them and all ratings together', () => {
    const rated = (tire: string, more = '') =>
      madeCheck({ code: 'rated load', wheel: 'main', source: `rating of ${tire}, from the scenario${more}` });
    const law = madeCheck({ code: 'tail angle', source: 'a law; from memory' });
    const text = limitsTable(
      answer(
        ['a', [rated('a tire'), law, { ...law, code: 'bead slip' }]],
        ['b', [rated('another tire', '; a rule')]],
      ),
    );
    expectFits(text);
    expect(text).toContain(
      'Sources:\n- ratings of a tire and another tire: from the scenario\n' +
        '- tail angle; bead slip: a law; from memory\n- rated load: a rule\n',
    );
  });

  test('what low pressure does is told apart', () => {
    const text = flat(limitsTable(answer(['a', [madeCheck()]])));
    for (const each of [
      'load at pressure (',
      'sinks to its rim',
      'bead slip (',
      'pinch on the rim',
      'looks low',
    ]) {
      expect(text).toContain(each);
    }
  });

  test.each(NAMES)('keeps its width with the name %j', (name) => {
    expectFits(
      limitsTable({
        ...answer([name, [madeBeyond(3, { surface: name }), { ...UNKNOWN_CHECK, needs: [name] }]]),
        mixes: [name],
      }),
    );
  });
});

describe('the choice of pressure', () => {
  test('what low pressure does is told apart, each with a pressure of its own', () => {
    const codes = ['load at pressure', 'bead slip'] as const;
    const points = madeSweep().points.map((point, index) => ({
      ...point,
      checks: codes.map((code) => madeCheck({ code })),
      broken: index < 2 ? [codes[1]] : [],
    }));
    expect(flat(pressureTable(madeSweep({ points }), 'made up'))).toContain(
      'Low pressure is not one limit: load at pressure (too little for the load) at no pressure here; bead slip (full ' +
        `braking turns the tire on its rim) at ${points[1]!.pressurePsi} psi and less; deflection at rest (sinks too near to ` +
        'its rim) not checked. A pinch on the rim by a rock edge is a chance at any pressure, in the table. A tire looks low',
    );
  });

  test('tells the range and its ends, the best pressures, and what was not looked at', () => {
    const text = flat(pressureTable(madeSweep(), 'made up'));
    expect(text).toContain(
      'faired six on half rough: 33 to 38 psi is sensible; your 30 psi lies below. ' +
        'Below: fairing clearance at rest; above: the tires last clearly shorter.',
    );
    expect(text).toContain(
      'Longest mean life at 36 psi (15 h against yours, 95 %: +7 to +23, 1 other pressure not told apart)',
    );
    const bare = flat(
      pressureTable(
        madeSweep({
          lowestCost: null,
          sensibleRange: null,
          limitsRange: null,
          brokenThroughout: [{ code: 'bead slip', title: 'bead' }],
          notChecked: [{ code: 'tail angle', needs: ['the tail'] }],
        }),
        'made up',
      ),
    );
    expect(bare).toContain('no pressure looked at keeps all limits; yours is 30 psi.');
    expect(bare).toContain('No pressure mends bead slip: beyond the limit throughout.');
    expect(bare).toContain('Not checked: tail angle (needs the tail).');
    expect(bare).toContain('Cost not checked: needs prices.');
  });

  test.each([
    [
      { longestDays: 20 },
      'Check the pressure every 20 days or sooner to find at most 5.0 % of readings below 22 psi.',
    ],
    [{ longestDays: 0 }, 'No interval between checks keeps to at most 5.0 % of readings below 22 psi'],
    [
      { longestDays: null },
      'Even checks a season (150 days) apart find at most 5.0 % of readings below 22 psi.',
    ],
  ])('a check interval of %j is told', (change, words) => {
    const check = {
      setPa: 172_369,
      // 22 psi at 6894.757 Pa each (NIST SP 811, from memory).
      lowPa: 22 * 6894.757,
      share: 0.05,
      presentDays: 14,
      presentShare: 0.4,
      seasonDays: 150,
      ...change,
    };
    const text = flat(pressureTable(madeSweep({ checkForSensible: check }), 'made up'));
    expect(text).toContain(words);
    expect(text).toContain('At present: every 14 days, 40 % below.');
  });

  test.each(NAMES)('keeps its width with the name %j', (name) => {
    expectFits(
      pressureTable(madeSweep({ setup: name, mix: name, mainTire: name, currency: '雪'.repeat(12) }), name),
    );
  });
});

describe('comparison', () => {
  const answer = (
    ...comparisons: Parameters<typeof madeComparison>[]
  ): Parameters<typeof compareTable>[0] => ({
    ...ORIGIN,
    comparisons: comparisons.map((each) => madeComparison(...each)),
    money: [],
  });
  const standings = [
    { setup: 'rigid', mean: 10 },
    { setup: 'soft', mean: 12, behind: made(2, 0.1) },
  ];

  test('leads with what is settled, what is not, and what could not be checked', () => {
    const text = compareTable(
      answer([
        'gravel',
        {
          life: madeBest('gravel', standings, {}, { criterion: 'life', unit: 'h', better: 'more' }),
          flats: madeBest(
            'gravel',
            standings,
            { kind: 'run more trials', open: ['soft'] },
            { criterion: 'flats' },
          ),
          costPerHour: { priced: false, needs: 'not priced: needs "costs"' },
          daysLost: madeBest('gravel', standings, {}, { criterion: 'daysLost' }),
        },
      ]),
    );
    expectFits(text);
    expect(flat(text)).toMatch(
      /^On gravel: rigid lasts longest and loses the fewest days; too close to tell in flats \(rigid ahead of soft\); money not checked: not priced: needs "costs"\. /,
    );
    expect(text).toMatch(/soft +12.0 +2.00 \(1.80 to 2.20\) +0 % +50 % +50 % +0.50/);
  });

  test.each([
    ['practically equal', { equal: ['soft'] }, 'rigid and soft are practically equal in money'],
    ['measure', {}, 'too close to call in money before more is measured (rigid ahead)'],
  ] as const)('a verdict "%s" is told', (kind, change, words) => {
    const best = { costPerHour: madeBest('gravel', standings, { kind, ...change }) };
    expect(flat(compareTable(answer(['gravel', best])))).toContain(`On gravel: ${words}.`);
  });

  test.each(NAMES)('keeps its width with the name %j', (name) => {
    const hard = [
      { setup: name, mean: 1_234_567 },
      { setup: 'soft', mean: 2_345_678, behind: made(1_111_111, 50) },
    ];
    const best = madeBest(name, hard, {}, { unit: `${'雪'.repeat(12)} per flight hour` });
    expectFits(compareTable(answer([name, { costPerHour: best }])));
  });
});

describe('spares', () => {
  const tube = madeItem(1, { kind: 'tube' });
  const none = madeItem(0, { kind: 'patch kit', tire: null });

  test('says what to keep for which service, and what the Poisson formula would keep', () => {
    const text = sparesTable({
      ...ORIGIN,
      remarks: ['A remark.'],
      cases: [madeStock([madeItem(4), tube, none])],
    });
    expectFits(text);
    expect(flat(text)).toMatch(
      /^3 airplanes on rigid 29 all season: keep 4 tires rigid 29 and 1 tube for rigid 29 \(none of 1 other item\); then nobody waits for an item in 95 % of seasons or more \(new tires at the start of the season, no deliveries in it\)\./,
    );
    expect(text).toMatch(/rigid 29 +2.80 +4 +4-5 +100 % +100 % +3 \(96 %\)/);
    expect(text).toContain('A remark.\n');
    expect(text).toContain('A note.');
  });

  test('no spares, a lead time and several bases are told', () => {
    const text = flat(
      sparesTable({
        ...ORIGIN,
        remarks: [],
        cases: [
          madeStock([none], 'rigid 29', { leadTimeDays: 14 }),
          madeStock([madeItem(2, { base: 'north' })], 'soft', { airplanesAt: { north: 1, south: 2 } }),
        ],
      }),
    );
    expect(text).toContain(
      'no spares needed if the season begins on new tires: nobody waits for an item in 95 % of seasons or more ' +
        '(new tires at the start of the season, deliveries 14 days after each use)',
    );
    expect(text).toContain('keep 2 tires rigid 29 at north');
  });

  test.each(NAMES)('keeps its width with the name %j', (name) => {
    expectFits(
      sparesTable({
        ...ORIGIN,
        scenario: name,
        remarks: [name],
        cases: [madeStock([madeItem(3, { tire: name })], name)],
      }),
    );
  });
});
