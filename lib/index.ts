// The public door: nothing else is public. No work is done on import.

export { readScenario, parseScenario, type ReadScenario, type ScenarioChanges } from './scenario/read.js';
export { scenarioJsonSchema, type JsonSchemaPart } from './scenario/json-schema.js';
export type { Scenario } from './scenario/schema/index.js';
export {
  compileScenario,
  type CompiledAssumption,
  type CompiledFitted,
  type CompiledScenario,
} from './scenario/compile.js';
export type { CompiledReading, CompiledToday } from './scenario/compile-today.js';
export { daysAfter, flightHoursAfter, type Calendar, type MonthSpan } from './scenario/calendar.js';
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
export type { WorldCurves } from './estimate/world-curves.js';
export {
  kaplanMeier,
  survivalAt,
  survivalQuantile,
  type KaplanMeierCurve,
  type KaplanMeierOptions,
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
export { pairedDifference, type MeanEstimate, type PairedDifference } from './estimate/paired.js';
export { expectedShortfall, type ExpectedShortfall } from './estimate/expected-shortfall.js';
export { poissonSpares, poissonStock, type PoissonStock } from './estimate/poisson-spares.js';
export { COST_PARTS, type CostPart } from './estimate/season-figures.js';
export type { IntervalEstimate } from './estimate/interval.js';

export { parseLogbook, readLogbook, type ReadLogbookOptions } from './calibrate/read-logbook.js';
export { RecordsError } from './calibrate/records-error.js';
export { dateOfDay, dayOfDate } from './calibrate/dates.js';
export { RECORD_TABLES, type ColumnSpec, type TableName } from './calibrate/table-columns.js';
export { tireHistories } from './calibrate/histories.js';
export { lifeRecords, type LifeRequest, type LifeUnit } from './calibrate/lives.js';
export { fitAssumptions, NotConvergedError, type AssumptionFitOptions } from './calibrate/posterior.js';
export { logbookJsonSchema } from './calibrate/logbook-json-schema.js';
export {
  recordsSummary,
  type EndCount,
  type EquipmentCount,
  type PlaceCount,
  type RecordsSummary,
} from './calibrate/records-summary.js';
export { recordLives } from './calibrate/record-lives.js';
export type {
  CauseShare,
  FurtherLife,
  LifeGroup,
  LifePercentiles,
  LivesBy,
  RecordCurvePoint,
  RecordLaw,
  RecordLives,
  RecordLivesOptions,
  ShareEstimate,
  SharesAtUse,
} from './calibrate/record-lives-types.js';
export { assumptionsFile } from './calibrate/assumptions-file.js';
export { fittedName, fittedRangeText, fittedValueText } from './calibrate/fit-names.js';
export { heldOutShare } from './calibrate/held-out.js';
export type {
  AssumptionFit,
  FitCalibration,
  FitChecks,
  FitConvergence,
  FitCorrelation,
  FittedAssumption,
  FittedPressure,
  FittedQuantiles,
  FittedReading,
  FittedTire,
  LearnedDirection,
  LearningVerdict,
  NextReading,
  PosteriorDraws,
} from './calibrate/posterior-types.js';
export {
  BRAKING_HABITS,
  READING_BANDS,
  type BrakingHabit,
  type CutRecord,
  type Exposure,
  type ExposurePart,
  type FailureCause,
  type FlightRecord,
  type LifeRecord,
  type Logbook,
  type PressureCheckRecord,
  type ReadingBand,
  type ReadingDay,
  type RecordPlace,
  type TireEnd,
  type TireHistory,
  type TireRecord,
  type TreadReadingRecord,
  type WheelPosition,
} from './calibrate/record-types.js';
export type { CensoredLife, LifeColumns } from './estimate/censored-lives.js';
export type { LifeLawName } from './estimate/life-laws.js';
export {
  fitLife,
  type FitParameter,
  type FitVerdict,
  type FitVerdictKind,
  type LawParameters,
  type LifeFit,
  type LifeFitOptions,
} from './estimate/life-fit.js';
export {
  fittedQuantile,
  fittedRemainingLife,
  fittedSurvival,
  type FitForecast,
} from './estimate/life-forecast.js';
export { turnbull, type TurnbullCurve, type TurnbullStretch } from './estimate/turnbull.js';
export { probabilityPlot, type ProbabilityPoint } from './estimate/probability-plot.js';

export { recordWear, type TireWear, type WearHistories } from './simulate/wear-histories.js';
export { recordPressures, type PressureHistories } from './simulate/pressure-histories.js';
export type { WatchRequest } from './simulate/watch.js';
export { treadFan, type TreadFan, type TreadFanPoint } from './estimate/tread-fan.js';
export { recordTreadFan } from './estimate/record-tread-fan.js';
export { pressureSeason, type PressureSeason, type PressureSeasonPoint } from './estimate/pressure-season.js';
export type { PressurePart, PressureWheel } from './estimate/pressure-parts.js';
export type { QuantileBand } from './estimate/quantile-band.js';
export { storyEvents, type StoryEvent, type StoryEventKind } from './estimate/story-events.js';
export { knownAnswers, type KnownAnswersOptions } from './yardsticks/known-answers.js';
export type { KnownAnswer, KnownAnswerTopic } from './yardsticks/yardstick.js';

export { setupLimits, type SetupLimitsOptions } from './decide/setup-limits.js';
export { seasonPressures } from './decide/season-pressures.js';
export type {
  LimitAcrossWorlds,
  LimitAtState,
  LimitCheck,
  LimitCode,
  LimitStatus,
  LimitUnit,
  PressureState,
  SeasonPressures,
  SetupFigure,
  SetupLimits,
} from './decide/limit-types.js';
export { sweepPressure, type SweepOptions } from './decide/pressure-sweep.js';
export type {
  BestPressure,
  CheckInterval,
  PressureClearance,
  PressureLife,
  PressurePoint,
  PressurePush,
  PressureRange,
  PressureSweep,
  RangeEnd,
} from './decide/pressure-types.js';

export { remainingLife } from './decide/remaining-life.js';
export type {
  ChanceEstimate,
  NextInspection,
  ReachChance,
  ReadingAgreement,
  RemainingCurves,
  RemainingFigures,
  RemainingLife,
  RemainingLifeRequest,
  TodayTires,
} from './decide/remaining-types.js';
export type { ReadingCheck, TreadPlace, TreadReading } from './estimate/remaining-weights.js';
export { comparePairings } from './decide/compare.js';
export { seasonShift, type SeasonShiftOptions } from './decide/season-shift.js';
export type {
  BestShift,
  BestTold,
  PairingShift,
  SeasonFigures,
  SeasonShift,
} from './decide/season-shift-types.js';
export type { CompareOptions, LifeDifference, MixComparison, SetupDifference } from './decide/compare.js';
export { bestSetup } from './decide/best.js';
export type {
  BestOptions,
  BestSetup,
  Regret,
  SetupStanding,
  WorldMeansQuestion,
} from './decide/best-types.js';
export { CRITERIA, type Criterion, type NotPriced } from './decide/criteria.js';
export type { IgnoranceRegret } from './decide/in-worlds.js';
export type { MeasureQuestion, Verdict, VerdictKind } from './decide/verdict.js';
export { moneyOfPairings } from './decide/money.js';
export type { MoneyFigures, MoneyOptions, MoneyPart, PairingMoney, UnpricedPairing } from './decide/money.js';
export { simulateFleetDemand } from './decide/fleet-demand.js';
export type { FleetDemand, FleetEntry, FleetRequest, ItemDemand, SpareKind } from './decide/fleet-types.js';
export { stockSpares } from './decide/spares.js';
export type { OtherReckoning, SpareStock, SparesOptions, SparesPlan, StockStep } from './decide/spares.js';

export {
  ishigami,
  punctureLife,
  sobolG,
  tireLife,
  weightedSum,
  type KnownFunction,
  type TireLifeInput,
} from './sensitivity/known-functions.js';
export {
  normalChoice,
  unitNormalLoss,
  type DoubtedPart,
  type NormalChoice,
} from './sensitivity/known-choice.js';
export { sobolIndices, type InputGroup, type SobolOptions } from './sensitivity/sobol-indices.js';
export type { PointSpread } from './sensitivity/sobol-points.js';
export type {
  IndexEstimate,
  IndexOptions,
  IndexVerdict,
  IndexVerdictKind,
  InputIndices,
  VarianceIndices,
} from './sensitivity/index-types.js';
export { DRIVEN_FIGURES, type DrivenFigure, type StudyScope } from './sensitivity/figures.js';
export type { StudyRun } from './sensitivity/run-worlds.js';
export { StoppedStudyError, type StoppableStudy } from './sensitivity/stopped.js';
export { whatMatters } from './sensitivity/what-matters.js';
export {
  STUDY_STAGES,
  type ChoiceSafety,
  type ChoiceSafetyKind,
  type Decider,
  type MeasuringAdvice,
  type ReadingsProposal,
  type OtherAim,
  type StageWork,
  type StudyStage,
  type WhatMatters,
  type WhatMattersOptions,
} from './sensitivity/what-matters-types.js';
export { naturalGroups } from './sensitivity/natural-groups.js';
export { possibleReadings, type PossibleReadings } from './sensitivity/proposed-readings.js';
export { oneAtATime, type OneAtATimeOptions } from './sensitivity/one-at-a-time.js';
export type {
  AssumptionEffect,
  OneAssumption,
  OneAtATimeStudy,
  RankingEffect,
} from './sensitivity/one-at-a-time-types.js';
export { choiceThreshold } from './sensitivity/threshold.js';
export type {
  ChoiceFlip,
  ChoiceThreshold,
  ThresholdOptions,
  ThresholdPoint,
} from './sensitivity/threshold-types.js';
export { varianceDrivers, type VarianceOptions } from './sensitivity/variance-drivers.js';
export { LANDING_LUCK, type FigureDrivers, type VarianceStudy } from './sensitivity/variance-types.js';
export type { AssumptionGrouping, JointDraws } from './sensitivity/study-inputs.js';
export {
  firstOrderFromSample,
  type SampleEffect,
  type SampleEffects,
  type SampleInput,
  type SampleOptions,
} from './sensitivity/given-data.js';
export {
  firstOrderFromTrials,
  type TrialEffects,
  type TrialEffectsOptions,
} from './sensitivity/trial-inputs.js';
export {
  valueOfInformation,
  whatToMeasureFrom,
  type InformationOptions,
} from './sensitivity/value-of-information.js';
export type { InformationOnInput, MeasuringVerdict, ValueOfInformation } from './sensitivity/voi-types.js';
export {
  treadReadingErrorShare,
  valueOfReadings,
  type ProposedReadings,
  type ReadingsOptions,
  type TreadReadingPair,
  type ValueOfReadings,
} from './sensitivity/value-of-readings.js';
export type { WorldSource } from './simulate/world.js';

export { comparisonTable } from './present/table.js';
export { planTable } from './present/plan-table.js';
export { pressureTable } from './present/pressure-table.js';
export { remainingTable } from './present/remaining-table.js';
export { flownTogether, type FlownTogether } from './calibrate/flown-together.js';
export { fitText, seasonShiftText } from './present/fit-text.js';
export { fitFindings, type FitFindings } from './present/fit-findings.js';
export { driversScreen } from './present/drivers-screen.js';
export { driversText } from './present/drivers-text.js';
export { recordsText } from './present/records-text.js';
export { livesTable } from './present/lives-table.js';
export type { SparesCase, StockedAirplanes } from './decide/stock-cases.js';
export type { Cell, TableColumn } from './present/rows.js';
export { pairingRows, PAIRING_TABLE } from './present/pairing-rows.js';
export { trialRows, TRIAL_TABLE, type TrialSelection } from './present/trial-rows.js';
export { curveRows, CURVE_TABLE } from './present/curve-rows.js';
export { curvesCsv, pairingsCsv, trialsCsv } from './present/csv.js';
export { curveFrame, pairingFrame, trialFrame } from './present/frames.js';
export type { FilteredFrame, Frame, FrameColumn } from './present/frame-types.js';

export { makeChart, type ChartRow, type ChartSpec, type ChartWords } from './chart/spec.js';
export { renderPng, renderSvg, type PngOptions } from './chart/render.js';
export { lifeCurveChart, type LifeCurveOptions } from './chart/life-curve.js';
export { endingsChart, type EndingsOptions } from './chart/endings.js';
export type { PairingName } from './chart/chosen.js';
export { pairingMapChart } from './chart/pairing-map.js';
export { wearSharesChart, type WearSharesOptions } from './chart/wear-shares.js';
export { inflationChoiceChart } from './chart/inflation-choice.js';
export { limitsChart } from './chart/limits.js';
export { comparisonChart, type ComparisonChartOptions } from './chart/comparison.js';
export { planCalendarChart } from './chart/plan-calendar.js';
export { sparesChart } from './chart/spares.js';
export { treadFanChart } from './chart/tread-fan.js';
export { pressureSeasonChart } from './chart/pressure-season.js';
export { trialStoryChart } from './chart/trial-story.js';
export { knownAnswersChart, type KnownAnswerRow } from './chart/known-answers.js';
export { assumptionEffectsChart, type AssumptionEffectsOptions } from './chart/assumption-effects.js';
export { indexDotsChart, type IndexDotsOptions } from './chart/index-dots.js';
export { choiceThresholdChart } from './chart/choice-threshold.js';
export { informationValueChart, type InformationValueOptions } from './chart/information-value.js';
export { priorToPosteriorChart } from './chart/prior-to-posterior.js';
export { predictedReadingsChart, type PredictedReadingsOptions } from './chart/predicted-readings.js';
export { readingResidualsChart, type ReadingResidualsOptions } from './chart/reading-residuals.js';
export { pressuresFoundChart } from './chart/pressures-found.js';
export { survivalOverlayChart } from './chart/survival-overlay.js';
export { probabilityPlotChart, type ProbabilityPlotOptions } from './chart/probability-plot.js';
export { survivalOverlay, type SurvivalOverlayOptions } from './calibrate/survival-overlay.js';
export type {
  ExpectedCount,
  OverlayBand,
  OverlayCalibration,
  OverlayEnd,
  OverlaySetup,
  SurvivalOverlay,
} from './calibrate/survival-overlay-types.js';
export { show } from './chart/show.js';
export { showRows } from './chart/show-rows.js';

export {
  compileFleet,
  type CompiledFleet,
  type CompiledFleetAirplane,
  type FlownMonth,
} from './scenario/compile-fleet.js';
export { planSeason } from './decide/plan-season.js';
export {
  PLAN_CRITERIA,
  type AirplanePlans,
  type BreakEven,
  type FleetPlan,
  type FleetTotals,
  type PlanCriterion,
  type PlanFigures,
  type PlanLegFigures,
  type PlanMoney,
  type PlanMonth,
  type PlanOptions,
} from './decide/plan-types.js';

export { answersFor, overallText, type MixAnswer } from './report/answers.js';
export { makeFitPage, type FitPageSources } from './report/fit-page.js';
export type { FitPageOptions } from './report/fit-charts.js';
export { assumptionName, assumptionValueText } from './scenario/assumption-words.js';
export { assumptionGroups, type AssumptionGroup, type AssumptionRow } from './report/assumption-rows.js';

export * from './models/atmosphere.js';
export * from './models/bands.js';
export * from './models/bead.js';
export * from './models/contact.js';
export * from './models/fairing.js';
export * from './models/hand-push.js';
export * from './models/hydroplaning.js';
export * from './models/inflation.js';
export * from './models/lateral.js';
export * from './models/loaded-height.js';
export * from './models/pinch.js';
export * from './models/propeller-clearance.js';
export * from './models/slip-work.js';
export * from './models/soft-ground.js';
export * from './models/stance.js';
export * from './models/stones.js';
export * from './models/thrown-stones.js';
export * from './models/tire-load.js';
export * from './models/unbalance.js';
export * from './models/wheel-loads.js';
export { version } from './version.js';
