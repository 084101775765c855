import type { BestOptions } from '../decide/best-types.js';
import type { IgnoranceRegret } from '../decide/in-worlds.js';
import { openContest, worldStandings, type Contest } from '../decide/contest.js';
import {
  CRITERIA,
  type Criterion,
  type MixTrials,
  seasonFactor,
  trialsOnMix,
  whatIsUnpriced,
} from '../decide/criteria.js';
import { DEFAULT_LEVEL, normalMultiplier, type IntervalEstimate } from '../estimate/interval.js';
import { UsageError, properShare } from '../problems.js';
import { scenarioHash } from '../run.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import type { WorldSource } from '../simulate/world.js';
import { version } from '../version.js';
import { indexOfAssumption } from './doubted.js';
import { LEAST_SAMPLE } from './given-data.js';
import { inputWords } from './input-words.js';
import { partialValue, type TrialChoice } from './partial-value.js';
import { StudyInputs, type AssumptionGrouping } from './study-inputs.js';
import { valuesInTrials } from './trial-inputs.js';
import type { InformationOnInput, MeasuringVerdict, ValueOfInformation } from './voi-types.js';

/** Options of {@link valueOfInformation}. */
export interface InformationOptions {
  /** Name of the runway mix. */
  readonly mix: string;
  readonly criterion: Criterion;
  /** How assumptions are taken together; default each by itself. */
  readonly groups?: AssumptionGrouping | undefined;
  /**
   * Places of the assumptions to look at; inputs without one of them are left out, so that the bounds need not be
   * shared out among them. Default: all in doubt.
   */
  readonly assumptions?: readonly string[] | undefined;
  /** Two-sided level of the intervals, default 0.95. */
  readonly level?: number | undefined;
  /** Where the worlds of the run came from; default: drawn from the scenario. */
  readonly worlds?: WorldSource | undefined;
}

/**
 * What it is worth to know more before choosing a set-up, from trials that have been run.
 *
 * Value of all: what choosing world by world would gain over one choice for all, luck taken out by means of twins.
 * Value of one assumption or group: what choosing by it alone would gain. Values of parts do not add up. A value of 0
 * for each does not rule out that two together have one. Money and days are those of a season of one airplane.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results: at least two set-ups on the mix, at least 100 trials.
 * @param options mix, criterion, groups.
 * @returns values with intervals, most valuable first, and advice.
 * @throws UsageError for names that do not exist, missing prices, another seed or too few trials.
 * Source: Raiffa and Schlaifer, Applied Statistical Decision Theory (1961); partial values, see partialValue; both from
 *   memory.
 */
export function valueOfInformation(
  scenario: CompiledScenario,
  simulation: Simulation,
  options: InformationOptions,
): ValueOfInformation {
  const { mix, criterion, level = DEFAULT_LEVEL } = options;
  properShare('level', level);
  const { onMix, contest, choice, unit, perSeason } = openChoice(scenario, simulation, mix, criterion);
  const wanted = options.assumptions;
  for (const path of wanted ?? []) indexOfAssumption(scenario, path);
  const units = new StudyInputs(scenario, null)
    .units(options.groups ?? 'each')
    .filter((each) => wanted === undefined || each.paths.some((path) => wanted.includes(path)));
  const paths = units.flatMap((each) => each.paths);
  const indices = paths.map((path) =>
    scenario.assumptions.findIndex((assumption) => assumption.path === path),
  );
  const values = valuesInTrials(scenario, simulation, indices, options.worlds);
  const flats = onMix.trials.map(({ columns }) => columns.flatsHazard);
  const inputs = units.map(({ name, paths: own }): InformationOnInput => {
    const columns = own.map((path) => values[paths.indexOf(path)]!);
    const found = partialValue(choice, columns, [flats], level, 1 - (1 - level) / Math.max(1, units.length));
    const about = { input: name, paths: own };
    if (found === null) {
      return {
        ...about,
        value: null,
        atLeast: null,
        shareOtherChoice: null,
        avoidedFlats: null,
        verdict: 'too few trials',
      };
    }
    const { value, atLeast, shareOtherChoice, side } = found;
    return {
      ...about,
      value,
      atLeast,
      shareOtherChoice,
      avoidedFlats: side[0]!,
      verdict: verdictOf(value, atLeast.lower),
    };
  });
  const order: readonly MeasuringVerdict[] = [
    'worth measuring',
    'perhaps',
    'no value seen',
    'too few trials',
  ];
  const ranked = [...inputs].sort(
    (one, other) =>
      order.indexOf(one.verdict) - order.indexOf(other.verdict) ||
      (other.value?.estimate ?? 0) - (one.value?.estimate ?? 0),
  );
  const regret = worldStandings(contest, onMix, criterion, undefined)?.[contest.best]?.regret ?? null;
  const perfect = atLeastAsPartial(perfectFromRegret(regret, perSeason, level), ranked);
  const best = onMix.setups[contest.best]!;
  return {
    kind: 'value of information',
    version: version(),
    seed: simulation.seed,
    scenarioHash: scenarioHash(scenario),
    mix,
    criterion,
    unit,
    trials: simulation.trials,
    level,
    best,
    setups: onMix.setups,
    perfect,
    inputs: ranked,
    advice: adviceText(ranked, perfect, best, unit),
  };
}

