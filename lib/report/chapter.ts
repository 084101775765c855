import type { ChartSpec } from '../chart/spec.js';
import { CancelledError, UsageError } from '../problems.js';
import type { Progress } from '../simulate/simulate.js';
import { figure } from './figure.js';
import { html, type Html } from './html.js';
import type { PagePart } from './page.js';

/** How the further simulations of a report are followed and stopped. */
export interface CollectOptions {
  /** Worker threads; the report does not depend on it. */
  readonly workers?: number | undefined;
  /** Called as their trials finish. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Leaves out what is not ready yet. */
  readonly signal?: AbortSignal | undefined;
}

/** What is said where a stop left something undone. */
export const STOPPED = 'Left out: the run was stopped before these trials were lived through.';

/** The answer to a question: words first, then what they rest on. */
export interface Chapter {
  readonly id: string;
  readonly title: string;
  /** The answer over all things asked about, where there are several. */
  readonly lead?: string;
  /** The answer, a sentence or two for each thing asked about. */
  readonly answers: readonly string[];
  /** What a reader must know before acting on it. */
  readonly cautions: readonly string[];
  readonly tables: readonly Html[];
  /** Tables that are folded away, below the chart. */
  readonly folded?: readonly Html[];
  /** Draws it; null where there is nothing to draw. */
  readonly chart: (() => ChartSpec) | null;
  /** How to read it, a paragraph each. */
  readonly notes: readonly string[];
}

/**
 * A chapter as a part of the page.
 *
 * @param chapter the answer.
 * @returns the part; a chart that cannot be drawn well is left out, and why is said.
 */
export async function chapterPart(chapter: Chapter): Promise<PagePart> {
  const { id, title, lead, answers, cautions, tables, folded = [], notes } = chapter;
  const body = html`${lead === undefined ? '' : html`<p>${lead}</p>`} ${answersOf(answers)}
  ${cautions.map((message) => html`<div class="caution"><p>${message}</p></div>`)} ${tables}
  ${await drawn(chapter)} ${folded} ${notes.map((note) => html`<p class="soft">${note}</p>`)}`;
  return { id, title, body };
}

function answersOf(answers: readonly string[]): Html {
  const [only, ...others] = answers;
  if (only === undefined) return html``;
  if (others.length === 0) return html`<p class="finding">${only}</p>`;
  return html`<ul class="finding">
    ${answers.map((answer) => html`<li>${answer}</li>`)}
  </ul>`;
}

async function drawn({ id, chart }: Chapter): Promise<Html> {
  if (chart === null) return html``;
  try {
    return await figure(chart(), `${id}-1`);
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    return html`<p class="soft">The chart is left out: ${error.message}.</p>`;
  }
}

/**
 * A chapter that needs trials of its own. Where they are stopped, or the question has no answer, the chapter says so: the
 * rest of the report is worth reading without it.
 *
 * @param heading name and title.
 * @param work gives the chapter.
 */
export async function chapterOr(
  heading: Pick<Chapter, 'id' | 'title'>,
  work: () => Promise<Chapter>,
): Promise<Chapter> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof CancelledError) return withoutAnswer(heading, STOPPED);
    if (error instanceof UsageError) return withoutAnswer(heading, `There is no answer: ${error.message}.`);
    throw error;
  }
}

/**
 * A chapter that only says why it has no answer.
 *
 * @param heading name and title.
 * @param why in a sentence.
 */
export function withoutAnswer(heading: Pick<Chapter, 'id' | 'title'>, why: string): Chapter {
  return { ...heading, answers: [why], cautions: [], tables: [], chart: null, notes: [] };
}
