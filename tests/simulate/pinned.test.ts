import { createHash } from 'node:crypto';
import { expect, it } from 'vitest';
import { Simulator } from '../../dist/simulate/trials.js';
import { quietScenario } from '../support/scenarios.js';

/**
 * Only yesterday's bits: they say nothing about being right, and may change with the version. The same digest on
 * every engine and machine is the promise; run this file on other Node versions to see it kept.
 */
it('one run has the bits it had yesterday, on any engine', () => {
  const scenario = quietScenario({
    assumptions: {
      abradability: { distribution: 'lognormal', p10: '0.07 mm3/J', p90: '0.13 mm3/J', source: 'test' },
      landingWearSpread: { value: '0.5', source: 'test' },
      slowLeaks: { value: '1 /year', source: 'test' },
      tubePermeation: { distribution: 'normal', p10: '1 %/month', p90: '4 %/month', source: 'test' },
    },
    habits: {
      brakingSpread: { value: '0.35', source: 'test' },
      sinkRateSpread: { value: '0.4', source: 'test' },
      sideLoadSpread: { value: '10 %', source: 'test' },
      pivotChance: { value: '20 %', source: 'test' },
    },
    surfaces: { plain: { sharpStones: { value: '0.02 /m2', source: 'test' } } },
  });
  const [table] = new Simulator(scenario, [{ setup: 0, mix: 0 }]).runRange({
    firstTrial: 0,
    trials: 20,
    step: 1,
    luck: 0,
  });
  const hash = createHash('sha256');
  for (const values of Object.values(table!.columns)) hash.update(Array.from(values).join(' '));
  expect(hash.digest('hex')).toBe('9d42503d8831d17b9dc7525932f2659ef2f16a47b628e7ef3eb7a7d14f1060cf');
});
