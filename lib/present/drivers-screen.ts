import { AUTHORITY } from '../cautions.js';
import type { WhatMatters } from '../sensitivity/what-matters-types.js';
import { wholeText } from './amounts.js';
import {
  choiceText,
  deciderText,
  measuringTexts,
  mixesText,
  neverFlips,
  restText,
  safetyText,
  unitText,
} from './drivers-words.js';
import { TABLE_WIDTH } from './table.js';
import { printable, wrap } from './words.js';

/**
 * What matters in one screen: the choice and whether it is safe, what it hangs on, what to measure next.
 *
 * @param study from whatMatters, whole or stopped.
 * @returns some 24 lines of at most 100 columns, ending without a line end.
 */
export function driversScreen(study: WhatMatters): string {
  const { deciders, missing } = study;
  const rest = restText(study);
  const mixes = mixesText(study);
  return [
    ...(missing.length === 0
      ? []
      : [paragraph(`STOPPED EARLY: ${missing.join(', ')} not finished. What stands here is what is.`)]),
    paragraph(choiceText(study)),
    paragraph(safetyText(study)),
    '',
    paragraph(headingText(study)),
    ...deciders.map((decider, place) => paragraph(deciderText(study, decider), `${place + 1}. `)),
    ...(rest === null ? [] : [paragraph(rest, '   ')]),
    '',
    ...measuringTexts(study).map((text, place) => paragraph(text, place === 0 ? '' : '  ')),
    ...(mixes === null ? [] : [paragraph(mixes)]),
    paragraph(originText(study)),
    paragraph(`Caution: ${AUTHORITY.message}`),
  ].join('\n');
}

const COUNTED = ['', 'This assumption', 'These two assumptions', 'These three assumptions'] as const;

/** What the deciders do: they decide the choice, or move the lead without ever turning it. */
function headingText(study: WhatMatters): string {
  const { deciders, choice } = study;
  const lead = `(lead of ${choice.best} over ${choice.rival}, ${unitText(study)}):`;
  if (deciders.length === 0) return 'No assumption is seen to move the lead.';
  const one = deciders.length === 1;
  const they = COUNTED[deciders.length]!;
  return neverFlips(study)
    ? `${they} move${one ? 's' : ''} the lead most, but no plausible value flips the choice ${lead}`
    : `${they} decide${one ? 's' : ''} it ${lead}`;
}

/** What the study was made from, and what it took. */
function originText({ scenario, seed, version, work }: WhatMatters): string {
  const sum = (values: readonly number[]): number => values.reduce((all, each) => all + each, 0);
  const landings = sum(work.map((each) => each.landings));
  const counted =
    landings < 1e6 ? `${wholeText(landings)} landings` : `${wholeText(landings / 1e6)} million landings`;
  return `${scenario}; ${counted}, seed ${seed}, gravelbar ${version}`;
}

/** Lines that begin with a lead, those that follow set in as far and two more. */
function paragraph(text: string, lead = ''): string {
  const lines = wrap(printable(text), TABLE_WIDTH - lead.length, '  ').split('\n');
  return lines.map((line, place) => (place === 0 ? lead : ' '.repeat(lead.length)) + line).join('\n');
}
