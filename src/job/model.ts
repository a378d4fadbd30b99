import type { Location } from '../source/place.ts';
import type { Kind } from './material/names/kinds.ts';

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
  /** Stated 1/e² spot, or the one that is assumed of a diode; a round one has both equal. Null: it is computed. */
  spotMm: { xMm: number; yMm: number } | null;
}

/** How a controller is told the power. */
export interface PowerScale {
  word: 'S' | 'M106' | 'analog';
  /** Value of the word at full power. */
  full: number;
}

/** One thing that a machine's profile leaves open and that was taken as usual for the class of its source. */
export interface Assumption {
  /** Key of the profile that would state it: "beam.diameter", "lenses.2in.spot". */
  key: string;
  value: number | string;
  /** Unit of a number as one writes it; null where it has none, and for a word. */
  unit: string | null;
  /** How far the truth may lie: 1σ of the logarithm, carried into the depth; 0 where it is not. */
  spread: number;
  /** Where the value comes from and what rests on it. */
  basis: string;
}

export interface Machine {
  id: string;
  rank: Rank;
  file: string;
  /** The profile says that its numbers are made up, for a demonstration. */
  invented: boolean;
  /** What the profile leaves open and what was taken for it; empty where it states all that can be assumed. */
  assumed: readonly Assumption[];
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
    /** Recommended maximum setting, 0..1; `assumed` tells where the profile states none. */
    ceiling: number | null;
    /** Below this setting it does not fire, 0..1; likewise. */
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
    /** The word that sets the power and its value at full; never assumed, so null where the profile does not say. */
    power: PowerScale | null;
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
  air: {
    /** Null where the profile does not say. */
    maximumBar: number | null;
    /** The words that switch it; null where the profile does not say. */
    switched: { on: 'M7' | 'M8'; off: 'M9' } | null;
  } | null;
  rates: {
    machinePerH: Money | null;
    operatorPerH: Money | null;
    inputW: number | null;
    energyPerKWh: Money | null;
    tube: { price: Money; lifeH: number } | null;
  };
  /** What the shop found on its bench with this machine; null where it keeps nothing of the kind. */
  bench: Bench | null;
  placeOf: PlaceOf;
}

/** How a number came about: `source` names the publication; fitted, derived and memory values say so. */
export interface Provenance {
  kind: 'published' | 'fitted' | 'derived' | 'memory' | 'measured-here' | 'common-practice';
  source: string;
}

export type HazardClass = 'never' | 'reconsider' | 'extract' | 'usual';
export type SourceVerdict = 'cuts' | 'marks-only' | 'does-not-absorb';

/** A test cut and what came of it. */
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

/** A coupon as a machine's bench keeps it: it names what was cut, and the lens. */
export type BenchCoupon = Coupon & { material: string; machine: string; lens: string };

/** A focus offset that a ramp found. */
export interface FocusRamp {
  lens: string;
  /** Where the waist stands above (+) or below (−) where the gauge puts it, mm. */
  offsetMm: number;
  /** 1σ of it, mm. */
  spreadMm: number;
  /** ISO date. */
  date: string | null;
}

/** What the shop found on its own bench with one machine. It comes from the shop's folder alone. */
export interface Bench {
  /** Of the machine. */
  id: string;
  file: string;
  /** The last one of a lens counts. */
  ramps: FocusRamp[];
  /** The newest last. */
  coupons: BenchCoupon[];
  placeOf: PlaceOf;
}

export interface Material {
  id: string;
  rank: Rank;
  file: string;
  name: string;
  /** Other words for it, those of other languages among them; no two materials share one. */
  aliases: string[];
  /** Words that it shares with other materials, and that therefore do not name it: "plywood". */
  kinds: Kind[];
  /** What tells it from the others of its kinds, in one short phrase; null where the file does not say. */
  differs: string | null;
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
    /** Factor by which a file beside the job raised it; 1 where none did. */
    raisedBy: number;
    /** What was taken before published cuts were weighed; null where the value was not fitted to them. */
    before: { jPerMm3: number; spread: number; provenance: Provenance } | null;
  } | null;
  /**
   * What the catalogue says, where the shop's own value rests on coupons: these hold for the machines that cut them. Null where it rests on
   * none, or the catalogue does not know the material.
   */
  beforeCoupons: {
    removal: { jPerMm3: number; spread: number };
    divergence: { share: number; low: number; high: number };
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
  /** What must hold of the very sheet for a source to cut it, by source kind: "opaque to blue light". */
  sourceConditions: Partial<Record<SourceKind, string>>;
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
  /** Each counts for the machine that it names alone. */
  coupons: Coupon[];
  /** A focus offset that the file states: it names no machine and no lens, and counts for none. */
  statesFocus: boolean;
  placeOf: PlaceOf;
}
