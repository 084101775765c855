import { meanWithInterval, pairedDifference } from '../estimate/paired.js';
import { summarizeLife } from '../estimate/life.js';
import { endedFlags } from '../estimate/curves.js';
import { summarizePunctures } from '../estimate/risk.js';
import { meanEstimate } from '../estimate/uncertainty.js';
import { mean } from '../estimate/moments.js';
import { hydroplaningSpeedMps, SPIN_DOWN_COEFFICIENT, SPIN_UP_COEFFICIENT } from '../models/hydroplaning.js';
import { pushersNeeded } from '../models/hand-push.js';
import { oneMinusExp } from '../numeric/elementary.js';
import { flightHoursAfter } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PairingTrials } from '../simulate/columns.js';
import { figuresOf, lifeHours, whatIsUnpriced } from './criteria.js';
import { pushForceN, pushNeeds } from './ground-rules.js';
import { checkRule, type SetupWorlds } from './limit-rule.js';
import type { LimitCheck, LimitCode } from './limit-types.js';
import type { PressureClearance, PressureLife, PressurePoint, PressurePush } from './pressure-types.js';
import { paToPsi } from './pressure-units.js';
import { rulesOf, type LandingPlaces } from './setup-limits.js';

/** Figures of one pressure, trial by trial. */
export interface PressureFigures {
  readonly lifeHours: Float64Array;
  /** Money per flight hour; null without prices. */
  readonly costPerHour: Float64Array | null;
}

/** Figures of a pressure that differences are made of. */
export function pressureFigures(scenario: CompiledScenario, trials: PairingTrials): PressureFigures {
  const priced = whatIsUnpriced(scenario, [trials.setup]) === null;
  return {
    lifeHours: lifeHours(scenario, trials),
    costPerHour: priced ? figuresOf(scenario, 'costPerHour').expected(trials) : null,
  };
}

/** What a point of the sweep is made from. */
export interface PointInput {
  readonly trials: PairingTrials;
  readonly figures: PressureFigures;
  /** Figures of the set-up's own pressure, from the same trials. */
  readonly ownFigures: PressureFigures;
  readonly worlds: SetupWorlds;
  readonly own: boolean;
}

/**
 * Everything about one pressure.
 *
 * @param scenario the scenario of the sweep: one set-up per pressure.
 * @param places where it lands.
 * @param input trials and worlds of the pressure.
 */
export function pressurePoint(
  scenario: CompiledScenario,
  places: LandingPlaces,
  { trials, figures, ownFigures, worlds, own }: PointInput,
): PressurePoint {
  const { columns } = trials;
  const { setup, median } = worlds;
  const { season } = summarizePunctures(trials, scenario.calendar.landingsPerYear);
  const checks = rulesOf(scenario, setup, places).map((rule) => checkRule(rule, worlds));
  const shoulderM = Math.max(mean(columns.innerLostM), mean(columns.outerLostM));
  const centreM = mean(columns.centreLostM);
  const { costPerHour } = figures;
  const ownCost = ownFigures.costPerHour;
  const gaugePa = median.pressures.mainPa;
  return {
    pressurePa: setup.mainPa,
    pressurePsi: paToPsi(setup.mainPa),
    own,
    lifeHours: pressureLife(scenario, trials, figures.lifeHours),
    firstBand: shoulderM > centreM ? 'shoulders' : 'centre',
    shoulderOverCentre: shoulderM / centreM,
    flatSeason: {
      estimate: season.estimate,
      standardError: season.standardError,
      lower: season.lower,
      upper: season.upper,
    },
    pinchSeason: meanEstimate(Float64Array.from(columns.pinchHazard, oneMinusExp)),
    beadSlips: meanEstimate(columns.beadSlips),
    beadMarginNm: checks.find(({ code }) => code === 'bead slip')?.margin ?? null,
    hydroplaningMps: {
      wheelNotTurning: hydroplaningSpeedMps(gaugePa, SPIN_UP_COEFFICIENT),
      rollingWheel: hydroplaningSpeedMps(gaugePa, SPIN_DOWN_COEFFICIENT),
    },
    push: places.surfaces.map((surface): PressurePush => {
      const forceN = pushForceN(median, surface);
      const people = forceN === null ? null : pushersNeeded(forceN);
      return { surface: surface.name, forceN, people, needs: pushNeeds(surface) };
    }),
    clearances: clearancesOf(checks, gaugePa),
    costPerFlightHour: costPerHour === null ? null : meanWithInterval(costPerHour),
    versusOwn: {
      lifeHours: pairedDifference(figures.lifeHours, ownFigures.lifeHours),
      costPerFlightHour:
        costPerHour === null || ownCost === null ? null : pairedDifference(costPerHour, ownCost),
    },
    checks,
    broken: brokenCodes(checks),
  };
}

function pressureLife(
  { calendar }: CompiledScenario,
  { columns }: PairingTrials,
  hours: Float64Array,
): PressureLife {
  const { p10, p50, p90, intervals } = summarizeLife(
    calendar,
    columns.lifeLandings,
    endedFlags(columns.lifeCause),
  ).hours;
  const followed = columns.followedLandings.reduce((most, each) => Math.max(most, each), 0);
  return {
    p10,
    p50,
    p90,
    p50Interval: intervals.p50,
    restrictedMean: meanWithInterval(hours),
    horizon: flightHoursAfter(calendar, followed),
  };
}

const CLEARANCE_KINDS: Partial<Readonly<Record<LimitCode, PressureClearance['kind']>>> = {
  'fairing clearance at rest': 'fairing at rest',
  'fairing clearance on a bump': 'fairing on a bump',
  'propeller clearance': 'propeller',
};

function clearancesOf(checks: readonly LimitCheck[], coldPa: number): PressureClearance[] {
  return checks.flatMap(({ code, value, season }): PressureClearance[] => {
    const kind = CLEARANCE_KINDS[code];
    if (kind === undefined || value === null) return [];
    const others = season.map(({ state, gaugePa, value: clearanceM }) => ({
      kind,
      state,
      gaugePa,
      clearanceM,
    }));
    return [{ kind, state: 'cold', gaugePa: coldPa, clearanceM: value }, ...others];
  });
}

function brokenCodes(checks: readonly LimitCheck[]): LimitCode[] {
  const broken = checks.filter(({ binding, status }) => binding && status === 'beyond');
  return [...new Set(broken.map(({ code }) => code))];
}
