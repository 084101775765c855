/**
 * Names in a row: "a", "a and b", "a, b and c".
 *
 * @param names any number.
 */
export function listText(names: readonly string[]): string {
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1)!}`;
}
