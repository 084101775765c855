import { DAYS_PER_YEAR } from './scenario/calendar.js';
import type { CompiledScenario } from './scenario/compile.js';
import type { PairingSummary } from './estimate/summary.js';
import { STANDARD_GRAVITY_MPS2 } from './models/atmosphere.js';
import { DEEPEST_REST_DEFLECTION_SHARE, tireDeflectionM } from './models/loaded-height.js';
import { mainWheelMassKg, thirdWheelMassKg } from './models/wheel-loads.js';
import { medianWorld } from './simulate/world.js';

/** Something a reader must know before acting on a result. */
export interface Caution {
  /** Short stable name. */
  readonly code: string;
  readonly message: string;
}

/** Fewest trials for figures worth quoting: at this number a tenth percentile rests on forty trials. */
const FEW_TRIALS = 400;
const SEEN_EVENTS = 10;
/** Share of wet paved landings above the hydroplaning speed that is worth a caution. */
const OFTEN = 0.5;

/** Who decides, whatever a figure says. */
export const AUTHORITY: Caution = {
  code: 'authority',
  message:
    'For comparison only. Approved data, rated loads and speeds, the maintenance manual and a licensed mechanic ' +
    'decide what may be fitted and when a tire comes off; local rules apply.',
};

/** What the figures of a simulation rest on. */
export const ASSUMED: Caution = {
  code: 'assumed',
  message:
    'Wear, cut and leak rates are assumptions, most of them unmeasured; their sources stand in the scenario. ' +
    'Fit them to your own records before you rely on a number.',
};

/** What fitted numbers are good for. */
export const FITTED: Caution = {
  code: 'fitted',
  message:
    'Fitted numbers hold for tires, strips, airplanes and habits like those of the records. They rest on this model: what it ' +
    'leaves out, they have taken up. All airplanes of the records count as that of the scenario.',
};

/** The same as {@link ASSUMED} where some numbers are fitted. */
export const REST_ASSUMED: Caution = {
  code: 'assumed',
  message:
    'Wear, cut and leak rates that are not fitted to records are assumptions, most of them unmeasured; their sources stand in ' +
    'the scenario.',
};

/**
 * What the figures rest on: assumptions, or a fit with what stands against it and assumptions for the rest.
 *
 * @param scenario the compiled scenario.
 */
export function basisCautions({ fitted }: Pick<CompiledScenario, 'fitted'>): Caution[] {
  if (fitted === undefined) return [ASSUMED];
  const { indices, source, note } = fitted;
  const count = `${indices.length} ${indices.length === 1 ? 'assumption is' : 'assumptions are'} taken from records`;
  const message = [`${count}: ${source}.`, ...(note === undefined ? [] : [note]), FITTED.message].join(' ');
  return [{ code: FITTED.code, message }, REST_ASSUMED];
}

/**
 * Cautions that go with a result.
 *
 * @param scenario the compiled scenario.
 * @param pairings its estimates.
 * @param trials number of trials.
 * @param complete false if the run was stopped early.
 */
export function cautionsFor(
  scenario: CompiledScenario,
  pairings: readonly PairingSummary[],
  trials: number,
  complete: boolean,
): Caution[] {
  const cautions: Caution[] = [
    ...ratingCautions(scenario),
    ...hydroplaningCautions(pairings),
    AUTHORITY,
    ...basisCautions(scenario),
  ];
  if (!complete) {
    cautions.push({
      code: 'stopped early',
      message: `The run was stopped; figures rest on the first ${trials} trials.`,
    });
  }
  if (trials < FEW_TRIALS) {
    cautions.push({
      code: 'few trials',
      message: `Only ${trials} trials: read the Monte Carlo intervals, and run at least ${FEW_TRIALS} to compare.`,
    });
  }
  const open = pairings.filter(({ life }) => life.beyondHorizon > 0);
  if (open.length > 0) {
    const worst = open.reduce((a, b) => (a.life.beyondHorizon > b.life.beyondHorizon ? a : b));
    cautions.push({
      code: 'beyond horizon',
      message:
        `Some tires outlast the horizon of ${Math.round(scenario.horizonDays / DAYS_PER_YEAR)} years (${percent(worst.life.beyondHorizon)} of ` +
        `${worst.setup} on ${worst.mix}); their mean life is a lower bound.`,
    });
  }
  const unseen = pairings.filter(({ puncture }) => puncture.season.counted.events < SEEN_EVENTS);
  if (unseen.length > 0) {
    cautions.push({
      code: 'rare flats',
      message:
        `In ${unseen.length} of ${pairings.length} pairings fewer than ${SEEN_EVENTS} seasons had a flat; their chances ` +
        'rest on accumulated hazard, that is on the assumed distribution of bite depths.',
    });
  }
  return cautions;
}

/** Set-ups whose main tires can ride up on water at nearly any touchdown. */
function hydroplaningCautions(pairings: readonly PairingSummary[]): Caution[] {
  const setups = new Set(
    pairings.filter(({ season }) => season.hydroplaning.estimate > OFTEN).map(({ setup }) => setup),
  );
  if (setups.size === 0) return [];
  const message =
    `${[...setups].join(', ')}: most touchdowns on wet pavement are above the hydroplaning speed of a main tire ` +
    '(7.7 times the square root of the pressure in psi, in knots), were the runway flooded.';
  return [{ code: 'hydroplaning', message }];
}

/** Set-ups that go beyond what their tires are rated for: nothing here approves them. */
function ratingCautions(scenario: CompiledScenario): Caution[] {
  const world = medianWorld(scenario);
  const massKg = world[scenario.airplane.landingMass]!;
  const thirdShare = world[scenario.airplane.thirdWheelLoadShare]!;
  const cautions: Caution[] = [];
  for (const { name, main, mainPa, third, thirdPa } of scenario.setups) {
    const wheels = [
      { tire: main, pressurePa: mainPa, loadKg: mainWheelMassKg(massKg, thirdShare) },
      { tire: third, pressurePa: thirdPa, loadKg: thirdWheelMassKg(massKg, thirdShare) },
    ];
    for (const { tire, pressurePa, loadKg } of wheels) {
      if (pressurePa > tire.ratedPa) {
        const message = `${name}: the cold pressure is above the rated pressure of ${tire.name}.`;
        cautions.push({ code: 'above rated pressure', message });
      }
      const deflected =
        tireDeflectionM(loadKg * STANDARD_GRAVITY_MPS2, pressurePa, tire) / tire.freeSectionHeightM;
      if (deflected > DEEPEST_REST_DEFLECTION_SHARE) {
        const message = `${name}: ${tire.name} sinks ${Math.round(100 * deflected)} % of its height above the rim at rest; the pressure is too low for the load.`;
        cautions.push({ code: 'deep deflection', message });
      }
      if (loadKg > tire.ratedLoadKg) {
        const message = `${name}: ${tire.name} carries ${weight(loadKg)} at rest, more than its rated load of ${weight(tire.ratedLoadKg)}.`;
        cautions.push({ code: 'above rated load', message });
      }
    }
  }
  return cautions;
}

function percent(share: number): string {
  return `${(100 * share).toFixed(share < 0.01 ? 2 : 0)} %`;
}

function weight(massKg: number): string {
  return `${Math.round(massKg / 0.45359237)} lb (${Math.round(massKg)} kg)`;
}
