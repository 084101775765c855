import type { IntervalEstimate } from '../../lib/estimate/interval.js';
import type { Criterion } from '../../lib/decide/criteria.js';
import type { DrivenFigure } from '../../lib/sensitivity/figures.js';
import type { IndexEstimate, IndexVerdictKind, InputIndices } from '../../lib/sensitivity/index-types.js';
import type { OneAssumption, OneAtATimeStudy } from '../../lib/sensitivity/one-at-a-time-types.js';
import type { ChoiceThreshold } from '../../lib/sensitivity/threshold-types.js';
import type { VarianceStudy } from '../../lib/sensitivity/variance-types.js';
import type { InformationOnInput, ValueOfInformation } from '../../lib/sensitivity/voi-types.js';
import { made } from './made-decisions.js';

const ORIGIN = {
  version: '0.2.0',
  seed: 'made',
  scenarioHash: '0'.repeat(64),
  mix: 'gravel',
  level: 0.95,
  trials: 200,
  landings: 100_000,
} as const;

/** Places of assumptions that exist, and one that belongs to a user's own surface. */
export const MADE_PATHS = [
  'assumptions.abradability',
  'surfaces.gravel.sharpStones',
  'sidewalls.rigid.squirmShare',
  'habits.sinkRate',
] as const;

/** An assumption moved by itself, and what that does to the figure of each set-up. */
export interface MadeEffect {
  readonly path: string;
  /** Mean of the figure at its low and at its high value; the same for every set-up. */
  readonly low: number;
  readonly high: number;
  /** Standard error of the change. */
  readonly error?: number;
  readonly flips?: 'no' | 'perhaps' | 'yes';
}

/** A study of one assumption at a time, of one figure of all set-ups. */
export function madeEffects(
  effects: readonly MadeEffect[],
  changes: Partial<OneAtATimeStudy> = {},
  base = 500,
): OneAtATimeStudy {
  const { setups = ['soft', 'rigid'], figures = ['life'] } = changes;
  const figure = figures[0]!;
  const assumptions = effects.map(({ path, low, high, error = 1, flips = 'no' }): OneAssumption => ({
    path,
    lowSi: 1e-5,
    highSi: 3e-4,
    fittedWithOthers: false,
    seen: low !== high,
    effects: setups.map((setup) => ({
      setup,
      figure,
      unit: unitOf(figure),
      atLow: made(low, 5),
      atHigh: made(high, 5),
      change: made(high - low, low === high ? 0 : error),
      changeShare: (high - low) / base,
    })),
    rankings:
      setups.length < 2 || figure === 'flatChance'
        ? []
        : [
            {
              criterion: figure,
              orderAtLow: setups,
              orderAtHigh: flips === 'no' ? setups : [...setups].reverse(),
              choiceFlips: flips,
              ahead: setups[0]!,
              behind: setups[1]!,
              leadAtLow: made(5, 1),
              leadAtHigh: made(flips === 'no' ? 5 : -5, 1),
              leadChange: made(flips === 'no' ? 0 : -10, 1),
            },
          ],
    largestChangeShare: Math.abs(high - low) / base,
  }));
  return {
    ...ORIGIN,
    kind: 'one at a time',
    setups,
    figures,
    notPriced: null,
    complete: true,
    base: setups.map((setup, place) => ({ setup, figure, mean: made(base - 10 * place, 5) })),
    assumptions,
    ...changes,
  };
}

function unitOf(figure: DrivenFigure): string {
  return {
    life: 'h',
    flatChance: 'chance in a season',
    flats: 'flats per season',
    costPerHour: 'credits per flight hour',
    daysLost: 'days per season',
  }[figure];
}

/** A share with an interval of so much to both sides, within 0 to 1. */
function share(estimate: number, reach: number): IndexEstimate {
  return {
    estimate,
    lower: Math.max(0, estimate - reach),
    upper: Math.min(1, estimate + reach),
    unclipped: estimate,
  };
}

/** An input of a variance study. */
export interface MadeIndex {
  readonly input: string;
  readonly paths?: readonly string[];
  readonly total: number;
  readonly reach?: number;
  readonly first?: number;
  readonly verdict?: IndexVerdictKind;
  readonly rowsNeeded?: number | null;
}

