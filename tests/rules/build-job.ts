import type { Location, Machine, Material, Sidecar, Task } from '../../src/facts/types.ts';

/** Replaces members of a model, nested models member by member; arrays and typed arrays as a whole. */
export type Change<T> = {
  [K in keyof T]?: T[K] extends readonly unknown[] | ArrayBufferView ? T[K] : T[K] | Change<T[K]>;
};

function isPlain(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype;
}

/** `base` with the members given put in place of its own. */
export function changed<T>(base: T, change: Change<T>): T {
  const result: Record<string, unknown> = { ...(base as Record<string, unknown>) };
  for (const [key, value] of Object.entries(change)) {
    const before = result[key];
    result[key] = isPlain(before) && isPlain(value) ? changed(before, value) : value;
  }
  return result as T;
}

export function at(file: string, line: number, column = 1): Location {
  return { file, line, column, endLine: line, endColumn: column + 1 };
}

/** A place that tells paths apart by their length; a path of keys that no file has is refused, as it leads nowhere. */
const placeOf = (path: readonly (string | number)[]) => {
  const wrong = path.find((key) => typeof key === 'string' && !/^[a-z][a-z0-9-]*$/.test(key));
  if (path.length === 0 || wrong !== undefined) throw new Error(`no file has the path ${JSON.stringify(path)}`);
  return at('coaster.job.yaml', 3 + path.length);
};

export const machine = (change: Change<Machine> = {}): Machine =>
  changed<Machine>(
    {
      id: 'shed-60w',
      rank: 'shop',
      file: 'shed-60w.machine.yaml',
      invented: false,
      assumed: [],
      source: {
        kind: 'co2',
        wavelengthUm: 10.6,
        ratedW: 60,
        measuredW: 54,
        curve: null,
        measuredOn: '2026-09-01',
        atCorners: 0.95,
        hoursH: 640,
        ceiling: 0.85,
        floor: 0.1,
      },
      beam: { diameterMm: 6, m2: 1.2 },
      lenses: [
        { id: '2in', focalMm: 50.8, shape: 'meniscus', material: 'ZnSe', standoffMm: 6, spotMm: null },
        { id: '4in', focalMm: 101.6, shape: 'meniscus', material: 'ZnSe', standoffMm: 8, spotMm: null },
      ],
      travel: { xMm: 600, yMm: 400, zMm: 40 },
      motion: {
        speedMmPerS: 500,
        rapidMmPerS: 600,
        accelerationMmPerS2: 3000,
        cornerDeviationMm: 0.02,
        airDelayS: 0.5,
        stated: true,
      },
      artwork: { pxPerInch: 96, stated: false },
      controller: {
        power: { word: 'S', full: 1000 },
        m4: 'scaled-with-speed',
        beamOffOnRapid: true,
        beamOffWhenStopped: true,
        zZero: 'waist-on-face',
        arcToleranceMm: 0.05,
        harmless: new Map(),
        blockDelete: null,
        stated: true,
      },
      air: { maximumBar: 2, switched: null },
      rates: {
        machinePerH: { amount: 6, currency: 'EUR' },
        operatorPerH: null,
        inputW: null,
        energyPerKWh: null,
        tube: { price: { amount: 420, currency: 'EUR' }, lifeH: 2000 },
      },
      bench: null,
      placeOf,
    },
    change,
  );

export const material = (change: Change<Material> = {}): Material =>
  changed<Material>(
    {
      id: 'birch-plywood',
      rank: 'catalogue',
      file: 'birch-plywood.material.yaml',
      name: 'Birch plywood',
      aliases: [],
      kinds: [],
      differs: null,
      family: 'plywood',
      densityGPerCm3: 0.68,
      removal: {
        jPerMm3: 6,
        spread: 0.25,
        provenance: { kind: 'derived', source: 'invented for these tests' },
        coupons: 0,
        raisedBy: 1,
        before: null,
      },
      beforeCoupons: null,
      divergence: { share: 0.15, low: 0.05, high: 0.4 },
      cleanSpeedMmPerS: { co2: 4, diode: null, fibre: null },
      thermal: { conductivityWPerMK: 0.14, diffusivityMm2PerS: 0.14, temperatureRiseK: 300 },
      kerfThresholdJPerMm2: 0.2,
      sources: { co2: 'cuts', diode: 'cuts', fibre: 'marks-only' },
      sourceReasons: {},
      sourceConditions: {},
      transmits: {},
      hazard: { class: 'usual', reason: 'wood smoke', source: 'invented for these tests' },
      traits: {
        mirrored: false,
        clear: false,
        hiddenGlue: false,
        softFoam: false,
        bareMetal: false,
        formaldehyde: false,
      },
      thicknessMm: { min: 0.8, max: 24 },
      stockMm: [],
      coupons: [],
      statesFocus: false,
      placeOf,
    },
    change,
  );

export const plannedTask = ({ power, ...change }: Change<Task> = {}): Task =>
  changed<Task>(
    {
      name: 'outline',
      aim: 'through',
      strokes: null,
      program: null,
      power: (power as Task['power'] | undefined) === undefined ? { fraction: 0.8 } : (power as Task['power']),
      speedMmPerS: 12,
      passes: 1,
      focusMm: 0,
      focusStepMm: 0,
      airBar: 1.4,
    },
    change,
  );

export const sidecar = (change: Change<Sidecar> = {}): Sidecar =>
  changed<Sidecar>(
    {
      file: 'coaster.job.yaml',
      name: 'coaster',
      machine: 'shed-60w',
      lens: '2in',
      material: 'birch-plywood',
      thickness: { mm: 6, plusMinusMm: 0.2, nominal: false },
      face: 'masked',
      mirror: null,
      bowMm: null,
      sheet: { widthMm: 300, heightMm: 200, price: null, atXMm: 0, atYMm: 0 },
      zero: 'machine',
      toolpath: 'coaster.gcode',
      artwork: 'coaster.svg',
      tasks: [],
      waivers: [],
      budget: null,
      unfilled: [],
      placeOf,
    },
    change,
  );
