import { renderSvg } from '../chart/render.js';
import type { ChartSpec } from '../chart/spec.js';
import { CHART_CAUTION } from '../chart/words.js';
import { html, type Html } from './html.js';
import { pageSvg } from './page-svg.js';

/**
 * A chart as a figure of the page. Title and subtitle stand above it as text, where they can be read at any width.
 *
 * @param chart a chart.
 * @param name name of the figure, letters and digits; different for each one on the page.
 * @returns markup.
 * @throws Error as {@link renderSvg} does.
 */
export async function figure(chart: ChartSpec, name: string): Promise<Html> {
  const { title, ...untitled } = chart;
  const svg = await renderSvg(untitled as unknown as ChartSpec);
  // Said once for all charts, at the top of the page.
  const about = title.subtitle.join(' ').replace(CHART_CAUTION, '').trim();
  return html`<figure id="${name}" aria-labelledby="${name}-title">
    <figcaption>
      <b id="${name}-title">${title.text.join(' ')}</b> <span class="about">${about}</span>
    </figcaption>
    <div class="plot" tabindex="0" role="group" aria-label="Chart: ${title.text.join(' ')}">
      ${pageSvg(svg, chart.description, name)}
    </div>
  </figure>`;
}
