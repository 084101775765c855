import { fitLife, type LifeFit } from '../estimate/life-fit.js';
import { fittedQuantile, fittedRemainingLife, type FitForecast } from '../estimate/life-forecast.js';
import type { LifeLawName } from '../estimate/life-laws.js';
import { properShare, UsageError } from '../problems.js';
import { dateOfDay } from './dates.js';
import { tireHistories } from './histories.js';
import { countLives, type LifeUnit } from './lives.js';
import { PlacedLives } from './placed-lives.js';
import { groupRemarks, livesRemarks, refusal } from './record-lives-remarks.js';
import type {
  FurtherLife,
  LifeGroup,
  LifePercentiles,
  LivesBy,
  RecordLaw,
  RecordLives,
  RecordLivesOptions,
} from './record-lives-types.js';
import type { LifeRecord, Logbook, TireHistory } from './record-types.js';
import { placeCounts } from './records-summary.js';

const DEFAULT_LEVEL = 0.95;
const LAWS: readonly LifeLawName[] = ['weibull', 'lognormal'];
/** Tires that must have passed a use under watch for shares to be told there unless asked otherwise: convention. */
const LEAST_AT_RISK = 5;
/** Difference of log-likelihood from which on lives speak for one law (a likelihood ratio of 7): convention. */
const TELLING_DIFFERENCE = 2;
const PERCENTILES = [
  ['p10', 0.1],
  ['p50', 0.5],
  ['p90', 0.9],
] as const;

/** Figures at the three percentiles. */
function atPercentiles<Figure>(figure: (probabilityEnded: number) => Figure): LifePercentiles<Figure> {
  const [p10, p50, p90] = PERCENTILES.map(([, probability]) => figure(probability)) as [
    Figure,
    Figure,
    Figure,
  ];
  return { p10, p50, p90 };
}

/**
 * Life statistics of a log: for each set-up (or class of tire), on main and third wheels apart, the life curve, what ended
 * the tires, fitted laws and the further life of a tire that has reached some use.
 *
 * Ends on known days and tires that had not ended are taken as such, also where a tire came under watch after some use.
 * Ends within a range of use stand in the middle of it on the curve, and the interval covers the curves with all of them
 * at the start and at the end of their ranges; laws take the range as it is. With fewer than five ends there is neither curve
 * nor law, only what share still runs.
 *
 * @param logbook a checked log.
 * @param options unit, grouping, uses to tell shares at, level.
 * @returns plain data.
 * @throws UsageError for a use or level out of range, where no tire can be counted in the unit, and for classes of which the
 * log tells none.
 * @example
 * import { readLogbook, recordLives } from 'gravelbar';
 * const log = readLogbook('scenarios/logbook/logbook.json');
 * const [soft] = recordLives(log, { unit: 'landings', at: [150] }).groups;
 * [soft?.name, soft?.wheels]; // => ['soft 29 at 9 psi', 'main']
 * soft?.shares[0]?.byCause.find(({ cause }) => cause === 'age')?.ends; // => 0
 */
export function recordLives(logbook: Logbook, options: RecordLivesOptions = {}): RecordLives {
  const { unit = 'landings', at = [] } = options;
  const by = groupingOf(logbook, options.by);
  const level = properShare('level', options.level ?? DEFAULT_LEVEL);
  for (const use of at) {
    if (!(use > 0 && use < Infinity)) throw new UsageError(`a use must be a number above 0; found ${use}`);
  }
  const histories = tireHistories(logbook);
  const { lives, uncounted } = countLives(histories, { unit });
  const used = lives.filter(({ from, to, entry }) => (to === Infinity ? from : to) > entry);
  if (used.length === 0) {
    throw new UsageError(
      `the log does not tell the ${unit} of any tire: ${unit === 'days' ? 'no tire was seen from new for a day' : 'it needs flights with them, or columns that state them'}`,
    );
  }
  const byTire = new Map(used.map((life) => [life.tire, life]));
  const sorted = new Map<string, TireHistory[]>();
  for (const history of histories) {
    const { tire } = history;
    if (!byTire.has(tire.id)) continue;
    const key = JSON.stringify([by === 'setup' ? tire.setup : tire.tireClass, tire.position === 'third']);
    const list = sorted.get(key);
    if (list === undefined) sorted.set(key, [history]);
    else list.push(history);
  }
  const groups = [...sorted.values()].map((members) =>
    describeGroup(
      members,
      members.map(({ tire }) => byTire.get(tire.id)!),
      { unit, by, at, level },
    ),
  );
  const inOrder = [
    ...groups.filter(({ wheels }) => wheels === 'main'),
    ...groups.filter(({ wheels }) => wheels === 'third'),
  ];
  return {
    logbook: logbook.name,
    note: logbook.note,
    firstDay: dateOfDay(logbook.firstDay),
    lastDay: dateOfDay(logbook.lastDay),
    unit,
    by,
    level,
    groups: inOrder,
    leftOut: {
      notCounted: uncounted,
      notUsed: lives.filter(({ tire }) => !byTire.has(tire)).map(({ tire }) => tire),
    },
    remarks: livesRemarks(inOrder),
  };
}

