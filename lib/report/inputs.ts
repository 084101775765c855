import { listText } from '../present/lists.js';
import { amountText } from '../chart/figures.js';
import { depthText, pressureText } from '../chart/measures.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { formatQuantity } from '../units.js';
import { html, type Html } from './html.js';

import { table, type Column } from './table.js';

const DAY_S = 86_400;

/**
 * What was compared: set-ups, tires, mixes, strips, season and habits, each with its source.
 *
 * @param scenario the scenario of the run.
 * @param compiled the same, compiled.
 */
export function inputs(scenario: Scenario, compiled: CompiledScenario): Html {
  return html`<h3>Set-ups</h3>
    ${table(SETUP_COLUMNS(scenario), Object.entries(scenario.setups), { caption: 'Tire set-ups, pressures cold' })}
    <h3>Tires</h3>
    ${table(TIRE_COLUMNS, usedTires(scenario), { caption: 'Tires of these set-ups' })}
    <h3>Runway mixes</h3>
    ${table(MIX_COLUMNS, Object.entries(scenario.mixes), { caption: 'Shares of the landings' })}
    <h3>Strips</h3>
    ${table(STRIP_COLUMNS, usedStrips(scenario), { caption: 'Strips of these mixes' })}
    <h3>Season and habits</h3>
    <p>${seasonText(scenario, compiled)} <span class="soft">Source: ${scenario.season.source}</span></p>
    <p>${habitText(scenario)}</p> `;
}

type Named<Value> = readonly [name: string, value: Value];
type Setup = Scenario['setups'][string];
type Tire = Scenario['tires'][string];
type Mix = Scenario['mixes'][string];
type Strip = Scenario['strips'][string];

const SETUP_COLUMNS = (scenario: Scenario): Column<Named<Setup>>[] => {
  const third = scenario.airplanes[scenario.airplane]?.gear === 'tail' ? 'Tail wheel' : 'Nose wheel';
  return [
    { title: 'Set-up', cell: ([name]) => name },
    {
      title: 'Main wheels',
      cell: ([, { mainTire, mainPressure }]) =>
        html`${mainTire} <small>${pressureText(mainPressure)}</small>`,
    },
    {
      title: third,
      cell: ([, { thirdTire, thirdPressure }]) =>
        html`${thirdTire} <small>${pressureText(thirdPressure)}</small>`,
    },
    { title: 'Fairings', cell: ([, { fairings }]) => (fairings ? 'yes' : 'no') },
    {
      title: 'Pressure checked',
      cell: ([, { checkEvery }]) => `every ${daysText(checkEvery ?? scenario.habits.checkEvery)}`,
    },
    { title: 'Remark', cell: ([, { note }]) => note ?? '' },
  ];
};

const TIRE_COLUMNS: readonly Column<Named<Tire>>[] = [
  { title: 'Tire', cell: ([name]) => name },
  {
    title: html`Size <small>diameter × width, rim</small>`,
    cell: ([, { outsideDiameter, sectionWidth, rimDiameter }]) =>
      `${inches(outsideDiameter)} × ${inches(sectionWidth)}, ${inches(rimDiameter)} in`,
  },
  { title: 'Groove, new', cell: ([, { newTread }]) => depthText(newTread) },
  {
    title: html`Rubber below it <small>to the cords</small>`,
    cell: ([, { undertread }]) => depthText(undertread),
  },
  { title: 'Rated pressure', cell: ([, { ratedPressure }]) => pressureText(ratedPressure) },
  {
    title: 'Rated load',
    cell: ([, { ratedLoad }]) => formatQuantity(ratedLoad, 'mass', 'lb', 4),
    isNumeric: true,
  },
  {
    title: 'Kind',
    cell: ([, { sidewall, tread, compound, seal }]) =>
      `${sidewall} sidewall, ${tread} tread, ${compound} compound, ${seal}`,
  },
  { title: 'Source', cell: ([, { source }]) => source },
];

