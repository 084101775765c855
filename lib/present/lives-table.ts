import { AUTHORITY } from '../cautions.js';
import type { LifeGroup, RecordLaw, RecordLives } from '../calibrate/record-lives-types.js';
import { version } from '../version.js';
import { grid, type GridColumn } from './grid.js';
import { causesText, groupAnswer, groupName, openText, shareText, useText } from './lives-words.js';
import { placeName } from './records-text.js';
import { TABLE_WIDTH } from './table.js';
import { figureText, percentText, printable, wrap } from './words.js';

const LIVES: readonly GridColumn[] = [
  { title: ['tires'], align: 'left', width: 25, wraps: true },
  { title: ['number'], align: 'right', width: 6 },
  { title: ['ended'], align: 'right', width: 5 },
  { title: ['1 in 10', 'ended by'], align: 'right', width: 18 },
  { title: ['half', 'ended by'], align: 'right', width: 18 },
  { title: ['9 in 10', 'ended by'], align: 'right', width: 18 },
];

const SHARES: readonly GridColumn[] = [
  { title: ['tires'], align: 'left', width: 25, wraps: true },
  { title: ['by'], align: 'right', width: 6 },
  { title: ['under', 'watch'], align: 'right', width: 5 },
  { title: ['still running'], align: 'right', width: 18 },
  { title: ['ended by'], align: 'left', width: 38, wraps: true },
];

const LAWS: readonly GridColumn[] = [
  { title: ['tires'], align: 'left', width: 25, wraps: true },
  { title: ['law'], align: 'left', width: 9 },
  { title: ['shape'], align: 'right', width: 20 },
  { title: ['half', 'ended by'], align: 'right', width: 18 },
  { title: ['verdict'], align: 'left', width: 20, wraps: true },
];

const FURTHER: readonly GridColumn[] = [
  { title: ['tires that have run'], align: 'left', width: 35, wraps: true },
  { title: ['law'], align: 'left', width: 9 },
  { title: ['1 in 10', 'ends within'], align: 'right', width: 18 },
  { title: ['half', 'end within'], align: 'right', width: 18 },
  { title: ['half', 'in the log'], align: 'left', width: 10 },
];

/** Places of a group that are named. */
const PLACES_NAMED = 6;

/**
 * Life statistics of a log as text of at most 100 columns.
 *
 * @param lives from `recordLives`.
 * @returns text ending without a line end.
 */
export function livesTable(lives: RecordLives): string {
  const { groups, unit, level, logbook, note, firstDay, lastDay } = lives;
  const paragraph = (text: string): string => wrap(printable(text), TABLE_WIDTH, '  ');
  const laws = groups.flatMap((group) => (group.laws ?? []).map((law, index) => lawRow(group, law, index)));
  // Groups that have too few ends are told in words alone.
  const shares = groups.filter(({ refused }) => refused === null).flatMap(shareRows);
  const further = groups.flatMap((group) => furtherRows(group, unit));
  const origin = `${logbook}; ${firstDay} to ${lastDay}; lives in ${unit}, gravelbar ${version()}`;
  return [
    groups.map((group) => paragraph(groupAnswer(group, lives))).join('\n'),
    [origin, ...(note === null ? [] : [note]), ...leftOutTexts(lives)].map(paragraph).join('\n'),
    grid(LIVES, groups.map(lifeRow)),
    ...(shares.length === 0 ? [] : [grid(SHARES, shares)]),
    ...(laws.length === 0 ? [] : [grid(LAWS, laws)]),
    ...(further.length === 0 ? [] : [grid(FURTHER, further)]),
    remarksText(lives),
    [
      `In brackets: ${percentText(level)} intervals; a dash: the log does not reach it. Lives: Kaplan-Meier, with the tires still ` +
        'running counted as such. Ended by: with the other causes able to come first. Shape: Weibull above 1 means the ' +
        'older the likelier to end, 1 chance alone; lognormal: spread of the logarithm.',
      `Caution: ${AUTHORITY.message}`,
    ]
      .map(paragraph)
      .join('\n'),
  ].join('\n\n');
}

function lifeRow(group: LifeGroup): string[] {
  const { percentiles, tires, ends } = group;
  const figures =
    percentiles === null
      ? ['-', '-', '-']
      : [percentiles.p10, percentiles.p50, percentiles.p90].map(openText);
  return [groupName(group), String(tires), String(ends), ...figures];
}

function shareRows(group: LifeGroup): string[][] {
  return group.shares.map(({ use, atRisk, running, byCause }, index) => [
    index === 0 ? groupName(group) : '',
    useText(use),
    String(atRisk),
    shareText(running),
    causesText(byCause),
  ]);
}

const LAW_NAMES = { weibull: 'Weibull', lognormal: 'lognormal' } as const;

function lawRow(
  group: LifeGroup,
  { law, parameters, percentiles, verdict }: RecordLaw,
  index: number,
): string[] {
  const better = group.betterLaw === law ? ', fits better' : '';
  const shape =
    parameters === null
      ? '-'
      : `${figureText(parameters.shape.estimate)} (${figureText(parameters.shape.lower)} to ${figureText(parameters.shape.upper)})`;
  return [
    index === 0 ? groupName(group) : '',
    LAW_NAMES[law],
    shape,
    percentiles === null ? '-' : openText(percentiles.p50),
    `${verdict.kind}${better}`,
  ];
}

function furtherRows(group: LifeGroup, unit: string): string[][] {
  return (group.laws ?? []).flatMap(({ law, further }) =>
    further.map(({ use, more, beyondSeen }) => [
      `${useText(use)} ${unit}: ${groupName(group)}`,
      LAW_NAMES[law],
      openText(more.p10),
      openText(more.p50),
      beyondSeen ? 'beyond it' : 'yes',
    ]),
  );
}

function leftOutTexts({ leftOut: { notCounted, notUsed }, unit }: RecordLives): string[] {
  const named = (names: readonly string[]): string =>
    names.length > 5 ? `${names.slice(0, 5).join(', ')} and ${names.length - 5} more` : names.join(', ');
  return [
    ...(notCounted.length === 0
      ? []
      : [`Left out, as the log does not tell their ${unit}: ${named(notCounted)}.`]),
    ...(notUsed.length === 0 ? [] : [`Left out, as they were not used under watch: ${named(notUsed)}.`]),
  ];
}

/** Remarks, each with the groups that it holds for. */
function remarksText({ groups, remarks }: RecordLives): string {
  const owners = new Map<string, string[]>();
  for (const group of groups) {
    for (const text of [...placesText(group), ...group.remarks]) {
      owners.set(text, [...(owners.get(text) ?? []), groupName(group)]);
    }
  }
  const own = [...owners].map(([text, names]) =>
    names.length === groups.length && names.length > 1 ? `All: ${text}` : `${names.join('; ')}: ${text}`,
  );
  return [...own, ...remarks].map((text) => wrap(printable(text), TABLE_WIDTH, '  ')).join('\n');
}

function placesText({ places }: LifeGroup): string[] {
  const all = places.reduce((sum, { landings }) => sum + landings, 0);
  if (all === 0) return [];
  const named = places
    .slice(0, PLACES_NAMED)
    .map((place) => `${placeName(place)} ${percentText(place.landings / all)}`);
  const more = places.length > PLACES_NAMED ? [`${places.length - PLACES_NAMED} more places`] : [];
  return [`Flown on ${[...named, ...more].join(', ')}.`];
}
