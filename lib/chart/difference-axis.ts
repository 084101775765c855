const TICKS = 4;

/**
 * A linear axis for differences: all values and 0 inside, a little room at both ends, a few round ticks.
 *
 * @param values in the unit of the axis.
 */
export function differenceRange(values: readonly number[]): {
  readonly domain: readonly [number, number];
  readonly ticks: readonly number[];
} {
  const low = values.reduce((a, b) => Math.min(a, b), 0);
  const high = values.reduce((a, b) => Math.max(a, b), 0);
  const span = high - low || 1;
  const domain = [low - 0.06 * span, high + 0.06 * span] as const;
  const raw = span / TICKS;
  const size = 10 ** Math.floor(Math.log10(raw));
  const step = size * ([1, 2, 5, 10].find((factor) => factor * size >= raw) ?? 10);
  const first = Math.ceil(domain[0] / step);
  const last = Math.floor(domain[1] / step);
  const decimals = Math.min(9, Math.max(0, -Math.floor(Math.log10(step))));
  return {
    domain,
    ticks: Array.from(
      { length: last - first + 1 },
      (_, index) =>
        // Adding 0 turns -0 into 0.
        Number(((first + index) * step).toFixed(decimals)) + 0,
    ),
  };
}
