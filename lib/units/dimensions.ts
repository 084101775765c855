/** Kind of quantity. Two quantities can be compared only when their dimension is the same. */
export type Dimension =
  | 'pressure'
  | 'pressureDifference'
  | 'length'
  | 'mass'
  | 'force'
  | 'speed'
  | 'temperature'
  | 'temperatureDifference'
  | 'duration'
  | 'energy'
  | 'abradability'
  | 'inertia'
  | 'torque'
  | 'perArea'
  | 'perLength'
  | 'rate'
  | 'share'
  | 'count'
  | 'money'
  | 'angle'
  | 'area';

/**
 * One unit: SI value = (number x numerator + offset) / denominator.
 *
 * All three are exact whole numbers (angles apart), so that a short decimal such as "8.5 in" or "-40 degC" is rounded
 * once, at the division.
 */
export interface Unit {
  /** Name used when a quantity is printed; empty where the bare number is the unit. */
  readonly name: string;
  /** Other spellings that are read. */
  readonly aliases: readonly string[];
  readonly numerator: number;
  readonly denominator: number;
  /** Zero but for temperature scales. */
  readonly offset: number;
}

/** What is known of a dimension. */
export interface DimensionEntry {
  /** With article, for messages: "a pressure". */
  readonly noun: string;
  /** How to write one, for messages. */
  readonly examples: readonly string[];
  /** Commonest first: the order in which a slip of the unit is guessed. */
  readonly units: readonly Unit[];
}

function unit(
  name: string,
  numerator: number,
  denominator = 1,
  aliases: readonly string[] = [],
  offset = 0,
): Unit {
  return { name, aliases, numerator, denominator, offset };
}

// Exact by definition (NIST SP 811, Appendix B; from memory): 1 in = 25.4 mm, 1 ft = 12 in, 1 mi = 5280 ft,
// 1 nautical mile = 1852 m, 1 lb = 0.45359237 kg, standard gravity 9.80665 m/s2, hence 1 lbf = 4.4482216152605 N.
const LBF_NUMERATOR = 44_482_216_152_605;
const LBF_DENOMINATOR = 1e13;

const PRESSURES: readonly Unit[] = [
  // 1 psi = 1 lbf / (0.0254 m)^2, ratio in lowest terms.
  unit('psi', 8_896_443_230_521, 1_290_320_000),
  unit('bar', 100_000),
  unit('kPa', 1000),
  unit('Pa', 1),
  unit('mbar', 100),
  unit('hPa', 100),
  // Conventional inch of mercury: 25.4 mm x 13 595.1 kg/m3 x 9.80665 m/s2.
  unit('inHg', 3_386_388_640_341, 1e9),
];

const MINUTE_S = 60;
const HOUR_S = 3600;
const DAY_S = 86_400;
const WEEK_S = 604_800;
// Julian year of 365.25 days; a month is a twelfth of it.
const MONTH_S = 2_629_800;
const YEAR_S = 31_557_600;

