import { lifeCurveChart } from '../chart/life-curve.js';
import { remainingLife } from '../decide/remaining-life.js';
import type { ReachChance, RemainingFigures, RemainingLife } from '../decide/remaining-types.js';
import { amountText } from '../present/amounts.js';
import { listText } from '../present/lists.js';
import { remainingAnswers } from '../present/remaining-table.js';
import { percentText } from '../present/words.js';
import type { RunResult } from '../run.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { CompiledToday } from '../scenario/compile-today.js';
import type { Chapter, CollectOptions } from './chapter.js';
import { html, type Html } from './html.js';
import { table, type Column } from './table.js';

const MILLIMETRES = 1000;

/**
 * The chapter on the tires on the airplane: what they have left, and when to look at them again.
 *
 * @param compiled the scenario.
 * @param today what it says of the tires.
 * @param result the answer of a run, for the curve of new tires.
 * @param options progress and stop.
 * @throws as `remainingLife`.
 */
export async function todayChapter(
  compiled: CompiledScenario,
  today: CompiledToday,
  result: RunResult,
  { onProgress, signal }: CollectOptions,
): Promise<Chapter> {
  const { setup, mix } = today;
  const life = await remainingLife(compiled, { setup, mix, onProgress, signal }, today);
  const isRun = result.pairings.some((each) => each.setup === setup && each.mix === mix);
  // The last remark says who decides.
  const remarks = life.remarks.slice(0, -1);
  return {
    id: 'today',
    title: 'Your tires today',
    answers: remainingAnswers(life),
    cautions: life.remarks.slice(-1),
    tables: [leftTable(life), reachTable(life)],
    folded: readingsTable(life),
    chart: isRun ? () => lifeCurveChart(result, { setup, mix, today: life }) : null,
    notes: [
      ...remarks,
      causesText(life),
      'Left: until the first of the two main tires must come off, for any reason. The answer is worth ' +
        `${amountText(Math.round(life.effectiveTrials))} equally weighted trials of ${amountText(life.trials)}; 95 % is their ` +
        'simulation error alone.',
    ],
  };
}

function causesText({ endCauses }: RemainingLife): string {
  const causes = Object.entries(endCauses)
    .filter(([, { estimate }]) => estimate > 0)
    .sort((a, b) => b[1].estimate - a[1].estimate)
    .map(([cause, { estimate }]) => `${cause} ${percentText(estimate)}`);
  return `What will end them: ${listText(causes)}.`;
}

interface Left {
  readonly unit: string;
  readonly figures: RemainingFigures;
}

function leftTable({ remaining }: RemainingLife): Html {
  const amount = (value: number | null): string =>
    value === null ? 'beyond the horizon' : amountText(value);
  const columns: Column<Left>[] = [
    { title: 'Left', cell: ({ unit }) => unit },
    { title: '1 in 10 has less', cell: ({ figures }) => amount(figures.p10), isNumeric: true },
    {
      title: html`Half has less <small>95 %</small>`,
      cell: ({ figures: { p50, intervals } }) =>
        html`${amount(p50)} <small>${spanText(intervals.p50)}</small>`,
      isNumeric: true,
    },
    { title: '9 in 10 have less', cell: ({ figures }) => amount(figures.p90), isNumeric: true },
  ];
  const rows: Left[] = [
    { unit: 'Flight hours', figures: remaining.hours },
    { unit: 'Landings', figures: remaining.landings },
    { unit: 'Days', figures: remaining.days },
  ];
  return table(columns, rows, { caption: 'Left in the main tires on the airplane' });
}

function spanText({ lower, upper }: RemainingFigures['intervals']['p50']): string {
  if (lower === null) return '';
  return upper === null ? `over ${amountText(lower)}` : `${amountText(lower)} to ${amountText(upper)}`;
}

function reachTable({ endOfSeason }: RemainingLife): Html {
  const columns: Column<ReachChance>[] = [
    { title: 'To be still in service', cell: () => 'At the end of the season' },
    { title: 'Flight hours from now', cell: ({ hours }) => amountText(hours), isNumeric: true },
    { title: 'Landings', cell: ({ landings }) => amountText(landings), isNumeric: true },
    {
      title: html`Chance <small>95 %</small>`,
      cell: ({ chance }) =>
        chance === null
          ? 'not known'
          : html`${percentText(chance.estimate)}
              <small>${percentText(chance.lower)} to ${percentText(chance.upper)}</small>`,
      isNumeric: true,
    },
  ];
  return table(columns, [endOfSeason], { caption: 'Chance to last' });
}

/** What the gauge said against what the scenario gave. */
function readingsTable({ agreement: { checks } }: RemainingLife): Html[] {
  if (checks.length === 0) return [];
  const millimetres = (depthM: number): string => (MILLIMETRES * depthM).toFixed(1);
  const columns: Column<RemainingLife['agreement']['checks'][number]>[] = [
    {
      title: 'Tread read',
      cell: ({ reading: { wheel, band, place } }) =>
        `${wheel} ${band}, ${place === 'mean' ? 'mean all round' : 'worst place'}`,
    },
    {
      title: html`Groove <small>mm</small>`,
      cell: ({ reading }) => millimetres(reading.grooveM),
      isNumeric: true,
    },
    {
      title: html`The scenario gave <small>mm</small>`,
      cell: ({ expectedM }) => `${millimetres(expectedM.mean)} ± ${millimetres(expectedM.standardDeviation)}`,
      isNumeric: true,
    },
    { title: html`Off by <small>deviations</small>`, cell: ({ offBy }) => offBy.toFixed(1), isNumeric: true },
  ];
  return [
    html`<details>
      <summary>What the gauge said, against what the scenario gave</summary>
      ${table(columns, checks, { caption: 'Tread readings' })}
    </details>`,
  ];
}
