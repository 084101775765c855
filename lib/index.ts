// The public door: nothing else is public. No work is done on import.

export { readScenario, parseScenario, type ReadScenario, type ScenarioChanges } from './scenario/read.js';
export { scenarioJsonSchema, type JsonSchemaPart } from './scenario/json-schema.js';
export type { Scenario } from './scenario/schema/index.js';
export { compileScenario, type CompiledAssumption, type CompiledScenario } from './scenario/compile.js';
export { daysAfter, flightHoursAfter, type Calendar } from './scenario/calendar.js';
export {
  CancelledError,
  NonFiniteError,
  ScenarioError,
  UsageError,
  type NonFinitePlace,
  type Problem,
} from './problems.js';
export { formatQuantity, parseQuantity, type Dimension, type ParsedQuantity } from './units.js';

export { runScenario, scenarioHash, StoppedError, type Run, type RunOptions, type RunResult } from './run.js';
export { cautionsFor, type Caution } from './cautions.js';
export {
  joinSimulations,
  simulate,
  StoppedRunError,
  type Progress,
  type SimulateOptions,
  type Simulation,
} from './simulate/simulate.js';
export { allPairings, type Pairing } from './simulate/trials.js';
export {
  REMOVAL_CAUSES,
  TRIAL_COLUMNS,
  WEAR_CAUSES,
  type ColumnName,
  type PairingTrials,
  type RemovalCause,
  type TrialColumns,
  type WearCause,
} from './simulate/columns.js';
export {
  replay,
  type LandingRecord,
  type ReplayRequest,
  type Story,
  type WheelRecord,
} from './simulate/replay.js';

export { summarize, summarizePairing, type PairingSummary, type SeasonSummary } from './estimate/summary.js';
export {
  lifeCurves,
  thinCurves,
  END_CAUSES,
  type EndCause,
  type LifeCurves,
  type ThinCurves,
} from './estimate/curves.js';
export {
  summarizeLife,
  type LifeFigures,
  type LifeSummary,
  type MonteCarloInterval,
} from './estimate/life.js';
export { summarizePunctures, type ChanceRange, type PunctureSummary } from './estimate/risk.js';
export { ratioOfSums, type Estimate } from './estimate/shares.js';
export { splitDoubt, type ThreeDoubts } from './estimate/uncertainty.js';
export { varianceParts, type VarianceParts } from './estimate/variance-parts.js';
export {
  kaplanMeier,
  survivalAt,
  survivalQuantile,
  type KaplanMeierCurve,
  type OpenInterval,
  type SurvivalOptions,
} from './estimate/kaplan-meier.js';
export { restrictedMean, type RestrictedMean } from './estimate/restricted-mean.js';
export {
  cumulativeIncidence,
  type CauseIncidence,
  type CumulativeIncidence,
  type IncidenceOptions,
} from './estimate/cumulative-incidence.js';
export { estimateChance, estimateRate, type RiskEstimate, type RiskOptions } from './estimate/martingale.js';
export { clopperPearsonInterval, jeffreysInterval, wilsonInterval } from './estimate/proportion.js';
export { garwoodInterval } from './estimate/poisson-rate.js';
export { quantileInterval, type QuantileInterval } from './estimate/quantile-interval.js';
export type { IntervalEstimate } from './estimate/interval.js';

export { recordWear, type TireWear, type WearHistories } from './simulate/wear-histories.js';
export { recordPressures, type PressureHistories } from './simulate/pressure-histories.js';
export type { WatchRequest } from './simulate/watch.js';

export { comparisonTable } from './present/table.js';
export { pairingRows, pairingsCsv } from './present/csv.js';

export { makeChart, type ChartRow, type ChartSpec, type ChartWords } from './chart/spec.js';
export { renderPng, renderSvg, type PngOptions } from './chart/render.js';
export { show } from './chart/show.js';
export { showRows } from './chart/show-rows.js';

export * from './models/atmosphere.js';
export * from './models/bands.js';
export * from './models/bead.js';
export * from './models/contact.js';
export * from './models/hydroplaning.js';
export * from './models/inflation.js';
export * from './models/pinch.js';
export * from './models/slip-work.js';
export * from './models/stones.js';
export * from './models/thrown-stones.js';
export { version } from './version.js';
