/** What is not known must never look as if it had been checked. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { setupLimits } from '../../lib/decide/setup-limits.js';
import { compileScenario } from '../../lib/scenario/compile.js';
import { parseScenario } from '../../lib/scenario/read.js';
import type { LimitCheck, SetupLimits } from '../../lib/decide/limit-types.js';
import { shipped } from '../support/command.js';

fc.configureGlobal({ seed: 20_260_226 });

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

const MIXED = JSON.parse(readFileSync(shipped('mixed-season.json'), 'utf8')) as { [key: string]: Json };
const AIRPLANE = 'airplanes.reference four-seater';
const GEOMETRY = [
  'wheelbase',
  'propellerAhead',
  'propellerClearance',
  'strutTravel',
  'tailBehind',
  'tailClearance',
  'tailAngleNeeded',
  'attitude',
  'attitudeLeast',
  'attitudeMost',
];

/** Everything that may be missing, by its place. Names of entries hold no points here. */
const OPTIONAL: readonly string[] = [
  `${AIRPLANE}.maximumMass`,
  `${AIRPLANE}.tailSettles`,
  `${AIRPLANE}.geometry`,
  ...GEOMETRY.map((name) => `${AIRPLANE}.geometry.${name}`),
  'sidewalls.standard.sideBulge',
  'sidewalls.standard.growth',
  'assumptions.bumpLoad',
  'habits.pushCrew',
  'surfaces.turf.bearingRatio',
  'surfaces.turf.coneIndex',
  'setups.faired.fairingFit',
  ...['rearBehind', 'rearHeight', 'chockHeight'].map((name) => `setups.faired.fairingFit.${name}`),
  'tires.stock.ratedSpeed',
  'tires.stock nose.ratedSpeed',
];

/** The shipped season with one faired set-up, less what is missing. */
function limitsWithout(missing: readonly string[]): SetupLimits {
  const setups = MIXED['setups'] as { [key: string]: { [key: string]: Json } };
  const faired = { ...setups['faired 6.00-6']!, mainTire: 'stock', thirdTire: 'stock nose' };
  const file: { [key: string]: Json } = structuredClone({
    ...MIXED,
    setups: { faired },
    tires: { stock: { like: 'standard 6.00-6' }, 'stock nose': { like: 'nose 5.00-5' } },
  });
  // The whole of a part last: nothing is left in it to be taken away.
  for (const place of [...missing].sort((one, other) => other.length - one.length)) {
    const steps = place.split('.');
    const last = steps.pop()!;
    let part = file;
    for (const step of steps) part = (part[step] ??= {}) as { [key: string]: Json };
    part[last] = null;
  }
  const { scenario } = parseScenario(JSON.stringify(file), 'scenario', shipped('.'));
  return setupLimits(compileScenario(scenario), { worlds: 2 })[0]!;
}

const identity = ({ code, wheel, surface, bound }: LimitCheck): string =>
  [code, wheel, surface, bound].join(' / ');

const whole = limitsWithout([]);
const wholeStatus = new Map(whole.checks.map((check) => [identity(check), check.status]));

describe('a limit of which something is not known', () => {
  it('has all it needs in the shipped scenario', () => {
    expect(whole.checks.filter(({ status }) => status === 'not checked')).toEqual([]);
    expect(whole.checks.length).toBeGreaterThan(25);
  });

  it.each(OPTIONAL)('is not checked without %s, and names it', (place) => {
    const lost = limitsWithout([place]).checks.filter(({ needs }) => needs.includes(place));
    expect(lost.length).toBeGreaterThan(0);
    for (const { status, margin, needs } of lost) {
      expect(status).toBe('not checked');
      expect(needs).toEqual([place]);
      expect(margin === null || margin >= 0).toBe(true);
    }
  });

  it('is never within, whatever else is missing, and nothing comes within by what is missing', () => {
    fc.assert(
      fc.property(fc.subarray([...OPTIONAL]), (missing) => {
        const { checks } = limitsWithout(missing);
        expect(checks.map(identity)).toEqual([...wholeStatus.keys()]);
        for (const check of checks) {
          const before = wholeStatus.get(identity(check))!;
          if (check.status === 'within') {
            expect(before).toBe('within');
            expect(check.needs).toEqual([]);
            expect(check.value).not.toBeNull();
            expect(check.limit).not.toBeNull();
            expect(check.margin).toBeGreaterThanOrEqual(0);
          }
          if (check.status === 'not checked') expect(check.needs.length).toBeGreaterThan(0);
          for (const need of check.needs) {
            // A part of it may be named in place of the whole, or the whole in place of a part.
            expect(missing.some((place) => place === need || place.startsWith(`${need}.`))).toBe(true);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('still counts as beyond where even what is known breaks it', () => {
    const { scenario } = parseScenario(
      JSON.stringify({
        ...MIXED,
        airplanes: { 'reference four-seater': { maximumMass: null } },
        tires: { 'standard 6.00-6': { ratedLoad: '1000 lb' } },
      }),
      'scenario',
      shipped('.'),
    );
    const faired = setupLimits(compileScenario(scenario), { worlds: 2 }).at(-1)!;
    const load = faired.checks.find(({ code, wheel }) => code === 'rated load' && wheel === 'main')!;
    expect(load).toMatchObject({ status: 'beyond', needs: [] });
  });
});

it('a figure without its assumption has no value and says what it needs', () => {
  const { scenario } = parseScenario(
    JSON.stringify({
      ...MIXED,
      sidewalls: { standard: { sideStiffness: null } },
      airplanes: { 'reference four-seater': { geometry: { tailClearance: null } } },
    }),
    'scenario',
    shipped('.'),
  );
  const faired = setupLimits(compileScenario(scenario), { worlds: 2 }).at(-1)!;
  const needs = faired.figures.flatMap((figure) => (figure.value === null ? figure.needs : []));
  expect(needs).toEqual([`${AIRPLANE}.geometry.tailClearance`, 'sidewalls.standard.sideStiffness']);
});
