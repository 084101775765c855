import { cruiseMoneyOf } from '../models/cruise.js';
import { NonFiniteError } from '../problems.js';
import { daysAfter, DAYS_PER_YEAR, flightHoursAfter, SECONDS_PER_DAY } from '../scenario/calendar.js';
import type { CompiledScenario, CompiledSetup } from '../scenario/compile.js';
import { LEAK, PRESSURE, PUNCTURE, WHEELS, type EventClocks } from './clocks.js';
import {
  AGED,
  CUT_PAST_LIMITS,
  emptyTrials,
  IN_SERVICE,
  PRESSURE_RELATED,
  PUNCTURED,
  WORN,
  type PairingTrials,
} from './columns.js';
import { fillWheelConstants, WheelConstants } from './constants.js';
import {
  countFlatChances,
  countHazards,
  countHydroplaning,
  countReadings,
  countTailHits,
  countWear,
} from './counts.js';
import type { Ground } from './ground.js';
import type { LandingDraws } from './landing-draws.js';
import { BLOCK_LANDINGS, DRAW, TRACK } from './layout.js';
import {
  chanceFlats,
  followAir,
  makeContact,
  meetStones,
  pivot,
  runClocks,
  settleClocks,
  settleTire,
  slip,
  Span,
  strainAir,
  wearBands,
} from './steps.js';
import { Tally } from './tally.js';
import { Wheel, WheelTrack } from './wheel.js';

const THIRD = 2;
const MAINS = 2;

// A column as a constant of this module: the compiler folds it, but not what is imported.
const DRAWN_DAY = DRAW.day;

/** A span of landings as a watcher sees it: after wear and events, before tires are changed. */
export interface WatchedSpan {
  readonly run: PairingRun;
  readonly draws: LandingDraws;
  readonly ground: Ground;
  /** First row of the span in draws, ground and tracks. */
  readonly from: number;
  /** The row after its last one: the state of wheels and removals is that after the last landing. */
  readonly to: number;
  readonly mainsFlown: boolean;
  readonly thirdFlown: boolean;
  /** The first main tires: on the airplane, or as shadows; null once their wear is followed no more. */
  readonly firstMains: readonly Wheel[] | null;
}

/** Sees what the wheels of a pairing go through. */
export interface Watcher {
  /** True to see landings one by one, with the state after each; slower than by spans. */
  readonly everyLanding: boolean;
  see(span: WatchedSpan): void;
}

/** Scratch space for the wheels of one pairing at a time: three as flown and two shadows. */
export function makeTracks(): WheelTrack[] {
  return Array.from({ length: WHEELS + MAINS }, () => new WheelTrack());
}

/**
 * One pairing living through one trial at a time.
 *
 * Wheels 0 and 1 are the mains, 2 the nose or tail wheel, as flown: removed and replaced by policy. The shadows are
 * those of the first main tires: when one comes off, they wear on without events, to tell when wear alone would have
 * reached the tread limit and the cords.
 *
 * Wheels roll through a span of landings each by itself. The span ends at the first landing after which a tire comes
 * off, at the end of the season, or with the block; then the state is settled there and the next span begins.
 */
export class PairingRun {
  readonly setup: CompiledSetup;
  readonly wheels: readonly Wheel[];
  readonly shadows: readonly Wheel[];
  /** True once every figure of the trial is known. */
  finished = false;
  /** Removal after the last landing of the span by wheel. */
  readonly removed: Uint8Array = new Uint8Array(WHEELS);

  private readonly scenario: CompiledScenario;
  private readonly ground: Ground;
  private readonly watch: Watcher | null;
  private readonly mainConstants: WheelConstants;
  private readonly thirdConstants: WheelConstants;
  private readonly tracks: readonly WheelTrack[];
  private readonly span = new Span();
  /** Where each wheel rolled to before the end of the span was known. */
  private readonly rolledTo = new Int32Array(WHEELS);
  private readonly tally: Tally;
  private readonly horizonLandings: number;
  private readonly seasonLandings: number;

