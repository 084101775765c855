import { fittedName, isOfRecords } from '../calibrate/fit-names.js';
import type { FlownTogether } from '../calibrate/flown-together.js';
import type {
  AssumptionFit,
  FitCalibration,
  FittedAssumption,
  FittedTire,
  NextReading,
} from '../calibrate/posterior-types.js';
import { errorSizesText, standingOf, standingText } from '../calibrate/standing.js';
import { vacuousText, withoutVacuous } from '../calibrate/telling-readings.js';
import { countedText } from '../present/amounts.js';
import { calibrationVerdictText } from '../present/fit-calibration.js';
import { rangeParts, usedText } from '../present/fit-findings.js';
import { fitGlossary } from '../present/fit-glossary.js';
import { leftText, NEXT_RANKING, whatText } from '../present/fit-next.js';
import { convergenceText } from '../present/fit-table.js';
import { FIT_LEGEND } from '../present/fit-text.js';
import { listText } from '../present/lists.js';
import { percentText } from '../present/words.js';
import { version } from '../version.js';
import { html, type Html } from './html.js';
import { table, type Column } from './table.js';

const TIRES_TOLD = 10;
const NEXT_TOLD = 12;

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
      cell: ({ scoreDeviation }) => leftText(scoreDeviation),
      isNumeric: true,
    },
    {
      title: 'Verdict',
      cell: (each) =>
        each.verdict === 'learned'
          ? standingText(each)
          : html`${standingText(each)} <small>${each.reason}</small>`,
    },
  ];
  const rows = (wanted: boolean): FittedAssumption[] =>
    fit.assumptions.filter((each) => (standingOf(each) !== 'not identified') === wanted);
  const [told, vague] = [rows(true), rows(false)];
  return html`<p class="hint">
      Charts: point at one, or select it and press an arrow key, to read its values. What is wider than the
      screen moves sideways.
    </p>
    ${chart}
    ${
      told.length === 0
        ? html`<p>No assumption was learned or moved.</p>`
        : html`<details>
            <summary>Learned, barely learned or moved, as a table: ${numbersText(told)}</summary>
            ${table(columns, told, {
              caption: 'Learned, barely learned or moved',
              leads: ({ verdict }) => verdict === 'learned',
            })}
          </details>`
    }
    ${
      vague.length === 0
        ? ''
        : html`<details>
            <summary>Not identified: ${numbersText(vague)}</summary>
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
    ${glossaryPart(fit)} ${FIT_LEGEND.map((text) => html`<p class="soft">${text}</p>`)}`;
}

/** What the numbers are that were narrowed or moved. */
function glossaryPart({ assumptions }: AssumptionFit): Html {
  const entries = fitGlossary(assumptions);
  if (entries.length === 0) return html``;
  return html`<details>
    <summary>What the numbers narrowed or moved are</summary>
    <ul>
      ${entries.map(({ name, meaning }) => html`<li>${name}: ${meaning}</li>`)}
    </ul>
  </details>`;
}

/** Assumptions, and error sizes of the readings apart, as everywhere. */
function numbersText(rows: readonly FittedAssumption[]): string {
  const errors = rows.filter(({ path }) => isOfRecords(path)).length;
  const own = countedText(rows.length - errors, 'assumption');
  return errors === 0 ? own : `${own} and ${errorSizesText(errors)}`;
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
  const { calibration, tires, stones, readings } = fit.checks;
  const left = vacuousText(withoutVacuous(readings).left);
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
      cell: calibrationVerdictText,
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
    ${left.map((text) => html`<p class="soft">Without any reading of the tire: ${text}</p>`)}
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
export function nextPart({ nextReadings }: AssumptionFit, isFlown: FlownTogether): Html {
  const columns: readonly Column<NextReading>[] = [
    { title: 'Further records', cell: (each) => whatText(each, isFlown) },
    {
      title: html`Would narrow <small>spread left of that assumed, now and then</small>`,
      cell: ({ narrows }) =>
        narrows.length === 0
          ? 'no single assumption by much'
          : narrows.map(
              ({ path, now, then }) =>
                html`<span>${fittedName(path)}: ${leftText(now)} to ${leftText(then)}</span><br />`,
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
      the fit is about right. ${NEXT_RANKING}
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
