/** What to measure next: the most valuable assumptions, with the work that would tell them. */
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import { naturalGroupOf, workOnGroup } from './natural-groups.js';
import { possibleReadings } from './proposed-readings.js';
import { valueOfReadings } from './value-of-readings.js';
import type { InformationOnInput, MeasuringVerdict, ValueOfInformation } from './voi-types.js';
import type { MeasuringAdvice, ReadingsProposal } from './what-matters-types.js';

const MOST_ADVICE = 3;

/**
 * Picks what is worth measuring, most valuable first.
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
  return wanted.slice(0, MOST_ADVICE).map((input) => ({
    ...input,
    group: groupOf(input),
    work: workOnGroup(nameOfGroup(input)),
    readings: input.paths.length === 1 ? readingsOf(scenario, simulation, input.input, each) : [],
  }));
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
