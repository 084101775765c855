import { gaugePressurePa } from '../models/inflation.js';
import { NonFiniteError } from '../problems.js';
import { daysAfter } from '../scenario/calendar.js';
import type { CompiledMix, CompiledScenario, CompiledSetup } from '../scenario/compile.js';
import { CUT, EventClocks, LEAK, PRESSURE, PROCESSES, PUNCTURE, WHEELS } from './clocks.js';
import {
  AGED,
  CUT_PAST_LIMITS,
  IN_SERVICE,
  PRESSURE_RELATED,
  PUNCTURED,
  WORN,
  emptyTrials,
  type PairingTrials,
} from './columns.js';
import { fillWheelConstants, WheelConstants, type StripConstants } from './constants.js';
import { BLOCK_LANDINGS, type LandingDraws } from './landing-draws.js';
import { loseAir, makeContact, meetStones, pivot, setCold, slip, SPOTS, strainAir, Wheel } from './wheel.js';

const THIRD = 2;
const MAINS = 2;
/** Reading below this share of the cold setting counts as low: FAA AC 20-97B action table (from memory). */
const LOW_READING_SHARE = 0.9;
const FINITE_LIMIT = 1e12;

/** A landing as a watcher sees it: after wear and events, before tires are changed. */
export interface WatchedLanding {
  readonly run: PairingRun;
  readonly draws: LandingDraws;
  /** Row of the landing in the draws. */
  readonly j: number;
  readonly strip: number;
  readonly wet: boolean;
  readonly mainsFlown: boolean;
  readonly thirdFlown: boolean;
}

/** Sees every landing of a pairing; used to open one trial and read it. */
export type LandingWatcher = (landing: WatchedLanding) => void;

/**
 * One pairing living through one trial at a time. Memory is set up once; a landing allocates nothing.
 *
 * Wheels 0 and 1 are the mains, 2 the nose or tail wheel, as flown: removed and replaced by policy. Wheels 3 and 4
 * are shadows of the first main tires: when one comes off early, its shadow wears on without events, to tell when
 * wear alone would have reached the tread limit and the cords.
 */
export class PairingRun {
  readonly setup: CompiledSetup;
  readonly mix: CompiledMix;
  readonly wheels: readonly Wheel[];
  readonly shadows: readonly Wheel[];
  /** True once every figure of the trial is known. */
  finished = false;
  /** Removal in this landing by wheel, for watchers. */
  readonly removedNow: Uint8Array = new Uint8Array(WHEELS);

  private readonly scenario: CompiledScenario;
  private readonly mainConstants: WheelConstants;
  private readonly thirdConstants: WheelConstants;
  private readonly clocks = new Float64Array(WHEELS * PROCESSES.length);
  private readonly thresholds = new Float64Array(WHEELS * PROCESSES.length);
  private readonly counts = new Int32Array(WHEELS * PROCESSES.length);
  private readonly shadowOn = [false, false];
  private readonly worn: Float64Array;
  private readonly checkEveryDays: number;
  private readonly horizonLandings: number;
  private readonly seasonLandings: number;
  private readonly watch: LandingWatcher | null;

  private events: EventClocks | null = null;
  private world: Float64Array = new Float64Array(0);
  private trial = 0;
  private nextCheckDay = 0;
  private nextInspectionDay = 0;
  private flatCount = 0;
  /** New tires that have not been inflated yet. */
  private fresh = true;
  private mainsKnown = false;
  private limitKnown = false;
  private cordsKnown = false;
  private thirdKnown = false;

