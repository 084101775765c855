/** Landings that follow each other: from the first, up to but without `to`. */
export interface LandingGroup {
  readonly from: number;
  readonly to: number;
}

/**
 * Cuts landings into groups of about the same size, for charts that cannot draw each one.
 *
 * @param landings how many there are, at least 1.
 * @param most groups wanted at most.
 * @param starts landings, ascending, that begin a group whatever its size; they may make a few groups more.
 * @returns groups in order, without gaps.
 */
export function landingGroups(
  landings: number,
  most: number,
  starts: readonly number[] = [],
): LandingGroup[] {
  const size = Math.ceil(landings / most);
  const cuts = [0, ...starts.filter((start) => start > 0 && start < landings), landings];
  return cuts.slice(0, -1).flatMap((from, index) => {
    const length = cuts[index + 1]! - from;
    const parts = Math.ceil(length / size);
    return Array.from({ length: parts }, (_, part) => ({
      from: from + Math.round((part * length) / parts),
      to: from + Math.round(((part + 1) * length) / parts),
    }));
  });
}
