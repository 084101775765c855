// How fast is the landing loop? The same model and inputs in lib/simulate, in plain C++ and in vectorised NumPy.
//
// Every run is a process of its own, the programs take turns, and the best of several runs counts, so that other work
// on the machine disturbs all of them alike. Rates are landings per second of processor time, start-up left out; one
// landing is all wheels of one pairing. Exit code 1: a program is missing, or results do not agree.
import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import process from 'node:process';
import { allPairings } from '../../dist/simulate/trials.js';
import { benchmarkScenario, writeInput } from './input.js';
import { compileCpp, findNumpy, here, runJson } from './tools.js';

const REPEATS = 3;
const POOL_REPEATS = 2;
const POOL_TRIALS = 400;
const MEMORY_TRIALS = 1_000_000;
const WORKERS = 2;
const SETUP = 'rigid 29 deep';
const MIX = 'gravel';
/** Results that must agree, within this many combined standard errors. */
const CHECKED = ['lifeLandings', 'cordsLandings', 'flatsHazard'];
const MOST_ERRORS = 4;
/** Trials side by side in NumPy: enough to hide its overhead per call. */
const NUMPY_TRIALS = 16_384;

const scenario = benchmarkScenario();
const pairings = allPairings(scenario);
const setupName = (index) => scenario.setups[index].name;
const mixName = (index) => scenario.mixes[index].name;
const problems = [];
const folder = mkdtempSync(join(tmpdir(), 'gravelbar-bench-'));
try {
  main();
} finally {
  rmSync(folder, { recursive: true, force: true });
}
for (const problem of problems) console.log(`PROBLEM: ${problem}`);
process.exitCode = problems.length > 0 ? 1 : 0;

function main() {
  const input = join(folder, 'input.txt');
  writeInput(scenario, input);
  const cpp = compileCpp(folder);
  const numpy = findNumpy();
  if (cpp === null) problems.push('no g++: the comparison with C++ is left out (Debian package g++)');
  if (numpy === null) {
    problems.push('no Python with NumPy: that comparison is left out (Debian package python3-numpy)');
  }
  console.log(
    `${cpus()[0].model}, ${cpus().length} cores, load average ${loadavg()[0].toFixed(1)}; node ${process.version}`,
  );
  console.log([cpp?.version, numpy?.version].filter(Boolean).join('; '));

  const ours = (numbers, trials) => () => runJson(process.execPath, [here('./ours.js'), numbers, trials]);
  const inCpp = (numbers, trials, shared) => (seed) =>
    runJson(cpp.program, [input, seed, numbers, trials, shared]);
  const inNumpy = (numbers, trials) => (seed) =>
    runJson(numpy.program, [here('./python/landing_loop.py'), input, seed, numbers, trials, trials]);

  const one = [pairings.findIndex(({ setup, mix }) => setupName(setup) === SETUP && mixName(mix) === MIX)];
  measure(`A. One pairing, ${SETUP} on ${MIX}, one core`, [
    { name: 'lib/simulate', numbers: one, run: ours(one, 800), repeats: REPEATS },
    cpp && { name: 'C++', numbers: one, run: inCpp(one, 2000, 0), repeats: REPEATS },
    numpy && {
      name: `NumPy, ${NUMPY_TRIALS} trials at once`,
      numbers: one,
      run: inNumpy(one, NUMPY_TRIALS),
      repeats: 2,
    },
  ]);
  const all = [...pairings.keys()];
  measure(`B. All ${all.length} pairings, one core`, [
    { name: 'lib/simulate', numbers: all, run: ours(all, 120), repeats: REPEATS },
    cpp && { name: 'C++, each pairing by itself', numbers: all, run: inCpp(all, 300, 0), repeats: REPEATS },
    cpp && { name: 'C++, landings shared', numbers: all, run: inCpp(all, 300, 1), repeats: REPEATS },
  ]);
  // For all pairings, and at its best width, NumPy would need minutes.
  const fewer = NUMPY_TRIALS / 4;
  const some = all.filter((index) => mixName(pairings[index].mix) === MIX);
  if (numpy !== null) {
    measure(`   The ${some.length} of them on ${MIX}`, [
      { name: 'lib/simulate', numbers: some, run: ours(some, 300), repeats: REPEATS },
      { name: `NumPy, ${fewer} trials at once`, numbers: some, run: inNumpy(some, fewer), repeats: 1 },
    ]);
  }
  measurePool();
  measureMemory();
}

