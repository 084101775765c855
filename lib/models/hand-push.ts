/**
 * Force that one person may keep up to push a load, N: 10 kgf, about 100 N, for men, over up to 20 m on a level floor.
 * Source: HSE guideline (L23, INDG143). For women it is 7 kgf, about 70 N; twice as much to start.
 */
export const KEEP_MOVING_FORCE_N = 100;

/** The same guideline for women, N. */
export const KEEP_MOVING_FORCE_WOMEN_N = 70;

/**
 * Number of people who share a force within the guideline for one.
 *
 * @param forceN force to keep the airplane rolling, N; >= 0.
 * @param eachN force for one person, N; > 0.
 * @returns people, at least 1.
 */
export function pushersNeeded(forceN: number, eachN: number = KEEP_MOVING_FORCE_N): number {
  return Math.max(1, Math.ceil(forceN / eachN));
}
