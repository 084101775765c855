import type { FitFindings } from '../present/fit-findings.js';
import { html, type Html } from './html.js';

/** What a page of a fit says of the season. */
export interface FitSeasonWords {
  /** A line for each mix. */
  readonly summary: readonly string[];
  readonly answers: readonly string[];
}

/** The answer of a fit: the season in short, what was learned, what stands against it, what moved, what is not told. */
export function answerPart(
  { headline, moved, confirmed, unknown, doubts, notes, checks }: FitFindings,
  season: FitSeasonWords,
  authority: string,
): Html {
  const paragraphs = (texts: readonly string[]): Html[] =>
    texts.filter((text) => text !== '').map((text) => html`<p>${text}</p>`);
  return html`${season.summary.map((text) => html`<p class="lede">${text}</p>`)}
    <p>${headline}</p>
    <div class="caution">
      <p>${authority} <a href="#cautions">All cautions</a></p>
    </div>
    ${
      doubts.length === 0
        ? ''
        : html`<div class="caution">
            <p>What stands against the fit:</p>
            <ul>
              ${doubts.map((doubt) => html`<li>${doubt}</li>`)}
            </ul>
          </div>`
    }
    ${paragraphs(season.answers)}
    ${
      moved.length === 0
        ? ''
        : html`<p>Moved furthest from what was assumed:</p>
            <ul class="finding">
              ${moved.map((each) => html`<li>${each}</li>`)}
            </ul>`
    }
    ${paragraphs([confirmed, unknown, ...checks.slice(0, 1), ...notes])}`;
}

/** How a fit is used. */
export interface FitUseWords {
  /** File to make. */
  readonly file: string;
  /** What stands in it. */
  readonly text: string;
  /** Command that runs it. */
  readonly command: string;
}

/** How the fit is used, to be copied. */
export function usePart({ file, text, command }: FitUseWords): Html {
  return html`<p>Make a file <code>${file}</code> that holds this line, and run it:</p>
    <p><code>${text}</code></p>
    <p><code>${command}</code></p>
    <p>The fitted numbers come last in the list, as later files go over earlier ones.</p>`;
}
