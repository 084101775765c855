import { nameLines } from './labels.js';
import { COLOURS, INK, type ChartPart, type ChartRow } from './spec.js';

/** Colour and letter of a gear set: either tells it from the others. */
export interface GearLook {
  readonly place: number;
  readonly letter: string;
  readonly colour: string;
}

/** Light enough for dark letters; after the last the letters go on and the colours come again. */
const GEAR_COLOURS: readonly string[] = [
  COLOURS.sky,
  COLOURS.orange,
  COLOURS.yellow,
  COLOURS.green,
  COLOURS.purple,
  '#BBBBBB',
];
const NAME_PX = 600;
const LINE_PX = 16;

/**
 * Looks of gear sets, by name, in the order met.
 *
 * @param names of gear sets, some more than once.
 */
export function gearLooks(names: readonly string[]): ReadonlyMap<string, GearLook> {
  return new Map(
    [...new Set(names)].map((name, place) => [
      name,
      { place, letter: letterOf(place), colour: GEAR_COLOURS[place % GEAR_COLOURS.length]! },
    ]),
  );
}

/** A to Z, then A1, B1 and so on. */
function letterOf(place: number): string {
  const letter = String.fromCharCode('A'.charCodeAt(0) + (place % 26));
  return place < 26 ? letter : `${letter}${Math.floor(place / 26)}`;
}

/**
 * What the letters and colours of a calendar mean.
 *
 * @param looks of the gear sets.
 * @returns the part of the chart, and its data.
 */
export function gearLegend(looks: ReadonlyMap<string, GearLook>): {
  readonly rows: readonly ChartRow[];
  readonly spec: ChartPart;
} {
  let line = 0;
  const rows = [...looks].flatMap(([name, { place, letter }]) => {
    const lines = nameLines(name, NAME_PX);
    return lines.map((text, index) => ({
      line: line++,
      gearPlace: place,
      letter: index === 0 ? letter : '',
      text,
      fromPx: 0,
      toPx: index === 0 ? 22 : 0,
      textPx: 32,
    }));
  });
  const px = (field: string): ChartPart => ({
    field,
    type: 'quantitative',
    scale: { domain: [0, NAME_PX] },
    axis: null,
  });
  const colours = [...looks.values()].map(({ colour }) => colour);
  return {
    rows,
    spec: {
      width: NAME_PX,
      height: { step: LINE_PX + 4 },
      encoding: { y: { field: 'line', type: 'ordinal', axis: null } },
      layer: [
        {
          mark: { type: 'bar', height: LINE_PX, aria: false },
          encoding: {
            x: px('fromPx'),
            x2: { field: 'toPx' },
            color: {
              field: 'gearPlace',
              type: 'ordinal',
              scale: { domain: colours.map((_, place) => place), range: colours },
              legend: null,
            },
          },
        },
        {
          mark: { type: 'text', fontSize: 12, color: INK, aria: false },
          encoding: { x: { value: 11 }, text: { field: 'letter', type: 'nominal' } },
        },
        {
          mark: { type: 'text', align: 'left', aria: false },
          encoding: { x: px('textPx'), text: { field: 'text', type: 'nominal' } },
        },
      ],
    },
  };
}
