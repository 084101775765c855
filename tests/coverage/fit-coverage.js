// How often do fits hold the truth? Lives many small invented logbooks in worlds drawn from the scenario's own assumptions,
// fits each, and writes where the truth lies to fit-coverage.json beside this file.
//
// node tests/coverage/fit-coverage.js [--logs 200] [--partial FILE] [--now]
// Each log goes to the partial file (one JSON object per line) as soon as it is done: a run that was stopped goes on from
// there. Delete that file to begin anew. --now makes no more logs and writes those that are done. 200 logs of three kinds
// take some 40 minutes of processor time.
import { appendFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { format, resolveConfig } from 'prettier';
import { version } from '../../dist/version.js';
import { LEGEND, lineOf, summaryOf } from './coverage-summary.js';
import { coverOne } from './fit-one.js';
import { FIT_OPTIONS, SHAPES } from './shapes.js';

const here = (name) => fileURLToPath(new URL(name, import.meta.url));
const { values } = parseArgs({
  options: {
    logs: { type: 'string', default: '200' },
    now: { type: 'boolean', default: false },
    partial: { type: 'string', default: here('../../out/fit-coverage.ndjson') },
  },
});
const logs = values.now ? 0 : Number(values.logs);
const shapes = Object.keys(SHAPES);

function readDone() {
  const done = new Map();
  if (!existsSync(values.partial)) return done;
  for (const line of readFileSync(values.partial, 'utf8').split('\n')) {
    if (line === '') continue;
    const one = JSON.parse(line);
    done.set(`${one.shape} ${one.n}`, one);
  }
  return done;
}

mkdirSync(dirname(values.partial), { recursive: true });
const done = readDone();
for (const shape of shapes) {
  for (let n = 0; n < logs; n++) {
    if (done.has(`${shape} ${n}`)) continue;
    const one = { shape, ...(await coverOne(shape, n)) };
    appendFileSync(values.partial, `${JSON.stringify(one)}\n`);
    done.set(`${shape} ${n}`, one);
    console.log(`${shape} ${n} ${one.refused ?? ''}`);
  }
}

const result = {
  note: 'Invented logbooks, lived by the simulator; written by tests/coverage/fit-coverage.js.',
  version: version(),
  options: FIT_OPTIONS,
  legend: LEGEND,
  shapes: {},
};
for (const shape of shapes) {
  const own = [];
  while (done.has(`${shape} ${own.length}`)) own.push(done.get(`${shape} ${own.length}`));
  result.shapes[shape] = summaryOf(shape, own);
  console.log(lineOf(shape, result.shapes[shape]));
}
const file = here('./fit-coverage.json');
writeFileSync(file, await format(JSON.stringify(result), { ...(await resolveConfig(file)), filepath: file }));
