import { AUTHORITY, type Caution } from '../cautions.js';
import { version } from '../version.js';
import { TABLE_WIDTH } from './table.js';
import { printable, wrap } from './words.js';

/** What an answer was made from. */
export interface AnswerOrigin {
  /** Title of the scenario. */
  readonly scenario: string;
  readonly seed: string;
  readonly trials: number;
}

/** The parts of an answer in text. */
export interface DecisionParts {
  /** The answer in plain words, a paragraph each. */
  readonly answers: readonly string[];
  /** Tables and lists, ready to print. */
  readonly blocks: readonly string[];
  /** How to read them, a paragraph each. */
  readonly legend: readonly string[];
  /** Besides the one that always stands at the end. */
  readonly cautions: readonly Caution[];
}

/**
 * Puts an answer together: words first, then what they rest on, how to read it, and who decides.
 *
 * @param origin of the answer.
 * @param parts of the text.
 * @returns text of at most 100 columns, ending without a line end.
 */
export function decisionText({ scenario, seed, trials }: AnswerOrigin, parts: DecisionParts): string {
  const { answers, blocks, legend, cautions } = parts;
  const paragraph = (text: string): string => wrap(printable(text), TABLE_WIDTH, '  ');
  const told = [...cautions.filter(({ code }) => code !== AUTHORITY.code), AUTHORITY];
  return [
    answers.map(paragraph).join('\n'),
    paragraph(`${scenario}; ${trials} trials, seed ${seed}, gravelbar ${version()}`),
    ...blocks,
    legend.map(paragraph).join('\n'),
    told.map(({ message }) => paragraph(`Caution: ${message}`)).join('\n'),
  ]
    .filter((text) => text !== '')
    .join('\n\n');
}
