import { normalFromUniform } from '../../dist/numeric/normal.js';
import { nextUniform53, openStream, streamKey } from '../../dist/random/stream.js';

/** Numbers for the keeping of the log, apart from those of the simulator. */
export function makeChance(seed, purpose, index) {
  const stream = openStream(streamKey(seed, purpose, index));
  const uniform = () => nextUniform53(stream);
  return { uniform, normal: () => normalFromUniform(uniform()) };
}

/** Rounds to a step, as text with the decimals of the step. */
export function rounded(value, step) {
  const decimals = step >= 1 ? 0 : step >= 0.1 ? 1 : 2;
  return (Math.round(value / step) * step + 0).toFixed(decimals);
}
