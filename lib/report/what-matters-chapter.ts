import { informationValueChart } from '../chart/information-value.js';
import { shareText, unitText, valueText } from '../present/drivers-words.js';
import { percentText } from '../present/words.js';
import type { IntervalEstimate } from '../estimate/interval.js';
import { FIGURE_WORDS } from '../sensitivity/input-words.js';
import type { TrialEffects } from '../sensitivity/trial-inputs.js';
import type { InformationOnInput } from '../sensitivity/voi-types.js';
import type { ChoiceSafety } from '../sensitivity/what-matters-types.js';
import type { Chapter } from './chapter.js';
import { html, type Html } from './html.js';
import type { MixDrivers, RunDrivers } from './run-drivers.js';
import { table, type Column } from './table.js';
import { matteringIn, mixAnswerText, nameOf, overallAnswer, toMeasure } from './what-matters-words.js';

export const WHAT_MATTERS = { id: 'what-matters', title: 'What matters' } as const;

/** Rows of a table and of the chart. */
const MOST_ROWS = 8;

/**
 * The chapter on what matters: which assumptions decide the figures and the choice, is the choice safe, and what to
 * measure next. It is worked out from the trials of the run.
 *
 * @param drivers of the run.
 */
export function whatMattersChapter(drivers: RunDrivers): Chapter {
  const { mixes, choices, trials } = drivers;
  const overall = overallAnswer(drivers);
  const drawn = mostWorthMeasuring(mixes);
  return {
    ...WHAT_MATTERS,
    ...(overall === null ? {} : { lead: overall }),
    answers: mixes.map((mix) => mixAnswerText(mix, drivers)),
    cautions: [],
    tables: [],
    folded: [
      html`<details>
        <summary>What the figures hang on, and what knowing is worth</summary>
        ${choices.length > 1 ? choicesTable(choices, mixes) : ''} ${mixes.map(driversTable)}
      </details>`,
    ],
    chart: drawn === null ? null : () => informationValueChart(drawn, { count: MOST_ROWS }),
    notes: [
      `From the ${trials.toLocaleString('en-US')} trials of this run; nothing was lived through again. Share of the spread: what would go of the ` +
        'variance of the figure, luck of landings included, if the assumption were known; what assumptions do only together is not ' +
        'seen. Knowing is worth: what choosing with that knowledge would gain on average; worths do not add up. What matters: a ' +
        'twentieth of the mean (common practice, no source).' +
        (mixes.length < choices.length ? ' Looked into: the mixes where knowing more is worth most.' : ''),
    ],
  };
}

/** Values of the mix on which a measurement is worth most; null where none is worth anything. */
function mostWorthMeasuring(mixes: readonly MixDrivers[]) {
  const worth = mixes.flatMap((each) => {
    const first = toMeasure(each);
    return first === null ? [] : [{ information: each.choice!.information, value: first.value!.estimate }];
  });
  if (worth.length === 0) return null;
  return worth.reduce((most, each) => (each.value > most.value ? each : most)).information;
}

function choicesTable(choices: readonly ChoiceSafety[], mixes: readonly MixDrivers[]): Html {
  const unit = mixes.find(({ choice }) => choice !== null)!.choice!.information.unit;
  const columns: Column<ChoiceSafety>[] = [
    { title: 'Mix', cell: ({ mix }) => mix },
    { title: 'Best on average', cell: ({ best }) => best },
    { title: 'Choice', cell: ({ kind }) => kind },
    {
      title: html`Another best <small>of worlds</small>`,
      cell: ({ shareOfWorldsOther }) =>
        shareOfWorldsOther === null ? 'not known' : shareText(shareOfWorldsOther),
      isNumeric: true,
    },
    {
      title: html`Knowing all is worth <small>${unitText({ unit })}</small>`,
      cell: ({ perfect }) => (perfect === null ? 'not known' : valueText(perfect)),
      isNumeric: true,
    },
  ];
  return table(columns, choices, { caption: 'The choice on each mix' });
}

/** An assumption in the table of a mix. */
interface DriverRow {
  readonly input: string;
  readonly shares: readonly IntervalEstimate[];
  readonly worth: InformationOnInput | null;
}

function driversTable({ mix, setup, figures, choice }: MixDrivers): Html {
  const shown = [...(choice === null ? [] : [choice.lead]), ...figures];
  const rows = driverRows(shown, choice?.information.inputs ?? []);
  const columns: Column<DriverRow>[] = [
    { title: 'Assumption', cell: ({ input }) => nameOf(input) },
    ...shown.map((effects, place): Column<DriverRow> => ({
      title: html`${titleOf(effects)} <small>share of the spread</small>`,
      cell: ({ shares }) => shareCell(shares[place]!),
      isNumeric: true,
    })),
    ...(choice === null
      ? []
      : [
          {
            title: html`Knowing it is worth <small>${unitText(choice.information)}</small>`,
            cell: ({ worth }: DriverRow) => worthCell(worth),
            isNumeric: true,
          },
        ]),
  ];
  const about = choice === null ? setup : `${setup} against ${choice.safety.rival}`;
  return table(columns, rows, { caption: `On ${mix}: ${about}` });
}

function titleOf({ figure, versus }: TrialEffects): string {
  return versus === null ? FIGURE_WORDS[figure] : `lead in ${FIGURE_WORDS[figure]}`;
}

/** Assumptions that matter for some figure or may be worth measuring; the largest few where none does. */
function driverRows(shown: readonly TrialEffects[], information: readonly InformationOnInput[]): DriverRow[] {
  const all = shown[0]!.effects.map(({ input }, at): DriverRow => ({
    input,
    shares: shown.map(({ effects }) => effects[at]!.firstOrder),
    worth: information.find((each) => each.input === input) ?? null,
  }));
  const named = new Set([
    ...shown.flatMap((effects) => matteringIn(effects).map(({ input }) => input)),
    ...information.flatMap(({ input, verdict }) =>
      verdict === 'worth measuring' || verdict === 'perhaps' ? [input] : [],
    ),
  ]);
  const largest = ({ shares }: DriverRow): number => Math.max(...shares.map(({ estimate }) => estimate));
  const rows = all.filter(({ input }) => named.size === 0 || named.has(input));
  return rows.sort((one, other) => largest(other) - largest(one)).slice(0, named.size === 0 ? 3 : MOST_ROWS);
}

function shareCell(share: IntervalEstimate): string {
  return share.lower > 0 ? shareText(share) : `up to ${percentText(share.upper)}`;
}

function worthCell(worth: InformationOnInput | null): string {
  if (worth === null || worth.value === null) return 'not known';
  return worth.verdict === 'no value seen' ? 'no value seen' : valueText(worth.value);
}
