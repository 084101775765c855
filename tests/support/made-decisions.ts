import type { BestSetup, SetupStanding } from '../../lib/decide/best-types.js';
import type { MixComparison } from '../../lib/decide/compare.js';
import type { Criterion } from '../../lib/decide/criteria.js';
import type { LimitCheck, SetupLimits } from '../../lib/decide/limit-types.js';
import type { AirplanePlans, BreakEven, FleetPlan, PlanFigures } from '../../lib/decide/plan-types.js';
import type { SpareStock, SparesPlan } from '../../lib/decide/spares.js';
import type { Verdict } from '../../lib/decide/verdict.js';
import type { PairedDifference } from '../../lib/estimate/paired.js';
import type { SparesCase } from '../../lib/decide/stock-cases.js';

/** A mean or difference with an interval of two errors to both sides. */
export function made(estimate: number, standardError = Math.abs(estimate) / 20): PairedDifference {
  return {
    estimate,
    standardError,
    lower: estimate - 2 * standardError,
    upper: estimate + 2 * standardError,
    varianceRatio: 0.1,
  };
}

const MONTHS = ['May', 'June', 'July', 'August'] as const;

/** A plan: a gear set for each of four months, and what it costs more than the best. */
export interface MadePlan {
  readonly sets: readonly [string, string, string, string];
  readonly cost: number;
  readonly more?: PairedDifference;
  readonly bestShare?: number;
}

function madePlanFigures({ sets, cost, more = made(0, 0), bestShare = 0.5 }: MadePlan): PlanFigures {
  const legs: { setup: string; months: string[]; landings: number; flightHours: number }[] = [];
  MONTHS.forEach((month, index) => {
    const last = legs[legs.length - 1];
    if (last !== undefined && last.setup === sets[index]) {
      last.months.push(month);
      last.landings += 10;
      last.flightHours += 5;
    } else legs.push({ setup: sets[index]!, months: [month], landings: 10, flightHours: 5 });
  });
  const changes = sets.filter((set, index) => set !== sets[(index + 3) % 4]).length;
  return {
    name: sets.join(', '),
    legs,
    setupOfMonth: sets,
    changes,
    money: {
      perSeason: made(cost, 10),
      perFlightHour: made(cost / 20, 0.5),
      p90: {
        estimate: 2 * cost,
        lower: 1.9 * cost,
        upper: 2.1 * cost,
        lowerRank: 80,
        upperRank: 95,
        coverage: 0.95,
      },
      worstTenth: { ...made(3 * cost), tail: 0.1, threshold: 2 * cost },
      changes: 100 * changes,
      cruise: 25,
    },
    flats: made(0.2),
    daysLost: made(1.5),
    versusBest: more,
    bestShare,
  };
}

/** Plans of one kind of airplane, the best first. */
export function madePlans(
  plans: readonly MadePlan[],
  changes: Partial<AirplanePlans> & { readonly breakEven?: Partial<BreakEven> } = {},
): AirplanePlans {
  const figures = plans.map(madePlanFigures);
  const withChanges = figures.find((each) => each.changes > 0);
  const { breakEven, ...others } = changes;
  return {
    airplane: 'bush runner',
    count: 1,
    mix: 'rough summer',
    months: MONTHS.map((month, index) => ({ month, landings: 10 * (index + 1), mayChange: true })),
    plans: figures,
    possible: figures.length,
    complete: true,
    search: `all ${figures.length} plans simulated on the same landings`,
    notToldApart: figures.filter(({ versusBest }) => versusBest.lower <= 0).map(({ name }) => name),
    breakEvens:
      withChanges === undefined
        ? []
        : figures
            .filter((each) => each.changes === 0)
            .map(({ legs }) => ({
              withChanges: withChanges.name,
              staying: legs[0]!.setup,
              saving: made(900, 100),
              otherLandings: 440,
              payFrom: { estimate: 350, lower: 300, upper: 400 },
              ...breakEven,
            })),
    ...others,
  };
}

/** Plans of a fleet. */
export function madeFleetPlan(
  airplanes: readonly AirplanePlans[],
  changes: Partial<FleetPlan> = {},
): FleetPlan {
  return {
    scenario: 'made up',
    seed: 'made',
    trials: 500,
    version: '0.1.0',
    criterion: 'cost',
    currency: 'credits',
    needs: null,
    airplanes,
    totals: {
      airplanes: airplanes.reduce((sum, { count }) => sum + count, 0),
      money: {
        perSeason: made(5000, 50),
        p90: { estimate: 7000, lower: 6800, upper: 7200, lowerRank: 440, upperRank: 460, coverage: 0.95 },
        worstTenth: { ...made(9000, 200), tail: 0.1, threshold: 7000 },
      },
      flats: made(0.3, 0.01),
      daysLost: made(2, 0.1),
    },
    ...changes,
  };
}

