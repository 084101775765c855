import { lateralStiffnessNpm } from '../models/lateral.js';
import { shavingUnbalanceKgM } from '../models/unbalance.js';
import { quantileSorted } from '../estimate/moments.js';
import type { CompiledScenario, CompiledSetup } from '../scenario/compile.js';
import type { SetupWorlds } from './limit-rule.js';
import type { SetupFigure } from './limit-types.js';
import { missingMeasures, tailHeightM } from './stance-rules.js';
import type { Standing } from './standing.js';

/** Distance off centre at which the unbalance of a shaved tire is stated, m: a tenth of a millimetre. */
const OFF_CENTRE_M = 0.0001;

type Described = Omit<SetupFigure, 'value' | 'worlds'>;
type Read = (standing: Standing) => number | null;

/**
 * Figures of a set-up that have no limit.
 *
 * @param scenario compiled scenario.
 * @param worlds the set-up.
 * @param stiffest side stiffness over load of the stiffest set-up at the medians, 1/m: the yardstick for the others.
 */
export function setupFigures(
  scenario: CompiledScenario,
  worlds: SetupWorlds,
  stiffest: number | null,
): SetupFigure[] {
  const { setup } = worlds;
  return [
    figure(worlds, heightWords('main'), ({ main }) => main.heightM),
    figure(worlds, heightWords(scenario.airplane.gear), ({ third }) => third.heightM),
    figure(
      worlds,
      {
        code: 'tail height',
        title: 'height of the lowest point of the tail at rest',
        unit: 'm',
        needs: missingMeasures(scenario, ['tailClearanceM', 'tailBehindM', 'wheelbaseM']),
        source: 'lever of both axles: own algebra; measures from the scenario',
        note: 'Larger main tires raise it, a larger nose tire lowers it.',
      },
      tailHeightM,
    ),
    figure(worlds, stiffnessWords(setup), (standing) => {
      const stiffness = sideStiffnessPerLoad(standing);
      return stiffness === null || stiffest === null ? null : stiffness / stiffest;
    }),
    ...(setup.main.tubed ? [valveFigure(scenario, worlds)] : []),
    ...(setup.main.shaved ? [unbalanceFigure(worlds)] : []),
  ];
}

function figure(worlds: SetupWorlds, words: Described, read: Read): SetupFigure {
  const value = read(worlds.median);
  const drawn = Float64Array.from(worlds.drawn.flatMap((standing) => read(standing) ?? [])).sort();
  const across =
    drawn.length === 0 ? null : { p10: quantileSorted(drawn, 0.1), p90: quantileSorted(drawn, 0.9) };
  return { ...words, value, worlds: across };
}

function heightWords(wheel: 'main' | 'nose' | 'tail'): Described {
  return {
    code: wheel === 'main' ? 'loaded height' : 'loaded height of the third wheel',
    title: `height of the ${wheel} axle above the ground at rest`,
    unit: 'm',
    needs: [],
    source: 'NASA TR R-64, from memory',
    note: 'At landing mass.',
  };
}

/** Side stiffness of a main tire over its load, 1/m; null where its sidewall kind does not say. */
export function sideStiffnessPerLoad(standing: Standing): number | null {
  const { tire, gaugePa, deflectionM, loadN } = standing.main;
  if (tire.sideStiffness === undefined) return null;
  const stiffness = lateralStiffnessNpm(gaugePa, tire.ratedPa, tire.sectionWidthM, deflectionM);
  return (standing.value(tire.sideStiffness) * stiffness) / loadN;
}

function stiffnessWords({ main }: CompiledSetup): Described {
  return {
    code: 'crosswind stiffness',
    title: 'side stiffness of the main tires, over that of the stiffest set-up compared',
    unit: 'share',
    needs: main.sideStiffness === undefined ? [`sidewalls.${main.sidewall}.sideStiffness`] : [],
    source: 'NASA TR R-64, from memory and with low confidence; sidewall kind: assumption',
    note: 'Only for comparing: stiffer tires follow the wheel more closely in a crosswind.',
  };
}

function valveFigure({ global }: CompiledScenario, worlds: SetupWorlds): SetupFigure {
  return figure(
    worlds,
    {
      code: 'valve tear',
      title: 'chance that a bead slip tears the valve of a main tube',
      unit: 'share',
      needs: [],
      source: 'assumption of the scenario',
      note: 'Only where the check "bead slip" is beyond its limit, or close to it.',
    },
    (standing) => standing.value(global.valveTearChance),
  );
}

function unbalanceFigure(worlds: SetupWorlds): SetupFigure {
  const { main } = worlds.setup;
  return figure(
    worlds,
    {
      code: 'unbalance',
      title: 'unbalance of a main tire for each 0.1 mm that it was shaved off centre',
      unit: 'kg m',
      needs: [],
      source: 'own algebra; tread density from memory',
      note: 'A shaved tread is harder to balance (common practice, no source): balance it again after shaving.',
    },
    () => shavingUnbalanceKgM(OFF_CENTRE_M, main.treadWidthM, main.landRatio, main.outsideDiameterM),
  );
}