/** All dimensions with their units. */
export const DIMENSIONS: Readonly<Record<Dimension, DimensionEntry>> = {
  pressure: { noun: 'a pressure', examples: ['25 psi', '1.7 bar'], units: PRESSURES },
  pressureDifference: { noun: 'a pressure difference', examples: ['0.5 psi', '3 kPa'], units: PRESSURES },
  length: {
    noun: 'a length',
    examples: ['8/32 in', '6.5 mm'],
    units: [
      unit('in', 254, 10_000),
      unit('mm', 1, 1000),
      unit('cm', 1, 100),
      unit('m', 1),
      unit('ft', 3048, 10_000),
      unit('km', 1000),
      unit('NM', 1852),
      unit('mi', 1_609_344, 1000),
      unit('um', 1, 1e6, ['µm', 'μm']),
    ],
  },
  mass: {
    noun: 'a mass',
    examples: ['3200 lb', '1450 kg'],
    units: [unit('lb', 45_359_237, 1e8), unit('kg', 1), unit('g', 1, 1000)],
  },
  force: {
    noun: 'a force',
    examples: ['1275 lbf', '5700 N'],
    units: [unit('lbf', LBF_NUMERATOR, LBF_DENOMINATOR), unit('N', 1), unit('kN', 1000)],
  },
  speed: {
    noun: 'a speed',
    examples: ['48 kt', '25 m/s'],
    units: [
      unit('kt', 1852, 3600),
      unit('m/s', 1),
      unit('km/h', 1000, 3600),
      unit('mph', 1_609_344, 3_600_000),
      unit('ft/s', 3048, 10_000),
      unit('ft/min', 3048, 600_000),
    ],
  },
  temperature: {
    noun: 'a temperature',
    examples: ['15 degC', '59 degF'],
    units: [
      // 0 degC = 273.15 K, 0 degF = 459.67 x 5/9 K.
      unit('degC', 100, 100, ['°C'], 27_315),
      unit('degF', 100, 180, ['°F'], 45_967),
      unit('K', 1),
    ],
  },
  temperatureDifference: {
    noun: 'a temperature difference',
    examples: ['5 degC', '9 degF'],
    units: [unit('degC', 1, 1, ['°C']), unit('degF', 5, 9, ['°F']), unit('K', 1)],
  },
  duration: {
    noun: 'a time',
    examples: ['1.5 h', '30 days'],
    units: [
      unit('h', HOUR_S, 1, ['hour', 'hours']),
      unit('days', DAY_S, 1, ['day']),
      unit('weeks', WEEK_S, 1, ['week']),
      unit('months', MONTH_S, 1, ['month']),
      unit('years', YEAR_S, 1, ['year']),
      unit('min', MINUTE_S),
      unit('s', 1),
    ],
  },
  energy: {
    noun: 'an energy',
    examples: ['38 kJ', '2500 ft*lbf'],
    units: [
      unit('kJ', 1000),
      unit('J', 1),
      // 0.3048 m x 1 lbf, ratio in lowest terms.
      unit('ft*lbf', 3_389_544_870_828_501, 2.5e15, ['ft lbf', 'ft-lbf']),
    ],
  },
  abradability: {
    noun: 'an abradability',
    examples: ['0.1 mm3/J'],
    units: [
      unit('mm3/J', 1, 1e9, ['mm³/J']),
      unit('mm3/kJ', 1, 1e12, ['mm³/kJ']),
      unit('m3/J', 1, 1, ['m³/J']),
    ],
  },
  inertia: {
    noun: 'a moment of inertia',
    examples: ['0.12 kg m2'],
    units: [unit('kg m2', 1, 1, ['kg*m2', 'kg m²', 'kg*m²'])],
  },
  torque: {
    noun: 'a torque',
    examples: ['900 N m', '8000 in lb'],
    units: [
      unit('N m', 1, 1, ['N*m', 'Nm']),
      // 0.0254 m x 1 lbf and 0.3048 m x 1 lbf, ratios in lowest terms.
      unit('in lb', 1_129_848_290_276_167, 1e16, ['in*lb', 'in-lb', 'in lbf', 'in*lbf', 'in-lbf']),
      unit('ft lb', 3_389_544_870_828_501, 2.5e15, ['ft*lb', 'ft-lb', 'ft lbf', 'ft*lbf', 'ft-lbf']),
    ],
  },
  perArea: {
    noun: 'a number per area',
    examples: ['0.3 /m2', '5 /100 m2'],
    units: [
      unit('/m2', 1, 1, ['/m²']),
      unit('/100 m2', 1, 100, ['/100m2', '/100 m²']),
      unit('/ft2', 1e8, 9_290_304, ['/ft²']),
    ],
  },
  perLength: {
    noun: 'a number per length',
    examples: ['0.02 /m', '20 /km'],
    units: [unit('/m', 1), unit('/km', 1, 1000)],
  },
  rate: {
    noun: 'a rate',
    examples: ['2 %/month', '0.5 /year'],
    units: [
      unit('/h', 1, HOUR_S),
      unit('/day', 1, DAY_S),
      unit('/week', 1, WEEK_S),
      unit('/month', 1, MONTH_S),
      unit('/year', 1, YEAR_S),
      unit('%/h', 1, 100 * HOUR_S),
      unit('%/day', 1, 100 * DAY_S),
      unit('%/week', 1, 100 * WEEK_S),
      unit('%/month', 1, 100 * MONTH_S),
      unit('%/year', 1, 100 * YEAR_S),
      unit('/s', 1),
    ],
  },
  share: { noun: 'a share', examples: ['35 %', '0.35'], units: [unit('%', 1, 100), unit('', 1)] },
  count: { noun: 'a number', examples: ['12'], units: [unit('', 1)] },
  money: { noun: 'a sum of money', examples: ['250'], units: [unit('', 1)] },
  angle: {
    noun: 'an angle',
    examples: ['90 deg', '1.5 rad'],
    units: [unit('deg', Math.PI, 180, ['°']), unit('rad', 1)],
  },
  area: {
    noun: 'an area',
    examples: ['0.02 m2', '0.2 ft2'],
    units: [unit('m2', 1, 1, ['m²']), unit('ft2', 9_290_304, 1e8, ['ft²'])],
  },
};

/** All dimension names, in the order in which a unit is attributed to one of them in messages. */
export const DIMENSION_NAMES = Object.keys(DIMENSIONS) as readonly Dimension[];

/** Names of the units of a dimension, commonest first; an empty name means the bare number. */
export function unitNames(dimension: Dimension): readonly string[] {
  return DIMENSIONS[dimension].units.map((each) => each.name);
}

/** What to write for a dimension, for messages: `a pressure such as "25 psi" or "1.7 bar"`. */
export function expectedPhrase(dimension: Dimension): string {
  const { noun, examples } = DIMENSIONS[dimension];
  return `${noun} such as ${examples.map((example) => `"${example}"`).join(' or ')}`;
}

/** A number in a unit as its SI value. */
export function toSi(value: number, from: Unit): number {
  return (value * from.numerator + from.offset) / from.denominator;
}

/** An SI value as a number in a unit. */
export function fromSi(si: number, to: Unit): number {
  return (si * to.denominator - to.offset) / to.numerator;
}