/** A check of a limit: 20 of at most 25 psi. */
export function madeCheck(changes: Partial<LimitCheck> = {}): LimitCheck {
  return {
    code: 'propeller clearance',
    title: 'height of the lowest point of the propeller',
    wheel: null,
    surface: null,
    binding: true,
    unit: 'm',
    bound: 'at least',
    value: 0.25,
    limit: 0.2,
    margin: 0.05,
    status: 'within',
    worlds: { p10: 0.24, p90: 0.26, shareBeyond: 0 },
    season: [],
    needs: [],
    source: 'a source',
    caution: null,
    ...changes,
  };
}

/** A check that is beyond its limit by as much as stated, N of at most 300. */
export function madeBeyond(overN: number, changes: Partial<LimitCheck> = {}): LimitCheck {
  return madeCheck({
    code: 'push by hand',
    title: 'force to push',
    surface: 'paved',
    unit: 'N',
    bound: 'at most',
    value: 300 + overN,
    limit: 300,
    margin: -overN,
    status: 'beyond',
    worlds: null,
    ...changes,
  });
}

/** A check for which something is missing. */
export const UNKNOWN_CHECK: LimitCheck = madeCheck({
  code: 'tail angle',
  unit: 'rad',
  value: null,
  limit: null,
  margin: null,
  status: 'not checked',
  worlds: null,
  needs: ['airplanes.mine.geometry.tailBehind'],
});

/** Limits of one set-up. */
export function madeLimits(setup: string, checks: readonly LimitCheck[]): SetupLimits {
  return {
    setup,
    mainTire: 'a tire',
    thirdTire: 'another tire',
    mainColdPa: 172_369,
    thirdColdPa: 172_369,
    seasonPressures: null,
    checks,
    figures: [],
    cautions: [],
  };
}

/** A set-up in a comparison: its mean, and how far it is behind the best. */
export interface MadeStanding {
  readonly setup: string;
  readonly mean: number;
  readonly behind?: PairedDifference;
}

/** A comparison by one criterion, the best first. */
export function madeBest(
  mix: string,
  standings: readonly MadeStanding[],
  verdict: Partial<Verdict> = {},
  changes: Partial<BestSetup> = {},
): BestSetup {
  const share = { estimate: 0.5, standardError: 0.01 };
  return {
    priced: true,
    mix,
    criterion: 'costPerHour',
    unit: 'credits per flight hour',
    better: 'less',
    trials: 500,
    indifference: 1,
    setups: standings.map(({ setup, mean, behind }, index): SetupStanding => ({
      setup,
      rank: index + 1,
      mean: made(mean, 0.5),
      behindBest: index === 0 ? null : (behind ?? made(mean - standings[0]!.mean, 0.1)),
      chanceBestOnAverage: index === 0 ? 1 : 0,
      shareOfWorldsBest: share,
      shareOfTrialsBest: made(0.5, 0.01),
      regret: { numerical: 0, ignorance: { ...share, atLeast: null, atMost: null }, hindsight: share },
    })),
    doubtOfLead: null,
    verdict: {
      kind: 'settled',
      text: `Settled on ${mix}.`,
      best: standings[0]!.setup,
      equal: [],
      open: [],
      moreTrials: null,
      measure: null,
      ...verdict,
    },
    ...changes,
  };
}

/** A comparison on a mix by what was asked for. */
export function madeComparison(mix: string, best: MixComparison['best']): MixComparison {
  return { mix, trials: 500, setups: [], currency: 'credits', differences: [], best };
}

/** One of the criteria, for tests that go through all. */
export const EACH_CRITERION: readonly Criterion[] = ['life', 'flats', 'costPerHour', 'daysLost'];

/** An item to keep so many of. */
export function madeItem(stock: number, changes: Partial<SpareStock> = {}): SpareStock {
  const step = (units: number): SpareStock['steps'][number] => {
    const estimate = Math.min(1, 0.96 ** (stock - units));
    return {
      stock: units,
      service: { estimate, lower: estimate - 0.02, upper: Math.min(1, estimate + 0.02) },
      filledAtOnce: estimate,
      unitsAwaited: 1 - estimate,
    };
  };
  return {
    ...step(stock),
    base: 'base',
    kind: 'tire',
    tire: 'rigid 29',
    fittedTo: ['main'],
    demandPerSeason: { estimate: 0.7 * stock, standardError: 0.1 },
    varianceToMean: 1.4,
    stockRange: { lower: stock, upper: stock + 1 },
    steps: Array.from({ length: stock + 3 }, (_, units) => step(units)),
    ifWorldsDiffered: { stock, service: step(stock).service, varianceToMean: 1.2 },
    ifPoisson: {
      stock: Math.max(0, stock - 1),
      service: step(Math.max(0, stock - 1)).service,
      varianceToMean: 1,
    },
    ...changes,
  };
}

/** Airplanes on one set-up, and their stock. */
export function madeStock(
  items: readonly SpareStock[],
  setup = 'rigid 29',
  plan: Partial<SparesPlan> = {},
): SparesCase {
  return {
    airplanes: [{ airplane: 'bush runner', count: 3, setup, mix: 'gravel' }],
    spares: {
      serviceLevel: 0.95,
      leadTimeDays: null,
      worlds: 500,
      airplanes: 3,
      airplanesAt: { base: 3 },
      items,
      notes: ['A note.'],
      ...plan,
    },
  };
}
