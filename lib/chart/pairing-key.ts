import { chartData, INK, type ChartPart } from './spec.js';

/** What has to be explained because it occurs. */
export interface KeyNotes {
  /** A life goes on beyond the horizon. */
  readonly open: boolean;
  /** A pairing is without any risk. */
  readonly none: boolean;
  /** A chance is too small for the axis. */
  readonly tiny: boolean;
}

/**
 * What the marks of the dots mean, drawn once for both panels.
 *
 * @param occurs what has to be explained.
 */
export function pairingKey({ open, none, tiny }: KeyNotes): ChartPart {
  const items: { glyph: string; text: string; wide: number }[] = [
    { glyph: 'dot', text: 'median life; chance of a flat', wide: 220 },
    { glyph: 'error', text: 'simulation error, 95 %', wide: 190 },
    { glyph: 'range', text: '8 sets in 10 (life); 8 worlds in 10 (flats)', wide: 0 },
  ];
  const notes = ['Bold: best on its mix, or not told apart from the best by the trials.'];
  if (open) notes.push('Triangle at the right: goes on beyond the horizon of the run.');
  if (tiny) notes.push('Triangle at the left: goes on to less than can be drawn.');
  if (none)
    notes.push(
      'No dot: no trial met any risk of a flat; the bar ends at the most that so many trials allow.',
    );
  let at = 0;
  const rows = items.map(({ glyph, text, wide }) => {
    const row = { glyph, text, startPx: at, endPx: at + 24, middlePx: at + 12, textPx: at + 32, line: 0 };
    at += wide;
    return row;
  });
  const noteRows = notes.map((text, index) => ({ glyph: 'note', text, textPx: 0, line: index + 1 }));
  const px = (field: string): ChartPart => ({
    field,
    type: 'quantitative',
    scale: { domain: [0, 640] },
    axis: null,
  });
  const only = (glyph: string): ChartPart => ({ filter: `datum.glyph === '${glyph}'` });
  return {
    data: chartData([...rows, ...noteRows]),
    width: 640,
    height: { step: 18 },
    encoding: { y: { field: 'line', type: 'ordinal', axis: null } },
    layer: [
      {
        transform: [only('range')],
        mark: { type: 'rule', strokeWidth: 1.5, color: INK, aria: false },
        encoding: { x: px('startPx'), x2: { field: 'endPx' } },
      },
      {
        transform: [only('error')],
        mark: { type: 'rule', strokeWidth: 7, opacity: 0.45, color: INK, aria: false },
        encoding: { x: px('startPx'), x2: { field: 'endPx' } },
      },
      {
        transform: [only('dot')],
        mark: { type: 'point', filled: true, size: 46, color: INK, opacity: 1, aria: false },
        encoding: { x: px('middlePx') },
      },
      {
        mark: { type: 'text', align: 'left', aria: false, fontSize: 11 },
        encoding: { x: px('textPx'), text: { field: 'text', type: 'nominal' } },
      },
    ],
  };
}
