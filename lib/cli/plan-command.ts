import { planCalendarChart } from '../chart/plan-calendar.js';
import { planSeason } from '../decide/plan-season.js';
import type { PlanCriterion } from '../decide/plan-types.js';
import { planTable } from '../present/plan-table.js';
import type { Scenario } from '../scenario/schema/index.js';
import { answerQuestion, seeded, type DecisionOptions } from './decision.js';

/** Options of `gravelbar plan`. */
export interface PlanCommandOptions extends DecisionOptions {
  readonly by?: PlanCriterion;
  readonly plans?: number;
}

/**
 * `gravelbar plan FILE`: which gear set in which month, for every airplane of the fleet.
 *
 * @param scenario the scenario of the file.
 * @param options from the command line.
 * @param signal stops the work; nothing is written then.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export function planCommand(
  scenario: Scenario,
  options: PlanCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  return answerQuestion('plan', options, signal, async (following) => {
    const plan = await planSeason(seeded(scenario, options), {
      criterion: options.by,
      trials: options.trials,
      mostPlans: options.plans,
      ...following,
    });
    return { result: plan, text: planTable(plan), chart: () => planCalendarChart(plan) };
  });
}
