import { IMPLAUSIBLE_SCORE } from './standing.js';
import { regularizedGammaQ } from '../numeric/special.js';
import { standardNormalQuantile } from '../numeric/normal.js';
import { wilsonInterval } from '../estimate/proportion.js';
import { dateOfDay } from './dates.js';
import { fittedName } from './fit-names.js';
import type { RecordLikelihood, RecordPrediction, WorldOfRecords } from './likelihood.js';
import type { RecordPlan } from './likelihood-plan-types.js';
import { chanceBelowPressure, type PressureLaw } from './likelihood-pressure.js';
import type { ReadingPrediction } from './likelihood-tread.js';
import type {
  FitCalibration,
  FitChecks,
  FittedAssumption,
  FittedPressure,
  FittedReading,
  FittedTire,
} from './posterior-types.js';
import { GROOVE_ERROR_PATH, PRESSURE_ERROR_PATH } from './likelihood.js';
import type { Breath } from './sampler-mode.js';
import { withoutVacuous } from './telling-readings.js';

/** Share that the intervals of the checks should hold. */
const STATED = 0.8;
const ERROR_PATHS: readonly string[] = [GROOVE_ERROR_PATH, PRESSURE_ERROR_PATH];
const FLAGGED_CHANCE = 0.01;
const CONTRADICTION_CHANCE = 0.001;

/** Mean and variance over draws of one reading. */
interface Pooled {
  readonly meanM: number;
  readonly deviationM: number;
}

/** Predictions of many draws as one normal law each: the mean of their laws. */
function pool(byDraw: readonly (readonly ReadingPrediction[])[], readings: number): Map<number, Pooled> {
  const pooled = new Map<number, Pooled>();
  const first = byDraw[0] ?? [];
  first.forEach(({ reading }, at) => {
    let sum = 0;
    let squares = 0;
    let variance = 0;
    for (const draw of byDraw) {
      const { meanM, varianceM2 } = draw[at]!;
      sum += meanM / byDraw.length;
      squares += (meanM * meanM) / byDraw.length;
      variance += varianceM2 / byDraw.length;
    }
    pooled.set(reading, { meanM: sum, deviationM: Math.sqrt(variance + Math.max(0, squares - sum * sum)) });
  });
  if (pooled.size !== readings) throw new RangeError('every reading of the plan is predicted once');
  return pooled;
}

function calibration(what: FitCalibration['what'], inside: readonly boolean[]): FitCalibration[] {
  if (inside.length === 0) return [];
  const held = inside.filter(Boolean).length;
  const { lower, upper } = wilsonInterval(held, inside.length, 0.95);
  return [{ what, stated: STATED, held, of: inside.length, low: lower, high: upper }];
}

/**
 * Checks a fit against the records it was made from, and those held out.
 *
 * @param likelihood of the records.
 * @param draws worlds of the posterior, at least one.
 * @param assumptions the fitted assumptions, for what the scenario held for implausible.
 * @param newGrooveOf groove of each tire when new, m.
 * @param breath called between draws, to let others work and to hear of a stop.
 */
export async function checkFit(
  likelihood: RecordLikelihood,
  draws: readonly WorldOfRecords[],
  assumptions: readonly FittedAssumption[],
  newGrooveOf: ReadonlyMap<string, number>,
  breath: Breath,
): Promise<FitChecks> {
  const { plan } = likelihood;
  const free: RecordPrediction[] = [];
  const stepwise: (readonly ReadingPrediction[])[] = [];
  const laws: PressureLaw[][] = [];
  for (const draw of draws) {
    free.push(likelihood.predictReadings(draw, false));
    stepwise.push(likelihood.predictReadings(draw, true).readings);
    laws.push(likelihood.pressureLaws(draw));
    await breath();
  }
  const fromNew = pool(
    free.map(({ readings }) => readings),
    plan.readings.length,
  );
  const steps = pool(stepwise, plan.readings.length);
  const wornM = new Map((stepwise[0] ?? []).map(({ reading, wornM: worn }) => [reading, worn]));
  const width = standardNormalQuantile(0.5 + STATED / 2);
  const readings = plan.readings.map((planned, at): FittedReading => {
    const { tire, day, band, landings, surface, grooveM, held } = planned;
    const { meanM, deviationM } = fromNew.get(at)!;
    const step = steps.get(at)!;
    const newM = newGrooveOf.get(tire)!;
    const groove = (worn: number): number => Math.max(0, newM - worn);
    return {
      tire,
      date: dateOfDay(day),
      band,
      landings,
      surface,
      grooveM,
      expectedM: groove(meanM),
      lowM: groove(meanM + width * deviationM),
      highM: groove(meanM - width * deviationM),
      stepwiseOffBy: (step.meanM - wornM.get(at)!) / step.deviationM,
      heldOut: held,
    };
  });
  const pressures = plan.pressureSpans.map(({ tire, day, days, foundPa }, at): FittedPressure => {
    const mean = (value: (law: PressureLaw) => number): number =>
      laws.reduce((sum, each) => sum + value(each[at]!) / laws.length, 0);
    return {
      tire,
      date: dateOfDay(day),
      days,
      foundPa,
      expectedPa: mean(({ meanPa }) => meanPa),
      chanceBelow: mean((law) => chanceBelowPressure(law, foundPa)),
    };
  });
  const inside = (check: FittedReading): boolean =>
    check.grooveM >= check.lowM && check.grooveM <= check.highM;
  const fitted = readings.filter(({ heldOut }) => !heldOut);
  const telling = withoutVacuous(readings).readings;
  const tires = tireOutliers(fitted);
  return {
    readings,
    pressures,
    calibration: [
      ...calibration(
        'readings, each from those before it',
        fitted.map(({ stepwiseOffBy }) => Math.abs(stepwiseOffBy) <= width),
      ),
      ...calibration(
        'readings, without any reading of the tire',
        telling.filter(({ heldOut }) => !heldOut).map(inside),
      ),
      ...calibration(
        'held-out readings, without any reading of the tire',
        telling.filter(({ heldOut }) => heldOut).map(inside),
      ),
      ...calibration(
        'pressures found',
        pressures.map(({ chanceBelow: below }) => below >= (1 - STATED) / 2 && below <= (1 + STATED) / 2),
      ),
    ],
    tires,
    stones: {
      ...countStones(plan),
      expectedPunctures: free.reduce((sum, { punctures }) => sum + punctures / free.length, 0),
      expectedCuts: free.reduce((sum, { cuts }) => sum + cuts / free.length, 0),
    },
    conflicts: findConflicts(assumptions, tires),
  };
}

