import type { Location } from '../source/place.ts';

/** Where a key or value of a loaded YAML file stands. `path` as in ["tasks", 0, "speed"]; unknown paths give the nearest parent that exists. */
export type PlaceOf = (path: readonly (string | number)[], part?: 'key' | 'value') => Location;

/** Trust rank of a file: `catalogue` ships with kerflint, `shop` was named by --shop or the root's .kerflint.yaml, `beside-job` came with the job. */
export type Rank = 'catalogue' | 'shop' | 'beside-job';

export type SourceKind = 'co2' | 'diode' | 'fibre';
export type Aim = 'through' | 'groove' | 'surface';

export interface Money {
  amount: number;
  /** ISO 4217 code as written. */
  currency: string;
}

/** A setting as planned: a share of full power (0..1) or watts at the work. */
export type PowerSetting = { fraction: number } | { watts: number };

export interface Thickness {
  mm: number;
  /** Half-width of the stated tolerance; null when none was stated. */
  plusMinusMm: number | null;
  /** Declared by the trade size and not measured. */
  nominal: boolean;
}

/** One task: a group of strokes with one aim. */
export interface Task {
  name: string;
  aim: Aim;
  /** Selects outlines of the artwork; every given key must fit. Null: all that no other task selects. */
  strokes: { stroke?: string; layer?: string; class?: string; id?: string } | null;
  /** Selects strokes of the toolpath. Null: matched by geometry. */
  program: { comment?: string; tool?: number; feedMmPerS?: number; power?: PowerSetting } | null;
  power: PowerSetting | null;
  speedMmPerS: number | null;
  /** Null when not stated (then 1). */
  passes: number | null;
  /** Waist above (+) or below (−) the sheet's top face; null when not stated (then 0). */
  focusMm: number | null;
  /** Change of focus from one pass to the next, mm, usually negative; 0 when the focus stays. */
  focusStepMm: number;
  airBar: number | null;
}

export interface Waiver {
  rule: string;
  reason: string | null;
  /** ISO date. */
  until: string | null;
  location: Location;
}

export interface Sidecar {
  file: string;
  /** File name without `.job.yaml`. */
  name: string;
  /** Machine, material and thickness are null where the line is missing or was left empty: then the job cannot be judged whole. */
  machine: string | null;
  lens: string | null;
  material: string | null;
  thickness: Thickness | null;
  face: 'masked' | 'bare' | null;
  mirror: 'up' | 'down' | null;
  bowMm: number | null;
  sheet: { widthMm: number; heightMm: number; price: Money | null; atXMm: number; atYMm: number } | null;
  zero: 'machine' | 'sheet-corner' | 'set-by-hand' | null;
  toolpath: string | null;
  artwork: string | null;
  tasks: Task[];
  waivers: Waiver[];
  budget: Money | null;
  /** Lines of a form that wait for a value: the key as people say it ("task 1, power") and its place. */
  unfilled: { key: string; location: Location }[];
  placeOf: PlaceOf;
}

export interface Lens {
  id: string;
  focalMm: number;
  shape: 'meniscus' | 'plano-convex' | 'plano-convex-reversed' | 'best-form';
  material: string;
  standoffMm: number | null;
  /** Measured 1/e² spot; a round one has both equal. */
  spotMm: { xMm: number; yMm: number } | null;
}