/** A choice on a mix by a criterion, per season where that has a meaning. */
export interface OpenChoice {
  readonly onMix: MixTrials;
  readonly contest: Contest;
  readonly choice: TrialChoice;
  readonly unit: string;
  /** Factor from the figures of the contest. */
  readonly perSeason: number;
}

/**
 * Gathers the gains of a choice.
 *
 * @throws UsageError for names that do not exist, missing prices, another seed or too few trials.
 */
export function openChoice(
  scenario: CompiledScenario,
  simulation: Simulation,
  mix: string,
  criterion: Criterion,
): OpenChoice {
  if (!CRITERIA.includes(criterion)) {
    throw new UsageError(`there is no criterion named "${criterion}"; there are: ${CRITERIA.join(', ')}`);
  }
  if (simulation.trials < LEAST_SAMPLE) {
    throw new UsageError(`there are ${simulation.trials} trials; values need at least ${LEAST_SAMPLE}`);
  }
  const onMix = trialsOnMix(scenario, simulation, mix);
  const unpriced = criterion === 'costPerHour' ? whatIsUnpriced(scenario, onMix.setups) : null;
  if (unpriced !== null) throw new UsageError(unpriced.needs);
  const contest = openContest(scenario, onMix, criterion);
  const perSeason = seasonFactor(scenario, criterion);
  return {
    onMix,
    contest,
    choice: {
      gains: contest.gains.map((column) => column.map((gain) => gain * perSeason)),
      best: contest.best,
    },
    unit: criterion === 'costPerHour' ? `${scenario.costs!.currency} per season` : contest.unit,
    perSeason,
  };
}

/** Value of knowing the world, from the regret of the best set-up. */
export function perfectFromRegret(
  regret: IgnoranceRegret | null,
  perSeason: number,
  level: number,
): ValueOfInformation['perfect'] {
  if (regret === null) return null;
  const { estimate, standardError, atLeast, atMost } = regret;
  const reach = normalMultiplier(level) * standardError;
  return withinBounds({
    estimate: perSeason * Math.max(0, estimate),
    lower: perSeason * Math.max(0, estimate - reach),
    upper: perSeason * Math.max(0, estimate + reach),
    atLeast: atLeast === null ? null : perSeason * atLeast.estimate,
    atMost: atMost === null ? null : perSeason * atMost.estimate,
  });
}

/** The bounds are estimates too: by chance they may lie on the wrong side of the value, and are then moved to it. */
function withinBounds(perfect: NonNullable<ValueOfInformation['perfect']>): ValueOfInformation['perfect'] {
  const { estimate, atLeast, atMost } = perfect;
  return {
    ...perfect,
    atLeast: atLeast === null ? null : Math.max(0, Math.min(atLeast, estimate)),
    atMost: atMost === null ? null : Math.max(atMost, estimate),
  };
}

/** Knowing all is worth at least as much as knowing a part: the model of luck may miss what a fit sees. */
function atLeastAsPartial(
  perfect: ValueOfInformation['perfect'],
  inputs: readonly InformationOnInput[],
): ValueOfInformation['perfect'] {
  if (perfect === null) return null;
  const seen = inputs.flatMap(({ value }) => (value !== null && value.lower > 0 ? [value] : []));
  return withinBounds({
    ...perfect,
    estimate: Math.max(perfect.estimate, ...seen.map(({ estimate }) => estimate)),
    upper: Math.max(perfect.upper, ...seen.map(({ upper }) => upper)),
  });
}

function verdictOf(value: IntervalEstimate, lowerBound: number): MeasuringVerdict {
  if (lowerBound > 0) return 'worth measuring';
  return value.lower > 0 ? 'perhaps' : 'no value seen';
}

function adviceText(
  ranked: readonly InformationOnInput[],
  perfect: ValueOfInformation['perfect'],
  best: string,
  unit: string,
): string {
  const [first] = ranked;
  const all =
    perfect === null ? '' : ` Knowing everything would be worth ${figure(perfect.estimate)} ${unit}.`;
  if (first?.verdict === 'worth measuring' && first.value !== null) {
    return `Measure ${measureText(first, unit)}.${all}`;
  }
  if (first?.verdict === 'perhaps' && first.value !== null) {
    return `No single measurement is proved to be worth something yet; the first to look at is ${measureText(first, unit)}. More trials would tell.${all}`;
  }
  return `Choose "${best}": no single measurement is seen to change the choice.${all}`;
}

function measureText({ input, paths, value }: InformationOnInput, unit: string): string {
  return `${inputWords(input, paths)} (knowing it is worth ${figure(value!.estimate)} ${unit}, ${figure(value!.lower)} to ${figure(value!.upper)})`;
}

function figure(value: number): string {
  return String(Number(value.toPrecision(2)));
}

/**
 * Answers the question what to measure, asked where a comparison finds that ignorance decides.
 *
 * @param studies values of information, one for each mix and criterion that may be asked about.
 * @returns for the option `whatToMeasure` of bestSetup: the most valuable input of the fitting study, or null.
 */
export function whatToMeasureFrom(
  studies: readonly ValueOfInformation[],
): NonNullable<BestOptions['whatToMeasure']> {
  return ({ mix, criterion }) => {
    const study = studies.find((each) => each.mix === mix && each.criterion === criterion);
    const first = study?.inputs[0];
    if (study === undefined || first === undefined || first.value === null) return null;
    if (first.verdict === 'no value seen') return null;
    return measureText(first, study.unit);
  };
}
