import { fixed } from './scenarios.js';

const doubt = (p10: string, p90: string) => ({ distribution: 'lognormal', p10, p90, source: 'test' });
const tire = { like: 'rigid 26 deep', sidewall: 'plain', tread: 'plain', newTread: '2 mm', price: '300' };
const setup = (mainTire: string) => ({
  mainTire,
  mainPressure: '30 psi',
  thirdTire: 'plain',
  thirdPressure: '30 psi',
});

/** Wear of the compound that is in doubt, and of the other one: where the choice flips. */
export const DOUBTED = { p10: 1, p90: 1.5, flip: 1.2 } as const;

/**
 * Changes to the quiet scenario: two set-ups, alike but for the compound of the main tires. One wears by a factor in
 * doubt, the other by a fixed one; the wear of both goes with an abradability in doubt. Life is tread over wear, so that
 * what knowing would be worth has a closed form.
 */
export const twoCompounds = {
  setups: { only: setup('plain'), other: setup('hard') },
  compounds: {
    doubted: {
      wearFactor: doubt(String(DOUBTED.p10), String(DOUBTED.p90)),
      biteFactor: fixed('1'),
      source: 'test',
    },
    hard: { wearFactor: fixed(String(DOUBTED.flip)), biteFactor: fixed('1'), source: 'test' },
  },
  tires: { plain: { ...tire, compound: 'doubted' }, hard: { ...tire, compound: 'hard' } },
  season: { months: [{ month: 'July', landings: '200', flightHours: '100 h', temperature: '15 degC' }] },
  assumptions: { abradability: doubt('0.16 mm3/J', '0.32 mm3/J') },
};