  // Figures of the trial, in the order of the columns.
  private lifeLandings = 0;
  private lifeCause = IN_SERVICE;
  private lifeWheel = 2;
  private treadLimitLandings = -1;
  private cordsLandings = -1;
  private thirdLifeLandings = 0;
  private thirdLifeCause = IN_SERVICE;
  private centreLostM = 0;
  private innerLostM = 0;
  private outerLostM = 0;
  private flats = 0;
  private flatsHazard = 0;
  private anyFlat = false;
  private anyFlatHazard = 0;
  private anyFlatAway = false;
  private anyFlatAwayHazard = 0;
  private treadHazard = 0;
  private sidewallHazard = 0;
  private pinchHazard = 0;
  private valveHazard = 0;
  private readonly mainRemovals = new Int32Array(6);
  private mainsFitted = 0;
  private thirdFitted = 0;
  private beadSlips = 0;
  private leaks = 0;
  private checks = 0;
  private checksLow = 0;
  private wetPavedLandings = 0;
  private hydroplaningLandings = 0;
  private tailHits = 0;
  private downDays = 0;
  private cost = 0;
  private spinUpWornM3 = 0;
  private brakingWornM3 = 0;
  private pivotWornM3 = 0;
  private squirmWornM3 = 0;
  private scrubWornM3 = 0;
  private simulatedLandings = 0;

  constructor(
    scenario: CompiledScenario,
    setup: CompiledSetup,
    mix: CompiledMix,
    watch: LandingWatcher | null = null,
  ) {
    this.scenario = scenario;
    this.setup = setup;
    this.mix = mix;
    this.watch = watch;
    this.mainConstants = new WheelConstants(scenario.strips.length);
    this.thirdConstants = new WheelConstants(scenario.strips.length);
    this.wheels = [
      new Wheel(this.mainConstants, -1),
      new Wheel(this.mainConstants, 1),
      new Wheel(this.thirdConstants, 0),
    ];
    this.shadows = [new Wheel(this.mainConstants, -1), new Wheel(this.mainConstants, 1)];
    this.worn = new Float64Array(scenario.surfaces.length);
    this.checkEveryDays = setup.checkEveryDays;
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
    for (let slot = 0; slot < this.clocks.length; slot++) {
      this.clocks[slot] = 0;
      this.counts[slot] = 0;
      this.thresholds[slot] = events.threshold(
        Math.floor(slot / PROCESSES.length),
        slot % PROCESSES.length,
        0,
      );
    }
    for (const wheel of this.wheels) {
      wheel.startWorld();
      wheel.fitNew(0, 0);
    }
    this.fresh = true;
    for (const shadow of this.shadows) shadow.startWorld();
    this.shadowOn.fill(false);
    this.worn.fill(0);
    this.mainRemovals.fill(0);
    this.nextCheckDay = this.checkEveryDays;
    this.nextInspectionDay = scenario.habits.inspectEveryDays;
    this.finished = false;
    this.flatCount = 0;
    this.mainsKnown = this.limitKnown = this.cordsKnown = this.thirdKnown = false;
    this.lifeLandings = this.horizonLandings;
    this.lifeCause = this.thirdLifeCause = IN_SERVICE;
    this.lifeWheel = 2;
    this.treadLimitLandings = this.cordsLandings = -1;
    this.thirdLifeLandings = this.horizonLandings;
    this.centreLostM = this.innerLostM = this.outerLostM = 0;
    this.flats = this.mainsFitted = this.thirdFitted = 0;
    this.beadSlips = this.leaks = this.checks = this.checksLow = 0;
    this.wetPavedLandings = this.hydroplaningLandings = 0;
    this.anyFlat = this.anyFlatAway = false;
    this.flatsHazard = this.anyFlatHazard = this.anyFlatAwayHazard = 0;
    this.treadHazard = this.sidewallHazard = this.pinchHazard = this.valveHazard = 0;
    this.tailHits = this.downDays = this.cost = 0;
    this.spinUpWornM3 = this.brakingWornM3 = this.pivotWornM3 = this.squirmWornM3 = this.scrubWornM3 = 0;
    this.simulatedLandings = 0;
  }

  /** Lives through the landings of a block, or as many as are needed. */
  advance(draws: LandingDraws): void {
    for (let j = 0; j < BLOCK_LANDINGS && !this.finished; j++) this.land(draws, j);
  }

