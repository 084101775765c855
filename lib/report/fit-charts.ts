import { survivalOverlay } from '../calibrate/survival-overlay.js';
import type { AssumptionFit } from '../calibrate/posterior-types.js';
import type { Logbook } from '../calibrate/record-types.js';
import { predictedReadingsChart } from '../chart/predicted-readings.js';
import { pressuresFoundChart } from '../chart/pressures-found.js';
import { priorToPosteriorChart } from '../chart/prior-to-posterior.js';
import { readingResidualsChart } from '../chart/reading-residuals.js';
import type { ChartSpec } from '../chart/spec.js';
import { survivalOverlayChart } from '../chart/survival-overlay.js';
import { CancelledError, UsageError } from '../problems.js';
import { compileScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { figure } from './figure.js';
import { html, type Html } from './html.js';

/** How the charts of a page of a fit are followed and stopped. */
export interface FitPageOptions {
  /** Worlds in which the lives of the records are lived again, 20 to 5000; default 200. */
  readonly worlds?: number | undefined;
  /** Called now and then with the share of them that is done, 0 to 1. */
  readonly onProgress?: ((doneShare: number) => void) | undefined;
  /** Leaves out what is not ready yet. */
  readonly signal?: AbortSignal | undefined;
}

/** Charts of a fit, by the part of the page that they stand in. */
export interface FitCharts {
  readonly assumptions: Html;
  readonly checks: readonly Html[];
  readonly lives: Html;
}

/**
 * Draws the charts of a fit. What cannot be drawn is left out, and why is said.
 *
 * @param before the scenario as it was before the fit.
 * @param logbook the records.
 * @param fit the fit.
 * @param options worlds, progress and stop.
 */
export async function fitCharts(
  before: Scenario,
  logbook: Logbook,
  fit: AssumptionFit,
  { worlds, onProgress, signal }: FitPageOptions,
): Promise<FitCharts> {
  const assumptions = await drawn('fitted-1', () => priorToPosteriorChart(fit));
  const checks: Html[] = [];
  for (const chart of [predictedReadingsChart, readingResidualsChart, pressuresFoundChart]) {
    checks.push(await drawn(`checks-${checks.length + 1}`, () => chart(fit)));
  }
  const lives = await drawn('lives-1', async () =>
    survivalOverlayChart(
      await survivalOverlay(compileScenario(before), logbook, fit, { worlds, onProgress, signal }),
    ),
  );
  return { assumptions, checks, lives };
}

async function drawn(name: string, chart: () => ChartSpec | Promise<ChartSpec>): Promise<Html> {
  try {
    return await figure(await chart(), name);
  } catch (error) {
    if (error instanceof CancelledError) {
      return html`<p class="soft">A chart is left out: the work was stopped before it was ready.</p>`;
    }
    if (!(error instanceof UsageError)) throw error;
    return html`<p class="soft">A chart is left out: ${error.message}.</p>`;
  }
}
