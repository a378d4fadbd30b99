/** A lens material's refractive index and where it comes from. */
export interface RefractiveIndex {
  n: number;
  source: string;
}

/** Sum of Sellmeier terms: n² = constant + Σ b λ² / (λ² − c), λ in µm, c in µm². */
function sellmeier(
  constant: number,
  terms: readonly (readonly [b: number, c: number])[],
  wavelengthUm: number,
): number {
  const square = wavelengthUm * wavelengthUm;
  return Math.sqrt(terms.reduce((sum, [b, c]) => sum + (b * square) / (square - c), constant));
}

interface Glass {
  names: readonly string[];
  /** Wavelengths for which the index holds, µm. */
  fromUm: number;
  toUm: number;
  index: (wavelengthUm: number) => number;
  source: string;
}

const GLASSES: readonly Glass[] = [
  {
    names: ['znse', 'zinc selenide'],
    fromUm: 0.54,
    toUm: 18.2,
    index: (um) =>
      sellmeier(
        1,
        [
          [4.45813734, 0.200859853 ** 2],
          [0.467216334, 0.391371166 ** 2],
          [2.8956629, 47.1362108 ** 2],
        ],
        um,
      ),
    source: '[CONNOLLY-1979], by [REFRACTIVEINDEX]: 2.4028 at 10.6 µm; coefficients from memory',
  },
  {
    names: ['gaas', 'gallium arsenide'],
    fromUm: 9,
    toUm: 11,
    index: () => 3.27,
    source: 'memory: 3.27 near 10.6 µm',
  },
  {
    names: ['ge', 'germanium'],
    fromUm: 9,
    toUm: 11,
    index: () => 4.0,
    source: 'memory: 4.00 near 10.6 µm',
  },
  {
    names: ['fused silica', 'quartz', 'sio2', 'uvfs'],
    fromUm: 0.21,
    toUm: 3.7,
    index: (um) =>
      sellmeier(
        1,
        [
          [0.6961663, 0.0684043 ** 2],
          [0.4079426, 0.1162414 ** 2],
          [0.8974794, 9.896161 ** 2],
        ],
        um,
      ),
    source: '[MALITSON-1965]; coefficients from memory',
  },
  {
    names: ['bk7', 'n-bk7', 'glass'],
    fromUm: 0.3,
    toUm: 2.5,
    index: (um) =>
      sellmeier(
        1,
        [
          [1.03961212, 0.00600069867],
          [0.231792344, 0.0200179144],
          [1.01046945, 103.560653],
        ],
        um,
      ),
    source: '[SCHOTT]; coefficients from memory',
  },
];

/** Wavelength above which no ordinary glass lets the beam through, µm; beyond it a lens of unknown material is taken for ZnSe. */
const GLASS_LIMIT_UM = 4;

/**
 * Refractive index of a lens material at a wavelength in µm. A material that is not known, or not known at that
 * wavelength, is taken for the usual one of its kind (ZnSe above 4 µm, BK7 below), and the source says so.
 */
export function refractiveIndex(material: string, wavelengthUm: number): RefractiveIndex {
  const name = material.trim().toLowerCase();
  const glass = GLASSES.find((each) => each.names.includes(name));
  if (glass !== undefined && wavelengthUm >= glass.fromUm && wavelengthUm <= glass.toUm) {
    return { n: glass.index(wavelengthUm), source: glass.source };
  }
  const usual = GLASSES.find((each) => each.names[0] === (wavelengthUm > GLASS_LIMIT_UM ? 'znse' : 'bk7'))!;
  const um = Math.min(Math.max(wavelengthUm, usual.fromUm), usual.toUm);
  return {
    n: usual.index(um),
    source: `index of “${material}” not known here, taken for ${usual.names[0]}: ${usual.source}`,
  };
}

export type LensShape = 'meniscus' | 'plano-convex' | 'plano-convex-reversed' | 'best-form';

/**
 * Third-order spherical aberration factor k of blur = k D³ / f² for a thin lens with light from far away.
 * K is the curvature parameter: 1 plano-convex with the curved side to the beam, 0 the same lens upside down,
 * n(2n+1)/[2(n+2)] best form. A meniscus for this use is ground close to best form and is taken for it.
 * Source: the thin-lens third-order formula of the optics textbooks; values in docs/model.md.
 */
export function blurFactor(shape: LensShape, n: number): number {
  return thirdOrderBlur(bendingOf(shape, n), n);
}

/** The same of the lens turned over: its two faces change places, which takes K to 1 − K. */
export function upsideDownBlurFactor(shape: LensShape, n: number): number {
  return thirdOrderBlur(1 - bendingOf(shape, n), n);
}

function thirdOrderBlur(bending: number, n: number): number {
  return (n * n - (2 * n + 1) * bending + ((n + 2) * bending * bending) / n) / (32 * (n - 1) ** 2);
}

function bendingOf(shape: LensShape, n: number): number {
  return { 'plano-convex': 1, 'plano-convex-reversed': 0, meniscus: bestForm(n), 'best-form': bestForm(n) }[shape];
}

function bestForm(n: number): number {
  return (n * (2 * n + 1)) / (2 * (n + 2));
}
