import type { Polyline } from '../../geometry/outlines/outline.ts';
import type { Outline } from '../../model/artwork.ts';
import { clipOutlines } from '../clipping/clip.ts';
import type { Visit } from '../frames/frame.ts';
import { IDENTITY, isFiniteMatrix, isFlat, type Matrix, mapBox, uniteBoxes } from '../frames/matrix.ts';
import { handlesOf, leaveOut, reportHidden, type Unseen } from '../left-out.ts';
import { quote } from '../problem-log.ts';
import { lengthContext, readLength, type SvgReading } from '../reading.ts';
import type { Look } from '../repeated.ts';
import { strokeWidthPx } from '../style/computed-style.ts';
import { type ResolvedPaint, resolvePaint } from '../style/paint.ts';
import { reportMarkers } from '../undrawn.ts';
import type { SvgNode } from '../xml/svg-node.ts';
import { flatten } from './flatten.ts';
import { type Measured, measure, remeasure } from './measure.ts';
import { GREATEST_NUMBER } from './path-data.ts';
import { type Shape, shapeOf } from './shapes.ts';

/** The curves of a shape element in its own user space. */
export function curvesOf(reading: SvgReading, visit: Pick<Visit, 'node' | 'declared' | 'style' | 'frame'>): Shape {
  const { node, declared, style, frame } = visit;
  const context = lengthContext(reading, frame.viewport, style.fontSize);
  // Path data and points do not depend on where they are used.
  const remembered = frame.uses && DATA.has(node.tag) ? reading.shapes.get(node) : undefined;
  if (remembered) return remembered;
  const shape = shapeOf(node.tag, {
    length: (name, axis) => readLength(reading, node, declared, name, axis, context),
    text: (name) => {
      const property = name === 'd' ? declared.get('d')?.value : undefined;
      if (property === undefined) return node.attributes[name] ?? null;
      return (
        /^path\(\s*(?:"([^"]*)"|'([^']*)')\s*\)$/
          .exec(property)
          ?.slice(1)
          .find((s) => s !== undefined) ?? null
      );
    },
  });
  if (frame.uses && DATA.has(node.tag)) reading.shapes.set(node, shape);
  return shape;
}

/** What is left of the points once it was said that they ran out. */
export const POINTS_REPORTED = -1;

const DATA = new Set(['path', 'polyline', 'polygon']);

/** Takes a shape element into the artwork, or says why it is not drawn. */
export function drawShape(reading: SvgReading, visit: Visit): void {
  const { document, log } = reading;
  const { node, matrix, style } = visit;
  const look = lookOf(reading, visit);
  if (!look) return;
  const { shape, measured, stroke, fill, widthPx, handles } = look;
  // Flattening comes first: it is what the limit on points stops.
  const { polylines, ranOut } = flatten(shape.curves, matrix, reading.toleranceMm, reading.pointsLeft);
  if (ranOut) {
    log.add('too-many-points', () => document.placeOf(node), { limit: reading.pointsLimit });
    reading.whole = false;
    reading.pointsLeft = POINTS_REPORTED;
    return;
  }
  if (!withinReach(measured, matrix)) {
    log.add('number-out-of-range', () => document.placeOf(node), {
      attribute: 'transform',
      text: quote(matrix.join(' ')),
    });
    return;
  }
  const drawn = outlinesOf(reading, polylines, remeasure(shape.curves, measured, matrix));
  const { outlines, why } = clipOutlines(drawn, visit.clips, reading.toleranceMm, reading.clipWork);
  if (visit.clips && reading.clipWork.left < 0) reportHidden(reading, node, 'clip', 'unknown');
  if (why) hide(reading, visit, why, outlines.length === 0 ? 'whole' : 'part');
  if (outlines.length === 0) return;
  if (stroke !== null && style.dashed) log.add('dashed-stroke', () => document.placeOf(node), { tag: node.name });
  // Written out, not spread: a drawing may have a hundred thousand of them.
  reading.elements.push({
    tag: handles.tag,
    id: handles.id,
    classes: handles.classes,
    layers: handles.layers,
    stroke,
    fill,
    strokeWidthMm: stroke === null ? 0 : widthPx * Math.sqrt(Math.abs(matrix[0] * matrix[3] - matrix[1] * matrix[2])),
    place: look.place,
    matrix,
    box: uniteBoxes(outlines.map((outline) => outline.box)),
    userBox: uniteBoxes(measured.map((m) => m.box)),
    userLength: measured.reduce((sum, m) => sum + m.length, 0),
    contours: outlines.reduce((sum, outline) => sum + (outline.closed ? 1 : 0), 0),
  });
  for (const outline of outlines) reading.outlines.push(outline);
}

