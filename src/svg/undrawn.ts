import type { Visit } from './frames/frame.ts';
import { pixelSize } from './image-size.ts';
import { quote } from './problem-log.ts';
import { lengthContext, readLength, type SvgReading } from './reading.ts';
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
  reading.log.add('live-text', () => reading.document.placeOf(node), { text: quote(text) });
}

export function reportForeign(reading: SvgReading, visit: Visit): void {
  if (!visit.style.visible) return;
  reading.log.add('foreign-object', () => reading.document.placeOf(visit.node));
}

/** An image: embedded ones with their resolution at the size they are laid out, linked ones by name only. */
export function reportImage(reading: SvgReading, visit: Visit): void {
  const { node, style, declared, frame, matrix } = visit;
  const { log, document } = reading;
  const href = hrefOf(node)?.href ?? '';
  if (!style.visible || href === '') return;
  const place = () => document.placeOf(node);
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

/** Reports scripts, event handlers and animation anywhere in the file: drawn or not, they are no part of a cut. */
export function reportActiveContent(reading: Pick<SvgReading, 'document' | 'log'>): void {
  const { document, log } = reading;
  for (const node of document.nodes) {
    if (ACTIVE.has(node.tag)) log.add('active-content', () => document.placeOf(node), { what: node.tag });
    for (const name in node.attributes) {
      const value = node.attributes[name]!;
      if (/^on[a-z]+$/i.test(name)) {
        log.add('active-content', () => document.placeOfAttribute(node, name), { what: name });
      } else if ((name === 'href' || name.endsWith(':href')) && /^[\s\0]*javascript:/i.test(value)) {
        log.add('active-content', () => document.placeOfAttribute(node, name), { what: 'javascript:' });
      }
    }
  }
}

const ACTIVE = new Set([
  'script',
  'animate',
  'animateTransform',
  'animateMotion',
  'animateColor',
  'set',
  'handler',
  'iframe',
]);
