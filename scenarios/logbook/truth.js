/**
 * The one world in which the shipped logbook was lived: medians of the defaults, but for these assumptions, which stand
 * at other probabilities of their own distributions. Invented.
 */
export const PROBABILITIES = {
  'assumptions.abradability': 0.8,
  'assumptions.bandGain': 0.65,
  'assumptions.innerShoulderShare': 0.6,
  'assumptions.tubePermeation': 0.75,
  'assumptions.slowLeaks': 0.7,
  'assumptions.gaugeBias': 0.7,
  'surfaces.gravel.wearFactor': 0.3,
  'surfaces.gravel.sharpStones': 0.7,
  'surfaces.sharp rock.wearFactor': 0.75,
  'surfaces.sharp rock.sharpStones': 0.3,
  'surfaces.turf.wearFactor': 0.6,
  'surfaces.sand.wearFactor': 0.35,
  'compounds.soft.wearFactor': 0.7,
  'sidewalls.soft.evenWearDeflection': 0.3,
  'sidewalls.rigid.evenWearDeflection': 0.7,
  'sidewalls.standard.evenWearDeflection': 0.4,
};

/** How the log was kept. Invented. */
export const KEEPING = {
  /** Standard deviation of a tread reading and its step, mm. */
  treadErrorMm: 0.15,
  treadStepMm: 0.1,
  /** Standard deviation of a pressure reading beside the bias of the gauge, and its step, psi. */
  pressureErrorPsi: 0.1,
  pressureStepPsi: 0.1,
  /** Cuts shallower than this are not written down, mm. */
  leastCutMm: 2,
  cutStepMm: 0.5,
  /** Tread is read about every so many days of the season, and when a tire comes off. */
  readEveryDays: 30,
  /** Tires are looked at for cuts in the evening, every so many days. */
  inspectEveryDays: 7,
};

/**
 * Airplanes with their set-up and mix; `before`: landings flown before the log began; `sold`: last day
 * in the log; `rough`: days of failures are known only roughly.
 */
export const FLEET = [
  { airplane: 'alder', setup: 'soft 29 at 9 psi', mix: 'mostly paved', perSeason: 150, rough: true },
  { airplane: 'aspen', setup: 'soft 29 at 9 psi', mix: 'gravel', perSeason: 170 },
  { airplane: 'birch', setup: 'soft 29 at 9 psi', mix: 'sharp rock', perSeason: 120 },
  { airplane: 'cedar', setup: 'rigid 29 at 25 psi', mix: 'mostly paved', perSeason: 190 },
  { airplane: 'elder', setup: 'rigid 29 at 25 psi', mix: 'gravel', perSeason: 160 },
  { airplane: 'hazel', setup: 'rigid 29 at 25 psi', mix: 'sharp rock', perSeason: 140, before: 60 },
  { airplane: 'larch', setup: 'rigid 26 at 25 psi', mix: 'mostly paved', perSeason: 180 },
  { airplane: 'maple', setup: 'rigid 26 at 25 psi', mix: 'gravel', perSeason: 200 },
  { airplane: 'olive', setup: 'rigid 26 at 25 psi', mix: 'sharp rock', perSeason: 150, sold: '2024-07-20' },
  { airplane: 'rowan', setup: 'standard at 50 psi', mix: 'mostly paved', perSeason: 210 },
  { airplane: 'spruce', setup: 'standard at 50 psi', mix: 'gravel', perSeason: 160, before: 40, rough: true },
  { airplane: 'willow', setup: 'standard at 50 psi', mix: 'sharp rock', perSeason: 130 },
];

/** Seasons of the log. */
export const SEASONS = [
  { from: '2023-05-01', to: '2023-09-30' },
  { from: '2024-05-01', to: '2024-09-30' },
];

/** The last season before the log, for airplanes that had flown on their tires when it began. */
export const SEASON_BEFORE = { from: '2022-08-15', to: '2022-09-30' };
