import type { CompiledScenario } from '../scenario/compile.js';
import { formatQuantity } from '../units.js';
import { unseenGrowthText } from './check-readings.js';
import { exposureBetween, indexFlights, type FlightIndex } from './exposure.js';
import { tireHistories } from './histories.js';
import { RecordNames } from './likelihood-names.js';
import type {
  PlanLine,
  PlannedPart,
  PlannedReading,
  PlannedTire,
  PlanStep,
  RecordPlan,
  StoneCause,
} from './likelihood-plan-types.js';
import { pressureSpans } from './likelihood-pressure-spans.js';
import { READING_BANDS, type ExposurePart, type Logbook, type TireHistory } from './record-types.js';

/** What is taken for granted about records that do not say it. */
export interface RecordHabits {
  /** Standard deviation of a groove reading without a stated error, m. */
  readonly grooveErrorM: number;
  /** Step of a groove reading without a stated one, m. */
  readonly grooveStepM: number;
  /** Standard deviation of the groove of new tires about that of the scenario, m. */
  readonly newGrooveSpreadM: number;
  /** Runway mix for landings on ground that is not named; the first of the scenario where left out. */
  readonly mix: string | undefined;
  /** Tires whose readings are not fitted but predicted. */
  readonly heldOut: ReadonlySet<string>;
}

/** A cut found so many days before the tire came off for a cut is the one that ended it. */
const SAME_CUT_DAYS = 31;
/** A cut is counted as through the rubber when it is this close to its thickness, m: as good as cuts are measured. */
const CUT_TOLERANCE_M = 0.0005;

interface Timed {
  readonly day: number;
  /** Order within a day: what an old tire goes through, then the new one. */
  readonly order: number;
  readonly side: 0 | 1;
  readonly steps: readonly PlanStep[];
}

/** Lays records out for the likelihood. */
class Planner {
  readonly names: RecordNames;
  readonly tires: PlannedTire[] = [];
  readonly readings: PlannedReading[] = [];
  readonly lines: PlanLine[] = [];
  readonly remarks: string[] = [];
  ends = 0;
  cuts = 0;
  landings = 0;
  sideCuts = 0;
  shallowCuts = 0;
  private readonly scenario: CompiledScenario;
  private readonly habits: RecordHabits;
  private readonly index: FlightIndex;
  private readonly leastCutM: number;

  constructor(scenario: CompiledScenario, logbook: Logbook, habits: RecordHabits) {
    this.scenario = scenario;
    this.habits = habits;
    this.names = new RecordNames(scenario, habits.mix);
    this.index = indexFlights(logbook);
    this.leastCutM = logbook.leastCutM ?? Infinity;
  }

  add(histories: readonly TireHistory[]): void {
    // Both mains of an airplane share their landings, and so the luck of each landing: they are followed side by side.
    const axles = new Map<string, TireHistory[]>();
    for (const history of histories) {
      const { airplane, position, count } = history.tire;
      const alone = count > 1 || (this.index.get(airplane) ?? []).length === 0;
      const axle = position === 'third' ? 'third' : 'main';
      const key = JSON.stringify(alone ? [history.tire.id] : [airplane, axle]);
      const list = axles.get(key);
      if (list === undefined) axles.set(key, [history]);
      else list.push(history);
    }
    // The order of records must not matter, not even to the last bit.
    for (const key of [...axles.keys()].sort()) this.addAxle(axles.get(key)!);
  }

  private addAxle(histories: readonly TireHistory[]): void {
    const timed: Timed[] = [];
    const sorted = [...histories].sort((one, other) => (one.tire.id < other.tire.id ? -1 : 1));
    for (const history of sorted) timed.push(...this.lifeOf(history));
    if (timed.length === 0) return;
    timed.sort((one, other) => one.day - other.day || one.order - other.order || one.side - other.side);
    const { airplane, count } = sorted[0]!.tire;
    const steps: PlanStep[] = [];
    let day = timed[0]!.day;
    const on = [false, false];
    for (const each of timed) {
      if (each.day > day) {
        if (on[0] === true || on[1] === true) {
          const exposure = exposureBetween(this.index, airplane, day, each.day);
          const parts = this.names.parts(exposure);
          if (parts.length > 0) steps.push({ step: 'roll', parts });
          this.landings += exposure.landings * count;
        }
        day = each.day;
      }
      for (const step of each.steps) {
        if (step.step === 'fit') on[each.side] = true;
        if (step.step === 'off') on[each.side] = false;
        steps.push(step);
      }
    }
    this.lines.push({ weight: count, steps });
  }

