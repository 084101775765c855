/** What the chart of assumptions moved one at a time is about: the figure of a set-up, or the lead of one over another. */
import { UsageError } from '../problems.js';
import type { Criterion } from '../decide/criteria.js';
import type { DrivenFigure } from '../sensitivity/figures.js';
import { FIGURE_WORDS } from '../sensitivity/input-words.js';
import type { OneAssumption, OneAtATimeStudy } from '../sensitivity/one-at-a-time-types.js';
import { indexOfName } from '../simulate/names.js';
import { effectRow, leadRow, type EffectRow } from './assumption-effect-rows.js';
import { figureAxis, type FigureAxis } from './driver-rows.js';
import { shortName } from './labels.js';

/** What is drawn. */
export interface EffectSubject {
  /** With whole names. */
  readonly whole: string;
  /** In a plain run, in the unit of the study. */
  readonly base: number;
  readonly axis: FigureAxis;
  readonly row: (assumption: OneAssumption) => EffectRow;
  /** Says which assumption has the largest effect, and that none has. */
  readonly largest: (assumption: string) => string;
  readonly nothing: string;
  /** What holds below 0; null where nothing turns there. */
  readonly belowZero: string | null;
}

interface SubjectOptions {
  readonly figure: DrivenFigure;
  readonly setup?: string | undefined;
  readonly hoursPerSeason?: number | undefined;
}

/** The figure of a set-up. */
export function setupSubject(study: OneAtATimeStudy, options: SubjectOptions): EffectSubject {
  const { figure } = options;
  const setup = setupOf(study, options);
  const what = `${FIGURE_WORDS[figure]} with ${shortName(setup)}`;
  return {
    whole: `mean ${FIGURE_WORDS[figure]} with ${setup}`,
    base: meanOf(study, setup, figure),
    axis: seasonAxis(study, options),
    row: (assumption) => effectRow(assumption, setup, figure),
    largest: (assumption) => `Largest effect on ${what}: ${assumption}`,
    nothing: `No assumption changes ${what}`,
    belowZero: null,
  };
}

/** The lead that the study watched. */
export function leadSubject(study: OneAtATimeStudy, options: SubjectOptions): EffectSubject {
  const { figure, setup } = options;
  if (setup !== undefined) {
    throw new UsageError(
      `a lead is that of the two set-ups that the study watched; found setup "${setup}" too`,
    );
  }
  const criterion = figure as Criterion;
  const ranking = study.assumptions[0]?.rankings.find((each) => each.criterion === criterion);
  if (ranking === undefined) {
    throw new UsageError(
      `the study has no lead in ${FIGURE_WORDS[figure]}: it needs two set-ups and what they can be chosen by`,
    );
  }
  const { ahead, behind } = ranking;
  const sign = figure === 'life' ? 1 : -1;
  const axis = seasonAxis(study, options);
  const lead = `the lead of ${shortName(ahead)} over ${shortName(behind)}`;
  return {
    whole: `the lead of ${ahead} over ${behind} in ${FIGURE_WORDS[figure]}`,
    base: sign * (meanOf(study, ahead, figure) - meanOf(study, behind, figure)),
    axis: {
      ...axis,
      axisTitle: `lead of ${shortName(ahead)} over ${shortName(behind)} (${axis.unit})`,
    },
    row: (assumption) => leadRow(assumption, criterion),
    largest: (assumption) => `Largest effect on ${lead}: ${assumption}`,
    nothing: `No assumption changes ${lead}`,
    belowZero: `below 0, ${shortName(behind)} is better`,
  };
}

function meanOf({ base }: OneAtATimeStudy, setup: string, figure: DrivenFigure): number {
  return base.find((each) => each.setup === setup && each.figure === figure)!.mean.estimate;
}

/** The axis of a figure; money of a season where the hours of one are given. */
function seasonAxis(study: OneAtATimeStudy, { figure, hoursPerSeason }: SubjectOptions): FigureAxis {
  const { unit } = study.assumptions[0]!.effects.find((each) => each.figure === figure)!;
  if (hoursPerSeason === undefined || figure !== 'costPerHour') return figureAxis(figure, unit);
  if (!(hoursPerSeason > 0 && Number.isFinite(hoursPerSeason))) {
    throw new UsageError(`hoursPerSeason is ${hoursPerSeason}; allowed: above 0`);
  }
  const seasonal = unit.replace(' per flight hour', ' a season');
  return { ...figureAxis(figure, seasonal), scale: hoursPerSeason };
}

function setupOf(study: OneAtATimeStudy, { setup, figure }: SubjectOptions): string {
  if (setup !== undefined) {
    indexOfName(
      'set-up in the study',
      setup,
      study.setups.map((name) => ({ name })),
    );
    return setup;
  }
  const sign = figure === 'life' ? -1 : 1;
  const means = study.base.filter((each) => each.figure === figure);
  return means.reduce((best, each) => (sign * (each.mean.estimate - best.mean.estimate) < 0 ? each : best))
    .setup;
}
