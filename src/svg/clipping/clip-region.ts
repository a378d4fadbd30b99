import type { Box, Polyline } from '../../geometry/outlines/outline.ts';
import { emptyBox, growBox } from '../frames/matrix.ts';

/** One painted shape of a region, in mm. */
export interface RegionLayer {
  contours: Polyline[];
  rule: 'nonzero' | 'evenodd';
  /** Whether what lies under it shows: a black shape in a mask hides. */
  shows: boolean;
}

/** Edges of one layer: x0 y0 x1 y1 for each, contours closed. */
interface LayerEdges {
  edges: Float64Array;
  rule: 'nonzero' | 'evenodd';
  shows: boolean;
}

/** Where something shows: the topmost layer over a point decides, and outside all layers nothing shows. */
export class Region {
  readonly why: 'clip' | 'mask';
  readonly layers: readonly LayerEdges[];
  readonly box: Box;
  readonly edgeCount: number;
  /** The one axis-parallel rectangle that the region is, if it is one. */
  readonly rectangle: Box | null;

  constructor(why: 'clip' | 'mask', layers: RegionLayer[]) {
    this.why = why;
    this.layers = layers.map(({ contours, rule, shows }) => ({ edges: edgesOf(contours), rule, shows }));
    this.box = emptyBox();
    let count = 0;
    for (const { edges, shows } of this.layers) {
      count += edges.length / 4;
      if (shows) for (let i = 0; i < edges.length; i += 2) growBox(this.box, edges[i]!, edges[i + 1]!);
    }
    this.edgeCount = count;
    this.rectangle = this.layers.length === 1 && isRectangle(this.layers[0]!.edges) ? this.box : null;
  }

  /** Whether a point shows; points within `margin` of an edge do where one of its sides does. */
  shows(x: number, y: number, margin: number): boolean {
    for (let i = this.layers.length - 1; i >= 0; i--) {
      const layer = this.layers[i]!;
      const over = covers(layer, x, y, margin);
      if (over === 'edge') {
        if (layer.shows) return true;
      } else if (over === 'inside') return layer.shows;
    }
    return false;
  }
}

function edgesOf(contours: Polyline[]): Float64Array {
  const edges: number[] = [];
  for (const { xy } of contours) {
    for (let i = 0; i < xy.length; i += 2) {
      const next = i + 2 < xy.length ? i + 2 : 0;
      if (xy[i] !== xy[next] || xy[i + 1] !== xy[next + 1]) edges.push(xy[i]!, xy[i + 1]!, xy[next]!, xy[next + 1]!);
    }
  }
  return Float64Array.from(edges);
}

function isRectangle(edges: Float64Array): boolean {
  if (edges.length !== 16) return false;
  for (let i = 0; i < 16; i += 4) if (edges[i] !== edges[i + 2] && edges[i + 1] !== edges[i + 3]) return false;
  return true;
}

function covers(layer: LayerEdges, x: number, y: number, margin: number): 'inside' | 'outside' | 'edge' {
  const { edges } = layer;
  let winding = 0;
  let crossings = 0;
  for (let i = 0; i < edges.length; i += 4) {
    const x0 = edges[i]!;
    const y0 = edges[i + 1]!;
    const x1 = edges[i + 2]!;
    const y1 = edges[i + 3]!;
    if (isNear(x, y, x0, y0, x1, y1, margin)) return 'edge';
    if (y0 > y === y1 > y) continue;
    if (x0 + ((y - y0) * (x1 - x0)) / (y1 - y0) > x) {
      crossings++;
      winding += y1 > y0 ? 1 : -1;
    }
  }
  const inside = layer.rule === 'evenodd' ? crossings % 2 === 1 : winding !== 0;
  return inside ? 'inside' : 'outside';
}

function isNear(x: number, y: number, x0: number, y0: number, x1: number, y1: number, margin: number): boolean {
  if (x < Math.min(x0, x1) - margin || x > Math.max(x0, x1) + margin) return false;
  if (y < Math.min(y0, y1) - margin || y > Math.max(y0, y1) + margin) return false;
  const dx = x1 - x0;
  const dy = y1 - y0;
  const t = Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(x - x0 - t * dx, y - y0 - t * dy) <= margin;
}
