import type { Visit } from './frames/frame.ts';
import { parseLength } from './frames/length.ts';
import { pixelSize } from './image-size.ts';
import { leaveOut } from './left-out.ts';
import { quote } from './problem-log.ts';
import { lengthContext, readLength, type SvgReading } from './reading.ts';
import { parseUrl } from './style/properties.ts';
import { hrefOf, type SvgNode } from './xml/svg-node.ts';

/** Live text: its shape depends on a font, which the machine may not have. */
export function reportText(reading: SvgReading, visit: Visit): void {
  const { node, style } = visit;
  if (!style.visible) return;
  let text = '';
  const open: SvgNode[] = [node];
  for (let next = open.pop(); next && text.length < 400; next = open.pop()) {
    text += next.text.slice(0, 400) + ' ';
    for (let i = Math.min(next.children.length, 400) - 1; i >= 0; i--) open.push(next.children[i]!);
  }
  if (text.trim() === '') return;
  leaveOut(reading, visit, 'text');
  reading.log.add('live-text', () => reading.document.placeOf(node), { text: quote(text) });
}

export function reportForeign(reading: SvgReading, visit: Visit): void {
  if (!visit.style.visible) return;
  leaveOut(reading, visit, 'document');
  reading.log.add('foreign-object', () => reading.document.placeOf(visit.node));
}

/** Whether an image is a drawing itself, embedded or linked. */
function isDrawing(href: string): boolean {
  if (/^data:/i.test(href)) return /^data:image\/svg/i.test(href);
  const path = href.split(/[?#]/, 1)[0]!.toLowerCase();
  return path.endsWith('.svg') || path.endsWith('.svgz');
}

/** An image: embedded ones with their resolution at the size they are laid out, linked ones by name only. */
export function reportImage(reading: SvgReading, visit: Visit): void {
  const { node, style, declared, frame, matrix } = visit;
  const { log, document } = reading;
  const href = hrefOf(node)?.href ?? '';
  if (!style.visible || href === '') return;
  const place = () => document.placeOf(node);
  leaveOut(reading, visit, isDrawing(href) ? 'drawing' : 'image');
  if (!/^data:/i.test(href)) {
    log.add('image-linked', place, { href: quote(href) });
    return;
  }
  let pixels = reading.pixels.get(node);
  if (pixels === undefined) {
    pixels = pixelSize(href);
    reading.pixels.set(node, pixels);
  }
  if (!pixels) {
    const type = /^data:([^;,]*)/i.exec(href)?.[1] ?? '';
    log.add('not-drawable', place, { tag: quote(`${node.name} ${type}`) });
    return;
  }
  const context = lengthContext(reading, frame.viewport, style.fontSize);
  let width = readLength(reading, node, declared, 'width', 'x', context);
  let height = readLength(reading, node, declared, 'height', 'y', context);
  const { widthPx, heightPx, type } = pixels;
  width ??= height === null ? widthPx : (height * widthPx) / heightPx;
  height ??= (width * heightPx) / widthPx;
  // With preserveAspectRatio (other than none) the pixels stay square inside the box that is given.
  const ratio = node.attributes['preserveAspectRatio'] ?? '';
  const scaleX = Math.hypot(matrix[0], matrix[1]) * (width / widthPx);
  const scaleY = Math.hypot(matrix[2], matrix[3]) * (height / heightPx);
  const none = ratio.trim().startsWith('none');
  const slice = ratio.trim().endsWith('slice');
  const fitted = slice ? Math.max(scaleX, scaleY) : Math.min(scaleX, scaleY);
  const mmPerPixelX = none ? scaleX : fitted;
  const mmPerPixelY = none ? scaleY : fitted;
  if (!(mmPerPixelX > 0 && mmPerPixelY > 0)) return;
  const round = (value: number): number => Math.round(value * 100) / 100;
  log.add('image-embedded', place, {
    type,
    widthPx,
    heightPx,
    widthMm: round(widthPx * mmPerPixelX),
    heightMm: round(heightPx * mmPerPixelY),
    ppi: Math.round(25.4 / Math.max(mmPerPixelX, mmPerPixelY)),
  });
}

/**
 * Markers are small drawings of their own at the corners of a line, which a renderer draws even where the line itself has no stroke. A
 * program that honours them cuts them: they belong to whatever becomes of the line. Their outlines are not worked out here. SVG 2 §13.7
 * has them on every shape, SVG 1.1 on lines and paths alone; renderers go by either.
 */
export function reportMarkers(reading: SvgReading, visit: Visit): void {
  const { node, style } = visit;
  const { document, log } = reading;
  for (const value of [style.markerStart, style.markerMid, style.markerEnd]) {
    const href = parseUrl(value)?.href;
    const marker = href?.startsWith('#') ? document.byId(href.slice(1)) : null;
    if (marker?.tag !== 'marker' || marker.children.length === 0 || hasNoSize(marker)) continue;
    log.add('not-drawable', () => document.placeOf(node), { tag: 'marker' });
    leaveOut(reading, visit, 'marker');
    return;
  }
}

function hasNoSize(marker: SvgNode): boolean {
  return ['markerWidth', 'markerHeight'].some((name) => (parseLength(marker.attributes[name] ?? '')?.value ?? 3) <= 0);
}
