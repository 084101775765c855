import { expect, it } from 'vitest';
import { cautionsFor } from '../dist/cautions.js';
import { runScenario } from '../dist/run.js';
import { quietScenario, shippedScenario } from './support/scenarios.js';

const codes = (scenario: Parameters<typeof cautionsFor>[0]): string[] =>
  cautionsFor(scenario, [], 1000, true).map(({ code }) => code);

it('every answer carries the cautions on authority and on assumptions', () => {
  expect(codes(shippedScenario('first'))).toEqual(['authority', 'assumed']);
});

it('a pressure or a load beyond the rating of a tire is a caution', () => {
  const pressure = { setups: { only: { mainPressure: '55 psi' } } };
  expect(codes(quietScenario(pressure))).toContain('above rated pressure');
  // 1400 kg, 40 % of it on each main wheel.
  const load = { tires: { plain: { ratedLoad: '559 kg' } } };
  expect(codes(quietScenario(load))).toContain('above rated load');
  expect(codes(quietScenario({ tires: { plain: { ratedLoad: '561 kg' } } }))).not.toContain(
    'above rated load',
  );
});

it('a pressure far too low for the load is a caution, before the general ones', () => {
  const found = codes(quietScenario({ setups: { only: { mainPressure: '4 psi' } } }));
  expect(found[0]).toBe('deep deflection');
  expect(found.slice(-2)).toEqual(['authority', 'assumed']);
});

it('few trials, lives beyond the horizon, rare flats and an early stop are cautions', async () => {
  const scenario = quietScenario({
    run: { horizon: '1 month' },
    season: { months: [{ month: 'July', landings: '20', flightHours: '10 h', temperature: '15 degC' }] },
  });
  const { result } = await runScenario(scenario, { trials: 20, workers: 1 });
  const found = result.cautions.map(({ code }) => code);
  expect(found).toEqual(expect.arrayContaining(['few trials', 'beyond horizon', 'rare flats']));
  expect(result.pairings[0]!.life.hours.p50).toBeNull();
  expect(result.pairings[0]!.life.beyondHorizon).toBe(1);
  const stopped = cautionsFor(scenario, result.pairings, 20, false).map(({ code }) => code);
  expect(stopped).toContain('stopped early');
});
