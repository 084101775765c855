/** What matters, in words: the choice, and whether it is safe. */
import { DEFAULT_INDIFFERENCE_SHARE } from '../decide/best.js';
import type { WhatMatters } from '../sensitivity/what-matters-types.js';
import { countedText, roundedText, wholeText } from './amounts.js';
import { percentOf, shareText, unitText, valueText } from './drivers-words.js';
import { listText } from './lists.js';

/** What the best set-up is, in the middle of a sentence. */
const BEST_WORDS: Readonly<Record<WhatMatters['criterion'], string>> = {
  life: 'lasts longest on average',
  flats: 'has the fewest flats on average',
  costPerHour: 'is cheapest on average',
  daysLost: 'loses the fewest days on average',
};

/** The other aims. */
const AIM_WORDS: Readonly<Record<WhatMatters['criterion'], string>> = {
  life: 'life',
  flats: 'flats',
  costPerHour: 'cost',
  daysLost: 'days lost',
};

/** What a share is taken of. */
const WHOLE_WORDS: Readonly<Record<WhatMatters['criterion'], string>> = {
  life: 'its life',
  flats: "the season's flats",
  costPerHour: "the season's cost",
  daysLost: 'the days lost in a season',
};

/** What knowing more does. */
const GAIN_WORDS: Readonly<Record<WhatMatters['criterion'], string>> = {
  life: 'gain',
  flats: 'avoid',
  costPerHour: 'save',
  daysLost: 'save',
};

/** So few worlds are too few to say how much is lost there. */
const LEAST_SHARE_TOLD = 0.02;

/** Which set-up is best on average, by how much, and what the other aims say. */
export function choiceText({ choice, criterion, unit, otherAims }: WhatMatters): string {
  const { mix, best, rival, lead } = choice;
  const airplane = unit.endsWith(' per season') ? ', for one airplane' : '';
  const found = `On ${mix}, ${best} ${BEST_WORDS[criterion]}, ${valueText(lead)} ${unitText({ unit })} better than ${rival}${airplane}.`;
  return [found, ...aimsText(otherAims, best)].join(' ');
}

/** "By life and flats: rigid 29 deep too. By days lost: another, not told from the next." */
function aimsText(aims: WhatMatters['otherAims'], best: string): string[] {
  const kinds = new Map<string, string[]>();
  for (const { criterion, best: own, toldApart } of aims) {
    const answer = `${own}${own === best ? ' too' : ''}${toldApart ? '' : ', not told from the next'}`;
    kinds.set(answer, [...(kinds.get(answer) ?? []), AIM_WORDS[criterion]]);
  }
  return [...kinds].map(([answer, names]) => `By ${listText(names)}: ${answer}.`);
}

/** "589 credits, 5 % of the season's cost". */
function mattersText({ choice, unit, criterion }: WhatMatters): string {
  const share = percentOf(DEFAULT_INDIFFERENCE_SHARE);
  return `${roundedText(choice.indifference, 0)} ${unit.replace(' per season', '')}, ${share} % of ${WHOLE_WORDS[criterion]}`;
}

/** How often another set-up is best, and how much is lost there. */
function othersText(study: WhatMatters): string {
  const { shareOfWorldsOther, perfect, lead, contenders } = study.choice;
  if (shareOfWorldsOther === null || perfect === null) return '';
  const often = `another set-up is best in ${shareText(shareOfWorldsOther)} of the worlds assumed`;
  const share = shareOfWorldsOther.estimate;
  if (share < LEAST_SHARE_TOLD || share > 1 - LEAST_SHARE_TOLD || perfect.estimate === 0) return often;
  const unit = study.unit.replace(' per season', '');
  const lost = twoFigures(perfect.estimate / share);
  // The lead is what is won in the other worlds less what is lost in these.
  const won = twoFigures((lead.estimate + perfect.estimate) / (1 - share));
  return contenders.length === 2
    ? `${often}, by ${lost} ${unit} on average; in the others it is worse by ${won}`
    : `${often}, by ${lost} ${unit} on average`;
}

function twoFigures(value: number): string {
  return wholeOrShort(Number(value.toPrecision(2)));
}

function wholeOrShort(value: number): string {
  return value >= 100 ? wholeText(value) : String(value);
}

/** Whether the choice is safe, and what that means. */
export function safetyText(study: WhatMatters): string {
  const { choice, criterion, trials, missing } = study;
  const { kind, perfect, indifference, verdict, best, rival, lead, asGood } = choice;
  const unit = unitText(study);
  const matters = mattersText(study);
  const others = othersText(study);
  const soFar = missing.length === 0 ? '' : ' SO FAR';
  if (perfect === null) {
    return `NOT TOLD: ${wholeText(trials)} trials are too few to tell luck from ignorance. Run more.`;
  }
  const gain = `would ${GAIN_WORDS[criterion]} ${valueText(perfect)} ${unit}`;
  switch (kind) {
    case 'safe':
      return `SAFE${soFar}: even if every assumption were known, choosing by it ${gain}, less than what matters (${matters}); ${others}.`;
    case 'probably safe':
      return `PROBABLY SAFE${soFar}: if every assumption were known, choosing by it ${gain}; less than ${matters}, would not matter; ${others}.`;
    case 'either will do': {
      const equal = [best, ...new Set([...verdict.equal, ...asGood])];
      return `EITHER WILL DO${soFar}: ${listText(equal)} differ by less than what matters (${matters}). If every assumption were known, choosing by it ${gain}; ${others}.`;
    }
    case 'not safe': {
      const untold = lead.lower > 0 ? '' : `, NOR TOLD APART from ${rival} by ${wholeText(trials)} trials`;
      return `NOT SAFE${soFar}${untold}: ${others}. Knowing all assumptions ${gain}, more than what matters (${matters}).`;
    }
    case 'not told yet': {
      const more =
        verdict.moreTrials === null
          ? 'no number of trials may tell'
          : `about ${wholeText(trials + verdict.moreTrials)} would`;
      const rule =
        lead.lower > 0 && study.setups.length > 2
          ? ` (the lead over ${rival} is told by itself; with ${countedText(study.setups.length - 1, 'rival')} at once it takes more)`
          : '';
      const small =
        lead.estimate < indifference
          ? ` The lead seems below what matters (${matters}): take either.`
          : ` What matters: ${matters}.`;
      return `NOT TOLD YET${soFar}: ${wholeText(trials)} trials do not tell ${listText([best, ...verdict.open])} apart${rule}; ${more}.${small} Knowing all assumptions ${gain}; ${others}.`;
    }
  }
}
