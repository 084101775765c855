import type { AssumptionFit } from '../calibrate/posterior-types.js';
import { flownTogether } from '../calibrate/flown-together.js';
import type { Logbook } from '../calibrate/record-types.js';
import { AUTHORITY, FITTED, REST_ASSUMED } from '../cautions.js';
import type { SeasonShift } from '../decide/season-shift-types.js';
import { fitFindings } from '../present/fit-findings.js';
import { DOUBTED_SEASON } from '../present/fit-text.js';
import { seasonAnswers, seasonSummary } from '../present/season-shift-words.js';
import { version } from '../version.js';
import type { Scenario } from '../scenario/schema/index.js';
import { answerPart, usePart, type FitUseWords } from './fit-answer.js';
import { fitCharts, type FitPageOptions } from './fit-charts.js';
import { livesPart } from './fit-lives.js';
import { assumptionsPart, checksPart, nextPart, sourcesPart } from './fit-parts.js';
import { seasonPart } from './fit-season.js';
import { html } from './html.js';
import { pageText, type PagePart } from './page.js';

/** What a page of a fit is made from. */
export interface FitPageSources {
  /** The scenario as it was before the fit. */
  readonly scenario: Scenario;
  /** The records, for the lives in them. */
  readonly logbook: Logbook;
  readonly fit: AssumptionFit;
  /** Null if the season was left out. */
  readonly shift: SeasonShift | null;
  /** Why, in a sentence. */
  readonly seasonLeftOut?: string | undefined;
  /** How the fit is used: a file to make, what stands in it, and the command that runs it; left out where it is not known. */
  readonly use?: FitUseWords | undefined;
}

/**
 * A fit as one HTML file: the answer in words, assumptions before and after, the season before and after, checks, lives in
 * the records, what to read next. It opens from disk and asks no network for anything. The same fit gives the same text.
 *
 * @param sources fit, records and season.
 * @param options worlds in which the lives of the records are lived again, progress and stop; what a stop leaves undone is
 *   named on the page.
 * @returns the text of the file.
 */
export async function makeFitPage(
  { scenario, logbook, fit, shift, seasonLeftOut = 'The season was left out.', use }: FitPageSources,
  options: FitPageOptions = {},
): Promise<string> {
  const isFlown = flownTogether(logbook);
  const findings = fitFindings(fit, isFlown);
  const doubted = findings.doubts.length > 0;
  const season = {
    summary: shift === null ? [seasonLeftOut] : seasonSummary(shift, doubted),
    answers: shift === null ? [] : [...(doubted ? [DOUBTED_SEASON] : []), ...seasonAnswers(shift)],
  };
  const charts = await fitCharts(scenario, logbook, fit, options);
  const parts: PagePart[] = [
    { id: 'answer', title: 'The answer', body: answerPart(findings, season, AUTHORITY.message) },
    { id: 'fitted', title: 'Before and after', body: assumptionsPart(fit, charts.assumptions) },
    {
      id: 'season',
      title: 'The season before and after',
      body: shift === null ? html`<p>${seasonLeftOut}</p>` : seasonPart(shift),
    },
    { id: 'checks', title: 'Does the fit hold?', body: checksPart(fit, charts.checks) },
    { id: 'next', title: 'What to read next', body: nextPart(fit, isFlown) },
    ...(use === undefined ? [] : [{ id: 'use', title: 'To use the fit', body: usePart(use) }]),
    { id: 'lives', title: 'Lives in the records', body: html`${livesPart(logbook)} ${charts.lives}` },
    {
      id: 'cautions',
      title: 'Cautions',
      body: html`${[AUTHORITY, FITTED, REST_ASSUMED].map(
        ({ message }) => html`<div class="caution"><p>${message}</p></div>`,
      )}`,
    },
    { id: 'sources', title: 'Where this comes from', body: sourcesPart(fit, shift?.trials ?? null) },
  ];
  return pageText({
    title: `${fit.scenario}, fitted to ${fit.logbook.name}`,
    introduction: html`${fit.logbook.note === null ? '' : html`<p>${fit.logbook.note}</p>`}
      <p class="soft">${fit.source}.</p>`,
    parts,
    footer: html`<p class="soft">Made by gravelbar ${version()}.</p>`,
  });
}