  private events: EventClocks | null = null;
  private world: Float64Array = new Float64Array(0);
  private trial = 0;
  private nextCheckDay = 0;
  private nextInspectionDay = 0;
  private flatCount = 0;
  /** Flight hours of the season flown on this gear set. */
  private seasonHours = 0;
  private firstMainsOff = false;
  private shadowsOn = false;
  private limitKnown = false;
  private cordsKnown = false;
  private thirdKnown = false;

  constructor(
    scenario: CompiledScenario,
    setup: CompiledSetup,
    ground: Ground,
    tracks: readonly WheelTrack[],
    watch: Watcher | null = null,
  ) {
    this.scenario = scenario;
    this.setup = setup;
    this.ground = ground;
    this.watch = watch;
    this.mainConstants = new WheelConstants(scenario.strips.length);
    this.thirdConstants = new WheelConstants(scenario.strips.length);
    this.tracks = tracks.slice(0, WHEELS);
    const wheel = (constants: WheelConstants, slot: number, side: number): Wheel =>
      new Wheel(constants, tracks[slot]!, side);
    this.wheels = [
      wheel(this.mainConstants, 0, -1),
      wheel(this.mainConstants, 1, 1),
      wheel(this.thirdConstants, 2, 0),
    ];
    this.shadows = [wheel(this.mainConstants, 3, -1), wheel(this.mainConstants, 4, 1)];
    this.tally = new Tally(scenario);
    this.seasonLandings = scenario.calendar.landingsPerYear;
    this.horizonLandings = horizonLandings(scenario);
  }

  /** Starts a trial on new tires. */
  open(trial: number, world: Float64Array, events: EventClocks): void {
    const { scenario, setup } = this;
    this.trial = trial;
    this.world = world;
    this.events = events;
    fillWheelConstants(scenario, world, setup.main, setup.mainPa, 'main', this.mainConstants);
    fillWheelConstants(scenario, world, setup.third, setup.thirdPa, 'third', this.thirdConstants);
    this.wheels.forEach((wheel, w) => {
      wheel.startClocks((process, count) => events.threshold(w, process, count));
      wheel.fitNew(0);
    });
    this.span.pivotChance = world[scenario.habits.pivotChance]!;
    this.span.ageLimitDays = scenario.habits.ageLimitDays;
    this.nextCheckDay = setup.checkEveryDays;
    this.nextInspectionDay = scenario.habits.inspectEveryDays;
    this.finished = false;
    this.flatCount = 0;
    this.seasonHours = 0;
    this.shadowsOn = this.firstMainsOff = this.limitKnown = this.cordsKnown = this.thirdKnown = false;
    this.tally.clear(this.horizonLandings);
  }

  /** Lives through the landings of a block, or as many as are needed. */
  advance(draws: LandingDraws): void {
    const first = draws.firstLanding;
    const end = Math.min(BLOCK_LANDINGS, this.horizonLandings - first);
    if (first === 0) this.inflateNew(draws);
    this.markCalendar(draws, 0, end);
    for (let from = 0; from < end && !this.finished;) {
      const season = this.seasonLandings - first;
      const inSeason = from < season;
      from = this.live(draws, from, inSeason && season < end ? season : end, inSeason);
      const landings = first + from;
      if (landings === this.seasonLandings) this.closeSeason();
      this.finished =
        landings >= this.horizonLandings ||
        (landings >= this.seasonLandings &&
          this.firstMainsOff &&
          this.cordsKnown &&
          this.limitKnown &&
          this.thirdKnown);
    }
  }

  /** New tires are inflated on the day of the first landing. */
  private inflateNew(draws: LandingDraws): void {
    for (const wheel of this.wheels) wheel.setCold(draws.data[DRAW.temperatureK + 0]!);
  }

