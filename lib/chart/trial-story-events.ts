import type { StoryEvent, StoryEventKind } from '../estimate/story-events.js';
import type { WheelRecord } from '../simulate/replay.js';
import { amountText } from './figures.js';
import { nameAxis, shortName } from './labels.js';
import { landingsAlong } from './landing-axis.js';
import { rounded } from './measures.js';
import { chartData, COLOURS, FAINT_INK, PLOT_WIDTH_PX, type ChartPart, type ChartRow } from './spec.js';
import { CAUSE_COLOURS } from './words.js';

const ROW_PX = 30;
/** Where in its row an event stands: what happens to a tire above, what takes it off below. */
const ABOVE_PX = 9;
const BELOW_PX = 21;

interface EventLook {
  readonly kind: StoryEventKind;
  readonly name: string;
  readonly shape: string;
  readonly colour: string;
}

/** Events told apart by shape and colour. */
const LOOKS: readonly EventLook[] = [
  { kind: 'cut', name: 'cut into the carcass', shape: 'triangle-down', colour: CAUSE_COLOURS.cut },
  { kind: 'bead slip', name: 'bead slips', shape: 'circle', colour: COLOURS.purple },
  { kind: 'leak begins', name: 'slow leak begins', shape: 'triangle-left', colour: COLOURS.sky },
  { kind: 'leak found', name: 'leak found', shape: 'triangle-right', colour: COLOURS.sky },
  { kind: 'off: worn', name: 'off: worn', shape: 'square', colour: CAUSE_COLOURS.worn },
  { kind: 'off: cut', name: 'off: cut', shape: 'triangle-up', colour: CAUSE_COLOURS.cut },
  { kind: 'off: puncture', name: 'off: punctured', shape: 'cross', colour: CAUSE_COLOURS.puncture },
  { kind: 'off: pressure', name: 'off: pinch or valve', shape: 'diamond', colour: CAUSE_COLOURS.pressure },
  { kind: 'off: age', name: 'off: too old', shape: 'arrow', colour: CAUSE_COLOURS.age },
];

const WHEELS: readonly WheelRecord['position'][] = ['left main', 'right main', 'third'];

/**
 * What happened to the wheels, as a panel with a row for each.
 *
 * @param events in order, few enough to draw.
 * @param third name of the third wheel.
 * @param last landing at the right end.
 */
export function eventsPanel(events: readonly StoryEvent[], third: string, last: number): ChartPart {
  const names = ['left main', 'right main', third];
  const present = LOOKS.filter(({ kind }) => events.some((event) => event.kind === kind));
  const legend = { orient: 'bottom', columns: 4, symbolOpacity: 1, symbolSize: 90, symbolStrokeWidth: 1.5 };
  const domain = present.map(({ name }) => name);
  const look = (range: readonly string[]): ChartPart => ({
    field: 'what',
    type: 'nominal',
    title: null,
    scale: { domain, range },
    legend: domain.length === 0 ? null : legend,
  });
  const y = {
    field: 'place',
    type: 'ordinal',
    scale: { domain: WHEELS.map((_, place) => place), paddingInner: 0, paddingOuter: 0 },
    axis: { ...nameAxis(names), grid: false },
  };
  const rows = events.map((event) => eventRow(event, names));
  return {
    width: PLOT_WIDTH_PX,
    height: ROW_PX * WHEELS.length,
    layer: [
      {
        data: chartData(WHEELS.map((_, place) => ({ place }))),
        mark: { type: 'rule', color: '#DDDDDD', aria: false },
        encoding: { y },
      },
      {
        data: chartData(rows.length > 0 ? rows : [{ place: 1, landings: last / 2, said: 'no event' }]),
        mark:
          rows.length > 0
            ? { type: 'point', filled: true, size: 75, opacity: 0.95, strokeWidth: 1.5 }
            : { type: 'text', color: FAINT_INK, dy: -8 },
        encoding: {
          x: landingsAlong(last),
          y,
          ...(rows.length > 0
            ? {
                yOffset: {
                  field: 'offsetPx',
                  type: 'quantitative',
                  scale: { domain: [0, ROW_PX], range: [0, ROW_PX] },
                },
                color: look(present.map(({ colour }) => colour)),
                shape: look(present.map(({ shape }) => shape)),
                tooltip: [
                  { field: 'what', title: 'what' },
                  { field: 'wheel', title: 'wheel' },
                  { field: 'when', title: 'when' },
                  { field: 'strip', title: 'strip' },
                ],
              }
            : { text: { field: 'said' } }),
          description: { field: 'said' },
        },
      },
    ],
  };
}

function eventRow(event: StoryEvent, names: readonly string[]): ChartRow {
  const { kind, wheel, count, firstLanding, lastLanding, flightHours } = event;
  const place = WHEELS.indexOf(wheel);
  const { name } = LOOKS.find((look) => look.kind === kind)!;
  const when =
    count === 1
      ? `landing ${firstLanding.toLocaleString('en-US')} (${amountText(flightHours)} h)`
      : `${count} times, landings ${firstLanding.toLocaleString('en-US')} to ${lastLanding.toLocaleString('en-US')}`;
  const strip = count === 1 ? event.strip : 'several';
  return {
    landings: rounded((firstLanding + lastLanding) / 2, 1),
    place,
    offsetPx: kind.startsWith('off') ? BELOW_PX : ABOVE_PX,
    what: name,
    wheel: names[place]!,
    when,
    strip,
    said: `${names[place]!}, ${name}: ${when}${count === 1 ? `, ${shortName(strip)}` : ''}`,
  };
}
