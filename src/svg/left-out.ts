import type { Handles, LeftOutKind } from '../model/artwork.ts';
import type { Visit } from './frames/frame.ts';
import type { SvgReading } from './reading.ts';
import { resolvePaint } from './style/paint.ts';
import type { SvgNode } from './xml/svg-node.ts';

/** What keeps an element from being seen. */
export type Unseen = 'display' | 'visibility' | 'opacity' | 'clip' | 'mask' | 'no-paint' | 'condition';

/** What an element is selected by, with the paints that it has. */
export function handlesOf({ node, frame }: Visit, { stroke, fill }: Pick<Handles, 'stroke' | 'fill'>): Handles {
  const { id, class: classes } = node.attributes;
  return {
    tag: node.name,
    id: id ?? null,
    classes: (classes ?? '').split(/\s+/).filter((name) => name !== ''),
    layers: [...frame.layers],
    stroke,
    fill,
  };
}

/** Takes down that something of an element has no outlines here, with what would have selected it. */
export function leaveOut(reading: SvgReading, visit: Visit, kind: LeftOutKind): void {
  const { document, leftOut } = reading;
  const { node, style } = visit;
  const stroke = resolvePaint(style.stroke, style, style.strokeOpacity, document).value;
  const fill = resolvePaint(style.fill, style, style.fillOpacity, document).value;
  leftOut.push({ ...handlesOf(visit, { stroke, fill }), kind, place: document.placeOf(node) });
}

/** Says that an element, or part of it, is there and cannot be seen. */
export function reportHidden(
  reading: SvgReading,
  node: SvgNode,
  why: Unseen,
  part: 'whole' | 'part' | 'unknown' = 'whole',
): void {
  reading.log.add('hidden', () => reading.document.placeOf(node), { why, tag: node.name, part });
}
