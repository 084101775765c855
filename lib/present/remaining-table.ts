import type {
  ChanceEstimate,
  ReachChance,
  RemainingFigures,
  RemainingLife,
} from '../decide/remaining-types.js';
import { amountText, countedText, wholeText, withinText } from './amounts.js';
import { decisionText } from './decision-text.js';
import { grid, type GridColumn } from './grid.js';
import { figureText, percentText } from './words.js';

const LEFT: readonly GridColumn[] = [
  { title: ['left in the main tires'], align: 'left', width: 24 },
  { title: ['1 in 10', 'has less'], align: 'right', width: 10 },
  { title: ['half', 'has less'], align: 'right', width: 10 },
  { title: ['9 in 10', 'have less'], align: 'right', width: 10 },
  { title: ['MC 95 %', 'of the half'], align: 'right', width: 18 },
];

const REACH: readonly GridColumn[] = [
  { title: ['to be still in service'], align: 'left', width: 24 },
  { title: ['flight', 'hours'], align: 'right', width: 10 },
  { title: ['landings'], align: 'right', width: 10 },
  { title: ['days'], align: 'right', width: 10 },
  { title: ['chance'], align: 'right', width: 10 },
  { title: ['MC 95 %'], align: 'right', width: 18 },
];

const READINGS: readonly GridColumn[] = [
  { title: ['tread read'], align: 'left', width: 38 },
  { title: ['groove'], align: 'right', width: 10 },
  { title: ['scenario gave'], align: 'right', width: 18 },
  { title: ['off by', 'deviations'], align: 'right', width: 10 },
];

const MILLIMETRES = 1000;

/**
 * The life left in a set of main tires as text of at most 100 columns.
 *
 * @param life from `remainingLife`.
 * @returns text ending without a line end.
 */
export function remainingTable(life: RemainingLife): string {
  const { remaining, endOfSeason, reach, agreement, endCauses, remarks } = life;
  const readings = agreement.checks.map(({ reading, expectedM, offBy }) => [
    `${reading.wheel} ${reading.band}, ${reading.place === 'mean' ? 'mean all round' : 'worst place'}`,
    `${(MILLIMETRES * reading.grooveM).toFixed(1)} mm`,
    `${(MILLIMETRES * expectedM.mean).toFixed(1)} ± ${(MILLIMETRES * expectedM.standardDeviation).toFixed(1)} mm`,
    offBy.toFixed(1),
  ]);
  const causes = Object.entries(endCauses)
    .filter(([, { estimate }]) => estimate > 0)
    .map(([cause, { estimate }]) => `${cause} ${percentText(estimate)}`);
  return decisionText(life, {
    answers: remainingAnswers(life),
    blocks: [
      grid(LEFT, [
        leftRow('flight hours', remaining.hours, amountText),
        leftRow('landings', remaining.landings, wholeText),
        leftRow('days', remaining.days, wholeText),
      ]),
      grid(REACH, [
        reachRow('the end of the season', endOfSeason),
        ...reach.map((each) => reachRow(each.date, each)),
      ]),
      ...(readings.length === 0 ? [] : [grid(READINGS, readings)]),
      `What will end them: ${causes.join(', ')}`,
    ],
    legend: [
      'Left: until the first of the two main tires must come off, for any reason; a dash means beyond the horizon. MC 95 %: ' +
        `simulation error alone. The answer is worth ${Math.round(life.effectiveTrials)} equally weighted trials of ${life.trials}.`,
      // The last remark says who decides, which stands at the end.
      ...remarks.slice(0, -1),
    ],
    cautions: [{ code: 'no inspection', message: remarks[remarks.length - 1]! }],
  });
}

/**
 * The answer in plain words.
 *
 * @param life from `remainingLife`.
 */
export function remainingAnswers({
  setup,
  mix,
  flown,
  date,
  remaining,
  pastLimitNow,
  nextInspection,
  straightLineHours,
  endOfSeason,
}: RemainingLife): string[] {
  const { p10, p50, p90 } = remaining.hours;
  const half =
    p50 === null
      ? 'more than half of such sets outlast the horizon'
      : `about ${amountText(p50)} flight hours left`;
  const range =
    p10 === null
      ? ''
      : ` (8 in 10: ${amountText(p10)} to ${p90 === null ? 'beyond the horizon' : amountText(p90)})`;
  const time =
    remaining.days.p50 === null ? '' : `, in about ${countedText(Math.round(remaining.days.p50), 'day')}`;
  const line =
    straightLineHours === null ? '' : ` By proportion of wear alone: ${amountText(straightLineHours)} h.`;
  const season =
    endOfSeason.chance === null
      ? ''
      : ` Chance to reach the end of the season: ${percentText(endOfSeason.chance.estimate)}.`;
  return [
    `${setup} on ${mix}, ${amountText(flown.hours)} h flown, ${date}: ${half}${range}${time}.${season}${line}`,
    `Already below the tread limit somewhere: ${chanceText(pastLimitNow)}. ${inspectionText(nextInspection)}`,
  ];
}

function inspectionText({
  acceptedChance,
  hours,
  landings,
  cautiousHours,
  beyondHorizon,
}: RemainingLife['nextInspection']): string {
  const accepted = percentText(acceptedChance);
  if (landings === 0) return `Look at the tread now: the chance is above the accepted ${accepted}.`;
  if (beyondHorizon) return `Wear alone stays below the accepted ${accepted} up to the horizon.`;
  return (
    `Look at the tread again within ${withinText(hours)} h (${countedText(landings, 'landing')}): until then the ` +
    `chance to pass the limit by wear stays below ${accepted}. By the cautious end of the simulation error: ` +
    `${cautiousHours === 0 ? 'now; run more trials' : `within ${withinText(cautiousHours)} h`}.`
  );
}

function chanceText({ estimate, lower, upper }: ChanceEstimate): string {
  return `chance ${percentText(estimate)} (95 %: ${percentText(lower)} to ${percentText(upper)})`;
}

function leftRow(
  name: string,
  { p10, p50, p90, intervals }: RemainingFigures,
  text: (value: number | null) => string,
): string[] {
  const { lower, upper } = intervals.p50;
  return [
    name,
    text(p10),
    text(p50),
    text(p90),
    lower === null ? '-' : `${text(lower)}-${upper === null ? '' : text(upper)}`,
  ];
}

function reachRow(name: string, { hours, landings, days, chance }: ReachChance): string[] {
  return [
    name,
    figureText(hours),
    wholeText(landings),
    wholeText(days),
    chance === null ? 'not known' : percentText(chance.estimate),
    chance === null ? '-' : `${percentText(chance.lower)}-${percentText(chance.upper)}`.replace(' %-', '-'),
  ];
}