export interface Machine {
  id: string;
  rank: Rank;
  file: string;
  source: {
    kind: SourceKind;
    wavelengthUm: number;
    ratedW: number;
    /** At the work at full setting; null when never measured. */
    measuredW: number | null;
    /** Measured watts at the work by setting fraction, rising; null when there is no curve. */
    curve: { fraction: number; watts: number }[] | null;
    /** ISO date. */
    measuredOn: string | null;
    /** Power at the far corner over power at the near one, 0..1. */
    atCorners: number | null;
    hoursH: number | null;
    /** Recommended maximum setting, 0..1. */
    ceiling: number | null;
    /** Below this setting it does not fire, 0..1. */
    floor: number | null;
  };
  beam: { diameterMm: number; m2: number };
  lenses: Lens[];
  travel: { xMm: number; yMm: number; zMm: number | null };
  motion: {
    speedMmPerS: number;
    rapidMmPerS: number;
    accelerationMmPerS2: number;
    cornerDeviationMm: number;
    airDelayS: number;
    /** True when the profile states them; false when they are defaults. */
    stated: boolean;
  };
  artwork: { pxPerInch: number; stated: boolean };
  controller: {
    power: { word: 'S' | 'M106' | 'analog'; full: number };
    m4: 'scaled-with-speed' | 'constant';
    beamOffOnRapid: boolean | null;
    beamOffWhenStopped: boolean | null;
    zZero: 'waist-on-face' | 'fixed';
    arcToleranceMm: number;
    /** Codes ("M42") that leave beam, speed and motion alone on this machine, with what each does. */
    harmless: ReadonlyMap<string, string>;
    /** Whether the controller carries out lines that begin with the block-delete slash; null where the profile does not say. */
    blockDelete: 'runs' | 'skipped' | null;
    /** True when the profile has a controller section. */
    stated: boolean;
  };
  air: { maximumBar: number } | null;
  rates: {
    machinePerH: Money | null;
    operatorPerH: Money | null;
    inputW: number | null;
    energyPerKWh: Money | null;
    tube: { price: Money; lifeH: number } | null;
  };
  placeOf: PlaceOf;
}

/** How a number came about: `source` names the publication; fitted, derived and memory values say so. */
export interface Provenance {
  kind: 'published' | 'fitted' | 'derived' | 'memory' | 'measured-here' | 'common-practice';
  source: string;
}

export type HazardClass = 'never' | 'reconsider' | 'extract' | 'usual';
export type SourceVerdict = 'cuts' | 'marks-only' | 'does-not-absorb';

export interface Coupon {
  machine: string | null;
  lens: string | null;
  thicknessMm: number;
  powerW: number;
  speedMmPerS: number;
  passes: number;
  focusMm: number;
  focusStepMm: number;
  /** Did it part? null when a depth was measured instead. */
  through: boolean | null;
  depthMm: number | null;
  date: string | null;
}

export interface Material {
  id: string;
  rank: Rank;
  file: string;
  name: string;
  aliases: string[];
  /** Family, for texts and defaults. */
  family:
    | 'plywood'
    | 'wood'
    | 'board'
    | 'acrylic'
    | 'plastic'
    | 'paper'
    | 'textile'
    | 'leather'
    | 'foam'
    | 'rubber'
    | 'metal'
    | 'mineral'
    | 'composite';
  densityGPerCm3: number;
  /** Volumetric removal energy: the spread is one standard deviation as a fraction of the value. Null where the material is not cut by any source. */
  removal: {
    jPerMm3: number;
    spread: number;
    provenance: Provenance;
    coupons: number;
    /** What was taken before published cuts were weighed; null where the value was not fitted to them. */
    before: { jPerMm3: number; spread: number; provenance: Provenance } | null;
  } | null;
  /** Share of the free beam’s spread that still counts between the walls (docs/model.md), with its 5–95 % band. */
  divergence: { share: number; low: number; high: number };
  /** Below this speed it chars, melts or flares, by source kind; null when there is no floor. */
  cleanSpeedMmPerS: Record<SourceKind, number | null>;
  thermal: { conductivityWPerMK: number; diffusivityMm2PerS: number; temperatureRiseK: number } | null;
  /** Threshold fluence for the reported kerf at the top, J/mm²; null when unknown. */
  kerfThresholdJPerMm2: number | null;
  sources: Record<SourceKind, SourceVerdict>;
  /** Why a source marks only or is not absorbed, with the number behind it, by source kind. */
  sourceReasons: Partial<Record<SourceKind, string>>;
  /** Share of the beam that passes through 3 mm of it, by source kind, where it is transparent; else null. */
  transmits: Partial<Record<SourceKind, number>>;
  hazard: { class: HazardClass; reason: string; source: string };
  /** Traits that rules ask for. */
  traits: {
    mirrored: boolean;
    clear: boolean;
    hiddenGlue: boolean;
    softFoam: boolean;
    bareMetal: boolean;
    formaldehyde: boolean;
  };
  /** Thinnest and thickest sheet sold, mm. */
  thicknessMm: { min: number; max: number };
  /** Thicknesses in which it can be bought, rising, mm; empty where its entry names none. */
  stockMm: number[];
  coupons: Coupon[];
  /** 1σ of the focus offset found by a ramp, mm, and the offset itself; null when none was cut. */
  focusCalibration: { offsetMm: number; spreadMm: number } | null;
  placeOf: PlaceOf;
}