/** What a shape comes to wherever it stands, and said what is wrong with it; null where nothing of it is drawn. */
function lookOf(reading: SvgReading, visit: Visit): Look | null {
  const { document, log, leftOut } = reading;
  const { node, style, matrix, repeated } = visit;
  const hasSize = !isFlat(matrix) && isFiniteMatrix(matrix);
  if (hasSize && repeated?.look) return repeated.look;
  const before = log.told + leftOut.length;
  const shape = curvesOf(reading, visit);
  reportShape(reading, node, shape);
  if (shape.curves.isEmpty) return null;
  if (!hasSize) {
    log.add('zero-size', () => document.placeOf(node));
    return null;
  }
  if (style.visible) reportMarkers(reading, visit);
  const painted = paintOf(reading, visit);
  if (!painted) return null;
  const look = {
    shape,
    ...painted,
    measured: measure(shape.curves, IDENTITY),
    handles: handlesOf(visit, painted),
    place: document.placeOf(node),
  };
  if (repeated && log.told + leftOut.length === before) repeated.look = look;
  return look;
}

/** What a shape is painted with, as `DrawnElement` has it, and how wide its stroke is; null, and said, when it cannot be seen. */
function paintOf(
  reading: SvgReading,
  visit: Visit,
): { stroke: string | null; fill: string | null; widthPx: number } | null {
  const { node, style, frame } = visit;
  if (!style.visible) {
    hide(reading, visit, 'visibility');
    return null;
  }
  const paints = {
    fill: resolvePaint(style.fill, style, style.fillOpacity, reading.document),
    stroke: resolvePaint(style.stroke, style, style.strokeOpacity, reading.document),
  };
  reportPaint(reading, visit, paints.fill);
  reportPaint(reading, visit, paints.stroke);
  const widthPx = strokeWidthPx(style, frame.viewport);
  const stroke = widthPx > 0 ? paints.stroke.value : null;
  // A line has no inside: its fill paints nothing.
  const fill = node.tag === 'line' ? null : paints.fill.value;
  if (stroke !== null && paints.stroke.server) {
    reading.log.add('paint-server-stroke', () => reading.document.placeOf(node), { paint: paints.stroke.server });
  }
  if (stroke === null && fill === null) {
    hide(reading, visit, 'no-paint');
    return null;
  }
  return { stroke, fill, widthPx };
}

/** Leaves a shape out, in whole or in part, because it cannot be seen. */
function hide(reading: SvgReading, visit: Visit, why: Unseen, part: 'whole' | 'part' = 'whole'): void {
  reportHidden(reading, visit.node, why, part);
  leaveOut(reading, visit, 'hidden');
}

/** Whether a shape stays within what numbers of drawings can be, after its transforms. */
function withinReach(userSpace: Measured[], matrix: Matrix): boolean {
  return userSpace.every(({ box }) => {
    const { minX, minY, maxX, maxY } = mapBox(matrix, box);
    return Math.max(-minX, -minY, maxX, maxY) <= GREATEST_NUMBER;
  });
}

function outlinesOf(reading: SvgReading, polylines: Polyline[], inMm: Measured[]): Outline[] {
  const element = reading.elements.length;
  return polylines.map((polyline, i) => {
    reading.pointsLeft -= polyline.xy.length / 2;
    const { box, length } = inMm[i]!;
    return { xy: polyline.xy, closed: polyline.closed, element, lengthMm: length, box };
  });
}

function reportShape(reading: SvgReading, node: SvgNode, shape: Shape): void {
  const { document, log } = reading;
  const { error, bad } = shape;
  if (error) {
    const text = node.attributes[error.attribute] ?? '';
    const place = () => document.placeOfAttribute(node, error.attribute, error.at);
    const args = { text: quote(text.slice(error.at, error.at + 40)) };
    if (error.outOfRange) log.add('number-out-of-range', place, { attribute: error.attribute, ...args });
    else log.add('bad-path', place, { ...args, at: error.at });
  }
  if (bad !== null) {
    const text = node.attributes[bad] ?? '';
    const place = () => document.placeOfAttribute(node, bad);
    const code = /^\s*-/.test(text) ? 'bad-value' : 'number-out-of-range';
    log.add(code, place, { attribute: bad, text: quote(text) });
  }
}

function reportPaint(reading: SvgReading, visit: Visit, paint: ResolvedPaint): void {
  const { document, log } = reading;
  const { node } = visit;
  const place = () => document.placeOf(node);
  if (paint.server === 'pattern') {
    log.add('not-drawable', place, { tag: 'pattern' });
    leaveOut(reading, visit, 'pattern');
  }
  if (paint.lost === null) return;
  if (paint.lost.startsWith('#')) log.add('missing-reference', place, { href: quote(paint.lost) });
  else log.add('external-reference', place, { href: quote(paint.lost), tag: node.name });
}
