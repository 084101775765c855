import { amountText } from '../chart/figures.js';
import { percentText } from '../present/words.js';
import type { RunResult } from '../run.js';
import { DAYS_PER_YEAR } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { html, type Html } from './html.js';

/**
 * What was run, so that it can be run again: the same scenario, seed and version give the same page, byte by byte. No
 * date, and no place on the machine.
 *
 * @param result the answer of the run.
 * @param compiled its scenario.
 */
export function manifest(result: RunResult, { horizonDays }: CompiledScenario): Html {
  const entries: readonly (readonly [string, string])[] = [
    ['Scenario', result.scenario],
    ['Version', `gravelbar ${result.version}`],
    ['Seed', result.seed],
    ['Trials', `${amountText(result.trials)}${result.complete ? '' : ', stopped early'}`],
    ['Precision', precisionText(result.precision)],
    ['Horizon', `${Math.round(horizonDays / DAYS_PER_YEAR)} years`],
  ];
  return html`<dl class="run">
      ${entries.map(
        ([name, value]) =>
          html`<dt>${name}</dt>
            <dd>${value}</dd> `,
      )}
      <dt>Scenario hash</dt>
      <dd><code>${result.scenarioHash}</code></dd>
    </dl>
    <p>
      The same scenario, seed, number of trials and version give this page again, byte by byte. The hash is
      the SHA-256 of the scenario as it was run: two files with the same hash mean the same.
    </p> `;
}

function precisionText(precision: RunResult['precision']): string {
  if (precision === null) return 'none asked for: a fixed number of trials';
  const { asked, reached } = precision;
  if (reached === null) return `asked ${percentText(asked)}; not known`;
  const missed = reached > asked ? ', not reached' : '';
  return `asked ${percentText(asked)}, median lives known within ${percentText(reached)}${missed}`;
}
