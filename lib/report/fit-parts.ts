import { fittedName } from '../calibrate/fit-names.js';
import type {
  AssumptionFit,
  FitCalibration,
  FittedAssumption,
  FittedTire,
  NextReading,
} from '../calibrate/posterior-types.js';
import { countedText } from '../present/amounts.js';
import { calibrationIsOff } from '../present/fit-calibration.js';
import { fitFindings, rangeParts, usedText } from '../present/fit-findings.js';
import { convergenceText } from '../present/fit-table.js';
import { FIT_LEGEND } from '../present/fit-text.js';
import { listText } from '../present/lists.js';
import { percentText } from '../present/words.js';
import { version } from '../version.js';
import { html, type Html } from './html.js';
import { table, type Column } from './table.js';

const TIRES_TOLD = 10;
const NEXT_TOLD = 12;

/** The answer of a fit: what was learned, what moved, what is not told, and what stands against it. */
export function answerPart(fit: AssumptionFit, season: readonly string[], authority: string): Html {
  const { headline, moved, confirmed, unknown, doubts, notes, checks } = fitFindings(fit);
  const paragraphs = (texts: readonly string[]): Html[] =>
    texts.filter((text) => text !== '').map((text) => html`<p>${text}</p>`);
  return html`<p class="lede">${headline}</p>
    <div class="caution">
      <p>${authority} <a href="#cautions">All cautions</a></p>
    </div>
    ${doubts.map((doubt) => html`<div class="caution"><p>${doubt}</p></div>`)}
    ${
      moved.length === 0
        ? ''
        : html`<p>Moved furthest from what was assumed:</p>
            <ul class="finding">
              ${moved.map((each) => html`<li>${each}</li>`)}
            </ul>`
    }
    ${paragraphs([confirmed, unknown, ...checks.slice(0, 1), ...notes, ...season])}`;
}

/** Assumptions before and after, and those that no record touched. */
export function assumptionsPart(fit: AssumptionFit, chart: Html): Html {
  const { probabilities, untouched } = fit;
  const columns: readonly Column<FittedAssumption>[] = [
    { title: 'Assumption', cell: ({ path }) => fittedName(path) },
    {
      title: html`Assumed <small>middle (8 of 10)</small>`,
      cell: (each) => twoLines(rangeParts(each, probabilities).before),
    },
    {
      title: html`Fitted <small>middle (8 of 10)</small>`,
      cell: (each) => twoLines(rangeParts(each, probabilities).after),
    },
    {
      title: 'Spread left',
      cell: ({ scoreDeviation }) => percentText(scoreDeviation),
      isNumeric: true,
    },
    {
      title: 'Verdict',
      cell: ({ verdict, reason }) =>
        verdict === 'learned' ? verdict : html`${verdict} <small>${reason}</small>`,
    },
  ];
  const rows = (wanted: boolean): FittedAssumption[] =>
    fit.assumptions.filter(({ verdict }) => (verdict !== 'not identified') === wanted);
  const [told, vague] = [rows(true), rows(false)];
  return html`<p class="hint">
      Charts: point at one, or select it and press an arrow key, to read its values. What is wider than the
      screen moves sideways.
    </p>
    ${chart}
    ${
      told.length === 0
        ? html`<p>No assumption was learned.</p>`
        : html`<details>
            <summary>Learned and barely learned, as a table: ${countedText(told.length, 'number')}</summary>
            ${table(columns, told, {
              caption: 'Learned and barely learned',
              leads: ({ verdict }) => verdict === 'learned',
            })}
          </details>`
    }
    ${
      vague.length === 0
        ? ''
        : html`<details>
            <summary>Not identified: ${countedText(vague.length, 'number')}</summary>
            ${table(columns, vague, { caption: 'Not identified: about as assumed' })}
          </details>`
    }
    ${
      untouched.length === 0
        ? ''
        : html`<details>
            <summary>
              Not touched: ${countedText(untouched.length, 'assumption')} that no record bears on
            </summary>
            <p>${listText(untouched.map(fittedName))}. They stay as assumed.</p>
          </details>`
    }
    ${FIT_LEGEND.map((text) => html`<p class="soft">${text}</p>`)}`;
}

function twoLines({ middle, range }: { readonly middle: string; readonly range: string }): Html {
  return html`<span class="whole">${middle}</span> <small>${range}</small>`;
}

/** What was counted, for a table. */
const COUNTED: Readonly<Record<FitCalibration['what'], string>> = {
  'readings, each from those before it': 'Tread readings, each from those of the tire before it',
  'readings, without any reading of the tire': 'Tread readings, without any reading of the tire',
  'held-out readings, without any reading of the tire': 'Held-out tread readings, of tires the fit never saw',
  'pressures found': 'Pressures found',
};

