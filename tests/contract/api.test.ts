import ts from 'typescript';
import { expect, test } from 'vitest';
import * as gravelbar from '../../lib/index.js';
import { libraryModules, type SourceModule } from '../support/sources.js';

/** Everything public at run time. A name that goes or comes belongs into the changelog. */
const VALUES: readonly string[] = [
  'BITE_REFERENCE_PRESSURE_PA',
  'CARCASS_PRESSURE_SHARE',
  'CancelledError',
  'END_CAUSES',
  'LAPSE_RATE_K_PER_M',
  'LOW_PRESSURE_CONSTANT',
  'NonFiniteError',
  'REFERENCE_GROOVE_DEPTH_M',
  'REFERENCE_TEMPERATURE_K',
  'REMOVAL_CAUSES',
  'SCALE_OVER_MEDIAN',
  'SEA_LEVEL_PRESSURE_PA',
  'SEA_LEVEL_TEMPERATURE_K',
  'SPIN_DOWN_COEFFICIENT',
  'SPIN_UP_COEFFICIENT',
  'STANDARD_GRAVITY_MPS2',
  'ScenarioError',
  'StoppedError',
  'StoppedRunError',
  'TRIAL_COLUMNS',
  'UsageError',
  'WEAR_CAUSES',
  'allPairings',
  'ambientPressurePa',
  'beadHoldingTorqueNm',
  'biteScaleM',
  'brakingTorqueNm',
  'brakingWorkJ',
  'cautionsFor',
  'centreWorkShare',
  'chanceLarger',
  'chanceLargerOnBands',
  'clopperPearsonInterval',
  'comparisonTable',
  'compileScenario',
  'cumulativeIncidence',
  'daysAfter',
  'deflectionM',
  'estimateChance',
  'estimateRate',
  'flightHoursAfter',
  'footprintLengthM',
  'footprintWidthM',
  'formatQuantity',
  'freeSectionHeightM',
  'garwoodInterval',
  'gaugePressurePa',
  'grossFootprintAreaM2',
  'hydroplaningSpeedMps',
  'impactDeflectionM',
  'jeffreysInterval',
  'joinSimulations',
  'kaplanMeier',
  'lifeCurves',
  'loadedRadiusM',
  'makeChart',
  'pairingRows',
  'pairingsCsv',
  'parseQuantity',
  'parseScenario',
  'pinchChance',
  'pivotWorkJ',
  'quantileInterval',
  'ratioOfSums',
  'readScenario',
  'recordPressures',
  'recordWear',
  'referencePressurePa',
  'remainingExcessShare',
  'renderPng',
  'renderSvg',
  'replay',
  'restrictedMean',
  'rollingRadiusM',
  'rollingResistanceRatio',
  'runScenario',
  'scenarioHash',
  'scenarioJsonSchema',
  'scrubWorkJ',
  'sectionHeightM',
  'shoulderWeight',
  'show',
  'showRows',
  'simulate',
  'spinUpWorkJ',
  'splitDoubt',
  'squirmWorkJ',
  'standardTemperatureK',
  'stiffnessAreaM2',
  'stonesMet',
  'summarize',
  'summarizeLife',
  'summarizePairing',
  'summarizePunctures',
  'survivalAt',
  'survivalQuantile',
  'thinCurves',
  'thrownStoneHits',
  'treadRubberAreaM2',
  'varianceParts',
  'version',
  'verticalLoadN',
  'verticalStiffnessN',
  'wheelInertiaKgM2',
  'wilsonInterval',
  'wornDepthM',
];

/** Public types. */
const TYPES: readonly string[] = [
  'Calendar',
  'CauseIncidence',
  'Caution',
  'ChanceRange',
  'ChartRow',
  'ChartSpec',
  'ChartWords',
  'ColumnName',
  'CompiledAssumption',
  'CompiledScenario',
  'CumulativeIncidence',
  'Dimension',
  'EndCause',
  'Estimate',
  'IncidenceOptions',
  'IntervalEstimate',
  'JsonSchemaPart',
  'KaplanMeierCurve',
  'LandingRecord',
  'LifeCurves',
  'LifeFigures',
  'LifeSummary',
  'MonteCarloInterval',
  'NonFinitePlace',
  'OpenInterval',
  'Pairing',
  'PairingSummary',
  'PairingTrials',
  'ParsedQuantity',
  'PngOptions',
  'PressureHistories',
  'Problem',
  'Progress',
  'PunctureSummary',
  'QuantileInterval',
  'ReadScenario',
  'RemovalCause',
  'ReplayRequest',
  'RestrictedMean',
  'RiskEstimate',
  'RiskOptions',
  'Run',
  'RunOptions',
  'RunResult',
  'Scenario',
  'ScenarioChanges',
  'SeasonSummary',
  'SimulateOptions',
  'Simulation',
  'Story',
  'SurvivalOptions',
  'ThinCurves',
  'ThreeDoubts',
  'TireWear',
  'TrialColumns',
  'VarianceParts',
  'WatchRequest',
  'WearCause',
  'WearHistories',
  'WheelRecord',
];

const modules = new Map(libraryModules().map((module) => [module.path, module]));

/** Names of the types that a module exports, through others where it passes them on. */
function typesOf({ path, tree, imports }: SourceModule): string[] {
  return tree.statements.flatMap((statement): string[] => {
    if (ts.isInterfaceDeclaration(statement) || ts.isTypeAliasDeclaration(statement)) {
      return isExported(statement) ? [statement.name.text] : [];
    }
    if (!ts.isExportDeclaration(statement)) return [];
    const { exportClause, isTypeOnly, moduleSpecifier } = statement;
    if (exportClause === undefined) {
      const name = (moduleSpecifier as ts.StringLiteral).text.replace(/^\.\//, '').replace(/\.js$/, '.ts');
      const target = imports.find((each) => each === name);
      if (target === undefined) throw new Error(`${path} passes on ${name}`);
      return typesOf(modules.get(target)!);
    }
    if (!ts.isNamedExports(exportClause)) throw new Error(`${path} exports a name space`);
    return exportClause.elements.filter((each) => isTypeOnly || each.isTypeOnly).map(({ name }) => name.text);
  });
}

function isExported(statement: ts.InterfaceDeclaration | ts.TypeAliasDeclaration): boolean {
  return statement.modifiers?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword) === true;
}

test('the public functions, classes and constants are exactly these', () => {
  expect(Object.keys(gravelbar).sort()).toEqual(VALUES);
});

test('the public types are exactly these', () => {
  expect(typesOf(modules.get('index.ts')!).sort()).toEqual(TYPES);
});
