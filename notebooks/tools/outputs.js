// Do the outputs of two runs say the same?

/**
 * Numbers in chart data may differ by this much, relative to their size: charts are made with functions such as Math.log,
 * whose last bits differ between versions of Node. Texts must be the same.
 */
const LAST_BITS = 1e-9;

/** Media that hold JSON. */
const JSON_TYPE = /^application\/(?:.+\+)?json$/;

/**
 * The first difference between outputs of a cell.
 *
 * @param {readonly import('./notebook.js').Output[]} saved
 * @param {readonly import('./notebook.js').Output[]} now
 * @returns {string | null} in words; null if they say the same.
 */
export function firstDifference(saved, now) {
  for (let index = 0; index < Math.max(saved.length, now.length); index++) {
    const difference = outputDifference(saved[index], now[index]);
    if (difference !== null) {
      return saved.length > 1 || now.length > 1 ? `output ${index + 1}: ${difference}` : difference;
    }
  }
  return null;
}

function outputDifference(saved, now) {
  const [before, after] = [kindOf(saved), kindOf(now)];
  if (before !== after) return `saved is ${before}, now comes ${after}`;
  if (now.text !== undefined) return textDifference(saved.text, now.text);
  const types = Object.keys(now.data ?? {}).sort();
  const hasSource = types.some((type) => JSON_TYPE.test(type));
  for (const type of types) {
    // A picture is drawn from the specification beside it, and its edges hang on last bits.
    if (hasSource && type.startsWith('image/')) continue;
    const difference = mediaDifference(type, saved.data[type], now.data[type]);
    if (difference !== null) return `${type}, ${difference}`;
  }
  return null;
}

function kindOf(output) {
  if (output === undefined) return 'nothing';
  if (output.output_type === 'stream') return `text on ${output.name}`;
  return `${output.output_type} of ${Object.keys(output.data ?? {})
    .sort()
    .join(', ')}`;
}

function mediaDifference(type, saved, now) {
  if (JSON_TYPE.test(type)) return valueDifference(saved, now, '');
  return textDifference(String(saved), String(now));
}

function textDifference(saved, now) {
  if (saved === now) return null;
  const [before, after] = [saved.split('\n'), now.split('\n')];
  const line = after.findIndex((text, index) => text !== before[index]);
  const at = line < 0 ? after.length : line;
  return `line ${at + 1}: saved ${shown(before[at])}, now ${shown(after[at])}`;
}

function valueDifference(saved, now, path) {
  if (typeof saved === 'object' && typeof now === 'object' && saved !== null && now !== null) {
    for (const name of new Set([...Object.keys(saved), ...Object.keys(now)])) {
      const difference = valueDifference(saved[name], now[name], path === '' ? name : `${path}.${name}`);
      if (difference !== null) return difference;
    }
    return null;
  }
  if (saved === now) return null;
  if (typeof saved === 'number' && typeof now === 'number') {
    if (Math.abs(saved - now) <= LAST_BITS * Math.max(Math.abs(saved), Math.abs(now))) return null;
  }
  return `${path}: saved ${shown(saved)}, now ${shown(now)}`;
}

function shown(value) {
  const text = value === undefined ? 'nothing' : JSON.stringify(value);
  return text.length > 100 ? `${text.slice(0, 99)}…` : text;
}
