import type { PressureRange, PressureSweep } from '../decide/pressure-types.js';
import { UsageError } from '../problems.js';
import { inflationPanels } from './inflation-panels.js';
import { drawnRange, pressureStrip, stripRows } from './inflation-strip.js';
import { inflationDescription, inflationFinding, inflationRemarks } from './inflation-words.js';
import type { PressureFrame } from './pressure-frame.js';
import { drawPressurePanel } from './pressure-panel.js';
import { makeChart, type ChartSpec } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

/** Room left and right of the pressures looked at, as a share of their span. */
const PADDING = 0.03;
const PANEL_GAP_PX = 14;

/**
 * Chart for choosing the cold pressure of the main tires: life (flight hours), chance of a flat in a season, push force
 * (N) and clearances (mm) in panels over the same pressures (psi), with the sensible range shaded, what bounds it named
 * and the set-up's own pressure marked. Hollow dots break a limit.
 *
 * @param sweep of the pressure of one set-up on one mix.
 * @returns a chart of a few rows of data for each pressure.
 * @throws UsageError if the sweep has no pressure.
 */
export function inflationChoiceChart(sweep: PressureSweep): ChartSpec {
  const { points } = sweep;
  if (points.length === 0) throw new UsageError('the sweep has no pressure: nothing to draw');
  const finding = inflationFinding(sweep);
  const frame = frameOf(sweep);
  const panels = inflationPanels(sweep);
  const open = points.some(({ lifeHours }) => lifeHours.p90 === null);
  const words = {
    title: finding,
    subtitle: [
      ...inflationRemarks(sweep),
      `Hollow dots break a limit; bars: simulation error, 95 %${open ? '; triangles: on beyond the horizon of the run' : ''}.`,
      provenance(sweep),
      CHART_CAUTION,
    ],
    description: inflationDescription(sweep, finding),
  };
  const chart = makeChart(words, stripRows(sweep, frame), {
    vconcat: [
      pressureStrip(sweep, frame),
      ...panels.map((panel, index) => drawPressurePanel(panel, frame, index === panels.length - 1)),
    ],
    spacing: PANEL_GAP_PX,
    resolve: { scale: { color: 'independent', strokeDash: 'independent', fill: 'independent' } },
  });
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function frameOf({ points, ownPressurePsi, sensibleRange, limitsRange }: PressureSweep): PressureFrame {
  const ranges = [sensibleRange, limitsRange].flatMap((range) =>
    range === null ? [] : [range.lowPsi, range.highPsi],
  );
  const pressures = [...points.map(({ pressurePsi }) => pressurePsi), ownPressurePsi, ...ranges];
  const [low, high] = [Math.min(...pressures), Math.max(...pressures)];
  const room = PADDING * (high - low || Math.max(low, 1));
  const domainPsi = [low - room, high + room] as const;
  return {
    domainPsi,
    ownPsi: ownPressurePsi,
    sensiblePsi: sensibleRange === null ? null : drawnRange(sensibleRange, domainPsi),
    limitsPsi: limitsRange === null ? [] : limitEnds(limitsRange),
  };
}

function limitEnds({ lowEnd, highEnd, lowPsi, highPsi }: PressureRange): number[] {
  return [
    ...(lowEnd.kind === 'end of the sweep' ? [] : [lowPsi]),
    ...(highEnd.kind === 'end of the sweep' ? [] : [highPsi]),
  ];
}
