import { dateOfDay, dayOfDate } from '../../dist/calibrate/dates.js';
import { exp, power } from '../../dist/numeric/elementary.js';
import { biteScaleM, chanceLarger, chanceLargerOnBands } from '../../dist/models/stones.js';
import { REMOVAL_CAUSES } from '../../dist/simulate/columns.js';
import { DRAW, GROUND, TRACK } from '../../dist/simulate/layout.js';
import { rounded } from './chance.js';
import { SEASONS } from './truth.js';

const PSI_PA = 6894.757293168361;
const MM = 0.001;
/** Wheels in the words of this log. */
const POSITIONS = ['L', 'R', 'N'];
const MAINS = 2;
/** Scale of the law of bites that reached the carcass, m: their depths beyond it tell little. */
const DEEP_CUT_SCALE_M = 0.003;
/** The evening before the first season: tires that are new then have all their flying in the log. */
export const FIRST_DAY = dayOfDate(SEASONS[0].from) - 1;
export const LAST_DAY = dayOfDate(SEASONS.at(-1).to);

/** Keeps the log of one airplane: sees every landing and writes what a shop would. */
export class AirplaneLog {
  everyLanding = true;
  tires = [];
  readings = [];
  flights = [];
  pressure = [];
  cuts = [];

  constructor(entry, strips, { dayNumber, hours }, chance, gaugeBiasPa, keeping) {
    this.keeping = keeping;
    this.entry = entry;
    this.airplane = entry.airplane;
    this.dayNumber = dayNumber;
    this.hours = hours;
    this.chance = chance;
    this.strips = strips;
    this.gaugeBiasPa = gaugeBiasPa;
    this.lastDay = entry.sold === undefined ? LAST_DAY : dayOfDate(entry.sold);
    this.fitted = [null, null, null];
    this.tireCount = 0;
    this.minorCuts = [[], [], []];
    this.nextReadingDay = FIRST_DAY + this.keeping.readEveryDays;
    this.nextInspectionDay = FIRST_DAY;
    this.shiftedDay = null;
    for (let w = 0; w < POSITIONS.length; w++) this.fit(w, FIRST_DAY);
  }

  fit(w, day) {
    const id = `${this.airplane.slice(0, 3).toUpperCase()}-${POSITIONS[w]}${++this.tireCount}`;
    // A tire that was on when the log began stands in it from its first day on.
    const fitted = Math.max(day, FIRST_DAY);
    this.fitted[w] = {
      id,
      position: POSITIONS[w],
      day: fitted,
      known: fitted,
      landingsBefore: 0,
      hoursBefore: 0,
    };
  }

  /** Day on which a landing stands in the log: flights left on a day when a tire came off fly on the next day. */
  logDay(landing) {
    const day = this.dayNumber[landing];
    return day + (this.shiftedDay === day ? 1 : 0);
  }

  see({ run, draws, ground, from: j }) {
    const landing = draws.firstLanding + j;
    if (landing >= this.dayNumber.length) return;
    const day = this.logDay(landing);
    if (day > this.lastDay) return;
    const logged = day > FIRST_DAY;
    this.meetStones(run, ground, j);
    if (logged) {
      this.checkPressure(run, draws, j, day);
      this.fly(this.strips[ground.strip[j]].name, landing, day);
    } else this.flyBefore(landing);
    const lastOfDay = landing + 1 === this.dayNumber.length || this.logDay(landing + 1) > day;
    const readNow = logged && lastOfDay && day >= this.nextReadingDay;
    const inspected = logged && lastOfDay && day >= this.nextInspectionDay;
    run.wheels.forEach((wheel, w) => {
      const cause = REMOVAL_CAUSES[run.removed[w]];
      const off = cause !== 'in service';
      // Nobody reads a tire that lost its air.
      const readOff = off && (cause === 'worn' || cause === 'cut') && !this.isRough(cause);
      if (logged && w < MAINS && (off ? readOff : readNow)) this.readTread(wheel, w, j, day);
      if (logged && !this.isRough(cause) && (inspected || off)) this.writeCuts(wheel, w, j, day, cause);
      if (!off) return;
      this.minorCuts[w] = [];
      if (logged) this.close(w, this.endOf(w, day, cause));
      this.fit(w, day);
      if (!lastOfDay) this.shiftedDay = this.dayNumber[landing];
    });
    if (inspected) this.nextInspectionDay = day + this.keeping.inspectEveryDays;
    if (readNow) this.planReading(day);
  }

  /** The next round of readings; nothing is read in winter: the first is a month into the season. */
  planReading(day) {
    const season = SEASONS.find(({ to }) => day <= dayOfDate(to));
    this.nextReadingDay += this.keeping.readEveryDays;
    if (this.nextReadingDay <= dayOfDate(season.to)) return;
    const next = SEASONS[SEASONS.indexOf(season) + 1];
    this.nextReadingDay = next === undefined ? Infinity : dayOfDate(next.from) + this.keeping.readEveryDays;
  }

  /** This airplane writes down failures in the field only when it is back at the shop. */
  isRough(cause) {
    return this.entry.rough === true && cause !== 'in service' && cause !== 'worn';
  }

  endOf(w, day, cause) {
    const removed = dateOfDay(day);
    if (!this.isRough(cause)) return { removed, cause };
    return { removedAfter: dateOfDay(this.fitted[w].known), removedBy: removed, cause };
  }