/** Lets the contestants take turns, prints their rates and checks that their results agree with the first one's. */
function measure(title, listed) {
  const contestants = listed.filter(Boolean).map((contestant) => ({ ...contestant, answers: [] }));
  for (let turn = 0; turn < REPEATS; turn++) {
    for (const { run, repeats, answers } of contestants) if (turn < repeats) answers.push(run(turn + 1));
  }
  console.log(`\n${title}`);
  const [first] = contestants;
  const reference = bestRate(first.answers);
  for (const { name, answers } of contestants) {
    const best = bestRate(answers);
    const worst = Math.min(...answers.map(rate));
    const versus = name === first.name ? '' : `; ours is ${(reference / best).toFixed(2)} times as fast`;
    console.log(
      `  ${name.padEnd(32)} ${(best / 1e6).toFixed(3)} million landings/s ` +
        `(${(1e9 / best).toFixed(0)} ns each; worst of ${answers.length} runs ${(worst / 1e6).toFixed(3)})${versus}`,
    );
  }
  const { cpuSeconds, landings } = first.answers[0].warmUp;
  console.log(
    `  ${first.name}, its first ${landings} landings, while the engine compiles: ${cpuSeconds.toFixed(2)} s`,
  );
  for (const contestant of contestants.slice(1)) compare(title, contestant, first);
}

function rate({ landings, cpuSeconds }) {
  return landings / cpuSeconds;
}

function bestRate(answers) {
  return Math.max(...answers.map(rate));
}

/** Checks the first answer of a contestant against the first of ours. */
function compare(title, { name, numbers, answers }, ours) {
  let worst = 0;
  answers[0].pairings.forEach((figures, k) => {
    const ourFigures = ours.answers[0].pairings[ours.numbers.indexOf(numbers[k])];
    for (const figure of CHECKED) {
      const [mean, error] = figures[figure];
      const [ourMean, ourError] = ourFigures[figure];
      const errors = mean === ourMean ? 0 : Math.abs(mean - ourMean) / Math.hypot(error, ourError);
      worst = Math.max(worst, errors);
      if (errors <= MOST_ERRORS) continue;
      problems.push(
        `${title.trim()}: pairing ${numbers[k]}: mean ${figure} is ${ourMean} +- ${ourError} here ` +
          `and ${mean} +- ${error} in ${name}`,
      );
    }
  });
  console.log(`  ${name}: ${CHECKED.join(', ')} within ${worst.toFixed(1)} standard errors of ours`);
}

/** The whole of simulate(), on one worker and on several, by the clock on the wall: other work on the machine tells. */
function measurePool() {
  const counts = [1, WORKERS];
  const answers = counts.map(() => []);
  for (let turn = 0; turn < POOL_REPEATS; turn++) {
    counts.forEach((workers, k) => {
      answers[k].push(runJson(process.execPath, [here('./pool.js'), POOL_TRIALS, workers]));
    });
  }
  console.log(
    `\nC. simulate(), ${pairings.length} pairings, ${POOL_TRIALS} trials and their twins, wall clock`,
  );
  const best = answers.map((list) => list.reduce((a, b) => (b.seconds < a.seconds ? b : a)));
  counts.forEach((workers, k) => {
    const { seconds, cpuSeconds, landings } = best[k];
    const worst = Math.max(...answers[k].map((answer) => answer.seconds));
    console.log(
      `  workers: ${workers}; ${seconds.toFixed(2)} s (worst of ${POOL_REPEATS} runs ${worst.toFixed(2)} s; processor time ` +
        `${cpuSeconds.toFixed(2)} s), ${(landings / seconds / 1e6).toFixed(3)} million landings/s`,
    );
  });
  console.log(
    `  ${WORKERS} workers are ${(best[0].seconds / best[1].seconds).toFixed(2)} times as fast as 1`,
  );
}

function measureMemory() {
  const { trials, peakBytes } = runJson(process.execPath, [here('./memory.js'), MEMORY_TRIALS, WORKERS]);
  console.log(
    `\nD. Peak memory of runScenario(), ${trials} trials of one pairing, ${WORKERS} workers (lives cut short: a season ` +
      `of 2 landings, a horizon of 1 year)\n  ${(peakBytes / 2 ** 20).toFixed(0)} MiB`,
  );
}
