import type { ChartSpec } from '../chart/spec.js';
import { figure } from './figure.js';
import { html, type Html } from './html.js';
import type { PagePart } from './page.js';

/** A chart, and charts like it that are folded away below it. */
export interface ChartGroup {
  readonly chart: ChartSpec;
  readonly folded: readonly ChartSpec[];
  /** What the folded ones are. */
  readonly summary: string;
}

/** Charts about one question. */
export interface ChartPart {
  readonly id: string;
  readonly title: string;
  /** How to read these charts, in a sentence or two. */
  readonly about: string;
  readonly groups: readonly ChartGroup[];
  /** Why charts are missing; null if none is. */
  readonly missing: string | null;
}

/** A chart with nothing folded below it. */
export function alone(chart: ChartSpec): ChartGroup {
  return { chart, folded: [], summary: '' };
}

/**
 * Charts about one question as a part of the page.
 *
 * @param part the charts.
 * @returns the part; its figures are named after it.
 * @throws Error as `renderSvg` does.
 */
export async function chartPart({ id, title, about, groups, missing }: ChartPart): Promise<PagePart> {
  const drawn: Html[] = [];
  let count = 0;
  // One after the other: the same names whatever takes longer, and no more memory than one drawing needs.
  const draw = (chart: ChartSpec): Promise<Html> => figure(chart, `${id}-${++count}`);
  for (const { chart, folded, summary } of groups) {
    drawn.push(await draw(chart));
    if (folded.length === 0) continue;
    const more: Html[] = [];
    for (const other of folded) more.push(await draw(other));
    drawn.push(
      html`<details>
        <summary>${summary}</summary>
        ${more}
      </details>`,
    );
  }
  const body = html`<p>${about}</p>
    ${missing === null ? '' : html`<p class="soft">${missing}</p>`} ${drawn}`;
  return { id, title, body };
}
