import { expect, test } from 'vitest';
import { assumptionsFile } from '../../lib/calibrate/assumptions-file.js';
import { flownTogether } from '../../lib/calibrate/flown-together.js';
import { fitAssumptions } from '../../lib/calibrate/posterior.js';
import { parseLogbook } from '../../lib/calibrate/read-logbook.js';
import { ASSUMED, cautionsFor, FITTED } from '../../lib/cautions.js';
import { compileScenario, type CompiledScenario } from '../../lib/scenario/compile.js';
import { parseScenario } from '../../lib/scenario/read.js';
import { FIT_SCENARIO, fitLogFiles } from '../support/fit-files.js';
import { madeAssumption, madeFit } from '../support/made-fit.js';

const fit = madeFit({
  change: {
    assumptions: [madeAssumption('assumptions.abradability', 1e-10, 0, 0.4)],
    draws: { paths: ['assumptions.abradability'], rows: [[1e-10], [1.1e-10]] },
  },
});

/** The scenario with the fit over it. */
function fitted(doubts?: readonly string[]): CompiledScenario {
  const layer = JSON.parse(assumptionsFile(fit, doubts)) as object;
  return compileScenario(parseScenario(JSON.stringify({ ...FIT_SCENARIO, ...layer })).scenario);
}

test('every run of a fitted scenario tells where its numbers come from and what stands against them', () => {
  const cautions = cautionsFor(fitted(['The readings of LA do not fit the others.']), [], 1000, true);
  const told = cautions.filter(({ code }) => code === FITTED.code);
  expect(told).toHaveLength(1);
  expect(told[0]!.message).toMatch(/^1 assumption is taken from records: fitted to made-up log \(60 records/);
  expect(told[0]!.message).toContain('Doubts: The readings of LA do not fit the others. Invented.');
  expect(told[0]!.message).toContain(
    'hold for tires, strips, airplanes and habits like those of the records',
  );
  // Who has fitted need not be told to fit.
  const assumed = cautions.filter(({ code }) => code === 'assumed').map(({ message }) => message);
  expect(assumed).toHaveLength(1);
  expect(assumed[0]).not.toContain('Fit them to your own records');
  expect(assumed[0]).toContain('that are not fitted to records');
});

test('a fit without doubts names none, and a scenario without a fit says what it said', () => {
  const message = cautionsFor(fitted(), [], 1000, true).find(({ code }) => code === 'fitted')!.message;
  expect(message).not.toContain('Doubts');
  const plain = compileScenario(parseScenario(JSON.stringify(FIT_SCENARIO)).scenario);
  const told = cautionsFor(plain, [], 1000, true);
  expect(told).toContain(ASSUMED);
  expect(told.map(({ code }) => code)).not.toContain('fitted');
  expect(plain).not.toHaveProperty('fitted');
});

test('however many doubts there are, the file can be read', () => {
  const many = Array.from({ length: 200 }, (_, k) => `Doubt number ${k} of very many.`);
  const { note } = fitted(many).fitted!;
  expect(note!.length).toBeLessThanOrEqual(2000);
  expect(note).toMatch(/^Doubts: Doubt number 0 .* \.\.\. Invented\. For comparison only: .*decide/);
});

test('which set-ups flew on which strips follows from the tires on and the flights of those days', () => {
  const { scenario } = parseScenario(JSON.stringify(FIT_SCENARIO));
  const files = fitLogFiles();
  const logbook = parseLogbook(files['log.json']!, files, { scenario });
  const isFlown = flownTogether(logbook);
  const strips = new Set(logbook.flights.map(({ strip }) => strip));
  const setups = new Set(logbook.tires.map(({ setup }) => setup));
  for (const setup of setups) {
    for (const strip of strips) {
      const airplanes = logbook.tires.filter((tire) => tire.setup === setup).map(({ airplane }) => airplane);
      const flew = logbook.flights.some((each) => each.strip === strip && airplanes.includes(each.airplane));
      expect(isFlown({ setup: setup!, strip })).toBe(flew);
    }
    expect(isFlown({ setup: setup!, strip: 'never flown to' })).toBe(false);
    expect(isFlown({ setup: setup!, strip: null })).toBe(true);
  }
  expect(isFlown({ setup: 'never fitted', strip: null })).toBe(false);
  // A tire without a set-up may have been any.
  const open = { ...logbook, tires: logbook.tires.map((tire) => ({ ...tire, setup: null })) };
  expect(flownTogether(open)({ setup: 'never fitted', strip: 'never flown to' })).toBe(true);
});

test('tires taken up part-worn pad no check, and no landing is not an unknown one', async () => {
  const { scenario } = parseScenario(JSON.stringify(FIT_SCENARIO));
  const files = fitLogFiles();
  const logbook = parseLogbook(files['log.json']!, files, { scenario });
  const [first] = logbook.readings
    .filter(({ tire }) => tire === 'LB')
    .sort((one, other) => one.day - other.day);
  const changed = {
    ...logbook,
    tires: logbook.tires.map((tire) => (tire.id === 'LA' ? { ...tire, landingsBefore: 60 } : tire)),
    // Read again the day after, without a landing between.
    readings: [...logbook.readings, { ...first!, day: first!.day + 1 }],
  };
  const { checks } = await fitAssumptions(compileScenario(scenario), changed, {
    chains: 2,
    effectiveSize: 50,
  });
  const of = (start: string): number => checks.calibration.find(({ what }) => what.startsWith(start))!.of;
  const partWorn = checks.readings.filter(({ tire }) => tire === 'LA').length;
  expect(partWorn).toBeGreaterThan(0);
  expect(of('readings, each')).toBe(checks.readings.length);
  expect(of('readings, without')).toBe(checks.readings.length - partWorn);
  const again = checks.readings.filter(({ surface }) => surface === 'no landing since');
  expect(again.map(({ tire }) => tire)).toEqual(['LB']);
  expect(checks.readings.map(({ surface }) => surface)).not.toContain('not known');
});