  private land(draws: LandingDraws, j: number): void {
    const { wheels, scenario } = this;
    const landing = draws.firstLanding + j;
    const inSeason = landing < this.seasonLandings;
    const mainsFlown = inSeason || !this.mainsKnown;
    const thirdFlown = inSeason || !this.thirdKnown;
    const strip = this.pickStrip(draws.stripUniform[j]!);
    const mainStrip = this.mainConstants.strips[strip]!;
    const wet = draws.wetUniform[j]! < mainStrip.wetShare;
    this.removedNow.fill(IN_SERVICE);

    this.passTime(draws, j, inSeason, mainsFlown, thirdFlown);

    let flatMask = 0;
    for (let w = mainsFlown ? 0 : THIRD; w < (thirdFlown ? WHEELS : MAINS); w++) {
      const wheel = wheels[w]!;
      const place = w === THIRD ? this.thirdConstants.strips[strip]! : mainStrip;
      this.contact(wheel, place, draws, j);
      meetStones(wheel, place, draws, j);
      strainAir(wheel, place, draws, j, wet);
      slip(wheel, place, draws, j, wet);
      if (this.tick(w, PUNCTURE)) flatMask |= 1 << (2 * w);
      if (this.tick(w, PRESSURE)) flatMask |= 2 << (2 * w);
      if (this.tick(w, CUT)) wheel.cutPending = true;
    }
    this.requireFinite(landing);
    if (mainsFlown) this.turn(draws, j, mainStrip, wet);
    if (inSeason) this.countSeason(draws, j, mainStrip, wet, flatMask);
    if (mainsFlown) this.addWear(strip);
    if (!this.limitKnown || !this.cordsKnown) this.wearShadows(draws, j, mainStrip, wet);
    this.readWear(landing);
    const removals = this.findRemovals(draws, j, mainsFlown, thirdFlown, flatMask, inSeason, mainStrip);
    this.simulatedLandings++;
    if (this.watch !== null) this.watch({ run: this, draws, j, strip, wet, mainsFlown, thirdFlown });
    if (removals) this.replace(draws, j, inSeason);
    const landings = landing + 1;
    if (landings === this.seasonLandings && scenario.costs !== null) this.payTreadUsed();
    this.finished =
      (landings >= this.seasonLandings &&
        this.mainsKnown &&
        this.cordsKnown &&
        this.limitKnown &&
        this.thirdKnown) ||
      landings >= this.horizonLandings;
  }

  private pickStrip(uniform: number): number {
    const { cumulativeShares, strips } = this.mix;
    let k = 0;
    while (uniform >= cumulativeShares[k]!) k++;
    return strips[k]!;
  }

  /** Time since the landing before: air lost, leaks begun, checks and inspections due. */
  private passTime(
    draws: LandingDraws,
    j: number,
    inSeason: boolean,
    mainsFlown: boolean,
    thirdFlown: boolean,
  ): void {
    const { wheels, shadows, shadowOn } = this;
    const day = draws.day[j]!;
    if (this.fresh) {
      for (const wheel of wheels) setCold(wheel, draws, j);
      this.fresh = false;
    }
    const check = day >= this.nextCheckDay;
    if (check)
      this.nextCheckDay +=
        this.checkEveryDays * (1 + Math.floor((day - this.nextCheckDay) / this.checkEveryDays));
    for (let w = mainsFlown ? 0 : THIRD; w < (thirdFlown ? WHEELS : MAINS); w++) {
      const wheel = wheels[w]!;
      loseAir(wheel, draws, j);
      if (this.tick(w, LEAK) && wheel.leakDay < 0) {
        wheel.leakDay = day;
        if (inSeason) this.leaks++;
      }
      if (check) {
        if (inSeason && w !== THIRD) this.readGauge(wheel, draws, j);
        setCold(wheel, draws, j);
      }
    }
    for (let w = 0; w < MAINS; w++) {
      if (!shadowOn[w]) continue;
      loseAir(shadows[w]!, draws, j);
      if (check) setCold(shadows[w]!, draws, j);
    }
  }

