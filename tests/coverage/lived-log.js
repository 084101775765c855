// One invented logbook whose truth is known: a world drawn from the scenario's own assumptions, lived by the simulator.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { valueAtScore } from '../../dist/calibrate/prior.js';
import { compileScenario, parseLogbook, parseScenario } from '../../dist/index.js';
import { normalFromUniform } from '../../dist/numeric/normal.js';
import { nextUniform53, openStream, streamKey } from '../../dist/random/stream.js';
import { logbookFiles } from '../../scenarios/logbook/generate.js';
import { KEEPING } from '../../scenarios/logbook/truth.js';
import { ERROR_DOUBT, FINE, SHAPES } from './shapes.js';

/** Standard normal score of the 90 % quantile. */
const Z_P90 = 1.2815515655446004;

/** Lays one object of plain data over another. */
function overlay(below, above) {
  const plain = (value) => typeof value === 'object' && value !== null && !('distribution' in value);
  if (!plain(below) || !plain(above)) return above;
  const merged = { ...below };
  for (const [key, value] of Object.entries(above)) merged[key] = overlay(below[key], value);
  return merged;
}

/** The scenario of the shipped logbook with what a shape lays over it: its assumptions are the prior. */
function scenarioOf(shape) {
  const file = fileURLToPath(new URL('../../scenarios/logbook/fleet.json', import.meta.url));
  const fleet = JSON.parse(readFileSync(file, 'utf8'));
  // The place of the schema is relative to that file.
  delete fleet.$schema;
  return parseScenario(JSON.stringify(overlay(fleet, SHAPES[shape].scenario ?? {}))).scenario;
}

/** A standard normal number, named by purpose. */
function normal(seed, purpose) {
  return normalFromUniform(nextUniform53(openStream(streamKey(seed, purpose, 0))));
}

/**
 * What is true in one log: every assumption in doubt drawn from its own distribution, each by a stream of its own, and how
 * far off the stated errors of the readings are.
 */
function drawTruth(compiled, seed) {
  const scores = new Map();
  const world = Float64Array.from(compiled.assumptions, (assumption) => {
    if (assumption.kind === 'fixed') return assumption.a;
    const score = normal(seed, `truth of ${assumption.path}`);
    scores.set(assumption.path, score);
    return valueAtScore(assumption, score);
  });
  const values = new Map(compiled.assumptions.map(({ path }, index) => [path, world[index]]));
  for (const path of ['records.grooveErrorFactor', 'records.pressureErrorFactor']) {
    scores.set(path, normal(seed, `truth of ${path}`));
    values.set(path, ERROR_DOUBT ** (scores.get(path) / Z_P90));
  }
  return { world, scores, values };
}

/**
 * The logbook number `n` of a shape.
 *
 * @returns its `seed`, the scenario `compiled`, its `truth` (`world`, and `scores` and `values` by path), the `digest` of its
 *   files, and `read`, which reads it as a user's logbook is read and throws what the reader throws.
 */
export function livedLog(shape, n) {
  const { fleet, keeping } = SHAPES[shape];
  const scenario = scenarioOf(shape);
  const compiled = compileScenario(scenario);
  const seed = `coverage ${shape} ${n}`;
  const truth = drawTruth(compiled, seed);
  const stated = { ...KEEPING, ...FINE, ...keeping };
  const pressureErrorPsi = stated.pressureErrorPsi * truth.values.get('records.pressureErrorFactor');
  const files = logbookFiles(compiled, truth.world, {
    name: seed,
    seed,
    fleet,
    stated,
    keeping: {
      ...stated,
      treadErrorMm: stated.treadErrorMm * truth.values.get('records.grooveErrorFactor'),
      pressureErrorPsi,
      setErrorPsi: pressureErrorPsi,
    },
  });
  const digest = createHash('sha256').update(JSON.stringify(files)).digest('hex').slice(0, 16);
  const { 'logbook.json': description, ...tables } = files;
  const read = () => parseLogbook(description, tables, { scenario }, 'logbook.json');
  return { seed, compiled, truth, digest, read };
}