  /**
   * Puts the gear set on before a landing of the season: tires are inflated, and inspected at the first landing. A set
   * that is on from the first landing needs no mounting.
   *
   * @param before the set that comes off. Its clocks run on: what is due to happen to a wheel of the airplane happens
   * to the tire that is on it, so that the events of a season are those of one series of chances.
   */
  mount(draws: LandingDraws, row: number, before: PairingRun): void {
    const day = draws.data[DRAW.day + row]!;
    this.wheels.forEach((wheel, w) => {
      wheel.setCold(draws.data[DRAW.temperatureK + row]!);
      wheel.takeClocks(before.wheels[w]!);
    });
    this.flatCount = before.flatCount;
    this.nextCheckDay = day + this.setup.checkEveryDays;
    this.nextInspectionDay = day;
  }

  /** Lives through some landings of a block within the season, for a gear set that is on for a part of it. */
  fly(draws: LandingDraws, from: number, to: number): void {
    if (draws.firstLanding + from === 0) this.inflateNew(draws);
    this.markCalendar(draws, from, to);
    for (let row = from; row < to;) row = this.live(draws, row, to, true);
  }

  /** Marks the landings before which a check, and after which an inspection, is due. */
  private markCalendar(draws: LandingDraws, from: number, end: number): void {
    const { span, setup, scenario } = this;
    const inspectEveryDays = scenario.habits.inspectEveryDays;
    const { check, inspect } = span;
    const d = draws.data;
    let { nextCheckDay, nextInspectionDay } = this;
    for (let j = from, last = Math.min(BLOCK_LANDINGS, end); j < last; j++) {
      const day = d[DRAWN_DAY + j]!;
      const checked = day >= nextCheckDay;
      const inspected = day >= nextInspectionDay;
      check[j] = checked ? 1 : 0;
      inspect[j] = inspected ? 1 : 0;
      if (checked) nextCheckDay = nextDue(nextCheckDay, setup.checkEveryDays, day);
      if (inspected) nextInspectionDay = nextDue(nextInspectionDay, inspectEveryDays, day);
    }
    this.nextCheckDay = nextCheckDay;
    this.nextInspectionDay = nextInspectionDay;
  }

  /** Lives through landings until a tire comes off or the span ends; returns where the next span begins. */
  private live(draws: LandingDraws, from: number, end: number, inSeason: boolean): number {
    const { span, wheels, ground } = this;
    const mainsFlown = inSeason || !this.firstMainsOff;
    const thirdFlown = inSeason || !this.thirdKnown;
    const firstWheel = mainsFlown ? 0 : THIRD;
    const lastWheel = thirdFlown ? THIRD : MAINS - 1;
    span.from = from;
    span.to = this.watch?.everyLanding === true ? from + 1 : end;
    for (let w = firstWheel; w <= lastWheel; w++) {
      this.roll(wheels[w]!, draws);
      meetStones(wheels[w]!, draws, ground, span);
      strainAir(wheels[w]!, draws, ground, span);
      this.rolledTo[w] = span.to;
      span.to = runClocks(wheels[w]!, draws, span);
    }
    const to = span.to;
    for (let w = firstWheel; w <= lastWheel; w++) {
      const wheel = wheels[w]!;
      const leaksBefore = wheel.count[LEAK]!;
      // A wheel that rolled on past the end of the span goes back to it.
      if (this.rolledTo[w]! > to) {
        followAir(wheel, draws, ground, span);
        runClocks(wheel, draws, span);
      }
      if (!Number.isFinite(wheel.next.finiteSum)) this.stopNonFinite(wheel, draws, from, to);
      if (inSeason || this.watch?.everyLanding === true) chanceFlats(wheel, span);
      settleTire(wheel, span);
      settleClocks(wheel);
      if (inSeason) this.tally.leaks += wheel.count[LEAK]! - leaksBefore;
    }
    if (this.shadowsOn) {
      for (const shadow of this.shadows) {
        this.roll(shadow, draws);
        settleTire(shadow, span);
      }
    }
    const firstMains = this.shadowsOn ? this.shadows : this.firstMainsOff ? null : this.wheels;
    const anyRemoved = this.findRemovals(draws, firstWheel, lastWheel, to);
    if (inSeason) {
      this.countSeason(draws, from, to);
      const { calendar } = this.scenario;
      const before = draws.firstLanding + from;
      this.seasonHours += flightHoursAfter(calendar, before + to - from) - flightHoursAfter(calendar, before);
    }
    if (mainsFlown) countWear(this.tally, this.tracks, ground, from, to);
    if (mainsFlown || this.shadowsOn) this.readWear(draws, from, to);
    this.tally.simulatedLandings += to - from;
    this.watch?.see({ run: this, draws, ground, from, to, mainsFlown, thirdFlown, firstMains });
    if (anyRemoved) this.replace(draws, to, inSeason);
    return to;
  }