  private readGauge(wheel: Wheel, draws: LandingDraws, j: number): void {
    const { basePa, coldPa } = wheel.constants;
    this.checks++;
    if (gaugePressurePa(wheel.gasPa, basePa, draws.temperatureK[j]!) < LOW_READING_SHARE * coldPa)
      this.checksLow++;
  }

  /** Footprint of a wheel; a tire that looks soft on the walk-around is seen to first. */
  private contact(wheel: Wheel, strip: StripConstants, draws: LandingDraws, j: number): void {
    makeContact(wheel, strip, draws, j);
    if (wheel.gaugePa < this.scenario.habits.noticedBelow * wheel.constants.coldPa) {
      setCold(wheel, draws, j);
      makeContact(wheel, strip, draws, j);
    }
  }

  /** Adds the hazard of the landing to a clock of a wheel; true when its event happens now. */
  private tick(w: number, process: number): boolean {
    const slot = w * PROCESSES.length + process;
    const clock = this.clocks[slot]! + this.wheels[w]!.hazards[process]!;
    if (clock < this.thresholds[slot]!) {
      this.clocks[slot] = clock;
      return false;
    }
    this.clocks[slot] = 0;
    const count = this.counts[slot]! + 1;
    this.counts[slot] = count;
    this.thresholds[slot] = this.events!.threshold(w, process, count);
    return true;
  }

  /** A pivot turn, if this landing has one, on one main wheel. */
  private turn(draws: LandingDraws, j: number, strip: StripConstants, wet: boolean): void {
    const chance = this.world[this.scenario.habits.pivotChance]!;
    const uniform = draws.pivotUniform[j]!;
    if (uniform >= chance) return;
    const wheel = pivotWheel(uniform, chance);
    pivot(this.wheels[wheel]!, strip, draws, j, wet, pivotSpot(uniform, chance));
  }

  private countSeason(
    draws: LandingDraws,
    j: number,
    strip: StripConstants,
    wet: boolean,
    flatMask: number,
  ): void {
    const left = this.wheels[0]!;
    const right = this.wheels[1]!;
    let noFlat = 1;
    for (let w = 0; w < WHEELS; w++) {
      const wheel = this.wheels[w]!;
      noFlat *= 1 - wheel.flatChance;
      this.flatsHazard += wheel.flatChance;
      this.treadHazard += wheel.hazards[PUNCTURE]! - wheel.sidewallHazard;
      this.sidewallHazard += wheel.sidewallHazard;
      this.pinchHazard += wheel.pinchHazard;
      this.valveHazard += wheel.valveHazard;
      if (wheel.beadSlipped) this.beadSlips++;
    }
    const chance = 1 - noFlat;
    if (!this.anyFlat) this.anyFlatHazard += chance;
    if (flatMask !== 0) this.anyFlat = true;
    if (!strip.help) {
      if (!this.anyFlatAway) this.anyFlatAwayHazard += chance;
      if (flatMask !== 0) this.anyFlatAway = true;
    }
    this.tailHits += tailHits(left, strip, draws, j) + tailHits(right, strip, draws, j);
    if (wet && strip.paved) {
      this.wetPavedLandings++;
      const lowestPa = left.gaugePa < right.gaugePa ? left.gaugePa : right.gaugePa;
      if (draws.speedMps[j]! > this.mainConstants.hydroplaningAtOnePaMps * Math.sqrt(lowestPa))
        this.hydroplaningLandings++;
    }
  }

  private addWear(strip: number): void {
    const { touchdown, rollout, taxi } = this.scenario.strips[strip]!;
    for (let w = 0; w < MAINS; w++) {
      const wheel = this.wheels[w]!;
      this.spinUpWornM3 += wheel.spinUpWornM3;
      this.brakingWornM3 += wheel.brakingWornM3;
      this.pivotWornM3 += wheel.pivotWornM3;
      this.squirmWornM3 += wheel.squirmWornM3;
      this.scrubWornM3 += wheel.scrubWornM3;
      this.worn[touchdown]! += wheel.spinUpWornM3;
      this.worn[rollout]! += wheel.rolloutWornM3;
      this.worn[taxi]! += wheel.taxiWornM3;
    }
  }