  flyBefore(landing) {
    for (const tire of this.fitted) {
      tire.landingsBefore++;
      tire.hoursBefore += this.hours[landing];
    }
  }

  fly(strip, landing, day) {
    const row = this.flights.find((each) => each.day === day && each.strip === strip);
    if (row === undefined) this.flights.push({ day, strip, landings: 1, hours: this.hours[landing] });
    else {
      row.landings++;
      row.hours += this.hours[landing];
    }
  }

  /** Scheduled checks are made in the evening before the day of the landing that they go before. */
  checkPressure(run, draws, j, day) {
    run.wheels.forEach(({ constants, track }, w) => {
      const reading = track.data[TRACK.reading + j];
      if (reading === 0) return;
      const { normal } = this.chance;
      const foundPsi =
        (reading * constants.coldPa - this.gaugeBiasPa) / PSI_PA + this.keeping.pressureErrorPsi * normal();
      // The simulator sets a tire to the pascal; what is read afterwards has the error of any reading, where one is kept.
      const { setErrorPsi } = this.keeping;
      const setPsi =
        (constants.coldPa - this.gaugeBiasPa) / PSI_PA +
        (setErrorPsi === undefined ? 0 : setErrorPsi * normal());
      this.fitted[w].known = day - 1;
      this.pressure.push({
        airplane: this.airplane,
        position: POSITIONS[w],
        tire: this.fitted[w].id,
        day: day - 1,
        found: rounded(foundPsi, this.keeping.pressureStepPsi),
        set: rounded(setPsi, this.keeping.pressureStepPsi),
        temperature: rounded(draws.data[DRAW.temperatureK + j] - 273.15, this.keeping.temperatureStepC ?? 1),
      });
    });
  }

  /** Bites deep enough to be written down that do not reach the carcass: the simulator follows only those that do. */
  meetStones(run, ground, j) {
    const g = ground.data;
    run.wheels.forEach(({ constants, track }, w) => {
      const t = track.data;
      const contactPa = t[TRACK.loadN + j] / t[TRACK.footprintAreaM2 + j];
      const widthM = t[TRACK.footprintWidthM + j];
      const left = (column) => Math.max(0, constants.rubberM - t[column + j]);
      const bands = [left(TRACK.centreLostM), left(TRACK.innerLostM), left(TRACK.outerLostM)];
      for (const part of ['rollout', 'taxi']) {
        const stones = g[GROUND[`${part}Stones`] + j] * widthM;
        if (!(stones > 0)) continue;
        const scaleM = biteScaleM(constants.biteFactor * g[GROUND[`${part}BiteScaleM`] + j], contactPa);
        const deep = chanceLarger(this.keeping.leastCutMm * MM, scaleM);
        const through = chanceLargerOnBands(constants.centreAreaShare, ...bands, scaleM);
        if (through >= deep) continue;
        // A count of mean far below 1: one cut at most, with the chance of at least one.
        if (this.chance.uniform() < 1 - exp(-stones * (deep - through))) {
          this.minorCuts[w].push(depthBetween(deep, through, scaleM, this.chance.uniform()));
        }
      }
    });
  }

  /** Cuts are found at inspections, and when a tire comes off. */
  writeCuts({ constants, track }, w, j, day, cause) {
    const depths = this.minorCuts[w];
    if (cause === 'cut') {
      const { rubberM, carcassM } = constants;
      const leftM = Math.max(0, rubberM - track.data[TRACK.centreLostM + j]);
      const [from, to] = [
        chanceLarger(leftM, DEEP_CUT_SCALE_M),
        chanceLarger(leftM + carcassM, DEEP_CUT_SCALE_M),
      ];
      depths.push(depthBetween(from, to, DEEP_CUT_SCALE_M, this.chance.uniform()));
    }
    const tire = this.fitted[w];
    tire.known = day;
    for (const depthM of depths) {
      this.cuts.push({ tire: tire.id, day, depth: rounded(depthM / MM, this.keeping.cutStepMm) });
    }
    this.minorCuts[w] = [];
  }

  readTread({ constants, track }, w, j, day) {
    const t = track.data;
    const { newTreadM } = constants;
    const grooves = {
      centre: newTreadM - t[TRACK.centreLostM + j],
      'inner shoulder': newTreadM - t[TRACK.innerLostM + j],
      'outer shoulder': newTreadM - t[TRACK.outerLostM + j],
      'worst spot': newTreadM - t[TRACK.deepestLostM + j],
    };
    for (const [band, grooveM] of Object.entries(grooves)) {
      const readMm = Math.max(0, grooveM) / MM + this.keeping.treadErrorMm * this.chance.normal();
      const groove = rounded(Math.max(0, readMm), this.keeping.treadStepMm);
      this.readings.push({ tire: this.fitted[w].id, day, band, groove });
    }
    this.fitted[w].known = day;
  }

  close(w, end) {
    this.tires.push({ ...this.fitted[w], end });
  }

  /** The log is closed: what is on the airplane is in service. */
  finish() {
    for (let w = 0; w < POSITIONS.length; w++) {
      this.close(w, this.entry.sold === undefined ? {} : { seen: this.entry.sold });
    }
  }
}

/** A depth of the law of bites, given that its chance to be exceeded lies between two chances. */
function depthBetween(from, to, scaleM, uniform) {
  const chance = from + uniform * (to - from);
  return scaleM * (power(chance, -1 / 3) - 1);
}
