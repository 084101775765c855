/** Tires whose last certain day is the day on which they were fitted. */
import { expect, test } from 'vitest';
import { planRecords } from '../../lib/calibrate/likelihood-plan.js';
import { RecordLikelihood } from '../../lib/calibrate/likelihood.js';
import { compileScenario, type Logbook } from '../../lib/index.js';
import { medianWorld } from '../../lib/simulate/world.js';
import { changed, readSmall, SCENARIO, SMALL } from './small-log.js';

const compiled = compileScenario(SCENARIO);
const HABITS = {
  grooveErrorM: 0.0003,
  grooveStepM: 0,
  newGrooveSpreadM: 0.0001,
  mix: undefined,
  heldOut: new Set<string>(),
};
const ERRORS = { pressureErrorPa: 3000, wornSpreadM: 0.0005, errorDoubt: 1.5 };

function likelihoodOf(log: Logbook): number {
  const likelihood = new RecordLikelihood(compiled, planRecords(compiled, log, HABITS), ERRORS);
  return likelihood.logLikelihood({
    world: medianWorld(compiled),
    grooveErrorFactor: 1,
    pressureErrorFactor: 1,
  });
}

// But for the chance that a tire without a landing is judged worn: 1 less some 1e-9.
test('a tire fitted on the last day of the log says nothing: as if it were not there', () => {
  const until = { lastDay: '2024-06-21' };
  const fitted = readSmall(changed('tires.csv', 'soft,2024-06-20', 'soft,2024-06-21'), until);
  const without = readSmall({ 'tires.csv': SMALL['tires.csv']!.replace(/L2.*\n/, '') }, until);
  expect(fitted.tires).toHaveLength(4);
  expect(likelihoodOf(fitted)).toBeCloseTo(likelihoodOf(without), 6);
});

test.each(['cut', 'puncture', 'worn'] as const)(
  'a tire that ended by %s at any time since it was fitted counts the landings since',
  (cause) => {
    const tires = `tire,airplane,position,setup,fitted,removed by,cause
R1,mine,right main,soft,2024-05-01,,
L1,mine,left main,soft,2024-05-01,2024-06-20,${cause}
`;
    const files = {
      'tires.csv': tires,
      'readings.csv': 'tire,date,band,groove [mm]\n',
      'pressure.csv': 'tire,date,found [psi]\n',
      'cuts.csv': 'tire,date,place\n',
    };
    const log = readSmall(files);
    expect(log.tires[1]!.end).toMatchObject({ kind: 'left', cause });
    const alone = readSmall({ ...files, 'tires.csv': tires.replace(/L1.*\n/, '') });
    const told = likelihoodOf(log) - likelihoodOf(alone);
    // The chance of the end within 14 landings: small, and more with twice the landings.
    expect(told).toBeLessThan(0);
    expect(told).toBeGreaterThan(-650);
    const more = { ...files, 'flights.csv': SMALL['flights.csv']!.replace('gravel,2,1.5', 'gravel,20,15') };
    const longer = readSmall(more);
    const longerAlone = readSmall({ ...more, 'tires.csv': tires.replace(/L1.*\n/, '') });
    expect(likelihoodOf(longer) - likelihoodOf(longerAlone)).toBeGreaterThan(told);
  },
);