function countStones({ lines }: RecordPlan): { readonly punctures: number; readonly cuts: number } {
  let punctures = 0;
  let cuts = 0;
  for (const { weight, steps } of lines) {
    for (const step of steps) {
      if (step.step !== 'event') continue;
      if (step.cause === 'cut') cuts += weight;
      else punctures += weight;
    }
  }
  return { punctures, cuts };
}

/** Tires by how badly their readings fit, worst first. */
function tireOutliers(readings: readonly FittedReading[]): FittedTire[] {
  const byTire = new Map<string, { readings: number; squaredDistance: number }>();
  for (const { tire, stepwiseOffBy } of readings) {
    const sum = byTire.get(tire) ?? { readings: 0, squaredDistance: 0 };
    sum.readings++;
    sum.squaredDistance += stepwiseOffBy * stepwiseOffBy;
    byTire.set(tire, sum);
  }
  return [...byTire]
    .map(([tire, { readings: count, squaredDistance }]): FittedTire => {
      const chance = regularizedGammaQ(count / 2, squaredDistance / 2);
      return {
        tire,
        readings: count,
        squaredDistance,
        chance,
        flagged: chance < FLAGGED_CHANCE / byTire.size,
      };
    })
    .sort((one, other) => one.chance - other.chance || (one.tire < other.tire ? -1 : 1));
}

/** What is said of readings with less error than stated: it makes a fit too cautious, never too sure. */
export function agreeBetterText(what: 'groove readings' | 'pressure readings'): string {
  return `The ${what} agree far better than the error stated or assumed for them.`;
}

const readingsOf = (path: string): 'groove readings' | 'pressure readings' =>
  path === GROOVE_ERROR_PATH ? 'groove readings' : 'pressure readings';

/** What the fit tells of the errors of readings that is worth a word and contradicts nothing; as remarks, without a full stop. */
export function remarksOnErrors(assumptions: readonly FittedAssumption[]): string[] {
  return assumptions
    .filter(({ path, scoreMean }) => ERROR_PATHS.includes(path) && scoreMean <= -IMPLAUSIBLE_SCORE)
    .map(({ path }) => agreeBetterText(readingsOf(path)).slice(0, -1));
}

function findConflicts(assumptions: readonly FittedAssumption[], tires: readonly FittedTire[]): string[] {
  const conflicts: string[] = [];
  for (const { path, scoreMean } of assumptions) {
    if (Math.abs(scoreMean) < IMPLAUSIBLE_SCORE) continue;
    if (ERROR_PATHS.includes(path)) {
      if (scoreMean > 0) {
        conflicts.push(
          `The ${readingsOf(path)} scatter far more than their stated error: they contradict each other, the model, or the error stated.`,
        );
      }
      continue;
    }
    const side = scoreMean > 0 ? 'above' : 'below';
    conflicts.push(
      `The records want ${fittedName(path)} far ${side} what the scenario holds for plausible: look at the records, at what else could explain them, and at the range in the scenario.`,
    );
  }
  const count = tires.reduce((sum, { readings }) => sum + readings, 0);
  const distance = tires.reduce((sum, { squaredDistance }) => sum + squaredDistance, 0);
  if (count > 0 && regularizedGammaQ(count / 2, distance / 2) < CONTRADICTION_CHANCE) {
    conflicts.push(
      'The groove readings as a whole are further from the fit than chance allows (below 1 in 1000).',
    );
  }
  const flagged = tires.filter((tire) => tire.flagged).map(({ tire }) => tire);
  if (flagged.length > 0) conflicts.push(`The readings of ${flagged.join(', ')} do not fit the others.`);
  return conflicts;
}
