import type { CutFact, JobFacts, PassFact, Prediction, TaskFact } from '../../src/facts/facts.ts';
import type { ArtworkGeometry } from '../../src/facts/geometry-facts.ts';
import type { Artwork, Location, Machine, Material, Problem, Sidecar, Task, Toolpath } from '../../src/facts/types.ts';

/** Replaces members of a model, nested models member by member; arrays and typed arrays as a whole. */
export type Change<T> = {
  [K in keyof T]?: T[K] extends readonly unknown[] | ArrayBufferView ? T[K] : T[K] | Change<T[K]>;
};

function isPlain(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype;
}

function changed<T>(base: T, change: Change<T>): T {
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

const placeOf = (path: readonly (string | number)[]) => at('coaster.job.yaml', 3 + path.length);

export const machine = (change: Change<Machine> = {}): Machine =>
  changed<Machine>(
    {
      id: 'shed-60w',
      rank: 'shop',
      file: 'shed-60w.machine.yaml',
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
        stated: true,
      },
      air: { maximumBar: 2 },
      rates: {
        machinePerH: { amount: 6, currency: 'EUR' },
        operatorPerH: null,
        inputW: null,
        energyPerKWh: null,
        tube: { price: { amount: 420, currency: 'EUR' }, lifeH: 2000 },
      },
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
      family: 'plywood',
      densityGPerCm3: 0.68,
      removal: {
        jPerMm3: 6,
        spread: 0.25,
        provenance: { kind: 'derived', source: 'invented for these tests' },
        coupons: 0,
      },
      divergence: { share: 0.15, low: 0.05, high: 0.4 },
      cleanSpeedMmPerS: { co2: 4, diode: null, fibre: null },
      thermal: { conductivityWPerMK: 0.14, diffusivityMm2PerS: 0.14, temperatureRiseK: 300 },
      kerfThresholdJPerMm2: 0.2,
      sources: { co2: 'cuts', diode: 'cuts', fibre: 'marks-only' },
      sourceReasons: {},
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
      coupons: [],
      focusCalibration: null,
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

export const task = (change: Change<TaskFact> = {}, planned: Task | null = plannedTask()): TaskFact =>
  changed<TaskFact>(
    {
      name: planned?.name ?? 'toolpath',
      aim: planned?.aim ?? 'through',
      planned,
      location: at('coaster.job.yaml', 12),
      outlines: Uint32Array.of(0),
      strokes: Uint32Array.of(0),
      areas: [],
      lengthMm: 300,
      timeS: 25,
      unpoweredOutlines: [],
    },
    change,
  );

export const pass = (change: Change<PassFact> = {}): PassFact =>
  changed<PassFact>(
    {
      powerW: 43.2,
      setting: 0.8,
      speedMmPerS: 12,
      programmedMmPerS: 12,
      focusMm: 0,
      air: true,
      scaled: true,
    },
    change,
  );

export const prediction = (change: Change<Prediction> = {}): Prediction =>
  changed<Prediction>(
    {
      depthMm: 7.4,
      depthLowMm: 6.1,
      depthHighMm: 9,
      throughProbability: 0.96,
      limit: 0.9,
      kerfTopMm: 0.2,
      kerfBottomMm: 0.15,
      taperDeg: 0.3,
      energyRatio: 1.3,
      depthAfterPassMm: [7.4],
      basis: 'catalogue, ± 40 %',
    },
    change,
  );

/** A cut with its prediction changed; `passes` and other members come by `change`. */
export const cut = (change: Change<CutFact> = {}): CutFact =>
  changed<CutFact>(
    {
      task: 'outline',
      aim: 'through',
      taskIndex: 0,
      lengthMm: 300,
      passes: [pass()],
      prediction: prediction(),
      notPredicted: null,
      remedies: [],
      location: at('coaster.gcode', 7),
      settingLocation: at('coaster.gcode', 6, 4),
      strokes: Uint32Array.of(0),
      slowestMmPerS: 11,
      cornerOverburn: 1,
      uneven: null,
      throughWithFocusStep: null,
    },
    change,
  );

/** Strokes from x, y pairs: one line from each point to the next, on source lines 10, 11, … */
export function strokesThrough(points: readonly (readonly [number, number])[]): Toolpath['strokes'] {
  const count = Math.max(0, points.length - 1);
  const from = points.slice(0, -1);
  const to = points.slice(1);
  return {
    count,
    startX: Float64Array.from(from, (p) => p[0]),
    startY: Float64Array.from(from, (p) => p[1]),
    startZ: new Float64Array(count),
    endX: Float64Array.from(to, (p) => p[0]),
    endY: Float64Array.from(to, (p) => p[1]),
    endZ: new Float64Array(count),
    centreX: new Float64Array(count).fill(Number.NaN),
    centreY: new Float64Array(count).fill(Number.NaN),
    sweepRad: new Float64Array(count),
    setting: new Float64Array(count).fill(0.8),
    speedMmPerS: new Float64Array(count).fill(12),
    reachedMmPerS: new Float64Array(count).fill(12),
    slowestMmPerS: new Float64Array(count).fill(11),
    line: Uint32Array.from(from, (_, i) => 10 + i),
    label: new Uint32Array(count),
    flags: new Uint8Array(count),
  };
}

export const toolpath = (change: Change<Toolpath> = {}): Toolpath =>
  changed<Toolpath>(
    {
      bytes: 400,
      lines: 30,
      moves: 5,
      strokes: strokesThrough([
        [10, 10],
        [90, 10],
        [90, 80],
        [10, 80],
        [10, 10],
      ]),
      labels: [{ comment: 'outline', tool: null, line: 5 }],
      areas: [],
      dwells: [],
      travels: { count: 0, xy: new Float32Array(0), dropped: 0 },
      hotRapids: { count: 0, lengthMm: 0, first: null, setting: 0 },
      cutLengthMm: 300,
      rapidLengthMm: 20,
      rasterLengthMm: 0,
      boundsMm: { minX: 0, minY: 0, maxX: 90, maxY: 80, minZ: 0, maxZ: 0 },
      poweredBoundsMm: { minX: 10, minY: 10, maxX: 90, maxY: 80, minZ: 0, maxZ: 0 },
      time: { totalS: 26, cuttingS: 25, rasterS: 0, travelS: 1, dwellS: 0 },
      timeByLabelS: [25],
      problems: [],
      analysed: true,
      end: { place: at('', 30), programEnd: 'M2', mode: 'off', setting: 0 },
      highestSetting: { value: 0.8, raw: 800, place: at('', 6) },
      lowestPoweredSetting: { value: 0.8, raw: 800, place: at('', 6) },
      highestSpeed: { mmPerS: 12, place: at('', 6) },
      offsets: { used: [], place: null },
      units: 'mm',
      codesSeen: { M3: { count: 1, place: at('', 5) }, M8: { count: 1, place: at('', 5) } },
    },
    change,
  );

export const artwork = (change: Change<Artwork> = {}): Artwork =>
  changed<Artwork>(
    {
      widthMm: 100,
      heightMm: 100,
      size: 'physical',
      elements: [
        {
          tag: 'rect',
          id: 'rim',
          classes: [],
          layers: [],
          stroke: '#0b7285',
          fill: null,
          strokeWidthMm: 0.1,
          place: at('', 4, 3),
          matrix: [1, 0, 0, 1, 0, 0],
          box: { minX: 10, minY: 10, maxX: 90, maxY: 80 },
          userBox: null,
          userLength: null,
          contours: 1,
        },
      ],
      outlines: [
        {
          xy: Float64Array.of(10, 10, 90, 10, 90, 80, 10, 80, 10, 10),
          closed: true,
          element: 0,
          lengthMm: 300,
          box: { minX: 10, minY: 10, maxX: 90, maxY: 80 },
        },
      ],
      lengthMm: 300,
      boundsMm: { minX: 10, minY: 10, maxX: 90, maxY: 80 },
      problems: [],
      analysed: true,
    },
    change,
  );

export const geometry = (change: Change<ArtworkGeometry> = {}): ArtworkGeometry =>
  changed<ArtworkGeometry>(
    {
      open: [],
      nearlyClosed: [],
      duplicates: [],
      selfCrossing: [],
      overlappingParts: [],
      webs: [],
      narrow: [],
      joints: [],
      strays: [],
      offSheet: [],
      scaleSuspect: null,
      kerfMm: 0.2,
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
      placeOf,
    },
    change,
  );

/** A sound job with a toolpath and artwork, on which no rule has anything to say, with the changes given. */
export const facts = (change: Change<JobFacts> = {}): JobFacts =>
  changed<JobFacts>(
    {
      input: {
        name: 'coaster',
        sidecar: sidecar(),
        files: { sidecar: 'coaster.job.yaml', toolpath: 'coaster.gcode', artwork: 'coaster.svg' },
        home: at('coaster.job.yaml', 1),
      },
      machine: machine(),
      lens: machine().lenses[0] ?? null,
      lensAssumed: false,
      material: material(),
      materialUnknown: false,
      materialName: 'birch-plywood',
      thicknessMm: 6,
      thicknessSpreadMm: 0.1,
      toolpath: toolpath(),
      artwork: artwork(),
      tasks: [task()],
      unassignedOutlines: [],
      cuts: [cut()],
      power: { fullW: 54, spread: 0.05, basis: 'measured' },
      beam: { spotMm: 0.16, rayleighMm: 1.2, depthOfFocusMm: 2.4, spotBasis: 'computed' },
      time: { totalS: 26, cuttingS: 25, rasterS: 0, travelS: 1, dwellS: 0, basis: 'toolpath' },
      waste: {
        currency: 'EUR',
        atStake: 3.2,
        expected: 0.13,
        sheet: 2.9,
        machine: 0.2,
        operator: 0.1,
        tube: 0,
        energy: 0,
        missing: [],
      },
      areas: [],
      order: { contours: 1, innerAfterOuter: [], open: [], freed: [], crowded: [], travelShare: 0.06 },
      geometry: geometry(),
      match: null,
      speeds: [{ belowShare: 0, reachedMmPerS: 12, programmedMmPerS: 12, location: at('coaster.gcode', 7) }],
      onBed: { minX: 0, minY: 0, maxX: 90, maxY: 80 },
      onBedUnknown: null,
      inputProblems: [],
      remarks: [],
      incomplete: [],
      fromOptions: false,
      budget: null,
      today: '2026-11-25',
    },
    change,
  );

/** A job of artwork alone. */
export const artworkOnly = (change: Change<JobFacts> = {}): JobFacts => {
  const base = facts({ toolpath: null, order: null, onBed: null, onBedUnknown: 'there is no toolpath', speeds: [] });
  base.input = { ...base.input, files: { ...base.input.files, toolpath: null } };
  return changed(base, change);
};

export const problem = <C extends string>(code: C, args: Problem['args'] = {}, line = 8): Problem<C> => ({
  code,
  place: at('', line),
  args,
});
