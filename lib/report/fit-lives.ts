import { recordLives } from '../calibrate/record-lives.js';
import type { LifeGroup, RecordLaw, RecordLives } from '../calibrate/record-lives-types.js';
import type { Logbook } from '../calibrate/record-types.js';
import { groupAnswer, groupName, openText } from '../present/lives-words.js';
import { figureText, percentText } from '../present/words.js';
import { UsageError } from '../problems.js';
import { html, type Html } from './html.js';
import { table, type Column } from './table.js';

/**
 * How long the tires of a log lasted, without the simulator: life statistics of each set-up.
 *
 * @param logbook checked records.
 */
export function livesPart(logbook: Logbook): Html {
  let lives: RecordLives;
  try {
    lives = recordLives(logbook);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    return html`<p>There is no life to count: ${error.message}.</p>`;
  }
  const { groups, remarks, level } = lives;
  const told = groups.filter(({ refused }) => refused === null);
  return html`<p>
      Lives as the log tells them, without the simulator. Tires still on, or taken off sound, count as lasting
      at least that long.
    </p>
    <ul class="finding">
      ${groups.map((group) => html`<li>${groupAnswer(group, lives)}</li>`)}
    </ul>
    ${
      told.length === 0
        ? ''
        : table(columnsOf(level), told, { caption: 'Lives in landings, without a law and by two laws' })
    }
    ${remarks.map((text) => html`<p class="soft">${text}</p>`)} ${remarksOf(groups)}`;
}

/** Remarks on groups, those of several groups once. */
function remarksOf(groups: readonly LifeGroup[]): Html {
  const byRemark = new Map<string, string[]>();
  for (const group of groups) {
    for (const remark of group.remarks) {
      byRemark.set(remark, [...(byRemark.get(remark) ?? []), groupName(group)]);
    }
  }
  if (byRemark.size === 0) return html``;
  return html`<details>
    <summary>What to mind about these lives</summary>
    <ul>
      ${[...byRemark].map(([remark, names]) => html`<li>${remark} <small>(${names.join('; ')})</small></li>`)}
    </ul>
  </details>`;
}

function columnsOf(level: number): Column<LifeGroup>[] {
  const law = (name: RecordLaw['law'], title: string): Column<LifeGroup> => ({
    title: html`${title} <small>half ended by (${percentText(level)}), shape, verdict</small>`,
    cell: (group) => lawCell(group, name),
  });
  return [
    { title: 'Tires', cell: groupName },
    {
      title: html`Kaplan-Meier <small>half ended by (${percentText(level)})</small>`,
      cell: ({ percentiles }) => (percentiles === null ? '-' : openText(percentiles.p50)),
      isNumeric: true,
    },
    law('weibull', 'Weibull'),
    law('lognormal', 'Lognormal'),
  ];
}

function lawCell({ laws, betterLaw }: LifeGroup, name: RecordLaw['law']): Html {
  const found = (laws ?? []).find(({ law }) => law === name);
  if (found === undefined) return html`-`;
  const { percentiles, parameters, verdict } = found;
  const shape = parameters === null ? '' : `shape ${figureText(parameters.shape.estimate)}; `;
  const reasons = verdict.reasons.length === 0 ? '' : `: ${verdict.reasons.join('; ')}`;
  return html`<span class="whole">${percentiles === null ? 'not told' : openText(percentiles.p50)}</span>
    <small>${shape}${verdict.kind}${reasons}${betterLaw === name ? '; fits better' : ''}</small>`;
}
