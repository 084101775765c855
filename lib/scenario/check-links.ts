import type { Problem } from '../problems.js';
import { problemAt, type ProblemDetails } from './issues.js';
import { daysInMonth } from './calendar.js';
import { checkFitted } from './check-fitted.js';
import { checkNames } from './check-names.js';
import type { MergedScenario } from './merge.js';
import { monthNames } from './schema/ground.js';
import type { Scenario } from './schema/index.js';

type Path = readonly (string | number)[];

/** Shares are written with a few decimals; they must add to one within this. */
const SHARE_SUM_TOLERANCE = 0.0005;
/** More landings a year than this would not end in reasonable time or memory. */
const MOST_LANDINGS_PER_YEAR = 200_000;

/**
 * What a schema cannot say: names that must refer to something, shares that must add up, sizes that must fit.
 *
 * @param scenario a scenario whose fields are each valid.
 * @param merged the same before checking, to find the place of each fault.
 * @returns all problems found; empty if none.
 */
export function checkLinks(scenario: Scenario, merged: MergedScenario): Problem[] {
  const checks = new Checks(merged);
  checkTires(scenario, checks);
  checkFit(scenario, checks);
  for (const [section, what] of [
    ['setups', 'tire set-up'],
    ['mixes', 'runway mix'],
  ] as const) {
    if (Object.keys(scenario[section]).length > 0) continue;
    checks.report([section], { found: 'no entry', allowed: `expected at least one ${what}` });
  }
  checkMixes(scenario, checks);
  checkMonthlyMixes(scenario, checks);
  checkSeason(scenario.season, checks);
  checkFleet(scenario, checks);
  checkToday(scenario, checks);
  checkFitted(scenario, (path, details) => {
    checks.report(path, details);
  });
  return [...checkNames(merged), ...checks.problems];
}

/** Gathers problems. */
class Checks {
  readonly problems: Problem[] = [];
  private readonly merged: MergedScenario;

  constructor(merged: MergedScenario) {
    this.merged = merged;
  }

  report(path: Path, details: ProblemDetails): void {
    this.problems.push(problemAt(this.merged, path, details));
  }
}

function checkTires(scenario: Scenario, checks: Checks): void {
  const inches = (lengthM: number): string => `${(lengthM / 0.0254).toFixed(1)} in`;
  for (const [name, tire] of Object.entries(scenario.tires)) {
    if (tire.rimDiameter + 2 * tire.flangeHeight >= tire.outsideDiameter) {
      const outside = inches(tire.outsideDiameter);
      checks.report(['tires', name, 'rimDiameter'], {
        allowed: `rim and flanges must be smaller than the outside diameter of ${outside}`,
      });
    }
    if (tire.treadWidth > tire.sectionWidth) {
      const width = inches(tire.sectionWidth);
      checks.report(['tires', name, 'treadWidth'], {
        allowed: `the tread cannot be wider than the section width of ${width}`,
      });
    }
    if (tire.newTread + tire.undertread <= 0) {
      checks.report(['tires', name, 'undertread'], {
        allowed: 'newTread and undertread together must be more than 0 mm',
      });
    }
  }
  if (scenario.habits.removeAt === 'cords') return;
  const fitted = Object.values(scenario.setups).flatMap(({ mainTire, thirdTire }) => [mainTire, thirdTire]);
  for (const name of new Set(fitted)) {
    const tire = Object.hasOwn(scenario.tires, name) ? scenario.tires[name] : undefined;
    if (tire === undefined || tire.newTread > scenario.habits.treadLimit) continue;
    const depth = `${Number((tire.newTread * 1000).toFixed(2))} mm`;
    checks.report(['habits', 'treadLimit'], {
      allowed: `expected less than the new groove of every tire fitted; ${name} has ${depth}`,
    });
  }
}

/** What is stated about how airplanes stand and how fairings fit. */
function checkFit(scenario: Scenario, checks: Checks): void {
  const degrees = (angleRad: number): string => `${round((180 / Math.PI) * angleRad)} deg`;
  for (const [name, { geometry }] of Object.entries(scenario.airplanes)) {
    if (geometry === undefined) continue;
    const place = ['airplanes', name, 'geometry'];
    const { attitudeLeast, attitudeMost } = geometry;
    if (attitudeLeast === undefined || attitudeMost === undefined || attitudeLeast < attitudeMost) continue;
    checks.report([...place, 'attitudeLeast'], {
      allowed: `expected less than attitudeMost, which is ${degrees(attitudeMost)}`,
    });
  }
  for (const [name, { fairings, fairingFit }] of Object.entries(scenario.setups)) {
    if (fairingFit === undefined || fairings) continue;
    checks.report(['setups', name, 'fairingFit'], {
      allowed: 'only a set-up with "fairings": true has a fairing to fit',
    });
  }
}

function checkMixes(scenario: Scenario, checks: Checks): void {
  for (const [name, mix] of Object.entries(scenario.mixes)) {
    let sum = 0;
    for (const share of Object.values(mix)) sum += share;
    if (Math.abs(sum - 1) <= SHARE_SUM_TOLERANCE) continue;
    checks.report(['mixes', name], {
      found: `shares that add to ${round(100 * sum)} %`,
      allowed: 'shares must add to 100 %',
      suggestion: `${sum > 1 ? 'lower' : 'raise'} them by ${round(100 * Math.abs(sum - 1))} %`,
    });
  }
}

