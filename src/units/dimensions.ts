/** One unit of a dimension: value in the dimension's base unit = number × num / den, with integers so that decimals stay exact. */
export interface Unit {
  /** As it is written and shown. */
  name: string;
  /** Other spellings. */
  also?: readonly string[];
  num: number;
  den: number;
}

export interface DimensionSpec {
  /** What it is called in a message, with its article. */
  what: string;
  /** The unit named when a bare number is met, and the unit of the result unless `base` differs. */
  usual: string;
  units: readonly Unit[];
}

const unit = (name: string, num: number, den: number, also?: readonly string[]): Unit =>
  also === undefined ? { name, num, den } : { name, num, den, also };

/** The inch is 25.4 mm and the pound-force per square inch 6894.757 Pa (NIST SP 811, appendix B). */
const INCH_MM = { num: 254, den: 10 };

/** Every dimension that is read from text, with its base unit first: results are in that unit. */
export const DIMENSIONS = {
  length: {
    what: 'a length',
    usual: 'mm',
    units: [
      unit('mm', 1, 1),
      unit('cm', 10, 1),
      unit('m', 1000, 1),
      unit('um', 1, 1000, ['µm']),
      unit('in', INCH_MM.num, INCH_MM.den, ['inch', 'inches', '"', '″']),
      unit('ft', 12 * INCH_MM.num, INCH_MM.den),
      unit('thou', INCH_MM.num, INCH_MM.den * 1000, ['mil']),
    ],
  },
  wavelength: {
    what: 'a wavelength',
    usual: 'um',
    units: [unit('um', 1, 1, ['µm']), unit('nm', 1, 1000)],
  },
  speed: {
    what: 'a speed',
    usual: 'mm/s',
    units: [
      unit('mm/s', 1, 1, ['mm/sec']),
      unit('mm/min', 1, 60),
      unit('cm/s', 10, 1),
      unit('m/s', 1000, 1),
      unit('m/min', 1000, 60),
      unit('in/s', INCH_MM.num, INCH_MM.den, ['ips']),
      unit('in/min', INCH_MM.num, INCH_MM.den * 60, ['ipm']),
    ],
  },
  acceleration: {
    what: 'an acceleration',
    usual: 'mm/s2',
    units: [unit('mm/s2', 1, 1), unit('m/s2', 1000, 1), unit('in/s2', INCH_MM.num, INCH_MM.den)],
  },
  fraction: { what: 'a share', usual: '%', units: [unit('%', 1, 100)] },
  power: { what: 'a power', usual: 'W', units: [unit('W', 1, 1), unit('kW', 1000, 1), unit('mW', 1, 1000)] },
  pressure: {
    what: 'a pressure',
    usual: 'bar',
    units: [
      unit('bar', 1, 1),
      unit('mbar', 1, 1000),
      unit('Pa', 1, 100_000),
      unit('kPa', 1, 100),
      unit('MPa', 10, 1),
      unit('psi', 6_894_757, 100_000_000),
    ],
  },
  time: {
    what: 'a time',
    usual: 's',
    units: [unit('s', 1, 1), unit('ms', 1, 1000), unit('min', 60, 1), unit('h', 3600, 1)],
  },
  hours: { what: 'a number of hours', usual: 'h', units: [unit('h', 1, 1)] },
  'energy-per-volume': {
    what: 'an energy per volume',
    usual: 'J/mm3',
    units: [unit('J/mm3', 1, 1), unit('kJ/cm3', 1, 1), unit('J/cm3', 1, 1000)],
  },
  'energy-per-area': {
    what: 'an energy per area',
    usual: 'J/mm2',
    units: [unit('J/mm2', 1, 1), unit('J/cm2', 1, 100)],
  },
  'energy-per-mass': {
    what: 'an energy per mass',
    usual: 'kJ/g',
    units: [unit('kJ/g', 1, 1), unit('J/g', 1, 1000), unit('MJ/kg', 1, 1)],
  },
  density: { what: 'a density', usual: 'g/cm3', units: [unit('g/cm3', 1, 1), unit('kg/m3', 1, 1000)] },
  conductivity: {
    what: 'a thermal conductivity',
    usual: 'W/m/K',
    units: [unit('W/m/K', 1, 1, ['W/mK', 'W/m·K', 'W/(m·K)', 'W/(m K)'])],
  },
  diffusivity: {
    what: 'a thermal diffusivity',
    usual: 'mm2/s',
    units: [unit('mm2/s', 1, 1), unit('m2/s', 1_000_000, 1)],
  },
  temperature: { what: 'a temperature difference', usual: 'K', units: [unit('K', 1, 1)] },
  angle: { what: 'an angle', usual: 'deg', units: [unit('deg', 1, 1, ['°'])] },
} as const satisfies Record<string, DimensionSpec>;

export type Dimension = keyof typeof DIMENSIONS;

export function dimensionSpec(dimension: Dimension): DimensionSpec {
  return DIMENSIONS[dimension];
}

/** Spelling as units are compared: `µ`/`μ` → `u`, raised digits and `^2` → plain digits. */
function normalisedUnit(text: string): string {
  return text
    .replace(/[µμ]/g, 'u')
    .replace(/\^?[²]|\^2/g, '2')
    .replace(/\^?[³]|\^3/g, '3')
    .replace(/\s+/g, ' ')
    .replace(/\s*([/·])\s*/g, '$1');
}

const BY_SPELLING = new Map<Dimension, Map<string, Unit>>();

function spellings(dimension: Dimension): Map<string, Unit> {
  let known = BY_SPELLING.get(dimension);
  if (!known) {
    known = new Map();
    for (const one of dimensionSpec(dimension).units) {
      for (const name of [one.name, ...(one.also ?? [])]) known.set(normalisedUnit(name), one);
    }
    BY_SPELLING.set(dimension, known);
  }
  return known;
}

export function findUnit(dimension: Dimension, written: string): Unit | undefined {
  return spellings(dimension).get(normalisedUnit(written));
}

/** The dimension that knows this unit, for a message about a unit in the wrong place. */
export function dimensionOf(written: string): Dimension | undefined {
  for (const dimension of Object.keys(DIMENSIONS) as Dimension[]) {
    if (findUnit(dimension, written)) return dimension;
  }
  return undefined;
}

export function unitNames(dimension: Dimension): string[] {
  return dimensionSpec(dimension).units.map((u) => u.name);
}

/** A regular expression's source for all spellings of a dimension's units. */
export function unitPattern(dimension: Dimension): string {
  const written = dimensionSpec(dimension).units.flatMap((u) => [u.name, ...(u.also ?? [])]);
  const longestFirst = [...new Set(written.map(normalisedUnit))].sort(
    (a, b) => b.length - a.length || (a < b ? -1 : 1),
  );
  return longestFirst.map(spelledFreely).join('|');
}

function spelledFreely(plain: string): string {
  return plain
    .replace(/[.*+?^${}()|[\]\\]/g, '\\$&')
    .replace(/u(?=m)/g, '[uµμ]')
    .replace(/ /g, '\\s+')
    .replace(/[/·]/g, '\\s*$&\\s*')
    .replace(/2/g, '\\^?[2²]')
    .replace(/3/g, '\\^?[3³]');
}
