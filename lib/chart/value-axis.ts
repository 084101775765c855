import { fieldUnit } from '../scenario/assumption-words.js';
import { assumptionName } from '../scenario/assumption-words.js';
import { assumptionField } from '../scenario/assumption-fields.js';
import { formatQuantity } from '../units.js';
import { logRange } from './log-axis.js';
import { roomAround } from './driver-rows.js';

/** Values this far apart, highest over lowest, stand on a log axis. */
const WIDE_RATIO = 10;
/** Where all values are below this they are written with a power of ten, which moves into the title of the axis. */
const SMALL = 0.01;
/** From a value below this on the power is that of the value, as texts write it too. */
const TINY = 0.001;
const TICK_LABEL_PX = 44;
const SUPERSCRIPTS = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** An axis of values of an assumption, in the unit of scenarios. */
export interface ValueAxis {
  /** Name and unit. */
  readonly title: string;
  readonly type: 'linear' | 'log';
  readonly domain: readonly [number, number];
  /** Null: those that Vega chooses. */
  readonly ticks: readonly number[] | null;
  /** Where a value in SI units stands. */
  readonly valueOf: (si: number) => number;
  /** A value in words, with the power of ten and the unit of the axis: "2 × 10⁻⁴ /m2". */
  readonly textOf: (si: number) => string;
}

/** Width of the plot, px. */
export const VALUE_PLOT_PX = 460;

/**
 * The axis of an assumption.
 *
 * @param path place of the assumption.
 * @param valuesSi values that are drawn, SI units.
 * @param toldSi a value that texts speak of, SI units: the power of ten is then its own.
 */
export function valueAxis(path: string, valuesSi: readonly number[], toldSi?: number): ValueAxis {
  const field = assumptionField(path)?.field ?? null;
  const unit = field === null ? 'SI units' : fieldUnit(field);
  const inUnit = (si: number): number =>
    field === null ? si : Number.parseFloat(formatQuantity(si, field.dimension, unit, 15));
  const values = valuesSi.map(inUnit);
  const low = values.reduce((a, b) => Math.min(a, b), Infinity);
  const high = values.reduce((a, b) => Math.max(a, b), -Infinity);
  const power = powerOf(toldSi === undefined ? high : inUnit(toldSi), toldSi === undefined ? SMALL : TINY);
  // Divided, not multiplied by a negative power: powers of ten below one are not exact.
  const valueOf = (si: number): number => Number((inUnit(si) * 10 ** -power).toPrecision(6));
  const shown = valuesSi.map(valueOf);
  const times =
    power === 0 ? '' : `10⁻${Array.from(String(-power), (digit) => SUPERSCRIPTS[Number(digit)]).join('')}`;
  const units = [times, unit].filter((part) => part !== '').join(' ');
  const textOf = (si: number): string =>
    [Number(valueOf(si).toPrecision(3)), ...(times === '' ? [] : ['×']), units].join(' ').trim();
  const isLog = low > 0 && high / low >= WIDE_RATIO;
  const title = `${assumptionName(path)} (${units === '' ? 'a number' : units})${isLog ? ', log' : ''}`;
  if (!isLog) return { title, type: 'linear', domain: roomAround(shown), ticks: null, valueOf, textOf };
  const { domain, ticks } = logRange(shown, [0, Infinity], VALUE_PLOT_PX, TICK_LABEL_PX);
  return { title, type: 'log', domain, ticks, valueOf, textOf };
}

/** Power of ten that is taken out of values below a limit; 0 for others. */
function powerOf(value: number, limit: number): number {
  return value > 0 && value < limit ? Math.floor(Math.log10(value)) : 0;
}
