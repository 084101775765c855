import { amountText } from '../chart/figures.js';
import { comparePairings, type MixComparison } from '../decide/compare.js';
import { UsageError } from '../problems.js';
import { scenarioHash, type Run, type RunResult } from '../run.js';
import { compileScenario, type CompiledScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import type { Simulation } from '../simulate/simulate.js';
import { answersFor, overallText, type MixAnswer } from './answers.js';
import { assumptionTables } from './assumption-table.js';
import { chartPart, type ChartPart } from './chart-part.js';
import type { CollectOptions } from './chapter.js';
import { collectCharts } from './collect.js';
import { comparison } from './comparison.js';
import { decisionParts, todayParts } from './decisions.js';
import { html, type Html } from './html.js';
import { inputs } from './inputs.js';
import { leads } from './lead.js';
import { manifest } from './manifest.js';
import { pageText, type PagePart } from './page.js';
import { runDriversOrWhy, type RunDrivers } from './run-drivers.js';
import { choiceChangeTexts } from './what-matters-words.js';
import { glossary, reading } from './reading.js';

/**
 * The report of a run as one HTML file: the answer in words, tables, charts, assumptions, cautions. It opens from disk and
 * asks no network for anything. The same scenario and run give the same text.
 *
 * Chapters and charts that need more than the result live through further trials, no more of them than the run did; only
 * the life left in the tires of today takes as many as its readings need.
 *
 * @param scenario the scenario of the run, with the seed that was used.
 * @param run the answer of the run and its columns.
 * @param options progress and stop of the further trials; what a stop leaves undone is named in the report.
 * @returns the text of the file.
 * @throws UsageError if the result is not one of this scenario, or holds no pairing.
 */
export async function makeReport(
  scenario: Scenario,
  run: Run,
  options: CollectOptions = {},
): Promise<string> {
  const { result, simulation } = run;
  const compiled = compileScenario(scenario);
  if (scenarioHash(compiled) !== result.scenarioHash) {
    throw new UsageError(
      `the result is of another scenario or seed: its hash is ${result.scenarioHash.slice(0, 12)}..., ` +
        `that of the scenario ${scenarioHash(compiled).slice(0, 12)}...`,
    );
  }
  if (result.pairings.length === 0)
    throw new UsageError('the result holds no pairing: there is nothing to report');
  const comparisons = comparisonsOf(compiled, simulation);
  const all = leads(result.pairings, comparisons);
  const drivers = runDriversOrWhy(compiled, simulation);
  const answers = answersFor(result, comparisons).map((answer) => withChoice(answer, drivers));
  const sources = { scenario, compiled, run, comparisons, drivers };
  const [map, ...charts] = await drawn(
    await collectCharts(result, compiled, all, overallText(answers), options),
  );
  const parts: PagePart[] = [
    { id: 'answer', title: 'The answer', body: answerPart(answers, result) },
    ...(await todayParts(sources, options)),
    {
      id: 'comparison',
      title: 'Comparison',
      body: html`<p class="hint">
          Charts: point at one, or select it and press an arrow key, to read its values. What is wider than
          the screen moves sideways.
        </p>
        ${map!.body} ${comparison(result, all)}`,
    },
    ...(await decisionParts(sources, options)),
    ...charts,
    { id: 'inputs', title: 'What was compared', body: inputs(scenario, compiled) },
    {
      id: 'assumptions',
      title: 'Assumptions',
      body: html`<p>
          Each trial draws its own value of every number with a range. “8 of 10” leaves out the lowest and the
          highest tenth. Most of these numbers were never measured; where one was, its source says so.
        </p>
        ${assumptionTables(compiled)}`,
    },
    { id: 'cautions', title: 'Cautions', body: cautionPart(result) },
    { id: 'reading', title: 'How to read the figures', body: reading(all[0]!) },
    { id: 'words', title: 'Words', body: glossary() },
    { id: 'run', title: 'This run', body: manifest(result, compiled) },
  ];
  return pageText({
    title: result.scenario,
    introduction: introduction(result),
    parts,
    footer: html`<p class="soft">
      Made by gravelbar ${result.version} from ${amountText(result.trials)} trials.
    </p>`,
  });
}

/** An answer with what would change the choice, as far as it is known. */
function withChoice(answer: MixAnswer, drivers: RunDrivers | UsageError): MixAnswer {
  if (drivers instanceof UsageError) return answer;
  return { ...answer, change: [...answer.change, ...choiceChangeTexts(drivers, answer.mix)] };
}

/** The set-ups compared on common landings, on every mix that has at least two. */
function comparisonsOf(compiled: CompiledScenario, simulation: Simulation): MixComparison[] {
  const isComparable = simulation.pairings.some(({ mix }, index) =>
    simulation.pairings.some((other, place) => place > index && other.mix === mix),
  );
  return isComparable ? comparePairings(compiled, simulation) : [];
}

async function drawn(parts: readonly ChartPart[]): Promise<PagePart[]> {
  const pages: PagePart[] = [];
  for (const part of parts) pages.push(await chartPart(part));
  return pages;
}

function introduction({ note, airplane, season, trials, complete }: RunResult): Html {
  return html`${note === '' ? '' : html`<p>${note}</p>`}
    <p class="soft">
      ${airplane}; a season of ${amountText(season.landings)} landings and ${amountText(season.flightHours)}
      flight hours; ${amountText(trials)} trials${complete ? '' : ', stopped early'}.
    </p>`;
}

function answerPart(answers: readonly MixAnswer[], { cautions }: RunResult): Html {
  const authority = cautions.find(({ code }) => code === 'authority');
  const fitted = cautions.find(({ code }) => code === 'fitted');
  return html`<p class="lede">${overallText(answers)}</p>
    ${
      authority === undefined
        ? ''
        : html`<div class="caution">
            <p>${authority.message} <a href="#cautions">All cautions</a></p>
          </div>`
    }
    ${fitted === undefined ? '' : html`<div class="caution"><p>${fitted.message}</p></div>`}
    ${answers.map(mixAnswer)}`;
}

function mixAnswer({ mix, setup, level, which, life, risk, certainty, change }: MixAnswer): Html {
  const list = (texts: readonly string[]): Html =>
    html`<ul>
      ${texts.map((text) => html`<li>${text}</li>`)}
    </ul>`;
  return html`<article class="answer">
    <h3><span class="mix">On ${mix}</span> ${[setup, ...level].join(' or ')}</h3>
    <dl>
      <dt>Which set-up</dt>
      <dd>${which}</dd>
      <dt>How long</dt>
      <dd>${life}</dd>
      <dt>How risky</dt>
      <dd>${risk}</dd>
      <dt>How sure</dt>
      <dd>${list(certainty)}</dd>
      <dt>What would change it</dt>
      <dd>${list(change)}</dd>
    </dl>
  </article>`;
}

function cautionPart({ cautions }: RunResult): Html {
  return html`${cautions.map(({ message }) => html`<div class="caution"><p>${message}</p></div>`)}`;
}
