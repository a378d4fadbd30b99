import type { ArtworkGeometry } from '../../src/facts/artwork/geometry-fact.ts';
import type { MatchFact } from '../../src/facts/match/match-fact.ts';
import type { Artwork, Problem, Toolpath } from '../../src/facts/types.ts';
import type { RasterArea } from '../../src/model/toolpath.ts';
import { everything } from '../../src/units/found.ts';
import { at, type Change, changed } from './build-job.ts';

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
      reader: 'gcode',
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
      labelsEndedEarly: null,
      areas: [],
      dwells: everything([]),
      travels: { count: 0, xy: new Float32Array(0), dropped: 0 },
      poweredRapids: { count: 0, lengthMm: 0, first: null, setting: 0 },
      cutLengthMm: 300,
      travelLengthMm: 20,
      rasterLengthMm: 0,
      boundsMm: { minX: 0, minY: 0, maxX: 90, maxY: 80, minZ: 0, maxZ: 0 },
      poweredBoundsMm: { minX: 10, minY: 10, maxX: 90, maxY: 80, minZ: 0, maxZ: 0 },
      time: { totalS: 26, cuttingS: 25, rasterS: 0, travelS: 1, dwellS: 0 },
      timeByLabelS: [25],
      problems: [],
      analysed: true,
      end: { place: at('', 30), stated: true, beam: { mode: 'off', word: 'off' }, setting: 0 },
      highestSetting: { value: 0.8, raw: 800, place: at('', 6) },
      lowestPoweredSetting: { value: 0.8, raw: 800, place: at('', 6) },
      highestSpeed: { mmPerS: 12, place: at('', 6) },
      offsets: { used: [], place: null, unfollowed: null, fromMachine: null },
      beamWords: [],
      units: 'mm',
      switchesAir: true,
    },
    change,
  );

/** A raster area whose highest setting is the given one. */
export const rasterArea = (maxSetting: number): RasterArea => ({
  place: at('', 40),
  endLine: 900,
  label: 0,
  minX: 0,
  minY: 0,
  maxX: 40,
  maxY: 30,
  strokes: 300,
  lengthMm: 12000,
  poweredMm: 9000,
  pitchMm: 0.1,
  directionDeg: 0,
  meanSettingSPerMm2: 0.02,
  peakSettingSPerMm2: 0.05,
  peakPlace: at('', 77),
  speedMmPerS: 300,
  reachedMmPerS: 290,
  runOutMm: 4,
  timeS: 40,
  maxSetting,
  minSetting: 0.02,
  air: false,
});

export const artwork = (change: Change<Artwork> = {}): Artwork =>
  changed<Artwork>(
    {
      reader: 'svg',
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
          box: { minX: 10, minY: 10, maxX: 90, maxY: 80 },
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
      leftOut: [],
      contents: [],
      lengthMm: 300,
      boundsMm: { minX: 10, minY: 10, maxX: 90, maxY: 80 },
      problems: [],
      analysed: true,
      endedEarly: null,
    },
    change,
  );

export const geometry = (change: Change<ArtworkGeometry> = {}): ArtworkGeometry =>
  changed<ArtworkGeometry>(
    {
      open: [],
      nearlyClosed: [],
      duplicates: everything([]),
      selfCrossing: everything([]),
      overlappingParts: everything([]),
      webs: everything([]),
      narrow: [],
      joints: [],
      strays: [],
      offSheet: [],
      scaleSuspect: null,
      kerfMm: 0.2,
    },
    change,
  );

/** The artwork lies on the toolpath in its own size. */
export const placement: NonNullable<MatchFact['placement']> = {
  scale: 1,
  quarterTurns: 0,
  mirrored: false,
  dxMm: 5,
  dyMm: 5,
  offsetMm: 0,
  ambiguous: false,
};

/** A toolpath that is all of the artwork, with the members given put in place. */
export const match = (change: Partial<MatchFact> = {}): MatchFact => ({
  placement,
  scaleCause: null,
  artworkLengthMm: 300,
  toolpathLengthMm: 300,
  coveredArtworkMm: 300,
  coveredToolpathMm: 300,
  placementEndedEarly: null,
  missing: everything([]),
  extra: everything([]),
  settings: [],
  unmatchedTasks: [],
  ...change,
});

export const problem = <C extends string>(code: C, args: Problem['args'] = {}, line = 8): Problem<C> => ({
  code,
  place: at('', line),
  args,
});
