import type { Box } from '../../geometry/outlines/outline.ts';
import type { ClipChain, Visit } from '../frames/frame.ts';
import { parseLength } from '../frames/length.ts';
import type { Matrix } from '../frames/matrix.ts';
import { multiply } from '../frames/matrix.ts';
import { reportHidden } from '../left-out.ts';
import { quote } from '../problem-log.ts';
import { lengthContext, ownTransform, type SvgReading } from '../reading.ts';
import { parseUrl } from '../style/properties.ts';
import type { SvgNode } from '../xml/svg-node.ts';
import { Region } from './clip-region.ts';
import { contentOf, type RegionKind } from './region-content.ts';

/** A clipPath may itself be clipped, and so on; deeper chains than this are no drawing. */
const LONGEST_CLIP_CHAIN = 20;

/** A rectangle of user space as a region on the page. */
export function rectangleRegion(matrix: Matrix, box: Box, why: 'clip' | 'mask' = 'clip'): Region {
  const xy = new Float64Array(8);
  const corners = [box.minX, box.minY, box.maxX, box.minY, box.maxX, box.maxY, box.minX, box.maxY];
  for (let i = 0; i < 8; i += 2) {
    const x = corners[i]!;
    const y = corners[i + 1]!;
    xy[i] = matrix[0] * x + matrix[2] * y + matrix[4];
    xy[i + 1] = matrix[1] * x + matrix[3] * y + matrix[5];
  }
  return new Region(why, [{ contours: [{ xy, closed: true }], rule: 'nonzero', shows: true }]);
}

/** The chain of regions over an element, with those of its own `clip-path` and `mask` in front. */
export function withOwnRegions(reading: SvgReading, visit: Visit, boundingBox: () => Box | null): ClipChain | null {
  let chain = visit.clips;
  for (const property of ['clip-path', 'mask'] as const) {
    const declared = visit.declared.get(property);
    if (!declared || declared.value.toLowerCase() === 'none') continue;
    const regions = regionsOf(reading, visit, property, declared.value, boundingBox);
    if (!regions) reportHidden(reading, visit.node, property === 'mask' ? 'mask' : 'clip', 'unknown');
    else for (const region of regions) chain = { region, outer: chain };
  }
  return chain;
}

/** Regions of one property; null when what they leave is not known. */
function regionsOf(
  reading: SvgReading,
  visit: Visit,
  property: 'clip-path' | 'mask',
  value: string,
  boundingBox: () => Box | null,
): Region[] | null {
  const { document, log } = reading;
  const url = parseUrl(value);
  if (!url) return null;
  const place = () => document.placeOf(visit.node);
  if (!url.href.startsWith('#')) {
    log.add('external-reference', place, { href: quote(url.href), tag: visit.node.name });
    return [];
  }
  let target = document.byId(url.href.slice(1));
  const wanted = property === 'mask' ? 'mask' : 'clipPath';
  if (target?.tag !== wanted) {
    log.add('missing-reference', place, { href: quote(url.href) });
    return [];
  }
  const regions: Region[] = [];
  const seen = new Set<SvgNode>();
  while (target) {
    if (seen.has(target) || seen.size >= LONGEST_CLIP_CHAIN) {
      log.add('circular-use', place, { href: quote(url.href) });
      return null;
    }
    seen.add(target);
    const own =
      wanted === 'mask'
        ? maskRegions(reading, visit, target, boundingBox)
        : clipRegion(reading, visit, target, boundingBox);
    if (!own) return null;
    for (const region of own) regions.push(region);
    const next = parseUrl(reading.cascade.declared(target).get(property)?.value ?? '');
    target = next?.href.startsWith('#') ? document.byId(next.href.slice(1)) : null;
    if (target?.tag !== wanted) break;
  }
  return regions;
}

/** User space, or the unit square on the element's box; null when the box is not known. */
function contentMatrix(matrix: Matrix, units: string | undefined, boundingBox: () => Box | null): Matrix | null {
  if (units !== 'objectBoundingBox') return matrix;
  const box = boundingBox();
  return box && multiply(matrix, [box.maxX - box.minX, 0, 0, box.maxY - box.minY, box.minX, box.minY]);
}

function clipRegion(reading: SvgReading, visit: Visit, node: SvgNode, boundingBox: () => Box | null): Region[] | null {
  const units = contentMatrix(visit.matrix, node.attributes['clipPathUnits'], boundingBox);
  if (!units) return null;
  const context = lengthContext(reading, visit.frame.viewport, visit.style.fontSize);
  const own = ownTransform(reading, node, reading.cascade.declared(node), context, () => null);
  return build(reading, visit, node, multiply(units, own), 'clip');
}

function maskRegions(reading: SvgReading, visit: Visit, node: SvgNode, boundingBox: () => Box | null): Region[] | null {
  const matrix = contentMatrix(visit.matrix, node.attributes['maskContentUnits'], boundingBox);
  if (!matrix) return null;
  const alpha =
    /mask-type\s*:\s*alpha/i.test(node.attributes['style'] ?? '') || node.attributes['mask-type'] === 'alpha';
  const regions = build(reading, visit, node, matrix, alpha ? 'alpha' : 'luminance');
  const limits = node.attributes['maskUnits'] === 'userSpaceOnUse' ? null : boundingBox();
  if (regions && limits) {
    const side = (name: string, standard: number): number => {
      const length = parseLength(node.attributes[name] ?? '');
      return length ? (length.unit === '%' ? length.value / 100 : length.value) : standard;
    };
    const width = limits.maxX - limits.minX;
    const height = limits.maxY - limits.minY;
    // The mask's own rectangle reaches a tenth beyond the element unless it says otherwise (CSS Masking 1 §8.1).
    const minX = limits.minX + side('x', -0.1) * width;
    const minY = limits.minY + side('y', -0.1) * height;
    const box = { minX, minY, maxX: minX + side('width', 1.2) * width, maxY: minY + side('height', 1.2) * height };
    regions.push(rectangleRegion(visit.matrix, box, 'mask'));
  }
  return regions;
}

/** Regions are remembered: drawing programs clip thousands of elements by one clipPath. */
function build(reading: SvgReading, visit: Visit, node: SvgNode, matrix: Matrix, kind: RegionKind): Region[] | null {
  const key = `${node.order} ${kind} ${matrix.join(' ')}`;
  let region = reading.regions.get(key);
  if (region === undefined) {
    const layers = contentOf(reading, node, matrix, visit.frame, kind);
    region = layers && new Region(kind === 'clip' ? 'clip' : 'mask', layers);
    if (reading.regions.size < 1000) reading.regions.set(key, region);
  }
  return region && [region];
}
