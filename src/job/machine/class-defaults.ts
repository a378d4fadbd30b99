import type { Assumption, SourceKind } from '../model.ts';

/** What must be stated before the rest can be taken as usual for the class. */
export interface StatedMachine {
  readonly kind: SourceKind;
  /** W. */
  readonly ratedW: number;
  readonly lenses: readonly { readonly id: string; readonly focalMm: number }[];
}

const MEMORY = 'memory';
const SPOT_IS_ENOUGH = 'enters the spot, and counts for nothing under a lens whose spot is stated';

/** A value for all ratings up to one, W. */
type ByRating = readonly (readonly [upToW: number, value: number])[];

/** 1/e² diameter at the lens of a glass tube's beam: it grows with the bore, and that with the rating (memory; no source). */
const TUBE_BEAM_MM: ByRating = [
  [45, 5],
  [70, 6],
  [90, 7],
  [120, 8],
  [Number.POSITIVE_INFINITY, 10],
];

/**
 * The wider side of a diode's spot, 1/e²: one emitter is a stripe, and the beams of several lie side by side, so it grows with the rating
 * (memory; no source). Sellers state less.
 */
const DIODE_SPOT_MM: ByRating = [
  [6, 0.1],
  [12, 0.12],
  [25, 0.15],
  [Number.POSITIVE_INFINITY, 0.2],
];

/** Focal length over the diameter of a diode's beam at its lens, and the diameters between which that holds, mm (memory; no source). */
const DIODE_FOCAL_RATIO = 8;
const DIODE_BEAM_MM = { least: 1, most: 5 };

/** The rest of what is usual in a class. Spreads are 1σ of the logarithm. */
interface ClassFigures {
  wavelengthUm: number;
  /** Of the beam's diameter at the lens. */
  diameterSpread: number;
  m2: number;
  m2Spread: number;
  speedMmPerS: number;
  accelerationMmPerS2: number;
}

const FIGURES: Record<SourceKind, ClassFigures> = {
  co2: {
    wavelengthUm: 10.6,
    diameterSpread: 0.15,
    m2: 1.2,
    m2Spread: 0.1,
    speedMmPerS: 500,
    accelerationMmPerS2: 3000,
  },
  // The M² of a diode is that of its spot, which is what is assumed of it.
  diode: {
    wavelengthUm: 0.45,
    diameterSpread: 0.3,
    m2: 1,
    m2Spread: 0,
    speedMmPerS: 150,
    accelerationMmPerS2: 1000,
  },
  fibre: {
    wavelengthUm: 1.064,
    diameterSpread: 0.2,
    m2: 1.5,
    m2Spread: 0.15,
    speedMmPerS: 500,
    accelerationMmPerS2: 3000,
  },
};

const FIBRE_BEAM_MM = 6;
/** Of a diode's spot. */
const DIODE_SPOT_SPREAD = 0.3;
/** Recommended maximum and firing floor of a glass tube. */
const TUBE_CEILING = 0.85;
const TUBE_FLOOR = 0.1;
const CORNER_DEVIATION_MM = 0.02;
const ARC_TOLERANCE_MM = 0.05;

/** What a lens is called whose id is left out: "2in", "50mm". */
export function lensIdOf(focalMm: number): string {
  const quarters = (focalMm / 25.4) * 4;
  const rounded = Math.round(quarters);
  if (rounded > 0 && Math.abs(quarters - rounded) < 1e-6) return `${rounded / 4}in`;
  return `${Number(focalMm.toFixed(3))}mm`;
}

/**
 * What is taken of a machine where its profile does not say, for the class of its source: the keys of the profile with their values, how far
 * off they may be and where they come from. `init` writes them as comments, `readMachine` fills them in and notes which it needed.
 * What a beam does when nobody asks is never among them, nor the power scale of the controller.
 */
export function classDefaults({ kind, ratedW, lenses }: StatedMachine): Assumption[] {
  const figures = FIGURES[kind];
  const diode = kind === 'diode';
  return [
    {
      key: 'beam.diameter',
      value: beamMm(kind, ratedW, lenses[0]?.focalMm ?? 50),
      unit: 'mm',
      spread: figures.diameterSpread,
      basis: diode
        ? `an eighth of the focal length, 5 mm at most (${MEMORY}); it sets how fast the beam spreads below its waist`
        : `usual for a ${ratedW} W source of this kind (${MEMORY}); it sets the spot and how fast the beam spreads`,
    },
    ...(diode
      ? lenses.map(({ id }) => spotOf(id, ratedW))
      : [
          {
            key: 'beam.m2',
            value: figures.m2,
            unit: null,
            spread: figures.m2Spread,
            basis: `usual beam quality of this kind of source (${MEMORY}); ${SPOT_IS_ENOUGH}`,
          },
        ]),
    {
      key: 'source.wavelength',
      value: figures.wavelengthUm,
      unit: 'um',
      spread: 0,
      basis: `the usual line of this kind of source (textbook); ${SPOT_IS_ENOUGH}`,
    },
    ...(kind === 'co2' ? tubeLimits() : []),
    ...lenses.flatMap(({ id }) => lensMake(id, kind)),
    ...motionOf(figures),
    ...controllerOf(),
  ];
}