/** What to put tires together by: what was asked for, or what the log tells. */
function groupingOf({ tires }: Logbook, asked: LivesBy | undefined): LivesBy {
  const classes = tires.some(({ tireClass }) => tireClass !== null);
  if (asked === 'tire class' && !classes) {
    throw new UsageError('the log tells no class of any tire: read it with the scenario of its set-ups');
  }
  return asked ?? (classes && tires.every(({ setup }) => setup === null) ? 'tire class' : 'setup');
}

interface Request {
  readonly unit: LifeUnit;
  readonly by: LivesBy;
  readonly at: readonly number[];
  readonly level: number;
}

function describeGroup(
  members: readonly TireHistory[],
  lives: readonly LifeRecord[],
  { by, at, level }: Request,
): LifeGroup {
  const { tire } = members[0]!;
  const counted = (which: (index: number) => boolean): number =>
    lives.reduce((sum, { count }, index) => sum + (which(index) ? count : 0), 0);
  const ended = (index: number): boolean => lives[index]!.to < Infinity;
  const reasonOf = (index: number): string | null => {
    const { end } = members[index]!.tire;
    return end.kind === 'right' ? end.reason : null;
  };
  const ends = counted(ended);
  const placed = new PlacedLives(lives, level);
  const refused = refusal(ends);
  const longest = lives.reduce((most, { from, to }) => Math.max(most, to === Infinity ? from : to), 0);
  const fits = refused === null ? LAWS.map((law) => fitLife(lives, { law, level })) : null;
  const inService = lives.filter((_, index) => reasonOf(index) === 'in service');
  const ages = at.length > 0 ? at : middle(inService);
  const group = {
    name: by === 'setup' ? tire.setup : tire.tireClass,
    wheels: tire.position === 'third' ? ('third' as const) : ('main' as const),
    tires: counted(() => true),
    airplanes: new Set(members.map((each) => each.tire.airplane)).size,
    ends,
    endsInRange: counted((index) => ended(index) && lives[index]!.from < lives[index]!.to),
    inService: counted((index) => reasonOf(index) === 'in service'),
    takenOffSound: counted((index) => reasonOf(index) === 'sound'),
    takenUpUsed: counted((index) => lives[index]!.entry > 0),
    longest,
    places: placeCounts(
      members.flatMap(({ tire: { count }, exposure }) =>
        exposure.parts.map((part) => ({ ...part, landings: count * part.landings })),
      ),
    ),
    lives,
    refused,
    curve: refused === null ? placed.curve() : null,
    percentiles: refused === null ? atPercentiles((share) => placed.quantile(share)) : null,
    shares: (at.length > 0 ? at : [usualUse(placed, lives)]).map((use) => placed.shares(use)),
    laws: fits?.map((fit) => describeLaw(fit, ages, longest)) ?? null,
    betterLaw: better(fits),
  };
  return { ...group, remarks: groupRemarks(group, placed.endsEarly()) };
}

/** Greatest use that enough tires (of few: half of them) passed under watch; else that of the oldest one. */
function usualUse(placed: PlacedLives, lives: readonly LifeRecord[]): number {
  const uses = lives.map(({ from, to }) => (to === Infinity ? from : to)).sort((one, other) => other - one);
  const tires = lives.reduce((sum, { count }) => sum + count, 0);
  const enough = Math.min(LEAST_AT_RISK, Math.ceil(tires / 2));
  return uses.find((use) => placed.atRisk(use) >= enough) ?? uses[0]!;
}

/** The middle use of some lives that had not ended; none of none. */
function middle(lives: readonly LifeRecord[]): number[] {
  const uses = lives
    .flatMap(({ from, count }) => Array.from({ length: count }, () => from))
    .sort((one, other) => one - other);
  const use = uses[Math.floor((uses.length - 1) / 2)];
  return use === undefined || use === 0 ? [] : [use];
}

function describeLaw(fit: LifeFit, ages: readonly number[], longest: number): RecordLaw {
  const { law, verdict, parameters, logLikelihood } = fit;
  const known = parameters !== null;
  return {
    law,
    verdict,
    parameters,
    percentiles: known ? atPercentiles((share) => fittedQuantile(fit, share)) : null,
    further: known ? ages.flatMap((use) => furtherLife(fit, use, longest)) : [],
    logLikelihood,
  };
}

function furtherLife(fit: LifeFit, use: number, longest: number): FurtherLife[] {
  let more: LifePercentiles<FitForecast>;
  try {
    more = atPercentiles((share) => fittedRemainingLife(fit, use, share));
  } catch (error) {
    // A use that no life of the law would reach has no further life to tell.
    if (error instanceof RangeError) return [];
    throw error;
  }
  return [{ use, more, beyondSeen: use + more.p50.estimate > longest }];
}

function better(fits: readonly LifeFit[] | null): LifeLawName | null {
  const known = fits?.filter(({ parameters }) => parameters !== null) ?? [];
  if (known.length < 2) return null;
  const [one, other] = [...known].sort((a, b) => b.logLikelihood - a.logLikelihood);
  return one!.logLikelihood - other!.logLikelihood >= TELLING_DIFFERENCE ? one!.law : null;
}
