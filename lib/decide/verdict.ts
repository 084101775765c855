/** What the figures allow to say about the best set-up, as a type and in words. */
import type { Criterion } from './criteria.js';

/**
 * - `settled`: one set-up is best on average, and knowing more would not gain what matters.
 * - `run more trials`: the error of the simulation hides the answer; trials shrink it.
 * - `measure`: which one is best depends on what is not known of the world; trials do not help, measuring does.
 * - `practically equal`: the means differ by less than what matters.
 */
export type VerdictKind = 'settled' | 'run more trials' | 'measure' | 'practically equal';

/** What can be said about the best set-up on a mix by one criterion. */
export interface Verdict {
  readonly kind: VerdictKind;
  /** One or two sentences. */
  readonly text: string;
  /** Set-up with the best mean in these trials. */
  readonly best: string;
  /** Set-ups that are practically equal to it. */
  readonly equal: readonly string[];
  /** Set-ups of which the trials do not tell whether they are worse, equal or better. */
  readonly open: readonly string[];
  /** About how many trials more would tell; null unless they would help, or if no number would be enough. */
  readonly moreTrials: number | null;
  /** What to measure; null unless measuring is called for and it is known what. */
  readonly measure: string | null;
}

/** What a later study is asked: which measurement would tell two set-ups apart. */
export interface MeasureQuestion {
  readonly mix: string;
  readonly criterion: Criterion;
  /** Best on average. */
  readonly best: string;
  /** The set-up that is best in most of the other worlds. */
  readonly rival: string;
}

/** A set-up that is not the best on average. */
export interface Rival {
  readonly setup: string;
  /** How far its mean is behind that of the best, 0 or more, in the unit of the criterion. */
  readonly behind: number;
  /** Half-width of the interval of `behind`, at the level shared out among the rivals. */
  readonly reach: number;
  readonly shareOfWorldsBest: number | null;
}

/** Everything a verdict rests on. */
export interface Evidence {
  readonly mix: string;
  readonly criterion: Criterion;
  readonly unit: string;
  readonly trials: number;
  readonly best: string;
  readonly rivals: readonly Rival[];
  /** Difference in the means that does not matter, in the unit of the criterion. */
  readonly indifference: number;
  /** What not knowing the world costs those who choose the best on average; null with too few twins. */
  readonly ignoranceRegret: number | null;
  readonly shareOfWorldsBest: number | null;
  /** Says what to measure; null if it is not known. */
  readonly whatToMeasure: (question: MeasureQuestion) => string | null;
}

/** Trials are asked for in two figures: the number rests on an estimate itself. */
const FIGURES_OF_TRIALS = 2;
/** Fewer more than this, or than this share of those run, would tell nothing new: what is needed is not known so well. */
const LEAST_MORE_TRIALS = 100;
const LEAST_MORE_SHARE = 0.1;

/**
 * Weighs the evidence.
 *
 * First the simulation: every rival must be clearly behind, or within what does not matter; else more trials are asked
 * for. Then ignorance: if knowing the world would gain more than what matters, measuring is called for. Only then is
 * the answer settled, or the set-ups equal for practical ends.
 */
export function judge(evidence: Evidence): Verdict {
  const { rivals, indifference, trials } = evidence;
  const equal = rivals.filter(({ behind, reach }) => behind + reach <= indifference);
  const open = rivals.filter((rival) => !equal.includes(rival) && rival.behind - rival.reach <= 0);
  const common = { best: evidence.best, equal: equal.map(nameOf), open: open.map(nameOf) };
  if (open.length > 0) {
    const needed = Math.max(...open.map((rival) => trialsNeeded(rival, indifference, trials)));
    const moreTrials = Number.isFinite(needed) ? moreThan(needed, trials) : null;
    return {
      ...common,
      kind: 'run more trials',
      moreTrials,
      measure: null,
      text: openText(evidence, open, moreTrials),
    };
  }
  const { ignoranceRegret } = evidence;
  if (ignoranceRegret !== null && ignoranceRegret > indifference) {
    const rival = strongestRival(rivals);
    const { mix, criterion, best } = evidence;
    const measure = evidence.whatToMeasure({ mix, criterion, best, rival: rival.setup });
    return {
      ...common,
      kind: 'measure',
      moreTrials: null,
      measure,
      text: measureText(evidence, rival, measure),
    };
  }
  if (equal.length > 0) {
    return {
      ...common,
      kind: 'practically equal',
      moreTrials: null,
      measure: null,
      text: equalText(evidence, equal),
    };
  }
  return { ...common, kind: 'settled', moreTrials: null, measure: null, text: settledText(evidence) };
}

