import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { compileScenario, fitLife, lifeRecords, readLogbook, readScenario } from '../../lib/index.js';
import { assumptionQuantile, medianWorld } from '../../lib/simulate/world.js';
import { shipped } from '../support/command.js';

const folder = shipped('logbook');
const { scenario } = readScenario(join(folder, 'fleet.json'));
const log = readLogbook(join(folder, 'logbook.json'), { scenario });

interface Generator {
  readonly makeLogbook: () => Record<string, string>;
}

interface Truth {
  note: string;
  assumptions: Record<string, { value: string; si: number; priorProbability: number }>;
}

describe('the shipped logbook', () => {
  test('is what its generator writes', async () => {
    const { makeLogbook } = (await import(join(folder, 'generate.js'))) as Generator;
    const files = makeLogbook();
    expect(Object.keys(files)).toHaveLength(7);
    for (const [name, text] of Object.entries(files)) {
      expect(readFileSync(join(folder, name), 'utf8') === text, `${name}: run npm run logbook`).toBe(true);
    }
  });

  test('says that it is invented, and is about a thousand readings of twelve airplanes in two seasons', () => {
    expect(log.note).toMatch(/^Invented/);
    expect(new Set(log.tires.map(({ airplane }) => airplane)).size).toBe(12);
    expect(log.readings.length).toBeGreaterThan(900);
    expect(log.readings.length).toBeLessThan(1100);
    expect(log.lastDay - log.firstDay).toBeGreaterThan(365 + 120);
    expect(log.remarks).toEqual([]);
  });

  test('has every kind of record that a fit must take', () => {
    const kinds = new Set(log.tires.map(({ end }) => end.kind));
    expect(kinds).toEqual(new Set(['exact', 'right', 'interval']));
    expect(log.tires.some(({ landingsBefore }) => landingsBefore > 0)).toBe(true);
    expect(log.tires.some(({ end }) => end.kind === 'right' && end.day < log.lastDay)).toBe(true);
    const causes = new Set(log.tires.flatMap(({ end }) => (end.kind === 'exact' ? [end.cause] : [])));
    expect(causes.size).toBeGreaterThanOrEqual(3);
    expect(log.pressureChecks.length).toBeGreaterThan(500);
    expect(log.cuts.length).toBeGreaterThan(20);
    expect(new Set(log.flights.map(({ strip }) => strip)).size).toBe(5);
  });

  test('was lived in a world that is told, and that is not that of the medians', () => {
    const truth = JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')) as Truth;
    expect(truth.note).toMatch(/^Invented/);
    const compiled = compileScenario(scenario);
    const medians = medianWorld(compiled);
    const told = Object.entries(truth.assumptions);
    expect(told.length).toBeGreaterThan(10);
    for (const [path, { si, priorProbability }] of told) {
      const index = compiled.assumptions.findIndex((assumption) => assumption.path === path);
      expect(si).toBe(assumptionQuantile(compiled.assumptions[index]!, priorProbability));
      expect(si).not.toBe(medians[index]);
    }
  });

  test('gives lives that a law can be fitted to, and some that none can', () => {
    const soft = lifeRecords(log, {
      which: ({ setup, position }) => setup === 'soft 29 at 9 psi' && position !== 'third',
    });
    const fit = fitLife(soft, { law: 'weibull' });
    expect(fit.verdict.kind).toBe('identified');
    // Worn out by use: the older, the likelier to end.
    expect(fit.parameters!.shape.lower).toBeGreaterThan(1);
    const deep = lifeRecords(log, {
      which: ({ setup, position }) => setup === 'rigid 29 at 25 psi' && position !== 'third',
    });
    expect(fitLife(deep, { law: 'weibull' }).verdict).toEqual({
      kind: 'not identified',
      reasons: ['no life has ended: the data set a least life, but no typical one'],
    });
  });
});
