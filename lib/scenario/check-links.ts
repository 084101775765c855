import type { Problem } from '../problems.js';
import { nearestName } from '../units.js';
import type { MergedScenario } from './merge.js';
import { monthNames } from './schema/ground.js';
import type { Scenario } from './schema/index.js';

type Path = readonly (string | number)[];

/** Shares are written with a few decimals; they must add to one within this. */
const SHARE_SUM_TOLERANCE = 0.0005;
/** Landings times years that would not end in reasonable time or memory. */
const MOST_LANDINGS_PER_YEAR = 200_000;

/**
 * What a schema cannot say: names that must refer to something, shares that must add up, sizes that must fit.
 *
 * @param scenario a scenario whose fields are each valid.
 * @param merged the same before checking, to find the place of each fault.
 * @returns all problems found; empty if none.
 */
export function checkLinks(scenario: Scenario, merged: MergedScenario): Problem[] {
  const problems: Problem[] = [];
  const report = (path: Path, found: string, allowed: string, suggestion?: string, atKey = false): void => {
    const { fileName, line, column } = atKey ? merged.keyOriginOf(path) : merged.originOf(path);
    problems.push({
      file: fileName,
      line,
      column,
      path: path.join('.'),
      found,
      allowed,
      ...(suggestion === undefined ? {} : { suggestion }),
    });
  };
  const refer = (path: Path, name: string, section: string, entries: object, atKey = false): void => {
    if (Object.hasOwn(entries, name)) return;
    const nearest = nearestName(name, Object.keys(entries));
    const names = Object.keys(entries);
    const listed =
      names.length === 0
        ? 'it is empty'
        : `it has ${names.slice(0, 8).join(', ')}${names.length > 8 ? ', ...' : ''}`;
    report(
      path,
      JSON.stringify(name),
      `expected the name of an entry of "${section}"; ${listed}`,
      nearest === null ? undefined : `did you mean "${nearest}"?`,
      atKey,
    );
  };

  refer(['airplane'], scenario.airplane, 'airplanes', scenario.airplanes);
  checkTires(scenario, refer, report);
  for (const [name, setup] of Object.entries(scenario.setups)) {
    refer(['setups', name, 'mainTire'], setup.mainTire, 'tires', scenario.tires);
    refer(['setups', name, 'thirdTire'], setup.thirdTire, 'tires', scenario.tires);
  }
  for (const [name, strip] of Object.entries(scenario.strips)) {
    for (const part of ['touchdown', 'rollout', 'taxi'] as const) {
      refer(['strips', name, part], strip[part], 'surfaces', scenario.surfaces);
    }
  }
  if (Object.keys(scenario.setups).length === 0)
    report(['setups'], 'no entry', 'expected at least one tire set-up');
  if (Object.keys(scenario.mixes).length === 0)
    report(['mixes'], 'no entry', 'expected at least one runway mix');
  checkMixes(scenario, refer, report);
  checkSeason(scenario, report);
  return problems;
}

type Report = (path: Path, found: string, allowed: string, suggestion?: string, atKey?: boolean) => void;
type Refer = (path: Path, name: string, section: string, entries: object, atKey?: boolean) => void;

function checkTires(scenario: Scenario, refer: Refer, report: Report): void {
  for (const [name, tire] of Object.entries(scenario.tires)) {
    refer(['tires', name, 'sidewall'], tire.sidewall, 'sidewalls', scenario.sidewalls);
    refer(['tires', name, 'tread'], tire.tread, 'treads', scenario.treads);
    refer(['tires', name, 'compound'], tire.compound, 'compounds', scenario.compounds);
    const inches = (lengthM: number): string => `${(lengthM / 0.0254).toFixed(1)} in`;
    if (tire.rimDiameter + 2 * tire.flangeHeight >= tire.outsideDiameter) {
      report(
        ['tires', name, 'rimDiameter'],
        inches(tire.rimDiameter),
        `rim and flanges must be smaller than the outside diameter of ${inches(tire.outsideDiameter)}`,
      );
    }
    if (tire.treadWidth > tire.sectionWidth) {
      report(
        ['tires', name, 'treadWidth'],
        inches(tire.treadWidth),
        `the tread cannot be wider than the section width of ${inches(tire.sectionWidth)}`,
      );
    }
    if (tire.newTread + tire.undertread <= 0) {
      report(
        ['tires', name, 'undertread'],
        '0 mm',
        'newTread and undertread together must be more than 0 mm',
      );
    }
  }
}

function checkMixes(scenario: Scenario, refer: Refer, report: Report): void {
  for (const [name, mix] of Object.entries(scenario.mixes)) {
    let sum = 0;
    for (const [strip, share] of Object.entries(mix)) {
      refer(['mixes', name, strip], strip, 'strips', scenario.strips, true);
      sum += share;
    }
    if (Math.abs(sum - 1) <= SHARE_SUM_TOLERANCE) continue;
    const off = Math.abs(sum - 1) * 100;
    report(
      ['mixes', name],
      `shares that add to ${round(100 * sum)} %`,
      'shares must add to 100 %',
      `${sum > 1 ? 'lower' : 'raise'} them by ${round(off)} %`,
    );
  }
}

function checkSeason(scenario: Scenario, report: Report): void {
  const { months } = scenario.season;
  const landings = months.reduce((sum, month) => sum + month.landings, 0);
  const hours = months.reduce((sum, month) => sum + month.flightHours, 0);
  if (landings === 0)
    report(['season', 'months'], 'no landings', 'expected at least one landing in the year');
  if (landings > MOST_LANDINGS_PER_YEAR) {
    report(
      ['season', 'months'],
      `${landings} landings`,
      `expected at most ${MOST_LANDINGS_PER_YEAR} landings in the year`,
    );
  }
  if (hours <= 0)
    report(['season', 'months'], 'no flight hours', 'expected flight hours in at least one month');
  const first = monthNames.indexOf(months[0]?.month ?? '');
  let before = -1;
  months.forEach(({ month }, index) => {
    const place = (monthNames.indexOf(month) - first + 12) % 12;
    if (place <= before) {
      report(
        ['season', 'months', index, 'month'],
        JSON.stringify(month),
        'months must follow each other within one year',
      );
    }
    before = Math.max(before, place);
  });
}

function round(value: number): string {
  return String(Number(value.toFixed(2)));
}
