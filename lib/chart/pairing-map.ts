import { UsageError } from '../problems.js';
import type { RunResult } from '../run.js';
import { pairingDots } from './pairing-dots.js';
import { pairingGrid } from './pairing-grid.js';
import { pairingChartRows, pairingOrder } from './pairing-rows.js';
import { pairingDescription, pairingFinding } from './pairing-words.js';
import { makeChart, type ChartSpec } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

/** Up to this many pairings are drawn as dots with intervals, more as grids. */
const MOST_DOTS = 24;

/**
 * Chart of every set-up on every runway mix: how long the main tires last (flight hours) and the chance of a flat in a
 * season.
 *
 * Up to 24 pairings are dots with their spread and the error of the simulation; more are grids with figures in their
 * cells. A set-up that the trials cannot tell from the best on its mix is marked like it.
 *
 * @param result the answer of a run.
 * @returns a chart of one row of data per pairing.
 * @throws UsageError if the result has no pairing, or more than 2,000.
 */
export function pairingMapChart(result: RunResult): ChartSpec {
  const { pairings, season } = result;
  if (pairings.length === 0) throw new UsageError('the result has no pairing: nothing to draw');
  const order = pairingOrder(pairings);
  const finding = pairingFinding(pairings, order);
  const words = {
    title: finding,
    subtitle: [provenance(result), CHART_CAUTION],
    description: pairingDescription(result, order, finding),
  };
  const parts =
    pairings.length <= MOST_DOTS
      ? pairingDots(pairings, order, season.landings)
      : pairingGrid(order, season.landings);
  const chart = makeChart(words, pairingChartRows(result, order), parts);
  // The title starts where the names of the rows do.
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}
