import { assumptionEffectsChart } from '../chart/assumption-effects.js';
import { choiceThresholdChart } from '../chart/choice-threshold.js';
import { indexDotsChart } from '../chart/index-dots.js';
import { anyValue, informationValueChart } from '../chart/information-value.js';
import type { ChartSpec } from '../chart/spec.js';
import type { Criterion } from '../decide/criteria.js';
import { driversScreen } from '../present/drivers-screen.js';
import { driversText } from '../present/drivers-text.js';
import { UsageError } from '../problems.js';
import { compileScenario, type CompiledScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { leadDrivers } from '../sensitivity/deciders.js';
import { StoppedStudyError } from '../sensitivity/stopped.js';
import { whatMatters } from '../sensitivity/what-matters.js';
import type { WhatMatters } from '../sensitivity/what-matters-types.js';
import { answerQuestion, seeded, type Decision, type DecisionOptions } from './decision.js';

/** Pictures of what matters. */
export const DRIVER_PICTURES = [
  'value',
  'effects',
  'shares',
  'threshold-1',
  'threshold-2',
  'threshold-3',
] as const;
/** One of {@link DRIVER_PICTURES}. */
export type DriverPicture = (typeof DRIVER_PICTURES)[number];

/** Options of `gravelbar drivers`. */
export interface DriversCommandOptions extends DecisionOptions {
  readonly mix?: string;
  readonly by?: Criterion;
  readonly setup?: readonly string[];
  readonly rows?: number;
  readonly details?: boolean;
  /** What `--chart` draws. */
  readonly picture?: readonly DriverPicture[];
}

/**
 * `gravelbar drivers FILE`: which assumptions decide between set-ups, how safe the choice is, and what to measure next.
 *
 * @param scenario the scenario of the file.
 * @param options from the command line.
 * @param signal stops the work; what is finished is then told.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export function driversCommand(
  scenario: Scenario,
  options: DriversCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  const { picture: asked = [], chart, out, details, json } = options;
  if (asked.length > 0 && chart === undefined) {
    const all = out === undefined ? '' : '; --out keeps every picture without it';
    throw new UsageError(`--picture says what --chart draws: add --chart FILE${all}`);
  }
  if (details === true && json === true) {
    throw new UsageError('--details belongs to the text and --json replaces it: leave one of them out');
  }
  const compiled = compileScenario(seeded(scenario, options));
  refuseUnknownSetups(compiled, options.setup ?? []);
  return answerQuestion(
    'drivers',
    options,
    signal,
    async (following) => {
      const { mix, by, setup, trials, rows, workers } = options;
      try {
        const study = await whatMatters(compiled, {
          mix,
          criterion: by,
          setups: setup,
          trials,
          rows,
          workers,
          ...following,
        });
        return decisionOf(study, options);
      } catch (error) {
        if (!(error instanceof StoppedStudyError) || error.partial?.kind !== 'what matters') throw error;
        return {
          ...decisionOf(error.partial, options),
          stopped: `${error.message}; the answer is that of these`,
        };
      }
    },
    { names: DRIVER_PICTURES, asked },
  );
}

/** Names that are no more than a part of a set-up's are too far from it for a slip of the pen, but not for a person. */
function refuseUnknownSetups({ setups }: CompiledScenario, wanted: readonly string[]): void {
  const names = setups.map(({ name }) => name);
  for (const name of wanted) {
    if (names.includes(name)) continue;
    const found = names.filter((each) => each.toLowerCase().includes(name.toLowerCase()));
    if (name === '' || found.length === 0) continue;
    const meant = found.map((each) => `"${each}"`).join(' or ');
    throw new UsageError(`there is no set-up named "${name}"; did you mean ${meant}?`);
  }
}

function decisionOf(study: WhatMatters, { details }: DriversCommandOptions): Decision {
  const pictures = Object.fromEntries(DRIVER_PICTURES.map((name) => [name, () => drawn(study, name)]));
  const hasValue = anyValue(study.information, study.groupInformation);
  const shares = hasValue ? null : drawn(study, 'shares');
  return {
    result: study,
    text: driversText(study),
    printed: details === true ? driversText(study) : `${driversScreen(study)}\n${HINT}`,
    chart: () => shares ?? valueChart(study),
    ...(shares === null
      ? {}
      : { aboutChart: 'nothing is seen to be worth measuring, so that --chart drew shares' }),
    pictures,
  };
}

const HINT =
  '--details prints the tables too, --mix NAME looks at another mix, --out FOLDER keeps all of it.';

function valueChart({ information, groupInformation }: WhatMatters): ChartSpec {
  return informationValueChart(information, { groups: groupInformation });
}

/** A picture; null where the study has nothing for it. */
function drawn(study: WhatMatters, picture: DriverPicture): ChartSpec | null {
  const { oneAtATime, variance, thresholds, criterion, perSeason } = study;
  switch (picture) {
    case 'value':
      return valueChart(study);
    case 'effects':
      return oneAtATime === null
        ? null
        : assumptionEffectsChart(oneAtATime, {
            figure: criterion,
            of: 'lead',
            hoursPerSeason: criterion === 'costPerHour' ? perSeason : undefined,
          });
    case 'shares': {
      const lead = leadDrivers(variance, criterion);
      return lead === null ? null : indexDotsChart(variance!, lead);
    }
    default: {
      // In the order in which the screen tells what decides.
      const threshold = thresholds[Number(picture.slice('threshold-'.length)) - 1];
      return threshold === undefined ? null : choiceThresholdChart(threshold);
    }
  }
}