const MIX_COLUMNS: readonly Column<Named<Mix>>[] = [
  { title: 'Mix', cell: ([name]) => name },
  {
    title: 'Share of landings on each strip',
    cell: ([, shares]) =>
      Object.entries(shares)
        .filter(([, share]) => share > 0)
        .map(([strip, share]) => `${shareText(share)} ${strip}`)
        .join(', '),
  },
];

const STRIP_COLUMNS: readonly Column<Named<Strip>>[] = [
  { title: 'Strip', cell: ([name]) => name },
  {
    title: html`Surface <small>touchdown, roll, taxi</small>`,
    cell: ([, { touchdown, rollout, taxi }]) =>
      touchdown === rollout && rollout === taxi ? touchdown : `${touchdown}, ${rollout}, ${taxi}`,
  },
  {
    title: html`Roll and taxi <small>per landing</small>`,
    cell: ([, { rolloutLength, taxiLength }]) => `${metres(rolloutLength)} and ${metres(taxiLength)} m`,
    isNumeric: true,
  },
  {
    title: 'Elevation',
    cell: ([, { elevation }]) => formatQuantity(elevation, 'length', 'ft', 3),
    isNumeric: true,
  },
  { title: 'Wet landings', cell: ([, { wetShare }]) => shareText(wetShare), isNumeric: true },
  { title: 'Help at hand', cell: ([, { help }]) => (help ? 'yes' : 'no') },
  { title: 'Source', cell: ([, { source }]) => source },
];

function usedTires({ setups, tires }: Scenario): Named<Tire>[] {
  const names = new Set(Object.values(setups).flatMap(({ mainTire, thirdTire }) => [mainTire, thirdTire]));
  return Object.entries(tires).filter(([name]) => names.has(name));
}

function usedStrips({ mixes, strips }: Scenario): Named<Strip>[] {
  const names = new Set(
    Object.values(mixes).flatMap((mix) =>
      Object.entries(mix).flatMap(([name, share]) => (share > 0 ? [name] : [])),
    ),
  );
  return Object.entries(strips).filter(([name]) => names.has(name));
}

function seasonText({ season, airplane }: Scenario, { calendar }: CompiledScenario): string {
  const months = season.months.filter(({ landings }) => landings > 0);
  const degrees = months.map(({ temperature }) => temperature).sort((a, b) => a - b);
  const warm = (kelvin: number): string =>
    formatQuantity(kelvin, 'temperature', 'degC', 3).replace('degC', '°C');
  return (
    `Airplane: ${airplane}. A season is ${amountText(calendar.landingsPerYear)} landings and ` +
    `${amountText(calendar.flightHoursPerYear)} flight hours in ${listText(months.map(({ month }) => month))}, ` +
    `with monthly means of ${warm(degrees[0]!)} to ${warm(degrees.at(-1)!)}.`
  );
}

function habitText({ habits }: Scenario): string {
  const limit =
    habits.removeAt === 'cords'
      ? 'A tire comes off when cords show'
      : habits.treadLimit > 0
        ? `A tire comes off when ${depthText(habits.treadLimit)} of groove are left at any spot`
        : 'A tire comes off when the groove is gone at any spot';
  return (
    `${limit}, when an inspection finds a cut into the carcass, after a flat, or at an age of ` +
    `${formatQuantity(habits.ageLimit, 'duration', 'years', 3)}. It is inspected every ${daysText(habits.inspectEvery)}; ` +
    `main tires are changed ${habits.replace === 'pair' ? 'in pairs' : 'one by one'}.`
  );
}

function daysText(seconds: number): string {
  const days = Number((seconds / DAY_S).toPrecision(3));
  return days === 1 ? 'day' : `${days} days`;
}

function shareText(share: number): string {
  return formatQuantity(share, 'share', '%', 3);
}

function inches(lengthM: number): string {
  return formatQuantity(lengthM, 'length', 'in', 3).replace(' in', '');
}

function metres(lengthM: number): string {
  return amountText(Math.round(lengthM));
}