  /** Air, contact and wear of a wheel over the span. */
  private roll(wheel: Wheel, draws: LandingDraws): void {
    const { ground, span } = this;
    followAir(wheel, draws, ground, span);
    makeContact(wheel, draws, span);
    slip(wheel, draws, ground, span);
    wearBands(wheel, draws, span);
    pivot(wheel, draws, ground, span);
  }

  private countSeason(draws: LandingDraws, from: number, to: number): void {
    const { tally, tracks, ground, wheels } = this;
    tracks.forEach((track, w) => {
      countHazards(tally, track, this.tireOf(w).tubed, from, to);
    });
    countFlatChances(tally, tracks, ground, from, to);
    for (let w = 0; w < WHEELS; w++) {
      const cause = this.removed[w]!;
      if (cause === IN_SERVICE) continue;
      if (isFlat(cause)) {
        tally.anyFlat = true;
        if (ground.help[to - 1] === 0) tally.anyFlatAway = true;
      }
      this.pay(w, cause, ground.help[to - 1] === 1);
    }
    for (let w = 0; w < MAINS; w++) {
      countReadings(tally, tracks[w]!, from, to);
      countTailHits(tally, wheels[w]!, ground, from, to);
    }
    countHydroplaning(tally, tracks, this.mainConstants, draws, ground, from, to);
  }

  /** Notes when wear alone brings a first main tire, on the wheel or in its shadow, to the limit and to the cords. */
  private readWear(draws: LandingDraws, from: number, to: number): void {
    if (this.cordsKnown && this.limitKnown) return;
    const [left, right] = (this.shadowsOn ? this.shadows : this.wheels) as [Wheel, Wheel];
    const { newTreadM, rubberM } = this.mainConstants;
    const limitM = newTreadM - this.scenario.habits.treadLimitM;
    const soughtM = this.limitKnown ? rubberM : this.cordsKnown ? limitM : Math.min(limitM, rubberM);
    // Wear only grows: one look at the last landing tells that there is nothing to look for.
    const last = TRACK.deepestLostM + to - 1;
    if (left.track.data[last]! < soughtM && right.track.data[last]! < soughtM) return;
    for (let j = from; j < to; j++) {
      const deepest = Math.max(
        left.track.data[TRACK.deepestLostM + j]!,
        right.track.data[TRACK.deepestLostM + j]!,
      );
      if (!this.limitKnown && deepest >= limitM) {
        this.limitKnown = true;
        this.tally.treadLimitLandings = draws.firstLanding + j + 1;
      }
      if (!this.cordsKnown && deepest >= rubberM) {
        this.cordsKnown = true;
        this.tally.cordsLandings = draws.firstLanding + j + 1;
      }
    }
    if (this.cordsKnown && this.limitKnown) this.shadowsOn = false;
  }

  /** Finds the tires that must come off after the last landing of the span; true if there are any. */
  private findRemovals(draws: LandingDraws, firstWheel: number, lastWheel: number, to: number): boolean {
    const last = to - 1;
    let any = false;
    this.removed.fill(IN_SERVICE);
    for (let w = firstWheel; w <= lastWheel; w++) {
      const wheel = this.wheels[w]!;
      const punctured = this.strike(wheel, PUNCTURE);
      const deflated = this.strike(wheel, PRESSURE);
      let cause: number = IN_SERVICE;
      if (punctured) cause = PUNCTURED;
      else if (deflated) cause = PRESSURE_RELATED;
      else if (wheel.cutPending && this.span.inspect[last] === 1) cause = CUT_PAST_LIMITS;
      else if (wheel.track.data[TRACK.deepestLostM + last]! >= wheel.constants.wornAtM) cause = WORN;
      else if (draws.data[DRAW.day + last]! >= wheel.fittedDay + this.span.ageLimitDays) cause = AGED;
      this.removed[w] = cause;
      if (cause !== IN_SERVICE) any = true;
    }
    return any;
  }