function spotOf(lens: string, ratedW: number): Assumption {
  return {
    key: `lenses.${lens}.spot`,
    value: byRating(DIODE_SPOT_MM, ratedW),
    unit: 'mm',
    spread: DIODE_SPOT_SPREAD,
    basis: `the wider side of the spot, usual for a diode of ${ratedW} W (${MEMORY}); sellers state less`,
  };
}

function tubeLimits(): Assumption[] {
  return [
    {
      key: 'source.ceiling',
      value: TUBE_CEILING * 100,
      unit: '%',
      spread: 0,
      basis: `above it a glass tube ages faster (${MEMORY}); nothing is proposed above it`,
    },
    {
      key: 'source.floor',
      value: TUBE_FLOOR * 100,
      unit: '%',
      spread: 0,
      basis: `below it a glass tube may not fire (${MEMORY}); nothing is proposed below it`,
    },
  ];
}

function lensMake(lens: string, kind: SourceKind): Assumption[] {
  return [
    {
      key: `lenses.${lens}.shape`,
      value: 'plano-convex',
      unit: null,
      spread: 0,
      basis: `curved side to the beam (${MEMORY}); ${SPOT_IS_ENOUGH}`,
    },
    {
      key: `lenses.${lens}.material`,
      value: kind === 'co2' ? 'ZnSe' : 'glass',
      unit: null,
      spread: 0,
      basis: `usual for this kind of source (${MEMORY}); ${SPOT_IS_ENOUGH}`,
    },
  ];
}

function motionOf({ speedMmPerS, accelerationMmPerS2 }: ClassFigures): Assumption[] {
  const gantry = `a middling gantry of this kind of machine (${MEMORY})`;
  return [
    {
      key: 'motion.speed',
      value: speedMmPerS,
      unit: 'mm/s',
      spread: 0,
      basis: `${gantry}; nothing faster is proposed`,
    },
    { key: 'motion.rapid', value: speedMmPerS, unit: 'mm/s', spread: 0, basis: `${gantry}; times rest on it` },
    {
      key: 'motion.acceleration',
      value: accelerationMmPerS2,
      unit: 'mm/s2',
      spread: 0,
      basis: `${gantry}; times and what is reached in short strokes rest on it`,
    },
    {
      key: 'motion.corner-deviation',
      value: CORNER_DEVIATION_MM,
      unit: 'mm',
      spread: 0,
      basis: `${gantry}; times and the speed in corners rest on it`,
    },
  ];
}

function controllerOf(): Assumption[] {
  return [
    {
      key: 'controller.m4',
      value: 'scaled-with-speed',
      unit: null,
      spread: 0,
      basis: `what M4 is for on a laser cutter (${MEMORY})`,
    },
    {
      key: 'controller.z-zero',
      value: 'fixed',
      unit: null,
      spread: 0,
      basis: 'no Z that moves the focus, until the profile says that there is one',
    },
    {
      key: 'controller.arc-tolerance',
      value: ARC_TOLERANCE_MM,
      unit: 'mm',
      spread: 0,
      basis: 'between what controllers accept, 0.005 mm to 0.5 mm (see toolpath/arc-mismatch)',
    },
  ];
}

function beamMm(kind: SourceKind, ratedW: number, focalMm: number): number {
  if (kind === 'co2') return byRating(TUBE_BEAM_MM, ratedW);
  if (kind === 'fibre') return FIBRE_BEAM_MM;
  const { least, most } = DIODE_BEAM_MM;
  return Number(Math.min(most, Math.max(least, focalMm / DIODE_FOCAL_RATIO)).toFixed(2));
}

function byRating(table: ByRating, ratedW: number): number {
  return table.find(([upToW]) => ratedW <= upToW)![1];
}

/** A default as it would stand in a profile: "6 mm", "85 %", "plano-convex". */
export function assumptionText({ value, unit }: Pick<Assumption, 'value' | 'unit'>): string {
  return unit === null ? String(value) : `${value} ${unit}`;
}
