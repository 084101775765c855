/** Inputs and figures of studies in sentences: names instead of places in the scenario. */
import { assumptionName } from '../scenario/assumption-words.js';
import type { DrivenFigure } from './figures.js';

/** What the assumptions of an entry are called together, by section. */
const ENTRY_GROUPS: Readonly<Record<string, (entry: string) => string>> = {
  surfaces: (entry) => `surface ${entry}`,
  sidewalls: (entry) => `${entry} sidewall`,
  treads: (entry) => `${entry} tread`,
  compounds: (entry) => `${entry} rubber`,
  airplanes: (entry) => `airplane ${entry}`,
};

/**
 * Name of an input in a sentence: of one assumption ("sharp stones on gravel"), of all of an entry of the scenario
 * ("surface gravel"), or of a group as stated.
 *
 * @param input name in the study: a place in the scenario, or the name of a group.
 * @param paths assumptions that it stands for; none for landing luck.
 */
export function inputWords(input: string, paths: readonly string[]): string {
  if (paths.length === 1 && paths[0] === input) return assumptionName(input);
  const dot = input.indexOf('.');
  const group = ENTRY_GROUPS[input.slice(0, dot)];
  const isEntry = paths.length > 0 && paths.every((path) => path.startsWith(`${input}.`));
  return group !== undefined && isEntry ? group(input.slice(dot + 1)) : input;
}

/** What figures are called in a sentence. */
export const FIGURE_WORDS: Readonly<Record<DrivenFigure, string>> = {
  life: 'main tire life',
  flatChance: 'chance of a flat in a season',
  flats: 'flats',
  costPerHour: 'money',
  daysLost: 'days lost',
};