  /** Steps of one tire, all but the rolling. */
  private lifeOf(history: TireHistory): Timed[] {
    const { tire } = history;
    const kind = this.names.kind(tire);
    if (kind === null) {
      this.remarks.push(
        `tire ${tire.id} is left out: no set-up of the scenario has the tire ${tire.tireClass ?? ''}`,
      );
      return [];
    }
    const side = tire.position === 'right main' ? 1 : 0;
    const { newTreadM, undertreadM } = this.names.kinds[kind]!.tire;
    this.tires.push({ id: tire.id, airplane: tire.airplane, position: tire.position, kind });
    const spread = this.habits.newGrooveSpreadM;
    // Of a tire that the log takes up part-worn, only what it wears from then on is known.
    const fit: PlanStep = {
      step: 'fit',
      side,
      tire: this.tires.length - 1,
      wornM: tire.landingsBefore === 0 ? 0 : 0.4 * newTreadM,
      variance: tire.landingsBefore === 0 ? spread * spread : newTreadM * newTreadM,
    };
    const timed: Timed[] = [{ day: tire.fittedDay, order: 1, side, steps: [fit] }];
    const readings = this.readingSteps(history, side, newTreadM);
    timed.push(...readings);
    if ((this.index.get(tire.airplane) ?? []).length === 0) timed.push(...this.statedLandings(history, side));
    const cuts = this.cutSteps(history, side, newTreadM, undertreadM);
    timed.push(...cuts.timed, ...this.endSteps(history, side, cuts.nearEnd));
    return timed;
  }

  private readingSteps({ tire, readingDays }: TireHistory, side: 0 | 1, newTreadM: number): Timed[] {
    const held = this.habits.heldOut.has(tire.id);
    let landings = 0;
    return readingDays.map(({ day, readings, since }) => {
      landings += since.landings;
      const most = since.parts.reduce<ExposurePart | null>(
        (best, part) => (best === null || part.landings > best.landings ? part : best),
        null,
      );
      const sorted = [...readings].sort(
        (one, other) =>
          READING_BANDS.indexOf(one.band) - READING_BANDS.indexOf(other.band) || one.grooveM - other.grooveM,
      );
      const steps = sorted.map((reading): PlanStep => {
        const { band, grooveM } = reading;
        // Of no landing there is no surface, which is not the same as not known.
        const surface = since.landings > 0 ? this.surfaceOf(most) : 'no landing since';
        this.readings.push({ tire: tire.id, day, band, grooveM, landings, surface, held });
        const stepM = reading.stepM ?? this.habits.grooveStepM;
        const gone = grooveM <= stepM / 2;
        return {
          step: 'read',
          side,
          reading: this.readings.length - 1,
          band: band === 'worst spot' ? -1 : READING_BANDS.indexOf(band),
          wornM: gone ? newTreadM - stepM / 2 : newTreadM - grooveM,
          errorM: reading.errorM ?? this.habits.grooveErrorM,
          stepM,
          gone,
          held,
        };
      });
      return { day, order: day === tire.fittedDay ? 2 : -2, side, steps };
    });
  }

  private surfaceOf(part: ExposurePart | null): string {
    if (part !== null && part.surface !== null) return part.surface;
    const found = this.scenario.strips.find(({ name }) => name === part?.strip);
    return found === undefined ? 'not known' : this.scenario.surfaces[found.rollout]!.name;
  }

  /** Of a log without flying: the landings that the row of the tire states, on its last day. */
  private statedLandings({ tire, exposure }: TireHistory, side: 0 | 1): Timed[] {
    const landings = (tire.landingsStated ?? 0) - tire.landingsBefore;
    if (!(landings > 0)) return [];
    this.landings += landings * tire.count;
    const parts = this.names.somewhere(landings);
    return [{ day: exposure.throughDay, order: -3, side, steps: [{ step: 'roll', parts }] }];
  }

  private cutSteps(
    { tire, cuts, readingDays }: TireHistory,
    side: 0 | 1,
    newTreadM: number,
    undertreadM: number,
  ): { timed: Timed[]; nearEnd: boolean } {
    let nearEnd = false;
    const endDay = tire.end.kind === 'exact' && tire.end.cause === 'cut' ? tire.end.day : null;
    const timed = cuts.flatMap(({ day, depthM, where }): Timed[] => {
      if (where === 'side') {
        this.sideCuts++;
        return [];
      }
      const last = readingDays.filter((each) => each.day <= day).at(-1);
      const groove =
        last === undefined ? newTreadM : Math.min(...last.readings.map(({ grooveM }) => grooveM));
      const ends = endDay !== null && endDay - day <= SAME_CUT_DAYS;
      const through = depthM === null ? ends : depthM >= groove + undertreadM - CUT_TOLERANCE_M;
      // Where the log holds all cuts from some depth on, their depths tell of the bites; else only whether one went through.
      const counted = depthM !== null && depthM >= this.leastCutM;
      if (!through && !counted) {
        this.shallowCuts++;
        return [];
      }
      if (ends && through) nearEnd = true;
      this.cuts += 1;
      const steps = [this.event(tire, day, side, 'cut', counted ? depthM : null)];
      return [{ day, order: day === tire.fittedDay ? 2 : -1, side, steps }];
    });
    return { timed, nearEnd };
  }

