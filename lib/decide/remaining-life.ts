import { END_CAUSES, type EndCause } from '../estimate/curves.js';
import { lastRowAtOrBefore } from '../estimate/event-table.js';
import { DEFAULT_LEVEL, logLogBand } from '../estimate/interval.js';
import {
  lowestSurvivalBeforeFirstEnd,
  survivalAt,
  survivalQuantile,
  type KaplanMeierCurve,
} from '../estimate/kaplan-meier.js';
import { between, type Clock } from '../estimate/life.js';
import { weightedSurvival } from '../estimate/remaining-curve.js';
import { flightHoursAfter } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { IN_SERVICE, WORN } from '../simulate/columns.js';
import { indexOfName } from '../simulate/names.js';
import { horizonLandings } from '../simulate/pairing-run.js';
import { ClockFromNow } from './remaining-clock.js';
import { drawTrials, type WeighedTrials } from './remaining-trials.js';
import type {
  ChanceEstimate,
  NextInspection,
  ReachChance,
  RemainingCurves,
  RemainingFigures,
  RemainingLife,
  RemainingLifeRequest,
  TodayTires,
} from './remaining-types.js';
import { remarksOn } from './remaining-words.js';
import {
  acceptedChanceOf,
  asFlown,
  dayOfSeason,
  landingsFlown,
  requireReach,
  requireReadings,
} from './remaining-input.js';

/** Steps of the curves. */
const CURVE_POINTS = 60;
/** Share of sets below which a curve is not followed further. */
const HARDLY_ANY = 0.001;
/**
 * The life left in the main tires on the airplane, from what a tread gauge says.
 *
 * Trials live through the scenario on new tires up to today and beyond. Those whose tires are still on then are weighted
 * by the likelihood of the readings given their wear (normal errors, rounding): Bayes' rule with the assumptions of the
 * scenario as the prior. The weighted trials tell what is left. Trials are added in rounds of fixed sizes until those that
 * agree are worth 400 equally weighted ones, so the answer depends on scenario, seed and readings only.
 *
 * Tires taken off as worn in a trial still count, as an owner may not have noticed: they are past the limit now. If fewer
 * than 50 effective trials agree, errors are taken as greater, and a remark says so: up to 3 times where the readings
 * contradict the scenario (a chance below 1 in 1000). If that is not enough there is no answer, since what the trials tell
 * would not be about these tires.
 *
 * @param scenario compiled scenario.
 * @param request which pairing, how many trials at most, what to reach.
 * @param today what is known of the tires; both main tires were fitted new at the same time.
 * @returns quantiles, curves, chances and the next inspection, each with its Monte Carlo error.
 * @throws UsageError for names, hours, readings or options that cannot be, for tires past their age limit, and for
 *   readings too far from all trials; CancelledError when the signal fires.
 * @see importance sampling from the prior predictive distribution; Gelman et al., Bayesian Data Analysis, chapter 10
 *   (from memory).
 */
export async function remainingLife(
  scenario: CompiledScenario,
  request: RemainingLifeRequest,
  today: TodayTires,
): Promise<RemainingLife> {
  const { calendar } = scenario;
  const setup = scenario.setups[indexOfName('set-up', request.setup, scenario.setups)]!;
  indexOfName('runway mix', request.mix, scenario.mixes);
  const flown = landingsFlown(scenario, today);
  requireReadings(today, setup.main.newTreadM);
  const acceptedChance = acceptedChanceOf(today);
  const clock = new ClockFromNow(calendar, flown, dayOfSeason(today));
  const trials = await drawTrials(
    asFlown(scenario, request.setup, today, flown),
    request,
    flown,
    today.readings,
  );
  const life = lifeCurve(trials, flown);
  const limit = limitCurve(trials, flown, horizonLandings(scenario));
  const result = {
    scenario: scenario.name,
    setup: request.setup,
    mix: request.mix,
    seed: scenario.seed,
    flown: { landings: flown, hours: today.flightHours ?? flightHoursAfter(calendar, flown) },
    date: clock.date(0),
    trials: trials.trials,
    trialsStillOn: trials.stillOn,
    effectiveTrials: trials.effectiveTrials,
    agreement: { ...trials.agreement, widenedBy: trials.widenedBy },
    remaining: {
      landings: figures(life, (landings) => landings),
      hours: figures(life, (landings) => clock.hours(landings)),
      days: figures(life, (landings) => clock.days(landings)),
    },
    beyondHorizon: life.survival[life.survival.length - 1] ?? 1,
    pastLimitNow: complement(chanceAt(limit, 0)!),
    endCauses: endCauses(trials),
    endOfSeason: reach(life, clock, clock.landingsInSeason()),
    reach: [
      ...requireReach(request.reachHours).map((hours) => ({
        ...reach(life, clock, clock.landingsInHours(hours)),
        hours,
      })),
      ...requireReach(request.reachDays).map((days) => ({
        ...reach(life, clock, clock.landingsInDays(days)),
        days,
        date: clock.date(days),
      })),
    ],
    nextInspection: nextInspection(limit, clock, acceptedChance),
    straightLineHours: straightLineHours(scenario, today, flown, setup.main.newTreadM),
    curves: curves(life, limit, clock),
  };
  return { ...result, remarks: remarksOn(result) };
}

function lifeCurve({ lifeLandings, lifeCause, weights }: WeighedTrials, flown: number): KaplanMeierCurve {
  return weightedSurvival(
    lifeLandings.map((landings) => Math.max(0, landings - flown)),
    lifeCause.map((cause) => (cause === IN_SERVICE ? 0 : 1)),
    weights,
  );
}