/**
 * Trials after which the interval of the difference would lie above 0, or below what does not matter, whichever comes
 * first, if the difference is what it seems.
 */
function trialsNeeded({ behind, reach }: Rival, indifference: number, trials: number): number {
  const margin = Math.max(behind, indifference - behind);
  return margin > 0 ? trials * (reach / margin) * (reach / margin) : Infinity;
}

/** Trials to run beside those that have been: worth the while, and in two figures. */
function moreThan(needed: number, trials: number): number {
  const whole = Math.ceil(Math.max(needed - trials, LEAST_MORE_TRIALS, LEAST_MORE_SHARE * trials));
  const step = Number(`1e${Math.max(0, String(whole).length - FIGURES_OF_TRIALS)}`);
  return Math.ceil(whole / step) * step;
}

/** The rival that is best in most worlds; the nearest one if that is not known. */
function strongestRival(rivals: readonly Rival[]): Rival {
  return rivals.reduce((strongest, rival) => {
    const more = (rival.shareOfWorldsBest ?? 0) - (strongest.shareOfWorldsBest ?? 0);
    return more > 0 || (more === 0 && rival.behind < strongest.behind) ? rival : strongest;
  });
}

const nameOf = ({ setup }: { readonly setup: string }): string => setup;

const LEAD: Readonly<Record<Criterion, string>> = {
  life: 'lasts longest on average',
  flats: 'has the fewest flats on average',
  costPerHour: 'is cheapest on average',
  daysLost: 'loses the fewest days on average',
};

function openText(
  { mix, unit, best, indifference }: Evidence,
  open: readonly Rival[],
  more: number | null,
): string {
  const gaps = open.map(
    ({ setup, behind, reach }) => `"${setup}" (${figure(behind)} ± ${figure(reach)} ${unit} behind)`,
  );
  const ask =
    more === null
      ? 'No number of trials may be enough: state a difference that does not matter.'
      : `Run about ${more} more trials to tell them apart or call them equal within ${figure(indifference)} ${unit}.`;
  return `Cannot tell yet on ${mix}: "${best}" leads, but not for certain before ${gaps.join(', ')}. ${ask}`;
}

function measureText(
  { mix, unit, criterion, best, ignoranceRegret, shareOfWorldsBest }: Evidence,
  rival: Rival,
  measure: string | null,
): string {
  const what = measure ?? `what decides between "${best}" and "${rival.setup}"`;
  return (
    `Too close to call in these assumptions: on ${mix}, "${best}" ${LEAD[criterion]}, but is best only in ` +
    `${percent(shareOfWorldsBest ?? 0)} of the worlds they allow ("${rival.setup}" in ` +
    `${percent(rival.shareOfWorldsBest ?? 0)}). Knowing the world would gain ${figure(ignoranceRegret ?? 0)} ${unit} ` +
    `on average. More trials do not help: measure ${what}.`
  );
}

function equalText(
  { mix, unit, best, indifference, ignoranceRegret }: Evidence,
  equal: readonly Rival[],
): string {
  const names = [best, ...equal.map(nameOf)].map((name) => `"${name}"`).join(' and ');
  return `Practically equal on ${mix}: ${names} differ by less than ${figure(indifference)} ${unit} on average.${ignoranceText(ignoranceRegret)}`;
}

function settledText(evidence: Evidence): string {
  const { mix, unit, criterion, best, rivals, shareOfWorldsBest, ignoranceRegret } = evidence;
  const next = rivals.reduce((nearest, rival) => (rival.behind < nearest.behind ? rival : nearest));
  const worlds =
    shareOfWorldsBest === null ? '' : `, and is best in ${percent(shareOfWorldsBest)} of the worlds assumed`;
  return `Settled on ${mix}: "${best}" ${LEAD[criterion]}, ${figure(next.behind)} ${unit} ahead of "${next.setup}"${worlds}.${ignoranceText(ignoranceRegret)}`;
}

function ignoranceText(regret: number | null): string {
  return regret === null ? ' Too few twins to tell what knowing the world would gain.' : '';
}

function figure(value: number): string {
  return String(Number(value.toPrecision(2)));
}

function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}