  /** An event on a day, among the landings since the last inspection. */
  private event(
    { airplane, fittedDay }: TireHistory['tire'],
    day: number,
    side: 0 | 1,
    cause: StoneCause,
    depthM: number | null = null,
  ): PlanStep {
    const back = cause === 'cut' ? Math.ceil(this.scenario.habits.inspectEveryDays) : 1;
    let parts: PlannedPart[] = [];
    // A day without a flight row: look further back, but not beyond the day the tire was fitted.
    for (let days = back; parts.length === 0 && days < 4000; days *= 2) {
      parts = this.names.parts(exposureBetween(this.index, airplane, Math.max(fittedDay, day - days), day));
      if (day - days <= fittedDay) break;
    }
    return { step: 'event', side, cause, depthM, parts };
  }

  private endSteps({ tire, cuts, doubtful, exposure }: TireHistory, side: 0 | 1, cutTold: boolean): Timed[] {
    const { end } = tire;
    const off: PlanStep = { step: 'off', side };
    const steps: PlanStep[] = [];
    const lastDay = exposure.throughDay;
    // A tire goes on before it comes off, also where both stand on one day: fitted on the last day of the log, or failed at
    // any time since.
    const order = lastDay === tire.fittedDay ? 3 : 0;
    if (end.kind === 'interval' || end.kind === 'left') {
      const cause = end.cause === 'pressure' || end.cause === 'age' ? null : end.cause;
      if (cause !== null) this.ends += tire.count;
      const parts = doubtful === null ? [] : this.names.parts(doubtful);
      if (cause === 'worn') steps.push({ step: 'not worn', side });
      steps.push({ step: 'ended within', side, cause, parts }, off);
      return [{ day: lastDay, order, side, steps }];
    }
    const cause = end.kind === 'exact' ? end.cause : null;
    this.ends += tire.count;
    if (cause === 'worn') steps.push({ step: 'worn', side });
    else steps.push({ step: 'not worn', side });
    if (cause === 'puncture') {
      const sideCut = cuts.some(({ day, where }) => where === 'side' && day === lastDay);
      steps.push(this.event(tire, lastDay, side, sideCut ? 'side puncture' : 'puncture'));
    }
    const bySide =
      cause === 'cut' && cuts.some(({ day, where }) => where === 'side' && lastDay - day <= SAME_CUT_DAYS);
    if (cause === 'cut' && !cutTold && !bySide) {
      steps.push(this.event(tire, lastDay, side, 'cut'));
      this.cuts += tire.count;
    }
    steps.push(off);
    return [{ day: lastDay, order, side, steps }];
  }
}

/**
 * Lays records out for the likelihood: names resolved against the scenario, exposure added up between all that happens.
 *
 * @param scenario compiled scenario.
 * @param logbook checked records.
 * @param habits what is taken for granted.
 * @throws UsageError for names that the scenario does not have.
 */
export function planRecords(scenario: CompiledScenario, logbook: Logbook, habits: RecordHabits): RecordPlan {
  const planner = new Planner(scenario, logbook, habits);
  const histories = tireHistories(logbook);
  planner.add(histories);
  const { spans, unused } = pressureSpans(scenario, histories, planner.tires, planner.names.kinds);
  const remarks = [...planner.remarks];
  const tell = (count: number, text: string): void => {
    if (count > 0) remarks.push(`${Math.round(count)} ${text}`);
  };
  tell(
    planner.names.unknownLandings,
    `landings on ground that the log does not name are spread as in the runway mix "${planner.names.unknownMix}"`,
  );
  tell(
    planner.shallowCuts,
    'cuts are not used: they stop in the rubber and the log does not say from which depth on it holds all of them, or their depth is not known',
  );
  tell(planner.sideCuts, 'cuts in the side are used only where they flattened the tire');
  tell(
    logbook.readings.filter(({ errorM }) => errorM === null).length,
    `readings state no gauge error: ${formatQuantity(habits.grooveErrorM, 'length', 'mm', 3)} is assumed (standard deviation), and growth of tread below ${unseenGrowthText(logbook.readings)} was not seen as a mistake`,
  );
  tell(unused, 'spans between pressure checks are not used: it is not stated what the tire was set to');
  return {
    kinds: planner.names.kinds,
    places: planner.names.places,
    tires: planner.tires,
    readings: planner.readings,
    lines: planner.lines,
    pressureSpans: spans,
    leastCutM: logbook.leastCutM ?? Infinity,
    used: {
      readings: planner.readings.filter(({ held }) => !held).length,
      ends: planner.ends,
      cuts: planner.cuts,
      pressureChecks: spans.length,
      landings: planner.landings,
    },
    remarks,
  };
}
