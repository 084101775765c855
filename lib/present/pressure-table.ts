import type { LimitCode } from '../decide/limit-types.js';
import type { PressurePoint, PressureSweep } from '../decide/pressure-types.js';
import { roundedText, signedSpan, signedText } from './amounts.js';
import { decisionText } from './decision-text.js';
import { grid, type GridColumn } from './grid.js';
import { pressureAnswers, psiFigure } from './pressure-words.js';
import { TABLE_WIDTH } from './table.js';
import { figureText, percentText, printable, wrap } from './words.js';

const LIFE: readonly GridColumn[] = [
  { title: ['psi'], align: 'right', width: 6 },
  { title: ['main tires last', 'hours (8 of 10)'], align: 'right', width: 20 },
  { title: ['mean life against', 'yours, h (95 %)'], align: 'right', width: 20 },
  { title: ['flat in', 'season'], align: 'right', width: 8 },
  { title: ['wears', 'first'], align: 'left', width: 9 },
  { title: ['limits broken'], align: 'left', width: 27, wraps: true },
];

/**
 * The choice of pressure as text of at most 100 columns: the answer, then a row for each pressure.
 *
 * @param sweep from `sweepPressure`.
 * @param scenario title of the scenario.
 * @returns text ending without a line end.
 */
export function pressureTable(sweep: PressureSweep, scenario: string): string {
  const { points, setup, mix, mainTire, sensibleLifeShare, cautions } = sweep;
  return decisionText(
    { ...sweep, scenario },
    {
      answers: pressureAnswers(sweep),
      blocks: [
        [
          wrap(printable(`${setup} (main tires ${mainTire}) on ${mix}`), TABLE_WIDTH, '  '),
          '',
          grid(LIFE, points.map(lifeRow)),
        ].join('\n'),
        grid(effortColumns(sweep), points.map(effortRow)),
      ],
      legend: [
        `Sensible: no binding limit broken at the medians, and ${percentText(sensibleLifeShare)} or more of the best mean life. ` +
          'Against yours: paired difference to the pressure of the set-up (*) on the same landings; 95 %: simulation error.',
        lowPressureText(sweep),
        'Bead margin: torque the bead holds less that of full braking. Clearance: the smallest gap of fairing or propeller, ' +
          'at the worst pressure of the season. People: to push on pavement, each within the guideline for one.',
      ],
      cautions,
    },
  );
}

/** Limits that low pressure breaks, in the order in which they are told. */
const LOW_LIMITS: readonly (readonly [code: LimitCode, what: string])[] = [
  ['load at pressure', 'too little for the load'],
  ['bead slip', 'full braking turns the tire on its rim'],
  ['deflection at rest', 'sinks too near to its rim'],
];

/** What low pressure does, each thing with its own pressure in this sweep. */
function lowPressureText({ points }: PressureSweep): string {
  const limits = LOW_LIMITS.map(([code, what]) => {
    return `${code} (${what}) ${brokenWhere(points, code)}`;
  });
  return (
    `Low pressure is not one limit: ${limits.join('; ')}. A pinch on the rim by a rock edge is a chance at any pressure, in ` +
    'the table. A tire looks low on the walk-around at a share of its cold setting, whatever that is: a habit, no limit.'
  );
}

function brokenWhere(points: readonly PressurePoint[], code: LimitCode): string {
  const isChecked = points.some(({ checks }) =>
    checks.some((check) => check.code === code && check.status !== 'not checked'),
  );
  if (!isChecked) return 'not checked';
  const kept = points.findIndex(({ broken }) => !broken.includes(code));
  if (kept === 0) return 'at no pressure here';
  return kept < 0 ? 'at all pressures here' : `at ${psiFigure(points[kept - 1]!.pressurePsi)} psi and less`;
}

function lifeRow(point: PressurePoint): string[] {
  const { lifeHours, versusOwn, flatSeason, firstBand, broken, own } = point;
  const { p10, p50, p90 } = lifeHours;
  const { estimate, standardError } = versusOwn.lifeHours;
  return [
    psiText(point),
    `${figureText(p50)} (${figureText(p10)}-${figureText(p90)})`,
    own
      ? 'yours'
      : `${signedText(estimate, standardError)} (${signedSpan(versusOwn.lifeHours).replaceAll('+', '')})`,
    percentText(flatSeason.estimate),
    firstBand,
    broken.length === 0 ? '-' : broken.join(', '),
  ];
}

function psiText({ pressurePsi, own }: PressurePoint): string {
  return `${psiFigure(pressurePsi)}${own ? '*' : ''}`;
}

function effortColumns({ currency }: PressureSweep): GridColumn[] {
  return [
    { title: ['psi'], align: 'right', width: 6 },
    { title: ['pinch flat', 'in season'], align: 'right', width: 10 },
    { title: ['bead', 'margin'], align: 'right', width: 9 },
    { title: ['hydroplanes', 'rolling at'], align: 'right', width: 11 },
    { title: ['push', 'on pavement'], align: 'right', width: 11 },
    { title: ['people'], align: 'right', width: 6 },
    { title: ['clearance'], align: 'right', width: 9 },
    { title: ['cost per hour', currency ?? ''], align: 'right', width: 14 },
  ];
}

const KNOTS_PER_MPS = 3600 / 1852;

function effortRow(point: PressurePoint): string[] {
  const { pinchSeason, beadMarginNm, hydroplaningMps, push, clearances, costPerFlightHour: cost } = point;
  const paved = push.find(({ surface }) => surface === 'paved') ?? push[0];
  const gap = clearances.reduce((least, { clearanceM }) => Math.min(least, clearanceM), Infinity);
  return [
    psiText(point),
    percentText(pinchSeason.estimate),
    beadMarginNm === null ? 'not known' : `${figureText(beadMarginNm)} N m`,
    `${(hydroplaningMps.rollingWheel * KNOTS_PER_MPS).toFixed(0)} kt`,
    paved?.forceN == null ? 'not known' : `${figureText(paved.forceN)} N`,
    paved?.people == null ? '-' : String(Math.ceil(paved.people)),
    Number.isFinite(gap) ? `${(1000 * gap).toFixed(1)} mm` : 'not known',
    cost === null ? '-' : roundedText(cost.estimate, cost.standardError),
  ];
}
