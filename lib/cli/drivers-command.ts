import { assumptionEffectsChart } from '../chart/assumption-effects.js';
import { choiceThresholdChart } from '../chart/choice-threshold.js';
import { indexDotsChart } from '../chart/index-dots.js';
import { informationValueChart } from '../chart/information-value.js';
import type { ChartSpec } from '../chart/spec.js';
import type { Criterion } from '../decide/criteria.js';
import { driversScreen } from '../present/drivers-screen.js';
import { driversText } from '../present/drivers-text.js';
import { UsageError } from '../problems.js';
import { compileScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { leadDrivers } from '../sensitivity/deciders.js';
import { StoppedStudyError } from '../sensitivity/stopped.js';
import { whatMatters } from '../sensitivity/what-matters.js';
import type { WhatMatters } from '../sensitivity/what-matters-types.js';
import { answerQuestion, seeded, type Decision, type DecisionOptions } from './decision.js';

/** Pictures of what matters. */
export const DRIVER_PICTURES = ['value', 'effects', 'shares', 'threshold'] as const;
/** One of {@link DRIVER_PICTURES}. */
export type DriverPicture = (typeof DRIVER_PICTURES)[number];

/** Options of `gravelbar drivers`. */
export interface DriversCommandOptions extends DecisionOptions {
  readonly mix?: string;
  readonly by?: Criterion;
  readonly setup?: readonly string[];
  readonly rows?: number;
  readonly details?: boolean;
  readonly picture?: DriverPicture;
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
  return answerQuestion(
    'drivers',
    options,
    signal,
    async (following) => {
      const { mix, by, setup, trials, rows, workers } = options;
      const compiled = compileScenario(seeded(scenario, options));
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
    DRIVER_PICTURES,
  );
}

function decisionOf(study: WhatMatters, { details, picture = 'value' }: DriversCommandOptions): Decision {
  const pictures = Object.fromEntries(DRIVER_PICTURES.map((name) => [name, () => drawn(study, name)]));
  return {
    result: study,
    text: driversText(study),
    printed: details === true ? driversText(study) : `${driversScreen(study)}\n${HINT}`,
    chart: () => {
      const spec = drawn(study, picture);
      if (spec === null) throw new UsageError(`there is nothing to draw for --picture ${picture}`);
      return spec;
    },
    pictures,
  };
}

const HINT =
  '--details prints the tables too, --mix NAME looks at another mix, --out FOLDER keeps all of it.';

/** A picture; null where the study has nothing for it. */
function drawn(study: WhatMatters, picture: DriverPicture): ChartSpec | null {
  const { information, oneAtATime, variance, thresholds, criterion, choice } = study;
  switch (picture) {
    case 'value':
      return informationValueChart(information);
    case 'effects':
      return oneAtATime === null
        ? null
        : assumptionEffectsChart(oneAtATime, { figure: criterion, setup: choice.best });
    case 'shares': {
      const lead = leadDrivers(variance, criterion);
      return lead === null ? null : indexDotsChart(variance!, lead);
    }
    case 'threshold': {
      const threshold = thresholds.find(({ flips }) => flips.length > 0) ?? thresholds[0];
      return threshold === undefined ? null : choiceThresholdChart(threshold);
    }
  }
}
