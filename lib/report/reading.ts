import { amountText, percentSpan, seasonsText, spanText } from '../chart/figures.js';
import { html, type Html } from './html.js';
import type { Lead } from './lead.js';

/**
 * How to read a figure with its interval, explained with figures of this run.
 *
 * @param lead whose figures to take.
 */
export function reading({ leader, mix }: Lead): Html {
  const { life, puncture, setup } = leader;
  const { hours } = life;
  const { season, acrossWorlds } = puncture;
  const median =
    hours.p50 === null
      ? html`<p>
          A life <b>beyond the horizon</b> was not followed to its end: the run stops after a fixed number of
          years.
        </p>`
      : html`<p>
          <b>${amountText(hours.p50)} hours, 8 of 10 sets ${spanText(hours.p10, hours.p90)}</b> (${setup} on
          ${mix}): half of the sets of tires last longer than the first figure. One set in ten ends before the
          range, one in ten after it. Your next set may be any of them: the range is for one set, not for an
          average.
        </p>`;
  const chance =
    season.estimate === 0
      ? ''
      : html`<p>
            <b>${seasonsText(season.estimate)}</b>: fly very many such seasons, and that share of them has at
            least one flat. It is no promise that the others come first.
            <b>8 of 10 worlds ${percentSpan(acrossWorlds.p10, acrossWorlds.p90)}</b>: we do not know the
            ground and the rubber well enough to narrow the chance further; records of your own would.
          </p>
          <p>
            <b>95 % ${percentSpan(season.lower, season.upper)}</b>: the error of the simulation alone. With
            more trials it shrinks to nothing, and the ranges above stay.
          </p>`;
  return html`${median}${chance}
    <p>
      Three doubts are kept apart. <b>Luck</b> is what differs between sets flown in one and the same world.
      <b>Ignorance</b> is what differs between the worlds that our assumptions allow. <b>Numerical</b> error
      is that of the simulation. Figures called luck and ignorance are standard deviations: about two in three
      sets lie within one of them from the middle.
    </p> `;
}

/** Words of this page, as used here. */
const GLOSSARY: readonly (readonly [term: string, meaning: string])[] = [
  ['Set-up', 'Tires, their cold pressures, and fairings or none.'],
  ['Strip', 'A place to land: its surfaces, length, elevation, and whether help is at hand.'],
  ['Runway mix', 'Shares of the landings over strips.'],
  ['Season', 'The first year flown on new tires.'],
  [
    'Set of tires',
    'The two main tires, fitted new. Its life ends when the first of the two must come off, for any reason.',
  ],
  ['Median', 'The middle: half of all cases lie below, half above.'],
  [
    'Flat',
    'Any sudden loss of air on any wheel: a stone through tread or side, a pinch on the rim, a torn valve.',
  ],
  ['Away from help', 'On a strip without a spare, tools and a mechanic within the hour.'],
  ['Tread limit', 'Groove depth at which a tire comes off by the habits of this scenario.'],
  ['Cords', 'The plies below the rubber. They show after the tread limit, and the two are never mixed here.'],
  [
    'World',
    'One draw of everything we do not know: wear rates, stones, habits. Each trial lives in a world of its own.',
  ],
  ['Trial', 'One world lived through, landing by landing.'],
  [
    'Spin-up, braking, pivots, squirm, scrub',
    'What wears a tire: bringing it to speed at touchdown, braking slip, turning on a locked wheel, the tread that rubs as the footprint flattens, side slip in turns and crosswind.',
  ],
  ['Cold pressure', 'Gauge pressure as set before flight, tires at air temperature.'],
  ['Horizon', 'Time after which the run stops following a tire.'],
];

/** The words of the page and what they mean. */
export function glossary(): Html {
  return html`<dl class="glossary">
    ${GLOSSARY.map(
      ([term, meaning]) =>
        html`<dt>${term}</dt>
          <dd>${meaning}</dd> `,
    )}
  </dl> `;
}
