/** Trials of a remaining life: few agree with the readings, so fewer than the least would hardly ever tell anything. */
export const REMAINING_TRIALS = { least: 500, most: 100_000, usual: 20_000 } as const;
