import type { Polyline } from '../../geometry/outlines/outline.ts';
import type { Outline } from '../../model/artwork.ts';
import { clipOutlines } from '../clipping/clip.ts';
import type { Visit } from '../frames/frame.ts';
import { IDENTITY, isFiniteMatrix, isFlat, type Matrix, mapBox, uniteBoxes } from '../frames/matrix.ts';
import { quote } from '../problem-log.ts';
import { lengthContext, readLength, type SvgReading } from '../reading.ts';
import { strokeWidthPx } from '../style/computed-style.ts';
import { type ResolvedPaint, resolvePaint } from '../style/paint.ts';
import { parseUrl } from '../style/properties.ts';
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
  const { node, style, frame, matrix } = visit;
  const shape = curvesOf(reading, visit);
  reportShape(reading, node, shape);
  if (shape.curves.isEmpty) return;
  if (isFlat(matrix) || !isFiniteMatrix(matrix)) {
    log.add('zero-size', () => document.placeOf(node));
    return;
  }
  const painted = paintOf(reading, visit);
  if (!painted) return;
  const { stroke, fill, widthPx } = painted;
  // Flattening comes first: it is what the limit on points stops.
  const { polylines, ranOut } = flatten(shape.curves, matrix, reading.toleranceMm, reading.pointsLeft);
  if (ranOut) {
    log.add('too-many-points', () => document.placeOf(node), { limit: reading.pointsLimit });
    reading.whole = false;
    reading.pointsLeft = POINTS_REPORTED;
    return;
  }
  const userSpace = measure(shape.curves, IDENTITY);
  if (!withinReach(userSpace, matrix)) {
    log.add('number-out-of-range', () => document.placeOf(node), {
      attribute: 'transform',
      text: quote(matrix.join(' ')),
    });
    return;
  }
  const drawn = outlinesOf(reading, polylines, remeasure(shape.curves, userSpace, matrix));
  const { outlines, why } = clipOutlines(drawn, visit.clips, reading.toleranceMm, reading.clipWork);
  if (visit.clips && reading.clipWork.left < 0) hidden(reading, node, 'clip', 'unknown');
  if (why) hidden(reading, node, why, outlines.length === 0 ? 'whole' : 'part');
  if (outlines.length === 0) return;
  if (stroke !== null) {
    reportMarkers(reading, visit);
    if (style.dashed) reading.log.add('dashed-stroke', () => reading.document.placeOf(node), { tag: node.name });
  }
  const { id, class: classes } = node.attributes;
  reading.elements.push({
    tag: node.name,
    id: id ?? null,
    classes: (classes ?? '').split(/\s+/).filter((name) => name !== ''),
    layers: [...frame.layers],
    stroke,
    fill,
    strokeWidthMm: stroke === null ? 0 : widthPx * Math.sqrt(Math.abs(matrix[0] * matrix[3] - matrix[1] * matrix[2])),
    place: document.placeOf(node),
    matrix,
    box: uniteBoxes(outlines.map((outline) => outline.box)),
    userBox: uniteBoxes(userSpace.map((m) => m.box)),
    userLength: userSpace.reduce((sum, m) => sum + m.length, 0),
    contours: outlines.reduce((sum, outline) => sum + (outline.closed ? 1 : 0), 0),
  });
  for (const outline of outlines) reading.outlines.push(outline);
}

/** What a shape is painted with, as `DrawnElement` has it, and how wide its stroke is; null, and said, when it cannot be seen. */
function paintOf(
  reading: SvgReading,
  { node, style, frame }: Visit,
): { stroke: string | null; fill: string | null; widthPx: number } | null {
  if (!style.visible) {
    hidden(reading, node, 'visibility');
    return null;
  }
  const paints = {
    fill: resolvePaint(style.fill, style, style.fillOpacity, reading.document),
    stroke: resolvePaint(style.stroke, style, style.strokeOpacity, reading.document),
  };
  reportPaint(reading, node, paints.fill, 'fill');
  reportPaint(reading, node, paints.stroke, 'stroke');
  const widthPx = strokeWidthPx(style, frame.viewport);
  const stroke = widthPx > 0 ? paints.stroke.value : null;
  // A line has no inside: its fill paints nothing.
  const fill = node.tag === 'line' ? null : paints.fill.value;
  if (stroke === null && fill === null) {
    hidden(reading, node, 'no-paint');
    return null;
  }
  return { stroke, fill, widthPx };
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
    return { ...polyline, element, lengthMm: length, box };
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

function reportPaint(reading: SvgReading, node: SvgNode, paint: ResolvedPaint, which: 'fill' | 'stroke'): void {
  const { document, log } = reading;
  const place = () => document.placeOf(node);
  if (paint.server && which === 'stroke') log.add('paint-server-stroke', place, { paint: paint.server });
  if (paint.lost === null) return;
  if (paint.lost.startsWith('#')) log.add('missing-reference', place, { href: quote(paint.lost) });
  else log.add('external-reference', place, { href: quote(paint.lost), tag: node.name });
}

/** Markers are small drawings of their own along a stroke; a machine that is sent outlines does not get them. */
function reportMarkers(reading: SvgReading, visit: Visit): void {
  const { node, style } = visit;
  if (node.tag === 'rect' || node.tag === 'circle' || node.tag === 'ellipse') return;
  for (const value of [style.markerStart, style.markerMid, style.markerEnd]) {
    const href = parseUrl(value)?.href;
    const marker = href?.startsWith('#') ? reading.document.byId(href.slice(1)) : null;
    if (marker?.tag !== 'marker' || marker.children.length === 0) continue;
    reading.log.add('not-drawable', () => reading.document.placeOf(node), { tag: 'marker' });
    return;
  }
}

/** Says that an element is there and is not drawn. */
export function hidden(
  reading: SvgReading,
  node: SvgNode,
  why: 'display' | 'visibility' | 'opacity' | 'clip' | 'mask' | 'no-paint',
  part: 'whole' | 'part' | 'unknown' = 'whole',
): void {
  reading.log.add('hidden', () => reading.document.placeOf(node), { why, tag: node.name, part });
}
