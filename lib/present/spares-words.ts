import type { SpareStock } from '../decide/spares.js';
import { countedText } from './amounts.js';
import type { SparesCase, StockedAirplanes } from '../decide/stock-cases.js';
import { listText } from './lists.js';
import { percentText } from './words.js';

/** An item of the stock: "rigid 29 deep", "tube for rigid 29 deep", "patch kit". */
export function itemName({ kind, tire }: Pick<SpareStock, 'kind' | 'tire'>): string {
  if (tire === null) return kind;
  return kind === 'tire' ? tire : `${kind} for ${tire}`;
}

/** What to buy of an item: "4 tires rigid 29 deep", "1 patch kit". */
function unitsText({ stock, kind, tire }: SpareStock): string {
  const noun = countedText(stock, kind);
  if (tire === null) return noun;
  return kind === 'tire' ? `${noun} ${tire}` : `${noun} for ${tire}`;
}

/** The airplanes of a case: "2 bush runner and 1 town runner on rigid 29 deep". */
export function airplanesText(airplanes: readonly StockedAirplanes[]): string {
  const setups = [...new Set(airplanes.map(({ setup }) => setup))];
  const count = airplanes.reduce((sum, each) => sum + each.count, 0);
  if (setups.length === 1) return `${countedText(count, 'airplane')} on ${setups[0]!} all season`;
  return listText(
    airplanes.map(({ count: own, airplane, setup }) => `${own} ${airplane ?? 'airplane'} on ${setup}`),
  );
}

/**
 * The answer of a case in a sentence.
 *
 * @param stocked airplanes and their stock.
 */
export function sparesAnswer({ airplanes, spares }: SparesCase): string {
  const { items, serviceLevel, leadTimeDays } = spares;
  const needed = items.filter(({ stock }) => stock > 0);
  const rest = items.length - needed.length;
  const service = percentText(serviceLevel);
  const lead =
    leadTimeDays === null
      ? 'new tires at the start of the season, no deliveries in it'
      : `new tires at the start of the season, deliveries ${countedText(leadTimeDays, 'day')} after each use`;
  const bases = Object.keys(spares.airplanesAt);
  const keep =
    needed.length === 0
      ? 'no spares needed if the season begins on new tires'
      : `keep ${listText(needed.map((item) => `${unitsText(item)}${bases.length > 1 ? ` at ${item.base}` : ''}`))}`;
  const none = rest > 0 && needed.length > 0 ? ` (none of ${countedText(rest, 'other item')})` : '';
  return `${airplanesText(airplanes)}: ${keep}${none}${needed.length === 0 ? ':' : '; then'} nobody waits for an item in ${service} of seasons or more (${lead}).`;
}