  /** True if the clock of a process has passed its threshold; it is then set for the next event. */
  private strike(wheel: Wheel, process: number): boolean {
    if (wheel.clock[process]! < wheel.threshold[process]!) return false;
    wheel.clock[process] = 0;
    wheel.setCount(process, wheel.count[process]! + 1);
    return true;
  }

  /** Takes tires off and fits new ones. */
  private replace(draws: LandingDraws, to: number, inSeason: boolean): void {
    const { removed, scenario, tally } = this;
    const last = to - 1;
    const landings = draws.firstLanding + to;
    const mainOff = removed[0] !== IN_SERVICE || removed[1] !== IN_SERVICE;
    if (mainOff && !this.firstMainsOff) this.noteLife(landings);
    if (removed[THIRD] !== IN_SERVICE && !this.thirdKnown) {
      this.thirdKnown = true;
      tally.thirdLifeLandings = landings;
      tally.thirdLifeCause = removed[THIRD]!;
    }
    this.wheels.forEach((wheel, w) => {
      const withMate = mainOff && w !== THIRD && scenario.habits.replacePairs;
      if (removed[w] === IN_SERVICE && !withMate) return;
      wheel.fitNew(draws.data[DRAW.day + last]!);
      wheel.setCold(draws.data[DRAW.temperatureK + last]!);
      if (!inSeason) return;
      if (w === THIRD) tally.thirdFitted++;
      else tally.mainsFitted++;
      if (scenario.costs !== null) tally.cost += this.priceOf(w) + scenario.costs.tireChange;
    });
  }

  private noteLife(landings: number): void {
    const { tally } = this;
    const [left, right] = this.wheels as [Wheel, Wheel, Wheel];
    this.firstMainsOff = true;
    tally.lifeLandings = landings;
    tally.lifeWheel = this.removed[0] !== IN_SERVICE ? 0 : 1;
    tally.lifeCause = this.removed[tally.lifeWheel]!;
    tally.centreLostM = 0.5 * (left.centreLostM + right.centreLostM);
    tally.innerLostM = 0.5 * (left.innerLostM + right.innerLostM);
    tally.outerLostM = 0.5 * (left.outerLostM + right.outerLostM);
    if (this.cordsKnown && this.limitKnown) return;
    this.shadows.forEach((shadow, w) => {
      shadow.copyFrom(this.wheels[w]!);
    });
    this.shadowsOn = true;
  }

  /** Days and money of a removal in the season; tires are paid in full when they come off. */
  private pay(w: number, cause: number, help: boolean): void {
    const { scenario, world, tally } = this;
    const { global, costs } = scenario;
    if (w !== THIRD) tally.mainRemovals[cause]!++;
    let seconds: number;
    let money = 0;
    if (isFlat(cause)) {
      tally.flats++;
      if (this.tireOf(w).tubed) {
        tally.tubes++;
        if (costs !== null) money += costs.tube;
      }
      if (help) {
        seconds = world[global.downDaysAtBase]!;
      } else if (this.events!.consequence(this.flatCount++) < world[global.patchChance]!) {
        tally.flatsPatched++;
        seconds = world[global.downDaysPatched]!;
        if (costs !== null) money += costs.patch;
      } else {
        tally.flatsRescued++;
        seconds = world[global.downDaysRescue]!;
        if (costs !== null) money += costs.rescue;
      }
    } else {
      seconds = world[global.downDaysReplacement]!;
    }
    const days = seconds / SECONDS_PER_DAY;
    tally.downDays += days;
    if (isFlat(cause)) tally.flatDays += days;
    if (costs !== null) tally.cost += money + days * costs.downDay;
  }