/** A variance study of one figure. */
export function madeIndices(
  inputs: readonly MadeIndex[],
  about: Partial<VarianceStudy['figures'][number]> = {},
  variance = 100,
): VarianceStudy {
  const indices = inputs.map(
    ({ input, total, reach = 0.05, first, verdict, rowsNeeded = null }): InputIndices => {
      const kind = verdict ?? (total - reach > 0.05 ? 'matters' : 'too small to see');
      return {
        input,
        total: share(total, reach),
        firstOrder: share(first ?? 0.8 * total, reach),
        verdict: { kind, rowsNeeded, text: `Made: ${kind}.` },
      };
    },
  );
  const { level, ...origin } = ORIGIN;
  return {
    ...origin,
    kind: 'variance',
    setups: ['soft', 'rigid'],
    notPriced: null,
    rows: 64,
    complete: true,
    inputs: inputs.map(({ input, paths = [input] }) => ({ name: input, paths })),
    figures: [
      {
        setup: 'soft',
        versus: null,
        figure: 'life',
        unit: 'h',
        indices: {
          mean: 500,
          variance,
          rows: 64,
          evaluations: 640,
          level,
          smallShare: 0.05,
          inputs: indices,
        },
        ignorance: share(0.8, 0.1),
        matters: indices.filter(({ verdict }) => verdict.kind === 'matters').map(({ input }) => input),
        text: 'Made.',
        ...about,
      },
    ],
  };
}

/** Means of set-ups along an assumption, at probabilities 0.01, 0.1, 0.5, 0.9 and 0.99. */
export function madeThreshold(
  lines: Readonly<Record<string, readonly number[]>>,
  changes: Partial<ChoiceThreshold> = {},
  valuesSi: readonly number[] = [1e-5, 3e-5, 1e-4, 3e-4, 1e-3],
): ChoiceThreshold {
  const probabilities = [0.01, 0.1, 0.5, 0.9, 0.99];
  const setups = Object.keys(lines);
  return {
    ...ORIGIN,
    kind: 'threshold',
    assumption: 'surfaces.gravel.sharpStones',
    criterion: 'costPerHour',
    unit: 'credits per flight hour',
    better: 'less',
    points: probabilities.map((probability, at) => ({
      probability,
      valueSi: valuesSi[at]!,
      means: setups.map((setup) => ({ setup, mean: made(lines[setup]![at]!, 0.1) })),
      best: setups.reduce((best, setup) => (lines[setup]![at]! < lines[best]![at]! ? setup : best)),
    })),
    flips: [],
    text: 'Made.',
    ...changes,
  };
}

/** An input with a value of knowing it; null: too few trials. */
export interface MadeValue extends Partial<Omit<InformationOnInput, 'value'>> {
  readonly input: string;
  readonly value: readonly [estimate: number, lower: number, upper: number] | null;
}

/** Values of information by one criterion, in the order given. */
export function madeInformation(
  inputs: readonly MadeValue[],
  changes: Partial<ValueOfInformation> = {},
): ValueOfInformation {
  const estimateOf = ([estimate, lower, upper]: readonly [number, number, number]): IntervalEstimate => ({
    estimate,
    lower,
    upper,
  });
  const criterion: Criterion = 'costPerHour';
  return {
    ...ORIGIN,
    kind: 'value of information',
    criterion,
    unit: 'credits per season',
    best: 'soft',
    setups: ['soft', 'rigid'],
    perfect: { estimate: 300, lower: 200, upper: 400, atLeast: 100, atMost: 500 },
    inputs: inputs.map(({ input, value, ...more }): InformationOnInput => ({
      input,
      paths: [input],
      value: value === null ? null : estimateOf(value),
      atLeast: value === null ? null : made(value[0] / 2, 1),
      shareOtherChoice: value === null ? null : 0.2,
      avoidedFlats: value === null ? null : made(0.01, 0.002),
      verdict: value === null ? 'too few trials' : value[1] > 0 ? 'worth measuring' : 'no value seen',
      ...more,
    })),
    advice: 'Made.',
    ...changes,
  };
}