/** Checks of the fit against the records. */
export function checksPart(fit: AssumptionFit, charts: readonly Html[]): Html {
  const { calibration, tires, stones } = fit.checks;
  const columns: readonly Column<FitCalibration>[] = [
    { title: 'Foretold', cell: ({ what }) => COUNTED[what] },
    { title: 'Intervals should hold', cell: ({ stated }) => percentText(stated), isNumeric: true },
    {
      title: html`They held <small>95 %</small>`,
      cell: ({ held, of, low, high }) =>
        html`${percentText(held / of)} <small>${percentText(low)} to ${percentText(high)}</small>`,
      isNumeric: true,
    },
    { title: 'Of', cell: ({ of }) => String(of), isNumeric: true },
    {
      title: 'So',
      cell: (each) =>
        !calibrationIsOff(each, fit)
          ? 'near enough'
          : each.held / each.of < each.stated
            ? 'too sure of itself'
            : 'too cautious',
    },
  ];
  return html`<p>
      A fit that holds foretells its own records: intervals that should hold eight in ten do so, and no tire
      stands out. Readings of one tire go wrong together, so the interval of a check without them is wider
      than it says.
    </p>
    ${
      calibration.length === 0
        ? html`<p>There is no reading to check.</p>`
        : table(columns, calibration, { caption: 'How often 80 % intervals held what was read' })
    }
    <p>
      Punctures counted ${stones.punctures}, expected ${stones.expectedPunctures.toFixed(1)}; cuts counted
      ${stones.cuts}, expected ${stones.expectedCuts.toFixed(1)}.
    </p>
    ${charts} ${tiresPart(tires)}`;
}

function tiresPart(tires: readonly FittedTire[]): Html {
  if (tires.length === 0) return html``;
  const flagged = tires.filter((tire) => tire.flagged);
  const columns: readonly Column<FittedTire>[] = [
    { title: 'Tire', cell: ({ tire }) => tire },
    { title: 'Readings', cell: ({ readings }) => String(readings), isNumeric: true },
    {
      title: html`Squared distance <small>near the number of readings where all is well</small>`,
      cell: ({ squaredDistance }) => squaredDistance.toFixed(1),
      isNumeric: true,
    },
    {
      title: html`Chance of as much <small>if the tire is like the others</small>`,
      cell: ({ chance }) => percentText(chance),
      isNumeric: true,
    },
    { title: '', cell: ({ flagged: odd }) => (odd ? 'does not fit' : '') },
  ];
  const words =
    flagged.length === 0
      ? `None of ${countedText(tires.length, 'tire')} read stands out.`
      : `The readings of ${listText(flagged.map(({ tire }) => tire))} do not fit the others: look at their records first.`;
  return html`<p>${words}</p>
    <details>
      <summary>Tires by how badly they fit</summary>
      ${table(columns, tires.slice(0, TIRES_TOLD), {
        caption: 'The tires that fit worst',
        leads: (tire) => tire.flagged,
      })}
    </details>`;
}

/** What to read next. */
export function nextPart({ nextReadings }: AssumptionFit): Html {
  const columns: readonly Column<NextReading>[] = [
    { title: 'Further records', cell: ({ what }) => what },
    {
      title: html`Would narrow <small>spread left of that assumed, now and then</small>`,
      cell: ({ narrows }) =>
        narrows.length === 0
          ? 'no single assumption by much'
          : narrows.map(
              ({ path, now, then }) =>
                html`<span>${fittedName(path)}: ${percentText(now)} to ${percentText(then)}</span><br />`,
            ),
    },
    {
      title: html`Tells <small>information, nats</small>`,
      cell: ({ information }) => information.toFixed(2),
      isNumeric: true,
    },
  ];
  return html`<p>
      What further records of the set-ups and strips of the scenario would tell, the most telling first, if
      the fit is about right.
    </p>
    ${table(columns, nextReadings.slice(0, NEXT_TOLD), { caption: 'Further records' })}`;
}

/** Where the fit comes from, so that it can be made again. */
export function sourcesPart(fit: AssumptionFit, trials: number | null): Html {
  const { used, remarks, logbook } = fit;
  const entries: readonly (readonly [string, string])[] = [
    ['Scenario', fit.scenario],
    ['Records', `${logbook.name}, ${logbook.firstDate} to ${logbook.lastDate}`],
    ['Remark', logbook.note ?? ''],
    ['Source', fit.source],
    ['Used', `${usedText(used)}, over ${countedText(Math.round(used.landings), 'tire-landing')}`],
    ['Version', `gravelbar ${version()}`],
    ['Seed', fit.seed],
    ['Season', trials === null ? 'left out' : countedText(trials, 'trial')],
  ];
  return html`<dl class="run">
      ${entries
        .filter(([, value]) => value !== '')
        .map(
          ([name, value]) =>
            html`<dt>${name}</dt>
              <dd>${value}</dd> `,
        )}
    </dl>
    <p>${convergenceText(fit)}</p>
    ${
      remarks.length === 0
        ? ''
        : html`<p>Left aside or taken for granted:</p>
            <ul>
              ${remarks.map((remark) => html`<li>${remark}.</li>`)}
            </ul>`
    }`;
}