  private wearShadows(draws: LandingDraws, j: number, strip: StripConstants, wet: boolean): void {
    const chance = this.world[this.scenario.habits.pivotChance]!;
    const uniform = draws.pivotUniform[j]!;
    for (let w = 0; w < MAINS; w++) {
      if (!this.shadowOn[w]) continue;
      const shadow = this.shadows[w]!;
      this.contact(shadow, strip, draws, j);
      slip(shadow, strip, draws, j, wet);
      if (uniform < chance && pivotWheel(uniform, chance) === w) {
        pivot(shadow, strip, draws, j, wet, pivotSpot(uniform, chance));
      }
    }
  }

  /** Notes when wear alone brings a first main tire, on the wheel or in its shadow, to the limit and to the cords. */
  private readWear(landing: number): void {
    if (this.cordsKnown && this.limitKnown) return;
    const { newTreadM, rubberM } = this.mainConstants;
    const limitM = newTreadM - this.scenario.habits.treadLimitM;
    let deepest = 0;
    for (let w = 0; w < MAINS; w++) {
      const lost = this.shadowOn[w] ? this.shadows[w]!.deepestLostM() : this.wheels[w]!.deepestLostM();
      if (lost > deepest) deepest = lost;
    }
    if (!this.limitKnown && deepest >= limitM) {
      this.limitKnown = true;
      this.treadLimitLandings = landing + 1;
    }
    if (!this.cordsKnown && deepest >= rubberM) {
      this.cordsKnown = true;
      this.cordsLandings = landing + 1;
    }
  }

  /** Finds the tires that must come off after the landing; true if there are any. */
  private findRemovals(
    draws: LandingDraws,
    j: number,
    mainsFlown: boolean,
    thirdFlown: boolean,
    flatMask: number,
    inSeason: boolean,
    strip: StripConstants,
  ): boolean {
    const { habits } = this.scenario;
    const day = draws.day[j]!;
    const inspection = day >= this.nextInspectionDay;
    if (inspection) {
      this.nextInspectionDay +=
        habits.inspectEveryDays * (1 + Math.floor((day - this.nextInspectionDay) / habits.inspectEveryDays));
    }
    let any = false;
    for (let w = mainsFlown ? 0 : THIRD; w < (thirdFlown ? WHEELS : MAINS); w++) {
      const wheel = this.wheels[w]!;
      const flat = (flatMask >> (2 * w)) & 3;
      let cause: number = IN_SERVICE;
      if ((flat & 1) !== 0) cause = PUNCTURED;
      else if (flat !== 0) cause = PRESSURE_RELATED;
      else if (inspection && wheel.cutPending) cause = CUT_PAST_LIMITS;
      else if (wheel.deepestLostM() >= this.wornAtM(wheel)) cause = WORN;
      else if (day - wheel.fittedDay >= habits.ageLimitDays) cause = AGED;
      if (cause === IN_SERVICE) continue;
      any = true;
      this.removedNow[w] = cause;
      if (inSeason) this.pay(w, cause, strip);
    }
    return any;
  }

  private replace(draws: LandingDraws, j: number, inSeason: boolean): void {
    const { wheels, removedNow, scenario } = this;
    const landings = draws.firstLanding + j + 1;
    const mainOff = removedNow[0] !== IN_SERVICE || removedNow[1] !== IN_SERVICE;
    if (mainOff && !this.mainsKnown) this.noteLife(landings);
    if (removedNow[THIRD] !== IN_SERVICE && !this.thirdKnown) {
      this.thirdKnown = true;
      this.thirdLifeLandings = landings;
      this.thirdLifeCause = removedNow[THIRD]!;
    }
    for (let w = 0; w < WHEELS; w++) {
      const withMate = mainOff && w !== THIRD && scenario.habits.replacePairs;
      if (removedNow[w] === IN_SERVICE && !withMate) continue;
      const wheel = wheels[w]!;
      if (inSeason && scenario.costs !== null) {
        const tire = w === THIRD ? this.setup.third : this.setup.main;
        this.cost += tire.price + scenario.costs.tireChange;
      }
      wheel.fitNew(draws.day[j]!, landings);
      setCold(wheel, draws, j);
      if (!inSeason) continue;
      if (w === THIRD) this.thirdFitted++;
      else this.mainsFitted++;
    }
  }

