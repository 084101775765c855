import { LABEL_LINE_PX, widthPx } from './labels.js';
import { chartData, COLOURS, type ChartPart, type ChartRow } from './spec.js';

/** Standard deviations either side that hold 80 % of a normal law. */
export const HELD_WITHIN = 1.2815515655446004;
/** Furthest that is drawn at its place, standard deviations; beyond, a triangle at the edge. */
export const FURTHEST = 5;
/** Width of a panel, px. */
export const RESIDUAL_WIDTH_PX = 560;
const HEIGHT_PX = 118;
const MOST_NAMED = 3;
const DAY_MS = 86_400_000;

/** Size of a label and room that it takes upright, px. */
const LABEL_FONT_PX = 11;
const LABEL_PX = 13;

/**
 * Readings whose tires are named in a panel: of tires that do not fit, and those far out; the furthest out first, one for
 * each tire, and none where its label would lie on another one.
 */
function namedRows(rows: readonly ChartRow[], [from, to]: readonly [number, number]): ChartRow[] {
  const seen = new Set<unknown>();
  const taken: { x: number; end: number; y: number }[] = [];
  return rows
    .filter(({ far, flagged }) => far === true || flagged === true)
    .sort((one, other) => Math.abs(other.off as number) - Math.abs(one.off as number))
    .filter(({ tire }) => !seen.has(tire) && seen.add(tire))
    .flatMap((row): ChartRow[] => {
      const atPx = (RESIDUAL_WIDTH_PX * ((row.at as number) - from)) / (to - from);
      const roomPx = widthPx(row.label as string, LABEL_FONT_PX) + 10;
      const isLeft = atPx + roomPx > RESIDUAL_WIDTH_PX;
      const x = isLeft ? atPx - roomPx : atPx;
      const y = (HEIGHT_PX * (row.drawn as number)) / (2 * FURTHEST);
      const clear = taken.every(
        (other) => x > other.end || x + roomPx < other.x || Math.abs(other.y - y) > LABEL_PX,
      );
      if (!clear || x < 0) return [];
      taken.push({ x, end: x + roomPx, y });
      return [{ ...row, isLeft }];
    })
    .slice(0, MOST_NAMED);
}

/**
 * Panels one below the other, one for each surface.
 *
 * @param titles lines above each panel.
 * @param rows readings, with the place of their panel.
 * @param over what runs along the lower axis.
 */
export function residualPanels(
  titles: readonly (readonly string[])[],
  rows: readonly ChartRow[],
  over: 'landings' | 'date',
): ChartPart[] {
  const low = rows.reduce((least, { at }) => Math.min(least, at as number), Infinity);
  const high = rows.reduce((most, { at }) => Math.max(most, at as number), -Infinity);
  const room = over === 'date' ? 15 * DAY_MS : Math.max(1, 0.03 * high);
  const domain = [over === 'date' ? low - room : 0, high + room] as const;
  const scale = { domain, nice: false, ...(over === 'date' ? { type: 'utc' } : {}) };
  const title =
    over === 'date' ? 'day of the reading (month and year)' : 'landings since the log took the tire up';
  return titles.map((text, place) => {
    const isLast = place === titles.length - 1;
    const x = {
      field: 'at',
      type: over === 'date' ? 'temporal' : 'quantitative',
      title: isLast ? title : null,
      scale,
      axis: {
        grid: false,
        tickCount: 8,
        format: over === 'date' ? '%b %Y' : ',~r',
        labels: isLast,
        ticks: isLast,
      },
    };
    return {
      title: {
        text,
        anchor: 'start',
        frame: 'group',
        fontSize: 12,
        lineHeight: LABEL_LINE_PX,
        offset: 4,
      },
      ...panel(
        rows.filter((row) => row.place === place),
        x,
        domain,
      ),
    };
  });
}

function panel(rows: readonly ChartRow[], x: ChartPart, domain: readonly [number, number]): ChartPart {
  const y = {
    field: 'drawn',
    type: 'quantitative',
    title: 'off by (std. dev.)',
    scale: { domain: [-FURTHEST - 0.4, FURTHEST + 0.4], nice: false },
    axis: { values: [-4, -2, 0, 2, 4] },
  };
  const dots = (filter: string, shape: string, size: number): ChartPart => ({
    transform: [{ filter }],
    mark: {
      type: 'point',
      shape,
      filled: true,
      size,
      opacity: 0.75,
      color: { expr: `datum.flagged ? '${COLOURS.vermilion}' : '${COLOURS.blue}'` },
    },
    encoding: {
      x,
      y,
      description: { field: 'said' },
      tooltip: [
        { field: 'tire', type: 'nominal', title: 'tire' },
        { field: 'read', type: 'nominal', title: 'reading' },
        { field: 'groove', type: 'nominal', title: 'groove' },
        { field: 'offText', type: 'nominal', title: 'off by' },
      ],
    },
  });
  const named = namedRows(rows, domain);
  return {
    width: RESIDUAL_WIDTH_PX,
    height: HEIGHT_PX,
    data: chartData(rows),
    layer: [
      {
        data: chartData([{ drawn: -HELD_WITHIN, upTo: HELD_WITHIN }]),
        mark: { type: 'rect', color: COLOURS.sky, opacity: 0.25, aria: false },
        encoding: { y, y2: { field: 'upTo' } },
      },
      dots("datum.beyond === 'no' && !datum.flagged", 'circle', 22),
      dots("datum.beyond === 'no' && datum.flagged", 'diamond', 40),
      dots("datum.beyond === 'up'", 'triangle-up', 60),
      dots("datum.beyond === 'down'", 'triangle-down', 60),
      ...(named.length === 0
        ? []
        : [
            ...[true, false].map((isLeft) => ({
              data: chartData(named.filter((row) => row.isLeft === isLeft)),
              mark: {
                type: 'text',
                fontSize: LABEL_FONT_PX,
                align: isLeft ? 'right' : 'left',
                dx: isLeft ? -7 : 7,
                aria: false,
              },
              encoding: { x, y, text: { field: 'label', type: 'nominal' } },
            })),
          ]),
    ],
  };
}