  /** What is known once the season is over. */
  closeSeason(): void {
    const { scenario, world, tally } = this;
    const { global } = scenario;
    // Given the world, how a flat away from help goes on is a matter of chance alone.
    const patchChance = world[global.patchChance]!;
    const nearHelp = Math.max(0, tally.flatsHazard - tally.flatsAwayHazard);
    tally.flatsPatchedHazard = tally.flatsAwayHazard * patchChance;
    tally.flatsRescuedHazard = tally.flatsAwayHazard * (1 - patchChance);
    const seconds =
      nearHelp * world[global.downDaysAtBase]! +
      tally.flatsPatchedHazard * world[global.downDaysPatched]! +
      tally.flatsRescuedHazard * world[global.downDaysRescue]!;
    tally.flatDaysHazard = seconds / SECONDS_PER_DAY;
    if (scenario.costs === null) return;
    this.payTreadUsed();
    const { flightHour = 0 } = scenario.costs;
    tally.cruiseCost = cruiseMoneyOf(flightHour, this.setup.cruiseLoss, this.seasonHours);
    tally.cost += tally.cruiseCost;
  }

  /** At the end of the season, the tires on the wheels are paid by the share of their tread that is gone. */
  private payTreadUsed(): void {
    this.wheels.forEach((wheel, w) => {
      this.tally.cost += this.priceOf(w) * Math.min(1, wheel.deepestLostM() / wheel.constants.wornAtM);
    });
  }

  private tireOf(w: number): CompiledSetup['main'] {
    return w === THIRD ? this.setup.third : this.setup.main;
  }

  private priceOf(w: number): number {
    return this.tireOf(w).price ?? 0;
  }

  /** Stops the run at the first landing with a figure that is not finite. */
  private stopNonFinite({ track }: Wheel, draws: LandingDraws, from: number, to: number): never {
    const sumAt = (j: number): number =>
      track.data[TRACK.gaugePa + j]! +
      track.data[TRACK.treadHazard + j]! +
      track.data[TRACK.sidewallHazard + j]! +
      track.data[TRACK.pinchHazard + j]! +
      track.data[TRACK.valveHazard + j]! +
      track.data[TRACK.cutHazard + j]! +
      track.data[TRACK.deepestLostM + j]!;
    let j = from;
    while (j < to - 1 && Number.isFinite(sumAt(j))) j++;
    throw new NonFiniteError({
      seed: this.scenario.seed,
      trial: this.trial,
      landing: draws.firstLanding + j,
      pairing: `${this.setup.name} on ${this.ground.mix.name}`,
      quantity: 'sum of pressure, wear and hazards',
      value: sumAt(j),
    });
  }

  /** Flats of the season so far that were mended away from help. */
  get flatsPatched(): number {
    return this.tally.flatsPatched;
  }

  /** Writes the figures of the trial into a row. */
  write(target: PairingTrials, row: number): void {
    this.tally.write(target, row);
  }

  /** Empty results for a number of trials of this pairing. */
  emptyTrials(rows: number): PairingTrials {
    return emptyTrials(this.scenario, this.setup.name, this.ground.mix.name, rows);
  }
}

/** Landings within the horizon of a scenario, at least one season. */
export function horizonLandings(scenario: CompiledScenario): number {
  const { calendar, horizonDays } = scenario;
  let low = calendar.landingsPerYear;
  let high = Math.max(low, Math.ceil((horizonDays / DAYS_PER_YEAR + 1) * low));
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (daysAfter(calendar, middle) <= horizonDays) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** True for the removals that follow a sudden loss of air. */
export function isFlat(cause: number): boolean {
  return cause === PUNCTURED || cause === PRESSURE_RELATED;
}

/** The next due day after a day on which something was due and done. */
function nextDue(dueDay: number, everyDays: number, day: number): number {
  return dueDay + everyDays * (1 + Math.floor((day - dueDay) / everyDays));
}