  private noteLife(landings: number): void {
    const [left, right] = this.wheels as [Wheel, Wheel, Wheel];
    this.mainsKnown = true;
    this.lifeLandings = landings;
    this.lifeWheel = this.removedNow[0] !== IN_SERVICE ? 0 : 1;
    this.lifeCause = this.removedNow[this.lifeWheel]!;
    this.centreLostM = 0.5 * (left.centreLostM + right.centreLostM);
    this.innerLostM = 0.5 * (left.innerLostM + right.innerLostM);
    this.outerLostM = 0.5 * (left.outerLostM + right.outerLostM);
    if (this.cordsKnown && this.limitKnown) return;
    for (let w = 0; w < MAINS; w++) {
      this.shadows[w]!.copyFrom(this.wheels[w]!);
      this.shadowOn[w] = true;
    }
  }

  /** Days and money of a removal in the season; tires are paid in full when they come off. */
  private pay(w: number, cause: number, strip: StripConstants): void {
    const { scenario, world } = this;
    const { global, costs } = scenario;
    if (w !== THIRD) this.mainRemovals[cause]!++;
    let days: number;
    let money = 0;
    if (cause === PUNCTURED || cause === PRESSURE_RELATED) {
      this.flats++;
      if (costs !== null) money += costs.tube;
      if (strip.help) {
        days = world[global.downDaysAtBase]!;
      } else if (this.events!.consequence(this.flatCount++) < world[global.patchChance]!) {
        days = world[global.downDaysPatched]!;
        if (costs !== null) money += costs.patch;
      } else {
        days = world[global.downDaysRescue]!;
        if (costs !== null) money += costs.rescue;
      }
    } else {
      days = world[global.downDaysReplacement]!;
    }
    days /= 86_400;
    this.downDays += days;
    if (costs !== null) this.cost += money + days * costs.downDay;
  }

  /** At the end of the season, the tires on the wheels are paid by the share of their tread that is gone. */
  private payTreadUsed(): void {
    for (let w = 0; w < WHEELS; w++) {
      const wheel = this.wheels[w]!;
      const share = wheel.deepestLostM() / this.wornAtM(wheel);
      this.cost += (w === THIRD ? this.setup.third : this.setup.main).price * (share < 1 ? share : 1);
    }
  }

  /** Depth worn at which a tire comes off by policy, m. */
  private wornAtM({ constants }: Wheel): number {
    const { removeAtCords, treadLimitM } = this.scenario.habits;
    return removeAtCords ? constants.rubberM : constants.newTreadM - treadLimitM;
  }

  /** Stops the run if a figure of the landing is not a finite number. */
  private requireFinite(landing: number): void {
    let sum = 0;
    for (let w = 0; w < WHEELS; w++) {
      const wheel = this.wheels[w]!;
      sum +=
        wheel.gaugePa +
        wheel.flatChance +
        wheel.hazards[CUT]! +
        wheel.centreLostM +
        wheel.innerLostM +
        wheel.outerLostM;
    }
    if (sum < FINITE_LIMIT) return;
    throw new NonFiniteError({
      seed: this.scenario.seed,
      trial: this.trial,
      landing,
      pairing: `${this.setup.name} on ${this.mix.name}`,
      quantity: 'sum of pressure, wear and hazards',
      value: sum,
    });
  }

