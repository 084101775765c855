import { nextUniform53, openStream, streamKey } from '../random/stream.js';
import { properShare, UsageError } from '../problems.js';
import { nearestName } from '../units.js';
import type { Logbook } from './record-types.js';

/** Tires of a log that have groove readings, by name. */
function tiresRead({ readings }: Logbook): string[] {
  return [...new Set(readings.map(({ tire }) => tire))].sort();
}

/**
 * Chooses tires to hold out of a fit: some share of those with groove readings. The same log, share and seed give the same
 * tires, whatever the order of the records.
 *
 * @param logbook checked records.
 * @param share between 0 and 1; rounded to whole tires, at least one.
 * @param seed names the random stream.
 * @returns names of tires, for `heldOut` of a fit.
 * @throws UsageError for a share out of range, and where no tire or all tires would be held out.
 */
export function heldOutShare(logbook: Logbook, share: number, seed: string | number): string[] {
  properShare('share of tires held out', share);
  const tires = tiresRead(logbook);
  const count = Math.max(1, Math.round(share * tires.length));
  if (count >= tires.length) {
    throw new UsageError(
      `the log has groove readings of ${tires.length} tires: none is left to fit if ${count} are held out`,
    );
  }
  const stream = openStream(streamKey(String(seed), 'tires held out', 0));
  return tires
    .map((tire) => ({ tire, place: nextUniform53(stream) }))
    .sort((one, other) => one.place - other.place)
    .slice(0, count)
    .map(({ tire }) => tire)
    .sort();
}

/**
 * Checks names of tires to hold out.
 *
 * @param logbook checked records.
 * @param names as given.
 * @returns the names, once each.
 * @throws UsageError naming each tire that the log does not have, with the nearest one, or that has no groove reading.
 */
export function heldOutNamed(logbook: Logbook, names: readonly string[]): string[] {
  const tires = logbook.tires.map(({ id }) => id);
  const read = tiresRead(logbook);
  const problems = [...new Set(names)].flatMap((name) => {
    if (read.includes(name)) return [];
    if (tires.includes(name)) return [`tire "${name}" has no groove reading to hold out`];
    const nearest = nearestName(name, read);
    return [`the log has no tire "${name}"${nearest === null ? '' : `; did you mean "${nearest}"?`}`];
  });
  if (problems.length > 0) throw new UsageError(problems.join('; '));
  return [...new Set(names)];
}
