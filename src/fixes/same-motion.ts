import { STROKE_AIR, STROKE_SCALED, type Strokes } from '../model/strokes.ts';
import type { Dwell, RasterArea, Toolpath } from '../model/toolpath.ts';

/** What the changed program must do, by what the program did before. */
export interface ExpectedMotion {
  /** Strokes of before, in the order in which they must be run now; null: all of them, as they were. */
  readonly order?: readonly number[] | null;
  /** Strokes of before that run with other settings now. */
  readonly settings?: ReadonlyMap<number, { readonly speedMmPerS: number | null; readonly setting: number | null }>;
  /** Strokes of before that have air now. */
  readonly air?: ReadonlySet<number>;
  /** Lines of dwells of before during which the beam is off now. */
  readonly dark?: ReadonlySet<number>;
  /** Travel without the beam may be another one, within the same bounds; else it is the same to the last move. */
  readonly travels?: 'others';
}

/** Numbers are written anew with six decimals, in inches too. */
const SAME_MM = 2e-5;
/** What rounding a feed to what controllers take may make of it, mm/s, and a setting. */
const SAME_MM_PER_S = 0.002;
const SAME_SETTING = 0.006;

/** Why a program does not do what it did, but for what was to change; null when it does. */
export function otherMotion(before: Toolpath, after: Toolpath, expected: ExpectedMotion): string | null {
  if (!after.analysed) return 'the changed program can no longer be followed';
  return (
    otherStrokes(before, after, expected) ??
    otherDwells(before.dwells.items, after.dwells.items, expected.dark) ??
    otherAreas(before.areas, after.areas) ??
    otherTravel(before, after, expected) ??
    otherEnd(before, after)
  );
}

function otherStrokes(before: Toolpath, after: Toolpath, expected: ExpectedMotion): string | null {
  const order = expected.order ?? Array.from({ length: before.strokes.count }, (_, i) => i);
  if (order.length !== after.strokes.count)
    return `it would make ${after.strokes.count} strokes where ${order.length} belong`;
  for (let k = 0; k < order.length; k++) {
    const i = order[k]!;
    const what = differs(before, i, after, k, expected);
    if (what !== null) return `${what} of the stroke on line ${before.strokes.line[i]} would be another`;
  }
  return null;
}

function differs(before: Toolpath, i: number, after: Toolpath, k: number, expected: ExpectedMotion): string | null {
  const [a, b] = [before.strokes, after.strokes];
  if (!samePlace(a, i, b, k)) return 'the place';
  const wanted = expected.settings?.get(i);
  const speed = wanted?.speedMmPerS ?? a.speedMmPerS[i]!;
  const tolerance = wanted === undefined ? 1e-9 : 1;
  if (!near(speed, b.speedMmPerS[k]!, tolerance * SAME_MM_PER_S + 1e-9 * Math.abs(speed))) return 'the speed';
  if (!near(wanted?.setting ?? a.setting[i]!, b.setting[k]!, tolerance * SAME_SETTING)) return 'the power';
  if ((a.flags[i]! & STROKE_SCALED) !== (b.flags[k]! & STROKE_SCALED)) return 'the beam’s mode';
  const air = expected.air?.has(i) ? STROKE_AIR : a.flags[i]! & STROKE_AIR;
  if (air !== (b.flags[k]! & STROKE_AIR)) return 'the air';
  const [from, to] = [before.labels[a.label[i]!], after.labels[b.label[k]!]];
  return from?.comment === to?.comment && from?.tool === to?.tool ? null : 'the name';
}

const PLACES = ['startX', 'startY', 'startZ', 'endX', 'endY', 'endZ'] as const;

function samePlace(a: Strokes, i: number, b: Strokes, k: number): boolean {
  for (const key of PLACES) if (!near(a[key][i]!, b[key][k]!, SAME_MM)) return false;
  if (!near(a.sweepRad[i]!, b.sweepRad[k]!, 1e-5)) return false;
  return (
    a.sweepRad[i] === 0 || (near(a.centreX[i]!, b.centreX[k]!, SAME_MM) && near(a.centreY[i]!, b.centreY[k]!, SAME_MM))
  );
}

function near(a: number, b: number, tolerance: number): boolean {
  return Object.is(a, b) || Math.abs(a - b) <= tolerance || (Number.isNaN(a) && Number.isNaN(b));
}

function otherDwells(before: readonly Dwell[], after: readonly Dwell[], dark: ExpectedMotion['dark']): string | null {
  if (before.length !== after.length) return 'the head would stand still another number of times';
  for (const [k, a] of before.entries()) {
    const b = after[k]!;
    const isDark = dark?.has(a.place.line) ?? false;
    const sameBeam = isDark ? b.beam.mode === 'off' : a.beam.word === b.beam.word && a.setting === b.setting;
    const samePlace = near(a.x, b.x, SAME_MM) && near(a.y, b.y, SAME_MM);
    if (sameBeam && samePlace && a.seconds === b.seconds && a.pause === b.pause) continue;
    return `the dwell on line ${a.place.line} would be another`;
  }
  return null;
}

const AREA_NUMBERS = [
  'minX',
  'minY',
  'maxX',
  'maxY',
  'strokes',
  'lengthMm',
  'poweredMm',
  'pitchMm',
  'meanSettingSPerMm2',
  'peakSettingSPerMm2',
  'maxSetting',
] as const;

function otherAreas(before: readonly RasterArea[], after: readonly RasterArea[]): string | null {
  const same =
    before.length === after.length &&
    before.every((a, k) => {
      const b = after[k]!;
      return a.air === b.air && AREA_NUMBERS.every((key) => near(a[key], b[key], 1e-6 * (1 + Math.abs(a[key]))));
    });
  return same ? null : 'a raster area would be another';
}

function otherTravel(before: Toolpath, after: Toolpath, { travels }: ExpectedMotion): string | null {
  if (after.poweredRapids.count > before.poweredRapids.count) return 'the head would travel with the beam on';
  const [a, b] = [before.boundsMm, after.boundsMm];
  const grows =
    a !== null &&
    b !== null &&
    (b.minX < a.minX - SAME_MM || b.minY < a.minY - SAME_MM || b.maxX > a.maxX + SAME_MM || b.maxY > a.maxY + SAME_MM);
  if (grows) return 'the head would go where it did not go before';
  if (travels === 'others') return null;
  const same =
    before.travels.count === after.travels.count &&
    near(before.travelLengthMm, after.travelLengthMm, 1e-6 * (1 + before.travelLengthMm)) &&
    before.travels.xy.every((value, k) => near(value, after.travels.xy[k]!, SAME_MM));
  return same ? null : 'the head would travel another way';
}

function otherEnd({ end: a }: Toolpath, { end: b }: Toolpath): string | null {
  if (a.stated !== b.stated) return 'the program would end another way';
  return b.beam.mode === 'off' || (a.beam.word === b.beam.word && b.setting <= a.setting)
    ? null
    : 'the program would leave the beam another way';
}