  /** Writes the figures of the trial into a row. */
  write(target: PairingTrials, row: number): void {
    const { columns: c } = target;
    c.lifeLandings[row] = this.lifeLandings;
    c.lifeCause[row] = this.lifeCause;
    c.lifeWheel[row] = this.lifeWheel;
    c.treadLimitLandings[row] = this.treadLimitLandings;
    c.cordsLandings[row] = this.cordsLandings;
    c.followedLandings[row] = this.horizonLandings;
    c.thirdLifeLandings[row] = this.thirdLifeLandings;
    c.thirdLifeCause[row] = this.thirdLifeCause;
    c.centreLostM[row] = this.centreLostM;
    c.innerLostM[row] = this.innerLostM;
    c.outerLostM[row] = this.outerLostM;
    c.flats[row] = this.flats;
    c.flatsHazard[row] = this.flatsHazard;
    c.anyFlat[row] = this.anyFlat ? 1 : 0;
    c.anyFlatHazard[row] = this.anyFlatHazard;
    c.anyFlatAway[row] = this.anyFlatAway ? 1 : 0;
    c.anyFlatAwayHazard[row] = this.anyFlatAwayHazard;
    c.treadHazard[row] = this.treadHazard;
    c.sidewallHazard[row] = this.sidewallHazard;
    c.pinchHazard[row] = this.pinchHazard;
    c.valveHazard[row] = this.valveHazard;
    c.mainsWorn[row] = this.mainRemovals[WORN]!;
    c.mainsCut[row] = this.mainRemovals[CUT_PAST_LIMITS]!;
    c.mainsPunctured[row] = this.mainRemovals[PUNCTURED]!;
    c.mainsPressure[row] = this.mainRemovals[PRESSURE_RELATED]!;
    c.mainsAged[row] = this.mainRemovals[AGED]!;
    c.mainsFitted[row] = this.mainsFitted;
    c.thirdFitted[row] = this.thirdFitted;
    c.beadSlips[row] = this.beadSlips;
    c.leaks[row] = this.leaks;
    c.checks[row] = this.checks;
    c.checksLow[row] = this.checksLow;
    c.wetPavedLandings[row] = this.wetPavedLandings;
    c.hydroplaningLandings[row] = this.hydroplaningLandings;
    c.tailHits[row] = this.tailHits;
    c.downDays[row] = this.downDays;
    c.cost[row] = this.cost;
    c.spinUpWornM3[row] = this.spinUpWornM3;
    c.brakingWornM3[row] = this.brakingWornM3;
    c.pivotWornM3[row] = this.pivotWornM3;
    c.squirmWornM3[row] = this.squirmWornM3;
    c.scrubWornM3[row] = this.scrubWornM3;
    c.simulatedLandings[row] = this.simulatedLandings;
    for (let s = 0; s < this.worn.length; s++) target.surfaceWornM3[s]![row] = this.worn[s]!;
  }

  /** Empty results for a number of trials of this pairing. */
  emptyTrials(rows: number): PairingTrials {
    return emptyTrials(this.scenario, this.setup.name, this.mix.name, rows);
  }
}

/** Landings within the horizon of a scenario, at least one season. */
export function horizonLandings(scenario: CompiledScenario): number {
  const { calendar, horizonDays } = scenario;
  let low = calendar.landingsPerYear;
  let high = Math.max(low, Math.ceil((horizonDays / 365 + 1) * low));
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (daysAfter(calendar, middle) <= horizonDays) low = middle;
    else high = middle - 1;
  }
  return low;
}

function tailHits(wheel: Wheel, strip: StripConstants, draws: LandingDraws, j: number): number {
  const groove = wheel.constants.newTreadM - wheel.centreLostM;
  return groove > 0 ? strip.tailHits * draws.rollRatio[j]! * wheel.footprintWidthM * groove : 0;
}

function pivotWheel(uniform: number, chance: number): number {
  return uniform + uniform < chance ? 0 : 1;
}

function pivotSpot(uniform: number, chance: number): number {
  const within = (2 * uniform) / chance;
  const spot = Math.floor((within < 1 ? within : within - 1) * SPOTS);
  return spot < SPOTS ? spot : SPOTS - 1;
}