/** Curve of wear alone down to the tread limit. */
function limitCurve(
  { treadLimitLandings, weights }: WeighedTrials,
  flown: number,
  horizon: number,
): KaplanMeierCurve {
  return weightedSurvival(
    treadLimitLandings.map((landings) => Math.max(0, (landings < 0 ? horizon : landings) - flown)),
    Uint8Array.from(treadLimitLandings, (landings) => (landings < 0 ? 0 : 1)),
    weights,
  );
}

function figures(curve: KaplanMeierCurve, clock: Clock): RemainingFigures {
  const read = (landings: number | null): number | null =>
    landings === null ? null : between(clock, landings);
  const [p10, p50, p90] = [0.1, 0.5, 0.9].map((probability) => {
    const { estimate, lower, upper } = survivalQuantile(curve, probability);
    return { estimate: read(estimate), interval: { lower: read(lower), upper: read(upper) } };
  }) as [Quantile, Quantile, Quantile];
  return {
    p10: p10.estimate,
    p50: p50.estimate,
    p90: p90.estimate,
    intervals: { p10: p10.interval, p50: p50.interval, p90: p90.interval },
  };
}

interface Quantile {
  readonly estimate: number | null;
  readonly interval: { readonly lower: number | null; readonly upper: number | null };
}

/** Chance of still running after so many landings; null beyond the horizon. */
function chanceAt(curve: KaplanMeierCurve, landings: number): ChanceEstimate | null {
  const { estimate, lower, upper } = survivalAt(curve, landings);
  if (estimate === null) return null;
  const row = lastRowAtOrBefore(curve.time, landings);
  return { estimate, standardError: row < 0 ? 0 : curve.standardError[row]!, lower, upper };
}

function complement({ estimate, standardError, lower, upper }: ChanceEstimate): ChanceEstimate {
  return { estimate: 1 - estimate, standardError, lower: 1 - upper, upper: 1 - lower };
}

function endCauses({ weights, effectiveTrials, lifeCause }: WeighedTrials): Record<EndCause, ChanceEstimate> {
  const chance = (code: number): ChanceEstimate => {
    let estimate = 0;
    let own = 0;
    let others = 0;
    weights.forEach((weight, trial) => {
      if (lifeCause[trial] === code) {
        estimate += weight;
        own += weight * weight;
      } else others += weight * weight;
    });
    const standardError = Math.sqrt(own * (1 - estimate) ** 2 + others * estimate ** 2);
    const band = logLogBand(Math.max(0, 1 - estimate), standardError, effectiveTrials, DEFAULT_LEVEL);
    return { estimate, standardError, lower: 1 - band.upper, upper: 1 - band.lower };
  };
  return Object.fromEntries(END_CAUSES.map((cause, index) => [cause, chance(WORN + index)])) as Record<
    EndCause,
    ChanceEstimate
  >;
}

function reach(curve: KaplanMeierCurve, clock: ClockFromNow, landings: number): ReachChance {
  const days = clock.days(landings);
  return {
    hours: clock.hours(landings),
    landings,
    days,
    date: clock.date(days),
    chance: chanceAt(curve, landings),
  };
}

function nextInspection(
  limit: KaplanMeierCurve,
  clock: ClockFromNow,
  acceptedChance: number,
): NextInspection {
  const lastSafe = (survival: Float64Array): number => {
    const row = survival.findIndex((share) => 1 - share > acceptedChance + 1e-12);
    return row < 0 ? limit.lastTime : Math.max(0, limit.time[row]! - 1);
  };
  const landings = lastSafe(limit.survival);
  const isUnsure = 1 - lowestSurvivalBeforeFirstEnd(limit) > acceptedChance;
  return {
    acceptedChance,
    landings,
    hours: clock.hours(landings),
    days: clock.days(landings),
    cautiousHours: isUnsure ? 0 : clock.hours(lastSafe(limit.lower)),
    beyondHorizon: landings === limit.lastTime,
  };
}

function straightLineHours(
  { calendar, habits }: CompiledScenario,
  { readings, flightHours }: TodayTires,
  flown: number,
  newTreadM: number,
): number | null {
  if (readings.length === 0) return null;
  const lowest = readings.reduce((least, { grooveM }) => Math.min(least, grooveM), Infinity);
  const wornM = newTreadM - lowest;
  const hours = flightHours ?? flightHoursAfter(calendar, flown);
  if (!(wornM > 0 && hours > 0)) return null;
  return (hours * Math.max(0, lowest - habits.treadLimitM)) / wornM;
}

/** Curves in even steps from now until hardly any set is left. */
function curves(life: KaplanMeierCurve, limit: KaplanMeierCurve, clock: ClockFromNow): RemainingCurves {
  const row = life.survival.findIndex((share) => share <= HARDLY_ANY);
  const last = row < 0 ? life.lastTime : life.time[row]!;
  const steps = Math.max(1, Math.min(CURVE_POINTS, last));
  const landings = Array.from({ length: steps + 1 }, (_, step) => Math.round((last * step) / steps));
  const chances = landings.map((count) => chanceAt(life, count)!);
  return {
    landings,
    hours: landings.map((count) => clock.hours(count)),
    days: landings.map((count) => clock.days(count)),
    survival: chances.map(({ estimate }) => estimate),
    lower: chances.map(({ lower }) => lower),
    upper: chances.map(({ upper }) => upper),
    pastLimit: landings.map((count) => 1 - chanceAt(limit, count)!.estimate),
  };
}
