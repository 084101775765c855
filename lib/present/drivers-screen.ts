import { AUTHORITY, FITTED } from '../cautions.js';
import type { WhatMatters } from '../sensitivity/what-matters-types.js';
import { wholeText } from './amounts.js';
import { measuringTexts, mixesText } from './drivers-advice-words.js';
import { choiceText, safetyText } from './drivers-safety-words.js';
import { deciderText, neverFlips, restName, restOf, restText, unitText } from './drivers-words.js';
import { listText } from './lists.js';
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
    // Numbers that are fitted may be in doubt as a whole.
    ...(study.cautions ?? [])
      .filter(({ code }) => code === FITTED.code)
      .map(({ message }) => paragraph(`Caution: ${message}`)),
    paragraph(`Caution: ${AUTHORITY.message}`),
  ].join('\n');
}

const COUNTED = ['', 'This assumption', 'These two assumptions', 'These three assumptions'] as const;

/** What the deciders do: they decide the choice, or only move the lead. */
function headingText(study: WhatMatters): string {
  const { deciders, choice } = study;
  const one = deciders.length === 1;
  const told = deciders.some(({ verdict }) => verdict?.kind === 'matters');
  const few =
    study.variance === null || told
      ? ''
      : `; ${study.variance.rows} rows are too few to share out the spread`;
  const order = `${one ? '' : `; ${told ? 'surest' : 'farthest'} first`}${few}`;
  const lead = `(share of its spread; lead over ${choice.rival}, ${unitText(study)}${order}):`;
  const above = largerThanNamed(study);
  const alone =
    above.length === 0 ? '' : `No single assumption decides: more is held by ${listText(above)}. `;
  if (deciders.length === 0) return `${alone}No assumption is seen to move the lead by itself.`;
  const they = COUNTED[deciders.length]!;
  if (above.length === 0 && decides(study)) return `${they} decide${one ? 's' : ''} it ${lead}`;
  const never = neverFlips(study) ? ', but no plausible value is seen to flip the choice' : '';
  return `${alone}${they} move${one ? 's' : ''} the lead most${never} ${lead}`;
}

/** Luck, and the other assumptions together, where they hold more than any that is named. */
function largerThanNamed(study: WhatMatters): string[] {
  const largest = Math.max(0, ...study.deciders.map(({ share }) => share?.estimate ?? 0));
  return restOf(study)
    .filter(({ total }) => total.estimate > largest)
    .map(({ input }) => restName(study, input));
}

/** True if the choice is open, and each decider is told to matter and turns it or nearly so. */
function decides({ choice, deciders, missing }: WhatMatters): boolean {
  return (
    missing.length === 0 &&
    (choice.kind === 'not safe' || choice.kind === 'not told yet') &&
    deciders.every(
      ({ verdict, threshold, swing }) =>
        verdict?.kind === 'matters' &&
        ((threshold?.flips.length ?? 0) > 0 ||
          (swing !== null && Math.min(swing.atLow.lower, swing.atHigh.lower) <= 0)),
    )
  );
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