/** Monthly mixes name a mix for every month flown, and have names of their own. */
function checkMonthlyMixes(scenario: Scenario, checks: Checks): void {
  for (const [name, mixOfMonth] of Object.entries(scenario.monthlyMixes ?? {})) {
    const missing = monthsWithoutMix(scenario.season, mixOfMonth);
    if (missing.length > 0) {
      checks.report(['monthlyMixes', name], {
        found: `no mix for ${missing.join(', ')}`,
        allowed: 'expected a mix for every month with landings',
      });
    }
    if (name in scenario.mixes) {
      checks.report(['monthlyMixes', name], {
        found: JSON.stringify(name),
        allowed: 'there is an entry of "mixes" with this name: choose another',
      });
    }
  }
}

function checkSeason(season: Scenario['season'], checks: Checks, at: readonly string[] = ['season']): void {
  const { months } = season;
  const place = [...at, 'months'];
  const landings = months.reduce((sum, month) => sum + month.landings, 0);
  const hours = months.reduce((sum, month) => sum + month.flightHours, 0);
  if (landings === 0)
    checks.report(place, { found: 'no landings', allowed: 'expected at least one landing in the year' });
  if (landings > MOST_LANDINGS_PER_YEAR) {
    const allowed = `expected at most ${MOST_LANDINGS_PER_YEAR} landings in the year`;
    checks.report(place, { found: `${landings} landings`, allowed });
  }
  if (hours <= 0) {
    checks.report(place, {
      found: 'no flight hours',
      allowed: 'expected flight hours in at least one month',
    });
  }
  const first = monthNames.indexOf(months[0]?.month ?? '');
  let before = -1;
  months.forEach(({ month, landings: inMonth, flightHours }, index) => {
    const order = (monthNames.indexOf(month) - first + 12) % 12;
    if (order <= before) {
      checks.report([...place, index, 'month'], { allowed: 'months must follow each other within one year' });
    }
    if (inMonth === 0 && flightHours > 0) {
      checks.report([...place, index, 'landings'], {
        allowed: 'a month with flight hours needs at least one landing',
      });
    }
    before = Math.max(before, order);
  });
}

/** Airplanes of the fleet, their gear sets and their mix, which must cover their season. */
function checkFleet(scenario: Scenario, checks: Checks): void {
  for (const [name, entry] of Object.entries(scenario.fleet?.airplanes ?? {})) {
    const place = ['fleet', 'airplanes', name];
    entry.gearSets.forEach((setup, index) => {
      if (entry.gearSets.indexOf(setup) < index) {
        checks.report([...place, 'gearSets', index], { allowed: 'each gear set is named once' });
      }
    });
    if (entry.season === undefined) continue;
    checkSeason(entry.season, checks, [...place, 'season']);
    const mixOfMonth = scenario.monthlyMixes?.[entry.mix];
    if (mixOfMonth === undefined) continue;
    const missing = monthsWithoutMix(entry.season, mixOfMonth);
    if (missing.length === 0) continue;
    checks.report([...place, 'mix'], {
      found: `"${entry.mix}", which has no mix for ${missing.join(', ')}`,
      allowed: 'expected a mix for every month with landings of its season',
    });
  }
  if (scenario.fleet !== undefined && Object.keys(scenario.fleet.airplanes).length === 0) {
    checks.report(['fleet', 'airplanes'], { found: 'no entry', allowed: 'expected at least one airplane' });
  }
}

function monthsWithoutMix(
  season: Scenario['season'],
  mixOfMonth: Readonly<Record<string, string>>,
): string[] {
  return season.months
    .filter(({ month, landings }) => landings > 0 && !(month in mixOfMonth))
    .map(({ month }) => month);
}

/** The tires of today must be those of an entry, flown for so long, with grooves that fit. */
function checkToday(scenario: Scenario, checks: Checks): void {
  const { today } = scenario;
  if (today === undefined) return;
  if (today.flightHours === undefined && today.landings === undefined) {
    checks.report(['today', 'flightHours'], {
      found: 'nothing',
      allowed: 'expected flightHours or landings since both main tires were new',
    });
  }
  if (today.dayOfMonth !== undefined) {
    const days = today.month === undefined ? 0 : daysInMonth(monthNames.indexOf(today.month));
    if (today.month === undefined) {
      checks.report(['today', 'dayOfMonth'], { allowed: 'a day needs a month: state "month" too' });
    } else if (today.dayOfMonth > days) {
      checks.report(['today', 'dayOfMonth'], { allowed: `expected 1 to ${days} in ${today.month}` });
    }
  }
  const noRounding = today.readingStep === 0;
  today.readings.forEach(({ error }, index) => {
    if (!noRounding || (error ?? today.readingError) !== 0) return;
    checks.report(['today', 'readings', index], {
      allowed: 'a reading needs an error or a step of more than 0 mm: no gauge is exact',
    });
  });
}

function round(value: number): string {
  return String(Number(value.toFixed(2)));
}
