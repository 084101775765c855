/** What to measure next: the most valuable assumptions, with the work that would tell them. */
import type { IntervalEstimate } from '../estimate/interval.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import { naturalGroupOf, workOnGroup } from './natural-groups.js';
import { possibleReadings } from './proposed-readings.js';
import { valueOfReadings } from './value-of-readings.js';
import type { InformationOnInput, MeasuringVerdict, ValueOfInformation } from './voi-types.js';
import type { MeasuringAdvice, ReadingsProposal } from './what-matters-types.js';

const MOST_ADVICE = 3;
/** Readings are valued of so many: what is worth most to know need not be worth most to read. */
const MOST_VALUED = 8;

/**
 * Picks what is worth measuring: what is proved to be so first, and the most valuable first among those, by the readings
 * that could be taken where some are known, else by knowing it.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @param each value of knowing each assumption by itself.
 * @param groups value of knowing natural groups.
 * @returns three at most; empty if nothing is seen to be worth measuring.
 */
export function measuringAdvice(
  scenario: CompiledScenario,
  simulation: Simulation,
  each: ValueOfInformation,
  groups: ValueOfInformation,
): MeasuringAdvice[] {
  const judged = (inputs: readonly InformationOnInput[], verdict: MeasuringVerdict): InformationOnInput[] =>
    inputs.filter((input) => input.verdict === verdict);
  const nameOfGroup = ({ input, paths }: InformationOnInput): string =>
    paths.length === 1 && paths[0] === input ? naturalGroupOf(input) : input;
  const groupOf = (input: InformationOnInput): InformationOnInput | null => {
    const group = groups.inputs.find((each) => each.input === nameOfGroup(input)) ?? null;
    return group?.input === input.input ? null : group;
  };
  const proved = judged(each.inputs, 'worth measuring');
  // Together assumptions may be proved to be worth something where none is by itself.
  const wanted =
    proved.length > 0
      ? [...proved, ...judged(each.inputs, 'perhaps')]
      : [
          ...judged(groups.inputs, 'worth measuring'),
          ...judged(each.inputs, 'perhaps'),
          ...judged(groups.inputs, 'perhaps'),
        ];
  const valued = wanted.slice(0, MOST_VALUED).map((input) => ({
    ...input,
    group: groupOf(input),
    work: workOnGroup(nameOfGroup(input)),
    readings: input.paths.length === 1 ? readingsOf(scenario, simulation, input.input, each) : [],
  }));
  const proof = ({ verdict }: MeasuringAdvice): number => (verdict === 'worth measuring' ? 0 : 1);
  const worth = (advice: MeasuringAdvice): number => worthOfMeasuring(advice)?.estimate ?? 0;
  return valued
    .sort((one, other) => proof(one) - proof(other) || worth(other) - worth(one))
    .slice(0, MOST_ADVICE);
}

/** Worth of the best of the readings that could be taken; of knowing it where none are known. */
export function worthOfMeasuring({
  readings,
  value,
}: Pick<MeasuringAdvice, 'readings' | 'value'>): IntervalEstimate | null {
  if (readings.length === 0) return value;
  return readings
    .map((reading): IntervalEstimate => reading.value.value)
    .reduce((most, each) => (each.estimate > most.estimate ? each : most));
}

function readingsOf(
  scenario: CompiledScenario,
  simulation: Simulation,
  path: string,
  { mix, criterion, level, best }: ValueOfInformation,
): ReadingsProposal[] {
  const trials = simulation.pairings.find((pairing) => pairing.setup === best && pairing.mix === mix)!;
  return possibleReadings(scenario, path, trials).map(({ text, readings, errorShare }) => ({
    text,
    value: valueOfReadings(scenario, simulation, {
      assumption: path,
      readings,
      errorShare,
      mix,
      criterion,
      level,
    }),
  }));
}
