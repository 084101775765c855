import { printable } from '../present/words.js';
import { shortName } from './labels.js';
import { COLOURS, type ChartPart } from './spec.js';

/** Groups told apart by colour and by shape; the rest are one group. */
const LOOKS: readonly (readonly [colour: string, shape: string])[] = [
  [COLOURS.blue, 'circle'],
  [COLOURS.vermilion, 'triangle-up'],
  [COLOURS.green, 'square'],
  [COLOURS.orange, 'diamond'],
  [COLOURS.purple, 'triangle-down'],
  [COLOURS.sky, 'cross'],
];
const REST_LOOK = ['#757575', 'circle'] as const;
/** Name of the group of all others. */
export const REST = 'others';

/** Names put into few groups, the most frequent first. */
export interface FewGroups {
  /** Names of the groups; the last may be {@link REST}. */
  readonly names: readonly string[];
  /** Place of a name among the groups. */
  readonly placeOf: (name: string) => number;
}

/**
 * Puts names into as many groups as are told apart well.
 *
 * @param all one name for each row.
 * @param most most groups, with that of all others.
 */
export function fewGroups(all: readonly string[], most: number = LOOKS.length + 1): FewGroups {
  const counts = new Map<string, number>();
  for (const name of all) counts.set(name, (counts.get(name) ?? 0) + 1);
  const ordered = [...counts].sort(([one, many], [other, more]) => more - many || (one < other ? -1 : 1));
  const own = ordered.length <= most ? ordered.length : most - 1;
  const kept = ordered.slice(0, own).map(([name]) => name);
  const names = ordered.length > own ? [...kept, REST] : kept;
  const places = new Map(kept.map((name, place) => [name, place]));
  return { names, placeOf: (name) => places.get(name) ?? kept.length };
}

/**
 * Encoding of groups by their place, as colour and as shape: the two share one legend.
 *
 * @param groups from {@link fewGroups}.
 * @param of which of the two.
 * @param title of the legend.
 */
export function groupLook({ names }: FewGroups, of: 'colour' | 'shape', title: string): ChartPart {
  const labels = names.map((name) => shortName(printable(name), 30));
  const looks = names.map((name, place) => (name === REST ? REST_LOOK : (LOOKS[place] ?? REST_LOOK)));
  return {
    field: 'group',
    type: 'nominal',
    title,
    scale: {
      domain: names.map((_, place) => place),
      range: looks.map((look) => look[of === 'colour' ? 0 : 1]),
    },
    legend: {
      orient: 'bottom',
      direction: 'horizontal',
      columns: 3,
      titleLimit: 0,
      labelExpr: `${JSON.stringify(labels)}[datum.value]`,
      symbolSize: 60,
      symbolOpacity: 1,
    },
  };
}
